"""When something stops: oxygen after the stop, the minutes there are, and what must stand ready.

Every figure is for the fullest tank, because that one dies first.  ``minutes`` is closed form and
takes arrays of designs; ``run`` steps through a course in which the last meal wears off and a
backup starts; ``study`` gathers all of it for one design.  Where a range is shown, it comes from
what fish breathe for each weight of feed: 0.30 to 0.65 (derived from the carbon of the feed), and
at its long end still water takes up oxygen too.
"""

import dataclasses
from dataclasses import dataclass

import numpy as np

from ... import equations as eq
from ...core import kinds
from ...core.arrays import ratio
from ...core.figures import figure, stage
from ...core.kinds import Number
from ...core.unit_table import DAY
from ...design.model import Design, with_values
from ...design.prices import prices_of
from ...equations.air import aeration
from ...equations.power import backup, standby
from ...equations.power.tables import Backup, backup_of
from ...equations.water import ammonia, oxygen
from ...sizing.system import Sizing, size
from .course import Needs, course, needs
from .tank import BREATHS, FAILURES, HEADLINE, Tank, levels, minutes, tank_at

YEAR = 365.25 * DAY
HALF = 0.5


@stage()
class Times:
    """Minutes from the stop, a likely value between a short and a long one."""

    failure: str = figure("What fails")
    level: str = figure("Level")
    oxygen: kinds.Concentration = figure("Oxygen")
    short: kinds.Minutes = figure("Time, short end")
    likely: kinds.Minutes = figure("Time, likely")
    long: kinds.Minutes = figure("Time, long end")


@stage()
class Others:
    """Pump alone, leak and heat wave."""

    filter_breath: kinds.Minutes = figure("Until the standing filter has no oxygen")
    ammonia: kinds.Hours = figure("Until un-ionised ammonia is at its limit")
    still_oxygen: kinds.Concentration = figure("Oxygen held with the pump off")
    leak: kinds.Flow = figure("Leak taken: what the pump gives to the tank")
    half_empty: kinds.Minutes = figure("Until half the water is gone")
    hot_water: kinds.Temperature = figure("Water in the heat wave")
    hot_fed: kinds.Concentration = figure("Oxygen held then, busiest hour")
    hot_unfed: kinds.Concentration = figure("Oxygen held then, fish not fed")


@stage()
class Motor:
    """One kind of motor: what it draws."""

    name: str = figure("Motor")
    count: Number = figure("Number")
    power: kinds.Power = figure("Power at the wall, busiest hour")
    energy: kinds.Energy = figure("Energy in a day of mean feed")
    cost: kinds.Money = figure("Cost in a year")


@dataclass(frozen=True, slots=True, eq=False)
class OutageStudy:
    """Everything about the failures of one design."""

    sizing: Sizing
    kind: Backup
    peak: Tank
    today: Tank
    times: tuple[Times, ...]
    today_times: tuple[Times, ...]
    needs: Needs
    others: Others
    motors: tuple[Motor, ...]

    def time(self, failure: str, level: str, today: bool = False) -> Times:
        """The minutes of a failure until a level."""
        found = self.today_times if today else self.times
        return next(t for t in found if (t.failure, t.level) == (failure, level))


def run(design: Design | Sizing, failure: str = "all power", today: bool = False, **given):
    """The course of a failure as a pandas table: time [s] as index, oxygen [kg/m³] in columns.

    Parameters:
        design: one ``Design`` or its ``Sizing``.
        failure: such as ``"all power"``.
        today: True takes the fish of today, not those of the biggest day.
        given: ``duration`` and ``step`` [s], above 0.
    Returns: a frame with ``likely``, ``short`` and ``long`` (see ``BREATHS``) and ``backed``, with
        the backup of the design.
    Raises: ``DesignError`` for a failure that has no course.
    Source: ``equations.power.standby`` and ``equations.power.minutes``, with how fish breathe.

    >>> from rsdesign import load
    >>> list(run(load("family"), step=600.0).columns)
    ['likely', 'short', 'long', 'backed']
    """
    import pandas as pd  # noqa: PLC0415  (only who asks for a table needs it)

    sizing = design if isinstance(design, Sizing) else size(design)
    own = float(sizing.design.wastes.oxygen_per_feed)
    breaths = {
        "likely": 1.0,
        "short": max(BREATHS[0] / own, 1.0),
        "long": min(BREATHS[1] / own, 1.0),
    }
    columns = {}
    for name, breath in breaths.items():
        times, found = course(sizing, failure, today, breath=breath, **given)
        columns[name] = pd.Series(found, index=times)
    times, found = course(sizing, failure, today, backed=True, **given)
    columns["backed"] = pd.Series(found, index=times)
    table = pd.DataFrame(columns).interpolate("index")
    table.index.name = "time"
    return table


