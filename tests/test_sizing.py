"""The whole sizing: conservation, trends, units, arrays, provenance; nothing from outside here."""

import math

import numpy as np
import pytest
from designs import CHOICES, DEMOS, demo, random_arrays, random_design, single

from rsdesign import Design, size
from rsdesign.core.choices import DesignError
from rsdesign.core.equation import record
from rsdesign.design.file import read_design, update_text
from rsdesign.design.model import FIELDS, value_of, with_values
from rsdesign.sizing.system import BLOCK, figures

SEEDS = range(120)


@pytest.fixture(scope="module")
def sizings():
    return [size(random_design(seed)) for seed in SEEDS] + [size(demo(name)) for name in DEMOS]


def close(a, b, scale):
    assert abs(a - b) <= 1e-9 * abs(scale), (a, b)


def test_nitrogen_closes(sizings):
    for s in sizings:
        x = s.loads
        close(x.feed_nitrogen, x.fish_nitrogen + x.ammonia + x.faecal_nitrogen, x.feed_nitrogen)
        share = s.design.wastes.ammonia_freed * s.solids.rotting / x.solids
        close(x.ammonia_released, max(x.faecal_nitrogen, 0) * share, x.feed_nitrogen)
        close(x.ammonia_made, x.ammonia + x.ammonia_released, x.feed_nitrogen)
        close(x.ammonia_made, x.ammonia_to_filter + x.beds_ammonia, x.feed_nitrogen)
        close(x.ammonia_made, x.nitrate + x.plants_nitrogen, x.feed_nitrogen)
        # the load of the media is what is left beside the old water at the level to hold
        brought = s.filter.load + s.water.exchange * s.gas.ammonia_limit
        close(brought, x.ammonia_to_filter * (1 - s.design.filter.passive), x.feed_nitrogen)
        close(brought, s.filter.removed + s.filter.exported, x.feed_nitrogen)


def test_nitrate_closes(sizings):
    for s in sizings:
        brought = s.water.exchange * s.design.source.nitrate
        close(s.loads.nitrate + brought, s.water.exchange * s.water.nitrate, s.loads.feed_nitrogen)


def test_solids_close(sizings):
    for s in sizings:
        x = s.solids
        out = x.removed + x.polished + x.exported + x.rotting
        close(s.loads.solids, out, s.loads.solids)


def test_oxygen_closes(sizings):
    for s in sizings:
        x, a = s.loads, s.air
        fish = x.fish_oxygen * x.warmth
        close(x.mean_oxygen, fish + x.nitrifier_oxygen + x.heterotroph_oxygen, x.mean_oxygen)
        close(x.heterotroph_oxygen, s.solids.rotting * s.design.wastes.solids_oxygen, x.mean_oxygen)
        if a.mean_oxygen > 0:  # at the balance, what crosses the bubbles is what is used
            top = s.design.air.beta * a.saturation
            brought = a.transfer * (top - a.mean_oxygen) / (top - s.design.keep.oxygen)
            close(brought, a.mean_demand, a.mean_demand)


def test_carbon_closes(sizings):
    for s in sizings:
        x, g = s.loads, s.gas
        close(x.feed_carbon, x.fish_carbon + x.respired_carbon + x.faecal_carbon, x.feed_carbon)
        # carbon dioxide made leaves with the air, in the filter and with the old water
        swapped = s.flow.exchange * (g.carbon_dioxide - g.source_carbon_dioxide)
        close(
            x.carbon_dioxide, g.stripped_by_air + g.stripped_by_filter + swapped, x.carbon_dioxide
        )


def test_water_closes(sizings):
    for s in sizings:
        # what each tank gets, shared by feed, adds up to no more than the system flow
        assert s.turning.flow * s.stock.tanks >= s.pump.flow * (1 - 1e-9)
        assert s.solids.settler_flow <= s.pump.flow * (1 + 1e-12)


def test_the_loop_agrees_with_itself(sizings):
    for s in sizings:
        told = s.design.pump.flow is not None
        if told:
            assert s.pump.flow == s.design.pump.flow
        else:
            assert s.pump.flow >= s.flow.required * (1 - 1e-9)


PLANNED = ("tank.required", "flow.required", "loads.solids")
"""What follows from the plan alone; the flow that is there goes in steps with the trade's pumps."""

REQUIRED = (*PLANNED, "solids.required", "filter.required", "air.required", "water.exchange",
            "air.demand", "loads.ammonia_to_filter")  # fmt: skip


def get(sizing, path):
    stage, name = path.split(".")
    return getattr(getattr(sizing, stage), name)


@pytest.mark.parametrize("seed", range(40))
def test_more_feed_never_lowers_a_required_figure(seed):
    design = random_design(seed)
    path = "goal.fish" if design.goal.fish is not None else "goal.harvest"
    value = value_of(design, path)
    sizing = size(with_values(design, {path: value * np.geomspace(0.3, 3.0, 25)}))
    flow = float(np.max(sizing.pump.flow))
    with_one_pump = size(with_values(sizing.design, {"pump.flow": flow}))
    for found, names in ((sizing, PLANNED), (with_one_pump, REQUIRED)):
        for name in names:
            needed = np.broadcast_to(get(found, name), 25)
            falls = needed[1:] < needed[:-1] * (1 - 1e-9)
            assert not falls.any(), (name, needed)


