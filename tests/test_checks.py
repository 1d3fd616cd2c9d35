"""Checks of a design: every limit stands in a table with its source, and every check can fail."""

import dataclasses
import functools
import math

import numpy as np
import pytest
from designs import demo

from rsdesign.core.kinds import KINDS
from rsdesign.core.tables import TableError
from rsdesign.design.model import with_values
from rsdesign.equations.air.devices import ROOM
from rsdesign.equations.pipes.drain_size import LEAST_SPEED, MOST_SPEED
from rsdesign.sizing.checks import forms
from rsdesign.sizing.checks.advice import ADVICE
from rsdesign.sizing.checks.computed import COMPUTED
from rsdesign.sizing.checks.rows import NAMED, CheckRow, check_rows, part_rows
from rsdesign.sizing.margins import parts
from rsdesign.sizing.stages.moving import FASTEST
from rsdesign.sizing.system import size

ROWS = check_rows()
JUDGED = [row for row in ROWS if row.form != "notice"]
INPUT = {
    "hottest_water": "air.temperature",
    "coldest_water": "filter.temperature",
    "ammonia_without_beds": "filter.ammonia",
    "ph_apart": "gas.ph_difference",
    "watts_over_least": "air.wire_power",
    "airlifts_like_measured": "design.pump.airlift_air",
}
"""For each computed figure, one of the numbers that it is computed from."""


@pytest.fixture(scope="module")
def family():
    return size(with_values(demo("family"), {"safety.backup": "by itself"}))


def _put(thing, path: str, value):
    """The same sizing with one number of it changed, whatever it would follow from."""
    name, _, rest = path.partition(".")
    return dataclasses.replace(
        thing, **{name: _put(getattr(thing, name), rest, value) if rest else value}
    )


def _make(sizing, condition: str, hold: bool = True):
    """A sizing for which a condition holds, or does not."""
    if not condition:
        return sizing
    alternatives = condition.split(" or ")
    for alternative in alternatives[:1] if hold else alternatives:
        for one in alternative.split(" and "):
            sizing = _make_one(sizing, one, hold)
    return sizing


def _make_one(sizing, one: str, hold: bool):
    path, _, rest = one.partition(" ")
    if path in INPUT:
        measured = {"design.pump.airlift_pipe": 0.1, "tank.depth": 0.7, "pump.flow": 2e-3}
        for name, value in (
            measured | {"pump.count": 1.0, INPUT[path]: 4e-3 if hold else 1.0}
        ).items():
            sizing = _put(sizing, name, value)
        return sizing
    if not rest:
        return _put(sizing, path, hold)
    operator, _, word = rest.partition(" ")
    if operator in (">", ">=", "<="):
        step = 1.0 if (operator == "<=") != hold else -1.0
        return _put(sizing, path, float(word) + step)
    if operator == "given":
        return _put(sizing, path, "regenerative" if path == "design.air.machine" else 1.0)
    equal = (operator == "=") == hold
    return _put(sizing, path, word if equal else "another")


def _target(row: CheckRow, sizing, value):
    """The sizing in which the row's figure has a value."""
    first, *rest = row.figure.split()
    scale = 1.0
    if rest:
        scale = functools.reduce(getattr, rest[1].split("."), sizing)
    if first == "watts_over_least":
        scale = sizing.air.wire_power / COMPUTED[first](sizing)
    if first == "ammonia_without_beds":
        value = value - sizing.water.beds_climb
    return _put(sizing, INPUT.get(first, first), value * scale)


