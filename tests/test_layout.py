"""The layout graph: levels that gravity allows, fittings that the sizing counts, nothing without a place."""

import itertools
import math

import numpy as np
import pytest
from building_kinds import KINDS_OF_DESIGN, kind_of_design
from designs import DEMOS, demo, random_design

from rsdesign import size
from rsdesign.building.layout import layout
from rsdesign.building.levels import chain, levels
from rsdesign.building.measured import way_head
from rsdesign.building.pressure import way_turns
from rsdesign.building.rules import pipe_part, rule
from rsdesign.building.run_down import run_down
from rsdesign.building.stations import ends, stations
from rsdesign.core.choices import DesignError
from rsdesign.design.model import with_values
from rsdesign.equations.pipes.drains import standpipe_capacity

KINDS = [*KINDS_OF_DESIGN]
PUMPED = [k for k in KINDS if k != "airlifts"]


def laid(name):
    return layout(size(kind_of_design(name)))


@pytest.mark.parametrize("name", DEMOS)
def test_a_demo_can_be_built_as_it_stands(name):
    assert [p.said("us") for p in laid(name).problems] == []


@pytest.mark.parametrize("name", KINDS)
def test_water_falls_from_tank_to_sump_by_what_each_pipe_uses(name):
    """Every gravity pipe has the fall that its water takes, or the layout says so."""
    found = laid(name)
    s = found.sizing
    tank, sump = found.vessel("tank"), found.vessel("sump")
    assert tank.level - sump.level == pytest.approx(s.design.pump.lift, abs=1e-12)
    short = any("falls" in p.words or "uses" in p.words for p in found.problems)
    for run in found.runs:
        if run.kind == "gravity":
            assert run.uses > 0
            assert run.uses <= run.fall * (1 + 1e-9) or short, run.name
    at = levels(s)
    way = ["tank", *chain(s)]
    for here, after in itertools.pairwise(way):
        assert at.into[after] <= at.out[here] + 1e-12 or short
    total = at.out["tank"] - at.into[way[1]]
    if way[1] != "sump":
        assert total == pytest.approx(s.pump.drain_fall)


@pytest.mark.parametrize("name", KINDS)
def test_a_run_is_as_long_and_turns_as_often_as_it_is_drawn(name):
    """One geometry: legs, lengths and elbows of every run are those of its ways in space."""
    found = laid(name)
    for run in found.runs:
        ways = [w for w in found.ways if w.run is run]
        assert len(ways) == run.count == len(run.each), run.name
        assert run.in_all == pytest.approx(sum(w.length for w in ways), abs=1e-9)
        assert run.length == pytest.approx(max(w.length for w in ways), abs=1e-9)
        if run.kind != "hose":
            corners = max(len(w.points) - 2 for w in ways)
            assert run.counted("elbow") == corners + run.at_ends - run.corner_tees, run.name
        for way in ways:
            assert [leg.length for leg in way.measured] == pytest.approx(list(way.legs))


def _said(found, start):
    return [p for p in (*found.notes, *found.problems) if start in p.words]


@pytest.mark.parametrize("name", PUMPED)
def test_what_the_design_counts_beside_what_is_laid_out_is_said(name):
    """Longer, shorter, more or fewer turns: said with both lengths, and a problem where the head does not reach."""
    found = laid(name)
    s = found.sizing
    way = [r for r in found.runs if r.name in ("riser", "main", "branch")]
    need, told = sum(r.length for r in way), float(s.design.pump.length)
    lost = way_head(s, way)
    short = [p for p in found.problems if p.words.startswith("The way from the pump")]
    assert bool(short) == (lost > s.pump.friction * (1 + 1e-6))
    said = {n: v for n, v, _ in (short or _said(found, "Pipe from pump"))[0].values}
    assert (said["told"], said["need"]) == pytest.approx((told, need))
    if way_turns(way) != s.design.pump.elbows:
        assert short or _said(found, "Turns on the way")
    runs = {r.name: r for r in found.runs}
    drain = [runs[n] for n in ("drain branch", "drain") if n in runs]
    said = {
        n: v
        for n, v, _ in _said(
            found, "rain to the first" if not _short_drain(found) else "The drain as"
        )[0].values
    }
    assert said["need"] == pytest.approx(sum(r.length for r in drain))
    assert said["told"] == pytest.approx(s.design.pump.drain_length)


def _short_drain(found):
    return any(p.words.startswith("The drain as") for p in found.problems)


def test_a_longer_pipe_of_the_design_is_spare_in_the_layout():
    plain = laid("family")
    longer = layout(
        size(with_values(demo("family"), {"pump.length": plain.sizing.design.pump.length + 5.0}))
    )
    said = {n: v for n, v, _ in _said(longer, "Pipe from pump")[0].values}
    assert said["told"] == pytest.approx(plain.sizing.design.pump.length + 5.0)
    assert said["more"] == pytest.approx(said["told"] - longer.run("main").length)
    # the sump alone may grow, since a longer pipe may hold more water
    assert longer.run("main").length == pytest.approx(plain.run("main").length, abs=0.05)


