"""What the papers tell people to do fits the system that is laid out, and no two texts give two numbers for one thing."""

import datetime
import functools
import re

import pytest
from designs import DEMOS, demo, random_design

from rsdesign import size
from rsdesign.building.circuits import circuits
from rsdesign.building.guards import GATE, fence
from rsdesign.building.parts_flow import BURIED
from rsdesign.building.problems import tape
from rsdesign.building.stations import ends
from rsdesign.building.weights import weights
from rsdesign.core.kinds import KINDS
from rsdesign.core.units import show
from rsdesign.design.model import with_values
from rsdesign.report import outage_words, routines
from rsdesign.report.building.all_lists import building_of
from rsdesign.report.cost import money
from rsdesign.report.handout import log_sheet
from rsdesign.report.handout.blocks import Boxes, Steps, Table, Text, Writer
from rsdesign.report.handout.computed import season_of
from rsdesign.report.handout.document import compose
from rsdesign.report.handout.emergency import emergency, water_card
from rsdesign.report.handout.filter_calendar import filter_calendar
from rsdesign.report.handout.season import calendar
from rsdesign.report.handout.season_plan import season_plan, seasons
from rsdesign.report.handout.summary import drawings, parts, summary
from rsdesign.report.keep_words import alkalinity_words, ripe_words
from rsdesign.report.standing_filter import restart_order
from rsdesign.season.batch_order import day_that_suits, order_of
from rsdesign.studies.heat.yearly import hotter_than_counted, year_of
from rsdesign.studies.outage import study as outage

NAMES = [*DEMOS, *range(12)]


@functools.cache
def sizing_of(name):
    return size(random_design(name) if isinstance(name, int) else demo(name))


def words_of(blocks) -> str:
    """All words of blocks in one text."""
    found = []
    for block in blocks:
        if isinstance(block, Text):
            found.append(block.words)
        elif isinstance(block, Steps):
            found += [" ".join(step) for step in block.items]
        elif isinstance(block, Table):
            found += [" ".join(map(str, row)) for row in block.rows]
        elif isinstance(block, Boxes):
            found += [" ".join((box[0], box[1], *box[2])) for box in block.boxes]
    return "\n".join(found)


def written(chapter, name, system="us") -> str:
    w = Writer(sizing_of(name), system)
    chapter(w)
    return words_of(w.blocks)


def when_it_fails(name) -> str:
    """All that card, page and command say about failures."""
    s = sizing_of(name)
    told = [str(box) for box in outage_words.boxes(outage.study(s))]
    told += [" ".join(row) for row in routines.restart(s)]
    return "\n".join([*told, words_of(emergency(s))])


@pytest.mark.parametrize("name", NAMES)
def test_page_and_card_start_a_system_again_in_one_order(name):
    """Methods of the project: air, then pump; no feed for 12 to 24 hours; test ammonia and nitrite."""
    s = sizing_of(name)
    on_page = tuple(words for _, words in routines.restart(s))
    assert on_page == restart_order(s)
    assert list(on_page) == outage_words.boxes(outage.study(s))[0]["restart"]
    assert "12 to 24 hours" in on_page[-1]


@pytest.mark.parametrize("name", NAMES)
def test_no_filter_is_drained_through_a_drain_that_it_has_not(name):
    said = when_it_fails(name)
    found = building_of(sizing_of(name)).layout
    assert not any("filter" in run.label and "drain" in run.name for run in found.runs)
    assert not re.search(r"drain the filter|filter[^.]* to the drain", said)
    own = float(sizing_of(name).bed.count) > 0
    assert ("See that the filter still bubbles" in said) == own
    assert ("an air stone into the filter" in said) <= (not own)


@pytest.mark.parametrize("name", NAMES)
def test_only_a_heated_design_is_told_about_its_heater(name):
    s = sizing_of(name)
    w = Writer(s, "us")
    said = "\n".join([when_it_fails(name), written(water_card, name), str(seasons(w))])
    assert ("heater" in said.lower()) == (s.design.climate.heated == "yes")


@pytest.mark.parametrize("name", NAMES)
def test_the_card_says_what_to_do_when_the_filters_own_air_stops_alone(name):
    s = sizing_of(name)
    found = [c.number for c in building_of(s).circuits if c.machine == "filter air machine"]
    said = words_of(emergency(s)).partition("Only the filter's own air off")[2].partition(")")[0]
    assert [int(n) for n in re.findall("[0-9]+", said)] == found


@pytest.mark.parametrize("name", NAMES)
def test_the_fence_of_the_plan_sheet_is_bought_and_built_before_water_comes(name):
    found = building_of(sizing_of(name))
    left, low, right, high = fence(found.layout)
    rows = {r.name: r for r in found.bill.rows}
    assert rows["yard fence"].count + GATE == pytest.approx(2 * (right - left) + 2 * (high - low))
    assert rows["gate"].count == 1
    order = [step.row.name for step in found.steps]
    assert order.index("fence") < order.index("fill") < order.index("leak")
    told = {step.row.name: step.row.what for step in found.steps}
    assert "thirds" in told["fill"]
    assert "Fill in" not in told["leak"]


