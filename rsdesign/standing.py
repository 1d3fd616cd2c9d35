"""Which part to name first, on every page and paper alike."""

from .arrays import worst
from .verdict import SHORT, Part, word


def worst_part(found: tuple[Part, ...]) -> Part:
    """The part to name first: the shortest where any is short, else the tightest of those given.

    A part that the sizing took is as large as it must be, so it is no news that it just passes.
    """
    short = [part for part in found if word(part.margin) == SHORT]
    given = [part for part in found if part.owned and part.capacity]
    return min(short or given or found, key=lambda part: worst(part.margin))
