"""The front of a hand-out: one page that says it all, the drawings, the parts to buy."""

import datetime

import numpy as np

from ...building.problems import tape
from ...building.weights import weights
from ...core.choices import fields_of
from ...core.kinds import KINDS
from ...core.language import listed
from ...core.units import number, show
from ...design.model import Design
from ...design.prices import prices_of
from ...equations.costs.budget import LABELS
from ...season.batch_order import order_of
from ...sizing import margins as verdict
from ...sizing.judging import LET_OUT
from ...sizing.margins import percent, worst_first
from ...sizing.worst_first import among, worst_part
from ...studies.enterprise import ITEMS, Item
from ...studies.limits import limits
from .. import year_words
from ..building.all_lists import building_of
from ..building.sums import sums_of
from ..cost import BUDGET, cents, money, per_weight, price_unit
from ..drawings import scene
from ..limits import answer, still_to_buy
from .blocks import Figure, Heading, Steps, Table, Text, Writer

NOTICE = (
    "A teaching estimate, not an engineer's design. Ask the fish and wildlife agency before you buy"
    " fish. Have a licensed electrician do all power near water."
)

WIDTH = 760.0
"""Width at which the whole system is drawn [px]."""
WIDEST, HIGHEST = 1.0, 0.9
"""Most of the page's width that this drawing takes, in width and in height: its page has room for more."""

MANY = 6
"""Failed checks shown with what to do; of more the sentence that says what fails, so that all of them
stand on the page."""


def summary(w: Writer, date: datetime.date | None = None) -> None:
    """Goal, what limits, every part's balance, yearly cost, and what to mend."""
    s, d, system = w.sizing, w.sizing.design, w.system
    if d.note.strip():
        w.add(Text("".join(c if c.isprintable() else " " for c in d.note)[:600].strip()))
    fish = d.stock.species.replace("_", " ")
    each = show(d.goal.weight, KINDS["fish weight"], system)
    w.add(
        Text(
            f"The goal: {w.said('stock.fish')} {fish} of {each} from each batch."
            f" You buy {w.said('stock.to_stock')} small fish for a batch"
            f"{_harvest(w, date)} On the biggest day all fish eat"
            f" {w.said('stock.peak_feed')}. Feed drives every part below."
        ),
        *(Text(words) for words in year_words.lines(s, system)),
        Text(_system(w)),
        Text(_limit(w)),
        Text(
            f"If the air stops, the fish have {w.minutes_to_act()} until they are in distress, in the"
            f" busiest hour of the hottest week. Baking soda on the biggest feed day:"
            f" {w.baking_soda()}."
        ),
        balance(w),
    )
    for words in costs(w):
        w.add(Text(words))
    found = verdict.checks(s, system)
    wrong = [c for c in found if not np.all(c.ok)]
    circuits, label = _on_two(w), fields_of(Design)["safety.two_circuits"].choice.label
    built = [c for c in wrong if circuits and c.words.startswith(label)]
    left = [c for c in wrong if c not in built]
    if left:
        w.add(Heading("Mend these first"), Steps(tuple(("", words) for words in mends(left))))
    for c in built:
        w.add(
            Text(f"The booklet to build by has this already, by its circuits {circuits}: {c.words}")
        )
    if len(wrong) < MANY:
        for c in found:
            if c.word == LET_OUT:
                w.add(Text(c.words))
    w.add(Text(NOTICE, soft=True))


def _harvest(w: Writer, date: datetime.date | None) -> str:
    """After how many days a batch is harvested, where no season ends it sooner."""
    order, warm = order_of(w.sizing, date), w.sizing.design.site.water_temperature
    counted = w.said("stock.cycle")
    if not order.closes:
        return f" and harvest after {counted}s."
    return (f". Kept at {show(warm, KINDS['temperature'], w.system)} they would take {counted}s; in your weather the"
            f" harvest is on day {order.days} at the latest.")  # fmt: skip


def _on_two(w: Writer) -> str:
    """The circuits of the air machines as laid out, where there are two and more; "" where there is one."""
    found = [str(c.number) for c in building_of(w.sizing).circuits if c.machine == "air machine"]
    return listed(found) if len(found) > 1 else ""


def mends(wrong: list) -> list[str]:
    """What fails, worst first; where much fails, what to do about the worst alone."""
    first, rest = wrong[:MANY], wrong[MANY:]
    return [c.words for c in first] + [c.words.partition(". ")[0].rstrip(".") + "." for c in rest]


def _system(w: Writer) -> str:
    d = w.sizing.design
    tanks = float(w.sizing.stock.tanks)
    count = "one tank" if tanks == 1 else f"{tanks:.0f} tanks"
    settler = "no settler" if d.solids.settler == "none" else f"a {d.solids.settler} settler"
    return (
        f"The system: {count} with {w.said('tank.volume')} of water, {settler}, a {d.filter.type}"
        f" filter, {w.said('air.provided')} of air and a flow of {w.said('pump.flow')}."
    )


