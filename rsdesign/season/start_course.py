"""The course of a start, day by day, for many draws of the bacteria at once."""

from dataclasses import dataclass, field
from typing import Any

import numpy as np

from ..core.arrays import least, most, where
from ..core.unit_table import DAY
from ..equations.biofilter import areas, doses, nitrification
from ..equations.biofilter import ripening as relations
from ..equations.biofilter.definitions import load_for_media
from ..equations.water import ammonia, carbonate
from ..sizing.system import Sizing
from .bacteria import conditions
from .film_curve import scale_of
from .film_law import derate_of
from .ripening import (
    ALKALINITY,
    AMMONIA,
    AMMONIA_BACTERIA,
    NITRATE,
    NITRITE,
    NITRITE_BACTERIA,
    Bacteria,
    Film,
    Water,
    start,
    step,
)

GONE = 0.5e-3
"""0.5 mg/L: what a test kit shows as next to nothing; common practice."""

ENOUGH_NITRITE = 10e-3
"""10 mg/L: more makes nitrite bacteria grow hardly faster, so no ammonia is dosed beside it."""

DEADLY_AMMONIA = 2.0e-3 * 14.007 / 17.031
"""2 mg/L of NH3, as nitrogen: many tilapia die within days (extension sheet); 2.83 mg/L kills half
the blue tilapia of a trial in 24 hours."""

FULL, NEAR = 0.98, 1.02
"""As good as full, as good as within a limit: no scale and no test kit tells two in a hundred."""

FISH_EQUIVALENTS = 1.0
"""Fish give back one of the two equivalents of alkalinity that nitrification takes."""


@dataclass(frozen=True, slots=True)
class Plan:
    """How a filter is started; numbers SI."""

    fishless: bool
    equivalents: float
    dose: float
    feed_start: float
    feed_rise: float
    by_safe_feed: bool
    days: int
    hours: float
    temperature: float
    chloride: float
    chloride_ratio: float
    hold_alkalinity: bool
    count_poison: bool


@dataclass(slots=True)
class Site:
    """What the course takes from the sizing of the design."""

    volume: Any
    load: Any
    """Ammonia for the media on the biggest feed day, for each volume of water [kg/(m³ s)]."""
    feed: Any
    exchange: Any
    area: Any
    turnover: Any
    mixed: bool
    derate: Any
    oxygen: Any
    keep_alkalinity: Any
    ph_shift: Any
    carbon_dioxide: tuple[Any, Any]
    """At rest with the air, and with all the fish fed."""
    source_alkalinity: Any
    source_nitrate: Any
    salinity: Any
    unionized_limit: Any
    ammonia_most: Any

    @classmethod
    def of(cls, sizing: Sizing, temperature: float) -> "Site":
        """The site of a sizing of one design."""
        design, here, gas = sizing.design, sizing.filter, sizing.gas
        volume, flow = sizing.tank.volume, here.hydraulic_load * here.cross_section
        brought = load_for_media(sizing.loads.ammonia_to_filter, design.filter.passive)
        return cls(
            volume=volume,
            load=brought / volume,
            feed=sizing.stock.peak_feed,
            exchange=sizing.water.exchange / volume,
            area=here.area / volume,
            turnover=flow / volume,
            mixed=bool(sizing.tables.filter_type.mixed),
            derate=derate_of(sizing),
            oxygen=here.oxygen,
            keep_alkalinity=design.keep.alkalinity,
            ph_shift=gas.ph - carbonate.ph(design.keep.alkalinity, gas.carbon_dioxide, temperature),
            carbon_dioxide=(gas.equilibrium, gas.carbon_dioxide),
            source_alkalinity=design.source.alkalinity,
            source_nitrate=design.source.nitrate,
            salinity=design.source.salinity,
            unionized_limit=design.keep.unionized_ammonia,
            ammonia_most=design.keep.total_ammonia,
        )


