"""The chapter to build by: what the sheets show, and the sheets themselves, true to scale."""

from ..building.all_lists import building_of
from .blocks import Sheets, Writer


def drawings_to_build_by(w: Writer) -> None:
    """Plan, section, isometric, vessels, details and lists, each on a page that lies on its side."""
    w.add(Sheets(building_of(w.sizing).layout, w.system))