def _outcome(row: CheckRow, sizing):
    """The check of one row, as the table's loop judges it."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(forms, "check_rows", lambda: (row,))
        return next(forms.run_checks(sizing))


@pytest.mark.parametrize("row", JUDGED, ids=lambda row: f"{row.part}: {row.label[:45]} {row.form}")
def test_a_design_can_pass_and_fail_each_check(row, family):
    sizing = _make(family, row.when)
    if row.form == "yes":
        if row.figure.replace("!=", "=") not in row.when:
            assert np.all(_outcome(row, _make(sizing, row.figure)).ok)
        failing = _make(sizing, row.figure, hold=False)
        assert not np.all(_outcome(row, failing).ok)
        return
    low, high = row.limit(sizing, row.low), row.limit(sizing, row.high)
    beyond = {
        "at least": (2 * (low or 0) + 1e-9, [0.5 * (low or 0)]),
        "at most": (0.5 * (high or 0), [2 * (high or 0) + 1e-9]),
        "inside": (((low or 0) + (high or 0)) / 2, [0.9 * (low or 0), 1.1 * (high or 0)]),
        "under": ((high or 0) - 0.1 * abs(high or 0), [(high or 0) + 1.0]),
        "over": ((low or 0) + 1.0, [(low or 0) - 1.0]),
        "lives under": ((high or 0) - 0.5, [(high or 0) + 0.5]),
        "lives over": ((low or 0) + 0.5, [(low or 0) - 0.5]),
    }
    good, bad = beyond[row.form]
    assert np.all(_outcome(row, _target(row, sizing, good)).ok)
    for value in bad:
        failing = _target(row, sizing, value)
        if row.let_in:
            failing = _put(failing, row.let_in, value)
        check = _outcome(row, failing)
        assert not np.all(check.ok)
        advice = row.advice_above if value == bad[-1] and row.advice_above else row.advice
        if advice and "{" not in advice:
            assert check.words.endswith(advice)


def test_what_cannot_fail_is_a_notice():
    """Two sentences are told and never judged; every other row is judged above."""
    notices = [row for row in ROWS if row.form == "notice"]
    assert [row.part for row in notices] == ["tank", "power"]
    assert all(row.figure == "always" for row in notices)


@pytest.mark.parametrize("row", ROWS, ids=lambda row: f"{row.part}: {row.label[:45]}")
def test_every_limit_says_where_it_comes_from(row):
    assert all((row.source, row.place, row.basis, row.range))
    for cell in (row.low, row.high):
        if cell and not any(letter.isalpha() for letter in cell):
            row.quantity.unit(row.unit)


def test_the_tables_name_only_words_and_figures_that_there_are(family):
    for row in (*ROWS, *part_rows()):
        for cell in dataclasses.astuple(row):
            for name, kind in NAMED.findall(cell):
                if kind:
                    assert kind in KINDS
                elif name not in (*ADVICE, "actual", "low", "high"):
                    assert functools.reduce(getattr, name.split("."), family) is not None
    used = {name for row in (*ROWS, *part_rows()) for c in dataclasses.astuple(row)
            for name, _ in NAMED.findall(c)}  # fmt: skip
    assert set(ADVICE) <= used
    assert set(COMPUTED) == {row.figure for row in ROWS} & set(COMPUTED)


def test_speeds_and_pressures_that_the_sizing_keeps_are_those_of_the_table(family):
    limits = {row.label: (row.low, row.high) for row in ROWS}
    assert float(limits["Speed in the pressure pipe"][1]) == FASTEST
    assert tuple(map(float, limits["Speed in the drain"])) == (LEAST_SPEED, MOST_SPEED)
    assert limits["Most pressure the machine gives here"][0] == f"{ROOM} * air.discharge_pressure"


def test_many_designs_at_a_height_are_judged_too():
    """The advice on height is for one design; with arrays beside it, it is left out."""
    design = demo("family")
    swept = {
        "site.elevation": 3600.0,
        "keep.oxygen": 4.2e-3,
        "tank.density": np.linspace(10, 60, 5),
    }
    assert len(size(with_values(design, swept)).checks) > 10


def test_a_table_row_without_its_limit_is_refused():
    row = next(row for row in ROWS if row.form == "at most")
    with pytest.raises(TableError, match="needs a limit"):
        dataclasses.replace(row, high="")
    with pytest.raises(TableError, match="is not a form"):
        dataclasses.replace(row, form="about")


def test_margins_of_parts_are_those_of_the_table(family):
    names = [row.name for row in part_rows()]
    assert [part.name for part in parts(family)] == names
    assert all(math.isfinite(part.margin) for part in parts(family))
