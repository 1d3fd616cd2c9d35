"""Reading a log of water tests: the heading, the dates and the cells, and a sentence for all that is odd."""

import datetime
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path

import numpy as np

from ..core.kinds import UnitError, to_plain
from ..core.typed_numbers import clipped, number_at
from .calendar_words import DateError, decided, order_of, read_date, read_hour
from .cells import Reading, decimal_mark, is_missing, read_cell
from .columns import CALENDAR, Kit, bases, column_of, columns, kit_of, measured
from .kit_words import kit_told, own_steps
from .log import NO_DAY, Problem, WaterLog, frozen
from .sheet import Line, Sheet, sheet_of_bytes, sheet_of_file, sheet_of_text

HEAD_WITHIN = 30
"""Lines among which the heading is looked for."""
FAR_OFF = 3 * 366
"""Days from the middle of a log beyond which a date is a slip."""
NOON = 0.5


@dataclass
class _Found:
    """What has been read so far."""

    problems: list[Problem] = field(default_factory=list)
    remarks: list[str] = field(default_factory=list)
    places: dict[str, int] = field(default_factory=dict)
    kits: dict[str, Kit] = field(default_factory=dict)
    headings: tuple[str, ...] = ()

    def say(self, line: int, column: str, text: str, sentence: str) -> None:
        self.problems.append(Problem(line, column, text, sentence))


def read_log(source, kits: Mapping[str, object] | None = None) -> WaterLog:
    """A log of water tests, read from text, a file or its bytes.

    Parameters:
        source: text of several lines, the bytes of a file, or a path (.csv, .txt, .tsv, .xlsx).
        kits: how columns were tested where the headings do not say: "as N", "as ion", "colours as
            ion", or a ``Kit``, by the name of the column, such as ``{"nitrite": "as ion"}``.
    Returns: the ``WaterLog``.  What cannot be read is a sentence with the number of its line in
        ``problems``, and the rest is read.
    Raises: ``DesignError`` with one sentence for a file that cannot be opened, or a kit that is none.

    >>> log = read_log("date,pH,NO2 (mg/L as ion)\\n2027-04-15,7.2,<0.33\\n2027-04-16,72,\\n")
    >>> len(log), log.problems[0].line, round(float(log.high["nitrite"][0]) * 1e3, 3)
    (2, 3, 0.1)
    """
    return log_of_sheet(_sheet_of(source), kits)


def _sheet_of(source) -> Sheet:
    if isinstance(source, bytes):
        return sheet_of_bytes(source)
    if isinstance(source, str) and "\n" not in source and "\r" not in source:
        known = source.lower().endswith((".csv", ".txt", ".tsv", ".xlsx", ".xls"))
        return sheet_of_file(source) if known else sheet_of_text(source)
    return sheet_of_text(source) if isinstance(source, str) else sheet_of_file(Path(source))


def log_of_sheet(sheet: Sheet, kits: Mapping[str, object] | None = None) -> WaterLog:
    """A log of the lines and cells of a sheet; see ``read_log``."""
    found = _Found(remarks=list(sheet.remarks))
    place = _heading(sheet, found)
    if place is None:
        found.say(1, "", "", "No line of the log names its columns; write a first line such as: date, temp (°F), pH,"
                  " TAN (mg/L as N).")  # fmt: skip
        return _empty(sheet, found)
    _kits(sheet, found, kits or {})
    rows = [line for line in sheet.lines[place + 1 :] if _holds(line)]
    dated = _dated(rows, found)
    mark = decimal_mark(
        cell for line, _ in dated for name, at in found.places.items() if name not in CALENDAR
        for cell in line.cells[at : at + 1]
    )  # fmt: skip
    _temperature_unit(dated, found, mark)
    return _arrays(sheet, dated, found, mark)


def _holds(line: Line) -> bool:
    return any(cell.strip() for cell in line.cells) and not line.cells[0].lstrip().startswith("#")


