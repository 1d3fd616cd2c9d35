"""Authentication of a room: its code, the cookie that proves it, and slowed-down wrong attempts.

The code is short, because a person may have to type it; guessing it is slow, because an address has to
wait longer after each wrong attempt.  The cookie is long and random and cannot be guessed.
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

CODE_LETTERS = "23456789abcdefghjkmnpqrstuvwxyz"
"""Without the characters that are mistaken for one another: 0, o, 1, i, l."""
CODE_LENGTH = 8
"""Characters of a code: 31 to the power of 8 is 850 thousand million codes."""
LIFETIME = 12 * 3600
"""Seconds that a cookie, and the keys of a room whose server was killed, stay valid."""
FREE_ATTEMPTS = 5
"""Wrong attempts of one address before it has to wait."""
MAX_WAIT = 30.0
"""Seconds; the wait doubles from one second up to this."""
MAX_ADDRESSES = 2000
"""Addresses whose attempts are counted; beyond them the oldest is forgotten."""

VISITOR, INSTRUCTOR = "visitor", "instructor"


def normalized_code(code: str) -> str:
    """A typed code without its spaces and dashes, in lower case.

    >>> normalized_code(" KFMP 7rqt")
    'kfmp7rqt'
    """
    return "".join(c for c in code.lower() if c.isalnum())


def readable(code: str) -> str:
    """A code in groups of four, as people read it.

    >>> readable("kfmp7rqt")
    'kfmp-7rqt'
    """
    return "-".join(code[i : i + 4] for i in range(0, len(code), 4))


@dataclass(frozen=True)
class RoomKeys:
    """The secrets of a room: the visitors' code, the instructor's key, the signing key of cookies."""

    code: str
    instructor: str
    seal: str

    @classmethod
    def generate(cls, code: str = "") -> "RoomKeys":
        """New random keys; with ``code`` where the instructor chose one.

        Raises ``DesignError`` for a code that is too easily guessed.
        """
        wanted = normalized_code(code)
        if code and (len(wanted) < CODE_LENGTH or not wanted.isascii()):
            raise DesignError(
                f"--token: a code needs at least {CODE_LENGTH} letters or digits (a to z, 0 to 9), so that"
                " nobody guesses it. Leave it out to have one made."
            )
        wanted = wanted or "".join(secrets.choice(CODE_LETTERS) for _ in range(CODE_LENGTH))
        return cls(wanted, secrets.token_urlsafe(24), secrets.token_hex(32))

    def role(self, token: str) -> str | None:
        """The role that a token gives, None for a wrong one; compared in constant time."""
        given = token.strip()[:200].encode()
        code = normalized_code(given.decode()).encode()
        is_instructor = hmac.compare_digest(given, self.instructor.encode())
        is_visitor = hmac.compare_digest(code, self.code.encode())
        return INSTRUCTOR if is_instructor else VISITOR if is_visitor else None

    def cookie(self, role: str, now: float | None = None) -> str:
        """A signed cookie for a new visitor: a random name, the role, the time."""
        at = int(time.time() if now is None else now)
        content = f"{secrets.token_hex(8)}.{role}.{at}"
        return f"{content}.{self._sign(content)}"

    def read(self, cookie: str, now: float | None = None) -> tuple[str, str] | None:
        """Name and role from a cookie that this room signed and that is still valid; else None."""
        content, _, signature = cookie.rpartition(".")
        if not signature.isascii() or not hmac.compare_digest(signature, self._sign(content)):
            return None
        name, role, at = content.split(".")
        age = (time.time() if now is None else now) - int(at)
        return (name, role) if age < LIFETIME else None

    def _sign(self, content: str) -> str:
        return hmac.new(bytes.fromhex(self.seal), content.encode(), hashlib.sha256).hexdigest()


class AttemptLimiter:
    """Wrong attempts by address: after five free ones each wait is twice as long as the last."""

    def __init__(self, clock=time.monotonic):
        self.wrong = 0
        """Wrong attempts since the room opened."""
        self._clock = clock
        self._failures: dict[str, tuple[int, float]] = {}

    def wait(self, address: str) -> float:
        """Seconds that this address has to wait before its next attempt counts."""
        _, until = self._failures.get(address, (0, 0.0))
        return max(0.0, until - self._clock())

    def record_failure(self, address: str) -> int:
        """Count a wrong attempt; returns the count of all addresses together."""
        self.wrong += 1
        count = self._failures.pop(address, (0, 0.0))[0] + 1
        doubled = min(
            count - FREE_ATTEMPTS, 10
        )  # the longest wait by then; beyond it would overflow
        pause = min(MAX_WAIT, 2.0**doubled) if count >= FREE_ATTEMPTS else 0.0
        self._failures[address] = (count, self._clock() + pause)
        if len(self._failures) > MAX_ADDRESSES:
            self._failures.pop(next(iter(self._failures)))
        return self.wrong

    def reset(self, address: str) -> None:
        """Forget the wrong attempts of an address that gave the right code."""
        self._failures.pop(address, None)


# --- keys that survive a killed server ------------------------------------------------------


def state_file(port: int) -> Path:
    """The file in the instructor's account that keeps the keys of an open room."""
    if sys.platform == "win32":
        base = os.environ.get("LOCALAPPDATA") or str(Path.home() / "AppData" / "Local")
    elif sys.platform == "darwin":
        base = str(Path.home() / "Library" / "Application Support")
    else:
        base = os.environ.get("XDG_STATE_HOME") or str(Path.home() / ".local" / "state")
    return Path(base) / "rsdesign" / f"room-{port}.json"


def load_keys(port: int, code: str = "", now: float | None = None) -> tuple[RoomKeys, bool]:
    """The keys for the room on this port, and whether they were kept from a killed server.

    A room that ended with Ctrl-C gets new keys next time.  One whose server was killed keeps its
    keys for twelve hours, so that no phone needs the code again.
    """
    now = time.time() if now is None else now
    path = state_file(port)
    with contextlib.suppress(OSError, ValueError, TypeError, KeyError):
        kept = json.loads(path.read_text(encoding="utf-8"))
        keys = RoomKeys(**kept["keys"])
        if 0 <= now - kept["at"] < LIFETIME and normalized_code(code) in ("", keys.code):
            return keys, True
    keys = RoomKeys.generate(code)
    with contextlib.suppress(OSError):
        path.parent.mkdir(parents=True, exist_ok=True)
        path.touch(mode=0o600)
        path.chmod(0o600)  # before the keys are written, whoever created it
        path.write_text(json.dumps({"at": now, "keys": asdict(keys)}), encoding="utf-8")
    return keys, False


def discard_keys(port: int) -> None:
    """Delete the keys of a room that has ended."""
    with contextlib.suppress(OSError):
        state_file(port).unlink()
