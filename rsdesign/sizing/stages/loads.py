"""What the fish and the bacteria make of the feed on the biggest day."""

import dataclasses
import functools

from ... import equations as eq
from ...core import kinds
from ...core.figures import figure, stage
from ...design.catalogue import Catalogue
from ...design.model import Design
from ...equations.biofilter import plants
from ...equations.fish import loads as formulas
from ...equations.power import backup, minutes
from .stock import Stock


@stage()
class Loads:
    """Loads on the peak feed day, the whole system together."""

    feed_nitrogen: kinds.AmmoniaLoad = figure("Nitrogen in the feed")
    fish_nitrogen: kinds.AmmoniaLoad = figure("Nitrogen kept by the fish")
    ammonia: kinds.AmmoniaLoad = figure("Ammonia nitrogen from the fish")
    faecal_nitrogen: kinds.AmmoniaLoad = figure("Nitrogen in the dung, the remainder")
    faecal_share: kinds.Fraction = figure("Share of feed nitrogen in the dung")
    ammonia_released: kinds.AmmoniaLoad = figure("Ammonia from waste that decays in the water")
    ammonia_made: kinds.AmmoniaLoad = figure("Ammonia in all")
    beds_ammonia: kinds.AmmoniaLoad = figure("Ammonia that turns to nitrate in the plant beds")
    ammonia_to_filter: kinds.AmmoniaLoad = figure("Ammonia for the filter")
    plants_nitrogen: kinds.AmmoniaLoad = figure("Nitrogen that the plants take")
    beds_feed_rule: kinds.FeedRate = figure("Feed for these plant beds by the rule of thumb")
    beds_rule: kinds.Area = figure("Plant beds for this feed by the rule of thumb")
    solids: kinds.SolidsLoad = figure("Dry waste")
    settleable_solids: kinds.SolidsLoad = figure("Waste that can settle")
    fine_solids: kinds.SolidsLoad = figure("Waste too fine to settle")
    fish_oxygen: kinds.OxygenRate = figure("Oxygen for the fish, at the water in which they grow")
    warmth: kinds.Ratio = figure("Breathing in the hottest week over that while they grow")
    peak_fish: kinds.OxygenRate = figure(
        "Oxygen for the fish in the busiest hour of the hottest week"
    )
    nitrifier_oxygen: kinds.OxygenRate = figure("Oxygen for the filter bacteria")
    heterotroph_oxygen: kinds.OxygenRate = figure("Oxygen for decaying waste")
    mean_oxygen: kinds.OxygenRate = figure("Oxygen, mean of a day in the hottest week")
    peak_oxygen: kinds.OxygenRate = figure("Oxygen in the busiest hour of the hottest week")
    respired_carbon_dioxide: kinds.OxygenRate = figure("Carbon dioxide breathed out")
    alkalinity_carbon_dioxide: kinds.OxygenRate = figure("Carbon dioxide freed from alkalinity")
    carbon_dioxide: kinds.OxygenRate = figure("Carbon dioxide in all")
    peak_carbon_dioxide: kinds.OxygenRate = figure("Carbon dioxide in the busiest hour")
    feed_carbon: kinds.SolidsLoad = figure("Carbon in the feed")
    fish_carbon: kinds.SolidsLoad = figure("Carbon kept by the fish")
    respired_carbon: kinds.SolidsLoad = figure("Carbon breathed out by the fish")
    faecal_carbon: kinds.SolidsLoad = figure("Carbon in the dung, the remainder")
    alkalinity_book: kinds.ChemicalDose = figure("Alkalinity used, textbook value")
    alkalinity_net: kinds.ChemicalDose = figure("Alkalinity used, net for fish feed")
    nitrate: kinds.AmmoniaLoad = figure("Nitrate nitrogen that stays in the water")
    feed_phosphorus: kinds.AmmoniaLoad = figure("Phosphorus in the feed")
    phosphorus: kinds.AmmoniaLoad = figure("Phosphorus in the waste")


