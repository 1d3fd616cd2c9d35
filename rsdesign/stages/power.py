"""The minutes the fish have when the air stops, and what the motors draw."""

from .. import balance
from ..design import Design
from ..figures import figure, stage
from ..kinds import DAY, Energy, Minutes, Power
from ..parts import backup
from .air import Air
from .pump import Pump
from .tank import Tank


@stage()
class Standby:
    """Draw of the motors, and time to act in the fullest tank."""

    watts: Power = figure("Power at the wall, air and water")
    daily_energy: Energy = figure("Energy in a day")
    minutes_peak: Minutes = figure("Time from the oxygen kept to 3 mg/L, busiest hour")
    minutes_mean: Minutes = figure("The same on the mean hour")


def standby(design: Design, room: Tank, oxygen: Air, pumps: Pump, tank_mean) -> Standby:
    """Power and time to act; ``tank_mean`` is the mean oxygen use of the fullest tank [kg/s]."""
    watts = balance.watts_together(oxygen.wire_power, pumps.plate_watts)
    start = design.keep.oxygen
    return Standby(
        watts=watts,
        daily_energy=balance.energy_used(watts, DAY),
        minutes_peak=backup.time_to(
            design.keep.stress_oxygen, start, room.volume_each, oxygen.tank_demand
        ),
        minutes_mean=backup.time_to(design.keep.stress_oxygen, start, room.volume_each, tank_mean),
    )
