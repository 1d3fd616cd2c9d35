"""The lists as rows of words, the same in text, PDF and HTML: each gives a caption, headings and rows."""

from collections import Counter
from dataclasses import dataclass

from ...building.bill import Bill
from ...building.cuts import Cuts
from ...building.graph import Layout, Run, Vessel
from ...building.problems import tape
from ...building.row import GROUPS, ORDER, Row
from ...core.cautions import caution
from ...core.kinds import KINDS
from ...core.units import from_plain, number, show
from ..cost import cents, money
from ..drawings.building.numbers import numbers
from .all_lists import Building


@dataclass(frozen=True, slots=True)
class Listed:
    """A list: its caption, the headings, the rows of words, and the rows that are sums."""

    caption: str
    headings: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    widths: tuple[float, ...] = ()
    strong: tuple[int, ...] = ()


def part(row: Row, system: str) -> str:
    """What is bought and its size, and what a buyer asks about it."""
    words = f"{row.label}, {row.size.said(system)}"
    return f"{words}. {row.note.said(system)}" if row.note.words else words


def how_many(row: Row, system: str) -> str:
    """The count of a row with its unit."""
    unit = row.unit(system)
    figure = from_plain(row.count, unit)
    return f"{figure:,.0f}" if row.kind == "count" else f"{number(figure)} {unit.label}"


def each(row: Row, system: str, mark: str) -> str:
    """The price of one of a row, with what it is for."""
    unit = row.unit(system)
    words = cents(row.price, mark)
    if row.kind != "count":
        words = f"{cents(row.price * unit.factor, mark)} per {unit.label}"
    return words + (" (yours)" if row.own else "")


def purchases(found: Bill, system: str, mark: str) -> list[Listed]:
    """A list for each group, in the order in which it is bought."""
    made = []
    for group in ORDER:
        rows = [row for row in found.rows if row.group == group]
        if not rows:
            continue
        lines = [
            (part(row, system), how_many(row, system), each(row, system, mark),
             money(row.amount, mark), row.used)
            for row in rows
        ]  # fmt: skip
        total = sum(row.amount for row in rows)
        lines.append((f"{GROUPS[group]}, together", "", "", money(total, mark), ""))
        made.append(Listed(GROUPS[group], ("Part and size", "How many", "Price", "Cost", "For"),
                           tuple(lines), (0.5, 0.08, 0.12, 0.09, 0.21), (len(lines) - 1,)))  # fmt: skip
    return made


def compared(found: Bill, mark: str) -> Listed:
    """The list beside the first cost of the budget, part by part."""
    rows = [(label, money(plan, mark), money(listed, mark), why)
            for label, plan, listed, why in found.differences()]  # fmt: skip
    rows.append(("In all", money(found.plan_total, mark), money(found.total, mark), ""))
    return Listed("First cost of the budget, and this list", ("Part", "Budget", "This list", "Why they differ"),
                  tuple(rows), (0.22, 0.13, 0.13, 0.52), (len(rows) - 1,))  # fmt: skip


def vessels(layout: Layout, system: str) -> Listed:
    """Sizes and heights of every vessel over the finished floor."""
    rows = []
    for v in layout.vessels:
        across = tape(v.across, system)
        size = across if v.shape != "box" else f"{tape(v.length, system)} by {across}"
        rows.append((
            v.label.capitalize(), str(v.count), f"{v.shape}, {size}", tape(v.wall, system),
            tape(v.level, system), tape(v.floor, system), tape(v.rim, system), _stands(v, system),
        ))  # fmt: skip
    return Listed(
        "Vessels: inside sizes, and heights over the finished floor by the tanks",
        ("Vessel", "How many", "Inside", "Wall", "Water level", "Its floor", "Its rim", "Stands"),
        tuple(rows), (0.2, 0.07, 0.2, 0.09, 0.1, 0.1, 0.1, 0.14),
    )  # fmt: skip


def _stands(v: Vessel, system: str) -> str:
    if v.stands_in:
        return f"on legs in the {v.stands_in}"
    if v.pit > 0:
        return f"in a pit {tape(v.pit, system)} deep, and its sand"
    return f"on a stand {tape(v.stand, system)} high" if v.stand > 0 else "on the floor"


def holes(layout: Layout, system: str) -> Listed:
    """Every hole to drill."""
    rows = [
        (v.label.capitalize(), f"{mark} {hole.purpose}", hole.size, tape(hole.diameter, system),
         tape(hole.height, system), hole.side, str(hole.count * v.count))
        for mark, v, hole in numbers(layout).holes
    ]  # fmt: skip
    return Listed(
        "Holes to drill: measure your fitting before you drill",
        ("Vessel", "For", "Pipe", "Drill", "Middle over the floor", "Where", "How many"), tuple(rows),
        (0.19, 0.22, 0.08, 0.1, 0.12, 0.2, 0.09),
    )  # fmt: skip


def fitted(run: Run) -> Counter:
    """How many fittings of each kind and size one pipe of a run holds."""
    counts: Counter = Counter()
    for f in run.fittings:
        counts[f.kind, f.sizes(run.pipe)] += f.count
    return counts


