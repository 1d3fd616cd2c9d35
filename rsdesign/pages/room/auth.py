"""Who may come in: the room's code, the cookie that stands for it, and wrong tries slowed down.

The code is short, because a person may have to type it; guessing it is slow, because wrong tries
from one address wait longer and longer.  The cookie is long and random and cannot be guessed.
"""

import contextlib
import hashlib
import hmac
import json
import os
import secrets
import sys
import time
from dataclasses import asdict, dataclass
from pathlib import Path

from ...core.choices import DesignError

LETTERS = "23456789abcdefghjkmnpqrstuvwxyz"
"""No letter or digit that is mistaken for another: no 0, o, 1, i, l."""
LENGTH = 8
"""31 to the power of 8 is 850 thousand million codes."""
LASTS = 12 * 3600
"""Seconds that a cookie, and a room whose server was killed, may last."""
FREE = 5
"""Wrong tries of one address before it has to wait."""
LONGEST_WAIT = 30.0
"""Seconds; the wait doubles from one second up to this."""
MOST_ADDRESSES = 2000

VISITOR, INSTRUCTOR = "visitor", "instructor"


def plain(code: str) -> str:
    """A code as typed, without the spaces and dashes that make it readable.

    >>> plain(" KFMP 7rqt")
    'kfmp7rqt'
    """
    return "".join(c for c in code.lower() if c.isalnum())


def readable(code: str) -> str:
    """A code in groups of four.

    >>> readable("kfmp7rqt")
    'kfmp-7rqt'
    """
    return "-".join(code[i : i + 4] for i in range(0, len(code), 4))


@dataclass(frozen=True)
class Keys:
    """What opens a room: the visitors' code, the instructor's key, and what seals cookies."""

    code: str
    instructor: str
    seal: str

    @classmethod
    def made(cls, code: str = "") -> "Keys":
        """New keys at random; ``code`` where the instructor wants one of their own.

        Raises ``DesignError`` for a code that is too easily guessed.
        """
        wanted = plain(code)
        if code and (len(wanted) < LENGTH or not wanted.isascii()):
            raise DesignError(
                f"--token: a code needs at least {LENGTH} letters or digits (a to z, 0 to 9), so that"
                " nobody guesses it. Leave it out to have one made."
            )
        wanted = wanted or "".join(secrets.choice(LETTERS) for _ in range(LENGTH))
        return cls(wanted, secrets.token_urlsafe(24), secrets.token_hex(32))

    def role(self, token: str) -> str | None:
        """Whose token this is; None for a wrong one.  Takes as long for each wrong one."""
        given = token.strip()[:200].encode()
        as_code = plain(given.decode()).encode()
        teaching = hmac.compare_digest(given, self.instructor.encode())
        visiting = hmac.compare_digest(as_code, self.code.encode())
        return INSTRUCTOR if teaching else VISITOR if visiting else None

    def cookie(self, role: str, now: float | None = None) -> str:
        """A cookie for one who came in: a name at random, the role, the hour, and the seal."""
        at = int(time.time() if now is None else now)
        words = f"{secrets.token_hex(8)}.{role}.{at}"
        return f"{words}.{self._seal(words)}"

    def read(self, cookie: str, now: float | None = None) -> tuple[str, str] | None:
        """Name and role of a cookie that this room gave; None for every other."""
        words, _, seal = cookie.rpartition(".")
        if not seal.isascii() or not hmac.compare_digest(seal, self._seal(words)):
            return None
        name, role, at = words.split(".")
        age = (time.time() if now is None else now) - int(at)
        return (name, role) if age < LASTS else None

    def _seal(self, words: str) -> str:
        return hmac.new(bytes.fromhex(self.seal), words.encode(), hashlib.sha256).hexdigest()


class Tries:
    """Wrong tries by address: five are free, then each waits twice as long as the one before."""

    def __init__(self, clock=time.monotonic):
        self.wrong = 0
        """Wrong tries since the room opened."""
        self._clock = clock
        self._by: dict[str, tuple[int, float]] = {}

    def wait(self, address: str) -> float:
        """Seconds that this address has to wait before a try is looked at."""
        _, until = self._by.get(address, (0, 0.0))
        return max(0.0, until - self._clock())

    def fail(self, address: str) -> int:
        """Count a wrong try; gives the number of all."""
        self.wrong += 1
        count = self._by.pop(address, (0, 0.0))[0] + 1
        doubled = min(count - FREE, 10)  # by then the wait is the longest; further it overflows
        pause = min(LONGEST_WAIT, 2.0**doubled) if count >= FREE else 0.0
        self._by[address] = (count, self._clock() + pause)
        if len(self._by) > MOST_ADDRESSES:
            self._by.pop(next(iter(self._by)))
        return self.wrong

    def right(self, address: str) -> None:
        """Forget the wrong tries of one who came in."""
        self._by.pop(address, None)


# --- a room that survives a killed server ---------------------------------------------------


def state_file(port: int) -> Path:
    """Where the instructor's account keeps the keys of an open room."""
    if sys.platform == "win32":
        base = os.environ.get("LOCALAPPDATA") or str(Path.home() / "AppData" / "Local")
    elif sys.platform == "darwin":
        base = str(Path.home() / "Library" / "Application Support")
    else:
        base = os.environ.get("XDG_STATE_HOME") or str(Path.home() / ".local" / "state")
    return Path(base) / "rsdesign" / f"room-{port}.json"


def opened(port: int, code: str = "", now: float | None = None) -> tuple[Keys, bool]:
    """The keys of the room on this port, and whether they are those of a room that broke off.

    A room that ended with Ctrl-C has new keys next time.  One whose server was killed keeps its
    keys for twelve hours, so that every phone is back in without a code.
    """
    now = time.time() if now is None else now
    path = state_file(port)
    with contextlib.suppress(OSError, ValueError, TypeError, KeyError):
        kept = json.loads(path.read_text(encoding="utf-8"))
        keys = Keys(**kept["keys"])
        if 0 <= now - kept["at"] < LASTS and plain(code) in ("", keys.code):
            return keys, True
    keys = Keys.made(code)
    with contextlib.suppress(OSError):
        path.parent.mkdir(parents=True, exist_ok=True)
        path.touch(mode=0o600)
        path.chmod(0o600)  # before a key is in it, whoever made it
        path.write_text(json.dumps({"at": now, "keys": asdict(keys)}), encoding="utf-8")
    return keys, False


def closed(port: int) -> None:
    """The room is over: its keys are thrown away."""
    with contextlib.suppress(OSError):
        state_file(port).unlink()
