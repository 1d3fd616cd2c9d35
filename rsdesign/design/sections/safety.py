"""What stands ready when something stops, and how things stand today."""

from ...core.choices import choice
from ...core.kinds import (
    ApparentPower,
    Charge,
    Concentration,
    Fraction,
    Hours,
    Mass,
    Minutes,
    RateConstant,
    Ratio,
    Temperature,
    TemperatureDifference,
    Voltage,
)
from .section import section


@section()
class Safety:
    """What stands ready when something stops."""

    backup: str = choice("safety.backup")
    two_circuits: bool = choice("safety.two_circuits")
    backup_kind: str = choice("safety.backup_kind")
    tried: bool = choice("safety.tried")
    answer: Minutes = choice("safety.answer")
    ride: Hours = choice("safety.ride")
    fish_now: Mass | None = choice("safety.fish_now")
    since_feeding: Hours | None = choice("safety.since_feeding")
    water_now: Temperature | None = choice("safety.water_now")
    start_oxygen: Concentration | None = choice("safety.start_oxygen")
    alarm_oxygen: Concentration = choice("safety.alarm_oxygen")
    deadly_oxygen: Concentration = choice("safety.deadly_oxygen")
    surface_transfer: RateConstant = choice("safety.surface_transfer")
    resting: Ratio = choice("safety.resting")
    digestion: Hours = choice("safety.digestion")
    per_ten: Ratio = choice("safety.per_ten")
    heat_rise: TemperatureDifference = choice("safety.heat_rise")
    battery: Charge | None = choice("safety.battery")
    battery_voltage: Voltage = choice("safety.battery_voltage")
    discharge_depth: Fraction = choice("safety.discharge_depth")
    inverter_efficiency: Fraction = choice("safety.inverter_efficiency")
    ageing: Fraction = choice("safety.ageing")
    oxygen_caught: Fraction = choice("safety.oxygen_caught")
    code_letter: ApparentPower = choice("safety.code_letter")
