"""What a message from outside may be: not too large, and about a choice that there is."""

import json
from urllib.parse import parse_qsl, urlencode, urlsplit

from ...core.choices import DesignError
from ...core.units import clipped
from ...design.link import design_of
from ...design.model import FIELDS, Design, value_of

MOST_ANSWERS = 60
"""Answers that a session keeps."""
LARGEST = 300_000
"""Characters of one message; a design file has a few thousand."""


LONGEST_WORDS = 2000
"""Characters of one text of a design, such as its note: every page holds it, and every undo."""


def size_of(message: dict) -> int:
    """Characters of a message, without trusting its shape."""
    try:
        return len(json.dumps(message))
    except (TypeError, ValueError, RecursionError):
        return LARGEST + 1


def act_of(page, message, too_much: str):
    """What a page does for a message: its own method; ``DesignError`` with a sentence otherwise."""
    if not isinstance(message, dict) or not isinstance(message.get("do"), str):
        raise DesignError("That was not understood; reload the page.")
    if size_of(message) > LARGEST:
        raise DesignError(too_much)
    act = getattr(page, f"_do_{message['do']}", None)
    if act is None:
        raise DesignError(f"{clipped(message['do'])} is not something this page can do.")
    return act


def path_of(message: dict) -> str:
    """The choice that a message names; ``DesignError`` where there is none."""
    path = message.get("path")
    if not isinstance(path, str) or path not in FIELDS:
        raise DesignError(f"{clipped(path)} is not a choice of a design.")
    return path


def check_words(design: Design) -> None:
    """Raise ``DesignError`` where a text of a whole design is longer than a page can hold."""
    for path, entry in FIELDS.items():
        value = value_of(design, path)
        if isinstance(value, str) and len(value) > LONGEST_WORDS:
            raise DesignError(
                f"{path} ({entry.choice.label}) has {len(value):,} characters; write"
                f" {LONGEST_WORDS:,} characters at most."
            )


def pins_of(listed, kept: list[tuple[str, str]], most: int) -> list[tuple[str, str]]:
    """The designs that are kept, and those that a browser remembers; what is odd is dropped.

    A page opens anew after each sleep and lists the same ones each time.

    >>> pins_of([["a", ""], ["a", ""], ["b", "odd"], 3], [("d", "")], 4)
    [('d', ''), ('a', '')]
    """
    pins = list(kept)
    for pin in listed[:most] if isinstance(listed, list) else ():
        try:
            name, token = (str(x) for x in pin)
            design_of(token)
        except (DesignError, TypeError, ValueError):
            continue
        if len(pins) < most and (name[:60], token) not in pins:
            pins.append((name[:60], token))
    return pins


def without_token(url: str) -> str:
    """An address without what opens a room; everything else stays as it is.

    >>> without_token("http://192.168.8.2:8866/page?d=1.a-b&token=kfmp-7rqt")
    'http://192.168.8.2:8866/page?d=1.a-b'
    """
    try:
        parts = urlsplit(url)
    except ValueError:
        return url
    query = parse_qsl(parts.query, keep_blank_values=True)
    if not any(key == "token" for key, _ in query):
        return url
    kept = urlencode([(key, value) for key, value in query if key != "token"])
    return parts._replace(query=kept).geturl()
