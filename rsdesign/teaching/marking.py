"""Marks: what each attempt is worth, which slips were made, and a folder of work marked at once."""

from dataclasses import dataclass, field
from pathlib import Path, PurePosixPath

from .anatomy import ExerciseError
from .checking import Feedback, check
from .exercises import ExerciseSet, exercise_set
from .papergrid import read_grid
from .sets import Rules, set_plan
from .submissions import MOST_ATTEMPTS, RefusedError, Submission, Work, read
from .variants import Problem, learner_code

KINDS = (".json", ".txt", ".csv")
"""Endings of what is marked: saved by the page, short texts one a line, a grid of paper answers."""

RUBRIC = 3
"""The most that the rubric gives a reason: relation, units and sum, is it likely, whom to ask."""


@dataclass(frozen=True, slots=True)
class Mark:
    """One learner's marks for one exercise; the first six fields are a row of the CSV."""

    code: str
    exercise: str
    points: float
    out_of: float
    attempts: int
    minutes: float
    right: bool
    slips: tuple[str, ...]
    words: str
    reason: str = ""
    turn: str = ""


@dataclass(frozen=True, slots=True)
class Marks:
    """One learner's marks for a set, with a sentence for whatever was left out."""

    learner: str
    set: str
    rows: tuple[Mark, ...]
    notes: tuple[str, ...] = ()
    late: bool = False

    @property
    def points(self) -> float:
        """All points together."""
        return sum(row.points for row in self.rows)

    @property
    def out_of(self) -> float:
        """The most there was to get."""
        return sum(row.out_of for row in self.rows)


@dataclass(frozen=True, slots=True, eq=False)
class FolderMarks:
    """What came of a folder: marks learner by learner, and what was refused, file by file."""

    marks: tuple[Marks, ...]
    refused: tuple[tuple[str, str], ...] = ()
    notes: tuple[str, ...] = field(default=())


def mark(
    submission, class_key, *, codes=None, learner: str | None = None, late: bool = False,
    reasons: dict | None = None,
) -> Marks:  # fmt: skip
    """Mark one submission; everything is computed anew from what was typed.

    Parameters: ``submission``: a path, text, bytes, table, short text or ``Submission`` that was
    read already; ``class_key`` of the class; ``codes``: the codes of the class, where known;
    ``learner``: the code it must be of; ``late``: handed in late; ``reasons``: points from 0 to 3
    that were given by hand for a reason, by exercise.  Raises ``RefusedError`` with one sentence.
    """
    found = submission
    if not isinstance(submission, Submission):
        found = read(submission, class_key, learner)
    if codes is not None and found.learner not in {learner_code(c) for c in codes}:
        raise RefusedError(f"{found.learner} is not a code of this class.")
    try:
        plan = set_plan(found.set)
    except ExerciseError as wrong:
        raise RefusedError(str(wrong)) from None
    if found.edition != plan.edition:
        raise RefusedError(
            f"This work was done with another version of the set {plan.name}; the numbers may differ."
            " Mark it with that version, or have it done again."
        )
    own = exercise_set(found.set, found.learner, class_key)
    return mark_set(found, own, late, reasons or {})


def mark_set(submission: Submission, own: ExerciseSet, late: bool, reasons: dict) -> Marks:
    """Marks of work that is known to be sound, against the learner's own problems."""
    known = {p.name for p in own.problems}
    notes = [
        f"{name} is not an exercise of this set." for name in submission.work if name not in known
    ]
    rows = []
    for problem in own.problems:
        work = submission.work.get(problem.name, Work())
        rows.append(mark_one(problem, work, own.rules, late, reasons.get(problem.name)))
        if own.rules.attempts and len(work.attempts) > own.rules.attempts and not problem.turn:
            notes.append(f"{problem.name}: attempts after the {own.rules.attempts}. do not count.")
    return Marks(submission.learner, submission.set, tuple(rows), tuple(notes), late)


def mark_one(
    problem: Problem, work: Work, rules: Rules, late: bool = False, rubric: float | None = None
) -> Mark:
    """Marks of one exercise.

    The number and its unit bring their points apart; exercises without a unit have none to give.
    A reason counts only when somebody has read it (``rubric``, 0 to 3).  The three questions before
    and after earn nothing.
    """
    counted: list[Feedback] = []
    for typed in work.attempts[:MOST_ATTEMPTS]:
        result = check(problem, typed)
        if result.counted:
            counted.append(result)
        if len(counted) == rules.attempts:  # never, where attempts are without limit
            break
    used = _used(counted, rules)
    points = _points(used, rules) if used else 0.0
    out_of = rules.number + (rules.unit if _with_units(problem) else 0.0)
    if rubric is not None:
        points += rules.reason * min(max(float(rubric), 0.0), RUBRIC) / RUBRIC
        out_of += rules.reason
    if late:
        points *= rules.late
    if problem.turn:
        points = out_of = 0.0
    slips = [c.slip for r in counted for c in r.checked if c.slip]
    return Mark(
        problem.learner, problem.name, round(points, 4), out_of, len(counted),
        round(work.minutes, 1), used.right if used else False, tuple(dict.fromkeys(slips)),
        used.words if used else "Nothing was handed in.", work.reason, problem.turn,
    )  # fmt: skip


