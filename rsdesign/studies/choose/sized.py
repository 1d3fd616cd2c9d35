"""Tanks, pumps, settlers and filters sized together: what stands of them, an air machine left open."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from ...design.model import Design, arrays_of, with_values
from ...equations.solids import settling
from ...sizing.stages.air import air_setting
from ...sizing.stages.bed import bed
from ...sizing.stages.filter import filter_stage
from ...sizing.system import Sizing, unchecked
from . import feasible
from .levels import Pairs, Pumps, Tanks, rows_of
from .offers import Offer

CHUNK = 8000
"""Designs sized at a time: a tenth of a second between two looks at whether to stop."""
ENOUGH = 1 - 1e-9
"""Share of what is needed from which there is enough."""
Placed = tuple[int, Offer]
"""An offer with its place among those of its part."""
STAGES = ("tank", "turning", "air", "gas", "flow", "solids", "filter", "bed", "pump", "water",
          "standby", "loads")  # fmt: skip


@dataclass(frozen=True, eq=False)
class Wet:
    """Designs of one settler and one kind of filter that stand but for the air machine; places by part."""

    sizing: Sizing
    places: dict[str, np.ndarray]
    plates: np.ndarray
    """Watts on the plates of the pumps."""

    def __len__(self) -> int:
        return len(self.plates)

    def rows(self, places) -> "Wet":
        """Some of its designs."""
        chosen = {part: x[places] for part, x in self.places.items()}
        return Wet(picked(self.sizing, places), chosen, self.plates[places])


def picked(sizing: Sizing, places) -> Sizing:
    """Some designs of a sizing of many, with the choices that they say."""
    told = {p: x[places] for p, x in arrays_of(sizing.design).items()}
    return replace(
        sizing,
        design=with_values(sizing.design, told),
        **{n: rows_of(getattr(sizing, n), places) for n in STAGES},
    )


def words(offer: Offer) -> dict:
    """What an offer sets in a design, its price and its life left out."""
    return {p: v for p, v in offer.values.items() if not p.startswith(("prices", "terms"))}


def wet(
    of: Tanks, with_pumps: Pumps, pairs: Pairs, settler: Placed, filters: list[Placed], failed: dict
) -> Iterator[Wet | None]:
    """Every pair with one settler and one medium, of which ``filters`` are the sizes; a chunk at a time.

    What does not hang on the media is judged once, with as much media as is needed.  ``None`` for a
    chunk of which nothing stands.
    """
    design = with_values(of.sizing.design, words(settler[1]) | words(filters[0][1]))
    needed = np.asarray(unchecked(with_values(design, of.values)).flow.required)
    flow = with_pumps.flow
    can = flow[pairs.pump] >= needed[pairs.tank] * ENOUGH
    tank, pump = pairs.tank[can], pairs.pump[can]
    step = max(CHUNK // len(filters), 1)
    for start in range(0, len(tank), step):
        t, p = tank[start : start + step], pump[start : start + step]
        told = _told(design, of, t, flow[p], settler[1].times)
        sized = unchecked(told)
        good = feasible.all_stand(sized, feasible.WATER, len(t), failed)
        good &= np.asarray(sized.air.provided >= sized.air.required * ENOUGH)
        if not good.any():
            yield None
            continue
        chosen = {
            "tank": of.places[t], "pump": with_pumps.pump[p], "pipe": with_pumps.pipe[p],
            "settler": np.full(len(t), settler[0]),
        }  # fmt: skip
        yield _with_media(
            Wet(sized, chosen, with_pumps.watts[p]).rows(np.flatnonzero(good)), filters, failed
        )


def _told(design: Design, of: Tanks, tank, flow, times: float) -> Design:
    """The designs of tanks with a flow, and with a settler of so many times the area that is needed."""
    values = {path: x[tank] for path, x in of.values.items()} | {"pump.flow": flow}
    if design.solids.settler != "none":
        part = settling.settler_flow.__wrapped__(flow, design.solids.share)
        area = settling.surface_area.__wrapped__(part, design.solids.overflow_rate)
        values["solids.area"] = area * times
    return with_values(design, values)


def _with_media(found: Wet, filters: list[Placed], failed: dict) -> Wet | None:
    """The designs with so many times the media that they need, those of one size after the other."""
    count, need = len(found), found.sizing.filter.media_volume
    rows = np.tile(np.arange(count), len(filters))
    sized = picked(found.sizing, rows)
    told = {"filter.media_volume": np.concatenate([need * offer.times for _, offer in filters])}
    sized = _with_filter(replace(sized, design=with_values(sized.design, told)))
    good = np.flatnonzero(feasible.all_stand(sized, feasible.FILTER, len(rows), failed))
    if not good.size:
        return None
    chosen = {part: x[rows] for part, x in found.places.items()}
    chosen["filter"] = np.repeat([place for place, _ in filters], count)
    return Wet(sized, chosen, found.plates[rows]).rows(good)


def _with_filter(s: Sizing) -> Sizing:
    """The designs with the media that they say: filter and its own air anew, the water before it as it is."""
    setting = air_setting(s.design, s.tank, s.tables)
    with np.errstate(all="ignore"):
        found = filter_stage(
            s.design, s.stock, s.loads, s.air, s.gas, s.pump.flow, s.water.exchange, s.tables
        )
        return replace(s, filter=found, bed=bed(s.design, s.loads, setting, s.air, found, s.tables))
