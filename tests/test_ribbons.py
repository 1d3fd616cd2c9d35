"""Ribbons against single sizings: every state by brute force, no gap, and the trends of the trade."""

import numpy as np
import pytest
from designs import DEMOS, demo, random_design

from rsdesign.core.choices import DesignError
from rsdesign.core.kinds import KINDS
from rsdesign.core.units import parse
from rsdesign.design.model import FIELDS, problems, with_values
from rsdesign.sizing.judging import ENOUGH, FIT, SHORT, TIGHT, word
from rsdesign.sizing.system import figures, size
from rsdesign.studies.ribbons import IMPOSSIBLE, NOT_JUDGED, ORDER, ribbons
from rsdesign.studies.stacked import TODAY, TOLD, parts_today, possible, ready, slider, stacked

SPANS = {
    "goal.fish": ("20", "2000"),
    "goal.weight": ("0.5 lb", "3 lb"),
    "tank.width": ("3 ft", "30 ft"),
    "tank.depth": ("1 ft", "6 ft"),
    "filter.media_volume": ("1 ft³", "200 ft³"),
    "stock.protein": ("25 %", "45 %"),
    "air.flow": ("0.5 cfm", "400 cfm"),
    "keep.oxygen": ("3 mg/L", "9 mg/L"),
    "pump.flow": ("0.5 gpm", "500 gpm"),
    "pump.lift": ("0 ft", "15 ft"),
    "site.warmest_water": ("70 °F", "105 °F"),
    "solids.overflow_rate": ("0.5 gpm/ft²", "8 gpm/ft²"),
}


def of(path):
    return slider(path, *(parse(text, FIELDS[path].kind) for text in SPANS[path]))


SLIDERS = tuple(of(path) for path in SPANS)


def brute(sizing, path, value, hold, judged):
    """The state of one value from a sizing of its own: the worst word, and the part that limits."""
    design = with_values(ready(sizing, path, hold, tuple(SPANS)), {path: float(value)})
    open_ = with_values(ready(sizing, path, TOLD), {path: float(value)})
    told = {p.name for p in size(open_).parts if p.owned}
    rows = []
    for part in size(design).parts:
        if part.name in judged:
            margin = np.nan_to_num(float(part.margin), nan=0.0)
            rows.append((ORDER.index(word(margin, part.name not in told)), margin, part.name))
    state, margin, name = min(rows)
    return ORDER[state], (name if ORDER[state] != ENOUGH else ""), margin


def near_an_edge(margin):
    return min(abs(margin - 1.0), abs(margin - 1.2)) < 1e-6


@pytest.mark.parametrize("hold", [TOLD, TODAY])
@pytest.mark.parametrize(
    "design", [demo("family"), demo("school"), random_design(3), random_design(7)]
)
def test_every_value_stands_as_a_sizing_of_its_own_says(design, hold):
    if design.goal.fish is None:
        design = with_values(design, {"goal.harvest": None, "goal.fish": 300.0})
    sizing = size(design)
    rng = np.random.default_rng(1)
    tried = 0
    for found in ribbons(sizing, SLIDERS, hold):
        path, judged = found.slider.path, set(found.margins)
        if not judged or path == "site.warmest_water":  # there the fish are judged too, see below
            continue
        base = ready(sizing, path, hold, tuple(SPANS))
        good = np.flatnonzero(possible(base, path, found.values))
        for place in rng.choice(good, 3, replace=False):
            value = found.values[place]
            state, part, margin = brute(sizing, path, value, hold, judged)
            if near_an_edge(margin):
                continue
            run = found.state_at(value)
            assert run.state == state, (path, value, run, margin)
            assert run.part == part or run.state == ENOUGH, (path, value, run, part)
            tried += 1
    assert tried > 8


@pytest.mark.parametrize("seed", range(25))
def test_runs_cover_the_whole_range_without_a_gap(seed):
    design = random_design(seed)
    if design.goal.fish is None:
        design = with_values(design, {"goal.harvest": None, "goal.fish": 300.0})
    sizing = size(design)
    for hold in (TOLD, TODAY):
        for found in ribbons(sizing, SLIDERS[:6], hold):
            assert found.runs[0].start == found.slider.low
            assert found.runs[-1].end == pytest.approx(found.slider.high)
            assert (found.runs[0].from_, found.runs[-1].to) == (0.0, 1.0)
            for one, other in zip(found.runs, found.runs[1:], strict=False):
                assert one.end == other.start
                assert one.from_ < one.to == other.from_
                assert (one.state, one.part) != (other.state, other.part)
            for run in found.runs:
                assert run.state in (*ORDER, NOT_JUDGED, IMPOSSIBLE)
                assert bool(run.part) == (run.state in (SHORT, TIGHT, FIT))


@pytest.mark.parametrize("name", DEMOS)
def test_holding_the_parts_of_today_leaves_every_figure_as_it_was(name):
    before = size(demo(name))
    for moving in ((), ("goal.fish",)):
        after = size(with_values(before.design, parts_today(before, "", moving)))
        for (figure, old), (_, new) in zip(figures(before), figures(after), strict=True):
            if isinstance(old, (float, np.floating)):
                assert new == pytest.approx(old, rel=1e-9, nan_ok=True), figure.path


def test_a_part_that_the_sizing_fits_is_never_short_where_it_is_not_held():
    """The school names no filter: more fish only ask for more of it, until it is held."""
    sizing = size(demo("school"))
    open_, held = (ribbons(sizing, (of("goal.fish"),), hold)[0] for hold in (TOLD, TODAY))
    assert "filter" not in open_.margins
    assert "filter" in held.margins
    assert held.runs[-1].state == SHORT
    assert held.state_at(held.now).state != SHORT


