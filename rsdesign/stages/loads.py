"""What the fish and the bacteria make of the feed on the biggest day."""

from .. import balance
from ..design import Design
from ..figures import figure, stage
from ..fish import loads as formulas
from ..kinds import AmmoniaLoad, ChemicalDose, Fraction, OxygenRate, SolidsLoad
from .stock import Stock


@stage()
class Loads:
    """Loads on the peak feed day, the whole system together."""

    feed_nitrogen: AmmoniaLoad = figure("Nitrogen in the feed")
    fish_nitrogen: AmmoniaLoad = figure("Nitrogen kept by the fish")
    ammonia: AmmoniaLoad = figure("Ammonia nitrogen from the fish")
    faecal_nitrogen: AmmoniaLoad = figure("Nitrogen in the dung, the remainder")
    faecal_share: Fraction = figure("Share of feed nitrogen in the dung")
    ammonia_released: AmmoniaLoad = figure("Ammonia from waste that rots in the water")
    ammonia_made: AmmoniaLoad = figure("Ammonia in all")
    plants_ammonia: AmmoniaLoad = figure("Ammonia that the plants take")
    ammonia_to_filter: AmmoniaLoad = figure("Ammonia for the filter")
    solids: SolidsLoad = figure("Dry waste")
    settleable_solids: SolidsLoad = figure("Waste that can settle")
    fine_solids: SolidsLoad = figure("Waste too fine to settle")
    fish_oxygen: OxygenRate = figure("Oxygen for the fish")
    nitrifier_oxygen: OxygenRate = figure("Oxygen for the filter bacteria")
    heterotroph_oxygen: OxygenRate = figure("Oxygen for rotting waste")
    mean_oxygen: OxygenRate = figure("Oxygen, mean of the day")
    peak_oxygen: OxygenRate = figure("Oxygen in the busiest hour")
    respired_carbon_dioxide: OxygenRate = figure("Carbon dioxide breathed out")
    alkalinity_carbon_dioxide: OxygenRate = figure("Carbon dioxide freed from alkalinity")
    carbon_dioxide: OxygenRate = figure("Carbon dioxide in all")
    feed_carbon: SolidsLoad = figure("Carbon in the feed")
    fish_carbon: SolidsLoad = figure("Carbon kept by the fish")
    respired_carbon: SolidsLoad = figure("Carbon breathed out by the fish")
    faecal_carbon: SolidsLoad = figure("Carbon in the dung, the remainder")
    alkalinity_book: ChemicalDose = figure("Alkalinity used, book value")
    alkalinity_net: ChemicalDose = figure("Alkalinity used, net for fish feed")
    nitrate: AmmoniaLoad = figure("Nitrate nitrogen made")
    feed_phosphorus: AmmoniaLoad = figure("Phosphorus in the feed")
    phosphorus: AmmoniaLoad = figure("Phosphorus in the waste")


@stage()
class Before:
    """Loads that do not hang on what rots in the water."""

    feed_nitrogen: AmmoniaLoad
    fish_nitrogen: AmmoniaLoad
    ammonia: AmmoniaLoad
    faecal_nitrogen: AmmoniaLoad
    plants_ammonia: AmmoniaLoad
    solids: SolidsLoad
    settleable_solids: SolidsLoad
    fine_solids: SolidsLoad
    fish_oxygen: OxygenRate
    peak_fish: OxygenRate


@stage()
class After:
    """Loads that hang on what rots in the water."""

    ammonia_released: AmmoniaLoad
    ammonia_made: AmmoniaLoad
    ammonia_to_filter: AmmoniaLoad
    nitrate: AmmoniaLoad
    nitrifier_oxygen: OxygenRate
    heterotroph_oxygen: OxygenRate
    mean_oxygen: OxygenRate
    peak_oxygen: OxygenRate
    respired_carbon_dioxide: OxygenRate
    alkalinity_carbon_dioxide: OxygenRate
    carbon_dioxide: OxygenRate


