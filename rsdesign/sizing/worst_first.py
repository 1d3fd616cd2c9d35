"""Which part to name first, on every page and paper alike."""

from ..core.arrays import worst
from .margins import SHORT, Part, word


def worst_part(found: tuple[Part, ...]) -> Part:
    """The part to name first: the shortest where any is short, else the tightest of those given.

    A part that the sizing took is as large as it must be, so it is no news that it just passes.
    """
    return min(_short(found) or _given(found) or found, key=lambda part: worst(part.margin))


def among(found: tuple[Part, ...]) -> str:
    """Among which parts the one named first is the tightest, where it is not among all."""
    if _short(found) or not _given(found):
        return ""
    return ", of the parts you gave that carry the feed"


def _short(found) -> list[Part]:
    return [part for part in found if word(part.margin) == SHORT]


def _given(found) -> list[Part]:
    return [part for part in found if part.owned and part.capacity]
