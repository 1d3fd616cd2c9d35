"""The minutes the fish have when the air stops, and what the motors draw."""

from .. import balance
from ..design import Design
from ..figures import figure, stage
from ..kinds import Energy, Minutes, OxygenRate, Power
from ..parts import backup
from ..unitlist import DAY
from .air import Air
from .loads import Loads
from .pump import Pump
from .stock import Stock
from .tank import Tank


@stage()
class Standby:
    """Draw of the motors, and time to act in the fullest tank."""

    watts: Power = figure("Power at the wall, air and water")
    daily_energy: Energy = figure("Energy in a day")
    peak_use: OxygenRate = figure("Oxygen the fullest tank uses in the busiest hour")
    mean_use: OxygenRate = figure("The same on the mean hour")
    minutes_peak: Minutes = figure("Time from the oxygen kept to 3 mg/L, busiest hour")
    minutes_mean: Minutes = figure("The same on the mean hour")


def standby(
    design: Design, stock: Stock, loads: Loads, room: Tank, oxygen: Air, pumps: Pump
) -> Standby:
    """Power and time to act; everything in the water goes on breathing, the filter's too."""
    watts = balance.watts_together(oxygen.wire_power, pumps.plate_watts)
    peak, mean = (
        balance.share_by_feed(use, stock.tank_feed, stock.peak_feed)
        for use in (loads.peak_oxygen, loads.mean_oxygen)
    )
    levels = (design.keep.stress_oxygen, design.keep.oxygen, room.volume_each)
    return Standby(
        watts=watts,
        daily_energy=balance.energy_used(watts, DAY),
        peak_use=peak,
        mean_use=mean,
        minutes_peak=backup.time_to(*levels, peak),
        minutes_mean=backup.time_to(*levels, mean),
    )
