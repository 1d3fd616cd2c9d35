"""Text that people type, made fit to be shown: one line, no control characters; and how often."""

import time
import unicodedata
from collections.abc import Callable

LONGEST = 4000
"""Characters that are looked at."""
TOO_LONG = "That message was too long and was not read. Your design is kept: load the page again."
"""At most 123 bytes: it travels as the reason for which a line is closed."""


def plain(text) -> str:
    """One line of plain text; what is no text gives none.

    >>> plain(" a\\tb\\u202e  c "), plain(None)
    ('a b c', '')
    """
    if not isinstance(text, str):
        return ""
    spaced = "".join(" " if c.isspace() else c for c in text[:LONGEST])
    kept = "".join(c for c in spaced if unicodedata.category(c)[0] != "C")
    return " ".join(kept.split())


def apart(name: str) -> str:
    """A name that is read from right to left, marked so that the words around it stay in order.

    >>> apart("Blue"), apart("\u05e9\u05dc\u05d5\u05dd 3")
    ('Blue', '\u2068\u05e9\u05dc\u05d5\u05dd 3\u2069')
    """
    leftward = any(unicodedata.bidirectional(c) in ("R", "AL") for c in name)
    return f"\u2068{name}\u2069" if leftward else name


class Bucket:
    """So many at once, then so many a second.

    >>> now = [0.0]
    >>> few = Bucket(2, 1.0, lambda: now[0])
    >>> few.take(), few.take(), few.take()
    (True, True, False)
    >>> now[0] = 1.0
    >>> few.take()
    True
    """

    def __init__(self, most: float, each_second: float, clock: Callable = time.monotonic):
        self.most, self.rate, self._clock = most, each_second, clock
        self._left, self._at = float(most), clock()

    def take(self) -> bool:
        """Whether there is one left, which is then taken."""
        now = self._clock()
        self._left = min(self.most, self._left + (now - self._at) * self.rate)
        self._at = now
        if self._left < 1:
            return False
        self._left -= 1
        return True


def closing_with_words(protocol):
    """A web socket's protocol that gives a sentence as the reason when a message was too long."""
    if protocol is None:
        return None
    close = protocol.close

    def told(code=None, reason=None):
        close(code, TOO_LONG if code == 1009 else reason)

    protocol.close = told
    return protocol
