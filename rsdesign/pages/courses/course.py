"""A course as a page shows it: its numbers by name, what is drawn, what is said of one moment."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace

import numpy as np

from ...core.kinds import KINDS
from ...core.notebook import shown_in
from ...core.units import show
from ...report.cost import money
from ...report.drawings.course_chart import Event, Line, Threshold, course_chart
from ...report.drawings.look import Drawing
from ...report.drawings.moment import Bar, Tank
from ...sizing.system import Sizing

MOST_LINES = 4
LEFT = 46.0
"""Room for the numbers at the left of a chart [px]: two charts over each other align."""
LEAST = 1e-3
"""A number under this share of the most that it becomes, or may become, is told as next to nothing."""


@dataclass(frozen=True, slots=True, eq=False)
class Series:
    """One number along the course, in the plain unit of its kind, with its band where it has one."""

    label: str
    kind: str
    values: np.ndarray
    low: np.ndarray | None = None
    high: np.ndarray | None = None


@dataclass(frozen=True, slots=True, eq=False)
class Course:
    """All that a page needs of one course."""

    title: str
    axis: str
    times: np.ndarray
    moment: Callable[[float], str]
    """Says a time, such as "day 23"."""
    series: dict[str, Series]
    above: tuple[str, ...]
    """The numbers of the first chart."""
    below: tuple[str, ...]
    """Those of the second one."""
    headline: list[dict]
    tank: Callable[[int, str], Tank] | None
    """The tank at a place of the course, in the units of a system; None where none is drawn."""
    told: tuple[str, ...] = ()
    """The numbers that are told of one moment."""
    limits: dict[str, list[Threshold]] = field(default_factory=dict)
    """The limits of each number, in its plain unit."""
    events: Sequence[Event] = ()
    ticks: Sequence[tuple[float, str]] | None = None
    warnings: Sequence[str] = ()
    notes: Sequence[str] = ()
    last: int = 0
    """The last place at which there are numbers."""
    mark: str = ""
    """The currency of its money."""
    start: float = 0.0
    """Where the moment stands at first, from 0 to 1."""

    def chart(
        self, names: tuple[str, ...], system: str, width: float, height: float,
        before: "Course | None" = None, named: bool = True,
    ) -> Drawing:  # fmt: skip
        """Some of the numbers over time; those of another course beside them."""
        lines, units, limits = [], [], []
        for name in names:
            one = self.series[name]
            values, unit = shown_in(one.values, KINDS[one.kind], system)
            units.append(unit)
            low, high = (None if v is None else shown_in(v, KINDS[one.kind], system)[0]
                         for v in (one.low, one.high))  # fmt: skip
            lines.append(Line(one.label, values, low, high))
            for limit in self.limits.get(name, ()):
                at = float(shown_in(limit.value, KINDS[one.kind], system)[0])
                limits.append(replace(limit, value=at))
        if before is not None:
            for name in names:
                if len(lines) < MOST_LINES and name in before.series:
                    one = before.series[name]
                    values, _ = shown_in(one.values, KINDS[one.kind], system)
                    was = np.interp(self.times, before.times, values, right=np.nan)
                    lines.append(Line(f"{one.label}, kept", was))
        return course_chart(
            self.times, lines, title=self.title, x_label=self.axis, unit=units[0], thresholds=limits,
            events=self.events, ticks=self.ticks, moment=self.moment, width=width, height=height,
            from_zero=KINDS[self.series[names[0]].kind].family not in ("temperature", "pH"),
            left=LEFT, named=named,
        )  # fmt: skip

    def place(self, at: float) -> int:
        """The place of the course at a share of its time, from 0 to 1."""
        return min(round(at * (len(self.times) - 1)), self.last)

    def rows(self, place: int, system: str) -> list[list[str]]:
        """What is told of one moment: each number with its unit, and its band where it has one."""
        found = []
        for name in self.told:
            one, kind = self.series[name], KINDS[self.series[name].kind]
            value = float(one.values[place])
            if not np.isfinite(value):
                found.append([one.label, "not known"])
                continue
            most = max(
                [
                    float(np.nanmax(np.abs(one.values))),
                    *(t.value for t in self.limits.get(name, ())),
                ]
            )
            if abs(value) < LEAST * most:
                found.append([one.label, "next to nothing"])
                continue
            words = (
                money(value, self.mark)
                if self.mark and one.kind == "money"
                else show(value, kind, system, 3)
            )
            if one.low is not None and one.high is not None:
                low, high = (show(float(v[place]), kind, system, 2) for v in (one.low, one.high))
                if low != high:
                    words += f" ({low.split(' ')[0]} to {high.split(' ')[0]})"
            found.append([one.label, words])
        return found


def all_fish(sizing: Sizing) -> float:
    """Fish in all tanks, as the design counts them."""
    return float(sizing.stock.fish) * float(sizing.stock.cohorts)


def bar(label: str, share: float) -> Bar:
    """A share from 0 to 1 as a bar, told in percent."""
    share = float(share) if np.isfinite(share) else 0.0
    percent = f"{100 * share:.0f} %" if share >= 0.005 or share == 0 else "under 1 %"
    return Bar(label, min(max(share, 0.0), 1.0), percent)


def headed(label: str, value: str, unit: str, note: str) -> dict:
    """A figure of the first screen."""
    return {"path": label, "label": label, "value": value, "unit": unit, "note": note, "change": ""}


def headed_figure(label: str, value: float, kind: str, system: str, note: str) -> dict:
    """A figure of the first screen from a plain number."""
    number, _, unit = show(value, KINDS[kind], system, 3).partition(" ")
    return headed(label, number, unit, note)
