"""What both pages of a class share: message handling, and a problem with its feedback.

No block holds the answer of a problem before the learner has it right: a problem is sent through
``exercises.page``, and the expert's solution only with an attempt that ``check`` judges right.
"""

import logging
import os
import re
from pathlib import Path

from ...core.choices import DesignError
from ...teaching.attemptlog import AttemptLog, folder_of
from ...teaching.checking import Feedback, check
from ...teaching.classbook import ClassBook, read_class
from ...teaching.exercises import page as problem_page
from ...teaching.hints import HINTS, hint
from ...teaching.submissions import MOST_ATTEMPTS, Work
from ...teaching.typed_sums import sum_end
from ...teaching.variants import Problem
from ..server.validation import handler_of

CLASS_FILE = "RSDESIGN_CLASS"
"""Environment variable: the file of the class, on the instructor's machine."""

MAX_MESSAGE = 900_000
"""Characters of one message, which may hold several files; the socket's limit is a million bytes."""

SORRY = (
    "Something went wrong inside, and this was not done. Your work is kept in this browser;"
    " reload the page."
)

_log = logging.getLogger("rsdesign.pages")


class ClassSession:
    """Handles messages as the sessions of the design pages do; an error becomes ``notice``."""

    full = False
    page = None

    def __init__(self):
        self.notice = ""
        self.stale = False
        self.reply: dict = {}

    def handle(self, message) -> None:
        """Do what a message asks."""
        self.reply, self.notice = {}, ""
        try:
            action = handler_of(self, message, "That is too much at once; nothing was done.")
            action(message)
        except DesignError as wrong:
            self.notice = str(wrong)
        except Exception:  # a page must never be wrong without a word
            _log.exception("a page of a class could not do what was asked")
            self.notice = SORRY

    def blocks(self) -> dict:
        """Every block of the page as plain data."""
        return {}


NOT_WRITABLE = (
    "{folder} cannot be written, so attempts are counted in each browser only: whoever clears one"
    " starts anew. Put the file of the class into a folder of your own."
)


def use_class(path) -> str:
    """Set the class of this server's pages; its file is read at once, to check it.

    Returns a sentence where attempts cannot be kept beside the file, else an empty one.
    """
    read_class(path)
    os.environ[CLASS_FILE] = str(Path(path).resolve())
    log = attempt_log()
    return "" if log.ready() else NOT_WRITABLE.format(folder=log.folder)


def local_class() -> ClassBook | None:
    """The class of this server, or None: learners then need a ticket."""
    path = os.environ.get(CLASS_FILE, "")
    return read_class(path) if path else None


def attempt_log() -> AttemptLog | None:
    """The log of attempts in a folder beside the class's file; None without a class."""
    path = os.environ.get(CLASS_FILE, "")
    return AttemptLog(folder_of(path)) if path else None


def text_of(message: dict, name: str, most: int = 200) -> str:
    """A text field of a message; empty where it holds anything but text."""
    value = message.get(name)
    return value[:most].strip() if isinstance(value, str) else ""


# --- one problem ------------------------------------------------------------------------------


def typed_answers(problem: Problem, typed) -> dict[str, str]:
    """The typed answer to each question, with number and unit in one text."""
    typed = typed if isinstance(typed, dict) else {}
    found = {}
    for ask in problem.exercise.asks:
        about = typed.get(ask.name)
        if isinstance(about, dict):
            found[ask.name] = join_unit(text_of(about, "number", 60), text_of(about, "unit", 40))
        elif isinstance(about, str):
            found[ask.name] = about[:100].strip()
    return found


def join_unit(number: str, unit: str) -> str:
    """A number and a unit as one text; a unit typed with the number is not repeated.

    >>> join_unit("410 gal", "gal")
    '410 gal'
    >>> join_unit("410", "gal")
    '410 gal'
    """
    end = sum_end(number)
    bare = number[end:] if end else re.sub(r"(?<=\d)[eE][+-]?\d+", "", number)
    return number if re.search(r"[^\W\d_]|[%°'\"]", bare) else f"{number} {unit}".strip()


def split_unit(text: str) -> dict[str, str]:
    """A text as number and unit, for their two boxes.

    >>> split_unit("1,55 m³")
    {'number': '1,55', 'unit': 'm³'}
    """
    end = sum_end(text)
    if end:
        return {"number": text[:end], "unit": text[end:].strip()}
    found = re.match(r"\s*([+-]?[\d.,]*\d(?:[eE][+-]?\d+)?)\s*(.*)$", text, re.DOTALL)
    return {"number": found[1], "unit": found[2]} if found else {"number": text, "unit": ""}


def checked(problem: Problem, work: Work, known: dict) -> list[Feedback]:
    """The feedback on each attempt; ``known`` caches it, since attempts never change."""
    feedback = []
    for typed in work.attempts:
        key = (problem.name, problem.mark, tuple(sorted(typed.items())))
        if key not in known:
            known[key] = check(problem, typed)
        feedback.append(known[key])
    return feedback


def shown_problem(problem: Problem) -> dict:
    """A problem without any work, with what the front end needs to draw its boxes."""
    return {**problem_page(problem), "mark": problem.mark, "turn": problem.turn}


def shown_work(problem: Problem, work: Work, known: dict, *, attempts: int = 0) -> dict:
    """The work on a problem and the feedback on it.

    Questions before a set get no feedback: they show what a learner knew.
    """
    said = checked(problem, work, known)
    silent = problem.turn == "before"
    counted = sum(result.counted for result in said)
    right = any(result.right for result in said)
    last = said[-1] if said else None
    best = next((result for result in said if result.right), last)
    levels = 0 if silent else min(work.hints, HINTS)
    return {
        "name": problem.name,
        "attempts": counted,
        "left": max(attempts - counted, 0) if attempts and not problem.turn else None,
        "right": right and not silent,
        "state": state(said, silent),
        "typed": _boxes(problem, work),
        "words": [] if last is None else _words(last, silent),
        "expert": list(best.expert) if right and not silent else [],
        "hints": [hint(problem, level) for level in range(1, levels + 1)],
        "may_hint": bool(counted and not silent and not right and levels < HINTS),
        "reason": work.reason,
    }


def _words(last: Feedback, silent: bool) -> list[dict]:
    if silent:
        return [
            {"ask": c.ask, "right": None,
             "words": f"Kept. We read {c.read}." if c.counted else c.words}
            for c in last.checked
        ]  # fmt: skip
    return [{"ask": c.ask, "right": c.right, "words": c.words} for c in last.checked]


def _boxes(problem: Problem, work: Work) -> dict:
    """The last attempt, split_unit for the boxes."""
    last = work.attempts[-1] if work.attempts else {}
    numbers = {ask.name for ask in problem.exercise.numbers}
    return {name: split_unit(text) if name in numbers else text for name, text in last.items()}


def state(said: list[Feedback], silent: bool) -> str:
    """The state of a problem: new, kept, right or tried."""
    if not any(result.counted for result in said):
        return "new"
    if silent:
        return "kept"
    return "right" if any(result.right for result in said) else "tried"


def check_attempts_left(work: Work) -> None:
    """Raise ``DesignError`` where a problem has had all the attempts that are kept."""
    if len(work.attempts) >= MOST_ATTEMPTS:
        raise DesignError(
            f"{MOST_ATTEMPTS} tries are enough for one problem; ask your instructor to look at it."
        )
