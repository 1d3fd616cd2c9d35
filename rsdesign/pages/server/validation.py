"""Validation of messages from the front end: their size, their action, the choice they name."""

import json
from urllib.parse import parse_qsl, urlencode, urlsplit

from ...core.choices import DesignError
from ...core.units import clipped
from ...design.link import design_of
from ...design.model import FIELDS, Design, value_of

MAX_ANSWERS = 60
"""Answers that a session keeps."""
MAX_MESSAGE = 300_000
"""Characters of one message; a design file has a few thousand."""
MAX_TEXT = 2000
"""Characters of one text of a design, such as its note: every page and every undo step keeps it."""
NOTICE = "rsdesign_notice"
"""Message type of a sentence from server or kernel to the reader; the front end shows it."""


def size_of(message: dict) -> int:
    """Characters of a message as JSON; more than allowed where it is not JSON."""
    try:
        return len(json.dumps(message))
    except (TypeError, ValueError, RecursionError):
        return MAX_MESSAGE + 1


def handler_of(target, message, too_large: str):
    """The method ``_do_NAME`` of a session for a message; ``DesignError`` where there is none."""
    if not isinstance(message, dict) or not isinstance(message.get("do"), str):
        raise DesignError("That was not understood; reload the page.")
    if size_of(message) > MAX_MESSAGE:
        raise DesignError(too_large)
    return action_of(target, message, "is not something this page can do.")


def action_of(target, message, refusal: str):
    """The method ``_do_NAME`` of ``target`` for the action that a message names.

    Raises ``DesignError`` with the name and ``refusal`` where there is no such method.
    """
    name = message.get("do") if isinstance(message, dict) else None
    method = getattr(target, f"_do_{name}", None) if isinstance(name, str) else None
    if method is None:
        raise DesignError(f"{clipped(name)} {refusal}")
    return method


def path_of(message: dict) -> str:
    """The path of the choice that a message names; ``DesignError`` where there is no such choice."""
    path = message.get("path")
    if not isinstance(path, str) or path not in FIELDS:
        raise DesignError(f"{clipped(path)} is not a choice of a design.")
    return path


def check_words(design: Design) -> None:
    """Raise ``DesignError`` where a text of a design is longer than a page can keep."""
    for path, entry in FIELDS.items():
        value = value_of(design, path)
        if isinstance(value, str) and len(value) > MAX_TEXT:
            raise DesignError(
                f"{path} ({entry.choice.label}) has {len(value):,} characters; write"
                f" {MAX_TEXT:,} characters at most."
            )


def pins_of(listed, kept: list[tuple[str, str]], most: int) -> list[tuple[str, str]]:
    """The pinned designs, with those that a browser remembers; malformed entries are dropped.

    A page that reconnects sends the same list again, so duplicates are dropped too.

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
    """An address without the room's access token; everything else stays as it is.

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
