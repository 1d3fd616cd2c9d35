"""What the sizing assumed where a design is silent, said in words."""

from .design import FIELDS, value_of
from .units import show

TAKEN = {
    "site.warmest_water": "air.temperature",
    "site.coldest_feeding_water": "filter.temperature",
    "goal.harvest": "stock.harvest",
    "goal.fish": "stock.fish",
    "stock.interval": "stock.interval",
    "stock.growth_coefficient": None,
    "stock.ration": "stock.ration",
    "keep.measured_ph": "gas.computed_ph",
    "tank.count": "stock.tanks",
    "tank.width": "tank.width",
    "solids.area": "solids.area",
    "filter.media_volume": "filter.media_volume",
    "filter.rate": "filter.rate",
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
    "pump.pipe": "pump.pipe",
    "pump.drain_pipe": "pump.drain_pipe",
    "pump.standpipe": "pump.standpipe",
}
"""For each choice that may be left out, the figure that the sizing took instead."""


def assumptions(sizing, system: str = "us") -> tuple[str, ...]:
    """A sentence for every choice left out, and for every one marked as not known."""
    found = []
    for path, figure in TAKEN.items():
        if value_of(sizing.design, path) is None and figure is not None:
            found.append(_sentence(sizing, path, figure, system))
    for path in sizing.design.unknown:
        entry = FIELDS[path]
        if not entry.optional:
            default = entry.choice.default
            value = default if entry.kind is None else show(default, entry.kind, system)
            found.append(f"{entry.choice.label}: not known, taken as {value}.")
    return tuple(found)


def _sentence(sizing, path: str, figure: str, system: str) -> str:
    from .sizing import figure_at, value_at  # noqa: PLC0415

    about, value = figure_at(figure), value_at(sizing, figure)
    label = FIELDS[path].choice.label
    if isinstance(value, str) or about.kind is None:
        return f"{label}: taken as {value}."
    if getattr(value, "ndim", 0):
        return f"{label}: taken for each design."
    return f"{label}: taken as {show(value, about.kind, system)}."
