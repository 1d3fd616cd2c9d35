"""Two cards for the wall: what a water reading means, and what to do when something fails."""

from ...core.cautions import caution, cautions_on
from ...core.kinds import KINDS
from ...core.units import show
from ...sizing.system import Sizing
from ...studies.outage import study as outage
from .. import outage_words, standing_filter
from .. import ranges as bands
from ..keep_words import alkalinity_words
from .blocks import Blanks, Boxes, Caution, Cautions, Heading, Table, Text, Writer
from .emergency_marks import here

MOST_STEPS = 2
"""Steps of a box after its first act; the page and the command line have them all."""

PHONES = ("Power company", "Electrician", "Neighbour with a generator", "Fish supplier",
          "Fish and wildlife agency", "Veterinarian", "Water supplier", "Poison control")  # fmt: skip


def water_card(w: Writer) -> None:
    """Reading, what is likely wrong, what to do first."""
    w.add(
        Heading("Water card", fresh=True),
        Text("Test at the same hour each time. Write the reading down before you act. One odd"
             " reading asks for a second test."),
        Table("What a reading means",
              ("Reading", "Keep it", "Likely cause", "Do this first"), readings(w),
              (0.15, 0.2, 0.27, 0.38), large=True),
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
        ("Too hot", f"feed only below {said(fish.feeding_high, warm)}", "sun, no shade, shallow water",
         "No feed. Shade. More air: hot water holds less oxygen."),
        ("Too cold", f"feed only above {said(fish.feeding_low, warm)}", *_cold(w)),
        ("Ammonia high", f"at most {limit}", "too much feed, filter young, clogged or cold, low"
         " alkalinity", "No feed for a day. Swap a fifth of the water, treated. Check filter flow and"
         " air."),
        ("Nitrite high", "near 0 once the filter is ripe", "young filter, filter upset",
         "No feed. Swap water. Ask your extension office before you add salt."),
        ("pH low", "6.5 to 8.3", "acid from the filter, base left out", "Test alkalinity. Add baking"
         " soda a little at a time."),
        ("Alkalinity low", alkalinity_words(w.sizing, w.system),
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


def _then_backup(sizing: Sizing, spare: str) -> str:
    """That the backup comes next where a spare machine comes first; how it starts stands in another box."""
    return (
        "Still no air? Start the backup." if spare and sizing.design.safety.backup != "none" else ""
    )


def _filter_air(sizing: Sizing, circuits: str) -> str:
    """What is done when the machine that gives air to the filter alone stops; "" where there is none."""
    if not standing_filter.has_own_air(sizing):
        return ""
    return f"Only the filter's own air off ({circuits})? No feed, pump on, hang an air stone in, test ammonia."


def _cold(w: Writer) -> tuple[str, str]:
    """Likely cause and first act where the water is too cold, by the lid and the heater that there are."""
    heated = standing_filter.has_heater(w.sizing)
    lid = w.sizing.design.climate.cover != "none"
    causes = ("cold night", "lid off" if lid else "", "heater off" if heated else "")
    acts = (
        "No feed.",
        "Lay the lid." if lid else "Cover the tank for the night.",
        "Power off before you touch the heater." if heated else "",
    )
    return ", ".join(filter(None, causes)), " ".join(filter(None, acts))


def emergency(sizing: Sizing, system: str = "us") -> tuple:
    """The blocks of the emergency card: a box for each failure, restart order, phone lines."""
    study = outage.study(sizing)
    limit = show(sizing.design.keep.stress_oxygen, KINDS["concentration"], system, 2)
    local = here(sizing, system)
    power, air, pump, leak, heat = outage_words.boxes(study, system)
    boxes = [
        _box(power, after=()),
        _box(
            air,
            first=local.spare_air,
            then=(
                _then_backup(sizing, local.spare_air),
                air["then"][0],
                _filter_air(sizing, local.filter_air),
            ),
        ),
        _box(
            pump,
            then=(local.levels, local.spare_pump or pump["then"][0], pump["then"][1]),
            after=(),
        ),
        _box(heat),
        _box(leak, first=f"{local.shut} {leak['first']}".strip(), after=()),
    ]  # beside each other those of like height
    again = ("When it runs again", "In this order.", standing_filter.restart_order(sizing))
    boxes += [
        again,
        ("Fish gasp or die", "Act now, ask why later.", (
            "No feed. More air at once.", "Test oxygen, ammonia, nitrite, pH, chlorine.",
            "Take dead fish out; keep one cold for a veterinarian. No medicine on a guess.")),
        ("A person is hurt", "People before fish.", (
            "Shock: cut the power at the breaker before you touch them.",
            "Never climb after them into a sump or sludge tank: its air kills.",
            "Call the emergency number.")),
    ]  # fmt: skip
    return (
        Heading("Emergency card", fresh=True),
        Text("Air to the fish first, then find out why. In every case: no feed. When the air stops you have"
             f" {bands.minutes_to_act(sizing, system)} in the busiest hour. Before you touch a breaker or a plug:"
             " stand dry, with dry hands."),
        Text(f"With an oxygen meter: time is up at {limit}. Without an oxygen meter: do not wait until fish gasp."
             f" Circuits: {local.panel}. V marks: tags on valves."),
        Boxes(tuple(boxes)),
        Heading("Whom to call", 2),
        Blanks(PHONES),
    )  # fmt: skip


def _box(box: dict, first: str = "", then=None, after=None) -> tuple[str, str, tuple[str, ...]]:
    """A box of the card: title, the line that stands out, steps; those told take the place of its own."""
    steps = box["then"][:MOST_STEPS] if then is None else then
    ends = _after(box) if after is None else after
    return box["title"], _line(box), tuple(filter(None, (first or box["first"], *steps, *ends)))


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
    own = box["restart"]
    return (f"Then: {own[0]}",) if own and own[0] != "Air on." else ()
