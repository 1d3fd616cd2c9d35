"""What a season needs to know of a design, gathered from its sizing as numbers or arrays."""

from dataclasses import dataclass
from typing import Any

import numpy as np

from .. import equations as eq
from ..design.model import Design
from ..equations.biofilter import plants
from ..equations.fish.growth_bands import BANDS, growth_bands
from ..sizing.system import Sizing
from .crop import Plan
from .water_course import count_of

Numbers = Any  # a float or an array, one number for each design


def lines_of_growth(design: Design, sizing: Sizing) -> tuple[np.ndarray, np.ndarray]:
    """Growth coefficients and base temperatures, slow, middle and fast: 3 x designs.

    The middle line is the design's own where it tells one; the slow and the fast line stay those
    published.
    """
    rows = growth_bands(sizing.tables.species.name)
    count = count_of(design)
    coefficient = np.array([[rows[b].growth_coefficient] * count for b in BANDS], float)
    base = np.array([[rows[b].base_temperature] * count for b in BANDS], float)
    if design.stock.growth_coefficient is not None:
        coefficient[1] = design.stock.growth_coefficient
        base[1] = sizing.tables.species.base_temperature
    return coefficient, base


def plan_of(sizing: Sizing, growth: tuple[np.ndarray, np.ndarray] | None = None) -> Plan:
    """The fish of a sizing as the season takes them; ``growth``: lines of one's own."""
    design, fish = sizing.design, sizing.tables.species
    coefficient, base = growth or lines_of_growth(design, sizing)
    told = design.stock
    return Plan(
        coefficient=coefficient,
        base=base,
        top=fish.top_temperature,
        feeding_low=fish.feeding_low,
        feeding_high=fish.feeding_high,
        kept=design.site.water_temperature,
        per_ten=design.safety.per_ten,
        to_stock=sizing.stock.to_stock,
        stocking_weight=told.stocking_weight,
        harvest_weight=design.goal.weight,
        survival=told.survival,
        cycle=sizing.stock.cycle,
        conversion=told.feed_conversion,
        interval=np.inf if told.interval is None else told.interval,
        rest=told.rest,
        batches=int(np.max(np.ceil(np.asarray(sizing.stock.cohorts) - 1e-9))),
        ration=told.ration,
    )


@dataclass(frozen=True, slots=True, eq=False)
class Waterworks:
    """The water, the waste and the air of a system, as the season takes them, SI."""

    volume: Numbers
    flow: Numbers
    protein: Numbers
    ammonia_per_protein: Numbers
    solids_per_feed: Numbers
    drained_share: Numbers
    """Share of fresh waste that is drained before it dissolves."""
    screened: Numbers
    """Water that the second screen clears of waste [m³/s]."""
    rinsed: Numbers
    decay: Numbers
    freed: Numbers
    solids_oxygen: Numbers
    solids_content: Numbers
    passive: Numbers
    beds_capacity: Numbers
    least_share: Numbers
    plants_uptake: Numbers
    exchange_for_feed: Numbers
    """New water for each weight of feed [m³/kg]."""
    drained: Numbers | None
    splash: Numbers
    supply: Numbers
    nitrate_source: Numbers
    chloride_source: Numbers
    alkalinity_source: Numbers
    alkalinity_kept: Numbers
    oxygen_per_feed: Numbers
    hour_factor: Numbers
    resting: Numbers


def waterworks_of(sizing: Sizing) -> Waterworks:
    """The water, the waste and the air of a sizing."""
    s, d = sizing, sizing.design
    rate = s.tables.plant_bed.ammonia_rate if d.filter.bed_rate is None else d.filter.bed_rate
    return Waterworks(
        volume=s.tank.volume,
        flow=s.pump.flow,
        protein=d.stock.protein,
        ammonia_per_protein=d.wastes.ammonia_per_protein,
        solids_per_feed=d.wastes.solids_per_feed,
        drained_share=eq.solids.part_of.__wrapped__(s.solids.removed, s.loads.solids),
        screened=s.pump.flow * s.tables.polishing.removal,
        rinsed=s.tables.polishing.rinsed,
        decay=d.wastes.solids_decay,
        freed=d.wastes.ammonia_freed,
        solids_oxygen=d.wastes.solids_oxygen,
        solids_content=d.solids.solids_content,
        passive=d.filter.passive,
        beds_capacity=plants.bed_nitrification.__wrapped__(d.filter.plants, rate),
        least_share=d.filter.least_share,
        plants_uptake=plants.nitrogen_uptake.__wrapped__(d.filter.plants, d.filter.plant_uptake),
        exchange_for_feed=s.water.exchange / s.stock.peak_feed,
        drained=d.makeup.drained,
        splash=eq.makeup.splash.__wrapped__(s.tank.volume, d.makeup.splash),
        supply=d.source.supply,
        nitrate_source=d.source.nitrate,
        chloride_source=d.source.chloride,
        alkalinity_source=d.source.alkalinity,
        alkalinity_kept=d.keep.alkalinity,
        oxygen_per_feed=d.wastes.oxygen_per_feed,
        hour_factor=d.wastes.hour_factor,
        resting=d.safety.resting,
    )
