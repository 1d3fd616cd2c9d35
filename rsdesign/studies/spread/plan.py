"""The design as it is built, and what a draw of the unsure inputs changes of it.

Every part is sized once, at the values of the design, and then told: else each draw would be sized
anew to fit, and nothing would ever fail.  So is the number of fingerlings; how many of them live is
one of the things that are not sure.
"""

import numpy as np

from ...core.arrays import clip
from ...design.model import FIELDS, Design, value_of, with_values
from ...design.prices import prices_of
from ...equations.fish import loads
from ...sizing.system import Sizing
from ...sizing.taken import taken_value
from ..stacked import parts_today
from .inputs import UncertainInput

WARMTH = ("site.water_temperature", "site.warmest_water", "site.coldest_feeding_water")
"""A thermometer that reads wrong, or a warm year, moves all three together."""
EVAPORATION = "evaporation"
"""A quantity and no choice: what the heat study finds, times a ratio."""
DUNG = "loads.faecal_share"
"""A figure and no choice: what is not kept and not dung is ammonia, so that nitrogen is conserved."""


def as_built(sizing: Sizing) -> Design:
    """The design with every part told as it is, and with its fish by number."""
    fish = {"goal.fish": float(sizing.stock.fish), "goal.harvest": None}
    return with_values(sizing.design, {**parts_today(sizing), **fish})


def changes(
    sizing: Sizing, rows: tuple[UncertainInput, ...], drawn: dict[str, np.ndarray]
) -> dict[str, np.ndarray]:
    """The choices of the built design that draws change, each as a row of values.

    Parameters:
        sizing: of the design as it stands.
        rows: the inputs that vary.
        drawn: for each input by its path, a row of ratios or differences.
    Returns: by the path of a choice, a row of plain numbers within the range of the choice.
    """
    found: dict[str, np.ndarray] = {}
    for row in rows:
        by = drawn[row.path]
        if row.path in WARMTH:
            for path in WARMTH:
                value = value_of(sizing.design, path)
                if value is not None:
                    found[path] = _within(path, value + by)
        elif row.path not in (EVAPORATION, DUNG):
            value = _value(sizing, row.path)
            if value is not None:
                missing = row.way == "rest"
                found[row.path] = _within(
                    row.path, 1.0 - (1.0 - value) * by if missing else value * by
                )
    if "stock.survival" in found:
        found["goal.fish"] = float(sizing.stock.to_stock) * found["stock.survival"]
    if DUNG in drawn or "stock.feed_conversion" in found:
        path = "wastes.ammonia_per_protein"
        found[path] = _within(path, _ammonia(sizing, found, drawn.get(DUNG, 0.0)))
    return found


def _ammonia(sizing: Sizing, found: dict, more_dung) -> np.ndarray:
    """Ammonia over protein: the nitrogen that is neither kept nor in dung (conservation of nitrogen)."""
    kept = float(sizing.loads.fish_nitrogen / sizing.loads.feed_nitrogen)
    conversion = sizing.design.stock.feed_conversion
    kept_now = kept * conversion / found.get("stock.feed_conversion", conversion)
    share = 1.0 - kept_now - np.maximum(float(sizing.loads.faecal_share) + more_dung, 0.0)
    protein_nitrogen = loads.feed_nitrogen.__wrapped__(1.0, 1.0)
    return np.asarray(share * protein_nitrogen)


def _value(sizing: Sizing, path: str):
    """The value of a choice: told, taken by the sizing, or of the price list."""
    told = value_of(sizing.design, path)
    if told is not None:
        return told
    section, _, name = path.partition(".")
    if section == "prices":
        return prices_of(sizing.design)[name].value
    return taken_value(sizing, path)


def _within(path: str, values) -> np.ndarray:
    about = FIELDS[path].choice
    return clip(np.asarray(values, float), about.low, about.high)
