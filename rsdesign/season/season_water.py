"""The water of a season: waste, new water, salts, base, the filter, oxygen, carbon dioxide and pH.

What the fish did comes first and does not hang on the water, as long as they live; so all but the
pools that carry over from day to day is computed for all days at once.
"""

from dataclasses import dataclass
from typing import Any

import numpy as np

from .. import equations as eq
from ..core.arrays import most
from ..core.unit_table import DAY
from ..equations import makeup
from ..equations.fish import loads as formulas
from ..equations.fish import season_growth
from ..equations.gas import degassing
from ..equations.power.backup import warmth_factor
from ..equations.water import ammonia, carbonate, oxygen
from ..sizing.system import Sizing
from .crop import Fish
from .film_curve import rate_at, scale_of
from .filter_course import Colony, Day, Levels, course
from .season_numbers import Waterworks
from .what_ifs import Changes

Numbers = Any  # a float or an array, one number for each design

FISH_NITROGEN = formulas.fish_nitrogen.__wrapped__(1.0)
"""Nitrogen in each weight of fish."""


@dataclass(frozen=True, slots=True, eq=False)
class Waste:
    """Nitrogen and waste of each day [kg], days x designs."""

    fed: np.ndarray
    """Nitrogen in the feed that was given."""
    kept: np.ndarray
    """Nitrogen that the fish gained, below zero where they fast."""
    from_fish: np.ndarray
    """Ammonia nitrogen of the fish."""
    rotten: np.ndarray
    """Ammonia nitrogen of feed that nobody ate."""
    faecal: np.ndarray
    freed: np.ndarray
    """Ammonia nitrogen of waste that decayed."""
    bound: np.ndarray
    """Nitrogen that stayed in the bacteria and the fine matter when waste decayed."""
    sludge: np.ndarray
    """Nitrogen that was drained and rinsed away with waste."""
    exported: np.ndarray
    """Nitrogen in fine waste that left with the water."""
    pool: np.ndarray
    """Nitrogen in fine waste in the water, at the end of the day."""
    decaying: np.ndarray
    """Dry waste and feed that decayed."""
    sludge_volume: np.ndarray


def flows(works: Waterworks, fish: Fish, evaporation: np.ndarray) -> dict[str, np.ndarray]:
    """New water, what leaves as a liquid and what the source cannot give, on each day [m³/s]."""
    by_feed = works.exchange_for_feed * fish.feed / DAY
    least = by_feed if works.drained is None else works.drained + 0.0 * by_feed
    wanted = makeup.makeup_water.__wrapped__(evaporation, least, works.splash)
    new = np.minimum(wanted, works.supply)
    return {"new": new, "out": np.maximum(new - evaporation, 0.0), "short": wanted - new,
            "lost": np.maximum(evaporation - new, 0.0)}  # fmt: skip


def waste_of(works: Waterworks, fish: Fish, out: np.ndarray, ammonia_share: float | None) -> Waste:
    """What the feed leaves behind, and where its nitrogen goes."""
    protein = works.protein
    fed = formulas.feed_nitrogen.__wrapped__(fish.feed, protein)
    taken = formulas.feed_nitrogen.__wrapped__(fish.eaten, protein)
    gained, lost = (formulas.fish_nitrogen.__wrapped__(x) for x in (fish.gain, fish.loss))
    of_feed = (
        formulas.ammonia_production.__wrapped__(fish.eaten, protein, works.ammonia_per_protein)
        if ammonia_share is None
        else ammonia_share * taken
    )
    from_feed = season_growth.ammonia_within.__wrapped__(of_feed, taken, gained)
    faecal = formulas.faecal_nitrogen.__wrapped__(taken, gained, from_feed)
    uneaten = season_growth.uneaten.__wrapped__(fish.feed, fish.eaten)
    rotten = fed - taken
    solids = formulas.solids_production.__wrapped__(fish.eaten, works.solids_per_feed)
    into = 1.0 - works.drained_share
    rates = (
        works.decay * works.volume + works.screened * (1.0 - works.rinsed),
        works.screened * works.rinsed,
        out,
    )
    left, pool = _through(solids * into, faecal * into, sum(rates) / works.volume)
    whole = sum(rates)
    decay, rinsed, exported = (rate / whole for rate in rates)
    freed = formulas.fish_nitrogen.__wrapped__(left[1] * decay, works.freed)
    return Waste(
        fed=fed,
        kept=gained - lost,
        from_fish=from_feed + lost,
        rotten=rotten,
        faecal=faecal,
        freed=freed,
        bound=left[1] * decay - freed,
        sludge=faecal * works.drained_share + left[1] * rinsed,
        exported=left[1] * exported,
        pool=pool,
        decaying=left[0] * decay + uneaten,
        sludge_volume=eq.solids.sludge_volume.__wrapped__(
            solids * works.drained_share / DAY, works.solids_content
        ),
    )


