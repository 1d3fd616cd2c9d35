"""A sizing as a prompt and a notebook show it: tables, checks, the working, quantities."""

from difflib import get_close_matches

import numpy as np

from ..core.arrays import worst
from ..core.choices import DesignError
from ..core.equation import record
from ..core.notebook import Markup, Rows, few, formula, quantity, shown_in, table, unit_in, words
from ..design.model import FIELDS, arrays_of
from ..design.notebook import quantity_of
from .judging import Check, Part, percent, worst_first
from .system import Sizing, figure_at, figures, size, value_at
from .working import WorkedStep, worked

GIVEN = "a choice of the design, or a row of a table"
"""The source of a figure that no equation gave."""

SHOWN = 5
"""The last steps of a working, which stand open; those before them are folded."""


class CheckRows(Rows):
    """Every check, worst first."""

    head = ("part", "how it stands", "what was found", "source")

    @staticmethod
    def row(item: Check) -> tuple:
        """A check as a row."""
        return item.part, item.word, item.words, item.source

    def __repr__(self) -> str:
        return few([f"{check.word:14}{check.words}" for check in self])


class Working(Rows):
    """The steps behind a figure: formula, the numbers put in, what it gives, source."""

    head = ("step", "formula", "with", "gives", "source")

    @staticmethod
    def row(item: WorkedStep) -> tuple:
        """A step as a row."""
        given = "; ".join(f"{x.words}: {x.value} {x.unit}".strip() for x in item.lines)
        return item.title, formula(item.latex), given, f"{item.value} {item.unit}", item.source

    def __repr__(self) -> str:
        lines = [f"{s.title} {s.formula} = {s.value} {s.unit}".strip() for s in self]
        before = [f"{len(lines) - SHOWN} steps before"] if len(lines) > SHOWN else []
        return "\n".join(before + lines[-SHOWN:]) or GIVEN

    def _repr_html_(self) -> str:
        if not self:
            return Markup(f"<p>{GIVEN}</p>")
        rows = [self.row(step) for step in self]
        last = table(self.head, rows[-SHOWN:])
        if len(rows) <= SHOWN:
            return last
        before = table(self.head, rows[:-SHOWN])
        said = f"{len(rows) - SHOWN} steps before these"
        return f"<details><summary>{said}</summary>{before}</details>{last}"


def quantity_at(sizing: Sizing, path: str):
    """A figure as a pint quantity, by its path; a choice of the design answers for itself.

    Raises ``KeyError`` with one sentence for a path that is neither.
    """
    try:
        figure = figure_at(path)
    except (KeyError, AttributeError):
        if path in FIELDS:
            return quantity_of(sizing.design, path)
        near = get_close_matches(str(path), [f.path for f, _ in figures(sizing)], n=1)
        hint = f"; did you mean {near[0]!r}?" if near else ""
        raise KeyError(f"{path!r} is not a figure of a sizing{hint}") from None
    return quantity(value_at(sizing, path), figure.kind)


def short(sizing: Sizing) -> str:
    """At most ten lines: the fish, the parts nearest to falling short, and the checks that fail."""
    many = max((row.size for row in arrays_of(sizing.design).values()), default=0)
    name = f"{many:,} designs" if many else sizing.design.name or "a design"
    fish, feed = (words(value_at(sizing, p), figure_at(p).kind) for p in _FISH)
    parts = worst_first(sizing.parts)[:5]
    return few(
        [
            f"Sizing of {name}: {fish} fish from each batch, {feed} of feed on the biggest day",
            *(f"  {part.label}: {_needed(part)} needed, {_standing(part)}" for part in parts),
            *([] if many else [_failed(sizing.checks)]),
            '  .table() for every figure, ["tank.volume"] for one with its unit,',
            '  .working("filter.required") for how it came about',
        ]
    )


_FISH = ("stock.fish", "stock.peak_feed")


def _failed(checks: tuple[Check, ...]) -> str:
    failed = sum(not np.all(check.ok) for check in checks)
    return f"  {failed} of {len(checks)} checks ask for something; see .checks"


def _needed(part: Part) -> str:
    most = "at most " if part.form == "at most" else ""
    return most + words(part.required, part.kind)


def _standing(part: Part) -> str:
    return f"{words(part.provided, part.kind)} given: {part.word}"


def html(sizing: Sizing) -> str:
    """The parts with what is needed, given and the rule of thumb, then the checks."""
    rows = [
        (
            part.label, _needed(part), words(part.provided, part.kind), words(part.rule, part.kind),
            f"{part.word}, {percent(worst(part.margin), part.form)}", part.source,
        )
        for part in worst_first(sizing.parts)
    ]  # fmt: skip
    head = ("part", "needed", "given", "rule of thumb", "how it stands", "source")
    title = f"{sizing.design.name or 'A design'}: every part"
    return Markup(table(head, rows, title) + CheckRows(sizing.checks)._repr_html_())


def frame(sizing: Sizing, system: str = "us"):
    """Every figure of one design as a pandas frame; see ``Sizing.table``."""
    import pandas as pd  # noqa: PLC0415  (only who asks for a frame needs it)

    unit_in(None, system)
    if arrays_of(sizing.design):
        raise DesignError(
            "A table is of one design, and this sizing holds several: rsdesign.sweep gives a frame"
            " with a row for each."
        )
    with record() as steps:
        again = size(sizing.design)
    made = {}
    for step in steps:
        for part in step.result if isinstance(step.result, tuple) else (step.result,):
            made[id(part)] = step.equation
    rows, paths, units = [], [], {}
    for figure, value in figures(again):
        about = made.get(id(value))
        source = f"{about.source} ({about.basis})" if about else GIVEN
        number, unit = shown_in(value, figure.kind, system)
        rows.append((figure.stage, figure.label, number, unit, source))
        paths.append(figure.path)
        units[figure.path] = unit
    found = pd.DataFrame(rows, columns=["part", "figure", "value", "unit", "source"], index=paths)
    found.index.name = "path"
    found.attrs.update(units=units, system=system)
    return found


def working_of(sizing: Sizing, path: str, system: str = "us") -> Working:
    """The steps behind a figure of one design, first step first; see ``Sizing.working``."""
    if arrays_of(sizing.design):
        raise DesignError("A working is of one design, and this sizing holds several.")
    quantity_at(sizing, path)
    return Working(worked(sizing.design, [path], system)[path] if path not in FIELDS else ())
