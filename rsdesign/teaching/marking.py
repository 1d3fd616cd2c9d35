"""Marks: what each attempt is worth, which mistakes were made, and a folder of work marked at once."""

from dataclasses import dataclass, field
from pathlib import Path

from .checking import Feedback, as_it_stands, check
from .exercises import ExerciseSet, exercise_set
from .marking_files import read_all
from .model import ExerciseError
from .regrade import NONE, Fixes
from .sets import Rules, set_plan
from .submissions import MOST_ATTEMPTS, RefusedError, Submission, Work, read
from .variants import Problem, learner_code
from .versions import amount, holds, together

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
    mistakes: tuple[str, ...]
    words: str
    reason: str = ""
    turn: str = ""
    hints: int = 0


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
    """What came of a folder: marks learner by learner, and what was refused, file by file.

    ``differ`` names those who handed in versions of which none holds all the others.
    """

    marks: tuple[Marks, ...]
    refused: tuple[tuple[str, str], ...] = ()
    notes: tuple[str, ...] = field(default=())
    differ: tuple[str, ...] = ()


def mark(
    submission, class_key, *, codes=None, learner: str | None = None, late: bool = False,
    reasons: dict | None = None, fixes: Fixes = NONE,
) -> Marks:  # fmt: skip
    """Mark one submission; everything is computed anew from what was typed.

    Parameters:
        submission: a path, text, bytes, table, short text or ``Submission`` that was read already.
        class_key: text or bytes that the instructor keeps.
        codes: the codes of the class, where known.
        learner: the code it must be of, where that is known.
        late: True where it was handed in late.
        reasons: points [-] from 0 to 3 given by hand for a reason, by exercise.
        fixes: corrections of the key, from ``regrade.read_fixes``.
    Returns: the ``Marks``.
    Raises: ``RefusedError`` with one sentence.

    Example: ``mark("K7QP-4.json", class_key, codes=codes).points``.
    """
    found = submission
    if not isinstance(submission, Submission):
        found = read(submission, class_key, learner)
    accepted(found, codes, fixes)
    own = fixes.corrected(exercise_set(found.set, found.learner, class_key), class_key)
    return mark_set(found, own, late, reasons or {}, fixes=fixes)


def accepted(found: Submission, codes=None, fixes: Fixes = NONE) -> None:
    """Raise ``RefusedError`` for sound work that this class and this edition cannot mark."""
    if codes is not None and found.learner not in {learner_code(c) for c in codes}:
        raise RefusedError(f"{found.learner} is not a code of this class.")
    try:
        plan = set_plan(found.set)
    except ExerciseError as wrong:
        raise RefusedError(str(wrong)) from None
    if found.edition not in (plan.edition, fixes.edition(plan)):
        raise RefusedError(
            f"This work was done with another version of the set {plan.name}; the numbers may differ."
            " Mark it with that version, or have it done again."
        )


def mark_set(
    submission: Submission, own: ExerciseSet, late: bool, reasons: dict,
    in_time: Submission | None = None, fixes: Fixes = NONE,
) -> Marks:  # fmt: skip
    """Marks of work that is known to be sound, against the learner's own problems.

    ``in_time``: the part of late work that came in time; each exercise then brings what is more,
    that part at its full worth or all of it at the late share.
    """
    known = {p.name for p in own.problems}
    notes = [
        f"{name} is not an exercise of this set." for name in submission.work if name not in known
    ]
    rows, any_late = [], False
    for problem in own.problems:
        work, given = submission.work.get(problem.name, Work()), reasons.get(problem.name)
        row, came_late = mark_one(problem, work, own.rules, late, given, fixes), late
        if in_time is not None:
            early = in_time.work.get(problem.name, Work())
            other = mark_one(problem, early, own.rules, False, given, fixes)
            if other.points >= row.points and (other.points or early.attempts == work.attempts):
                row, came_late = other, False
        rows.append(row)
        any_late = any_late or (came_late and bool(work.attempts))
        if own.rules.attempts and not problem.turn and _spare(problem, work, own.rules):
            notes.append(
                f"{problem.name}: only the first {own.rules.attempts} attempts count; there are more."
            )
    return Marks(submission.learner, submission.set, tuple(rows), tuple(notes),
                 late if in_time is None else any_late)  # fmt: skip


def _spare(problem: Problem, work: Work, rules: Rules) -> bool:
    """Whether there are more attempts than count, those that could not be read left out."""
    if len(work.attempts) <= rules.attempts:
        return False
    counted = sum(
        check(problem, typed, solution=False).counted for typed in work.attempts[:MOST_ATTEMPTS]
    )
    return counted > rules.attempts


