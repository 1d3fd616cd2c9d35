"""Text that people type, made fit to be shown: one line, no control characters."""

import unicodedata

LONGEST = 4000
"""Characters that are looked at."""
TOO_LONG = "That message was too long and was not read. Your design is kept: load the page again."
"""At most 123 bytes: it travels as the reason for which a line is closed."""


def plain(text) -> str:
    """One line of plain text; what is no text gives none.

    >>> plain(" a\\tb\\u202e  c "), plain(None)
    ('a b c', '')
    >>> len(plain("\\U0001f468\\u200d\\U0001f33e")), plain("a\\u200db")  # a farmer of two signs; nothing hidden
    (3, 'ab')
    """
    if not isinstance(text, str):
        return ""
    spaced = "".join(" " if c.isspace() else c for c in text[:LONGEST])
    kept = "".join(
        c for at, c in enumerate(spaced) if unicodedata.category(c)[0] != "C" or _joins(spaced, at)
    )
    return " ".join(kept.split())


def _joins(text: str, at: int) -> bool:
    """Whether an invisible joiner stands between two pictures that are drawn as one."""
    if text[at] != "\u200d" or not 0 < at < len(text) - 1:
        return False
    before, after = (unicodedata.category(text[n]) for n in (at - 1, at + 1))
    return before in ("So", "Sk", "Mn") and after == "So"


def apart(name: str) -> str:
    """A name that is read from right to left, marked so that the words around it stay in order.

    >>> apart("Blue"), apart("\u05e9\u05dc\u05d5\u05dd 3")
    ('Blue', '\u2068\u05e9\u05dc\u05d5\u05dd 3\u2069')
    """
    leftward = any(unicodedata.bidirectional(c) in ("R", "AL") for c in name)
    return f"\u2068{name}\u2069" if leftward else name


def closing_with_words(protocol):
    """A web socket's protocol that gives a sentence as the reason when a message was too long."""
    if protocol is None:
        return None
    close = protocol.close

    def told(code=None, reason=None):
        close(code, TOO_LONG if code == 1009 else reason)

    protocol.close = told
    return protocol
