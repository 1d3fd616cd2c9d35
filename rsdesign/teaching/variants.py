"""Numbers of one's own: from class key, exercise, version and learner code to a problem.

The seed is a SHA-256 of these four, so the same code gets the same problem on any machine and any
Python.  Codes are all that is known of a learner; nobody's name is asked for or kept.
"""

import hashlib
import hmac
import re
from dataclasses import dataclass

from . import solutions
from .bank_file import LETTERS
from .cases import Case, answers, case, close, fault, worked_lines
from .model import Ask, Exercise, ExerciseError
from .steps import kinds_of
from .wording import fill, reveals

TRIES = 400
"""Combinations tried before an exercise is called unfit; the tests hold it far from there."""


def learner_code(text) -> str:
    """A learner's code as it is compared: capital letters, digits and dashes.

    Parameters:
        text: what was typed, 1 to 24 characters.
    Returns: the code.
    Raises: ``ExerciseError`` for anything else, such as a name.

    >>> learner_code(" k7qp-4 ")
    'K7QP-4'
    """
    code = str(text).strip().upper()
    if not re.fullmatch(r"[A-Z0-9][A-Z0-9-]{0,23}", code):
        raise ExerciseError(
            f"{str(text)[:30]!r} is not a learner code; it is letters, digits and dashes, as on the card."
        )
    return code


def learner_key(class_key, learner: str) -> bytes:
    """The key of one learner's own copy; it opens nobody else's problems.

    Parameters:
        class_key: text or bytes that the instructor keeps, not empty.
        learner: the learner's code.
    Returns: 32 bytes.
    Raises: ``ExerciseError`` where the class key is empty.

    >>> len(learner_key("a class", "K7QP-4"))
    32
    """
    key = class_key.encode("utf-8") if isinstance(class_key, str) else class_key
    if not isinstance(key, bytes) or not key:
        raise ExerciseError(
            "A class needs its key; 'rsdesign exercises codes 20 -o FILE' makes one."
        )
    return hmac.new(key, b"learner:" + learner_code(learner).encode(), hashlib.sha256).digest()


def seed_of(key: bytes, exercise: Exercise, turn: str = "") -> bytes:
    """SHA-256 of a learner's key, the exercise, its version and the turn."""
    parts = ("rsdesign exercise", exercise.id, str(exercise.version), turn)
    return hashlib.sha256(key + "\x1f".join(parts).encode("utf-8")).digest()


def numbers(seed: bytes, purpose: str):
    """Endless whole numbers from a seed, the same on every machine."""
    turn = 0
    while True:
        block = hashlib.sha256(seed + f"{purpose}:{turn}".encode()).digest()
        yield int.from_bytes(block, "big")
        turn += 1


@dataclass(frozen=True, slots=True, eq=False)
class Problem:
    """One learner's problem: a case, and the order in which its options are lettered."""

    case: Case
    learner: str
    turn: str
    seed: bytes
    order: tuple[int, ...]

    @property
    def exercise(self) -> Exercise:
        """The exercise it is a variant of."""
        return self.case.exercise

    @property
    def name(self) -> str:
        """The name of the exercise, with the turn where there is one: ``tank-round/before``."""
        return f"{self.exercise.id}/{self.turn}" if self.turn else self.exercise.id

    @property
    def mark(self) -> str:
        """Eight letters of the seed, printed on the sheet and in the key."""
        return self.seed.hex()[:8]

    @property
    def text(self) -> str:
        """The question with this learner's numbers."""
        return self.case.fill(self.exercise.question)

    @property
    def lines(self) -> tuple[str, ...]:
        """The lines of a worked solution that holds one error."""
        return tuple(self.case.fill(line) for line in worked_lines(self.case))

    @property
    def options(self) -> tuple[tuple[str, str], ...]:
        """Pairs of letter and words."""
        return tuple((LETTERS[i], self.case.option(place)) for i, place in enumerate(self.order))

    def ask_text(self, ask: Ask) -> str:
        """The words of one thing asked."""
        return self.case.fill(ask.text)

    def letter(self, place: int) -> str:
        """The letter of an option by its place in the file."""
        return LETTERS[self.order.index(place)]

    def answer(self, ask: Ask):
        """The right answer: a plain number, or letters such as ``B`` or ``CABD``."""
        return self.lettered(ask, self.case.value(ask))

    def lettered(self, ask: Ask, value):
        """A value of a case as it is answered."""
        if ask.form in ("number", "line"):
            return value
        if ask.form == "order":
            return "".join(self.letter(place) for place in value)
        return self.letter(value)


def problem(exercise: Exercise, learner: str, key: bytes, turn: str = "") -> Problem:
    """The problem of one learner.

    What is drawn after shares neither question nor answer with what is drawn before or in the exercise.

    Parameters:
        exercise: one of the bank.
        learner: the learner's code.
        key: the key of the learner, from ``learner_key``.
        turn: "", "before" or "after".
    Returns: the ``Problem`` with the numbers drawn.
    Raises: ``ExerciseError`` when no sound combination is met.

    >>> from rsdesign.teaching.bank import exercise
    >>> problem(exercise("solids-area"), "A1", learner_key("a class", "A1")).name
    'solids-area'
    """
    seed = seed_of(key, exercise, turn)
    stream = numbers(seed, "draw")
    earlier = ()
    if turn == "after":
        earlier = tuple(problem(exercise, learner, key, other).case for other in ("before", ""))
    for _ in range(TRIES):
        index = next(stream) % exercise.combinations
        if not fault(exercise, index) and not any(alike(case(exercise, index), e) for e in earlier):
            break
    else:
        raise ExerciseError(f"The exercise {exercise.id!r} has no sound numbers to draw.")
    order = tuple(range(len(exercise.options)))
    if exercise.shuffle:
        order = _shuffled(order, numbers(seed, "order"))
    return Problem(case(exercise, index), learner_code(learner), turn, seed, order)


def alike(one: Case, other: Case) -> bool:
    """Whether two cases are the same question to a learner, or have the same numbers as answers."""
    asks = one.exercise.numbers
    if asks:
        return all(close(a, one.truth[a.name], other.truth[a.name]) for a in asks)
    return one.typed == other.typed


def _shuffled(places: tuple[int, ...], stream) -> tuple[int, ...]:
    mixed = list(places)
    for last in range(len(mixed) - 1, 0, -1):
        other = next(stream) % (last + 1)
        mixed[last], mixed[other] = mixed[other], mixed[last]
    return tuple(mixed)


def other_case(found: Problem) -> Case:
    """A case with other numbers and another answer, for the worked hint.

    Its text, filled, does not hold the learner's own answer.
    """
    e = found.exercise
    own = answers(found.case)
    stream = numbers(found.seed, "hint")
    for _ in range(TRIES):
        index = next(stream) % e.combinations
        if index == found.case.index or fault(e, index):
            continue
        other = case(e, index)
        same = any(close(a, other.truth[a.name], found.case.truth[a.name]) for a in e.numbers)
        shown = (other_texts(other)[0], solutions.own_numbers(other))
        if not same and not any(reveals(text, own) for text in shown):
            return other
    raise ExerciseError(f"The exercise {e.id!r} has no other numbers for its worked hint.")


def other_texts(other: Case) -> list[str]:
    """The worked hint with the numbers of a case: what comes out, then the sums; no planted error."""
    outcome = fill(other.exercise.worked, other.truth, other.typed, kinds_of(other.exercise))
    return [outcome, *solutions.texts(other)]
