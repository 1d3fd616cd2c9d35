"""Text that people type, made safe to show: one line, no control characters."""

import unicodedata

MAX_READ = 4000
"""Characters that are read."""
TOO_LONG = "That message was too long and was not read. Your design is kept: load the page again."
"""Close reason of a socket: 123 bytes at most (RFC 6455, 5.5)."""


def one_line(text) -> str:
    """One line of plain text; anything but a string gives an empty one.

    >>> one_line(" a\\tb\\u202e  c "), one_line(None)
    ('a b c', '')
    >>> len(one_line("\\U0001f468\\u200d\\U0001f33e")), one_line("a\\u200db")  # a joined emoji; a hidden joiner
    (3, 'ab')
    """
    if not isinstance(text, str):
        return ""
    spaced = "".join(" " if c.isspace() else c for c in text[:MAX_READ])
    kept = "".join(
        c
        for at, c in enumerate(spaced)
        if unicodedata.category(c)[0] != "C" or _joins_emoji(spaced, at)
    )
    return " ".join(kept.split())


def _joins_emoji(text: str, at: int) -> bool:
    """Whether a zero-width joiner stands between two emoji that are drawn as one."""
    if text[at] != "\u200d" or not 0 < at < len(text) - 1:
        return False
    before, after = (unicodedata.category(text[n]) for n in (at - 1, at + 1))
    return before in ("So", "Sk", "Mn") and after == "So"


def isolate_direction(name: str) -> str:
    """A name, isolated where it reads from right to left, so that the words around it stay in order.

    >>> isolate_direction("Blue"), isolate_direction("\u05e9\u05dc\u05d5\u05dd 3")
    ('Blue', '\u2068\u05e9\u05dc\u05d5\u05dd 3\u2069')
    """
    right_to_left = any(unicodedata.bidirectional(c) in ("R", "AL") for c in name)
    return f"\u2068{name}\u2069" if right_to_left else name


def explain_close_code(protocol):
    """A web socket protocol that closes with a sentence as the reason when a message is too long."""
    if protocol is None:
        return None
    close = protocol.close

    def close_with_reason(code=None, reason=None):
        close(code, TOO_LONG if code == 1009 else reason)

    protocol.close = close_with_reason
    return protocol