def mark_one(
    problem: Problem, work: Work, rules: Rules, late: bool = False, rubric: float | None = None,
    fixes: Fixes = NONE,
) -> Mark:  # fmt: skip
    """Marks of one exercise.

    The number and its unit bring their points apart; exercises without a unit have none to give.
    A reason counts only when somebody has read it (``rubric``, 0 to 3).  The three questions before
    and after earn nothing.
    """
    counted: list[Feedback] = []
    for typed in work.attempts[:MOST_ATTEMPTS]:
        result = fixes.applied(problem, check(problem, typed, solution=False))
        if result.counted:
            counted.append(result)
        if len(counted) == rules.attempts:  # never, where attempts are without limit
            break
    if work.paper and not counted:
        found = [fixes.applied(problem, as_it_stands(problem, t)) for t in work.attempts]
        counted = [result for result in found if any(c.read for c in result.checked)]
    used = _used(counted, rules)
    points = _points(used, rules) if used else 0.0
    out_of = rules.number + (rules.unit if _with_units(problem) else 0.0)
    if rubric is not None:
        points += rules.reason * min(max(float(rubric), 0.0), RUBRIC) / RUBRIC
        out_of += rules.reason
    if late:
        points *= rules.late
    if problem.turn or fixes.void(problem.exercise.id):
        points = out_of = 0.0
    mistakes = [c.mistake for r in counted for c in r.checked if c.mistake]
    return Mark(
        problem.learner, problem.name, round(points, 4), out_of, len(counted),
        round(work.minutes, 1), used.right if used else False, tuple(dict.fromkeys(mistakes)),
        used.words if used else "Nothing was handed in.", work.reason, problem.turn, work.hints,
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


def mark_folder(
    folder, class_key, codes, reasons: dict | None = None, counted=None, fixes: Fixes = NONE
) -> FolderMarks:
    """Mark every file of a folder; what cannot be marked is listed with a sentence.

    Files: ``*.json`` (saved by the page), ``*.txt`` (short texts, one a line), ``*.csv`` (the grid
    for answers on paper).  What lies in a folder ``late`` inside it is marked late.  Several files
    of one learner are put together (``versions``).

    Parameters:
        folder: where the files lie.
        class_key: text or bytes that the instructor keeps.
        codes: the codes of the class.
        reasons: points [-] from 0 to 3 by code and exercise.
        counted: as in ``mark_items``.
        fixes: corrections of the key, from ``regrade.read_fixes``.
    Returns: ``FolderMarks``: marks learner by learner, and what was refused.
    Raises: ``ExerciseError`` when the folder is not there.

    Example: ``mark_folder("handed in", class_key, codes).marks``.
    """
    folder = Path(folder)
    if not folder.is_dir():
        raise ExerciseError(f"{folder} is not a folder.")
    paths = sorted(p for p in folder.rglob("*") if p.suffix.lower() in KINDS)
    items = [(p.relative_to(folder).as_posix(), p) for p in paths]
    late = {name for name, p in items if p.relative_to(folder).parts[0] == "late"}
    return mark_items(items, class_key, codes, reasons, late, counted, fixes)


def mark_items(
    items, class_key, codes, reasons: dict | None = None, late=(), counted=None,
    fixes: Fixes = NONE,
) -> FolderMarks:  # fmt: skip
    """Mark work that came as pairs of a file's name and its ``Path`` or its text.

    What is marked how follows from the name's ending as in ``mark_folder``; names that are in
    ``late`` were handed in late.  ``counted`` gives what the machine of the class saw of a
    learner's ``ExerciseSet`` (``AttemptLog.read``): those attempts come before all others.
    """
    groups: dict[tuple[str, str, str], list[tuple[Submission, bool, str]]] = {}
    refused, notes, differ, marks = [], [], [], []
    for name, source in items:
        for where, found in read_all(source, name, class_key, codes, refused):
            key = (found.learner, found.set, found.edition)
            groups.setdefault(key, []).append((found, name in late, where))
    for (learner, *_), versions in sorted(groups.items(), key=lambda item: item[0]):
        found = [version for version, _, _ in versions]
        try:
            accepted(found[0], codes, fixes)
        except RefusedError as wrong:
            refused += [(where, str(wrong)) for _, _, where in versions]
            continue
        own = fixes.corrected(exercise_set(found[0].set, learner, class_key), class_key)
        seen = [] if counted is None else [counted(own)]
        early = [version for version, was_late, _ in versions if not was_late]
        whole = _whole(seen, found)
        in_time = _whole(seen, early) if early and len(early) < len(found) else None
        marks.append(mark_set(whole, own, not early or in_time is not None,
                              (reasons or {}).get(learner, {}), in_time, fixes))  # fmt: skip
        word, differs = _said_of_versions(versions, own)
        notes += [word] if word else []
        differ += [word] if differs else []
    return FolderMarks(tuple(marks), tuple(refused), tuple(notes), tuple(differ))


def _whole(seen: list[Submission], versions: list[Submission]) -> Submission:
    """All versions together, what the machine of the class saw first."""
    return together([*seen, together(versions)], in_order=True)


def _said_of_versions(versions, own: ExerciseSet) -> tuple[str, bool]:
    """A sentence where a learner handed in versions that are not the same, and whether they differ
    so that none holds all the others."""
    by_most = sorted(versions, key=lambda item: amount(item[0]), reverse=True)
    fullest, _, where = by_most[0]
    others = [(found, name) for found, _, name in by_most[1:] if not holds(found, fullest)]
    if not others:
        return "", False
    apart = [name for found, name in others if not holds(fullest, found)]
    start = f"{own.learner} handed in {own.name} more than once"
    if not apart:
        return f"{start}; {where} holds all of the others.", False
    limit = own.rules.attempts
    first = f"the first {limit} attempts at an exercise count" if limit else "all attempts count"
    return (
        f"{start}, and the versions differ: {', '.join([where, *apart])}. They are put together;"
        f" {first}. Ask whose work it is."
    ), True
