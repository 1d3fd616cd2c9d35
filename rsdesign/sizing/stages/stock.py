"""The stocking plan: how many fish, when, and what they eat on the biggest day."""

from ... import equations as eq
from ...core import kinds
from ...core.figures import figure, stage
from ...design.model import Design
from ...equations.fish import growth, stocking
from ...equations.fish.species import Species


@stage()
class Stock:
    """The plan and its peak; the peak feed drives everything after it."""

    growing_temperature: kinds.Temperature = figure("Temperature that growth follows")
    cycle: kinds.Days = figure("Days from stocking to harvest")
    interval: kinds.Days = figure("Days between batches")
    fish: kinds.Animals = figure("Fish harvested from a batch")
    to_stock: kinds.Animals = figure("Fingerlings to buy for a batch")
    cohorts: kinds.Count = figure("Batches growing at once")
    tanks: kinds.Count = figure("Tanks")
    peak_feed: kinds.FeedRate = figure("Feed on the biggest day")
    mean_feed: kinds.FeedRate = figure("Feed on a mean day")
    tank_feed: kinds.FeedRate = figure("Feed on the biggest day in the fullest tank")
    peak_biomass: kinds.Mass = figure("Most fish at once")
    tank_biomass: kinds.Mass = figure("Most fish in one tank")
    growth: kinds.FeedRate = figure("Weight gained on the biggest day")
    harvest: kinds.HarvestRate = figure("Fish harvested in a year, in water kept this warm")
    ration: kinds.RatePerTime = figure("Feed as a share of fish weight, a batch before harvest")
    table_ration: kinds.RatePerTime = figure("The same from a feeding table, at this temperature")


def stock(design: Design, species: Species, table: tuple) -> Stock:
    """The plan of a design; ``table`` is the feeding table of the species (sizes, rates)."""
    plan, goal = design.stock, design.goal
    coefficient = plan.growth_coefficient
    if coefficient is None:
        coefficient = species.growth_coefficient
    temperature = growth.growing_temperature(design.site.water_temperature, species.top_temperature)
    cycle = growth.days_to(
        plan.stocking_weight, goal.weight, temperature, coefficient, species.base_temperature
    )
    interval = plan.interval
    if interval is None:
        interval = eq.fish.batch_interval(cycle, plan.rest)
    fish = goal.fish
    if fish is None:
        assert goal.harvest is not None  # one of the two is always given, see ``problems``
        fish = stocking.fish_per_batch(goal.harvest, interval, goal.weight)
    to_stock = stocking.fish_to_stock(fish, plan.survival)
    batch = (
        to_stock, plan.stocking_weight, temperature, coefficient, species.base_temperature,
        cycle, plan.survival,
    )  # fmt: skip
    cohorts = stocking.cohorts(cycle, interval)
    tanks = design.tank.count
    if tanks is None:
        tanks = cohorts
    share = eq.fish.tanks_for_batch(tanks, cohorts)
    peak_biomass = stocking.peak_total_biomass(*batch, interval)
    batch_biomass = stocking.biomass(fish, goal.weight)
    tank_biomass = eq.fish.fullest_tank_biomass(peak_biomass, batch_biomass, tanks, share)
    peak_feed = stocking.peak_total_feed(*batch, plan.feed_conversion, interval)
    batch_feed = stocking.peak_cohort_feed(*batch, plan.feed_conversion)
    whole = stocking.feed_per_batch(*batch, plan.feed_conversion)
    if plan.ration is not None:  # growth says how the batches eat beside each other, this how much
        by_growth, batch_feed = batch_feed, stocking.ration_feed(batch_biomass, plan.ration)
        peak_feed = eq.fish.feed_in_proportion(peak_feed, batch_feed, by_growth)
    return Stock(
        growing_temperature=temperature,
        cycle=cycle,
        interval=interval,
        fish=fish,
        to_stock=to_stock,
        cohorts=cohorts,
        tanks=tanks,
        peak_feed=peak_feed,
        mean_feed=stocking.mean_feed(whole, interval),
        tank_feed=eq.fish.fullest_tank_feed(peak_feed, batch_feed, tanks, share),
        peak_biomass=peak_biomass,
        tank_biomass=tank_biomass,
        growth=eq.fish.growth_from_feed(peak_feed, plan.feed_conversion),
        harvest=eq.fish.harvest_per_year(fish, goal.weight, interval),
        ration=stocking.implied_ration(batch_feed, batch_biomass),
        table_ration=stocking.ration_at(
            stocking.table_ration(goal.weight, table[0], table[1]),
            temperature,
            species.feeding_low,
            species.best_low,
        ),
    )
