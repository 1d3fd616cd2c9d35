"""The course of oxygen after a failure, step by step: the last meal wears off, a backup starts."""

import numpy as np

from ...core import kinds
from ...core.arrays import least, most, ratio
from ...core.choices import DesignError
from ...core.figures import figure, stage
from ...equations.power import backup, standby
from ...equations.power.tables import backup_of
from ...sizing.system import Sizing
from .tank import FAILURES, Tank, demand, tank_at

HOURS_SHOWN = 3.0
STEP = 45.0
"""Seconds of a step of a course; ten times shorter steps change it by less than 1e-6."""
MAINS = 115.0
"""Volts of a household outlet in the US; its current is the one to compare a breaker with."""
MOTOR = 0.65
"""Shaft power over power at the wall of small motors, common practice."""


@stage()
class Needs:
    """What must stand ready, for the peak day and the longest power cut."""

    demand: kinds.OxygenRate = figure("Oxygen all tanks use while power is off")
    share: kinds.Fraction = figure("Share of the everyday air that holds the alarm level")
    air_power: kinds.Power = figure("Power of that air")
    run_time: kinds.Hours = figure("Time to run")
    battery: kinds.Charge = figure("Battery, as labelled")
    owned_time: kinds.Hours | None = figure("Time that the battery you own runs it")
    oxygen_mass: kinds.Mass = figure("Oxygen for that time")
    oxygen_volume: kinds.GasVolume = figure("The same as bottles are labelled")
    oxygen_flow: kinds.AirFlow = figure("Setting of the regulator")
    running: kinds.Power = figure("Air and pump running")
    starting: kinds.ApparentPower = figure("Starting load of the largest motor")
    current: kinds.Current = figure("Its starting current at 115 V")
    generator: kinds.ApparentPower = figure("Generator")
    starts_after: kinds.Minutes = figure("Time until the backup works")


def needs(sizing: Sizing) -> Needs:
    """What must stand ready; arrays of designs are fine."""
    d, s, safety = sizing.design, sizing, sizing.design.safety
    tank = tank_at(sizing)
    share = backup.backup_share(
        demand(tank, "all power"), tank.conductance, tank.saturation, d.air.beta,
        safety.alarm_oxygen,
    )  # fmt: skip
    air_power = s.air.wire_power * least(share, 1.0)
    breathing = backup.mean_breathing(
        safety.ride, d.wastes.hour_factor, safety.resting, safety.digestion
    )
    warmth = backup.warmth_factor(tank.temperature, d.site.water_temperature, safety.per_ten)
    use = backup.demand_after(
        s.loads.fish_oxygen, breathing, warmth, 1.0, s.loads.heterotroph_oxygen
    )
    oxygen_mass = standby.bottled_oxygen(use, safety.ride, safety.oxygen_caught)
    one_air = ratio(s.air.wire_power, s.air.count)
    one_pump = ratio(s.pump.plate_watts, s.pump.count)
    one_of_bed = ratio(s.bed.wire_power, s.bed.count, 0.0)
    largest = most(most(one_air, one_pump), one_of_bed)
    starting = standby.starting_load(largest, safety.code_letter, MOTOR)
    chosen = backup_of(safety.backup_kind)
    return Needs(
        demand=use,
        share=share,
        air_power=air_power,
        run_time=safety.ride,
        battery=backup.battery_charge(
            air_power, safety.ride, safety.battery_voltage, safety.inverter_efficiency,
            safety.discharge_depth, safety.ageing,
        ),
        owned_time=None
        if safety.battery is None
        else backup.battery_time(
            safety.battery, air_power, safety.battery_voltage, safety.inverter_efficiency,
            safety.discharge_depth, safety.ageing,
        ),
        oxygen_mass=oxygen_mass,
        oxygen_volume=standby.oxygen_volume(oxygen_mass),
        oxygen_flow=standby.oxygen_flow(use, safety.oxygen_caught),
        running=s.standby.watts,
        starting=starting,
        current=standby.starting_current(starting, MAINS),
        generator=standby.generator_size(
            s.standby.watts, largest, starting, most(d.site.elevation, 0.0)
        ),
        starts_after=chosen.start
        if safety.backup == "by itself"
        else safety.answer + chosen.start
        if safety.backup == "by hand"
        else np.inf,
    )  # fmt: skip


def course(
    sizing: Sizing,
    failure: str = "all power",
    today: bool = False,
    backed: bool = False,
    duration: float = HOURS_SHOWN * 3600.0,
    step: float = STEP,
    breath: float = 1.0,
) -> tuple[np.ndarray, np.ndarray]:
    """Time [s] and oxygen [kg/m³] after a failure of one design, as the last meal wears off.

    With ``backed`` the backup of the design starts after its time and brings what it is sized
    for.  Each step is exact for a use that changes along a line.
    """
    if failure not in FAILURES[:3]:
        raise DesignError(f"No course of oxygen is known for {failure!r}; say one of"
                          f" {', '.join(FAILURES[:3])}.")  # fmt: skip
    d, tank = sizing.design, tank_at(sizing, today)
    critical = float(d.keep.stress_oxygen)
    volume, full = float(tank.volume), float(tank.saturation)
    surface = float(tank.surface_transfer) / volume
    beta = float(d.air.beta)
    air = float(tank.conductance) / volume if failure == "pump only" else 0.0
    steady = float(demand(tank, failure, breath) - tank.fish * breath) / volume
    fish = float(tank.fish) * breath / volume
    factor, resting = float(d.wastes.hour_factor), float(d.safety.resting)
    since = float(d.safety.since_feeding or 0.0) if today else 0.0
    digestion = float(d.safety.digestion)
    at_start = backup.breathing_factor.__wrapped__(since, factor, resting, digestion)
    begins, extra, supply = np.inf, 0.0, 0.0
    if backed and d.safety.backup != "none":
        begins, extra, supply = _backup_brings(sizing, tank, volume)
    times = np.arange(0.0, duration + step / 2, step)
    if begins < duration:
        times = np.union1d(times, [begins])
    level, found = float(tank.start), [float(tank.start)]
    for t, until in zip(times[:-1].tolist(), times[1:].tolist(), strict=True):
        on = t >= begins - 1e-9
        g = surface + air + (extra if on else 0.0)
        brought = surface * full + (g - surface) * beta * full + (supply if on else 0.0)
        # a use that falls along a line acts like a constant one taken at this moment of the step
        fade = (g if level > critical else g + (steady + fish) / critical) * (until - t)
        middle = since + t + (until - t) * (0.5 + fade / 12.0)
        breathing = backup.breathing_factor.__wrapped__(middle, factor, resting, digestion)
        use = steady + fish * breathing / at_start
        both = backup.terms(use, critical, g, brought)
        level = backup.advance(until - t, level, critical, *both)
        found.append(level)
    return times, np.array(found)


def _backup_brings(sizing: Sizing, tank: Tank, volume: float) -> tuple[float, float, float]:
    """When the backup works [s], its conductance [1/s] and what it supplies [kg/(m³ s)]."""
    need = needs(sizing)
    if sizing.design.safety.backup_kind == "oxygen bottle":
        return float(need.starts_after), 0.0, float(demand(tank, "all power")) / volume
    part = 1.0
    if sizing.design.safety.backup_kind == "battery air":
        part = min(float(need.share), 1.0)
    return float(need.starts_after), part * float(tank.conductance) / volume, 0.0