def runs(layout: Layout, system: str) -> Listed:
    """Every run of pipe with its legs and fittings."""
    rows, marks = [], numbers(layout)
    for run in layout.runs:
        legs = ", ".join(
            f"{leg.way} {tape(leg.length, system)}" for leg in run.legs if leg.length > 0
        )
        fits = ", ".join(f"{n} {kind} {size}" for (kind, size), n in fitted(run).items())
        if run.pipes:
            legs = f"the longest: {legs}"
        fall = (
            ""
            if run.kind != "gravity"
            else f"water falls {tape(run.fall, system)}, uses {tape(run.uses, system)}; pipe level"
        )
        rows.append(
            (f"{marks.of(run)} {run.label}", run.pipe, str(run.count), legs, fits or "none", fall)
        )
    return Listed(
        "Pipes: each run, what one pipe of it holds, and the fall where water runs by itself",
        ("Run", "Pipe", "How many", "Legs", "Fittings in each", "Fall"), tuple(rows),
        (0.2, 0.08, 0.07, 0.24, 0.28, 0.13),
    )  # fmt: skip


def openers(layout: Layout) -> Listed:
    """Valves, unions and clean-outs with their marks on the drawings."""
    marks = numbers(layout)
    rows = [
        (mark, f.kind, f.size, f"{marks.of(run)} {run.label}", str(f.count * run.count), f.why)
        for mark, run, f in marks.fittings
    ]
    return Listed("Valves, unions and clean-outs, by their marks on the drawings",
                  ("Mark", "What", "Pipe", "In", "How many", "Why"), tuple(rows),
                  (0.08, 0.14, 0.1, 0.24, 0.1, 0.34))  # fmt: skip


def cut_list(found: Cuts, system: str) -> list[Listed]:
    """Pieces by run, and what comes out of each length."""
    pieces = [
        (f"{p.mark} {p.label}", p.pipe, tape(p.length, system), str(p.count)) for p in found.pieces
    ]
    lengths: dict[tuple, int] = {}
    for one in found.stock:
        key = (one.pipe, tape(one.length, system),
               ", ".join(tape(length, system) for length, _ in one.pieces), tape(one.left, system))  # fmt: skip
        lengths[key] = lengths.get(key, 0) + 1
    stock = [
        (pipe, long, str(many), out, left) for (pipe, long, out, left), many in lengths.items()
    ]
    return [
        Listed("Pieces to cut", ("Run", "Pipe", "Long", "How many"), tuple(pieces), (0.52, 0.14, 0.2, 0.14)),
        Listed("What comes out of each length",
               ("Pipe", "Length", "How many", "Cut from each", "Left over"), tuple(stock),
               (0.1, 0.1, 0.1, 0.55, 0.15)),
    ]  # fmt: skip


def circuit_list(found: Building) -> Listed:
    """The circuits, for a licensed electrician to check."""
    rows = [
        (str(c.number), c.feeds, f"{number(c.watts)} W", f"{c.volts:.0f} V", f"{number(c.amperes, 2)} A",
         f"{c.breaker:.0f} A", "yes" if c.ground_fault else "no")
        for c in found.circuits
    ]  # fmt: skip
    return Listed(
        "Circuits, to be checked by a licensed electrician",
        ("Circuit", "Feeds", "Plate", "Volts", "Draws", "Breaker", "GFCI"), tuple(rows),
        (0.09, 0.41, 0.1, 0.1, 0.1, 0.1, 0.1),
    )  # fmt: skip


def weight_list(found: Building, system: str) -> Listed:
    """What each vessel weighs full, and its load on the floor."""
    mass = KINDS["mass"]
    rows = [
        (w.label.capitalize(), str(w.count), show(w.water, mass, system),
         show(w.shell + w.media, mass, system), show(w.total, mass, system),
         f"{show(w.load, KINDS['floor load'], 'us')} ({number(w.pressure / 1e3)} kN/m²)")
        for w in found.weights
    ]  # fmt: skip
    return Listed(
        "Weight of one vessel when full, and its load on the floor",
        ("Vessel", "How many", "Water", "Vessel and media", "In all", "Load"), tuple(rows),
        (0.24, 0.1, 0.14, 0.16, 0.14, 0.22),
    )  # fmt: skip


def step_list(found: Building) -> Listed:
    """What to build first, with time and people, and the caution beside the step."""
    rows = []
    for place, step in enumerate(found.steps, 1):
        row = step.row
        care = caution(row.caution)
        rows.append((
            f"{place}. {row.label}", f"{row.what} Done when: {row.done}.",
            f"{number(step.time / 3600, 2)} h", f"{row.people:.0f}", f"{care['fact']} Ask: {care['ask']}.",
        ))  # fmt: skip
    return Listed("Build in this order", ("Step", "What to do", "Time", "People", "Take care"), tuple(rows),
                  (0.15, 0.38, 0.07, 0.07, 0.33))  # fmt: skip


def tool_list(found: Building) -> Listed:
    """Tools to borrow or to own."""
    return Listed(
        "Tools", ("Tool", "Why"), tuple((t.label, t.why) for t in found.tools), (0.6, 0.4)
    )


def notes(layout: Layout, system: str) -> list[str]:
    """Where the layout is longer or shorter than the design counts."""
    return [note.said(system) for note in layout.notes]


def problems(layout: Layout, system: str) -> list[str]:
    """What cannot be built as it stands."""
    return [problem.said(system) for problem in layout.problems]