def before_rotting(design: Design, stock: Stock) -> Before:
    """What the fish make of the feed."""
    wastes, feed, protein = design.wastes, stock.peak_feed, design.stock.protein
    feed_nitrogen = formulas.feed_nitrogen(feed, protein)
    fish_nitrogen = formulas.fish_nitrogen(stock.growth)
    ammonia = formulas.ammonia_production(feed, protein)
    solids = formulas.solids_production(feed, wastes.solids_per_feed)
    supported = balance.feed_for_plants(design.filter.plants, design.filter.plant_feed)
    fish_oxygen = formulas.oxygen_demand(feed, wastes.oxygen_per_feed)
    return Before(
        feed_nitrogen=feed_nitrogen,
        fish_nitrogen=fish_nitrogen,
        ammonia=ammonia,
        faecal_nitrogen=formulas.faecal_nitrogen(feed_nitrogen, fish_nitrogen, ammonia),
        plants_ammonia=formulas.ammonia_production(supported, protein),
        solids=solids,
        settleable_solids=formulas.settleable_solids(solids, wastes.settleable),
        fine_solids=formulas.fine_solids(solids, wastes.settleable),
        fish_oxygen=fish_oxygen,
        peak_fish=formulas.hour_peak(fish_oxygen, wastes.hour_factor),
    )


def after_rotting(design: Design, before: Before, rotting) -> After:
    """What bacteria add; ``rotting`` is the dry waste that rots in the water [kg/s]."""
    released = balance.ammonia_released(
        before.faecal_nitrogen, design.wastes.ammonia_freed, rotting, before.solids
    )
    to_filter = balance.ammonia_to_filter(before.ammonia, released, before.plants_ammonia)
    made = balance.ammonia_made(before.ammonia, released)
    nitrifiers = formulas.nitrifier_oxygen(made)
    heterotrophs = formulas.heterotroph_oxygen(rotting, design.wastes.solids_oxygen)
    breathing = balance.breathing_oxygen(before.fish_oxygen, heterotrophs)
    respired = formulas.carbon_dioxide_production(breathing)
    freed = formulas.carbon_dioxide_from_alkalinity(to_filter)
    return After(
        ammonia_released=released,
        ammonia_made=made,
        ammonia_to_filter=to_filter,
        nitrate=to_filter,
        nitrifier_oxygen=nitrifiers,
        heterotroph_oxygen=heterotrophs,
        mean_oxygen=formulas.total_oxygen(before.fish_oxygen, nitrifiers, heterotrophs),
        peak_oxygen=formulas.total_oxygen(before.peak_fish, nitrifiers, heterotrophs),
        respired_carbon_dioxide=respired,
        alkalinity_carbon_dioxide=freed,
        carbon_dioxide=balance.carbon_dioxide_made(respired, freed),
    )


def loads(design: Design, stock: Stock, before: Before, after: After) -> Loads:
    """Every load as it is shown."""
    wastes, feed = design.wastes, stock.peak_feed
    feed_carbon = balance.feed_carbon(feed, wastes.carbon)
    fish_carbon = balance.fish_carbon(stock.growth)
    respired_carbon = balance.respired_carbon(before.fish_oxygen)
    known = {name: getattr(before, name) for name in Before.__slots__ if name != "peak_fish"}
    known |= {name: getattr(after, name) for name in After.__slots__}
    return Loads(
        faecal_share=balance.part_of(before.faecal_nitrogen, before.feed_nitrogen),
        feed_carbon=feed_carbon,
        fish_carbon=fish_carbon,
        respired_carbon=respired_carbon,
        faecal_carbon=balance.faecal_carbon(feed_carbon, fish_carbon, respired_carbon),
        alkalinity_book=formulas.alkalinity_book(after.ammonia_to_filter),
        alkalinity_net=formulas.alkalinity_net(after.ammonia_to_filter),
        feed_phosphorus=balance.feed_phosphorus(feed, wastes.phosphorus),
        phosphorus=formulas.phosphorus_production(feed, wastes.phosphorus, stock.growth),
        **known,
    )