def _limit(w: Writer) -> str:
    """The tightest part, and what the parts at hand carry."""
    tight = worst_part(w.sizing.parts)
    given = among(w.sizing.parts)
    words = (
        f"What limits it: {tight.label.lower()} is the tightest part, with"
        f" {percent(tight.margin, tight.form)}{given}."
    )
    if given:
        words += " Parts that say sized to fit are as large as the feed asks, and never the limit."
    found = limits(w.sizing.design, budget=0.0)  # what to buy is left out here
    if not found.told:
        return words
    if found.none or found.complete:
        return f"{words} What you own: {answer(found, w.system).text}"
    return f"{words} {still_to_buy(found)}"


def balance(w: Writer) -> Table:
    """Every part: needed, given, the rule of thumb, and how it stands."""
    rows = []
    for p in worst_first(w.sizing.parts):
        needed = w.plain(p.required, p.kind)
        rows.append((
            p.label,
            f"at most {needed}" if p.form == "at most" else needed,
            w.plain(p.provided, p.kind),
            w.plain(p.rule, p.kind) or "none",
            f"{p.word}, {percent(p.margin, p.form)}",
        ))  # fmt: skip
    return Table(
        "Every part, the tightest first",
        ("Part", "Needed", "Given", "Rule of thumb", "How it stands"),
        tuple(rows),
        (0.18, 0.2, 0.17, 0.15, 0.3),
    )


def costs(w: Writer) -> list[str]:
    """What a year costs and leaves, own hours paid and unpaid."""
    b, mark = w.money.budget, w.sizing.design.prices.currency
    return [
        f"A full year costs {money(b.costs, mark)} with your own hours paid and"
        f" {money(b.costs_unpaid, mark)} with them unpaid. That is"
        f" {per_weight(b.cost_of_each, w.system, mark)} of fish, or"
        f" {per_weight(b.cost_of_each_unpaid, w.system, mark)} unpaid."
        f" The year leaves {money(b.net, mark)} paid and {money(b.net_unpaid, mark)} unpaid.",
        f"{sums_of(w.sizing, named=0)} The work takes"
        f" {number(w.money.minutes_a_day / 60, 2)} minutes a day. Prices that are not yours are"
        " invented: put in your own quotes.",
    ]


def drawings(w: Writer) -> None:
    """The whole system to scale, and the sizes that the parts need."""
    w.add(Heading("The drawing", fresh=True))
    w.add(Text("Arrows show which way water, air and waste go. Measure twice before you cut."))
    whole = scene.drawing(w.sizing, w.system, WIDTH, handles=False)
    wide = min(WIDEST, HIGHEST / _height_of(whole))
    w.add(Figure(whole, scene.sentence_of(whole), wide, "The whole system"))
    length = ("tank.length",) if w.sizing.design.tank.shape == "rectangle" else ()
    paths = (*length, "tank.width", "tank.depth", "tank.volume_each",
             "solids.across", "pump.pipe", "pump.drain_pipe", "pump.standpipe", "air.stone_depth",
             "pump.tank_level", "pump.settler_level")  # fmt: skip
    w.add(
        figures(
            w,
            "Sizes that the parts need at least; the booklet to build by has them as built",
            paths,
            _as_built(w),
        )
    )


def _as_built(w: Writer) -> tuple[tuple[str, str], ...]:
    """Wall and load of a tank as the booklet to build by has them: more than the least."""
    layout = building_of(w.sizing).layout
    tank = layout.vessel("tank")
    assert tank is not None
    load = next(one.load for one in weights(layout) if one.name == "tank")
    return (
        ("Wall of a tank, as built", tape(tank.wall, w.system)),
        ("Load on the floor under it, as built", show(load, KINDS["floor load"], w.system)),
    )


def _height_of(svg: str) -> float:
    """Height of a drawing over its width."""
    _, _, width, height = map(float, svg.partition('viewBox="')[2].partition('"')[0].split())
    return height / width


def figures(w: Writer, caption: str, paths, more=()) -> Table:
    """Figures as a table; ``more``: rows after them."""
    from ...sizing.system import figure_at  # noqa: PLC0415

    rows = (*((figure_at(p).label, w.said(p)) for p in paths), *more)
    return Table(caption, ("What", "How much"), rows, (0.68, 0.32), beside=True)


def parts(w: Writer) -> None:
    """What to buy: what, size, how many, why, price, life."""
    own = w.money.own_prices
    w.add(
        Heading("Parts and first cost", fresh=True),
        Text(
            "Prices you gave are yours; the rest are invented: replace them with quotes."
            if own
            else "Every price is invented until you replace it with a quote."
        ),
        Text(f"These are the parts of the budget. {sums_of(w.sizing)}"),
    )
    found = prices_of(w.sizing.design)
    mark = w.sizing.design.prices.currency
    items = {i.name: i for i in w.money.items}
    rows, words = [], _sizes(w)
    for name, price, label, *_ in (row for row in ITEMS if row[0] in items):
        item: Item = items[name]
        size, count, why = words[name]
        unit = price_unit(price, w.system)
        each = cents(found[price].value / unit.factor, mark) + (
            f" {unit.label}" if unit.label else ""
        )
        rows.append((label, size, count, why, each, money(item.cost, mark),
                     f"{number(item.life)} years"))  # fmt: skip
    rows.append(("In all, by the budget", "", "", "", "", money(w.money.investment, mark), ""))
    whole = building_of(w.sizing).bill.total
    rows.append(
        (
            "Counted by the piece",
            "",
            "",
            "as laid out, in Buy and build",
            "",
            money(whole, mark),
            "",
        )
    )
    w.add(
        Table(
            "Parts, why each has its size, what it costs and how long it lasts",
            ("Part", "Size", "How many", "Why this size", "Price", "Cost", "Life"),
            tuple(rows),
            (0.12, 0.2, 0.09, 0.28, 0.12, 0.1, 0.09),
            strong=(len(rows) - 2, len(rows) - 1),
        ),
        year(w),
    )


