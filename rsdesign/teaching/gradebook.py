"""Marks as tables that other programs read: a row for each mark, a row for each learner, the exercises.

A course platform wants one row a learner and one column an activity, with a name or number of its own
for each learner.  Names never come into this package: they come from a list that the instructor keeps, code
by code, and go straight into the file.
"""

import csv
import io
from pathlib import Path

from .bank import exercise
from .marking import FolderMarks
from .model import ExerciseError
from .statistics import Item, items
from .variants import learner_code

LONG = ("code", "exercise", "points", "out_of", "attempts", "minutes", "hints", "reason", "late")
"""The columns of the marks, a row for each learner and exercise."""
LARGEST = 1_000_000


def _table(rows) -> str:
    text = io.StringIO()
    csv.writer(text, lineterminator="\n").writerows([[plain(cell) for cell in row] for row in rows])
    return text.getvalue()


def plain(cell):
    """A cell that no spreadsheet takes for a formula.

    >>> plain("=1+1"), plain("K7QP-3"), plain(-2.5)
    ("'=1+1", 'K7QP-3', -2.5)
    """
    return f"'{cell}" if isinstance(cell, str) and cell[:1] in ("=", "+", "-", "@", "\t") else cell


def marks_csv(found: FolderMarks) -> str:
    """A row for each learner and exercise; ``reason`` says if one was written, ``late`` if it came late."""
    rows = [
        [row.code, row.exercise, f"{row.points:g}", f"{row.out_of:g}", row.attempts,
         f"{row.minutes:g}", row.hints, _yes(bool(row.reason)), _yes(marks.late)]
        for marks in found.marks for row in marks.rows
    ]  # fmt: skip
    return _table([LONG, *rows])


def _yes(value: bool) -> str:
    return "yes" if value else "no"


def wide_csv(found: FolderMarks, ids: dict[str, str] | None = None) -> str:
    """A row for each learner, a column for each exercise, and the sum, with what each is out of.

    ``ids`` gives each code's name or number in another program; without it that column is empty,
    to be filled in from the list on paper.  An exercise that nobody was to do is empty, one left
    out by a correction is not there.
    """
    names = list(dict.fromkeys(r.exercise for m in found.marks for r in m.rows if not r.turn))
    out_of = {n: max((r.out_of for m in found.marks for r in m.rows if r.exercise == n), default=0.0)
              for n in names}  # fmt: skip
    names = [n for n in names if out_of[n]]
    head = ["code", "id", "set", *(f"{exercise(n).title} ({out_of[n]:g})" for n in names)]
    rows = []
    for marks in found.marks:
        points = {r.exercise: f"{r.points:g}" for r in marks.rows}
        rows.append([marks.learner, (ids or {}).get(marks.learner, ""), marks.set,
                     *(points.get(n, "") for n in names), f"{marks.points:g}", f"{marks.out_of:g}",
                     f"{100 * marks.points / marks.out_of:.1f}" if marks.out_of else ""])  # fmt: skip
    return _table([[*head, "points", "out of", "percent"], *rows])


def read_ids(path) -> dict[str, str]:
    """Names or numbers by code, from a CSV file with the columns code and id."""
    path = Path(path)
    try:
        if path.stat().st_size > LARGEST:
            raise ExerciseError(f"{path.name} is larger than the list of a class can be.")
        with path.open(encoding="utf-8-sig", newline="") as file:
            return {learner_code(row["code"]): row["id"].strip() for row in csv.DictReader(file)}
    except OSError as wrong:
        raise ExerciseError(f"{path} cannot be read: {wrong.strerror}.") from None
    except (KeyError, AttributeError, TypeError, UnicodeDecodeError, csv.Error):
        raise ExerciseError(
            f"{path} needs the columns code and id, a line for each learner."
        ) from None


ITEM_COLUMNS = ("exercise", "title", "tried", "right", "facility", "discrimination", "attempts",
                "common slips")  # fmt: skip


def items_csv(found: FolderMarks) -> str:
    """The statistics of each exercise as CSV."""
    return _table([ITEM_COLUMNS, *map(_item_row, items(found.marks))])


def _item_row(item: Item) -> list:
    slips = "; ".join(f"{name} ({count})" for name, count in item.slips)
    return [item.exercise, exercise(item.exercise).title, item.tried, item.right,
            _two(item.facility), _two(item.discrimination), _two(item.attempts), slips]  # fmt: skip


def _two(value: float | None) -> str:
    return "" if value is None else f"{value:.2f}"
