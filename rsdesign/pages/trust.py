"""What a message from outside may be: not too large, and about a choice that there is."""

import json

from ..choices import DesignError
from ..design import FIELDS
from ..units import clipped

LARGEST = 300_000
"""Characters of one message; a design file has a few thousand."""


def size_of(message: dict) -> int:
    """Characters of a message, without trusting its shape."""
    try:
        return len(json.dumps(message))
    except (TypeError, ValueError, RecursionError):
        return LARGEST + 1


def path_of(message: dict) -> str:
    """The choice that a message names; ``DesignError`` where there is none."""
    path = message.get("path")
    if not isinstance(path, str) or path not in FIELDS:
        raise DesignError(f"{clipped(path)} is not a choice of a design.")
    return path
