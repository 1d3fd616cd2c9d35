"""What stands ready when something stops, and how things stand today."""

from ...core import kinds
from ...core.choices import choice
from .section import section


@section()
class Safety:
    """What stands ready when something stops."""

    backup: str = choice("safety.backup")
    two_circuits: bool = choice("safety.two_circuits")
    backup_kind: str = choice("safety.backup_kind")
    tried: bool = choice("safety.tried")
    answer: kinds.Minutes = choice("safety.answer")
    ride: kinds.Hours = choice("safety.ride")
    fish_now: kinds.Mass | None = choice("safety.fish_now")
    since_feeding: kinds.Hours | None = choice("safety.since_feeding")
    water_now: kinds.Temperature | None = choice("safety.water_now")
    start_oxygen: kinds.Concentration | None = choice("safety.start_oxygen")
    alarm_oxygen: kinds.Concentration = choice("safety.alarm_oxygen")
    deadly_oxygen: kinds.Concentration = choice("safety.deadly_oxygen")
    surface_transfer: kinds.RateConstant = choice("safety.surface_transfer")
    resting: kinds.Ratio = choice("safety.resting")
    digestion: kinds.Hours = choice("safety.digestion")
    per_ten: kinds.Ratio = choice("safety.per_ten")
    heat_rise: kinds.TemperatureDifference = choice("safety.heat_rise")
    battery: kinds.Charge | None = choice("safety.battery")
    battery_voltage: kinds.Voltage = choice("safety.battery_voltage")
    discharge_depth: kinds.Fraction = choice("safety.discharge_depth")
    inverter_efficiency: kinds.Fraction = choice("safety.inverter_efficiency")
    ageing: kinds.Fraction = choice("safety.ageing")
    oxygen_caught: kinds.Fraction = choice("safety.oxygen_caught")
    code_letter: kinds.ApparentPower = choice("safety.code_letter")