def others(sizing: Sizing) -> Others:
    """What counts when the pump alone stops, when water runs out, and in a heat wave."""
    d, s = sizing.design, sizing
    tank, pumps = tank_at(sizing), sizing.pump
    share = (s.stock.tank_feed, s.stock.peak_feed)
    hot = backup.heat_wave_temperature(s.air.temperature, d.safety.heat_rise)
    full = oxygen.saturation(hot, d.source.salinity, s.air.pressure)
    factor = aeration.field_factor(
        hot, d.keep.oxygen, 0.0, s.air.pressure, d.air.alpha, d.air.beta, d.air.theta, d.air.fouling,
        d.source.salinity,
    )  # fmt: skip
    transfer = eq.air.share_by_feed(s.air.transfer, *share) * ratio(factor, s.air.field_factor)
    warmth = backup.warmth_factor(hot, s.air.temperature, d.safety.per_ten)
    in_tank = eq.air.share_by_feed(s.loads.nitrifier_oxygen, *share)
    bacteria = tank.waste + in_tank * s.tables.filter_type.tank_share
    calm = ratio(d.safety.resting, d.wastes.hour_factor)
    held = [
        eq.air.tank_oxygen(full, d.air.beta, d.keep.oxygen, use, transfer)
        for use in (tank.fish * warmth + bacteria, tank.fish * warmth * calm + bacteria)
    ]
    still = eq.air.tank_oxygen(
        tank.saturation, d.air.beta, d.keep.oxygen, tank.fish + tank.waste,
        eq.air.share_by_feed(s.air.transfer, *share),
    )  # fmt: skip
    leak = eq.pumps.flow_by_feed(pumps.flow, *share)
    return Others(
        filter_breath=standby.filter_oxygen_time(
            s.filter.media_volume, s.tables.medium.void_fraction, s.filter.oxygen,
            s.loads.nitrifier_oxygen,
        ),
        ammonia=standby.ammonia_time(
            s.tank.volume,
            ammonia.total_ammonia_limit(d.keep.unionized_ammonia, s.gas.unionized_fraction),
            s.filter.ammonia,
            s.loads.ammonia_made,
        ),
        still_oxygen=still,
        leak=leak,
        half_empty=standby.emptying_time(s.tank.volume_each, HALF, leak),
        hot_water=hot,
        hot_fed=held[0],
        hot_unfed=held[1],
    )  # fmt: skip


def motors(sizing: Sizing) -> tuple[Motor, ...]:
    """Every kind of motor with its draw, energy and cost; together they are the bill's energy."""
    s, price = sizing, prices_of(sizing.design)["electricity"].value
    found = []
    rows = [(str(s.air.device), s.air.count, s.air.wire_power, s.air.mean_power)]
    if s.bed.count > 0:
        rows.append(
            (f"{s.bed.device} of the filter", s.bed.count, s.bed.wire_power, s.bed.wire_power)
        )
    rows.append((str(s.pump.model), s.pump.count, s.pump.plate_watts, s.pump.plate_watts))
    for name, count, watts, mean_watts in rows:
        energy = eq.air.energy_used(mean_watts, DAY)
        found.append(Motor(name, count, watts, energy, energy * YEAR / DAY * price))
    return tuple(found)


def study(design: Design | Sizing) -> OutageStudy:
    """Minutes, needs and motors of one design.

    Parameters:
        design: one ``Design`` or its ``Sizing``.
    Returns: ``OutageStudy``: the minutes of five failures, the backup needed, every motor; SI inside.
    Raises: ``DesignError`` when the design cannot be computed.
    Source: ``equations.power.standby`` and ``equations.power.backup``; how fish breathe is in
        ``equations.power.minutes``.

    >>> from rsdesign import load
    >>> len(study(load("family")).motors) >= 2
    True
    """
    sizing = design if isinstance(design, Sizing) else size(design)
    with np.errstate(all="ignore"):
        return OutageStudy(
            sizing=sizing,
            kind=backup_of(sizing.design.safety.backup_kind),
            peak=tank_at(sizing),
            today=tank_at(sizing, today=True),
            times=_times(sizing, today=False),
            today_times=_times(sizing, today=True),
            needs=needs(sizing),
            others=others(sizing),
            motors=motors(sizing),
        )


def _times(sizing: Sizing, today: bool) -> tuple[Times, ...]:
    found = []
    for failure in FAILURES[:2]:
        for name, level in levels(sizing.design).items():
            ends = {
                e: minutes(sizing, failure, level, today, e) for e in ("short", "likely", "long")
            }
            found.append(Times(failure=failure, level=name, oxygen=level, **ends))
    return tuple(found)


def sensitivity(sizing: Sizing) -> tuple[tuple[str, float], ...]:
    """Minutes [s] to the stress level under one change each: half the fish, 5 °C, hungry fish."""
    d = sizing.design
    level = d.keep.stress_oxygen
    tank = sizing.stock.tank_biomass
    base = {"safety.since_feeding": 0.0}
    warm = float(sizing.air.temperature)
    changes = {
        "as on the peak day": {},
        "half the fish": {"safety.fish_now": float(tank) / 2},
        "water 5 °C (9 °F) cooler": {"safety.water_now": warm - 5.0},
        "12 hours after the last meal": {"safety.since_feeding": 12 * 3600.0},
        "started 1 mg/L lower": {
            "safety.start_oxygen": max(float(sizing.standby.start) - 1e-3, 5e-4)
        },
    }
    found = []
    for words, change in changes.items():
        changed = with_values(d, {**base, **change})
        other = dataclasses.replace(sizing, design=changed)
        found.append((words, float(minutes(other, HEADLINE, level, today=True))))
    return tuple(found)
