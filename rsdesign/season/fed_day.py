"""A day of feeding of a sizing, or of many designs at once: what the meals do to the water.

The oxygen is that of the fullest tank, ammonia and carbon dioxide those of the whole system, on the
peak day at the temperatures that the sizing counts on; so a day fed evenly is the sizing itself.
"""

from dataclasses import dataclass

import numpy as np

from .. import equations as eq
from ..equations.biofilter import areas as biofilter
from ..equations.fish import loads as formulas
from ..equations.fish.meals import MealResponse, response_of
from ..equations.power import backup, minutes
from ..equations.water import ammonia, carbonate, oxygen
from ..sizing.system import Sizing
from ..studies.outage.tank import Tank, tank_at
from . import daily_cycle as cycle
from .daily_cycle import Ring
from .film_law import derate_of

LIGHT = (6.0, 18.0)
"""Hours at which light comes and goes, where nothing is said: a day at the equinox."""


@dataclass(frozen=True, slots=True, eq=False)
class FedDay:
    """A day of feeding: designs × steps, each level at the start of a step and its mean [kg/m³]."""

    sizing: Sizing
    tank: Tank
    water: np.ndarray
    """Water temperature [°C]."""
    fish: np.ndarray
    """Oxygen that the fish of the fullest tank use [kg/s]."""
    others: np.ndarray
    """Oxygen that bacteria take from the fullest tank, the air on [kg/s]."""
    made: np.ndarray
    """Ammonia that comes to the filter [kg/s]."""
    taken: np.ndarray
    """Ammonia that the filter takes [kg/s]."""
    let_out: np.ndarray
    """Ammonia that leaves with the old water [kg/s]."""
    oxygen: Ring
    ammonia: Ring
    carbon_dioxide: Ring
    ph: np.ndarray
    unionized: np.ndarray


def column(value) -> np.ndarray:
    """A number for each design as designs × 1."""
    return np.atleast_1d(np.asarray(value, float))[:, None]


def fed_day(
    sizing: Sizing, meals, shares, *, light=LIGHT, water=None,
    responses: tuple[MealResponse, MealResponse] | None = None, steps: int = cycle.STEPS,
) -> FedDay:  # fmt: skip
    """The water through a day of these meals.

    Parameters:
        sizing: of one design or of many.
        meals: hours after midnight, designs × meals or one row for all.
        shares: share of the day's feed in each meal, of the same shape.
        light: hours at which light comes and goes.
        water: temperature of the water in each step [°C], designs × steps; left out, the warmest week.
        responses: to a meal, of ammonia and of oxygen; left out, those of the table.
        steps: steps of the day.
    Returns: ``FedDay``.

    >>> from rsdesign import load, size
    >>> day = fed_day(size(load("family")), [[8.0, 12.0, 16.0]], [[0.5, 0.25, 0.25]])
    >>> day.oxygen.start.shape
    (1, 96)
    """
    of_ammonia, of_oxygen = responses or (response_of("ammonia"), response_of("oxygen"))
    made, found, taken, let_out = _ammonia(sizing, of_ammonia, (meals, shares, steps))
    even = np.where(np.isfinite(taken), taken / taken.mean(axis=-1, keepdims=True), 1.0)
    base = of_oxygen.base_share
    pattern = cycle.use_pattern(
        column(sizing.design.safety.resting if base is None else base),
        cycle.light_pattern(of_oxygen.light_factor, light, steps),
        cycle.meal_pattern(meals, shares, of_oxygen.lag, steps),
    )
    warm = column(sizing.air.temperature)
    hourly = warm + np.zeros(pattern.shape) if water is None else np.asarray(water, float)
    warmth = backup.warmth_factor.__wrapped__(hourly, warm, column(sizing.design.safety.per_ten))
    tank = tank_at(sizing)
    fish, others, held = _oxygen(sizing, tank, pattern * warmth, even, hourly)
    breathing = column(minutes.warm_oxygen(sizing.loads.fish_oxygen, sizing.loads.warmth))
    gas = _carbon_dioxide(sizing, breathing * pattern * warmth, even, hourly)
    computed = carbonate.ph.__wrapped__(column(sizing.design.keep.alkalinity), gas.start, hourly)
    ph = eq.gas.ph_moved.__wrapped__(
        column(sizing.gas.ph), computed, column(sizing.gas.computed_ph)
    )
    share = ammonia.unionized_fraction.__wrapped__(
        hourly, ph, column(sizing.design.source.salinity)
    )
    return FedDay(
        sizing=sizing, tank=tank, water=hourly, fish=fish, others=others, made=made, taken=taken,
        let_out=let_out, oxygen=held, ammonia=found, carbon_dioxide=gas, ph=ph,
        unionized=found.start * share,
    )  # fmt: skip


