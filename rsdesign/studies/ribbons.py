"""How every part stands over the whole range of each choice of a page, in one sweep.

A ribbon lies under a slider: where something is short, just right or to spare, which part limits and
where that changes, the rule of thumb, the value now and the one before.  Only parts that the choice
moves are judged, and only those that were told or are held: a part that the sizing fits by itself
grows with the need.  Showing where an unseen value would lead follows Willett, Heer and Agrawala 2007
(scented widgets).
"""

from dataclasses import dataclass, replace

import numpy as np

from ..core.kinds import Number
from ..core.units import from_plain, show
from ..design.model import FIELDS, value_of, with_values
from ..sizing.checks.rows import applies, part_rows
from ..sizing.judging import ENOUGH, FIT, GENEROUS, SHORT, SLACK, TIGHT, Part
from ..sizing.system import Sizing
from ..sizing.taken import shown_value, taken
from .stacked import POINTS, TODAY, TOLD, Along, Slider, moves, possible, ready, stacked

IMPOSSIBLE = "not possible"
"""Values at which no design can be computed, such as more oxygen than water holds."""
NOT_JUDGED = "not judged"
"""No part that was told or is held hangs on the choice."""
ORDER = (SHORT, TIGHT, FIT, ENOUGH)
"""Worst first."""
BETWEEN = 8
"""Steps into which the way from one value to the next is divided."""
WARMTH = ("site.warmest_water", "site.water_temperature", "site.coldest_feeding_water")
"""Choices by which the fish themselves may stop eating."""
FISH = ("fish", "Warmth for the fish")
MOST = 7.0
"""Logarithm of the largest margin that is told apart: a thousand times the need and beyond is alike."""


@dataclass(frozen=True, slots=True)
class Run:
    """A stretch of a range in which things stand alike.

    ``start`` and ``end`` are plain numbers, ``from_`` and ``to`` positions on the slider from 0 to
    1; ``part`` and ``label`` name what limits, and are empty where all is enough.
    """

    start: float
    end: float
    from_: float
    to: float
    state: str
    part: str
    label: str


@dataclass(frozen=True, slots=True, eq=False)
class Ribbon:
    """How things stand over the range of one choice."""

    slider: Slider
    runs: tuple[Run, ...]
    now: float | None
    last: float | None
    rule: float | None
    values: np.ndarray
    margins: dict[str, np.ndarray]
    """The margin of every part that is judged, at each value."""
    along: Along | None = None
    """The results at each value, where a design is possible at all of them."""

    def state_at(self, value: float) -> Run:
        """The stretch in which a value lies."""
        at = self.slider.position_of(value)
        return next(run for run in self.runs if at <= run.to)

    def plain(self, system: str) -> dict:
        """The ribbon as plain data for a page, numbers in the units shown."""
        entry, at = FIELDS[self.slider.path], self.slider.position_of
        kind = self.slider.kind
        unit = kind.shown(system)

        def mark(value):
            if value is None:
                return None
            return {
                "value": float(from_plain(value, unit)),
                "at": at(value),
                "text": show(value, kind, system),
            }

        return {
            "path": self.slider.path,
            "label": entry.choice.label,
            "unit": unit.label,
            "low": float(from_plain(self.slider.low, unit)),
            "high": float(from_plain(self.slider.high, unit)),
            "logarithmic": self.slider.logarithmic,
            "runs": [
                {
                    "start": float(from_plain(run.start, unit)),
                    "end": float(from_plain(run.end, unit)),
                    "from": run.from_,
                    "to": run.to,
                    "state": run.state,
                    "part": run.part,
                    "label": run.label,
                }
                for run in self.runs
            ],
            "now": mark(self.now),
            "last": mark(self.last),
            "rule": mark(self.rule),
        }


def ribbons(
    sizing: Sizing,
    sliders: tuple[Slider, ...],
    hold: str = TOLD,
    last: dict[str, float] | None = None,
    points: int = POINTS,
) -> tuple[Ribbon, ...]:
    """The ribbon of every slider of a page, from one call of the sizing where it can be.

    ``sizing`` of one design.  ``hold``: "told" keeps the parts that the design names, and lets the
    sizing fit the rest; "today" keeps every part at the size it has now, so that a grower who has
    built it all sees where more feed breaks it.  ``last``: the value before the last move, by path.
    A choice left open costs one call more, since the other sliders see it open; so does each value of
    a choice that takes no row of values.  Raises ``DesignError`` for a choice that is no number.
    """
    members, grids = [], []
    moving = tuple(slider.path for slider in sliders)
    found = taken(sizing) if hold == TODAY else None
    for slider in sliders:
        design, values = ready(sizing, slider.path, hold, moving, found), slider.values(points)
        fits = possible(design, slider.path, values)
        grids.append((values, fits))
        if fits.any():
            members.append((design, {slider.path: _nearest(values, fits)}))
    along = iter(stacked(members))
    return tuple(
        _ribbon(sizing, slider, hold, next(along) if fits.any() else None, values, fits, last or {})
        for slider, (values, fits) in zip(sliders, grids, strict=True)
    )


def _nearest(values: np.ndarray, fits: np.ndarray) -> np.ndarray:
    """The values, each that is not possible replaced by the nearest that is."""
    if fits.all():
        return values
    places, good = np.arange(len(values)), np.flatnonzero(fits)
    return values[good[np.abs(places[:, None] - good).argmin(axis=1)]]


