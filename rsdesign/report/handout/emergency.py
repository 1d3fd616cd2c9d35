"""Two cards for the wall: what a water reading means, and what to do when something fails."""

from ...core.cautions import caution, cautions_on
from ...core.kinds import KINDS
from ...core.units import show
from ...sizing.system import Sizing
from ...studies.outage import study as outage
from .. import outage_words
from .. import ranges as bands
from .blocks import Blanks, Boxes, Caution, Cautions, Heading, Table, Text, Writer

MOST_STEPS = 2
"""Steps of a box after its first act; the page and the command line have them all."""

PHONES = ("Power company", "Electrician", "Neighbour with a generator", "Fish supplier",
          "Fish and wildlife agency", "Veterinarian", "Water supplier", "Poison control")  # fmt: skip


def water_card(w: Writer) -> None:
    """Reading, what is likely wrong, what to do first."""
    w.add(
        Heading("Water card"),
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
         "the filter eats it each day", f"Add baking soda: about {w.baking_soda()} a full"
         " feed day, in small lots, as the test asks."),
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
    study = outage.study(sizing)
    limit = show(sizing.design.keep.stress_oxygen, KINDS["concentration"], system, 2)
    boxes = [
        (box["title"], _line(box), (box["first"], *box["then"][:MOST_STEPS], *_after(box)))
        for box in outage_words.boxes(study, system)
    ]
    power, air, pump, leak, heat = boxes
    again = ("When it runs again", "In this order.", outage_words.RESTART)
    boxes = [power, air, pump, heat, leak, again]  # beside each other those of like height
    boxes += [
        ("Fish gasp or die", "Act now, ask why later.", (
            "No feed. More air at once.", "Test oxygen, ammonia, nitrite, pH, chlorine.",
            "Take dead fish out; keep one cold for a veterinarian. No medicine on a guess.")),
        ("A person is hurt", "People before fish.", (
            "Shock: cut the power at the breaker before you touch them.",
            "In a sump or sludge tank: never climb after them. The air can kill you too.",
            "Call the emergency number.")),
    ]  # fmt: skip
    return (
        Heading("Emergency card", fresh=True),
        Text("Hang this where the tank is. First act, then find out why. In every case: no feed."
             f" When the air stops you have {bands.minutes_to_act(sizing, system)}, in the busiest hour"
             " of the hottest week."),
        Text(f"With an oxygen meter: time is up at {limit}. Without an oxygen meter: fish that gasp"
             " have minutes; do not wait for it."),
        Boxes(tuple(boxes)),
        Heading("Whom to call", 2),
        Blanks(PHONES),
    )  # fmt: skip


def cautions_at(place: str, but: tuple[str, ...] = ()) -> Cautions:
    """The cautions of a place, each with whom to ask; ``but`` names those that stand elsewhere."""
    elsewhere = [caution(name) for name in but]
    return Cautions(
        tuple(Caution(row["hazard"], row["fact"], row["ask"]) for row in cautions_on(place)
              if row not in elsewhere)
    )  # fmt: skip


def _line(box: dict) -> str:
    """How long there is, else what stops."""
    alarm = f"Until {outage_words.LEVEL_WORDS['alarm']}"
    kept = [(until, time) for until, time in box["times"] if until != alarm]
    words = "; ".join(f"{until[0].lower()}{until[1:]}: {time}" for until, time in kept)
    return words[:1].upper() + words[1:] if words else box["stops"]


def _after(box: dict) -> tuple[str, ...]:
    """What starts first, where the box has an order of its own."""
    own = [words for words in box["restart"] if words not in outage_words.RESTART]
    return (f"Then: {own[0]}",) if own and own[0] != "Air on." else ()