def _heading(sheet: Sheet, found: _Found) -> int | None:
    """The place of the heading among the lines, its columns put into ``found``."""
    for place, line in enumerate(sheet.lines[:HEAD_WITHIN]):
        if not _holds(line):
            continue
        named = [column_of(cell) for cell in line.cells]
        names = [pair[0] for pair in named if pair]
        if "date" in names and len(names) > 1:
            _columns(line, named, found)
            return place
        if len(names) > 2:
            found.say(line.number, "", "", f"Line {line.number} names columns, but none is the date; write 'date' above"
                      " the column of the dates.")  # fmt: skip
    return None


def _columns(line: Line, named, found: _Found) -> None:
    found.headings = line.cells
    for at, pair in enumerate(named):
        heading = line.cells[at]
        if pair is None:
            if heading.strip():
                found.say(line.number, heading, heading, f"Line {line.number}: the column {clipped(heading)} is not known;"
                          " it is kept, but not read.")  # fmt: skip
            continue
        name, rest = pair
        if name in found.places:
            found.say(line.number, heading, heading, f"Line {line.number}: {clipped(heading)} stands there twice; only the"
                      " first is read.")  # fmt: skip
            continue
        if name not in CALENDAR:
            kit, left = kit_of(name, rest)
            if left:
                found.say(line.number, heading, heading, f"Line {line.number}: {clipped(left)} in the heading"
                          f" {clipped(heading)} is no unit of {columns()[name].label}, so the column is not read.")  # fmt: skip
                continue
            found.kits[name] = kit
        found.places[name] = at


def _kits(sheet: Sheet, found: _Found, given: Mapping[str, object]) -> None:
    """Kits as the log tells them, then as the person tells them, and what is taken where nobody does."""
    for line in sheet.lines:
        if line.cells and line.cells[0].lstrip().startswith("#"):
            own_steps(line, sheet.mark, found.kits, found.say)
    for name, told in given.items():
        kit = kit_told(name, told, found.kits.get(name))
        if name in found.kits:
            found.kits[name] = kit
    for name, kit in found.kits.items():
        alike = [row for row in bases(name) if row.unit == "mg/L"]
        if not kit.told and len(alike) > 1:
            found.remarks.append(
                f"{columns()[name].label}: the log does not say whether the kit reports nitrogen or the ion; it is read"
                f" {alike[0].label}, the safe side. Look at the leaflet of the kit."
            )


def _dated(rows: list[Line], found: _Found) -> list[tuple[Line, datetime.datetime]]:
    """The lines whose date can be read, with the moment of each."""
    texts = [_cell(line, found.places["date"]) for line in rows]
    order = order_of(texts)
    if order and not decided(texts):
        found.remarks.append(
            "No date shows which number is the month, so the month was read first, as in 4/15/2027."
        )
    moments: list[tuple[Line, datetime.datetime]] = []
    for line, text in zip(rows, texts, strict=True):
        if _too_long(line, found):
            continue
        if not text.strip():
            found.say(
                line.number,
                "date",
                "",
                f"Line {line.number} has no date, so it is not read; write its date.",
            )
            continue
        try:
            day, hour = read_date(text, order)
        except DateError as wrong:
            found.say(
                line.number,
                "date",
                text,
                f"Line {line.number} is not read: {clipped(text)} {wrong}.",
            )
            continue
        moments.append((line, _moment(line, day, hour, found)))
    return _without_slips(moments, found)


def _cell(line: Line, place: int | None) -> str:
    return line.cells[place] if place is not None and place < len(line.cells) else ""


def _too_long(line: Line, found: _Found) -> bool:
    """Whether a line has cells beyond the heading, so that no cell can be trusted."""
    if line.open_quote:
        found.say(line.number, "", "", f"Line {line.number} has a quotation mark that is never closed; look at the end of"
                  " its note.")  # fmt: skip
    beyond = [cell for cell in line.cells[len(found.headings) :] if cell.strip()]
    if not beyond:
        return False
    found.say(line.number, "", beyond[0], f"Line {line.number} is not read: it has {len(line.cells)} cells under"
              f" {len(found.headings)} headings. Put a cell with a comma in it into quotation marks.")  # fmt: skip
    return True


