"""Answers on paper: a grid to print and to type, and what was typed as submissions."""

import csv
import io
from pathlib import Path

from .classbook import well_written
from .exercises import CLASS, class_mark
from .model import ExerciseError
from .sets import SetPlan, set_plan
from .submissions import Submission, Work
from .variants import learner_code

LARGEST = 4_000_000
"""Letters of a grid that are read; a class of 500 needs fewer."""


def cells(plan: SetPlan) -> list[tuple[str, str]]:
    """Pairs of problem and thing asked, in the order of the columns of the grid."""
    return [
        (f"{e.id}/{turn}" if turn else e.id, ask.name) for e, turn in plan.turns for ask in e.asks
    ]


def grid(plan: SetPlan, codes: tuple[str, ...], answers: dict | None = None) -> str:
    """A grid as CSV: a line a learner, a column for each thing asked, ``exercise:ask``.

    Empty, or with ``answers`` typed elsewhere, by code and column.
    """
    text = io.StringIO()
    text.write(f"# set: {plan.name}\n# edition: {plan.edition}\n")
    writer = csv.writer(text, lineterminator="\n")
    columns = [f"{name}:{ask}" for name, ask in cells(plan)]
    writer.writerow(["code", *columns])
    for code in codes:
        typed = (answers or {}).get(code, {})
        writer.writerow([code, *(typed.get(column, "") for column in columns)])
    return text.getvalue()


def read_grid(source, class_key, codes) -> tuple[list[Submission], list[tuple[int, str]]]:
    """Submissions from a grid that was typed in, and what was refused, by the number of its line.

    ``source``: a ``Path``, or the text itself.  Raises ``ExerciseError`` for a file that is no grid
    or is of another version of its set.
    """
    lines = _text(source).splitlines()
    plan = _plan(lines)
    wanted = {f"{name}:{ask}": (name, ask) for name, ask in cells(plan)}
    header, rows = _rows(lines)
    if header[:1] != ["code"] or not set(header[1:]) <= set(wanted):
        raise ExerciseError("The head of the grid was changed; print it anew.")
    found, refused = [], []
    for line, row in rows:
        try:
            code = _code(row[0], codes)
        except ExerciseError as wrong:
            refused.append((line, str(wrong)))
            continue
        answers = zip((wanted[column] for column in header[1:]), row[1:], strict=False)
        work = _work(answers)
        if work:  # an empty line is a learner who handed in nothing
            mark = class_mark(class_key)
            found.append(Submission(plan.name, plan.edition, mark, code, CLASS, 0, work))
    return found, refused


def _text(source) -> str:
    size = source.stat().st_size if isinstance(source, Path) else len(source)
    if size > LARGEST:
        raise ExerciseError("The grid is larger than a class can be.")
    try:
        return source.read_text(encoding="utf-8-sig") if isinstance(source, Path) else source
    except UnicodeDecodeError:
        raise ExerciseError("The grid is not text in UTF-8; save it as CSV UTF-8.") from None


def _plan(lines: list[str]) -> SetPlan:
    """The set that the first lines name, where its version is still the same."""
    pairs = (line[1:].split(":", 1) for line in lines if line.startswith("#") and ":" in line)
    names = {key.strip(): value.strip().strip(",;") for key, value in pairs}
    if "set" not in names:
        raise ExerciseError("This is no grid: its first line does not name a set.")
    plan = set_plan(names["set"])
    if names.get("edition") != plan.edition:
        raise ExerciseError(
            f"The grid is of another version of the set {plan.name}; print it anew."
        )
    return plan


def _rows(lines: list[str]) -> tuple[list[str], list[tuple[int, list[str]]]]:
    """The columns, and the rows with the numbers of their lines; commas or semicolons between."""
    body = [(n, line) for n, line in enumerate(lines, 1) if line.strip() and line[0] != "#"]
    first = body[0][1] if body else ""
    delimiter = ";" if first.count(";") > first.count(",") else ","
    rows = list(csv.reader((line for _, line in body), delimiter=delimiter))
    numbered = [(n, row) for (n, _), row in zip(body, rows, strict=False)]
    return [cell.strip() for cell in rows[0]] if rows else [], numbered[1:]


def _code(text: str, codes) -> str:
    code = learner_code(text)
    if code not in codes:
        hint = "" if well_written(code) else "; a letter of it is wrong"
        raise ExerciseError(f"{code} is not a code of this class{hint}.")
    return code


def _work(answers) -> dict[str, Work]:
    """The answers of one learner, exercise by exercise; empty cells are left out."""
    typed: dict[str, dict] = {}
    for (name, ask), cell in answers:
        if cell.strip():
            typed.setdefault(name, {})[ask] = cell.strip()
    return {name: Work((once,), paper=True) for name, once in typed.items()}
