"""Site, source water, goal, fish, wastes and the water that is kept."""

from ...core.choices import choice
from ...core.kinds import (
    PH,
    Animals,
    Concentration,
    DailyFlow,
    Days,
    Elevation,
    FishWeight,
    Fraction,
    HarvestRate,
    RatePerTime,
    Ratio,
    Salinity,
    Temperature,
)
from .section import section


@section()
class Site:
    """Where it stands, and how warm the water gets."""

    place: str = choice("site.place")
    elevation: Elevation = choice("site.elevation")
    water_temperature: Temperature = choice("site.water_temperature")
    warmest_water: Temperature | None = choice("site.warmest_water")
    coldest_feeding_water: Temperature | None = choice("site.coldest_feeding_water")


@section()
class Source:
    """The water that fills the tank and makes up what is lost."""

    kind: str = choice("source.kind")
    alkalinity: Concentration = choice("source.alkalinity")
    hardness: Concentration = choice("source.hardness")
    ph: PH = choice("source.ph")
    salinity: Salinity = choice("source.salinity")
    chloride: Concentration = choice("source.chloride")
    nitrate: Concentration = choice("source.nitrate")
    iron: Concentration = choice("source.iron")
    carbon_dioxide: Concentration = choice("source.carbon_dioxide")
    disinfectant: str = choice("source.disinfectant")
    residual: Concentration = choice("source.residual")
    supply: DailyFlow = choice("source.supply")


@section()
class Goal:
    """How much fish is wanted."""

    harvest: HarvestRate | None = choice("goal.harvest")
    fish: Animals | None = choice("goal.fish")
    weight: FishWeight = choice("goal.weight")


@section()
class Stock:
    """The fish and the plan by which they are stocked and fed."""

    species: str = choice("stock.species")
    interval: Days | None = choice("stock.interval")
    rest: Days = choice("stock.rest")
    stocking_weight: FishWeight = choice("stock.stocking_weight")
    survival: Fraction = choice("stock.survival")
    feed_conversion: Ratio = choice("stock.feed_conversion")
    growth_coefficient: Ratio | None = choice("stock.growth_coefficient")
    protein: Fraction = choice("stock.protein")
    ration: RatePerTime | None = choice("stock.ration")


@section()
class Wastes:
    """What the fish and the bacteria make of the feed."""

    oxygen_per_feed: Ratio = choice("wastes.oxygen_per_feed")
    hour_factor: Ratio = choice("wastes.hour_factor")
    solids_per_feed: Ratio = choice("wastes.solids_per_feed")
    settleable: Fraction = choice("wastes.settleable")
    solids_oxygen: Ratio = choice("wastes.solids_oxygen")
    ammonia_freed: Fraction = choice("wastes.ammonia_freed")
    solids_decay: RatePerTime = choice("wastes.solids_decay")
    carbon: Fraction = choice("wastes.carbon")
    phosphorus: Fraction = choice("wastes.phosphorus")


@section()
class Keep:
    """The water that is kept: targets and limits."""

    oxygen: Concentration = choice("keep.oxygen")
    stress_oxygen: Concentration = choice("keep.stress_oxygen")
    total_ammonia: Concentration = choice("keep.total_ammonia")
    unionized_ammonia: Concentration = choice("keep.unionized_ammonia")
    carbon_dioxide: Concentration = choice("keep.carbon_dioxide")
    fines: Concentration = choice("keep.fines")
    nitrate: Concentration = choice("keep.nitrate")
    alkalinity: Concentration = choice("keep.alkalinity")
    measured_ph: PH | None = choice("keep.measured_ph")
