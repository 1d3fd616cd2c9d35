"""The submission box of a room: work that learners hand in, until the instructor takes it.

It is in memory alone, and files stay as they came, with their seals.  Where the server knows the class
(``serve --class``) a wrong seal is refused on arrival; without the key of the class every file is taken,
and marking checks it.  No file replaces another: see ``SubmissionBox.take``.
"""

import json
from collections.abc import Callable
from dataclasses import dataclass

from ...core.choices import DesignError
from ...teaching.classbook import ClassBook
from ...teaching.marking import accepted
from ...teaching.submissions import RefusedError, Submission, read, understood
from ...teaching.versions import amount, holds, lacks

MAX_FILES = 1000
KEPT = 5
"""Versions of one learner and set that are kept although another holds everything in them."""
MAX_VERSIONS = 20
"""Versions of one learner and set altogether."""
NEEDED = ("set", "learner", "seal", "work")
MAX_NAME = 60
NO_CLASS = "The class cannot be read on the room's machine; save your work as a file, and say so."


class AskFirstError(DesignError):
    """A question to the learner before a file is accepted."""


@dataclass(frozen=True, slots=True, eq=False)
class Version:
    """A file as it came; ``work`` is its content where readable; ``checked``: its seal was verified."""

    number: int
    text: str
    work: Submission | None
    checked: bool


class SubmissionBox:
    """What was handed in: the versions of each learner and set.

    ``class_of_room`` gives the class of this server, or None.
    """

    def __init__(self, class_of_room: Callable[[], ClassBook | None] = lambda: None):
        self._class = class_of_room
        self._files: dict[tuple[str, str], list[Version]] = {}
        self._count = 0

    def __len__(self) -> int:
        return sum(map(len, self._files.values()))

    def receive(self, table: dict, sure: bool = False) -> tuple[int, dict]:
        """HTTP status and answer for a file that is handed in."""
        try:
            return 200, {"done": self.take(table, sure)}
        except AskFirstError as question:
            return 409, {"ask": str(question)}
        except DesignError as wrong:
            return 400, {"refused": str(wrong)}

    def take(self, table: dict, sure: bool = False) -> str:
        """Keep a file; returns a sentence for the learner.

        A version that holds anything no other version holds is never discarded; of the others the
        newest stay, up to five in all.  Without a class nothing is discarded.  Raises
        ``AskFirstError`` where the work holds less than an earlier version and the learner was not
        asked (``sure``), ``DesignError`` for what is no work, has a wrong seal, or does not fit.
        """
        work, checked = self._verified(table)
        named = (table["learner"], table["set"]) if work is None else (work.learner, work.set)
        before = self._files.get(named, [])
        text = json.dumps(table, ensure_ascii=False)
        if any(text == version.text for version in before):
            return "Handed in again: it is the same as before, and it is here."
        if not sure:
            _ask_first(work, before)
        self._count += 1
        kept = _discard_contained([*before, Version(self._count, text, work, checked)], KEPT)
        if len(self) - len(before) + len(kept) > MAX_FILES:
            kept = _discard_contained(kept, 1)
        if len(self) - len(before) + len(kept) > MAX_FILES:
            raise DesignError(
                "The room has no place for more work; save your work as a file instead."
            )
        if len(kept) > MAX_VERSIONS:
            raise DesignError(
                f"{MAX_VERSIONS} different versions are here under this code. Save your work as a file,"
                " and tell your instructor."
            )
        self._files[named] = kept
        if before:
            return "Handed in again. Nothing is replaced: all that you handed in counts together."
        return "Handed in. You may go on and hand in again: it counts together."

    def _verified(self, table: dict) -> tuple[Submission | None, bool]:
        """The work in a file, and whether its seal was verified, as it is where the class is known."""
        if any(name not in table for name in NEEDED):
            raise DesignError("That is no work to hand in; press the button on your page again.")
        named = (table["learner"], table["set"])
        if not all(isinstance(n, str) and 0 < len(n) <= MAX_NAME for n in named):
            raise DesignError("The work names no learner or no set; reload the page.")
        try:
            book = self._class()
        except DesignError:
            raise DesignError(NO_CLASS) from None
        if book is not None:
            work = read(table, book.key)
            accepted(work, book.codes)
            return work, True
        try:
            return understood(table), False
        except RefusedError:
            return None, False

    def clear(self) -> int:
        """Discard every file; returns how many."""
        count = len(self)
        self._files.clear()
        return count

    def files(self) -> list[dict]:
        """Every file under a stable name, in the order in which they came."""
        found = sorted((v for kept in self._files.values() for v in kept), key=lambda v: v.number)
        return [{"name": f"room {version.number}.json", "text": version.text} for version in found]


def _ask_first(work: Submission | None, before: list[Version]) -> None:
    fullest = max((v.work for v in before if v.work is not None), key=amount, default=None)
    if work is None or fullest is None or not lacks(work, fullest):
        return
    if amount(work) > amount(fullest):
        return
    raise AskFirstError(
        f"What you hand in now holds {amount(work)} answers; under this code {amount(fullest)} were"
        " handed in before, and some of them are not in it. Nothing is replaced: both count together."
        " Is this your code, and do you want to hand in all the same?"
    )


def _discard_contained(versions: list[Version], most: int) -> list[Version]:
    """Discard the oldest versions beyond ``most``; one that holds anything of its own stays."""
    kept = list(versions)
    for version in versions:
        if len(kept) <= most:
            break
        others = [other for other in kept if other is not version]
        if any(_within(version, other) for other in others):
            kept = others
    return kept


def _within(version: Version, other: Version) -> bool:
    """Whether another version holds all of this one; unknown, so False, for unverified files."""
    return version.checked and other.checked and holds(other.work, version.work)
