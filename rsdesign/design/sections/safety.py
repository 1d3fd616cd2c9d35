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
from .section import RULE, section


@section()
class Safety:
    """What stands ready when something stops."""

    backup: str = choice(
        "none",
        label="Air when the power fails",
        source="the user",
        options=("none", "by hand", "by itself"),
    )
    two_circuits: bool = choice(
        False, label="Two air machines on two breakers", source=RULE, sweep=False
    )
    backup_kind: str = choice(
        "battery air",
        label="What the backup is",
        help="Counts once there is a backup.",
        source="the user",
        options=("battery air", "inverter", "oxygen bottle", "generator"),
    )
    tried: bool = choice(
        False,
        label="Backup tried under load this month",
        source="the log on the wall",
        sweep=False,
    )
    answer: Minutes = choice(
        "20 min",
        "0 min",
        "12 h",
        label="Time until someone stands at the tank",
        help="From the alarm to a hand on the backup, at night.",
        source="a stop watch and a drill",
    )
    ride: Hours = choice(
        "8 h",
        "0.5 h",
        "168 h",
        label="Longest power cut to ride through",
        source="the power company's record",
    )
    fish_now: Mass | None = choice(
        None,
        "0 lb",
        "200000 lb",
        label="Fish in the fullest tank today",
        help="Left out, the most that the plan ever puts in it.",
        source="last sample weight times number",
    )
    since_feeding: Hours | None = choice(
        None,
        "0 h",
        "48 h",
        label="Time since the last meal",
        help="Left out, just fed: fed fish breathe hardest in the first hours.",
        source="the feeding log",
    )
    water_now: Temperature | None = choice(
        None,
        5.0,
        42.0,
        label="Water today",
        help="Left out, the hottest week that the design counts on.",
        source="thermometer",
    )
    start_oxygen: Concentration | None = choice(
        None,
        "0.5 mg/L",
        "20 mg/L",
        label="Oxygen at dawn",
        help="Measured before the first feed; left out, what the sizing holds in the busiest hour.",
        source="oxygen meter",
    )
    alarm_oxygen: Concentration = choice(
        "4 mg/L",
        "1 mg/L",
        "8 mg/L",
        label="Oxygen at which the alarm goes",
        source="4 mg/L starts emergency air, extension advice",
    )
    deadly_oxygen: Concentration = choice(
        "1 mg/L",
        "0.2 mg/L",
        "4 mg/L",
        label="Oxygen at which fish die",
        help="Tilapia live a while below it; most fish do not.",
        source="1 mg/L for warm-water fish within hours, " + RULE,
    )
    surface_transfer: RateConstant = choice(
        "0.5 m/day",
        "0 m/day",
        "5 m/day",
        label="Oxygen that still water takes up at its surface",
        help="A lid or a film on the water lowers it.",
        source="2.07 cm/h for lakes without wind, Cole and Caraco 1998, from memory",
    )
    resting: Ratio = choice(
        0.7,
        0.3,
        1.0,
        label="What unfed fish breathe, over the mean hour",
        source=RULE,
    )
    digestion: Hours = choice(
        "8 h", "1 h", "48 h", label="Time in which a meal's breathing dies away", source=RULE
    )
    per_ten: Ratio = choice(
        2.0,
        1.0,
        3.0,
        label="Breathing for each 10 °C warmer",
        source="about doubles, " + RULE,
    )
    heat_rise: TemperatureDifference = choice(
        3.0,
        0.0,
        10.0,
        label="How much a heat wave warms the water",
        help="Over the hottest week that the design counts on.",
        source=RULE,
    )
    battery: Charge | None = choice(
        None,
        "1 Ah",
        "20000 Ah",
        label="Battery you own, as labelled",
        source="the battery's label",
    )
    battery_voltage: Voltage = choice(
        "12 V", "6 V", "96 V", label="Battery voltage", source="the battery's label"
    )
    discharge_depth: Fraction = choice(
        0.5,
        0.2,
        0.95,
        label="Share of a battery that may be used",
        source="0.5 for lead-acid, 0.8 to 0.9 for lithium, battery makers",
    )
    inverter_efficiency: Fraction = choice(
        0.85, 0.5, 1.0, label="What the inverter passes on", source=RULE
    )
    ageing: Fraction = choice(
        0.8,
        0.3,
        1.0,
        label="What an old, cold battery keeps",
        source="20 to 25 % is lost, battery makers",
    )
    oxygen_caught: Fraction = choice(
        0.2,
        0.02,
        1.0,
        label="Bottled oxygen that dissolves",
        help="Fine stones in 3 ft of water.",
        source=RULE,
    )
    code_letter: ApparentPower = choice(
        "9.5 kVA",
        "1 kVA",
        "30 kVA",
        label="Starting load for each horsepower",
        help="By the code letter on the motor's plate.",
        source="letter L, motors below 1 hp, NEC Table 430.7(B)",
    )