def test_warmer_and_higher_hold_less_oxygen():
    base = with_values(demo("family"), {"keep.oxygen": 4.5e-3})
    warm = size(with_values(base, {"site.warmest_water": np.linspace(26.0, 33.0, 9)}))
    assert (np.diff(warm.air.saturation) < 0).all()
    assert (np.diff(warm.air.required) > 0).all()
    high = size(with_values(base, {"site.elevation": np.linspace(0.0, 2000.0, 9)}))
    assert (np.diff(high.air.saturation) < 0).all()
    assert (np.diff(high.air.required) > 0).all()


def differs(a, b):
    """The largest relative difference of two figures, infinite where one is undefined."""
    a, b = np.atleast_1d(np.asarray(a, float)), np.atleast_1d(np.asarray(b, float))
    same = (a == b) | (np.isnan(a) & np.isnan(b))
    with np.errstate(all="ignore"):
        off = np.where(same, 0.0, np.abs(a - b) / np.maximum(np.abs(a), np.abs(b)))
    return float(np.nanmax(np.where(np.isnan(off), np.inf, off)))


@pytest.mark.parametrize("name", DEMOS)
def test_units_make_no_difference(name):
    design = demo(name)
    us = read_design(update_text("", design, "us"))
    metric = read_design(update_text("", design, "metric"))
    for (figure, a), (_, b) in zip(figures(size(us)), figures(size(metric)), strict=True):
        if figure.kind is not None:
            assert differs(a, b) <= 1e-12, (figure.path, a, b)


def test_many_designs_equal_single_designs():
    many = random_arrays(60)
    together = {f.path: v for f, v in figures(size(many))}
    for index in range(60):
        for figure, value in figures(size(single(many, index))):
            if figure.kind is None:
                continue
            whole = np.broadcast_to(together[figure.path], 60)[index]
            assert differs(whole, value) <= 1e-12, (index, figure.path, whole, value)


def test_blocks_equal_one_block():
    many = random_arrays(BLOCK + 100)
    whole = size(many)
    part = size(with_values(many, {p: value_of(many, p)[BLOCK:] for p in [*CHOICES, "goal.fish"]}))
    assert whole.filter.required.shape == (BLOCK + 100,)
    assert differs(whole.filter.required[BLOCK:], part.filter.required) == 0


def swept():
    return [f for f in FIELDS.values() if f.choice.sweep and f.choice.low is not None]


@pytest.mark.parametrize("entry", swept(), ids=lambda entry: entry.path)
def test_every_swept_choice_may_be_an_array(entry):
    design = demo("family")
    low, high = entry.choice.low, entry.choice.high
    now = value_of(design, entry.path)
    middle = now if now is not None else math.sqrt(max(low, 1e-9) * high) if low >= 0 else 0.0
    values = np.array([middle, middle * 0.98 + 0.02 * (low + high) / 2, middle])
    other = {"goal.fish": None} if entry.path == "goal.harvest" else {}
    try:
        sizing = size(with_values(design, {**other, entry.path: values}))
    except DesignError:
        singles = []
        for value in values:  # an array is refused only where a single design is
            with pytest.raises(DesignError):
                singles.append(size(with_values(design, {**other, entry.path: float(value)})))
        return
    for index, value in enumerate(values):
        alone = size(with_values(design, {**other, entry.path: float(value)}))
        for (figure, a), (_, b) in zip(figures(sizing), figures(alone), strict=True):
            if figure.kind is not None:
                a_one = np.broadcast_to(a, 3)[index] if np.ndim(a) else a
                assert differs(a_one, b) <= 1e-12, (figure.path, a_one, b)


def leaves(design, tables) -> set[int]:
    """Identities of every choice and of every number in the tables that a sizing uses."""
    found = {id(value_of(design, path)) for path in FIELDS}
    for row in tables.rows():
        found |= {id(getattr(row, name)) for name in row.__slots__}
    return found


@pytest.mark.parametrize("name", DEMOS)
def test_every_figure_is_a_choice_a_table_value_or_a_step(name):
    with record() as steps:
        sizing = size(demo(name))
    made = set()
    for step in steps:
        made |= {id(p) for p in (step.result if isinstance(step.result, tuple) else (step.result,))}
    allowed = made | leaves(sizing.design, sizing.tables)
    for figure, value in figures(sizing):
        if figure.kind is not None:
            assert id(value) in allowed, figure.path


def test_sizes_are_taken_alike_in_inches_and_millimetres():
    a = size(read_design(update_text("", with_values(Design(), {"goal.fish": 200.0}), "us")))
    b = size(read_design(update_text("", with_values(Design(), {"goal.fish": 200.0}), "metric")))
    assert a.pump.pipe == b.pump.pipe
    assert a.tank.width == b.tank.width


def test_too_cold_to_grow_is_refused():
    with pytest.raises(DesignError, match="water_temperature"):
        size(with_values(demo("family"), {"site.water_temperature": 15.0}))


def test_where_plants_take_all_the_nitrate_no_new_water_is_asked_for():
    """The loop has a root when nothing holds nitrate back; the filter keeps its least share."""
    design = with_values(demo("family"), {"filter.plants": 5000.0, "source.nitrate": 0.0})
    sizing = size(design)
    assert sizing.water.exchange == 0.0
    assert sizing.water.nitrate == 0.0 or np.isfinite(sizing.water.nitrate)
    assert sizing.filter.load == pytest.approx(0.5 * sizing.loads.ammonia_made, rel=1e-12)
    assert 0.0 < sizing.filter.ammonia < np.inf
