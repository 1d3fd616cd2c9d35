"""What a learner hands in: a sealed file, or a short text that fits a QR code.

The seal is an HMAC with the class key, made on the instructor's machine (the room's server), or
with the learner's own key in a learner's copy.  Both can be checked by the instructor only; a file
that was changed by hand, cut off, or made for another class or learner is refused with a sentence.
Codes, never names.
"""

import base64
import hashlib
import hmac
import json
import zlib
from dataclasses import dataclass, field, replace
from pathlib import Path

from .exercises import CLASS, COPY, ExerciseSet, class_mark
from .model import ExerciseError
from .variants import learner_code, learner_key

FORMAT = 1
LARGEST = 256_000
"""Bytes; a whole set is a few kilobytes, and a larger file is refused before it is read."""

LONGEST_TEXT, LONGEST_REASON, MOST_ATTEMPTS = 200, 1000, 100
LONGEST_WORK = 100_000.0
"""Minutes at one exercise."""
LATEST = 10**11
"""Seconds since 1970, far beyond any clock that is right."""
SHORT = "RSX1:"
_SEAL = 32


class RefusedError(ExerciseError):
    """A submission that is not marked, with one sentence on why and what to do."""


@dataclass(frozen=True, slots=True)
class Work:
    """What was done at one exercise: typed answers of each attempt, minutes, reason, hints seen.

    ``paper``: written on paper and typed by somebody else, so that its learner cannot mend a word.
    """

    attempts: tuple[dict, ...] = ()
    minutes: float = 0.0
    reason: str = ""
    hints: int = 0
    paper: bool = False


@dataclass(frozen=True, slots=True, eq=False)
class Submission:
    """One learner's work at a set; ``saved`` counts how often it was saved.

    ``began`` is when it was begun, in whole seconds since 1970: versions are put in order by it.
    """

    set: str
    edition: str
    class_mark: str
    learner: str
    sealed: str
    saved: int = 0
    work: dict[str, Work] = field(default_factory=dict)
    began: int = 0

    def with_attempt(self, name: str, typed: dict, minutes: float = 0.0) -> "Submission":
        """A copy with one more attempt at an exercise."""
        old = self.work.get(name, Work())
        clean = {str(k)[:40]: str(v)[:LONGEST_TEXT] for k, v in typed.items()}
        attempts = (*old.attempts, clean)[:MOST_ATTEMPTS]  # the first ones count
        new = replace(old, attempts=attempts, minutes=old.minutes + max(float(minutes), 0.0))
        return replace(self, work={**self.work, name: new}, saved=self.saved + 1)

    def with_reason(self, name: str, reason: str) -> "Submission":
        """A copy with the learner's reason for an exercise."""
        new = replace(self.work.get(name, Work()), reason=str(reason)[:LONGEST_REASON])
        return replace(self, work={**self.work, name: new}, saved=self.saved + 1)

    def with_hint(self, name: str, level: int) -> "Submission":
        """A copy that remembers the highest hint seen; hints cost nothing."""
        old = self.work.get(name, Work())
        return replace(self, work={**self.work, name: replace(old, hints=max(old.hints, level))})


def blank(found: ExerciseSet, began: float = 0) -> Submission:
    """Nothing done yet; ``began`` is now, in seconds since 1970, where the time is known."""
    return Submission(found.name, found.plan.edition, found.class_mark, found.learner, found.sealed,
                      began=int(began))  # fmt: skip


def _plain(submission: Submission) -> dict:
    return {
        "rsdesign_exercises": FORMAT,
        "set": submission.set,
        "edition": submission.edition,
        "class": submission.class_mark,
        "learner": submission.learner,
        "sealed": submission.sealed,
        "saved": submission.saved,
        "work": {
            name: {
                "attempts": [dict(a) for a in w.attempts],
                "minutes": round(w.minutes, 2),
                "reason": w.reason,
                "hints": w.hints,
            }
            for name, w in submission.work.items()
        },
        **({"began": submission.began} if submission.began else {}),
    }


