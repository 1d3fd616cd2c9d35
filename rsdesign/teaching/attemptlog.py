"""What learners did on the machine of their class, attempt by attempt, in a folder beside its file.

So attempts are counted by code, set and exercise, not by browser: whoever takes the work off a
browser, or takes another device, goes on where the code is.  Codes and answers only, no names.
A line is written whole and only ever added, so that two devices with one code do no harm.
"""

import json
import logging
import time
from dataclasses import replace
from pathlib import Path

from .exercises import ExerciseSet
from .submissions import Submission, blank
from .versions import missing, together

_log = logging.getLogger("rsdesign.teaching")

LARGEST = 4_000_000
"""Bytes of one learner's lines that are read; a hundred attempts at every exercise are fewer."""


def folder_of(class_file) -> Path:
    """The folder beside the file of a class: ``class-attempts`` for ``class.toml``."""
    path = Path(class_file)
    return path.with_name(f"{path.stem}-attempts")


class AttemptLog:
    """The attempts of one class, kept in a folder."""

    def __init__(self, folder):
        self.folder = Path(folder)

    def ready(self) -> bool:
        """Make the folder; False where nothing can be written there."""
        try:
            self.folder.mkdir(mode=0o700, exist_ok=True)
            probe = self.folder / "writable"
            probe.write_text("", encoding="utf-8")
            probe.unlink()
        except OSError:
            return False
        return True

    def _file(self, found: ExerciseSet) -> Path:
        return self.folder / f"{found.learner}_{found.name}_{found.plan.edition}.jsonl"

    def read(self, found: ExerciseSet) -> Submission:
        """All that was done under a code at a set, in order; a damaged line is passed over."""
        work = blank(found)
        try:
            with self._file(found).open(encoding="utf-8", errors="replace") as file:
                lines = file.read(LARGEST).splitlines()
        except OSError:
            return work
        for line in lines:
            work = _added(work, line)
        return work

    def attempt(self, found: ExerciseSet, name: str, typed: dict, minutes: float = 0.0) -> None:
        """Write down one more attempt; whoever calls limits how many there may be."""
        line = {
            "at": int(time.time()),
            "attempt": name,
            "typed": typed,
            "minutes": round(minutes, 2),
        }
        try:
            self.folder.mkdir(mode=0o700, exist_ok=True)
            with self._file(found).open("a", encoding="utf-8", newline="\n") as file:
                file.write(json.dumps(line, ensure_ascii=False) + "\n")
        except OSError as wrong:  # the browser has the work; only its count is at stake
            _log.warning("an attempt could not be written beside the class: %s", wrong)

    def catch_up(self, found: ExerciseSet, work: Submission) -> Submission:
        """Take in what a browser or a file holds and the log does not; all of it together."""
        kept = self.read(found)
        for name, typed in missing(kept, work):
            self.attempt(found, name, typed)
        return together([kept, work], in_order=True)


def _added(work: Submission, line: str) -> Submission:
    """A submission with what one line says."""
    try:
        table = json.loads(line)
        if not work.began:
            work = replace(work, began=max(int(table["at"]), 0))
        typed = {str(k): str(v) for k, v in table["typed"].items()}
        return work.with_attempt(str(table["attempt"]), typed, float(table["minutes"]))
    except (ValueError, KeyError, TypeError, AttributeError, RecursionError, OverflowError):
        return work