@pytest.mark.parametrize("name", NAMES)
def test_every_open_end_of_buried_pipe_has_its_plug(name):
    found = building_of(sizing_of(name))
    count = sum(r.count for r in found.bill.rows if r.name == "test plug")
    there = [p for way, p in ends(found.layout) if way.run.name in BURIED]
    assert count <= len(there)
    assert (count > 0) == bool(there)
    sizes = {way.run.pipe for way, _ in ends(found.layout) if way.run.name in BURIED}
    assert {r.size.said("us") for r in found.bill.rows if r.name == "test plug"} <= sizes


@pytest.mark.parametrize("kind", ["battery air", "inverter", "generator", "oxygen bottle", "none"])
def test_what_stands_ready_is_bought_once_and_has_its_way_in(kind):
    """The machine's row names no battery, switch or bottle that has a row of its own; the card says how it starts."""
    backup = {"safety.backup": "none" if kind == "none" else "by hand"}
    if kind != "none":
        backup["safety.backup_kind"] = kind
    s = size(with_values(demo("family"), backup))
    found = building_of(s)
    rows = {r.name: r for r in found.bill.rows}
    if kind != "none":
        label = rows["backup air"].label
        assert "own battery" not in label
        for name, word in (("transfer switch", "switch"), ("oxygen regulator", "bottle")):
            assert not (name in rows and word in label)
    assert ("backup air joint" in rows) == (kind == "battery air")
    assert ("backup" in [step.row.name for step in found.steps]) == (kind == "battery air")
    said = words_of(emergency(s))
    assert ("BACKUP AIR" in said) == (kind == "battery air")
    charged = [c for c in circuits(found.layout) if c.machine == "charger"]
    assert len(charged) == ("battery charger" in rows)
    for c in charged:
        row = {n: v for n, v, _ in rows["battery charger"].size.values}
        assert c.watts > row["current"] * row["volts"]


@pytest.mark.parametrize("name", NAMES)
def test_media_are_held_on_both_sides_of_a_filter_full_of_water(name):
    found = building_of(sizing_of(name)).layout
    for run in found.runs:
        screens = run.counted("media screen")
        into = run.name.endswith(" to filter")
        out = run.name.startswith("filter to ")
        wet = found.sizing.design.filter.type != "trickling"
        assert screens == (into + out) * wet


WEATHERS = [("family", weather) for weather in ("low desert", "foothills", "high valley")]


@pytest.mark.parametrize(("name", "weather"), WEATHERS)
def test_front_page_batches_routines_and_season_plan_give_one_harvest(name, weather):
    """The days and the weight of the year of the budget; no paper carries fish past the cold that kills them."""
    s = size(with_values(demo(name), {"climate.weather": weather}))
    year, order = year_of(s), order_of(s)
    assert order.closes
    assert order.weight == pytest.approx(float(year.weight), rel=1e-9)
    w = Writer(s, "us")
    calendar(w, None)
    table = next(b for b in w.blocks if isinstance(b, Table))
    assert table.rows[0][-1] == f"day {order.days}"
    assert {row[0] for row in routines.harvest(s, None)} >= {f"day {order.days}"}
    front, plan = Writer(s, "us"), Writer(s, "us")
    summary(front)
    season_plan(plan, None)
    each = show(order.weight, KINDS["fish weight"], "us")
    for blocks in (w.blocks, plan.blocks):
        assert f"Harvest on day {order.days} at the latest, at about {each}" in words_of(blocks)
    assert f"day {order.days} at the latest" in words_of(front.blocks)
    assert each in words_of(front.blocks)
    assert "go by the season plan" not in words_of([*w.blocks, *plan.blocks])
    frame = season_of(s, "us")
    assert len(frame) == order.days
    assert frame["weight"].iloc[-1] == pytest.approx(order.weight / 0.45359237, rel=0.03)
    told = [
        int(n)
        for n in re.findall(
            r"[Hh]arvest (?:all fish )?on day ([0-9]+)|Day ([0-9]+): harvest", words_of(plan.blocks)
        )
        for n in n
        if n
    ]
    assert set(told) == {order.days}


def test_a_day_of_stocking_outside_the_season_is_told():
    s = sizing_of("family")
    assert order_of(s, datetime.date(2027, 6, 18)).days == 312 - 168
    late = datetime.date(2027, 12, 18)
    assert not order_of(s, late).closes
    w = Writer(s, "us")
    calendar(w, late)
    assert "does not suit these fish: stock between 11 March and 8 November" in words_of(w.blocks)