def year(w: Writer) -> Table:
    """The budget of a full year, in the order that extension uses."""
    b, mark = w.money.budget, w.sizing.design.prices.currency
    rows, sums = [], []
    for names, total, words in BUDGET:
        rows += [(LABELS[n], money(getattr(b, n), mark)) for n in names]
        sums.append(len(rows))
        rows.append((words, money(getattr(b, total), mark)))
    return Table("A full year of money", ("Line", "In a year"), tuple(rows), (0.72, 0.28),
                 beside=True, strong=tuple(sums))  # fmt: skip


def _plates(w: Writer) -> str:
    """Watts by the plates: of one machine, and of all that are bought, the filter's own too."""
    air, bed = w.sizing.air, w.sizing.bed
    power, bought = KINDS["power"], float(air.count + air.spare)
    words = "no machine in the tables"
    if bought > 0:
        each = show(air.plate_watts / bought, power, w.system)
        words = f"{each} each by the plate, {w.said('air.plate_watts')} in all"
    return words + (f", {w.said('bed.wire_power')} for the filter's" if bed.count > 0 else "")


def _sizes(w: Writer) -> dict[str, tuple[str, str, str]]:
    """Size, count and reason of each part bought."""
    d, system = w.sizing.design, w.system
    said = w.said
    shape = f"{d.tank.shape}, {said('tank.width')} across"
    if d.tank.shape == "rectangle":
        shape = f"{said('tank.width')} by {said('tank.length')}"
    layout = building_of(w.sizing).layout
    tank = layout.vessel("tank")
    assert tank is not None
    wall = tape(tank.wall, system)
    discs = next((f": built as {b.each} discs in each tank" for b in layout.diffusers
                  if b.vessel == "tank" and b.kind == "disc"), "")  # fmt: skip
    no_settler = d.solids.settler == "none"
    long = show(d.pump.length, KINDS["length"], system)
    fall = show(d.pump.drain_length, KINDS["length"], system)
    rolled = ""
    if w.sizing.bed.count > 0:
        rolled = f", {said('bed.device')} for its air, {said('bed.count')} running"
    return {
        "tank": (f"{shape}, water {said('tank.depth')} deep, wall {wall} as built",
                 said("stock.tanks"), f"fish need {said('tank.required')} of water"),
        "settler": ("none" if no_settler else f"{d.solids.settler}, {said('solids.area')}",
                    "0" if no_settler else "1",
                    "none chosen" if no_settler else
                    f"{said('solids.settler_flow')} must slow down enough to drop its waste"),
        "media": (f"{d.filter.medium}, {said('filter.media_volume')}", "1",
                  f"{said('filter.required')} of surface for {said('filter.load')} of ammonia"),
        "vessel": (f"{d.filter.type}, {said('filter.vessel')}{rolled}", "1", "room for the media to work"),
        "air_machine": (f"{said('air.device')}, {said('air.device_flow')} at"
                        f" {said('air.discharge_pressure')}; {_plates(w)}", f"{said('air.count')} and {said('air.spare')} spare",
                        f"the busiest hour needs {said('air.required')}"),
        "stones": (f"{said('air.stone_depth')} deep", said("air.stones"), f"to spread that air{discs}"),
        "pump": (f"{said('pump.model')}, {said('pump.plate_watts')} in all", said("pump.count"),
                 f"lifts {said('flow.required')} by {said('pump.head')}"),
        "pipe": (f"pressure {said('pump.pipe')} inside, {long}; drain {said('pump.drain_pipe')}"
                 f" inside, {fall}", f"{said('pump.pipes')} and {said('pump.drains')}",
                 "wide enough to save power, narrow enough to keep waste moving"),
        "backup": (f"starts {d.safety.backup}" if d.safety.backup != "none" else "none",
                   "0" if d.safety.backup == "none" else "1",
                   f"without air the fish have {w.minutes_to_act()}"),
        "lid": (f"{d.climate.cover}, {w.plain(w.sizing.tank.floor, KINDS['area'])} of water in each tank",
                said("stock.tanks"), "keeps water and heat in"),
        "meters": ("oxygen, pH, tests, nets, scale", "1 set", "what you cannot see, you test"),
        "electrics": ("outlets, breakers", "1", "a licensed electrician, ground-fault protection"),
    }  # fmt: skip
