"""The series: every page in order, for navigation and tests.

The pages of a class are a list of their own: they have no design.
"""

from .classroom.lists import CLASS
from .each import (
    air,
    biofilter,
    choose,
    cost,
    day,
    fish,
    have,
    heat,
    lists,
    log,
    outage,
    pump,
    season,
    solids,
    spread,
    start,
    startup,
    whole,
)  # fmt: skip
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
        choose,
        whole,
        startup,
        day,
        season,
        log,
        spread,
        lists,
    )
)
"""Every page in reading order."""


def page_named(name: str) -> Page:
    """A page by its name; the first page where there is no such name."""
    return next((page for page in SERIES if page.name == name), SERIES[0])
