"""Purchases: pipe in stock lengths, and fittings, valves and screens counted from the runs."""

import math

from .cuts import Cuts
from .graph import Layout, Run
from .prices import OwnPrices
from .problems import Phrase, phrase
from .row import Row, priced
from .rules import inside_of, pipe_part, rule
from .supports import strap_gap, supports

GROUP = {"gravity": "drains", "standpipe": "drains", "sludge": "drains", "pressure": "pressure",
         "air": "air", "hose": "air"}  # fmt: skip
"""Where the fittings of a kind of run are bought."""
SOLD_AS = {"air valve": "air valve"}
"""Fittings whose price has no size."""
PIPE_IN = ("pressure", "drains", "air")
"""Groups by which a size that several use is bought: the first that uses it."""


def pipes(layout: Layout, cut: Cuts, own: OwnPrices) -> list[Row]:
    """Pipe by size, in the lengths that are sold, with what is left over; and hose."""
    rows = []
    for size, lengths in cut.lengths().items():
        users = [r for r in layout.runs if r.pipe == size and r.kind != "hose"]
        groups = {GROUP[r.kind] for r in users}
        group = next(g for g in PIPE_IN if g in groups)
        long = float(pipe_part(size).stock_length)
        row = priced(own, group, "pipe", "Pipe, schedule 40",
                     phrase(f"{size}, lengths of {{long}}", long=(long, "tape")), 1.0, _names(users),
                     "the cut list says what comes out of each length", by=inside_of(size), budget="pipe")  # fmt: skip
        rows.append(Row(row.group, row.name, row.label, row.size, float(lengths), "count", row.price * long,
                        row.used, row.why, "pipe", row.own))  # fmt: skip
    for run in layout.runs:
        if run.kind == "hose":
            rows.append(priced(own, "air", "air hose", "Air hose", Phrase(run.pipe), run.in_all,
                               run.label, run.why, budget="pipe"))  # fmt: skip
            manifold = layout.run(run.source)
            assert manifold is not None
            rows.append(priced(own, "air", "saddle", "Saddle with thread, clamped on the manifold",
                               Phrase(f"{manifold.pipe} by {run.pipe}"), run.count, run.label,
                               "the thread of each air valve", budget="pipe"))  # fmt: skip
            rows.append(priced(own, "air", "hose clamp", "Hose clamp, stainless", Phrase(run.pipe),
                               2 * run.count, run.label, "one at each end", budget="pipe"))  # fmt: skip
            rows.append(priced(own, "air", "barb", "Hose barb, thread to hose", Phrase(run.pipe), 2 * run.count,
                               run.label, "one on the valve and one on what makes the bubbles",
                               inside_of(run.pipe), "pipe"))  # fmt: skip
    return rows


def _names(runs) -> str:
    return ", ".join(dict.fromkeys(r.label for r in runs))


def fittings(layout: Layout, cut: Cuts, own: OwnPrices) -> list[Row]:
    """Every fitting of every run by kind and size, couplings, cement, primer and straps."""
    counts: dict[tuple[str, str, str], list] = {}
    for run in layout.runs:
        for f in run.fittings:
            key = (GROUP[run.kind], f.kind, f.sizes(run.pipe))
            counts.setdefault(key, []).append((f.count * run.count, run, f.why))
    rows = []
    for (group, kind, size), found in counts.items():
        largest = max(inside_of(one) for one in size.split(" by "))
        by = None if kind in SOLD_AS else largest
        why = "; ".join(dict.fromkeys(words for _, _, words in found))
        rows.append(priced(own, group, SOLD_AS.get(kind, kind), _label(kind, size), Phrase(size),
                           sum(n for n, *_ in found), _names([r for _, r, _ in found]), why, by, "pipe"))  # fmt: skip
    for size, many in cut.couplings.items():
        rows.append(priced(own, "pressure", "coupling", "Coupling", Phrase(size), many, f"pipe of {size}",
                           "where a piece is longer than a length", inside_of(size), "pipe"))  # fmt: skip
    return [*rows, *_glue(layout, own), *_straps(layout, own)]


