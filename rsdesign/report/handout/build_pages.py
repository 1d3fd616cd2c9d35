"""Chapters of the hand-out for who builds: levels, everything to buy, cuts, holes, circuits, steps."""

from ...core.kinds import KINDS
from ...core.units import show
from ...equations.biofilter import doses
from ...studies.heat.yearly import hotter_than_counted
from ..building import rows
from ..building.all_lists import Building, building_of, water_of
from ..building.text import CHECKED, first_line
from ..plan import FIRST_WEEKS
from ..routines import feed_words
from ..startup import salt_to_raise
from .blocks import Heading, Steps, Table, Text, Writer
from .computed import start_of

GREENHOUSE = (
    "The greenhouse or the room is not in this list, and neither are tools, permits and the fish."
)


def to_buy(w: Writer) -> None:
    """Everything to buy, in this order, and how it differs from the first cost of the budget."""
    found = building_of(w.sizing)
    mark = w.sizing.design.prices.currency
    w.add(
        Heading("Everything to buy, in this order", fresh=True),
        Text(first_line(found, mark)),
        Text(f"{CHECKED} {GREENHOUSE} Words of the trade are explained after it."),
    )
    for listed in rows.purchases(found.bill, w.system, mark):
        w.add(_table(listed))
    w.add(Heading("Used up in the first weeks, not in this list", 2), Steps(_used_up(w)))
    w.add(
        Heading("The budget beside this list", 2),
        Text(
            "The budget takes a price for each gallon, watt and foot before anything is laid out. This"
            " list counts every piece. Where both count the same thing they say the same sum."
        ),
        _table(rows.compared(found.bill, mark)),
    )


def _used_up(w: Writer) -> tuple[tuple[str, str], ...]:
    """What is bought for the start of the filter and for the first fish, by the doses of this design."""
    frame, volume, mass = start_of(w.sizing, w.system), water_of(w.sizing), KINDS["mass"]
    salt = show(salt_to_raise(volume, frame.attrs["dosed"]), mass, w.system, 2)
    soda = show(doses.baking_soda_to_raise(volume, frame.attrs["base"]), mass, w.system, 2)
    told = [
        (
            "Ammonium chloride",
            f"about {salt} for all doses of the start-up calendar; pure, without soap or scent.",
        ),
        ("Baking soda", f"about {soda} for the start, then as the alkalinity test asks."),
        ("Feed", f"for the first {FIRST_WEEKS} weeks {feed_words(w.sizing, w.system)}."),
    ]
    if w.sizing.design.source.disinfectant != "none":
        fill = show(volume, KINDS["volume"], w.system)
        told.append(
            (
                "Dechlorinator",
                f"by its label: for the fill of {fill}, then for {w.said('water.exchange')}.",
            )
        )
    if w.sizing.design.climate.shade <= 0.0 and hotter_than_counted(w.sizing) is not None:
        told.append(
            (
                "Shade",
                "cloth over the tank for the hot months: the weather is hotter than the design counts on.",
            )
        )
    return tuple(told)


def to_build(w: Writer) -> None:
    """Levels, pipes, cuts, holes, circuits, weights, tools and steps."""
    found = building_of(w.sizing)
    layout, system = found.layout, w.system
    w.add(
        Heading("Build it", fresh=True),
        Text(
            "All heights are over one mark: the finished floor by the tanks. Below it a height has a"
            " minus. Water pipes lie level and run full: the water falls, not the pipe. Fittings are"
            " those of the layout; where the design counts more or fewer, it is said below. When the pump"
            " stops each vessel falls to the lip of its outlet and no lower, and the sump has room for it."
            " Shutting V1 never shuts the overflow. Leave the top of the centre drain open: it keeps the"
            " pipe from siphoning. Old water leaves by the overflow of the sump."
        ),
        Text(
            "The drawings to build by follow the tools, true to scale when they are printed at full size. P marks a"
            " pipe, V a valve or a union, H a hole. Set the vessels first, and measure again before you cut."
        ),
    )
    wrong = rows.problems(layout, system)
    if wrong:
        w.add(Heading("Mend these before you buy", 2), Steps(tuple(("", words) for words in wrong)))
    w.add(_table(rows.vessels(layout, system)), _table(rows.runs(layout, system)))
    told = rows.notes(layout, system)
    if told:
        w.add(Heading("Where the design counts otherwise", 2),
              Steps(tuple(("", words) for words in told)))  # fmt: skip
    w.add(_table(rows.openers(layout)))
    w.add(Heading("Cut list", 2), Text(
        "Lengths count from end to end of the pipe, with half a fitting taken off at each turn. Fittings in"
        " a straight pipe part it into equal pieces: set them where your hand reaches. Fit everything dry"
        " before you cement."))  # fmt: skip
    for listed in rows.cut_list(found.cuts, system):
        w.add(_table(listed))
    w.add(Heading("Holes", 2), _table(rows.holes(layout, system)))
    w.add(Heading("Circuits", 2), _table(rows.circuit_list(found)))
    w.add(Heading("Weight", 2), _table(rows.weight_list(found, system)))
    _steps(w, found)


def _steps(w: Writer, found: Building) -> None:
    """The steps with the cautions beside them, each caution once."""
    listed = rows.step_list(found)
    w.add(Heading("What to build first", 2))
    w.add(_table(listed))
    w.add(_table(rows.tool_list(found)))


def _table(listed: rows.Listed) -> Table:
    return Table(listed.caption, listed.headings, listed.rows, listed.widths, strong=listed.strong,
                 dense=True)  # fmt: skip