def _ribbon(sizing, slider, hold, along: Along | None, values, fits, last) -> Ribbon:
    path = slider.path
    now = value_of(sizing.design, path)
    now = shown_value(sizing, path) if now is None else now
    if along is None:
        runs = (Run(slider.low, slider.high, 0.0, 1.0, IMPOSSIBLE, "", ""),)
        return Ribbon(slider, runs, now, last.get(path), rule_of(sizing, path), values, {})
    margins = along.margins()
    judged = [p for p in along.parts() if moves(margins[p.name]) and (p.owned or hold == TODAY)]
    named = _named(sizing, path, float(values[0]))
    margins = {p.name: margins[p.name] for p in judged}
    warmth = _eating(sizing, path, along)
    at = np.array([slider.position_of(v) for v in values])
    return Ribbon(
        slider=slider,
        runs=_runs(slider, at, fits, judged, margins, named, warmth),
        now=None if now is None else float(now),
        last=last.get(path),
        rule=rule_of(sizing, path),
        values=values,
        margins=margins,
        along=along if fits.all() else None,
    )


def _eating(sizing: Sizing, path: str, along: Along) -> np.ndarray | None:
    """Degrees to where the fish stop eating, where the choice is the warmth of the water [K]."""
    if path not in WARMTH:
        return None
    fish = sizing.tables.species
    hottest, coldest = along.figure("air.temperature"), along.figure("filter.temperature")
    return np.minimum(fish.feeding_high - hottest, coldest - fish.feeding_low)


def _named(sizing: Sizing, path: str, value: float) -> set[str]:
    """Parts that the user told, the moving choice among what is told."""
    told = replace(sizing, design=with_values(sizing.design, {path: value}))
    return {row.name for row in part_rows() if applies(told, row.when) and applies(told, row.owned)}


def _runs(slider, at, fits, judged: list[Part], margins, named, warmth) -> tuple[Run, ...]:
    """The stretches of a ribbon, without a gap from the low end to the high end."""
    fine = np.linspace(0.0, 1.0, BETWEEN * (len(at) - 1) + 1)
    fine = np.unique(np.concatenate([fine, at]))
    state, part = _judge(fine, at, judged, margins, named)
    if warmth is not None:  # a fish that does not eat comes before any part
        cold = np.interp(fine, at, warmth) < 0.0
        calm = state == len(ORDER)  # no part is judged: then the fish alone are
        state = np.where(cold, 0, np.where(calm, ORDER.index(ENOUGH), state))
        part = np.where(cold, len(judged), part)
    nearest = np.abs(fine[:, None] - at).argmin(axis=1)
    state = np.where(fits[nearest], state, len(ORDER) + 1)
    part = np.where(fits[nearest] & (state < ORDER.index(ENOUGH)), part, -1)
    edges = np.flatnonzero(np.diff(state * (len(judged) + 2) + part))
    cuts = [0.0, *(0.5 * (fine[edges] + fine[edges + 1])), 1.0]
    names = (*ORDER, NOT_JUDGED, IMPOSSIBLE)
    limits = [*((p.name, p.label) for p in judged), FISH, ("", "")]
    return tuple(
        Run(
            float(slider.value_at(cuts[k])),
            float(slider.value_at(cuts[k + 1])),
            float(cuts[k]),
            float(cuts[k + 1]),
            names[state[place]],
            *limits[part[place]],
        )
        for k, place in enumerate([0, *(edges + 1)])
    )


def _judge(fine, at, judged: list[Part], margins, named) -> tuple[np.ndarray, np.ndarray]:
    """The state at each position as its place in ``ORDER``, and the place of the part that limits.

    Between two values a margin follows the power that joins them, as most relations do; a step of
    the trade's sizes is so told within one step of the range.
    """
    if not judged:
        return np.full(fine.shape, len(ORDER)), np.full(fine.shape, -1)
    rows, states = [], []
    for part in judged:
        found = np.log(np.clip(margins[part.name], np.exp(-MOST), np.exp(MOST)))
        rows.append(np.interp(fine, at, found))
        states.append(_state(rows[-1], part.name in named))
    worst = np.min(states, axis=0)
    return worst, np.where(states == worst, rows, np.inf).argmin(axis=0)


def _state(margin_log: np.ndarray, told: bool) -> np.ndarray:
    """How a part stands, as a place in ``ORDER``; the words of ``judging.word`` for many margins."""
    short = margin_log < np.log(1.0 - SLACK)
    enough = margin_log > np.log(GENEROUS)
    between = ORDER.index(TIGHT if told else FIT)
    return np.where(short, ORDER.index(SHORT), np.where(enough, ORDER.index(ENOUGH), between))


# --- the rule of thumb -----------------------------------------------------------------------


def _by_volume(sizing: Sizing) -> Number:
    """The distance across at which the water is as much as the rule asks for."""
    return sizing.tank.width * (sizing.tank.rule / sizing.tank.volume) ** 0.5


def _media(sizing: Sizing) -> Number:
    """The media that have the surface of the rule."""
    return sizing.filter.rule / sizing.filter.surface


RULES = {
    "goal.fish": lambda s: s.stock.fish * s.tank.volume / s.tank.rule,
    "goal.harvest": lambda s: s.stock.harvest * s.tank.volume / s.tank.rule,
    "tank.width": _by_volume,
    "solids.area": lambda s: s.solids.rule,
    "filter.media_volume": _media,
    "air.flow": lambda s: s.air.rule + s.air.to_airlifts,
    "pump.flow": lambda s: s.flow.rule,
}
"""Where the rule of thumb of a part stands on the slider of a choice.

The rules themselves are those of the sizing, with their sources: ``tank.rule`` and so on.
"""


def rule_of(sizing: Sizing, path: str) -> float | None:
    """The rule of thumb in terms of a choice; None where the trade has none."""
    found = RULES[path](sizing) if path in RULES else FIELDS[path].choice.rule
    return float(found) if found is not None and np.isfinite(found) else None
