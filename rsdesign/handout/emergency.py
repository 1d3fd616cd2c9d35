"""Two cards for the wall: what a water reading means, and what to do when something fails."""

from dataclasses import dataclass

from .. import routines
from ..kinds import KINDS
from ..parts.backup import time_to
from ..sizing import Sizing
from ..units import number, show
from .blocks import Blanks, Boxes, Heading, Steps, Table, Text, Writer

PHONES = ("Power company", "Electrician", "Neighbour with a generator", "Fish supplier",
          "Fish and wildlife agency", "Veterinarian", "Water supplier", "Poison control")  # fmt: skip


@dataclass(frozen=True, slots=True)
class Minutes:
    """Time to act when no air comes [s], and the reading at which it ends [kg/m³]."""

    busiest: float
    mean: float
    limit: float


def minutes_without_air(sizing: Sizing) -> Minutes:
    """How long the fish have once nothing brings oxygen, in the busiest hour and on the mean hour."""
    keep, volume = sizing.design.keep, sizing.tank.volume_each
    busiest, mean = (
        float(time_to.bare(keep.stress_oxygen, keep.oxygen, volume, use))
        for use in (sizing.standby.peak_use, sizing.standby.mean_use)
    )
    return Minutes(busiest, mean, keep.stress_oxygen)


def water_card(w: Writer) -> None:
    """Reading, what is likely wrong, what to do first."""
    w.add(
        Heading("Water card", fresh=True),
        Text("Test at the same hour each time. Write the reading down before you act. One odd"
             " reading asks for a second test."),
        Table("What a reading means",
              ("Reading", "Keep it", "Likely cause", "Do this first"), readings(w),
              (0.15, 0.2, 0.29, 0.36)),
        Text("Limits: the choices of this design and the table of fish. Causes and first steps:"
             " common practice.", soft=True),
    )  # fmt: skip


def readings(w: Writer) -> tuple[tuple[str, str, str, str], ...]:
    """The rows of the water card, with the limits of the design."""
    d, fish = w.sizing.design, w.sizing.tables.species
    level = KINDS["concentration"]

    def said(value, kind=level) -> str:
        return show(value, kind, w.system, 2)

    warm = KINDS["temperature"]
    limit = w.said("gas.ammonia_limit")
    chlorine = "0" if d.source.disinfectant == "none" else f"0 (yours adds {d.source.disinfectant})"
    return (
        ("Oxygen low", f"above {said(d.keep.oxygen)}; danger at {said(d.keep.stress_oxygen)}",
         "air stopped, stones clogged, hot water, too much feed",
         "No feed. Add air now. Then look at machine, valve and stones."),
        ("Too hot", f"feed only below {said(fish.feeding_high, warm)}", "sun, no shade, thin water",
         "No feed. Shade. More air: hot water holds less oxygen."),
        ("Too cold", f"feed only above {said(fish.feeding_low, warm)}", "cold night, lid off,"
         " heater off", "No feed. Lay the lid. Power off before you touch a heater."),
        ("Ammonia high", f"at most {limit}", "too much feed, filter young, clogged or cold, low"
         " alkalinity", "No feed for a day. Swap a fifth of the water, treated. Check filter flow and"
         " air."),
        ("Nitrite high", "near 0 once the filter is ripe", "young filter, filter upset",
         "No feed. Swap water. Ask your extension office before you add salt."),
        ("pH low", "6.5 to 8.3", "acid from the filter, base left out", "Test alkalinity. Add baking"
         " soda a little at a time."),
        ("Alkalinity low", f"near {said(d.keep.alkalinity)}, never under {said(0.040)}",
         "the filter eats it each day", f"Add baking soda: up to {w.said('water.bicarbonate_net')},"
         " in small lots."),
        ("Nitrate high", f"at most {said(d.keep.nitrate)}", "too little new water",
         f"Give {w.said('water.exchange')} of new water, treated."),
        ("Carbon dioxide high", f"at most {said(d.keep.carbon_dioxide)}", "too little air, closed"
         " room", "More air. Open the room. Never breathe over a closed tank."),
        ("Water cloudy", f"fine waste at most {said(d.keep.fines)}", "settler full, screen clogged",
         "Drain the settler. Rinse the screen, power off."),
        ("Chlorine", chlorine, "water not treated", "Stop the fill. Treat the tank at once by the"
         " label."),
    )  # fmt: skip


def emergency(sizing: Sizing, system: str = "us") -> tuple:
    """The blocks of the emergency card: a box for each failure, restart order, phone lines."""
    time = minutes_without_air(sizing)
    level = KINDS["concentration"]
    limit = show(time.limit, level, system, 2)
    busy, mean = (_minutes(t) for t in (time.busiest, time.mean))
    have = f"You have {busy} in the busiest hour, {mean} in a quiet one."
    meter = (f"With an oxygen meter: time is up when it reads {limit}. Without one: count from when"
             " the bubbles stopped. Fish at the top mean time is up.")  # fmt: skip
    backup = {
        "none": "You have no backup air in this design. Get one: a battery air pump at least.",
        "by hand": "Start the backup air by hand.",
        "by itself": "The backup air should start by itself: see that it does.",
    }[sizing.design.safety.backup]
    spare = (f"Water that runs down when it stops: about"
             f" {show(sizing.pump.drain_down, KINDS['small volume'], system, 2)}. See that the sump"
             " holds it.")  # fmt: skip
    boxes = (
        ("Power is off", have, ("No feed.", backup, meter,
         "A generator stands outdoors, far from doors and windows, and never feeds the house"
         " wiring.")),
        ("Air stops, power is on", have, ("No feed.", "Open the spare air or move stones to the"
         " machine that runs.", meter, "Look at breaker, valve, filter of the machine, split hose.")),
        ("Pump stops, air runs", "You have hours, not days.", ("No feed until it runs.",
         "Power off at the breaker before you reach in.", "Clean the screen. Look at the float.",
         spare, "A filter without flow goes foul in hours: send its first water to the drain.")),
        ("Water level falls", "Act before the drain runs dry.", ("Stop the pump if the sump runs"
         " dry.", "Look for a leak, an open valve or a siphon.", "Fill only with treated water. Never"
         " walk away from a hose.")),
        ("Fish gasp or die", "Act now, ask why later.", ("No feed. More air at once.", "Test oxygen,"
         " ammonia, nitrite, pH and chlorine, in this order.", "Take dead fish out. Keep one cold for"
         " a veterinarian.", "No medicine on a guess: these fish are food.")),
        ("A person is hurt", "People before fish.", ("Shock: cut the power at the breaker before you"
         " touch them.", "Fallen in a sump or sludge tank: never climb after them. The air can kill"
         " you too.", "Call the emergency number.")),
    )  # fmt: skip
    return (
        Heading("Emergency card", fresh=True),
        Text("Hang this where the tank is. First act, then find out why. In every case: no feed."),
        Boxes(boxes),
        Heading("When it runs again", 2),
        Steps(tuple(("", words) for _, words in routines.restart()), numbered=True),
        Heading("Whom to call", 2),
        Blanks(PHONES),
        Text("Time to act is counted from the oxygen you keep, with use held as it is and nothing"
             " taken in from the surface.", soft=True),
    )  # fmt: skip


def _minutes(seconds: float) -> str:
    return (
        show(seconds, KINDS["minutes"], "us", 2)
        if seconds < 6e4
        else f"{number(seconds / 3600, 2)} h"
    )
