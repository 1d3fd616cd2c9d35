"""A log of water tests to print and fill in by hand, with the design's own limits at its head."""

from collections.abc import Callable

from ...core.kinds import KINDS
from ...core.units import show
from ...equations import biofilter
from ...records.columns import bases, columns
from ...records.rules import finding_rows
from ..keep_words import alkalinity_words
from .blocks import TICK, Heading, Table, Text, Writer

ROWS = 18
"""Lines to fill in: as many as a page has room for."""
SHOWN = {
    "date": 0.09, "temperature": 0.085, "ph": 0.06, "oxygen": 0.08, "tan": 0.08, "nitrite": 0.08, "nitrate": 0.08,
    "alkalinity": 0.08, "feed": 0.08, "deaths": 0.075, "water_added": 0.08, "base": 0.07, "note": 0.1,
}  # fmt: skip
"""Columns of the sheet, each with its share of the page."""


def log_sheet(w: Writer) -> None:
    """The sheet: how to fill it in, kits, the limits of the design and empty lines."""
    heads = tuple(_head(name, w.system) for name in SHOWN)
    limits = tuple(_limit(name, w) for name in SHOWN)
    empty = tuple(("\n\n",) * len(SHOWN) for _ in range(ROWS))
    kits = ((columns()[name].heading.partition(" (")[0], ", ".join(f"{TICK} {way.label}" for way in bases(name)))
            for name in ("tan", "nitrite", "nitrate"))  # fmt: skip
    w.add(
        Heading("Log sheet", fresh=True),
        Text("Test at the same hour each time. Leave empty what you did not test: empty is not zero. Write the colour"
             " as the chart prints it, < below the first and > at the last. One odd reading: test again first."),
        Text("Read the leaflet of each kit, and tick what its numbers stand for."),
        Table("What my kits report", ("Test", "Tick one"), tuple(kits), (0.1, 0.9)),
        Table("Log of water tests, with what to keep in the first row", heads, (limits, *empty),
              tuple(SHOWN.values()), strong=(0,)),
        Text("Limits: choices of this design, its sizing and the table of fish. Type the sheet as a file and"
             " 'rsdesign log' reads it.", soft=True),
    )  # fmt: skip


def _head(name: str, system: str) -> str:
    """The heading of a column with its unit."""
    column = columns()[name]
    words = column.heading.partition(" (")[0].replace("_", " ")
    if name in ("date", "note"):
        return words
    label = column.quantity.shown(system).label
    return f"{words}, {label}" if label else words


def _limit(name: str, w: Writer) -> str:
    """What to keep, or what a full day brings."""
    made = LIMITS.get(name)
    return made(w) if made else ""


def _bound(name: str, end: str) -> Callable[[Writer], str]:
    """The limit of a finding, in words."""

    def told(w: Writer) -> str:
        row = next(row for row in finding_rows() if row.name == name)
        return show(row.limit(w.sizing, end), KINDS[row.kind], w.system, 2)

    return told


def _between(low: str, high: str) -> Callable[[Writer], str]:
    return lambda w: f"{_bound(low, 'low')(w)} to {_bound(high, 'high')(w)}"


def _nitrite(w: Writer) -> str:
    row = next(row for row in finding_rows() if row.name == "nitrite_high")
    limit = biofilter.nitrite_limit.__wrapped__(
        float(w.sizing.design.source.chloride), row.limit(w.sizing, "high")
    )
    return f"near 0; never {show(limit, KINDS['concentration'], w.system)}"


LIMITS: dict[str, Callable[[Writer], str]] = {
    "date": lambda w: "keep",
    "temperature": _between("temperature_low", "temperature_high"),
    "ph": _between("ph_low", "ph_high"),
    "oxygen": lambda w: f"over {_bound('oxygen_low', 'low')(w)}",
    "tan": lambda w: f"under {w.said('gas.ammonia_limit')}",
    "nitrite": _nitrite,
    "nitrate": lambda w: f"under {_bound('nitrate_high', 'high')(w)}",
    "alkalinity": lambda w: alkalinity_words(w.sizing, w.system),
    "feed": lambda w: f"at most {w.said('stock.peak_feed')}",
    "deaths": lambda w: "0",
    "water_added": lambda w: w.said("water.exchange"),
}
"""What stands in the first row, by column."""
