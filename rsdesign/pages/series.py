"""The series: every page in its order.  Navigation and every page test walk this list.

The pages of a class stand apart: they hold no design.
"""

from .classroom.lists import CLASS
from .each import air, biofilter, cost, fish, have, heat, lists, outage, pump, solids, start, whole
from .spec import Page

__all__ = ["CLASS", "SERIES", "page_named"]

SERIES: tuple[Page, ...] = tuple(
    module.PAGE
    for module in (
        start,
        have,
        fish,
        solids,
        biofilter,
        air,
        pump,
        heat,
        outage,
        cost,
        whole,
        lists,
    )
)
"""Every page in the order in which it is read."""


def page_named(name: str) -> Page:
    """A page by its name; the first one where there is no such page."""
    return next((page for page in SERIES if page.name == name), SERIES[0])
