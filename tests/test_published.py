"""Every row of data/published/: the package against a figure printed by somebody else."""

import importlib
import json

import numpy as np
import pytest

from rsdesign.core import tables
from rsdesign.core.published import Check, checks

ROWS = checks()


def call(function: str, arguments: dict):
    """The value of ``module.name`` or ``module.name[i]`` with these arguments."""
    name, _, part = function.partition("[")
    module, _, attribute = name.rpartition(".")
    arguments = {name: _law(value) for name, value in arguments.items()}
    result = getattr(importlib.import_module(f"rsdesign.equations.{module}"), attribute)(
        **arguments
    )
    return result[int(part.rstrip("]"))] if part else result


def _law(value):
    """A rate that falls in proportion to the level, where a row gives one; else the value."""
    if not isinstance(value, dict):
        return value
    (each,) = value.values()
    assert list(value) == ["first order"]
    return lambda level: each * level


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row.id)
def test_published_value(row: Check):
    value = call(row.function, json.loads(row.arguments))
    assert value == pytest.approx(row.value, rel=row.relative, abs=row.absolute), (
        f"{row.source}, {row.place}: printed {row.printed}. {row.note}"
    )


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row.id)
def test_published_value_as_array(row: Check):
    given = json.loads(row.arguments)
    numbers = {k: v for k, v in given.items() if isinstance(v, float)}
    if not numbers or any(isinstance(v, list) for v in given.values()):
        return  # yearly flows are one project, not a row of designs
    # arrays and floats are one code: three equal designs give three equal answers
    arrays = {**given, **{k: np.full(3, v) for k, v in numbers.items()}}
    expected = call(row.function, given)
    assert np.broadcast_to(call(row.function, arrays), 3) == pytest.approx(
        np.full(3, expected), rel=1e-12
    )


def test_enough_values_from_outside():
    outside = [row for row in ROWS if row.basis in ("seen", "computed")]
    assert len(outside) >= 150


def test_every_row_is_complete():
    for row in ROWS:
        assert row.basis in tables.BASES, row.id
        assert row.source, row.id
        assert row.place, row.id
        assert row.printed, row.id
        if row.relative > 0.02:
            assert row.note, f"{row.id}: a wide tolerance says why"
    assert len({row.id for row in ROWS}) == len(ROWS)
