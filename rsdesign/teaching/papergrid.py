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


def read_grid(path, class_key, codes) -> tuple[list[Submission], list[tuple[int, str]]]:
    """Submissions from a grid that was typed in, and what was refused, line by line.

    ``path``: a ``Path``, or the text itself.  Raises ``ExerciseError`` for a file that is no grid or is of another version of its set.
    """
    try:
        large = path.stat().st_size if isinstance(path, Path) else len(path)
        if large > 4_000_000:
            raise ExerciseError("The grid is larger than a class can be.")
        text = path.read_text(encoding="utf-8-sig") if isinstance(path, Path) else path
        lines = text.splitlines()
    except UnicodeDecodeError:
        raise ExerciseError("The grid is not text in UTF-8; save it as CSV UTF-8.") from None
    heads = dict(line[1:].split(":", 1) for line in lines if line.startswith("#") and ":" in line)
    heads = {k.strip(): v.strip().strip(",;") for k, v in heads.items()}
    if "set" not in heads:
        raise ExerciseError("This is no grid: its first line does not name a set.")
    plan = set_plan(heads["set"])
    if heads.get("edition") != plan.edition:
        raise ExerciseError(
            f"The grid is of another version of the set {plan.name}; print it anew."
        )
    body = [(n, line) for n, line in enumerate(lines, 1) if line.strip() and line[0] != "#"]
    mark = ";" if body and body[0][1].count(";") > body[0][1].count(",") else ","
    rows = list(csv.reader((line for _, line in body), delimiter=mark))
    wanted = {f"{name}:{ask}": (name, ask) for name, ask in cells(plan)}
    header = [cell.strip() for cell in rows[0]] if rows else []
    if header[:1] != ["code"] or not set(header[1:]) <= set(wanted):
        raise ExerciseError("The head of the grid was changed; print it anew.")
    found, bad = [], []
    for (line, _), row in zip(body[1:], rows[1:], strict=False):
        try:
            code = learner_code(row[0])
            if code not in codes:
                hint = "" if well_written(code) else "; a letter of it is wrong"
                raise ExerciseError(f"{code} is not a code of this class{hint}.")
        except ExerciseError as wrong:
            bad.append((line, str(wrong)))
            continue
        work: dict[str, dict] = {}
        for name, cell in zip(header[1:], row[1:], strict=False):
            if cell.strip():
                work.setdefault(wanted[name][0], {})[wanted[name][1]] = cell.strip()
        done = {name: Work((typed,), paper=True) for name, typed in work.items()}
        if not done:
            continue  # nothing on this line: nothing was handed in
        found.append(
            Submission(plan.name, plan.edition, class_mark(class_key), code, CLASS, 0, done)
        )
    return found, bad