def _through(solids, nitrogen, rate):
    """What leaves the fine waste in the water on each day, waste and its nitrogen, and the pool."""
    stays = np.exp(-rate * DAY)
    fresh = (1.0 - stays) / (rate * DAY)  # of what came in evenly, what is there in the evening
    stays, fresh = (np.broadcast_to(x, solids.shape) for x in (stays, fresh))
    if solids.shape[1] == 1:
        return _one_through(solids[:, 0], nitrogen[:, 0], stays[:, 0], fresh[:, 0])
    made = np.stack([solids, nitrogen])
    gone, pools, pool = np.empty_like(made), np.empty_like(nitrogen), np.zeros_like(made[:, 0])
    for day in range(solids.shape[0]):
        evening = pool * stays[day] + made[:, day] * fresh[day]
        gone[:, day] = pool + made[:, day] - evening
        pool = evening
        pools[day] = pool[1]
    return gone, pools


def _one_through(solids, nitrogen, stays, fresh):
    """The same for one design, on floats."""
    gone, pools = [], []
    stays, fresh = stays.tolist(), fresh.tolist()
    for made in (solids.tolist(), nitrogen.tolist()):
        pool, went, kept = 0.0, [], []
        for came, share, new in zip(made, stays, fresh, strict=True):
            evening = pool * share + came * new
            went.append(pool + came - evening)
            pool = evening
            kept.append(pool)
        gone.append(went)
        pools.append(kept)
    return np.array(gone)[..., None], np.array(pools[1])[:, None]


def filter_of(sizing: Sizing, works: Waterworks, loads: np.ndarray, setting, moved, change: Changes,
              colonies: tuple[Colony, Colony], ripe_for: float, quick: bool = False,
              film_factor: Numbers = 1.0) -> tuple[Levels, np.ndarray]:  # fmt: skip
    """The filter through the season; gives its levels and the ammonia that walls and beds took [kg].

    ``loads``: ammonia nitrogen made on each day [kg]; ``setting``: temperature and pH by day;
    ``film_factor``: rate of the film over that of the design.
    """
    water, ph = setting
    s, d = sizing, sizing.design
    to_filter = eq.solids.ammonia_to_filter.__wrapped__(
        loads / DAY, works.beds_capacity, works.least_share
    )
    brought = eq.biofilter.load_for_media.__wrapped__(to_filter, works.passive)
    beside = loads / DAY - brought
    scale = scale_of(s.filter.oxygen, water, ph, d.keep.alkalinity, d.filter.derate)
    if d.filter.rate is not None:
        scale = scale * _own_rate(s)
    lasting = np.cumprod(np.broadcast_to(change.media_left, loads.shape), axis=0)
    found = course(
        Day(
            load=brought / works.volume,
            nitrate=(beside + moved["new"] * works.nitrate_source) / works.volume,
            uptake=works.plants_uptake / works.volume,
            out=moved["out"] / works.volume,
            area=film_factor * s.filter.area / works.volume * scale * lasting,
            killed=change.killed,
            still=change.still,
            left=change.media_left,
        ),
        colonies,
        works.flow / works.volume,
        s.filter.oxygen / 3.0,
        bool(s.tables.filter_type.mixed),
        works.nitrate_source,
        ripe_for,
        quick,
    )
    return found, beside * DAY


def _own_rate(sizing: Sizing) -> Numbers:
    """A rate of one's own over what the law gives, as the sizing scales it."""
    f, d = sizing.filter, sizing.design
    law = scale_of(f.oxygen, f.temperature, sizing.gas.ph, d.keep.alkalinity, d.filter.derate)
    return d.filter.rate / (law * rate_at(np.asarray(f.outlet_needed), 1.0)[0])


def box(start, source, gain, moved, volume, least=-np.inf) -> tuple[np.ndarray, np.ndarray]:
    """A substance that only water carries: evenings [kg/m³], and what was added [kg/m³].

    ``gain`` [kg] a day; where a day would end below ``least`` [kg/m³], as much is added as lacks.
    The level after a day is a straight line in the level of the morning.
    """
    new, out = moved["new"], moved["out"]
    rise = makeup.level_after.__wrapped__(DAY, 0.0, source, gain / DAY, new, out, volume)
    stays = makeup.level_after.__wrapped__(DAY, 1.0, 0.0, 0.0, 0.0, out, volume)
    days, count = new.shape
    if count == 1:
        rows = zip(
            rise[:, 0].tolist(), np.broadcast_to(stays, new.shape)[:, 0].tolist(), strict=True
        )
        level, low = float(np.ravel(start)[0]), float(np.ravel(least)[0])
    else:
        rows, level, low = zip(rise, np.broadcast_to(stays, new.shape), strict=True), start, least
    raw, kept = [], []
    for more, share in rows:
        level = level * share + more
        raw.append(level)
        level = most(level, low)
        kept.append(level)
    evenings, before = (np.array(x, float).reshape(days, count) for x in (kept, raw))
    return evenings, evenings - before