def _with_units(problem: Problem) -> bool:
    return any(ask.kind.plain.label for ask in problem.exercise.numbers)


def _used(counted: list[Feedback], rules: Rules) -> Feedback | None:
    """The attempt that counts."""
    if not counted:
        return None
    if rules.counts == "last":
        return counted[-1]
    return max(counted, key=lambda result: _points(result, rules))


def _points(result: Feedback, rules: Rules) -> float:
    """Points of one attempt: shares of the numbers and shares of the units."""
    checked = result.checked
    numbers = sum(1.0 if c.number else (c.share if c.unit is None else 0.0) for c in checked)
    points = rules.number * numbers / len(checked)
    units = [c for c in checked if c.unit is not None]
    if units:
        points += rules.unit * sum(c.unit for c in units) / len(units)
    return points


def mark_folder(folder, class_key, codes, reasons: dict | None = None) -> FolderMarks:
    """Mark every file of a folder; what cannot be marked is listed with a sentence.

    Files: ``*.json`` (saved by the page), ``*.txt`` (short texts, one a line), ``*.csv`` (the grid
    for answers on paper).  What lies in a folder ``late`` inside it is marked late.  Of several
    files of one learner the one saved last counts.  ``reasons`` holds points by code and exercise.
    Raises ``ExerciseError`` when the folder is not there.
    """
    folder = Path(folder)
    if not folder.is_dir():
        raise ExerciseError(f"{folder} is not a folder.")
    paths = sorted(p for p in folder.rglob("*") if p.suffix.lower() in KINDS)
    items = [(p.relative_to(folder).as_posix(), p) for p in paths]
    late = {name for name, p in items if p.relative_to(folder).parts[0] == "late"}
    return mark_items(items, class_key, codes, reasons, late)


def mark_items(items, class_key, codes, reasons: dict | None = None, late=()) -> FolderMarks:
    """Mark work that came as pairs of a file's name and its ``Path`` or its text.

    What is marked how follows from the name's ending as in ``mark_folder``; names that are in
    ``late`` were handed in late.
    """
    best: dict[tuple[str, str, str], tuple[Submission, bool, str]] = {}
    refused, notes = [], []
    for name, source in items:
        for where, found in _read_all(source, name, class_key, codes, refused):
            key = (found.learner, found.set, found.edition)
            if key in best:
                later = (found, name in late, where)
                keep = max(best[key], later, key=lambda item: item[0].saved)
                notes.append(f"{found.learner} handed in more than once; {keep[2]} counts.")
                best[key] = keep
            else:
                best[key] = (found, name in late, where)
    marks = []
    for (learner, *_), (found, was_late, where) in sorted(best.items()):
        try:
            given = (reasons or {}).get(learner)
            marks.append(mark(found, class_key, codes=codes, late=was_late, reasons=given))
        except ExerciseError as wrong:
            refused.append((where, str(wrong)))
    return FolderMarks(tuple(marks), tuple(refused), tuple(notes))


def _read_all(source, name: str, class_key, codes, refused: list):
    """Pairs of place and submission in one file; what is refused goes into the list."""
    suffix = PurePosixPath(name).suffix.lower()
    if suffix == ".csv":
        try:
            found, bad = read_grid(source, class_key, codes)
        except ExerciseError as wrong:
            refused.append((name, str(wrong)))
            return
        refused += [(f"{name}, line {line}", sentence) for line, sentence in bad]
        yield from ((name, submission) for submission in found)
        return
    sources = [(name, source)]
    if suffix == ".txt":
        try:
            text = source
            if isinstance(source, Path):
                if source.stat().st_size > 40 * 256_000:
                    raise OSError(0, "it is too large")
                text = source.read_text(encoding="utf-8", errors="replace")
            lines = text.splitlines()
        except OSError as wrong:
            refused.append((name, f"The file cannot be read: {wrong.strerror}."))
            return
        sources = [(f"{name}, line {n}", line) for n, line in enumerate(lines, 1) if line.strip()]
    for where, part in sources:
        try:
            yield where, read(part, class_key, _expected(PurePosixPath(name), codes))
        except ExerciseError as wrong:
            refused.append((where, str(wrong)))


def _expected(path: PurePosixPath, codes) -> str | None:
    """The learner a file is named for, where its name begins with a code of the class."""
    stem = path.stem.upper()
    if path.suffix.lower() != ".json":
        return None
    return next(
        (c for c in codes if stem == c or stem.startswith((f"{c}_", f"{c} ", f"{c}."))), None
    )
