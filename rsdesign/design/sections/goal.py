"""Site, source water, goal, fish, wastes and the water that is kept."""

from ...core import kinds
from ...core.choices import choice
from .section import section


@section()
class Site:
    """Where it stands, and how warm the water gets."""

    place: str = choice("site.place")
    elevation: kinds.Elevation = choice("site.elevation")
    water_temperature: kinds.Temperature = choice("site.water_temperature")
    warmest_water: kinds.Temperature | None = choice("site.warmest_water")
    coldest_feeding_water: kinds.Temperature | None = choice("site.coldest_feeding_water")


@section()
class Source:
    """The water that fills the tank and makes up what is lost."""

    kind: str = choice("source.kind")
    alkalinity: kinds.Concentration = choice("source.alkalinity")
    hardness: kinds.Concentration = choice("source.hardness")
    ph: kinds.PH = choice("source.ph")
    salinity: kinds.Salinity = choice("source.salinity")
    chloride: kinds.Concentration = choice("source.chloride")
    nitrate: kinds.Concentration = choice("source.nitrate")
    iron: kinds.Concentration = choice("source.iron")
    carbon_dioxide: kinds.Concentration = choice("source.carbon_dioxide")
    disinfectant: str = choice("source.disinfectant")
    residual: kinds.Concentration = choice("source.residual")
    supply: kinds.DailyFlow = choice("source.supply")


@section()
class Goal:
    """How much fish is wanted."""

    harvest: kinds.HarvestRate | None = choice("goal.harvest")
    fish: kinds.Animals | None = choice("goal.fish")
    weight: kinds.FishWeight = choice("goal.weight")


@section()
class Stock:
    """The fish and the plan by which they are stocked and fed."""

    species: str = choice("stock.species")
    interval: kinds.Days | None = choice("stock.interval")
    rest: kinds.Days = choice("stock.rest")
    stocking_weight: kinds.FishWeight = choice("stock.stocking_weight")
    survival: kinds.Fraction = choice("stock.survival")
    feed_conversion: kinds.Ratio = choice("stock.feed_conversion")
    growth_coefficient: kinds.Ratio | None = choice("stock.growth_coefficient")
    protein: kinds.Fraction = choice("stock.protein")
    ration: kinds.RatePerTime | None = choice("stock.ration")


@section()
class Wastes:
    """What the fish and the bacteria make of the feed."""

    oxygen_per_feed: kinds.Ratio = choice("wastes.oxygen_per_feed")
    hour_factor: kinds.Ratio = choice("wastes.hour_factor")
    ammonia_per_protein: kinds.Ratio = choice("wastes.ammonia_per_protein")
    solids_per_feed: kinds.Ratio = choice("wastes.solids_per_feed")
    settleable: kinds.Fraction = choice("wastes.settleable")
    solids_oxygen: kinds.Ratio = choice("wastes.solids_oxygen")
    ammonia_freed: kinds.Fraction = choice("wastes.ammonia_freed")
    solids_decay: kinds.RatePerTime = choice("wastes.solids_decay")
    carbon: kinds.Fraction = choice("wastes.carbon")
    phosphorus: kinds.Fraction = choice("wastes.phosphorus")


@section()
class Keep:
    """The water that is kept: targets and limits."""

    oxygen: kinds.Concentration = choice("keep.oxygen")
    stress_oxygen: kinds.Concentration = choice("keep.stress_oxygen")
    total_ammonia: kinds.Concentration = choice("keep.total_ammonia")
    unionized_ammonia: kinds.Concentration = choice("keep.unionized_ammonia")
    carbon_dioxide: kinds.Concentration = choice("keep.carbon_dioxide")
    fines: kinds.Concentration = choice("keep.fines")
    nitrate: kinds.Concentration = choice("keep.nitrate")
    alkalinity: kinds.Concentration = choice("keep.alkalinity")
    measured_ph: kinds.PH | None = choice("keep.measured_ph")
