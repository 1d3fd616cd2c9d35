"""A class: its key and its codes.

The file of a class stays on the instructor's machine: it holds the key from which every learner's
numbers follow.  It holds codes and no names; who has which code is written on paper.
"""

import secrets
import tomllib
from dataclasses import dataclass
from pathlib import Path

from ..design.file import write_new
from .exercises import class_mark
from .model import ExerciseError
from .variants import learner_code

ALPHABET = "23456789ABCDEFGHJKMNPQRTVWXYZ"
"""29 letters and digits that are not taken for one another; a prime number of them, so that the
check letter shows every single wrong letter and every two that changed places."""

BODY = 4
MOST = 500


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
    """Whether a code fits its check letter, so that a mistake of the pen is seen at once."""
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