def test_dates_of_a_day_outside_the_season_are_those_of_the_next_that_suits():
    s, told = sizing_of("family"), datetime.date(2027, 12, 20)
    day = day_that_suits(s, told)
    assert day == datetime.date(2028, 3, 11)  # as the words say, in a year with a 29 February too
    assert day_that_suits(s, datetime.date(2027, 6, 18)) == datetime.date(2027, 6, 18)
    assert day_that_suits(s, None) is None
    for booklet in ("plan", "cards"):
        blocks = compose(s, "us", told, booklet).blocks
        assert (
            f"told, 2027-12-20, the water does not suit these fish. The dates here are for {day}"
            in words_of(blocks)
        )
        assert "2027-12-20" not in words_of(blocks).replace("told, 2027-12-20", "")
    batches = next(
        b
        for b in compose(s, "us", told, "plan").blocks
        if isinstance(b, Table) and b.rows[0][0] == "1"
    )
    assert batches.rows[0][1] == str(day)


def test_the_front_page_and_the_batches_count_from_one_day_of_stocking():
    s, told = sizing_of("family"), datetime.date(2027, 3, 15)
    days = order_of(s, told).days
    assert days < order_of(s).days
    blocks = compose(s, "us", told, "plan").blocks
    assert set(re.findall(r"on day ([0-9]+) at the latest", words_of(blocks))) == {str(days)}


@pytest.mark.parametrize("name", NAMES)
def test_alkalinity_has_one_pair_of_bounds_on_every_paper(name):
    s = sizing_of(name)
    said = alkalinity_words(s, "us")
    keep = show(s.design.keep.alkalinity, KINDS["concentration"], "us", 2)
    assert said == f"near {keep}, never under 40 mg/L"
    weekly = next(words for head, words in routines.weekly(s, "us") if head == "Test")
    w = Writer(s, "us")
    for text in (weekly, written(water_card, name), log_sheet.LIMITS["alkalinity"](w)):
        assert said in text


@pytest.mark.parametrize("name", DEMOS)
def test_ripe_is_said_in_one_way_and_fish_are_ordered_no_sooner(name):
    s = sizing_of(name)
    steps = routines.before(s, "us", None)
    assert sum(ripe_words("us") in words for _, words in steps) == 2
    weeks = {words.split(":")[0].split(".")[0]: int(when.split()[0]) for when, words in steps[:7]}
    start = next(n for words, n in weeks.items() if words.startswith("Start the filter"))
    order = next(n for words, n in weeks.items() if words.startswith("Is the filter ripe"))
    assert start - order == routines.lead_weeks()["filter"]
    w = Writer(s, "us")
    filter_calendar(w)
    assert ripe_words("us") in words_of(w.blocks)


@pytest.mark.parametrize("name", NAMES)
def test_the_front_page_names_no_mend_that_the_circuits_have_already(name):
    s, w = sizing_of(name), Writer(sizing_of(name), "us")
    summary(w)
    said = words_of(w.blocks)
    on = [c.number for c in building_of(s).circuits if c.machine == "air machine"]
    first = next((b for b in w.blocks if isinstance(b, Steps)), None)
    mends = "" if first is None else words_of([first])
    if len(on) > 1:
        assert "Two air machines on two breakers" not in mends
    if not s.design.safety.two_circuits:
        assert "Two air machines on two breakers" in said
    assert "carries no fish" not in said or "What you own: " in said


@pytest.mark.parametrize("name", NAMES)
def test_hot_and_cold_months_tell_what_the_weather_brings(name):
    s = sizing_of(name)
    hot, cold = (
        words for head, words in seasons(Writer(s, "us")) if head in ("Hot months", "Cold months")
    )
    found = hotter_than_counted(s)
    if found is not None:
        assert show(found, KINDS["temperature"], "us") in hot
    assert show(s.air.temperature, KINDS["temperature"], "us") in hot
    assert ("no fish are left" in cold) == (order_of(s).ends == "cold")


@pytest.mark.parametrize("name", DEMOS)
def test_walls_and_loads_on_the_plan_are_those_that_are_built(name):
    s, w = sizing_of(name), Writer(sizing_of(name), "us")
    drawings(w)
    parts(w)
    layout = building_of(s).layout
    wall = tape(layout.vessel("tank").wall, "us")
    load = next(one.load for one in weights(layout) if one.name == "tank")
    said = words_of(w.blocks)
    assert f"wall {wall} as built" in said
    assert f"Wall of a tank, as built {wall}" in said
    assert f"as built {show(load, KINDS['floor load'], 'us')}" in said
    assert "Counted by the piece" in said
    assert money(building_of(s).bill.total, "$") in said


@pytest.mark.parametrize("name", DEMOS)
def test_no_place_of_a_sentence_is_left_unfilled(name):
    s = sizing_of(name)
    told = [*routines.before(s, "us", None), *routines.daily(s, "us"), *routines.weekly(s, "us")]
    assert not [words for _, words in told if "{" in words]