def mean_level(source, evening, moved, volume):
    """Mean level of each day of a substance that only water carries, from its evenings [kg/m³].

    With a pace r of new water and a level at rest c, the mean over a day is c + (morning - evening)
    / (r day): exact for the exponential between them, told from the levels alone.
    """
    morning = np.concatenate([source + 0.0 * evening[:1], evening[:-1]])
    pace = moved["out"] / volume * DAY
    with np.errstate(all="ignore"):
        rest = moved["new"] * source / moved["out"]
        found = rest + (morning - evening) / pace
    return np.where(pace > 1e-6, found, 0.5 * (morning + evening))


def alkalinity_of(works: Waterworks, nitrified: np.ndarray, moved) -> dict[str, np.ndarray]:
    """Alkalinity at the end of each day [kg/m³] and base added, as calcium carbonate [kg]."""
    use = formulas.alkalinity_net.__wrapped__(nitrified)
    start = np.maximum(works.alkalinity_source, works.alkalinity_kept)
    levels, added = box(
        start, works.alkalinity_source, -use, moved, works.volume, works.alkalinity_kept
    )
    return {"alkalinity": levels, "base": added * works.volume, "use": use}


def gases(
    sizing: Sizing, works: Waterworks, fish: Fish, waste: Waste, nitrified, water, levels, moved
):
    """Oxygen, carbon dioxide, pH and un-ionised ammonia of each day.

    Oxygen is that of the busiest hour; pH that of the mean hour.  ``levels``: alkalinity and total
    ammonia [kg/m³].
    """
    s, d = sizing, sizing.design
    top = s.tables.species.top_temperature
    hot = warmth_factor.__wrapped__(np.maximum(water, top), top, d.safety.per_ten)
    fed = formulas.oxygen_demand.__wrapped__(fish.eaten / DAY, works.oxygen_per_feed) * hot
    still = warmth_factor.__wrapped__(water, d.site.water_temperature, d.safety.per_ten)
    unfed = formulas.oxygen_demand.__wrapped__(fish.resting, works.oxygen_per_feed) * works.resting
    breathed = np.maximum(fed, unfed * still)
    decay = formulas.heterotroph_oxygen.__wrapped__(waste.decaying / DAY, works.solids_oxygen)
    bacteria = formulas.nitrifier_oxygen.__wrapped__(nitrified / DAY)
    busiest = formulas.hour_peak.__wrapped__(breathed, works.hour_factor)
    demand = eq.air.oxygen_for_tank.__wrapped__(
        formulas.total_oxygen.__wrapped__(busiest, bacteria, decay),
        eq.air.oxygen_from_filter.__wrapped__(bacteria, s.tables.filter_type.tank_share),
    )
    full = oxygen.saturation.__wrapped__(water, d.source.salinity, s.air.pressure)
    beta, keep = d.air.beta, d.keep.oxygen
    lack = (beta * full - keep) / (beta * s.air.saturation - keep)
    warm = np.power(d.air.theta, water - s.air.temperature)
    held = eq.air.tank_oxygen.__wrapped__(full, beta, keep, demand, s.air.transfer * lack * warm)
    production = eq.solids.carbon_dioxide_made.__wrapped__(
        formulas.carbon_dioxide_production.__wrapped__(
            eq.solids.breathing_oxygen.__wrapped__(breathed, decay)
        ),
        formulas.carbon_dioxide_from_alkalinity.__wrapped__(nitrified / DAY),
    )
    dioxide = degassing.tank_carbon_dioxide.__wrapped__(
        production, s.air.used, d.air.approach, carbonate.gas_partition.__wrapped__(water),
        carbonate.equilibrium_carbon_dioxide.__wrapped__(water, s.air.pressure),
        moved["new"], s.gas.source_carbon_dioxide, works.flow, s.gas.stripped,
    )  # fmt: skip
    ph = carbonate.ph.__wrapped__(levels[0], dioxide, water) + s.gas.ph_difference
    share = ammonia.unionized_fraction.__wrapped__(water, ph, d.source.salinity)
    return {"oxygen": held, "carbon_dioxide": dioxide, "ph": ph,
            "unionized": ammonia.unionized_ammonia.__wrapped__(levels[1], share)}  # fmt: skip