LABELS = {
    "adapter": "Adapter, thread to pipe",
    "bulkhead": "Bulkhead fitting", "union": "Union", "ball valve": "Ball valve",
    "check valve": "Check valve", "cross": "Cross", "elbow": "Elbow, 90 degrees", "tee": "Tee", "reducer": "Reducer bushing",
    "plug": "Plug or cap", "clean-out": "Clean-out with its plug", "air valve": "Air valve",
    "flexible coupling": "Flexible coupling with bands", "drain screen": "Screen of the centre drain",
    "overflow screen": "Screen of the overflow", "standpipe screen": "Screen around a standpipe", "media screen": "Screen that keeps the media in",
}  # fmt: skip


def _label(kind: str, size: str) -> str:
    part = pipe_part(size.split(" by ", maxsplit=1)[0])
    seldom = "" if part.stocked else " (seldom in stock: order early)"
    return LABELS.get(kind, kind.capitalize()) + seldom


def joints(layout: Layout, names: tuple[str, ...] = ()) -> int:
    """Ends of pipe that are cemented, of all runs or of those named."""
    ends = {"adapter": 1, "elbow": 2, "tee": 3, "union": 2, "ball valve": 2, "check valve": 2, "reducer": 2, "plug": 1,
            "clean-out": 1, "bulkhead": 1, "cross": 4, "coupling": 2}  # fmt: skip
    return sum(ends.get(f.kind, 0) * f.count * r.count for r in layout.runs if not names or r.name in names
               for f in r.fittings)  # fmt: skip


def _glue(layout: Layout, own: OwnPrices) -> list[Row]:
    cans = math.ceil(joints(layout) / rule("cement joints") - 1e-9)
    words = phrase("cans of a pint (473 mL), for {n} joints", n=(float(joints(layout)), "count"))
    return [
        priced(own, "pressure", "pipe cement", "Pipe cement for pressure pipe", words, cans, "all pipe",
               "read its label: gloves, and fresh air", budget="pipe"),
        priced(own, "pressure", "pipe primer", "Pipe primer", words, cans, "all pipe",
               "cleans and softens the pipe before the cement", budget="pipe"),
    ]  # fmt: skip


BURIED = ("drain", "drain branch", "centre drain", "standpipe tie", "sludge")
"""Runs that lie under vessels or in the trench, laid and tested before a vessel is set over them."""


def _straps(layout: Layout, own: OwnPrices) -> list[Row]:
    """Straps of every pipe over the floor by size, as the sheets show them, and what bears them."""
    counts: dict[str, int] = {}
    used: dict[str, list[Run]] = {}
    rails = 0
    for run in layout.runs:
        held = supports(layout, run)
        many = len(held)
        rails += sum(one.kind == "rail" for one in held)
        if many:
            counts[run.pipe] = counts.get(run.pipe, 0) + many
            used.setdefault(run.pipe, []).append(run)
    rows = [
        priced(own, "pressure", "strap", "Pipe strap with its screws", _one_each(size), many, _names(used[size]),
               "a full pipe sags", inside_of(size), "pipe",
               note=Phrase("Plastic or stainless, loose enough that the pipe slides."))
        for size, many in counts.items()
    ]  # fmt: skip
    if sum(counts.values()) > rails:
        rows.append(priced(own, "pressure", "post", "Post, or bracket on a wall, for the straps", phrase("one for each strap"),
                           sum(counts.values()) - rails, "pipe over the floor", "straps need something to hold",
                           budget="pipe", note=Phrase(POST)))  # fmt: skip
    if rails:
        rows.append(priced(own, "pressure", "rail", "Rail across a vessel, from rim to rim, for one strap",
                           phrase("one for each strap over water"), rails, "pipe over water",
                           "a pipe over water needs something to lie on", budget="pipe", note=Phrase(RAIL)))  # fmt: skip
    return rows


RAIL = "Plastic, aluminum or stainless, outside the water; fewer where one bears two pipes."
POST = "Fewer where one bears two pipes."


def _one_each(size: str) -> Phrase:
    return phrase(f"{size}, one each {{gap}}", gap=(strap_gap(size), "length"))
