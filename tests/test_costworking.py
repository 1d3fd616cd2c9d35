"""The working of a budget: every step gives what it says, and no number is made between steps."""

import re

import numpy as np
import pytest
from designs import random_design

from rsdesign.core.equation import record, working
from rsdesign.design.model import FIELDS, value_of
from rsdesign.design.prices import prices_of
from rsdesign.equations.costs.labour import YEAR, tasks
from rsdesign.pages import blocks
from rsdesign.pages.session import DEMOS, Session, demo
from rsdesign.sizing.system import size
from rsdesign.studies.costfigures import COST_FIGURES, shown_cost, worked_costs
from rsdesign.studies.enterprise import enterprise
from rsdesign.studies.fishyear import YEAR as SECONDS

DESIGNS = [demo(name) for name in DEMOS] + [random_design(seed) for seed in range(6)]
PLACES = [*DEMOS, *range(6)]


def chains(design):
    with record() as steps:
        found = enterprise(size(design), 1e9)
        values = {path: about.of(found) for path, about in COST_FIGURES.items()}
    return {path: (value, working(steps, value)) for path, value in values.items()}


def of_money(step) -> bool:
    return step.equation.name == "sum" or step.equation.name.startswith("costs.")


@pytest.mark.parametrize("design", DESIGNS, ids=PLACES)
def test_every_step_gives_what_it_says(design):
    """A sum is the sum of its parts; any other step is its relation with its numbers put in."""
    plain = enterprise(size(design), 1e9)
    for path, (value, chain) in chains(design).items():
        assert float(value) == float(COST_FIGURES[path].of(plain)), path
        assert float(chain[-1].result) == float(value), path
        for step in filter(of_money, chain):
            if step.equation.name == "sum":
                again = sum(float(part) for part in step.given.values())
            else:
                again = step.equation.function(**step.given)
            assert float(step.result) == pytest.approx(float(again), rel=1e-12), step.equation.title


@pytest.mark.parametrize("design", DESIGNS, ids=PLACES)
def test_no_number_is_made_between_the_steps(design):
    """What goes into a step of money comes from another step, or was given: a choice of the
    design, a price, a row of the tasks, a year.  A number put together on the way would be neither."""
    sizing = size(design)
    given = [value_of(design, path) for path in FIELDS]
    given += [price.value for price in prices_of(design).values()]
    given += [task.minutes for task in tasks()]
    given += [YEAR, YEAR / 7, 12.0, 1.0, 0.0, SECONDS, 1e9]
    given += [sizing.stock.tanks, sizing.pump.plate_watts, sizing.air.wire_power]  # rows of tables
    known = {float(x) for x in given if isinstance(x, (int, float, np.floating))}
    for path, (_, chain) in chains(design).items():
        made = {id(step.result) for step in chain}
        made |= {id(p) for s in chain if isinstance(s.result, tuple) for p in s.result}
        for step in filter(of_money, chain):
            for name, value in step.given.items():
                assert id(value) in made or float(value) in known, (path, step.equation.title, name)


def test_the_working_goes_from_the_cost_of_a_pound_to_the_feed_of_a_fish():
    steps = worked_costs(demo("family"), ["cost.each"])["cost.each"]
    titles = [step.title for step in steps]
    for wanted in (
        "Fixed costs",
        "Variable costs",
        "Feed: quantity times price",
        "Own labour: hours times wage",
    ):
        assert wanted in titles
    feed = next(s for s in steps if s.title == "Feed: quantity times price")
    assert feed.lines[1].value.startswith("$")
    assert feed.lines[1].unit == "per lb"
    assert feed.lines[0].unit == "lb"
    assert steps[-1].value == shown_cost(
        enterprise(size(demo("family"))).budget.cost_of_each, COST_FIGURES["cost.each"].kind, "us", "$"
    )[0]  # fmt: skip


@pytest.mark.parametrize("system", ["us", "metric"])
def test_every_cost_figure_of_the_page_opens(system):
    session = Session("cost", system)
    for path in session.page.costs:
        session.handle({"do": "working", "path": path})
        assert not session.notice
    found = blocks.compose(session)
    shown = {figure["path"]: figure for figure in found["figures"]}
    assert set(session.page.costs) <= set(shown)
    for path in session.page.costs:
        assert shown[path]["opens"]
        steps = found["working"][path]["steps"]
        assert steps[-1]["unit"] == shown[path]["unit"]
        number = [float(re.sub(r"[$,]", "", x["value"])) for x in (steps[-1], shown[path])]
        assert number[0] == pytest.approx(number[1], rel=5e-3), path  # both are rounded
        assert any(line["from"] is not None for line in steps[-1]["inputs"])
        assert all(step["source"] for step in steps)
    session.handle({"do": "working", "path": "cost.each"})
    assert "cost.each" not in blocks.compose(session)["working"]


def test_a_cost_figure_that_is_none_is_said():
    session = Session("cost")
    session.handle({"do": "working", "path": "cost.nothing"})
    assert "is not a figure" in session.notice