def _ammonia(sizing: Sizing, response: MealResponse, fed):
    """Ammonia made in each step, its level, what the filter takes and what the old water takes."""
    loads, choice, volume = sizing.loads, sizing.design.filter, column(sizing.tank.volume)
    meals = cycle.meal_pattern(fed[0], fed[1], response.lag, fed[2])
    pattern = cycle.use_pattern(response.base_share, 1.0, meals)
    from_fish = column(loads.ammonia / loads.ammonia_made)
    brought = column(eq.biofilter.load_for_media(loads.ammonia_to_filter, choice.passive))
    made = brought * (from_fish * pattern + 1.0 - from_fish)
    flow, area = column(sizing.pump.flow), column(sizing.filter.area)
    law, mixed = filter_law(sizing)
    exchange = column(sizing.flow.exchange)

    def taken(level):
        left = biofilter.outlet.__wrapped__(level, flow, area, law, mixed)
        return flow * (level - left) / volume

    shape = np.broadcast_shapes(made.shape, flow.shape)
    found, taken_each = cycle.filtered_ring(
        np.broadcast_to(made / volume, shape), taken, exchange / volume,
        column(sizing.filter.ammonia), cycle.DAY / fed[2], column(sizing.filter.removed) / volume,
    )  # fmt: skip
    return made, found, taken_each * volume, exchange * found.mean


def filter_law(sizing: Sizing):
    """The rate of the filter as a function of the level, as the sizing has it, and whether it is mixed.

    Levels are designs × steps.
    """
    found = sizing.filter
    given = (
        found.oxygen, found.temperature, sizing.gas.ph, sizing.design.keep.alkalinity,
        derate_of(sizing),
    )  # fmt: skip
    return biofilter.rate_law(*map(column, given)), bool(sizing.tables.filter_type.mixed)


def _oxygen(sizing: Sizing, tank: Tank, pattern, even, hourly):
    """What fish and bacteria of the fullest tank use, and the oxygen that the air holds there."""
    s, d = sizing, sizing.design
    share = (s.stock.tank_feed, s.stock.peak_feed)
    breathing = minutes.warm_oxygen(s.loads.fish_oxygen, s.loads.warmth)
    fish = column(eq.air.share_by_feed(breathing, *share)) * pattern
    nitrifiers = eq.air.share_by_feed(s.loads.nitrifier_oxygen, *share)
    others = column(nitrifiers * s.tables.filter_type.tank_share) * even + column(tank.waste)
    volume = column(tank.volume)
    warmer = np.power(column(d.air.theta), hourly - column(s.air.temperature))
    conductance = column(tank.conductance) / volume * warmer
    full = column(d.air.beta) * oxygen.saturation.__wrapped__(
        hourly, column(d.source.salinity), column(s.air.pressure)
    )
    held = cycle.breathing_ring(
        conductance * full, (fish + others) / volume, conductance, column(d.keep.stress_oxygen),
        cycle.DAY / pattern.shape[-1],
    )  # fmt: skip
    return fish, others, held


def _carbon_dioxide(sizing: Sizing, breathing, even, hourly) -> Ring:
    """Carbon dioxide of the whole system; its bicarbonate is held by the base that is dosed."""
    s, d = sizing, sizing.design
    volume = column(s.tank.volume)
    breathed = formulas.carbon_dioxide_production.__wrapped__(
        breathing + column(s.loads.heterotroph_oxygen)
    )
    made = breathed + column(s.loads.alkalinity_carbon_dioxide) * even
    strength = column(s.air.used * d.air.approach) * carbonate.gas_partition.__wrapped__(
        hourly
    ) + column(s.pump.flow * s.gas.stripped)
    exchange = column(s.flow.exchange)
    rest = carbonate.equilibrium_carbon_dioxide.__wrapped__(hourly, column(s.air.pressure))
    brought = made + strength * rest + exchange * column(s.gas.source_carbon_dioxide)
    return cycle.ring(brought / volume, (strength + exchange) / volume, cycle.DAY / made.shape[-1])
