"""What the sizing took where a design is silent, in the words and numbers of the choice itself.

A design in which all of these are set has the figures it had before (``tests/test_told_values.py``).
"""

import numpy as np

from ..core.choices import problem
from ..core.tables import read
from ..design.model import FIELDS, Design, value_of, with_values
from ..design.possible import INSTEAD
from ..equations.pipes.tables import Pipe

FIGURES = {
    "site.warmest_water": "air.temperature",
    "site.coldest_feeding_water": "filter.temperature",
    "goal.harvest": "stock.harvest",
    "goal.fish": "stock.fish",
    "stock.interval": "stock.interval",
    "stock.ration": "stock.ration",
    "tank.count": "stock.tanks",
    "tank.width": "tank.width",
    "tank.length": "tank.length",
    "solids.area": "solids.area",
    "filter.media_volume": "filter.media_volume",
    "filter.rate": "filter.rate",
    "filter.vessels": "filter.vessels",
    "filter.depth": "filter.depth",
    "air.machine": "air.kind",
    "air.device": "air.device",
    "air.count": "air.count",
    "air.spare": "air.spare",
    "air.flow": "air.total",
    "air.plate_watts": "air.wire_power",
    "air.efficiency": "air.per_depth",
    "air.stone_depth": "air.stone_depth",
    "air.line_diameter": "air.line_diameter",
    "pump.flow": "pump.flow",
    "pump.model": "pump.model",
    "pump.count": "pump.count",
    "pump.pipe": "pump.pipe",
    "pump.drain_pipe": "pump.drain_pipe",
    "pump.drain_fall": "pump.drain_fall",
    "pump.standpipe": "pump.standpipe",
}
"""For each choice that may be left out, the figure of the sizing that stands for it."""

ROWS = {
    "stock.growth_coefficient": ("species", "growth_coefficient"),
    "filter.bed_rate": ("plant_bed", "ammonia_rate"),
}
"""For each choice that may be left out, the row of a table and the column that stands for it."""

READINGS = {
    "keep.measured_ph": "a reading, which stands in for the pH computed at every flow and air",
    "pump.bucket_time": "a reading, another way of with_taken_values pump.flow",
    "pump.sump_spare": "a reading; the sizing says how much room is needed, and takes none",
}
"""Choices that may be left out for which the sizing takes nothing, and why."""

SECTIONS = {
    "safety": "what stands in the tank today and the battery owned: the outage study asks them",
    "climate": "the heat study takes them, no figure of a sizing does",
    "makeup": "the water budget takes them, no figure of a sizing does",
    "prices": "the price list stands for them, no figure of a sizing does",
    "terms": "the budget takes them, no figure of a sizing does",
}
"""Sections of which no choice that may be left out enters a sizing, and why."""

BY_WATTS = ("air.machine", "air.device", "air.count")
"""Choices for which nothing is taken where the machine is known by the watts on its plate alone.

Its air is then read between two sizes of the trade, so it is none of the sizes that a choice names.
"""

PIPES = ("pump.pipe", "pump.drain_pipe", "pump.standpipe")
"""Choices that name a pipe where the figure is its inside diameter."""


def taken_value(sizing, path: str):
    """The value that the sizing took for a choice, as the choice would say it.

    ``None`` where it cannot be said, such as a pump that the trade does not sell, or a rate where
    no filter will do.  Takes the sizing of one design.
    """
    from .system import value_at  # noqa: PLC0415

    if path in ROWS:
        row, column = ROWS[path]
        return getattr(getattr(sizing.tables, row), column)
    said = sizing.design.air
    if path in BY_WATTS and said.plate_watts is not None and said.device is None:
        return None
    found = value_at(sizing, FIGURES[path])
    if path in PIPES:
        found = next((p.name for p in read("pipes", Pipe) if p.inside_diameter == found), None)
    elif isinstance(found, str):
        found = str(found)
    elif np.ndim(found):
        return None
    else:
        found = float(found)
    return None if found is None or problem(FIELDS[path], found) else found


def shown_value(sizing, path: str):
    """What stands for a choice, also where the choice itself could not say it; None for nothing."""
    from .system import value_at  # noqa: PLC0415

    if path not in FIGURES and path not in ROWS:
        return None
    value = taken_value(sizing, path)
    return value_at(sizing, FIGURES[path]) if value is None and path in FIGURES else value


def taken(sizing) -> dict:
    """Every choice that was left out, with the value that the sizing took for it."""
    found = {}
    for path in (*FIGURES, *ROWS):
        if value_of(sizing.design, path) is None:
            value = taken_value(sizing, path)
            if value is not None:
                found[path] = value
    return found


def with_taken_values(design: Design, values: dict) -> Design:
    """The design with these values set; a choice that says the same in another way is left out."""
    instead = {other: None for path in values for other in INSTEAD.get(path, ())}
    return with_values(design, {**instead, **values})
