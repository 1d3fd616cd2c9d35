"""A design as a short token for a link, a browser's memory or a QR code.

A token is ``1.`` and the URL-safe base64 of compressed JSON: every choice that differs from the
defaults, numbers plain and to 12 figures.  The compressor knows the names of the choices from
``data/link_v1.txt``, which is frozen, so that tokens stay short and old ones open for ever.
"""

import base64
import binascii
import functools
import json
import zlib

from ..core.choices import DesignError, present
from ..core.folders import data_folder
from ..core.json_input import number, read
from .model import FIELDS, Design, check, value_of, with_plain

VERSION = "1"
LONGEST = 6000
"""Characters of a token that are looked at; a whole design with every choice set needs 2,500."""
LARGEST = 16_000
"""Bytes at which unpacking stops: a hostile token cannot fill the memory."""
UNKNOWN = "?"
"""The key under which the choices marked as not known stand."""

DAMAGED = "The link is damaged, so it could not be opened; ask for it again, or start from here."


@functools.cache
def _names() -> bytes:
    """The frozen list of the choices' names of this version, for the compressor."""
    return (data_folder() / "link_v1.txt").read_bytes()


def token_of(design: Design) -> str:
    """The token of a design (no arrays); an untouched design gives an empty one.

    Parameters:
        design: the ``Design``, each choice one value.
    Returns: the text that stands in a link of the pages.

    >>> from rsdesign.design.model import Design, with_values
    >>> token_of(Design())
    ''
    >>> design_of(token_of(with_values(Design(), {"goal.fish": 180.0}))).goal.fish
    180.0
    """
    start, changed = Design(), {}
    for path in FIELDS:
        value = value_of(design, path)
        if _shortened(value) != _shortened(value_of(start, path)):
            changed[path] = _shortened(value)
    if design.unknown:
        changed[UNKNOWN] = sorted(design.unknown)
    if not changed:
        return ""
    text = json.dumps(changed, separators=(",", ":"), ensure_ascii=False).encode()
    squeezer = zlib.compressobj(9, zlib.DEFLATED, 15, 9, zlib.Z_DEFAULT_STRATEGY, _names())
    packed = squeezer.compress(text) + squeezer.flush()
    return f"{VERSION}." + base64.urlsafe_b64encode(packed).decode().rstrip("=")


def _shortened(value):
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        return value
    number = float(f"{value:.12g}")
    return int(number) if number.is_integer() and abs(number) < 1e15 else number


def design_of(token: str, within: bool = True) -> Design:
    """The design of a token.

    Parameters:
        token: the text of a link; an empty one is the untouched design.
        within: False leaves the ranges of the choices unchecked.
    Returns: the ``Design``.
    Raises: ``DesignError`` with one sentence when the token is damaged, comes from a later version,
        or (``within``) holds a value outside its range.

    >>> design_of("") == Design()
    True
    """
    if not token:
        return Design()
    values = _unpacked(token)
    unknown = values.pop(UNKNOWN, [])
    strangers = [path for path in (*values, *unknown) if path not in FIELDS]
    if strangers:
        raise DesignError(
            f"The link names {str(strangers[0])[:40]!r}, which this version does not know; it may"
            " come from a later one."
        )
    for path, value in values.items():
        values[path] = present(path, number(value))
    design = with_plain(Design(unknown=tuple(sorted(set(unknown)))), values)
    if within:
        check(design)
    return design


def _unpacked(token: str) -> dict:
    version, dot, body = token.strip().partition(".")
    if not dot or not version.isdigit() or len(token) > LONGEST:
        raise DesignError(DAMAGED)
    if version != VERSION:
        raise DesignError(
            f"The link is of version {version[:6]}, which is later than this program knows."
        )
    try:
        packed = base64.b64decode(body + "=" * (-len(body) % 4), b"-_", validate=True)
        opener = zlib.decompressobj(15, _names())
        text = opener.decompress(packed, LARGEST)
        whole = opener.eof and not opener.unconsumed_tail
        values = read(text.decode()) if whole else {UNKNOWN: None}
    except (binascii.Error, zlib.error, ValueError, RecursionError):
        raise DesignError(DAMAGED) from None
    unknown = values.get(UNKNOWN, []) if isinstance(values, dict) else None
    if not isinstance(unknown, list) or not all(isinstance(path, str) for path in unknown):
        raise DesignError(DAMAGED)
    return values
