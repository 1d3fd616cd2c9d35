"""What one gets and what one pays or risks along one choice of a page, always there without asking."""

import functools
from dataclasses import dataclass

import numpy as np

from ..core.choices import DesignError
from ..core.kinds import KINDS, Kind
from ..core.units import clipped, from_plain
from ..design.model import FIELDS, CacheKey, value_of, with_values
from ..sizing.system import Sizing, figure_at, value_at
from ..sizing.taken import shown_value
from .costfigures import COST_FIGURES
from .enterprise import Enterprise, enterprise
from .heat.shaded import shaded
from .heat.yearly import extras
from .stacked import POINTS, TOLD, Along, Slider, possible, ready, stacked

PAY, RISK = "You pay", "You risk"


@dataclass(frozen=True, slots=True)
class Pair:
    """The choice of a page, the figure one gets, what is paid or risked, and whose sizes step."""

    choice: str
    get: str
    give: str
    side: str
    steps: str = ""


PAIRS = {
    "start": Pair("goal.fish", "stock.harvest", "standby.daily_energy", PAY, "air.device"),
    "fish": Pair("tank.depth", "standby.minutes_peak", "tank.floor_load", PAY),
    "solids": Pair("solids.overflow_rate", "solids.captured", "solids.area", PAY),
    "biofilter": Pair("filter.media_volume", "filter.ammonia", "cost.investment", PAY),
    "air": Pair("keep.oxygen", "standby.minutes_peak", "standby.daily_energy", PAY, "air.device"),
    "pump": Pair("pump.lift", "pump.flow", "pump.plate_watts", PAY, "pump.model"),
    "heat": Pair("climate.shade", "heat.hottest_hour", "heat.growing_days", PAY),
    "outage": Pair("tank.depth", "standby.minutes_peak", "turning.turnover", RISK),
    "cost": Pair("goal.fish", "cost.net_unpaid", "cost.minutes", PAY),
    "lists": Pair("solids.drain_interval", "cost.minutes", "loads.heterotroph_oxygen", RISK),
    "whole": Pair("goal.fish", "stock.harvest", "standby.minutes_peak", RISK),
}
"""One pair for each page that has a plan, by the page's name."""
FEWER = 11
"""Values along a choice that the weather answers: each is a year of its own."""


@dataclass(frozen=True, slots=True, eq=False)
class Curve:
    """One figure along the choice."""

    path: str
    label: str
    kind: Kind
    values: np.ndarray
    now: float


@dataclass(frozen=True, slots=True, eq=False)
class Tradeoff:
    """Two figures over one x; ``steps`` are the sizes of the trade and the value from which each is taken."""

    slider: Slider
    x: np.ndarray
    now: float | None
    get: Curve
    give: Curve
    side: str
    steps: tuple[tuple[float, str], ...]

    def plain(self, system: str) -> dict:
        """The trade-off as plain data for a page, numbers in the units shown."""
        unit = self.slider.kind.shown(system)

        def curve(one: Curve) -> dict:
            shown = one.kind.shown(system)
            values = [float(from_plain(v, shown)) for v in one.values]
            return {
                "path": one.path,
                "label": one.label,
                "unit": shown.label,
                "values": [v if np.isfinite(v) else None for v in values],
                "now": float(from_plain(one.now, shown)) if np.isfinite(one.now) else None,
            }

        return {
            "path": self.slider.path,
            "label": FIELDS[self.slider.path].choice.label,
            "unit": unit.label,
            "x": [float(from_plain(v, unit)) for v in self.x],
            "now": None if self.now is None else float(from_plain(self.now, unit)),
            "get": curve(self.get),
            "give": curve(self.give),
            "side": self.side,
            "steps": [[float(from_plain(v, unit)), name] for v, name in self.steps],
        }


def tradeoff(
    sizing: Sizing,
    page: str,
    slider: Slider,
    points: int = POINTS,
    sized: tuple[np.ndarray, Along] | None = None,
) -> Tradeoff:
    """The trade-off of a page for one design; ``slider`` is that of its choice, or of another one.

    Values at which no design is possible are left out.  Money is that of a full year with the season
    of the design held.  ``sized``: all values of the slider with their results, parts held as told, where
    they are known already.  Raises ``DesignError`` for a page that has none.
    """
    if page not in PAIRS:
        raise DesignError(f"{clipped(page)} has no trade-off; there are {', '.join(PAIRS)}.")
    if page == "heat":
        return _shade(sizing, slider)
    pair = PAIRS[page]
    x, along = sized or _sized(sizing, slider, points)
    money = extras(sizing) if {pair.get[:5], pair.give[:5]} & {"cost."} else {}
    budgets: dict[int, Enterprise] = {}

    def read(path: str):
        def of(one: Sizing):
            if path not in COST_FIGURES:
                return value_at(one, path)
            if id(one) not in budgets:
                budgets[id(one)] = enterprise(one, **money)
            return COST_FIGURES[path].of(budgets[id(one)])

        about = COST_FIGURES[path] if path in COST_FIGURES else figure_at(path)
        return Curve(path, about.label, about.kind, along.each(of), float(of(sizing)))

    told = value_of(sizing.design, slider.path)
    now = shown_value(sizing, slider.path) if told is None else told
    names = along.names(pair.steps) if pair.steps else []
    steps = [k for k, name in enumerate(names) if k == 0 or name != names[k - 1]]
    return Tradeoff(
        slider, x, None if now is None else float(now), read(pair.get), read(pair.give), pair.side,
        tuple((float(x[k]), names[k]) for k in steps),
    )  # fmt: skip


def _sized(sizing: Sizing, slider: Slider, points: int) -> tuple[np.ndarray, Along]:
    """The values at which a design is possible, and the results there."""
    design = with_values(ready(sizing, slider.path, TOLD), {slider.path: slider.low})
    choices = (*(value_of(design, name) for name in FIELDS), design.unknown)
    return _along(CacheKey(design, choices), slider, points)


@functools.lru_cache(maxsize=4)
def _along(key: CacheKey, slider: Slider, points: int) -> tuple[np.ndarray, Along]:
    """The results along a choice: wherever the choice itself stands meanwhile, they are the same."""
    design, x = key.value, slider.values(points)
    x = x[possible(design, slider.path, x)]
    if not x.size:
        raise DesignError(f"{FIELDS[slider.path].choice.label}: no design is possible in its span.")
    return x, stacked([(design, {slider.path: x})])[0]


def _shade(sizing: Sizing, slider: Slider) -> Tradeoff:
    """A cooler hottest hour against days of growth; the present shade is a value of its own."""
    x, now = slider.values(FEWER), float(sizing.design.climate.shade)
    found, pair = shaded(sizing, [*x, now]), PAIRS["heat"]
    return Tradeoff(
        slider, x, now,
        Curve(pair.get, "Hottest hour of the hot day", KINDS["temperature"], found.hottest[:-1],
              float(found.hottest[-1])),
        Curve(pair.give, "Days in which they grow", KINDS["count"],
              found.growing_days[:-1], float(found.growing_days[-1])),
        pair.side, (),
    )  # fmt: skip
