"""Waste loads from feed, and the flow or exchange that holds a level."""

from ...core import kinds
from ...core.arrays import for_load, most, ratio, where
from ...core.equation import definition, equation


def _flow_to_hold(load, difference):
    """load / difference; infinite where the sign is wrong, 0 where there is no load."""
    return where(
        load == 0, 0.0, where(load * difference > 0, ratio(load, difference), float("inf"))
    )


@definition(
    "P",
    "Timmons and Ebeling, Recirculating Aquaculture: 0.16 N in protein, 0.80 "
    "assimilated, 0.80 excreted, 0.90 as ammonia",
    valid="growing fish on 28 to 45 % protein",
    basis="from memory",
    example="round(ammonia_production(1.0, 0.32), 5) == 0.02944",
)
def ammonia_production(
    feed: kinds.FeedRate, protein: kinds.Fraction, factor: kinds.Ratio = 0.092
) -> kinds.AmmoniaLoad:
    """Total ammonia nitrogen that fish make of a feed."""
    return feed * protein * factor


@definition(
    "M",
    "0.25 (0.2 to 0.4) kg of dry waste for each kg of feed, Timmons and Ebeling",
    valid="pelleted feed",
    basis="from memory",
    example="solids_production(4.0, 0.25) == 1.0",
)
def solids_production(feed: kinds.FeedRate, fraction: kinds.Fraction) -> kinds.SolidsLoad:
    """Dry waste that fish make of a feed."""
    return feed * fraction


@definition(
    "R",
    "0.45 (0.30 to 0.65) kg for each kg of feed from carbon and respiration",
    valid="fish alone, mean of the day",
    example="oxygen_demand(4.0, 0.45) == 1.8",
)
def oxygen_demand(feed: kinds.FeedRate, per_feed: kinds.Ratio) -> kinds.OxygenRate:
    """Oxygen that fish use on a feed."""
    return feed * per_feed


@definition(
    "P",
    "respiratory quotient of 1: 44.01 over 31.998 by mass, rounded",
    valid="quotient 0.8 to 1",
    example="carbon_dioxide_production(2.0) == 2.75",
)
def carbon_dioxide_production(
    oxygen: kinds.OxygenRate, quotient_by_mass: kinds.Ratio = 1.375
) -> kinds.OxygenRate:
    """Carbon dioxide that breathing makes of oxygen."""
    return oxygen * quotient_by_mass


@definition(
    "R",
    "1.2 to 2.0 after a meal",
    valid="fed by hand",
    basis="common practice",
    example="hour_peak(2.0, 1.5) == 3.0",
)
def hour_peak(oxygen: kinds.OxygenRate, factor: kinds.Ratio) -> kinds.OxygenRate:
    """Oxygen in the busiest hour."""
    return oxygen * factor


@equation(
    latex=r"Q = \frac{@load}{@outlet - @inlet}", source="conservation of mass", basis="derived"
)
def flow_to_hold(
    load: kinds.AmmoniaLoad, inlet: kinds.Concentration, outlet: kinds.Concentration
) -> kinds.Flow:
    """Flow that holds a level; load below zero for what is consumed.

    >>> flow_to_hold(2.0, 1.0, 2.0)
    2.0
    """
    return _flow_to_hold(load, outlet - inlet)


@definition("Q", "conservation of mass", example="flow_to_remove(2.0, 0.0, 0.0, 1.0, 0.5) == 4.0")
def flow_to_remove(
    load: kinds.AmmoniaLoad,
    exchange: kinds.DailyFlow,
    source: kinds.Concentration,
    concentration: kinds.Concentration,
    removal: kinds.Fraction,
    passive: kinds.Fraction = 0.0,
    transfer: kinds.AmmoniaLoad = 0.0,
) -> kinds.Flow:
    """Flow through a filter that holds a level in a mixed tank."""
    return for_load(
        most(0.0, load * (1.0 - passive) - exchange * (concentration - source) - transfer),
        concentration * removal,
    )


@definition("q", "conservation of mass", example="exchange_to_hold(2.0, 1.5, 0.5) == 2.0")
def exchange_to_hold(
    load: kinds.AmmoniaLoad, concentration: kinds.Concentration, source: kinds.Concentration
) -> kinds.DailyFlow:
    """New water that holds a level of what nothing else removes."""
    return for_load(load, concentration - source)


@definition(
    "N",
    "protein is 16 % nitrogen",
    valid="feed protein by the Kjeldahl factor 6.25",
    basis="from memory",
    example="round(feed_nitrogen(1.0, 0.5), 9) == 0.08",
)
def feed_nitrogen(feed: kinds.FeedRate, protein: kinds.Fraction) -> kinds.AmmoniaLoad:
    """Nitrogen in a feed."""
    return 0.16 * feed * protein


