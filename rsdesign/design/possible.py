"""Combinations that cannot be, though each value alone is allowed; a sentence for each."""

import numpy as np

from ..core.kinds import KINDS
from ..core.units import show
from ..equations.fish import growth
from ..equations.fish.species import species
from ..equations.water import oxygen, properties

LONGEST = 1500.0
"""Days; a batch that takes longer is refused, since nobody keeps fish of this kind so long."""

MOST_BATCHES = 60
"""Batches at once; more than one a week in a year of growth."""

NEAR_FULL = 0.98
"""Oxygen kept over oxygen that the water holds: beyond this no amount of air will do."""


def impossible(design) -> list[str]:
    """Every sentence on what cannot be; ``design`` has passed the checks of its single values."""
    found = _goal(design) + _box(design)
    return found or _growth(design) + _levels(design)


def _any(condition) -> bool:
    return condition if type(condition) is bool else bool(np.any(condition))


def _worst(values, largest=True) -> float:
    return float(np.max(values) if largest else np.min(values))


INSTEAD = {"goal.fish": ("goal.harvest",), "goal.harvest": ("goal.fish",)}
"""For a choice that can be said in another way, the choices that must then stand open."""

NO_PUMP = ("pump.bucket_time", "pump.flow", "pump.model")
"""Each tells of a pump: any of them takes back that there is none, and none of them is then left."""


def _both(value, kind: str) -> str:
    us, metric = show(value, KINDS[kind], "us"), show(value, KINDS[kind], "metric")
    return us if us == metric else f"{us} ({metric})"


def _goal(design) -> list[str]:
    goal, found = design.goal, []
    if goal.harvest is None and goal.fish is None:
        found.append("goal.harvest or goal.fish must be given: say how much fish you want.")
    if goal.harvest is not None and goal.fish is not None:
        found.append("goal.harvest and goal.fish are both given; keep the one you mean.")
    if _any(design.stock.stocking_weight >= goal.weight):
        found.append(
            "stock.stocking_weight is not below goal.weight: fish are stocked to grow; choose a"
            " smaller size at stocking or a larger one at harvest."
        )
    return found


def _box(design) -> list[str]:
    tank = design.tank
    if tank.shape == "rectangle" and (tank.width is None) != (tank.length is None):
        return ["tank.width and tank.length belong together for a box: give both or neither."]
    pump = design.pump
    if pump.none and any(x is not None for x in (pump.flow, pump.bucket_time, pump.model)):
        return ["pump.none says that there is no pump, but one is told: keep what you mean."]
    return []


def _growth(design) -> list[str]:
    """Too cold to grow, or too many batches."""
    stock, kind = design.stock, species(design.stock.species)
    coefficient = stock.growth_coefficient
    cycle = growth.days_to.__wrapped__(
        stock.stocking_weight,
        design.goal.weight,
        growth.growing_temperature.__wrapped__(design.site.water_temperature, kind.top_temperature),
        kind.growth_coefficient if coefficient is None else coefficient,
        kind.base_temperature,
    )
    if _any(cycle > LONGEST):
        coldest = _worst(design.site.water_temperature, largest=False)
        dead = (
            f" and die at {_both(kind.lethal_low, 'temperature')}"
            if coldest <= kind.lethal_low
            else ""
        )
        return [
            f"site.water_temperature is {_both(coldest, 'temperature')}: {kind.label} there would"
            f" take more than {LONGEST:.0f} days to goal.weight; they do not grow below"
            f" {_both(kind.base_temperature, 'temperature')}{dead}. Choose warmer water, a smaller fish"
            " or a fish of cooler water."
        ]
    if stock.interval is not None and _any(cycle > MOST_BATCHES * stock.interval):
        return [
            f"stock.interval is {stock.interval:.3g} days, but a batch grows for"
            f" {_worst(cycle):.0f}: more than {MOST_BATCHES} batches at once cannot be planned."
            f" Choose from {_worst(cycle) / MOST_BATCHES:.0f} days up."
        ]
    return []


def _levels(design) -> list[str]:
    """Levels that no flow or air can hold."""
    found, keep, site = [], design.keep, design.site
    if _any(keep.nitrate <= design.source.nitrate):
        found.append(
            "keep.nitrate is not above source.nitrate: new water cannot thin what it brings;"
            " choose a higher limit or another source."
        )
    warm = site.water_temperature if site.warmest_water is None else site.warmest_water
    full = design.air.beta * oxygen.saturation.__wrapped__(
        warm, design.source.salinity, properties.pressure_at_elevation.__wrapped__(site.elevation)
    )
    if _any(keep.oxygen > NEAR_FULL * full):
        most = NEAR_FULL * _worst(full, largest=False)
        found.append(
            f"keep.oxygen is {_both(_worst(keep.oxygen), 'concentration')}, but in the hottest week"
            f" the water here holds hardly more: with air alone keep at most"
            f" {_both(most, 'concentration')}."
        )
    return found
