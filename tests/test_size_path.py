"""Which relations a sizing goes through, and which of them stand beside a figure from outside.

A relation whose source is a definition or geometry needs none.  Each of the others has a row in
``data/published/`` or a reason in ``size_path_exceptions.csv``; a reason that is no longer needed
fails, so that the list only ever shrinks.
"""

import csv
import importlib
from collections import Counter
from functools import cache
from pathlib import Path

import pytest
from designs import DEMOS, demo

from rsdesign.core import equation
from rsdesign.core.published import checks
from rsdesign.sizing.system import size

LIST = Path(__file__).with_name("size_path_exceptions.csv")
OUTSIDE = ("seen", "computed", "derived")
WANTED = 80


@cache
def met() -> dict[str, equation.Equation]:
    """Every equation that sizing one of the three demo designs goes through, by name."""
    found = {}
    for name in DEMOS:
        with equation.record() as steps:
            size(demo(name))
        found |= {step.equation.name: step.equation for step in steps}
    return found


def asked() -> set[str]:
    """Those of them that are no mere definition and no geometry."""
    return {
        name
        for name, about in met().items()
        if not about.source.startswith(("definition", "geometry"))
    }


@cache
def outside() -> Counter:
    """How many rows from outside each equation has; a row may call it by another room's name."""
    count = Counter()
    for row in checks():
        module, _, attribute = row.function.partition("[")[0].rpartition(".")
        if row.basis in OUTSIDE:
            call = getattr(importlib.import_module(f"rsdesign.equations.{module}"), attribute)
            if hasattr(call, "equation"):  # plain_functions.csv names the others
                count[call.equation.name] += 1
    return count


def reasons() -> dict[str, str]:
    with LIST.open(encoding="utf-8", newline="") as file:
        return {row["equation"]: row["reason"] for row in csv.DictReader(file)}


def test_the_recorder_meets_the_stages():
    rooms = {name.rpartition(".")[0] for name in met()}
    assert {"fish.loads", "air.aeration", "biofilter.areas", "water.oxygen"} <= rooms
    assert len(met()) > 150


def test_most_relations_of_a_sizing_have_a_figure_from_outside():
    checked = {name for name in asked() if outside()[name]}
    assert len(checked) >= WANTED, f"{len(checked)} of {len(asked())}"


def test_every_other_relation_says_why_it_has_none():
    without = {name for name in asked() if not outside()[name]}
    assert without <= set(reasons()), sorted(without - set(reasons()))


@pytest.mark.parametrize("name", sorted(reasons()))
def test_no_reason_is_needless(name):
    assert reasons()[name], "a reason in words"
    assert name in asked(), "a sizing of the demos does not go through it, or it is a definition"
    assert not outside()[name], "it has a row by now: strike it from the list"


if __name__ == "__main__":
    for each in sorted(asked()):
        print(f"{outside()[each]:4d} {each}")
    print(sum(1 for each in asked() if outside()[each]), "of", len(asked()))