def _moment(line: Line, day: datetime.date, hour: str, found: _Found) -> datetime.datetime:
    text = _cell(line, found.places.get("time")).strip() or hour
    share = NOON
    if not is_missing(text):
        try:
            share = read_hour(text)
        except DateError as wrong:
            found.say(
                line.number,
                "time",
                text,
                f"Line {line.number}: {clipped(text)} {wrong}. Noon is taken.",
            )
    return datetime.datetime.combine(day, datetime.time()) + datetime.timedelta(days=share)


def _without_slips(moments, found: _Found):
    """The lines without those whose date lies years from all others."""
    if len(moments) < 3:
        return sorted(moments, key=lambda pair: pair[1])
    middle = sorted(moment for _, moment in moments)[len(moments) // 2]
    near = []
    for line, moment in moments:
        if abs((moment - middle).days) > FAR_OFF:
            text = _cell(line, found.places["date"])
            found.say(line.number, "date", text, f"Line {line.number} is not read: {clipped(text)} lies years from the"
                      " other lines; look at the year.")  # fmt: skip
        else:
            near.append((line, moment))
    return sorted(near, key=lambda pair: pair[1])


def _temperature_unit(dated, found: _Found, mark: str) -> None:
    """The degrees of a temperature without a unit, where the readings can be of one kind only."""
    kit = found.kits.get("temperature")
    if kit is None or kit.unit is not None:
        return
    column = columns()["temperature"]
    numbers = []
    for line, _ in dated:
        text = _cell(line, found.places["temperature"])
        try:
            typed = number_at(text.replace(",", ".") if mark == "," else text)
        except UnitError:
            continue
        if not typed.rest:
            numbers.append(typed.value)
    if not numbers:
        return
    middle = float(np.median(numbers))
    fits = [u for u in column.units if 0.0 <= to_plain(middle, u) <= column.span[1]]
    if len(fits) == 1:
        found.kits["temperature"] = replace(kit, unit=fits[0])
        found.remarks.append(
            f"The temperature has no unit; its numbers can only be {fits[0].label}."
        )


def _arrays(sheet: Sheet, dated, found: _Found, mark: str) -> WaterLog:
    """The log of the lines that have a date."""
    first = dated[0][1].date() if dated else NO_DAY
    start = datetime.datetime.combine(first, datetime.time())
    nothing = Reading(np.nan, np.nan, np.nan)
    read = {name: [nothing] * len(dated) for name in measured()}
    for place, (line, _) in enumerate(dated):
        for name, kit in found.kits.items():
            text = _cell(line, found.places[name])
            if is_missing(text):
                continue
            try:
                read[name][place] = read_cell(text, kit, mark)
            except UnitError as wrong:
                _not_read(line, name, text, str(wrong), found)
    if not dated:
        found.say(0, "", "", "No line of the log could be read; look at the dates.")
    days = frozen((moment - start) / datetime.timedelta(days=1) for _, moment in dated)
    value, low, high = (
        {name: frozen(getattr(one, end) for one in cells) for name, cells in read.items()}
        for end in ("value", "low", "high")
    )
    lines = np.array([line.number for line, _ in dated], dtype=np.int64)
    notes = tuple(_cell(line, found.places.get("note")) for line, _ in dated)
    problems = tuple(sorted(found.problems, key=lambda problem: problem.line))
    return WaterLog(
        first,
        days,
        value,
        low,
        high,
        lines,
        notes,
        problems,
        tuple(found.remarks),
        found.kits,
        dict(found.places),
        sheet,
    )


def _not_read(line: Line, name: str, text: str, wrong: str, found: _Found) -> None:
    heading = found.headings[found.places[name]]
    said = wrong if wrong.endswith((".", "?")) else f"{wrong}."
    found.say(
        line.number,
        heading,
        text,
        f"Line {line.number}, {columns()[name].label}: {said} The rest of the line is read.",
    )


def _empty(sheet: Sheet, found: _Found) -> WaterLog:
    nothing = {name: frozen(()) for name in measured()}
    return WaterLog(NO_DAY, frozen(()), nothing, nothing, nothing, np.zeros(0, dtype=np.int64), (),
                    tuple(found.problems), tuple(found.remarks), sheet=sheet)  # fmt: skip
