"""The working in a hand-out: each part's last step with its numbers, the rule of thumb, the sum by hand."""

import re

from ...core.formula import symbols
from ...core.units import number
from ...sizing.system import figure_at
from ...sizing.working import WorkedStep, worked
from ..rules_of_thumb import cards
from .blocks import Heading, Table, Text, Worked, Writer

CHAPTERS = (
    ("Fish and feed", "stock", ("stock.to_stock",)),
    ("Tank", "tank", ("tank.required",)),
    ("Settler", "solids", ("solids.required",)),
    ("Ammonia and flow", "flow", ("loads.ammonia", "flow.for_ammonia")),
    ("Filter", "filter", ("filter.rate", "filter.required", "filter.required_volume")),
    ("Air", "air", ("loads.peak_oxygen", "air.standard_needed", "air.required")),
    ("Pump and pipe", "pump", ("pump.head", "pump.wire_power")),
    ("New water and base", "", ("water.exchange", "water.bicarbonate_book")),
    ("When the power stops", "standby", ("standby.minutes_peak",)),
)
"""Part, its by-hand card, and the figures whose last step is shown."""

LONGEST = 130
"""Letters of a formula beyond which its numbers stand beside it, not in it."""


def working(w: Writer) -> None:
    """Formula, numbers put in, result and source; the rule of thumb beside the balance."""
    w.add(
        Heading("How the numbers came about"),
        Text(
            "Each part is sized from the feed, by what goes in and what must come out. Here is the"
            " last step of each sum. The sums by hand are for checking ours; they come near,"
            " not the same. To see every step, run: rsdesign size FILE --working filter"
        ),
        rules(w),
    )
    by_hand = cards(w.sizing, w.system)
    paths = [p for _, _, figures in CHAPTERS for p in figures]
    chains = worked(w.sizing.design, paths, w.system, last=True)
    for title, card, figures in CHAPTERS:
        w.add(Heading(title, 2))
        for path in figures:
            if chains[path]:
                w.add(block(w, path, chains[path][-1]))
            else:
                words = f"{figure_at(path).label}: {w.said(path)}, a choice of the design."
                w.add(Text(words))
        if card in by_hand:
            c = by_hand[card]
            lines = " ".join(c.lines)
            w.add(Text(f"By hand: {lines} The computer says {number(c.computed)} {c.unit}."))


def rules(w: Writer) -> Table:
    """The rule of thumb beside the mass balance."""
    rows = tuple(
        (p.label, w.plain(p.required, p.kind), w.plain(p.rule, p.kind), w.plain(p.provided, p.kind))
        for p in w.sizing.parts
        if p.rule is not None
    )
    return Table("The rule of thumb beside the balance",
                 ("Part", "By balance", "By the rule of thumb", "Given"), rows)  # fmt: skip


def _one_sum(latex: str) -> bool:
    """Whether a formula is one expression, with no further definitions after a comma."""
    depth = 0
    for sign in latex:
        depth += (sign in "({[") - (sign in ")}]")
        if sign == "," and depth == 0:
            return False
    return True


def block(w: Writer, path: str, step: WorkedStep) -> Worked:
    """One step as a block; ``filled`` holds places v0v, v1v … for the values of ``inputs``."""
    about = step.step.equation
    result = w.said(path)
    inputs = tuple((x.symbol, x.words, f"{x.value} {x.unit}".strip()) for x in step.lines)
    names = {x.name: i for i, x in enumerate(step.lines)}
    known = symbols()
    right, filled = about.latex.split("=", 1)[-1], ""
    if len(step.latex) <= LONGEST and _one_sum(right):
        filled = re.sub(
            r"@(\w+)",
            lambda m: rf"\text{{v{names[m[1]]}v}}" if m[1] in names else known[m[1]].symbol,
            right,
        )
    return Worked(
        figure_at(path).label, step.latex, filled, step.formula, result, inputs, step.source
    )
