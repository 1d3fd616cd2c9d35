"""The minutes the fish have when the air stops, and what the motors draw."""

from ... import equations as eq
from ...core.figures import figure, stage
from ...core.kinds import Concentration, Energy, EnergyPerFish, Minutes, OxygenRate, Power
from ...core.unit_table import DAY
from ...design.catalogue import Catalogue
from ...design.model import Design
from ...equations.power import backup, minutes
from .air import Air
from .bed import Bed
from .loads import Loads
from .pump import Pump
from .stock import Stock
from .tank import Tank


@stage()
class Standby:
    """Draw of the motors, and time to act in the fullest tank."""

    watts: Power = figure("Power at the wall, air and water, in the busiest hour")
    mean_watts: Power = figure("The same on a day of mean feed")
    daily_energy: Energy = figure("Energy in a day of mean feed")
    energy_for_harvest: EnergyPerFish = figure("Energy for each weight of fish harvested")
    start: Concentration = figure("Oxygen in the moment the air stops")
    peak_use: OxygenRate = figure("Oxygen the fullest tank uses in the busiest hour, air off")
    mean_use: OxygenRate = figure("The same on the mean hour")
    minutes_peak: Minutes = figure("Minutes to act: air off until fish in distress, busiest hour")
    minutes_low: Minutes = figure("The same, short end of its range")
    minutes_high: Minutes = figure("The same, long end of its range")
    minutes_mean: Minutes = figure("Time until fish in distress on the mean hour")


def standby(
    design: Design, stock: Stock, loads: Loads, tank: Tank, oxygen: Air, bed: Bed, pumps: Pump,
    tables: Catalogue,
) -> Standby:  # fmt: skip
    """Power and time to act, in the busiest hour of the hottest week.

    The count starts at the oxygen really held.  With the pump still running the filter takes from
    the tank what its own air no longer brings; without it the fish have a little longer.
    """
    keep = design.keep
    watts, mean_watts = (
        eq.air.total_motor_power(air_power, bed.wire_power, pumps.plate_watts)
        for air_power in (oxygen.wire_power, oxygen.mean_power)
    )
    peak_fish, mean_fish, nitrifiers, waste = (
        eq.air.share_by_feed(use, stock.tank_feed, stock.peak_feed)
        for use in (
            loads.peak_fish,
            minutes.warm_oxygen(loads.fish_oxygen, loads.warmth),
            loads.nitrifier_oxygen,
            loads.heterotroph_oxygen,
        )
    )
    bacteria = minutes.bacteria_oxygen(nitrifiers, tables.filter_type.share_air_off, waste)
    start = minutes.oxygen_at_stop(keep.oxygen, oxygen.peak_oxygen)
    given = (
        keep.stress_oxygen, start, keep.stress_oxygen, oxygen.saturation, tank.volume_each,
    )  # fmt: skip
    surface = minutes.surface_transfer_of(design.safety.surface_transfer, tank.floor)
    own = (design.wastes.oxygen_per_feed, surface)
    low, likely, high = (
        minutes.minutes_to(end, *given, peak_fish, bacteria, *own) for end in minutes.ENDS
    )
    return Standby(
        watts=watts,
        mean_watts=mean_watts,
        daily_energy=eq.air.energy_used(mean_watts, DAY),
        energy_for_harvest=eq.air.energy_for_harvest(mean_watts, stock.harvest),
        start=start,
        peak_use=backup.demand_after(peak_fish, 1.0, 1.0, 1.0, bacteria),
        mean_use=backup.demand_after(mean_fish, 1.0, 1.0, 1.0, bacteria),
        minutes_peak=likely,
        minutes_low=low,
        minutes_high=high,
        minutes_mean=minutes.minutes_to("likely", *given, mean_fish, bacteria, *own),
    )
