"""A log of water tests as arrays: what was read, between what it stands, and what was not understood."""

import datetime
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from ..core.days import read_day
from ..core.kinds import from_plain
from ..core.notebook import shown_in
from .columns import Kit, bases, columns, measured
from .sheet import Line, Sheet

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]
NO_DAY = datetime.date(2000, 1, 1)
"""First day of a log that holds no test."""


@dataclass(frozen=True, slots=True)
class Problem:
    """What of a log was not understood: where, what stands there, and one sentence on what to do."""

    line: int
    """Line of the file, from 1; 0 for the log as a whole."""
    column: str
    """Heading as written; empty for the line as a whole."""
    text: str
    sentence: str


@dataclass(frozen=True, eq=False)
class WaterLog:
    """A log of water tests, a place in every array for each line that has a date.

    Numbers are plain (SI, °C), nitrogen as nitrogen and alkalinity as calcium carbonate; NaN where
    nothing was measured.  ``low`` and ``high`` are the ends between which a reading stands: a
    colour of a chart reaches half way to its neighbours, ``<0.25`` from 0 to 0.25, ``>80`` from 80
    without end, and digits half of the last one up and down.
    """

    first_day: datetime.date
    days: FloatArray
    """Days since midnight of the first day, rising; noon where no time was written."""
    values: Mapping[str, FloatArray]
    low: Mapping[str, FloatArray]
    high: Mapping[str, FloatArray]
    lines: IntArray
    """Line of the file of each place."""
    notes: tuple[str, ...]
    problems: tuple[Problem, ...] = ()
    remarks: tuple[str, ...] = ()
    """What was taken where the log does not say, a sentence each."""
    kits: Mapping[str, Kit] = field(default_factory=dict)
    """How each column that is there was tested."""
    places: Mapping[str, int] = field(default_factory=dict)
    """The cell of a line in which each column stands, from 0."""
    sheet: Sheet = field(default_factory=Sheet)
    """Every cell as written."""

    def __len__(self) -> int:
        return int(self.days.size)

    def has(self, name: str) -> bool:
        """Whether a column holds a number somewhere."""
        return bool(np.isfinite(self.values[name]).any())

    def of(self, name: str) -> tuple[FloatArray, FloatArray]:
        """Days and values of a column where it was measured.

        >>> log = log_of_values("2027-04-15", [0.3, 1.3, 2.3], {"ph": [7.1, float("nan"), 7.3]})
        >>> log.of("ph")[1].tolist()
        [7.1, 7.3]
        """
        there = np.isfinite(self.values[name])
        return self.days[there], self.values[name][there]

    @property
    def fish_weight(self) -> FloatArray:
        """Mean weight of a fish of each sample [kg]; a sample without its number is one fish."""
        count = self.values["sample_count"]
        return self.values["sample_weight"] / np.where(np.isfinite(count), count, 1.0)

    def date(self, day: float) -> datetime.date:
        """The date of a day of the log."""
        return self.first_day + datetime.timedelta(days=int(day // 1))

    def frame(self, system: str = "us"):
        """The log as a pandas frame, a row for each line that was read.

        Parameters:
            system: "us", "metric" or "si", the units of the columns.
        Returns: the frame; units by column in ``attrs["units"]``, sentences in
            ``attrs["problems"]`` and ``attrs["remarks"]``.

        >>> log_of_values("2027-04-15", [0.3], {"tan": [0.0005]}).frame("metric")["tan"].tolist()
        [0.5]
        """
        import pandas as pd  # noqa: PLC0415  (only who asks for a frame needs it)

        found: dict = {"line": self.lines, "date": [self.date(d).isoformat() for d in self.days],
                       "day": self.days}  # fmt: skip
        units = {"line": "", "date": "", "day": "day", "note": ""}
        for name in measured():
            kind = columns()[name].quantity
            for end, values in (("", self.values), ("_low", self.low), ("_high", self.high)):
                found[name + end], units[name + end] = shown_in(values[name], kind, system)
        found["note"] = list(self.notes)
        frame = pd.DataFrame(found)
        frame.attrs.update(units=units, system=system, remarks=list(self.remarks),
                           problems=[problem.sentence for problem in self.problems])  # fmt: skip
        return frame


def write_log(log: WaterLog) -> str:
    """A log as the text of a file: every cell that was read and every cell that was not understood.

    Parameters:
        log: from ``read_log`` or ``log_of_values``.
    Returns: the text, which ``read_log`` reads again.

    >>> write_log(log_of_values("2027-04-15", [0.5], {"ph": [7.2]})).splitlines()[1]
    '2027-04-15,12:00,7.2'
    """
    return log.sheet.text()


def frozen(values: Iterable[float]) -> FloatArray:
    """Numbers as an array that cannot be changed."""
    found = np.array(list(values), dtype=np.float64)
    found.flags.writeable = False
    return found


def log_of_values(
    first_day: str | datetime.date,
    days: Iterable[float],
    values: Mapping[str, Iterable[float]],
    notes: Iterable[str] = (),
    low: Mapping[str, Iterable[float]] | None = None,
    high: Mapping[str, Iterable[float]] | None = None,
) -> WaterLog:
    """A log of numbers that a program has, with the cells in which they would be written.

    Parameters:
        first_day: a date, or text such as ``"2027-04-15"``.
        days: since midnight of the first day, rising.
        values: plain numbers by the name of their column, NaN where nothing was measured.
        notes: one for each day.
        low, high: ends between which each value stands; where left out, the value itself.
    Returns: the ``WaterLog``.

    >>> log_of_values("2027-04-15", [0.5, 1.5], {"tan": [0.0005, float("nan")]}).has("tan")
    True
    """
    first = read_day(first_day)
    when = frozen(days)
    nothing = frozen([np.nan] * when.size)
    filled = {name: frozen(values[name]) if name in values else nothing for name in measured()}
    ends = [
        {name: frozen((end or {}).get(name, filled[name])) for name in measured()}
        for end in (low, high)
    ]
    said = tuple(notes) or ("",) * when.size
    kits = {name: _plain_kit(name) for name in measured() if name in values}
    sheet = _sheet(first, when, {name: filled[name] for name in kits}, said)
    lines = np.arange(2, 2 + when.size)
    return WaterLog(first, when, filled, ends[0], ends[1], lines, said, kits=kits, sheet=sheet)


def _plain_kit(name: str) -> Kit:
    """The kit of a column that is written in its metric unit as the log keeps it."""
    ways = bases(name)
    return Kit(name, ways[0].name if ways else "", True, columns()[name].quantity.shown("metric"))


def _sheet(
    first: datetime.date, days: FloatArray, filled: Mapping[str, FloatArray], notes
) -> Sheet:
    """The cells in which numbers are written: metric units, as nitrogen, to ten figures."""
    heads = []
    for name in filled:
        column = columns()[name]
        told = [column.quantity.shown("metric").label, *column.heading.partition(" as ")[1:]]
        said = "".join(told).rstrip(")")
        heads.append(f"{column.heading.partition(' (')[0]}{f' ({said})' if said else ''}")
    with_notes = any(notes)
    rows = [("date", "time", *heads, *(["note"] if with_notes else []))]
    for place, day in enumerate(days):
        moment = datetime.datetime.combine(first, datetime.time()) + datetime.timedelta(
            days=float(day)
        )
        cells = [moment.date().isoformat(), moment.strftime("%H:%M")]
        for name, values in filled.items():
            unit = columns()[name].quantity.shown("metric")
            value = from_plain(values[place], unit)
            cells.append("" if np.isnan(value) else format(value, ".10g"))
        rows.append((*cells, *([notes[place]] if with_notes else [])))
    return Sheet(tuple(Line(n, row) for n, row in enumerate(rows, 1)))
