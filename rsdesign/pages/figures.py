"""The figures of a page as text: label, value and unit, and whether their working can be opened."""

import numpy as np

from ..core.units import digits
from ..report.text import TITLES
from ..sizing.system import Sizing, figure_at, value_at
from ..studies.costfigures import cost_figure, shown_cost
from ..studies.heat.yearly import full_year
from .headline import told_only
from .session import Session


def figures(session: Session) -> list[dict]:
    """The figures of the page: label, value, unit, and whether their working can be opened."""
    if session.sizing is None:
        return []
    paths = [row[0] for row in told_only(session, [(path,) for path in session.page.figures])]
    return cost_figures(session) + [
        shown_figure(session.sizing, path, session.system) for path in paths
    ]


def cost_figures(session: Session) -> list[dict]:
    """The figures of the budget that the page shows."""
    if not session.page.costs:
        return []
    found, mark, rows = full_year(session.sizing), session.design.prices.currency, []
    for path in session.page.costs:
        about = cost_figure(path)
        value, unit = shown_cost(about.of(found), about.kind, session.system, mark)
        rows.append({"path": path, "label": about.label, "value": value, "unit": unit,
                     "stage": "Cost", "opens": True})  # fmt: skip
    return rows


def shown_figure(sizing: Sizing, path: str, system: str) -> dict:
    """One figure as text."""
    about, value = figure_at(path), value_at(sizing, path)
    if about.kind is None or isinstance(value, str) or value is None:
        words, unit = str(value if value is not None else "none"), ""
    else:
        label = about.kind.shown(system).label
        words, unit = digits(value, about.kind, system), label
        if not np.isfinite(value):
            words, unit = "no answer", ""
    return {
        "path": path,
        "label": about.label,
        "value": words,
        "unit": unit,
        "stage": TITLES[about.stage],
        "opens": about.kind is not None,
    }