def _seal(table: dict, key: bytes) -> str:
    text = json.dumps(table, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
    return hmac.new(key, text.encode("utf-8"), hashlib.sha256).hexdigest()[:_SEAL]


def write(submission: Submission, found: ExerciseSet) -> str:
    """The file to hand in, as JSON text with its seal."""
    table = _plain(submission)
    return json.dumps({**table, "seal": _seal(table, found.key)}, ensure_ascii=False, indent=1)


def short_text(submission: Submission, found: ExerciseSet) -> str:
    """The same as a short text for pasting or for a QR code: capital letters and digits only."""
    table = _plain(submission)
    whole = json.dumps({**table, "seal": _seal(table, found.key)}, ensure_ascii=False,
                       separators=(",", ":"))  # fmt: skip
    packed = zlib.compress(whole.encode("utf-8"), 9)
    return SHORT + base64.b32encode(packed).decode().rstrip("=")


def qr_code(text: str) -> str:
    """A QR code of a short text as an SVG, drawn here.  Raises ``ExerciseError`` when too long."""
    import segno  # noqa: PLC0415  (only when asked for)

    try:
        return segno.make(text, error="l", micro=False).svg_inline(
            scale=4, border=4, dark="#000", light="#fff"
        )
    except segno.DataOverflowError:
        raise ExerciseError("The work is too long for a QR code; hand in the file.") from None


def read(source, class_key, learner: str | None = None) -> Submission:
    """A submission from a path, text, bytes, table or short text, its seal checked.

    ``learner``: the code it has to be of, where that is known.  Raises ``RefusedError``.
    """
    table = source if isinstance(source, dict) else _table(_text(source))
    submission = understood(table)
    if submission.class_mark != class_mark(class_key):
        raise RefusedError("This work was made for another class; its code is not of this one.")
    if not _sealed(table, submission, class_key):
        raise RefusedError(
            "This work was changed after it was saved, or is another learner's: its seal does not"
            " fit. Ask for the file as the page saved it."
        )
    if learner is not None and submission.learner != learner_code(learner):
        raise RefusedError(
            f"This work is {submission.learner}'s, not {learner_code(learner)}'s; ask for the right file."
        )
    return submission


def read_own(text: str, found: ExerciseSet) -> Submission:
    """A learner's own saved work, to go on with; its seal is checked with the key of the set.

    Raises ``RefusedError`` for another set, another learner, another version or a changed file.
    """
    table = _table(_text(text))
    submission = understood(table)
    own = blank(found)
    if (submission.set, submission.learner) != (own.set, own.learner):
        raise RefusedError(
            f"This file is the work of {submission.learner} at the set {submission.set[:40]}; open it"
            " after you have chosen that set and code."
        )
    if (submission.class_mark, submission.sealed) != (own.class_mark, own.sealed):
        raise RefusedError("This file was made for another class, or with another ticket.")
    if submission.edition != own.edition:
        raise RefusedError("This file was made with another version of the set; it cannot go on.")
    if not _fits(table, submission, found.key):
        raise RefusedError("This file was changed after it was saved, or is another learner's.")
    return submission


def _text(source) -> str:
    try:
        if isinstance(source, Path):
            if source.stat().st_size > LARGEST:
                raise RefusedError(
                    f"The file is larger than the {LARGEST:,} bytes that a set may have."
                )
            source = source.read_bytes()
        if len(source) > LARGEST:
            raise RefusedError(
                f"The work is larger than the {LARGEST:,} bytes that a set may have."
            )
        text = source.decode("utf-8-sig") if isinstance(source, bytes) else str(source)
    except UnicodeDecodeError:
        raise RefusedError(
            "This is not a text file; hand in the file that the page saves."
        ) from None
    except OSError as wrong:
        raise RefusedError(f"The file cannot be read: {wrong.strerror or wrong}.") from None
    text = text.strip()
    return _unpacked(text) if text[: len(SHORT)].upper() == SHORT else text


def _unpacked(text: str) -> str:
    """The JSON inside a short text; unpacking stops at the size that is allowed."""
    body = "".join(text[len(SHORT) :].split()).upper()
    try:
        packed = base64.b32decode(body + "=" * (-len(body) % 8))
        unpacker = zlib.decompressobj()
        whole = unpacker.decompress(packed, LARGEST)
        if not unpacker.eof:
            raise RefusedError("The short text is cut off, or too long; copy all of it again.")
        return whole.decode("utf-8")
    except RefusedError:
        raise
    except (ValueError, zlib.error):
        raise RefusedError("The short text is damaged or cut off; copy all of it again.") from None


def _table(text: str) -> dict:
    try:
        table = json.loads(text)
    except (json.JSONDecodeError, RecursionError):
        raise RefusedError(
            "The file is cut off or is not one that the page saved; ask for it again."
        ) from None
    if not isinstance(table, dict) or "rsdesign_exercises" not in table:
        raise RefusedError("This is not a file of exercises; hand in the file that the page saves.")
    return table


def understood(table: dict) -> Submission:
    """A table as a submission, its shape checked and its seal not.  Raises ``RefusedError``."""
    if table.get("rsdesign_exercises") != FORMAT:
        raise RefusedError(
            f"This file has format {str(table.get('rsdesign_exercises'))[:10]!r}, made by another"
            f" version; this one reads format {FORMAT}. Bring both to the same version."
        )
    try:
        work = {
            str(name): Work(
                tuple({str(k): str(v) for k, v in a.items()} for a in w["attempts"]),
                float(w["minutes"]), str(w["reason"]), int(w["hints"]),
            )
            for name, w in table["work"].items()
        }  # fmt: skip
        if table["sealed"] not in (CLASS, COPY):
            raise KeyError("sealed")
        if not all(0 <= w.minutes < LONGEST_WORK for w in work.values()):
            raise ValueError("minutes")
        began = int(table.get("began", 0))
        if not 0 <= began < LATEST:
            raise ValueError("began")
        return Submission(str(table["set"]), str(table["edition"]), str(table["class"]),
                          learner_code(table["learner"]), table["sealed"], int(table["saved"]),
                          work, began)  # fmt: skip
    except (KeyError, TypeError, ValueError, AttributeError, OverflowError):
        raise RefusedError(
            "The file lacks a part or holds a wrong one; ask for it again."
        ) from None


def _sealed(table: dict, submission: Submission, class_key) -> bool:
    key = class_key.encode("utf-8") if isinstance(class_key, str) else class_key
    if submission.sealed == COPY:
        key = learner_key(class_key, submission.learner)
    return _fits(table, submission, key)


def _fits(table: dict, submission: Submission, key: bytes) -> bool:
    # over what was understood, so that a program that writes 2.0 as 2 does not break the seal
    seal = str(table.get("seal", "")).encode("utf-8", "replace")
    try:
        return hmac.compare_digest(_seal(_plain(submission), key).encode(), seal)
    except ValueError:  # text that no encoding can hold
        return False