@stage()
class LoadsBeforeDecay:
    """Loads that do not depend on decaying waste."""

    feed_nitrogen: kinds.AmmoniaLoad
    fish_nitrogen: kinds.AmmoniaLoad
    ammonia: kinds.AmmoniaLoad
    faecal_nitrogen: kinds.AmmoniaLoad
    plants_nitrogen: kinds.AmmoniaLoad
    beds_capacity: kinds.AmmoniaLoad
    solids: kinds.SolidsLoad
    settleable_solids: kinds.SolidsLoad
    fine_solids: kinds.SolidsLoad
    fish_oxygen: kinds.OxygenRate
    warmth: kinds.Ratio
    warm_fish: kinds.OxygenRate
    peak_fish: kinds.OxygenRate


@stage()
class LoadsAfterDecay:
    """Loads that depend on decaying waste."""

    ammonia_released: kinds.AmmoniaLoad
    ammonia_made: kinds.AmmoniaLoad
    ammonia_to_filter: kinds.AmmoniaLoad
    nitrate: kinds.AmmoniaLoad
    nitrifier_oxygen: kinds.OxygenRate
    heterotroph_oxygen: kinds.OxygenRate
    mean_oxygen: kinds.OxygenRate
    peak_oxygen: kinds.OxygenRate
    respired_carbon_dioxide: kinds.OxygenRate
    alkalinity_carbon_dioxide: kinds.OxygenRate
    carbon_dioxide: kinds.OxygenRate
    peak_carbon_dioxide: kinds.OxygenRate


def loads_before_decay(design: Design, stock: Stock, tables: Catalogue) -> LoadsBeforeDecay:
    """What the fish make of the feed, and what the plant beds could take."""
    wastes, feed, protein = design.wastes, stock.peak_feed, design.stock.protein
    feed_nitrogen = formulas.feed_nitrogen(feed, protein)
    fish_nitrogen = formulas.fish_nitrogen(stock.growth)
    ammonia = formulas.ammonia_production(feed, protein, wastes.ammonia_per_protein)
    solids = formulas.solids_production(feed, wastes.solids_per_feed)
    beds, bed_rate = design.filter, design.filter.bed_rate
    if bed_rate is None:
        bed_rate = tables.plant_bed.ammonia_rate
    fish_oxygen = formulas.oxygen_demand(feed, wastes.oxygen_per_feed)
    hottest = design.site.warmest_water
    if hottest is None:
        hottest = design.site.water_temperature
    warmth = backup.warmth_factor(hottest, design.site.water_temperature, design.safety.per_ten)
    warm_fish = minutes.warm_oxygen(fish_oxygen, warmth)
    return LoadsBeforeDecay(
        feed_nitrogen=feed_nitrogen,
        fish_nitrogen=fish_nitrogen,
        ammonia=ammonia,
        faecal_nitrogen=formulas.faecal_nitrogen(feed_nitrogen, fish_nitrogen, ammonia),
        plants_nitrogen=plants.nitrogen_uptake(beds.plants, beds.plant_uptake),
        beds_capacity=plants.bed_nitrification(beds.plants, bed_rate),
        solids=solids,
        settleable_solids=formulas.settleable_solids(solids, wastes.settleable),
        fine_solids=formulas.fine_solids(solids, wastes.settleable),
        fish_oxygen=fish_oxygen,
        warmth=warmth,
        warm_fish=warm_fish,
        peak_fish=formulas.hour_peak(warm_fish, wastes.hour_factor),
    )


