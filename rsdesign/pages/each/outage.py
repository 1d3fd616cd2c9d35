"""The power fails."""

from ..spec import Control, Guess, Page

PAGE = Page(
    name="outage",
    file="56_power_fails.ipynb",
    title="Power fails",
    question="It is 2 am and the breaker trips. How long do the fish have?",
    words=(
        "Heat gives you hours. Oxygen gives you minutes.",
        "A phone alarm alone is too slow if you live 20 minutes away.",
    ),
    guess=Guess("How many minutes until the fish are in distress?", "standby.minutes_peak"),
    short=(
        Control("safety.fish_now", "1 lb", "1000 lb", "the last weight of one fish times their number"),
        Control("safety.since_feeding", "0 h", "12 h"),
        Control("safety.water_now", "60 °F", "100 °F", "with a thermometer"),
        Control("safety.start_oxygen", "2 mg/L", "9 mg/L", "with an oxygen meter at dawn"),
        Control("safety.backup"),
    ),
    more=(
        Control("safety.backup_kind"),
        Control("safety.tried"),
        Control("safety.answer", "0 min", "60 min", "a stop watch and a drill"),
        Control("safety.ride", "1 h", "48 h"),
        Control("safety.two_circuits"),
        Control("safety.alarm_oxygen", "2 mg/L", "6 mg/L"),
        Control("keep.stress_oxygen", "1 mg/L", "5 mg/L"),
        Control("safety.deadly_oxygen", "0.3 mg/L", "3 mg/L"),
        Control("wastes.oxygen_per_feed", "0.3", "0.65"),
        Control("safety.resting", "0.4", "1"),
        Control("safety.surface_transfer", "0 m/day", "3 m/day"),
        Control("safety.heat_rise"),
        Control("safety.battery", "5 Ah", "1000 Ah", "on the battery's label"),
        Control("safety.battery_voltage", "6 V", "48 V"),
        Control("safety.discharge_depth", "30 %", "90 %"),
        Control("safety.oxygen_caught", "5 %", "90 %"),
    ),
    picture="outage.falling",
    figures=(
        "standby.minutes_peak", "standby.minutes_low", "standby.minutes_high", "standby.start",
        "standby.peak_use", "standby.watts", "standby.daily_energy", "air.peak_oxygen",
        "tank.density", "tank.volume_each",
    ),
    parts=("power",),
    card="standby",
    try_this="Skip the evening feed: set twelve hours since the last meal. How many minutes more?",
    blocks=("failures",),
    tables=True,
    answer=True,
)  # fmt: skip