@pytest.mark.parametrize("name", KINDS)
def test_the_drain_ends_where_its_hole_is(name):
    """The drain passes through the middle of its hole, and the trench lies under every floor that it comes up in."""
    found = laid(name)
    drain = found.run("drain")
    after = found.vessel(drain.target)
    hole = next(h for h in after.holes if h.purpose == "drain from the tank")
    (x, y), way = found.places[after.name][0], next(w for w in found.ways if w.run is drain)
    at = [p for p in way.points if abs(p[2] - hole.height) < 1e-9]
    if hole.side == "floor, in the middle":
        assert hole.height == pytest.approx(after.lowest)
        assert any(
            math.hypot(p[0] - x, p[1] - y) < 1e-9 and p[2] < after.lowest for p in way.points
        )
        assert way.points[-1][2] > after.lowest
    elif hole.side.startswith("floor"):
        assert hole.height == pytest.approx(after.floor)
        assert way.points[-1][2] == pytest.approx(after.floor)
        assert -found.trench < after.floor
    else:
        assert at, name
        assert after.lowest < hole.height < after.level or after.inlet is not None
    if hole.fitting == "bulkhead fitting":
        assert drain.counted("bulkhead") == 1


@pytest.mark.parametrize("name", KINDS)
def test_water_comes_over_the_pan_of_a_tower(name):
    found = laid(name)
    tower = found.vessel("filter")
    if tower is None or tower.inlet is None or found.problems:
        return
    feed = [w for w in found.ways if w.run.target == "filter" and w.run.kind == "gravity"]
    assert feed
    for way in feed:
        assert way.points[-1][2] >= tower.inlet - 1e-9
        if way.run.source != "tank":
            assert way.run.fall >= way.run.uses + way.run.inside / 2 - 1e-9


def test_the_bypass_ends_in_a_hole():
    found = laid("settler for half")
    run = found.run("bypass")
    target = found.vessel(run.target)
    hole = next(h for h in target.holes if h.purpose == "past the settler")
    way = next(w for w in found.ways if w.run is run)
    assert way.points[-2][2] == pytest.approx(hole.height)
    assert way.points[-1][2] == pytest.approx(run.lip)
    assert run.lip == pytest.approx(found.run("settler to screen").lip)
    assert hole.height < target.level
    assert run.counted("bulkhead") == 1


@pytest.mark.parametrize("name", KINDS)
def test_every_vessel_and_pipe_is_complete(name):
    found = laid(name)
    names = {v.name for v in found.vessels}
    for v in found.vessels:
        assert v.rim > v.level or v.inlet is not None
        assert v.across > 0
        assert v.length > 0
        assert v.depth > 0
        assert v.floor == pytest.approx(v.level - v.depth) or v.kind == "trickling"
        assert len(found.places[v.name]) == v.count
        for hole in v.holes:
            assert hole.diameter > 0
            assert v.lowest - 1e-9 <= hole.height <= v.rim
    pipes = {r.name for r in found.runs}
    machines = {m.name for m in found.machines}
    for run in found.runs:
        assert pipe_part(run.pipe).outside_diameter > run.inside or run.kind == "hose"
        assert run.source in names | pipes | machines
        assert run.target in names | pipes | {"bucket", "garden", "open air"}
        assert run.count >= 1
        assert run.length > 0
        assert run.why


@pytest.mark.parametrize("name", DEMOS)
def test_what_stands_where_does_not_overlap(name):
    """Boxes around the vessels in plan; a tower in the sump stands in it on purpose."""
    found = laid(name)
    boxes = []
    for v in found.vessels:
        if v.stands_in:
            continue
        for x, y in found.places[v.name]:
            boxes.append((x - v.length / 2, x + v.length / 2, y - v.across / 2, y + v.across / 2))
    for a, b in itertools.combinations(boxes, 2):
        assert a[1] <= b[0] or b[1] <= a[0] or a[3] <= b[2] or b[3] <= a[2]


def test_each_tank_has_its_own_overflow_although_fewer_would_take_the_flow():
    found = laid("commercial")
    assert found.sizing.pump.standpipes == 5
    assert found.run("standpipe").count == 6
    assert found.vessel("tank").holes[0].count == 1