@pytest.mark.parametrize("design", [*map(demo, DEMOS), *map(random_design, range(12))])
def test_more_fish_are_never_better_for_what_is_held(design):
    if design.goal.fish is None:
        design = with_values(design, {"goal.harvest": None, "goal.fish": 300.0})
    found = ribbons(size(design), (of("goal.fish"),), TODAY)[0]
    for name in ("tank", "filter", "air", "water"):
        if name in found.margins:
            assert (np.diff(found.margins[name]) <= 1e-9).all(), name


def test_media_and_width_are_better_the_more_there_is_of_them():
    sizing = size(demo("family"))
    media, width = ribbons(sizing, (of("filter.media_volume"), of("tank.width")), TOLD)
    for found, name in ((media, "filter"), (width, "tank")):
        assert (np.diff(found.margins[name]) > 0).all()
        states = [run.state for run in found.runs]
        assert states == [SHORT, TIGHT, ENOUGH]
        assert found.runs[0].part == name


def test_the_edge_of_a_run_is_where_the_margin_is_one():
    sizing = size(demo("family"))
    for path in ("tank.width", "filter.media_volume", "air.flow", "tank.depth"):
        found = ribbons(sizing, (of(path),), TOLD)[0]
        edge = next(run.end for run in found.runs if run.state == SHORT)
        part = next(run.part for run in found.runs if run.state == SHORT)
        there = size(with_values(ready(sizing, path, TOLD), {path: edge}))
        margin = next(float(p.margin) for p in there.parts if p.name == part)
        assert margin == pytest.approx(1.0, abs=0.01), path  # an eighth of a step of the range


def test_fish_stop_eating_where_the_species_table_says():
    sizing = size(demo("family"))
    found = ribbons(sizing, (of("site.warmest_water"),), TODAY)[0]
    high = sizing.tables.species.feeding_high
    hot = found.state_at(high + 0.5)
    assert (hot.state, hot.part) == (SHORT, "fish")
    assert hot.start == pytest.approx(high, abs=0.1)
    assert found.state_at(high - 0.5).part != "fish"


def test_the_old_rule_stands_where_four_gallons_a_pound_put_it():
    """1,316 gal and 1.25 lb fish: at 4 gal for each pound 263 fish of full size, common practice."""
    sizing = size(demo("family"))
    found = ribbons(sizing, (of("goal.fish"),), TOLD)[0]
    gallons = sizing.tank.volume / parse("1 gal", KINDS["volume"])
    biomass = sizing.stock.peak_biomass / parse("1 lb", KINDS["mass"])
    assert found.rule == pytest.approx(200 * gallons / (4.0 * biomass), rel=0.01)
    depth = ribbons(sizing, (of("tank.depth"),), TOLD)[0]
    assert depth.rule == pytest.approx(0.762)


def test_values_at_which_no_design_is_possible_are_a_run_of_their_own():
    found = ribbons(size(demo("family")), (of("keep.oxygen"),), TOLD)[0]
    last = found.runs[-1]
    assert last.state == IMPOSSIBLE
    design = demo("family")
    assert problems(with_values(design, {"keep.oxygen": last.end}))
    assert not problems(with_values(design, {"keep.oxygen": last.start * 0.98}))


def test_a_choice_that_takes_no_row_of_values_has_a_ribbon_too():
    design = with_values(demo("school"), {"stock.interval": 60.0})
    sizing = size(design)
    found = ribbons(sizing, (slider("stock.interval", 28.0, 200.0), of("tank.depth")), TODAY)
    assert len(found[0].values) == 9
    assert found[0].runs[-1].end == 200.0
    for value in found[0].values[::3]:
        state, *_, margin = brute(sizing, "stock.interval", value, TODAY, set(found[0].margins))
        assert near_an_edge(margin) or found[0].state_at(value).state == state


def test_plain_data_is_plain_and_small():
    import json

    sliders = (of("goal.fish"), of("tank.width"))
    found = ribbons(size(demo("family")), sliders, TODAY, last={"tank.width": 3.0})
    data = [f.plain("us") for f in found]
    assert len(json.dumps(data[1]["runs"])) < 700
    assert json.loads(json.dumps(data)) == data
    assert data[1]["now"]["text"] == "10 ft"
    assert data[1]["last"]["value"] == pytest.approx(3.0 / 0.3048)
    assert data[0]["last"] is None


def test_what_is_no_number_has_no_ribbon():
    with pytest.raises(DesignError, match="not a choice with a number"):
        slider("filter.type")
    with pytest.raises(DesignError, match="hold is"):
        ribbons(size(demo("family")), (of("goal.fish"),), "tomorrow")


def test_rows_of_designs_that_differ_in_words_and_numbers_are_sized_as_alone():
    designs = [demo("family"), demo("school"), with_values(demo("family"), {"filter.media_volume": 0.7}),
               random_design(5)]  # fmt: skip
    depths = np.array([0.7, 0.9, 1.3])
    found = stacked([(d, {"tank.depth": depths}) for d in designs])
    for design, along in zip(designs, found, strict=True):
        for k, depth in enumerate(depths):
            alone = size(with_values(design, {"tank.depth": float(depth)}))
            assert along.figure("filter.area")[k] == pytest.approx(
                float(alone.filter.area), rel=1e-9
            )
            assert along.names("pump.model")[k] == str(alone.pump.model)
