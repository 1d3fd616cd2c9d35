"""A class: its key and codes, the table of who did what, the common slips, and the paper grid.

The file of a class stays on the instructor's machine: it holds the key from which every learner's
numbers follow.  It holds codes and no names; who has which code is written on paper.
"""

import csv
import io
import secrets
import tomllib
from collections import Counter
from dataclasses import dataclass
from pathlib import Path

from ..designfile import write_new
from .bank import ExerciseError, exercise
from .exercises import CLASS, class_mark
from .marking import FolderMarks, Marks
from .sets import SetPlan, set_plan
from .submissions import Submission, Work
from .variants import learner_code

ALPHABET = "23456789ABCDEFGHJKMNPQRTVWXYZ"
"""29 letters and digits that are not taken for one another; a prime number of them, so that the
check letter tells every single wrong letter and every two that changed places."""

BODY = 4
MOST = 500
COLUMNS = ("code", "exercise", "points", "out_of", "attempts", "minutes")
"""The columns of the marks."""


@dataclass(frozen=True, slots=True)
class ClassBook:
    """A class: its secret key and its codes."""

    key: str
    codes: tuple[str, ...]

    def __repr__(self) -> str:
        return f"ClassBook({len(self.codes)} codes, class {class_mark(self.key)})"


def new_class(count: int) -> ClassBook:
    """A class of so many fresh codes.  Raises ``ExerciseError`` beyond 1 to 500."""
    if not 1 <= count <= MOST:
        raise ExerciseError(f"A class has from 1 to {MOST} codes, not {count}.")
    codes: dict[str, None] = {}
    while len(codes) < count:
        codes[with_check("".join(secrets.choice(ALPHABET) for _ in range(BODY)))] = None
    return ClassBook(secrets.token_hex(16), tuple(codes))


def with_check(body: str) -> str:
    """Four letters with their check letter.

    >>> with_check("K7QP")
    'K7QP-3'
    """
    total = sum((place + 2) * ALPHABET.index(letter) for place, letter in enumerate(body))
    return f"{body}-{ALPHABET[total % len(ALPHABET)]}"


def well_written(code: str) -> bool:
    """Whether a code fits its check letter, so that a slip of the pen is seen at once."""
    body, _, check = code.strip().upper().partition("-")
    known = len(body) == BODY and all(letter in ALPHABET for letter in body)
    return known and with_check(body) == f"{body}-{check}"


def class_text(book: ClassBook) -> str:
    """The file of a class as text."""
    codes = "\n".join(f'  "{code}",' for code in book.codes)
    return (
        "# A class. Keep this file on your own machine: every learner's numbers follow from the key.\n"
        "# Write on paper, not here, who has which code.\n"
        f'key = "{book.key}"\ncodes = [\n{codes}\n]\n'
    )


def write_class(book: ClassBook, path) -> None:
    """Write the file of a class.  Raises ``DesignError`` where one is there already."""
    write_new(Path(path), class_text(book))


def read_class(path) -> ClassBook:
    """The class in a file.  Raises ``ExerciseError`` with one sentence."""
    path = Path(path)
    try:
        text = path.read_text(encoding="utf-8-sig")
    except FileNotFoundError:
        raise ExerciseError(
            f"{path} is not there; 'rsdesign exercises codes 20 -o {path.name}' makes a class."
        ) from None
    except (OSError, UnicodeDecodeError):
        raise ExerciseError(f"{path} is not a file of a class; it holds key and codes.") from None
    return class_of(text, str(path))


def class_of(text: str, name: str = "The file") -> ClassBook:
    """The class that a text holds; ``name`` says what is wrong where.  Raises ``ExerciseError``."""
    try:
        table = tomllib.loads(text)
        key, codes = table["key"], tuple(learner_code(c) for c in table["codes"])
        if not isinstance(key, str):
            raise TypeError(key)
    except (tomllib.TOMLDecodeError, KeyError, TypeError, RecursionError):
        raise ExerciseError(f"{name} is not a file of a class; it holds key and codes.") from None
    if not key or not codes:
        raise ExerciseError(f"{name} has no key or no codes; make a class anew.")
    if len(codes) > MOST:
        raise ExerciseError(f"{name} has {len(codes)} codes; a class has at most {MOST}.")
    if len(set(codes)) != len(codes):
        raise ExerciseError(f"{name} has a code twice.")
    return ClassBook(key, codes)


# --- the table of a class --------------------------------------------------------------------


def marks_csv(found: FolderMarks) -> str:
    """The marks as CSV: code, exercise, points, out_of, attempts, minutes."""
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(COLUMNS)
    for marks in found.marks:
        for row in marks.rows:
            writer.writerow([row.code, row.exercise, f"{row.points:g}", f"{row.out_of:g}",
                             row.attempts, f"{row.minutes:g}"])  # fmt: skip
    return text.getvalue()


def class_table(found: FolderMarks) -> tuple[tuple[str, ...], list[list]]:
    """Header and rows of a table: learner by learner, the share of points of each exercise.

    A share is None where nothing was handed in, and True or False for a question before or after.
    """
    names: dict[str, None] = {}
    for marks in found.marks:
        names.update(dict.fromkeys(row.exercise for row in marks.rows))
    rows = []
    for marks in found.marks:
        shares = {row.exercise: _share(row) for row in marks.rows}
        total = marks.points / marks.out_of if marks.out_of else None
        rows.append([marks.learner, total, *(shares.get(name) for name in names)])
    return ("code", "all", *names), rows


def _share(row):
    if not row.attempts:
        return None
    return row.right if row.turn else row.points / row.out_of


def common_slips(marks: tuple[Marks, ...]) -> list[tuple[str, str, int]]:
    """Triples of exercise, slip and how many learners made it, the most common first."""
    count = Counter(
        (row.exercise.partition("/")[0], slip)
        for found in marks
        for row in found.rows
        for slip in row.slips
    )
    return sorted(
        ((name, slip, n) for (name, slip), n in count.items()), key=lambda t: (-t[2], t[0], t[1])
    )


UNIT_SLIPS = ("no unit", "wrong kind of unit", "wrong unit written", "other unit wanted")
"""Slips in writing, which no relation mends."""


def slip_words(name: str, slip: str) -> str:
    """What to say to a slip in front of all: its own words and the relation of the exercise."""
    if slip in UNIT_SLIPS:
        return "Say the unit with every number, and ask if it measures the right thing."
    words = next((s.words for s in exercise(name).slips if s.name == slip), "")
    return " ".join(filter(None, (words, exercise(name).relation)))


def first_five_minutes(marks: tuple[Marks, ...], most: int = 2) -> list[str]:
    """Words for the next lesson's first minutes: the commonest slips with what to say to them."""
    lines = []
    for name, slip, count in common_slips(marks)[:most]:
        who = "1 learner" if count == 1 else f"{count} learners"
        lines.append(f"{exercise(name).title}, {slip} ({who}): {slip_words(name, slip)}")
    return lines


# --- answers on paper ------------------------------------------------------------------------


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
        done = {name: Work((typed,)) for name, typed in work.items()}
        if not done:
            continue  # nothing on this line: nothing was handed in
        found.append(
            Submission(plan.name, plan.edition, class_mark(class_key), code, CLASS, 0, done)
        )
    return found, bad
