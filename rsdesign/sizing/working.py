"""The working behind a figure: formula, every input with its number and unit, result, source."""

import re
from dataclasses import dataclass

import numpy as np

from ..core.choices import DesignError
from ..core.equation import Equation, Step, record, working
from ..core.formula import Symbol, plain_formula, symbols
from ..core.units import clipped, from_plain, number
from ..design.model import Design
from .system import Sizing, figures, size

FIGURES = 4
"""Significant digits of every number printed in a working."""


@dataclass(frozen=True, slots=True, eq=False)
class Line:
    """One input of a step: what it is, its number and its unit, as printed."""

    name: str
    symbol: str
    words: str
    value: str
    unit: str


@dataclass(frozen=True, slots=True, eq=False)
class WorkedStep:
    """One equation with the numbers put in."""

    title: str
    latex: str
    formula: str
    lines: tuple[Line, ...]
    value: str
    unit: str
    source: str
    step: Step


def worked(
    design: Design, paths: list[str], system: str = "us", last: bool = False
) -> dict[str, list[WorkedStep]]:
    """The chain of steps behind each figure.

    Parameters:
        design: one ``Design`` (no arrays).
        paths: the figures, such as ``["filter.required"]``.
        system: "us" or "metric", the units in which numbers are shown.
        last: True keeps only the step that gave the figure.
    Returns: the steps by path, each with formula, numbers and source.

    >>> from rsdesign import Design
    >>> [len(s) for s in worked(Design().with_(goal_fish=180), ["pump.head"], last=True).values()]
    [1]
    """
    with record() as steps:
        sizing = size(design)
    values = {figure.path: value for figure, value in figures(sizing)}
    chains = {path: working(steps, values[path]) for path in paths}
    return {
        path: [worked_step(step, system) for step in (chain[-1:] if last else chain)]
        for path, chain in chains.items()
    }


def worked_step(step: Step, system: str) -> WorkedStep:
    """One recorded step as it is printed."""
    about = step.equation
    lines = tuple(
        _line(name, value, about, system) for name, value in step.given.items() if value is not None
    )
    value, unit = _printed(step.result, about.result, system)
    return WorkedStep(
        about.summary, _with_symbols(about), plain_formula(about.latex), lines, value, unit,
        f"{about.source} ({about.basis})", step,
    )  # fmt: skip


def _line(name: str, value, about: Equation, system: str) -> Line:
    known = symbols().get(name, Symbol(name, name, name.replace("_", " ")))
    symbol, words = about.words.get(name, ("", known.words))
    text, unit = _printed(value, about.kinds[name], system)
    return Line(name, symbol or known.symbol, words, text, unit)


def _printed(value, kind, system: str) -> tuple[str, str]:
    if isinstance(kind, tuple):
        shown = [_printed(v, k, system) for v, k in zip(value, kind, strict=True)]
        return " and ".join(f"{v} {u}".strip() for v, u in shown), ""
    if callable(value):
        return "a relation of the level", ""
    if isinstance(value, (str, bool)):
        return str(value), ""
    unit = kind.shown(system) if kind is not None else None
    label = unit.label if unit is not None else ""
    numbers = np.atleast_1d(from_plain(np.asarray(value, float), unit) if unit else value)
    text = ", ".join(number(v, FIGURES) for v in numbers[:20])
    return (f"({text})" if np.ndim(value) else text), label


def _with_symbols(about: Equation) -> str:
    def symbol(found) -> str:
        name = found[1]
        own = about.words.get(name, ("", ""))[0]
        return own or (symbols()[name].symbol if name in symbols() else name)

    return re.sub(r"@(\w+)", symbol, about.latex)


def figure_paths(sizing: Sizing, wanted: str) -> list[str]:
    """The figures meant by a part, a stage or a figure's own path.

    Raises ``DesignError`` with what there is.
    """
    known = [figure.path for figure, _ in figures(sizing) if figure.kind is not None]
    stage = PART_STAGES.get(wanted, wanted)
    found = [p for p in known if stage in (p, p.split(".")[0])]
    if found:
        return found
    stages = list(dict.fromkeys(p.split(".")[0] for p in known))
    raise DesignError(
        f"{clipped(wanted)} is not a part; choose one of {', '.join(stages)},"
        " or a figure such as filter.required."
    )


PART_STAGES = {
    "fish": "stock",
    "feed": "stock",
    "settler": "solids",
    "fine waste": "solids",
    "fine-waste": "solids",
    "carbon dioxide": "gas",
    "carbon-dioxide": "gas",
    "overflow": "pump",
    "drain": "pump",
    "new-water": "water",
    "power": "standby",
}
"""Other names that people use for a stage."""


def working_text(sizing: Sizing, wanted: str, system: str) -> str:
    """The working of a part for a terminal: every figure of it, each step once.

    Parameters:
        sizing: what ``size`` gives, of one design.
        wanted: a part such as ``"filter"``, a stage, or a figure's path.
        system: "us" or "metric", the units in which numbers are shown.
    Returns: the text.
    Raises: ``DesignError`` with the parts there are.

    >>> from rsdesign import Design
    >>> "pump.head" in working_text(size(Design().with_(goal_fish=180)), "pump.head", "us")
    True
    """
    paths = figure_paths(sizing, wanted)
    chains = worked(sizing.design, paths, system)
    values = {figure.path: (figure, value) for figure, value in figures(sizing)}
    seen: set[int] = set()
    out = []
    for path in paths:
        figure, value = values[path]
        text, unit = _printed(value, figure.kind, system)
        out.append(f"{figure.label} ({path}) = {text} {unit}".rstrip())
        fresh = [
            s for s in chains[path] if id(s.step.equation) not in seen or s is chains[path][-1]
        ]
        out += [line for s in fresh for line in _step_text(s)]
        seen |= {id(s.step.equation) for s in chains[path]}
        if not chains[path]:
            out.append("    a choice of the design, or from a table")
        out.append("")
    return "\n".join(out)


def _step_text(step: WorkedStep) -> list[str]:
    return [
        f"    {step.title}",
        f"      {step.formula}",
        *(
            f"        {x.name} = {x.value} {x.unit}".rstrip() + f"   ({x.words})"
            for x in step.lines
        ),
        f"      = {step.value} {step.unit}".rstrip(),
        f"      source: {step.source}",
    ]