@dataclass(slots=True)
class Course:
    """Rows of days, columns of draws, SI; the first column is drawn with the values themselves.

    While it is followed, a course of the values alone holds floats.
    """

    ready: Any
    """First day on which the filter is ready; infinite where it is not within the days."""
    full: Any
    """First day on which all the feed is given and both levels are within their limits."""
    deadly: Any
    """First day on which fish would die; infinite where they would not."""
    rows: dict[str, list] = field(default_factory=dict)
    ends: np.ndarray | None = None
    """The state after the last day."""

    def keep(self, **values) -> None:
        """One more day."""
        for name, value in values.items():
            self.rows.setdefault(name, []).append(
                value if type(value) is float else np.array(value)  # the state goes on
            )

    def __getitem__(self, name: str) -> np.ndarray:
        rows = np.array(self.rows[name])
        return rows.reshape(len(rows), -1)

    def ended(self, state) -> "Course":
        """The course as it is read, with the state after the last day."""
        self.ready, self.full, self.deadly = (
            np.atleast_1d(day) for day in (self.ready, self.full, self.deadly)
        )
        self.ends = np.reshape(state, (len(state), -1))
        return self


def deadly_nitrite(chloride: float) -> float:
    """Nitrite nitrogen that kills half the tilapia of a trial in four days, at a chloride.

    28.18 mg/L at 35 mg/L of chloride and 44.67 at 70, taken as the ion, which is the safe side;
    in proportion below, and no higher above.
    """
    ion = least(chloride * (28.18 / 35.0), 44.67e-3)
    return ion / doses.as_nitrite(1.0)


def run(site: Site, plan: Plan, numbers: dict) -> Course:
    """The course of a start.

    Parameters:
        site: what the sizing gives.
        plan: how the filter is started.
        numbers: values of the bacteria with one entry for each draw, from ``bacteria.draws``.
    Returns: the course: the state on each morning, before anything is dosed, and what is given.
    Source: ``data/ripening.csv`` and the relations of ``equations.biofilter``.

    Example: ``run(site, plan, draws(200))``.
    """
    count = len(numbers["seed"])
    if count == 1:  # on floats it is twenty times as quick as on arrays with one number
        numbers = {name: float(values[0]) for name, values in numbers.items()}
    state = _first_state(site, plan, numbers, count)
    film_most = _film_at_limit(site, plan)
    never, none = (value if count == 1 else np.full(count, value) for value in (np.inf, 0.0))
    course = Course(ready=never, full=never, deadly=never)
    fish = (not plan.fishless) if count == 1 else np.full(count, not plan.fishless)
    dosed = planned = fed = none
    for day in range(plan.days + 1):
        state = state.copy()
        base = none
        if plan.hold_alkalinity:
            base = most(site.keep_alkalinity - state[ALKALINITY], 0.0)
        state[ALKALINITY] += base
        today = _Morning.of(site, plan, numbers, state, where(fish, fed, 0.0), film_most)
        if plan.fishless:
            ripe = (dosed > 0.5 * plan.dose) & (state[AMMONIA] < GONE) & (state[NITRITE] < GONE)
        else:
            ripe = today.low & (today.safe >= FULL)
        course.deadly = _first(today.deadly & fish, course.deadly, day)
        alive = day < course.deadly  # a filter that ripens beside dead fish is ready for nobody
        course.ready = _first(ripe & alive, course.ready, day)
        course.full = _first(alive & fish & (fed >= FULL) & today.low, course.full, day)

        fish = fish | (course.ready <= day)
        more = where(planned > 0.0, planned * (1.0 + plan.feed_rise), plan.feed_start)
        planned = where(fish, least(more, 1.0), 0.0)
        fed = least(planned, today.safe) if plan.by_safe_feed else planned
        wanted = (state[AMMONIA] < GONE) & (state[NITRITE] < ENOUGH_NITRITE)
        dosed = where(fish, 0.0, where(wanted, plan.dose - state[AMMONIA], 0.0))
        course.keep(**today.levels(site, state), feed=site.feed * fed, dose=dosed, base=base)
        state[AMMONIA] += dosed
        state = _a_day(site, plan, state, today, fish, fed * numbers["load_share"])
    return course.ended(state)


def _first(happens, before, day: int):
    """The first day on which something happens, from the first one before."""
    return where(happens, least(before, float(day)), before)


