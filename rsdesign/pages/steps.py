"""The working of a figure as data: formula, inputs, result and source of each step."""

import functools

from ..core.choices import DesignError
from ..sizing.system import figure_at, size
from ..sizing.working import WorkedStep, worked
from ..studies.costfigures import COST_FIGURES, worked_costs
from ..studies.heat.yearly import extras
from .session import Session


def open_workings(session: Session) -> dict:
    """The working of each open figure, by path."""
    if not session.open or session.sizing is None:
        return {}
    design, system = session.sizing.design, session.system
    costs = [path for path in session.open if path in COST_FIGURES]
    others = [path for path in session.open if path not in COST_FIGURES]
    try:
        chains = worked(design, others, system) if others else {}
        chains |= worked_costs(design, costs, system, **extras(size(design))) if costs else {}
    except DesignError:
        return {}
    return {path: _chain(path, steps) for path, steps in chains.items()}


def costs_open(session: Session) -> bool:
    """Whether the working of a cost is open: its hundreds of steps are too slow for each slider move."""
    return any(path in COST_FIGURES for path in session.open)


def _chain(path: str, steps: list[WorkedStep]) -> dict:
    made = {id(step.step.result): i for i, step in enumerate(steps)}
    return {
        "label": (COST_FIGURES.get(path) or figure_at(path)).label,
        "steps": [_step(step, made) for step in steps],
    }


def _step(step: WorkedStep, made: dict[int, int]) -> dict:
    """One step; ``from`` of an input is the number of the step that made it."""
    given = [value for value in step.step.given.values() if value is not None]
    return {
        "title": step.title,
        "formula": mathml(step.latex),
        "plain": step.formula,
        "inputs": [
            {
                "words": line.words,
                "symbol": mathml(line.symbol),
                "value": line.value,
                "unit": line.unit,
                "from": made.get(id(value)),
            }
            for line, value in zip(step.lines, given, strict=True)
        ],
        "value": step.value,
        "unit": step.unit,
        "source": step.source,
    }


@functools.lru_cache(maxsize=2000)
def mathml(latex: str) -> str:
    """LaTeX as MathML, which browsers draw natively."""
    from latex2mathml.converter import convert  # noqa: PLC0415  (only when a working is opened)

    return convert(latex)