def test_discs_stand_in_for_many_stones_and_few_stones_stay():
    many = laid("commercial")
    assert many.sizing.air.stones > 400
    disc = next(d for d in many.diffusers if d.vessel == "tank")
    assert disc.kind == "disc"
    assert disc.each * disc.vessels * rule("disc air") >= many.sizing.air.used
    few = layout(size(with_values(demo("family"), {"goal.fish": 60.0})))
    stones = next(d for d in few.diffusers if d.vessel == "tank")
    assert (stones.kind, stones.each) == ("fine stone", few.sizing.air.stones)


@pytest.mark.parametrize("name", [*KINDS, *range(12)])
def test_the_sump_takes_what_runs_down_when_the_pump_stops(name):
    """Each vessel falls to the lip of its outlet and no lower; the room under the overflow takes it all."""
    found = layout(size(random_design(name))) if isinstance(name, int) else laid(name)
    sump, over = found.vessel("sump"), found.run("overflow")
    bottom = next(h.height for h in sump.holes if "overflow" in h.purpose) - over.inside / 2
    space = sump.across * sump.length * (bottom - sump.level)
    down = sum(one.volume for one in run_down(found))
    said = any(p.words.startswith("When the pump stops") for p in found.problems)
    assert rule("run-down margin") * down <= space * (1 + 1e-6) or said
    assert sump.level < bottom < sump.rim
    for one in run_down(found):
        source = found.vessel(one.name)
        run = next(
            (
                r
                for r in found.runs
                if r.source == one.name and r.lip is not None and r.name != "bypass"
            ),
            None,
        )
        if source is not None and run is not None:
            assert one.fall == pytest.approx(max(0.0, source.level - run.lip))
            assert one.volume == pytest.approx(source.count * source.area * one.fall)
    for run in found.runs:
        if run.lip is not None:
            way = next(w for w in found.ways if w.run is run)
            mouth = way.points[-1] if run.name == "bypass" else way.points[0]
            source = found.vessel("settler" if run.name == "bypass" else run.source)
            assert mouth[2] == pytest.approx(run.lip)
            assert run.lip < source.level
            if run.name != "bypass":
                assert standpipe_capacity(run.inside, run.start - run.lip) >= run.flow


@pytest.mark.parametrize("name", KINDS)
def test_neither_drain_nor_flush_empties_a_tank(name):
    """The centre drain rises to a lip at the mouth of the overflow, behind its valve; its top is open."""
    found = laid(name)
    tank, stand, centre = found.vessel("tank"), found.run("standpipe"), found.run("centre drain")
    joins = ends(found)
    for way in (w for w in found.ways if w.run is centre):
        top = max(range(len(way.points)), key=lambda k: way.points[k][2])
        assert way.points[top][2] - centre.inside / 2 == pytest.approx(stand.end)
        assert centre.counted("tee") == centre.corner_tees == 1
        valve = next(s for s in stations(way, joins) if s.kind == "ball valve")
        assert valve.leg < top
        x, y = found.places["tank"][way.tank]
        px, py, _ = way.points[top]
        if tank.shape == "round":
            assert math.hypot(px - x, py - y) > tank.across / 2


def test_the_run_down_of_a_family_by_hand():
    """Area times fall of each vessel, and the pipe: computed beside the code from the sizes on the paper."""
    found = laid("family")
    inch, d = 0.0254, {v.name: v for v in found.vessels}
    tank = (
        math.pi / 4 * (120 * inch) ** 2 * 2 * inch
    )  # 10 ft across, 2 in over the mouth of its standpipe
    settler = math.pi / 4 * d["settler"].across ** 2 * 1.0 * inch  # lip 1 in under its water
    screen = 36 * 16 * 3.0 * inch**3  # 2 in over the clogged mats, 1 in over the lip
    media = (
        math.pi / 4 * d["filter"].across ** 2 * 2.0 * inch
    )  # 1 in over its screen, 1 in over the lip
    pipe = math.pi / 4 * (2.067 * inch) ** 2 * found.run("main").length
    by_hand = tank + settler + screen + media + pipe
    down = {one.name: one.volume for one in run_down(found)}
    short = down["standpipe"] + down["centre drain"]
    assert short < 0.002  # two short pieces of pipe, 1.6 L
    assert sum(down.values()) - short == pytest.approx(by_hand, rel=0.01)


def test_a_tower_too_high_for_the_fall_is_said():
    words = [p.said("us") for p in laid("low tower").problems]
    assert any("more lift" in w for w in words)
    assert laid("high tower").problems == ()


def test_many_designs_have_no_layout():
    with pytest.raises(DesignError, match="one design"):
        layout(size(demo("family").with_(goal_fish=np.array([100.0, 200.0]))))


@pytest.mark.parametrize("seed", range(30))
def test_any_design_has_a_layout_or_says_what_is_wrong(seed):
    found = layout(size(random_design(seed)))
    assert found.vessels[-1].name == "sump"
    for p in found.problems:
        assert p.said("us") != p.said("metric")
