"""The fullest tank in the moment when something stops, and the minutes it has; closed form.

Arrays of designs are fine.  Where a range is shown, it comes from what fish breathe for each weight
of feed: 0.30 to 0.65 (derived from the carbon of the feed); at its long end still water takes up
oxygen too.  On the peak day every number here is the sizing's own.
"""

from ... import equations as eq
from ...core.arrays import ratio
from ...core.choices import DesignError
from ...core.figures import figure, stage
from ...core.kinds import Area, Concentration, Flow, Number, OxygenRate, Temperature, Volume
from ...design.model import Design
from ...equations.power import backup
from ...equations.power.minutes import BREATHS, minutes_to, surface_transfer_of
from ...equations.water import oxygen
from ...sizing.system import Sizing

FAILURES = ("all power", "air only", "pump only", "leak", "heat wave")
"""Five cases that ask for different first acts."""

HEADLINE = "air only"
"""The failure that leaves the least time: the filter still takes its share.  Its time until the
fish are in distress is the one number that every page and paper gives."""

LEVELS = ("alarm", "stress", "deadly")

__all__ = [
    "BREATHS", "FAILURES", "HEADLINE", "LEVELS", "Tank", "demand", "levels", "minutes", "tank_at",
]  # fmt: skip


@stage()
class Tank:
    """The fullest tank in the moment when something stops."""

    temperature: Temperature = figure("Water")
    saturation: Concentration = figure("Oxygen that full water holds")
    start: Concentration = figure("Oxygen at the start")
    volume: Volume = figure("Water in the tank")
    surface: Area = figure("Surface of the tank")
    fish: OxygenRate = figure("Oxygen the fish use")
    filter: OxygenRate = figure("Oxygen that the filter takes while the pump runs, air off")
    waste: OxygenRate = figure("Oxygen that decaying waste takes")
    surface_transfer: Flow = figure("What still water takes up, for each unit below saturation")
    conductance: Flow = figure("What the air brings, for each unit below saturation")


def levels(design: Design) -> dict:
    """Alarm, stress and deadly oxygen of a design."""
    oxygens = (design.safety.alarm_oxygen, design.keep.stress_oxygen, design.safety.deadly_oxygen)
    return dict(zip(LEVELS, oxygens, strict=True))


def tank_at(sizing: Sizing, today: bool = False, since_feeding=None) -> Tank:
    """The fullest tank on the peak day, just fed, or as it is today; arrays of designs are fine."""
    d, s = sizing.design, sizing
    safety, air = d.safety, s.air
    temperature, start, fullness = air.temperature, s.standby.start, 1.0
    since: Number = 0.0
    if today:
        temperature = temperature if safety.water_now is None else safety.water_now
        start = start if safety.start_oxygen is None else safety.start_oxygen
        since = 0.0 if safety.since_feeding is None else safety.since_feeding
        if safety.fish_now is not None:
            fullness = ratio(safety.fish_now, s.stock.tank_biomass)
    since = since if since_feeding is None else since_feeding
    share = (s.stock.tank_feed, s.stock.peak_feed)
    saturation = oxygen.saturation(temperature, d.source.salinity, air.pressure)
    fish, nitrifiers, waste = (
        eq.air.share_by_feed(load, *share)
        for load in (s.loads.fish_oxygen, s.loads.nitrifier_oxygen, s.loads.heterotroph_oxygen)
    )
    breathing = backup.breathing_factor(
        since, d.wastes.hour_factor, safety.resting, safety.digestion
    )
    warmth = backup.warmth_factor(temperature, d.site.water_temperature, safety.per_ten)
    transfer = eq.air.share_by_feed(air.transfer, *share)
    return Tank(
        temperature=temperature,
        saturation=saturation,
        start=start,
        volume=s.tank.volume_each,
        surface=s.tank.floor,
        fish=backup.demand_after(fish, breathing, warmth, fullness, 0.0),
        filter=nitrifiers * s.tables.filter_type.share_air_off * fullness,
        waste=waste * fullness,
        surface_transfer=surface_transfer_of(safety.surface_transfer, s.tank.floor),
        conductance=backup.conductance(transfer, air.saturation, d.air.beta, d.keep.oxygen),
    )


def demand(tank: Tank, failure: str, breath=1.0):
    """Oxygen that a tank uses after a failure; ``breath`` scales what the fish use [kg/s]."""
    filters = tank.filter if failure == "air only" else 0.0
    return tank.fish * breath + tank.waste + filters


def minutes(sizing: Sizing, failure: str, level, today: bool = False, end: str = "likely"):
    """Time [s] from a stop of the air until oxygen is down to a level [kg/m³].

    ``failure`` is "all power" or "air only"; ``end`` is "short", "likely" or "long".  The use is
    held as it is at the start.  Arrays of designs give arrays.
    """
    if failure not in FAILURES[:2]:
        raise DesignError(f"{failure!r} does not stop the air; say 'all power' or 'air only'.")
    tank, d = tank_at(sizing, today), sizing.design
    return minutes_to(
        end,
        level,
        tank.start,
        d.keep.stress_oxygen,
        tank.saturation,
        tank.volume,
        tank.fish,
        demand(tank, failure, 0.0),
        d.wastes.oxygen_per_feed,
        tank.surface_transfer,
    )