@definition(
    "N",
    "2.64 % nitrogen in whole fish",
    valid="whole tilapia",
    basis="from memory",
    example="fish_nitrogen(2.0) == 0.0528",
)
def fish_nitrogen(
    growth: kinds.FeedRate, nitrogen_content: kinds.Fraction = 0.0264
) -> kinds.AmmoniaLoad:
    """Nitrogen that growing fish keep."""
    return growth * nitrogen_content


@definition("N", "conservation of nitrogen", example="faecal_nitrogen(1.0, 0.25, 0.5) == 0.25")
def faecal_nitrogen(
    feed_nitrogen: kinds.AmmoniaLoad,
    fish_nitrogen: kinds.AmmoniaLoad,
    ammonia_load: kinds.AmmoniaLoad,
) -> kinds.AmmoniaLoad:
    """Nitrogen left in the feces, by difference."""
    return feed_nitrogen - fish_nitrogen - ammonia_load


@definition(
    "R",
    "3.43 to nitrite and 1.14 to nitrate, without growth of cells; waste-water text, "
    "equation 10.17",
    valid="complete nitrification",
    basis="seen",
    example="nitrifier_oxygen(1.0) == 4.57",
)
def nitrifier_oxygen(ammonia_load: kinds.AmmoniaLoad) -> kinds.OxygenRate:
    """Oxygen that bacteria use to make nitrate of ammonia."""
    return 4.57 * ammonia_load


@definition(
    "R",
    "first-order decay of feces",
    basis="common practice",
    example="heterotroph_oxygen(2.0, 0.5) == 1.0",
)
def heterotroph_oxygen(solids: kinds.SolidsLoad, per_solids: kinds.Ratio) -> kinds.OxygenRate:
    """Oxygen that decaying waste uses."""
    return solids * per_solids


@definition("R", "conservation of mass", example="total_oxygen(1.0, 0.5, 0.25) == 1.75")
def total_oxygen(
    fish: kinds.OxygenRate, nitrifiers: kinds.OxygenRate, heterotrophs: kinds.OxygenRate
) -> kinds.OxygenRate:
    """Oxygen that everything in the water uses."""
    return fish + nitrifiers + heterotrophs


@definition(
    "M",
    "two equivalents for each mole of nitrogen; 7.05 with growth of cells",
    valid="ammonium salts, upper bound for fish feed",
    basis="seen",
    example="alkalinity_book(1.0) == 7.14",
)
def alkalinity_book(ammonia_load: kinds.AmmoniaLoad) -> kinds.ChemicalDose:
    """Alkalinity (as CaCO3) that nitrification takes, textbook value."""
    return 7.14 * ammonia_load


@definition(
    "M",
    "fish give back one equivalent as NH3 of the two that nitrification takes",
    valid="fish feed whose nitrogen ends as nitrate",
    example="alkalinity_net(1.0) == 3.57",
)
def alkalinity_net(ammonia_load: kinds.AmmoniaLoad) -> kinds.ChemicalDose:
    """Alkalinity (as CaCO3) that fish and filter take together."""
    return 3.57 * ammonia_load


@definition(
    "P",
    "one mole for each equivalent of net alkalinity",
    valid="fish feed whose nitrogen ends as nitrate",
    example="round(carbon_dioxide_from_alkalinity(1.0), 2) == 3.14",
)
def carbon_dioxide_from_alkalinity(ammonia_load: kinds.AmmoniaLoad) -> kinds.OxygenRate:
    """Carbon dioxide freed from bicarbonate by the acid of nitrification."""
    return 3.57 * (44.01 / 50.04) * ammonia_load


@definition("M", example="settleable_solids(2.0, 0.75) == 1.5")
def settleable_solids(solids: kinds.SolidsLoad, settleable: kinds.Fraction) -> kinds.SolidsLoad:
    """Waste that can settle."""
    return solids * settleable


@definition("M", example="fine_solids(2.0, 0.75) == 0.5")
def fine_solids(solids: kinds.SolidsLoad, settleable: kinds.Fraction) -> kinds.SolidsLoad:
    """Waste too fine to settle."""
    return solids * (1.0 - settleable)


@definition(
    "P",
    "Boyd: feed phosphorus less what fish keep",
    valid="whole fish 0.75 % phosphorus",
    basis="from memory",
    example="round(phosphorus_production(2.0, 0.012, 1.0), 4) == 0.0165",
)
def phosphorus_production(
    feed: kinds.FeedRate,
    phosphorus: kinds.Fraction,
    growth: kinds.FeedRate,
    phosphorus_in_fish: kinds.Fraction = 0.0075,
) -> kinds.AmmoniaLoad:
    """Phosphorus that feeding leaves in the water."""
    return feed * phosphorus - growth * phosphorus_in_fish