@dataclass(frozen=True, slots=True)
class _Morning:
    """What the water is like on a morning, and what it allows."""

    ph: Any
    unionized: Any
    oxidizers: tuple[Bacteria, Bacteria]
    safe: Any
    """Feed that is safe over that of the biggest feed day."""
    low: Any
    """Whether ammonia and nitrite are within the limits of the fish, as near as a test can tell."""
    deadly: Any

    @classmethod
    def of(cls, site: Site, plan: Plan, numbers: dict, state, share, film_most) -> "_Morning":
        calm, busy = site.carbon_dioxide
        ph = site.ph_shift + carbonate.ph(
            most(state[ALKALINITY], 1e-6), calm + share * (busy - calm), plan.temperature
        )
        toxic = ammonia.unionized_fraction(plan.temperature, ph, site.salinity)
        poison = toxic * state[AMMONIA]
        oxidizers = conditions(
            numbers, plan.temperature, site.oxygen, ph, poison if plan.count_poison else 0.0
        )
        limits = (
            least(site.ammonia_most, ammonia.total_ammonia_limit(site.unionized_limit, toxic)),
            doses.nitrite_limit(plan.chloride, plan.chloride_ratio),
        )
        near = (state[AMMONIA] <= NEAR * limits[0]) & (state[NITRITE] <= NEAR * limits[1])
        kills = (poison > DEADLY_AMMONIA) | (state[NITRITE] > deadly_nitrite(plan.chloride))
        safe = _safe_share(site, state, oxidizers, limits, film_most)
        return cls(ph, poison, oxidizers, safe, near, kills)

    def levels(self, site: Site, state) -> dict:
        """The numbers of the morning by name."""
        rest = [_rest(site, kind) for kind in self.oxidizers]
        return {
            "ammonia": state[AMMONIA],
            "nitrite": state[NITRITE],
            "nitrate": state[NITRATE],
            "alkalinity": state[ALKALINITY],
            "ph": self.ph,
            "unionized": self.unionized,
            "ammonia_bacteria": state[AMMONIA_BACTERIA] / rest[0],
            "nitrite_bacteria": state[NITRITE_BACTERIA] / rest[1],
            "safe_feed": site.feed * self.safe,
        }


def _first_state(site: Site, plan: Plan, numbers: dict, count: int):
    whole = conditions(numbers, plan.temperature, site.oxygen, 7.2)
    eaters, takers = (numbers["seed"] * _rest(site, kind) for kind in whole)
    alkalinity = np.full(count, site.source_alkalinity)
    found = start(eaters, takers, alkalinity, nitrate=np.full(count, site.source_nitrate))
    return found[:, 0].tolist() if count == 1 else found


def _rest(site: Site, kind):
    """Bacteria that the biggest feed day feeds."""
    return relations.bacteria_at_rest(kind.yields, site.load, kind.decay)


def _film_at_limit(site: Site, plan: Plan) -> float:
    """What the ripe film takes where ammonia is at its limit, in the water of the sizing."""
    ph = site.ph_shift + carbonate.ph(
        site.keep_alkalinity, site.carbon_dioxide[1], plan.temperature
    )
    toxic = ammonia.unionized_fraction(plan.temperature, ph, site.salinity)
    limit = min(site.ammonia_most, ammonia.total_ammonia_limit(site.unionized_limit, toxic))
    law = nitrification.rate_law(
        site.oxygen, plan.temperature, ph, site.keep_alkalinity, site.derate
    )
    leaves = areas.outlet(limit, site.turnover, site.area, law, site.mixed)
    return float(areas.removal(site.turnover, limit, leaves) + site.exchange * limit)


def _safe_share(site: Site, state, eaters, limits, film_most):
    """Feed that is safe today over that of the biggest feed day."""
    taken = [
        relations.bacteria_uptake(kind.growth, kind.yields, state[row], limit, kind.half)
        for kind, row, limit in zip(
            eaters, (AMMONIA_BACTERIA, NITRITE_BACTERIA), limits, strict=True
        )
    ]
    return doses.safe_load(taken[0], film_most, taken[1]) / site.load


def _a_day(site: Site, plan: Plan, state, today: _Morning, fish, share):
    """The state a day later."""
    equivalents = where(fish, FISH_EQUIVALENTS, plan.equivalents)
    water = Water(
        exchange=where(fish, site.exchange, 0.0),
        nitrate=site.source_nitrate,
        alkalinity=site.source_alkalinity,
        alkalinity_use=doses.nitrification_alkalinity(equivalents),
    )
    scale = scale_of(
        site.oxygen, plan.temperature, today.ph, most(state[ALKALINITY], 1e-6), site.derate
    )
    cap = site.oxygen / nitrification.OXYGEN_FOR_AMMONIA
    film = Film(site.area * scale, site.turnover, cap, site.mixed)
    times = round(24.0 / plan.hours)
    return step(state, site.load * share, DAY / times, today.oxidizers, water, film, times)
