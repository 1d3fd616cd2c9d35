"""The table of who did what in a class, and the common mistakes with what to say to them."""

from collections import Counter

from .bank import exercise
from .generic_slips import GENERIC
from .marking import FolderMarks, Marks


def class_table(found: FolderMarks) -> tuple[tuple[str, ...], list[list]]:
    """Header and rows of a table: learner by learner, the share of points of each exercise.

    ``all`` is the share of every point of the set, ``tried`` of those at the exercises tried.  A share is None where nothing was handed in, and True or False for a question before or after.
    """
    names: dict[str, None] = {}
    for marks in found.marks:
        names.update(dict.fromkeys(row.exercise for row in marks.rows))
    rows = []
    for marks in found.marks:
        shares = {row.exercise: _share(row) for row in marks.rows}
        total = marks.points / marks.out_of if marks.out_of else None
        tried = [row for row in marks.rows if row.attempts and row.out_of]
        of_tried = sum(r.points for r in tried) / sum(r.out_of for r in tried) if tried else None
        rows.append([marks.learner, total, of_tried, *(shares.get(name) for name in names)])
    return ("code", "all", "tried", *names), rows


def _share(row):
    if not row.attempts:
        return None
    return row.right if row.turn or not row.out_of else row.points / row.out_of


def common_mistakes(marks: tuple[Marks, ...]) -> list[tuple[str, str, int]]:
    """Triples of exercise, mistake and how many learners made it, the most common first."""
    count = Counter(
        (row.exercise.partition("/")[0], mistake)
        for found in marks
        for row in found.rows
        for mistake in row.mistakes
    )
    return sorted(
        ((name, mistake, n) for (name, mistake), n in count.items()),
        key=lambda t: (-t[2], t[0], t[1]),
    )


UNIT_MISTAKES = ("no unit", "wrong kind of unit", "wrong unit written", "other unit wanted")
"""Mistakes in writing, which no relation mends."""


def mistake_words(name: str, mistake: str) -> str:
    """What to say to a mistake in front of all: its own words and the relation of the exercise."""
    if mistake in UNIT_MISTAKES:
        return "Say the unit with every number, and ask if it measures the right thing."
    words = next(
        (s.words for s in exercise(name).misconceptions if s.name == mistake),
        GENERIC.get(mistake, ""),
    )
    return " ".join(filter(None, (words, exercise(name).relation)))


def first_five_minutes(marks: tuple[Marks, ...], most: int = 2) -> list[str]:
    """Words for the next lesson's first minutes: the commonest mistakes with what to say to them."""
    lines = []
    for name, mistake, count in common_mistakes(marks)[:most]:
        who = "1 learner" if count == 1 else f"{count} learners"
        lines.append(f"{exercise(name).title}, {mistake} ({who}): {mistake_words(name, mistake)}")
    return lines