def loads_after_decay(design: Design, before: LoadsBeforeDecay, decaying) -> LoadsAfterDecay:
    """What bacteria add; ``decaying`` is the dry waste that decays in the water [kg/s].

    All the ammonia is taken as nitrified, in the filter or in the plant beds, and costs oxygen and
    base there; the plants then take nitrate.  Base that plants give back with it is not counted.
    """
    ammonia_released = eq.solids.ammonia_released(
        before.faecal_nitrogen, design.wastes.ammonia_freed, decaying, before.solids
    )
    ammonia_made = eq.solids.ammonia_made(before.ammonia, ammonia_released)
    to_filter = eq.solids.ammonia_to_filter(
        ammonia_made, before.beds_capacity, design.filter.least_share
    )
    nitrifiers = formulas.nitrifier_oxygen(ammonia_made)
    heterotrophs = formulas.heterotroph_oxygen(decaying, design.wastes.solids_oxygen)
    breathing = eq.solids.breathing_oxygen(before.warm_fish, heterotrophs)
    respired = formulas.carbon_dioxide_production(breathing)
    busiest = formulas.carbon_dioxide_production(
        eq.solids.breathing_oxygen(before.peak_fish, heterotrophs)
    )
    freed = formulas.carbon_dioxide_from_alkalinity(ammonia_made)
    return LoadsAfterDecay(
        ammonia_released=ammonia_released,
        ammonia_made=ammonia_made,
        ammonia_to_filter=to_filter,
        nitrate=eq.solids.nitrate_left(ammonia_made, before.plants_nitrogen),
        nitrifier_oxygen=nitrifiers,
        heterotroph_oxygen=heterotrophs,
        mean_oxygen=formulas.total_oxygen(before.warm_fish, nitrifiers, heterotrophs),
        peak_oxygen=formulas.total_oxygen(before.peak_fish, nitrifiers, heterotrophs),
        respired_carbon_dioxide=respired,
        alkalinity_carbon_dioxide=freed,
        carbon_dioxide=eq.solids.carbon_dioxide_made(respired, freed),
        peak_carbon_dioxide=eq.solids.carbon_dioxide_made(busiest, freed),
    )


@functools.cache
def field_names(results: type) -> tuple[str, ...]:
    """Names of the figures of a stage, read once."""
    return tuple(f.name for f in dataclasses.fields(results))


def loads(design: Design, stock: Stock, before: LoadsBeforeDecay, after: LoadsAfterDecay) -> Loads:
    """Every load as it is shown."""
    wastes, feed = design.wastes, stock.peak_feed
    feed_carbon = eq.gas.feed_carbon(feed, wastes.carbon)
    fish_carbon = eq.gas.fish_carbon(stock.growth)
    respired_carbon = eq.gas.respired_carbon(before.fish_oxygen)
    beds = design.filter
    hidden = ("warm_fish", "beds_capacity", "plants_nitrogen")
    known = {
        name: getattr(before, name) for name in field_names(LoadsBeforeDecay) if name not in hidden
    }
    known |= {name: getattr(after, name) for name in field_names(LoadsAfterDecay)}
    return Loads(
        faecal_share=eq.solids.part_of(before.faecal_nitrogen, before.feed_nitrogen),
        feed_carbon=feed_carbon,
        fish_carbon=fish_carbon,
        respired_carbon=respired_carbon,
        faecal_carbon=eq.gas.faecal_carbon(feed_carbon, fish_carbon, respired_carbon),
        beds_ammonia=eq.solids.ammonia_in_beds(after.ammonia_made, after.ammonia_to_filter),
        plants_nitrogen=eq.solids.nitrogen_in_plants(after.ammonia_made, after.nitrate),
        beds_feed_rule=plants.feed_supported(beds.plants, beds.plant_feed),
        beds_rule=plants.area_for_feed(stock.mean_feed, beds.plant_feed),
        alkalinity_book=formulas.alkalinity_book(after.ammonia_made),
        alkalinity_net=formulas.alkalinity_net(after.ammonia_made),
        feed_phosphorus=eq.gas.feed_phosphorus(feed, wastes.phosphorus),
        phosphorus=formulas.phosphorus_production(feed, wastes.phosphorus, stock.growth),
        **known,
    )
