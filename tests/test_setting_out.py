"""What a builder sets out: places from two lines, straps, shelves, fence and rails, told and drawn as laid out."""

import functools
import itertools
import math
from collections import Counter

import pytest
from building_kinds import kind_of_design
from designs import DEMOS, demo, random_design

from rsdesign.building.guards import fence, machine_places, rails
from rsdesign.building.layout import layout
from rsdesign.building.rules import rule
from rsdesign.building.supports import SHORT, strap_gap, supports
from rsdesign.design.model import with_values
from rsdesign.report.drawings.building.frame import job
from rsdesign.report.drawings.building.free_room import used
from rsdesign.report.drawings.building.marks import Path, Words
from rsdesign.report.drawings.building.pens import OVERFLOW_DRAWN
from rsdesign.report.drawings.building.sheets import numbered
from rsdesign.report.drawings.building.words import level_words, size_words
from rsdesign.sizing.system import size

KINDS = [*DEMOS, "high tower", "airlifts", "box tank", "eight-sided tanks"]
SAME = 1e-6


@functools.cache
def job_of(name, paper="letter"):
    return job(layout(size(kind_of_design(name))), "us", paper)


@functools.cache
def pages_of(name, paper="letter"):
    return numbered(job_of(name, paper))


def rows_of(name):
    """Every row of four cells on the sheets: what, from line A, from line B, height."""
    found = Counter()
    for page in pages_of(name):
        lines = {}
        for item in page.items:
            if isinstance(item, Words) and item.anchor == "start":
                lines.setdefault(round(item.y, 3), []).append(item)
        for items in lines.values():
            items.sort(key=lambda i: i.x)
            for four in zip(*(items[k:] for k in range(4)), strict=False):
                found[tuple(i.words for i in four)] += 1
    return found


def told(made, spot):
    left, low, _, _ = fence(made.layout)
    return (
        size_words(spot[0] - left, "us"),
        size_words(spot[1] - low, "us"),
        level_words(spot[2], "us"),
    )


@pytest.mark.parametrize("name", KINDS)
def test_every_corner_of_every_pipe_is_told_from_two_lines(name):
    """Of a pipe at each tank the first of each row is told; every other is that one moved along the row."""
    made, rows = job_of(name), rows_of(name)
    places = {row[1:] for row in rows}
    pitch = made.site.tanks[1][0] - made.site.tanks[0][0] if made.site.many else 0.0
    for way in made.ways:
        if way.run.kind == "hose" or way.run.name == "filter air lateral":
            continue
        moves = (
            [0.0, *(-pitch * k for k in range(1, made.site.columns()))]
            if way.tank is not None
            else [0.0]
        )
        for x, y, z in way.points:
            assert any(told(made, (x + dx, y, z)) in places for dx in moves), (
                way.run.name,
                way.tank,
            )


@pytest.mark.parametrize("name", KINDS)
def test_vessels_and_machines_are_told_from_two_lines(name):
    made, rows = job_of(name), rows_of(name)
    places = {row[1:] for row in rows}
    for v in made.layout.vessels:
        for x, y in made.layout.places[v.name]:
            assert told(made, (x, y, v.lowest if v.cone else v.floor)) in places, v.name
    running = {m.kind: m for m in made.layout.machines}
    if "pump" in running:
        for x, y in made.site.pumps():
            assert ("pump", *told(made, (x, y, made.site.sump.floor))) in rows
    for m in made.layout.machines:
        if m.kind != "pump":
            fed = made.layout.vessel(m.serves) or made.site.tank
            shelf = max(0.0, fed.level + rule("shelf over water"))
            where = made.site.machines() if m.serves == "tank" else [made.site.filter_machine()]
            for x, y in where:
                assert (m.name, *told(made, (x, y, shelf))) in rows


@pytest.mark.parametrize("name", [*KINDS, *range(6)])
def test_pipes_over_the_floor_are_held(name):
    """No strap is further than half a gap from the next end or strap, and each lies on its pipe."""
    found = layout(size(random_design(name))) if isinstance(name, int) else job_of(name).layout
    for run in found.runs:
        held = supports(found, run)
        if run.kind not in ("pressure", "air") or run.name.startswith("filter air"):
            continue
        gap = strap_gap(run.pipe)
        for way in (w for w in found.ways if w.run is run):
            for a, b in itertools.pairwise(way.points):
                long = math.dist(a, b)
                on = sorted(math.dist(a, s.spot) for s in held
                            if math.dist(a, s.spot) + math.dist(s.spot, b) - long < SAME)  # fmt: skip
                if long <= SHORT:
                    continue
                assert on, run.name
                assert on[0] <= gap / 2 + SAME
                assert long - on[-1] <= gap / 2 + SAME
                assert all(q - p <= gap + SAME for p, q in itertools.pairwise(on))


@pytest.mark.parametrize("name", KINDS)
def test_straps_are_drawn_where_they_are(name):
    made, plan = job_of(name), pages_of(name)[0]
    drawn = [i for i in plan.items if isinstance(i, Path) and dict(i.about).get("data-support")]
    over = next(w for w in made.ways if w.run.name == "overflow")  # it is drawn broken off
    wanted = [s for run in made.layout.runs for s in supports(made.layout, run) if s.axis != "z"
              and (run is not over.run or math.dist(over.points[0], s.spot) <= OVERFLOW_DRAWN)]  # fmt: skip
    assert len(drawn) == len(wanted)
    middles = [tuple(sum(c) / 2 for c in zip(*i.points, strict=True)) for i in drawn]
    for one in wanted:
        x, y = plan.at(one.spot[0], one.spot[1])
        assert any(math.hypot(x - a, y - b) < 1e-6 for a, b in middles)
    assert any(s.kind == "rail" for s in wanted) or name == "airlifts"


@pytest.mark.parametrize("name", [*KINDS, *range(6)])
def test_the_fence_stands_around_all_of_it(name):
    found = layout(size(random_design(name))) if isinstance(name, int) else job_of(name).layout
    left, low, right, high = fence(found)
    away = rule("walkway")
    boxes = [(x - v.length / 2, y - v.across / 2, x + v.length / 2, y + v.across / 2)
             for v in found.vessels for x, y in found.places[v.name]]  # fmt: skip
    from rsdesign.building.space import Site

    boxes += [(x, y, x, y) for x, y in machine_places(Site(found))]
    for box in boxes:
        assert left <= box[0] - away + SAME
        assert low <= box[1] - away + SAME
        assert right >= box[2] + away - SAME
        assert high >= box[3] + away - SAME


@pytest.mark.parametrize("name", KINDS)
def test_what_protects_people_is_drawn(name):
    made, pages = job_of(name), pages_of(name)
    marks = [dict(i.about) for i in pages[0].items if isinstance(i, Path)]
    assert sum("data-rail" in m for m in marks) == len(rails(made.layout))
    assert {m["data-fence"] for m in marks if "data-fence" in m} == {"around", "gate"}
    side = [dict(i.about) for i in pages[1].items if isinstance(i, Path)]
    assert {m["data-lid"] for m in side if "data-lid" in m} == {"tank", "sump"}
    air = {m.name for m in made.layout.machines if m.kind != "pump"}
    assert {m["data-shelf"] for m in side if "data-shelf" in m} == air
    words = " ".join(i.words for i in pages[0].items if isinstance(i, Words))
    assert f"fence {size_words(rule('fence high'), 'us')} high" in words


@pytest.mark.parametrize("paper", ["letter", "a4"])
@pytest.mark.parametrize("name", DEMOS)
def test_no_sheet_but_the_last_is_half_empty(name, paper):
    made = job_of(name, paper)
    for page in pages_of(name, paper)[:-1]:
        assert used(made, page) > 0.5, page.title


@pytest.mark.parametrize(("start", "times"), [("commercial", 0.5), ("commercial", 1.5), ("commercial", 2.0),
                                              ("school", 1.5), ("family", 3.0)])  # fmt: skip
def test_no_pipe_of_water_runs_through_another(start, times):
    """Level pieces at one height cross nowhere; where they join, one ends on the other."""
    base = demo(start)
    goal = (
        {"goal.fish": base.goal.fish * times}
        if base.goal.fish
        else {"goal.harvest": float(base.goal.harvest) * times}
    )
    tanks = float(max(1, round((base.tank.count or 6) * times)))
    found = layout(size(with_values(base, {**goal, "tank.count": tanks})))
    pieces = [(w, a, b) for w in found.ways if w.run.kind in ("gravity", "pressure")
              for a, b in itertools.pairwise(w.points) if abs(a[2] - b[2]) < SAME]  # fmt: skip
    for (one, a, b), (other, c, d) in itertools.combinations(pieces, 2):
        if one is not other and abs(a[2] - c[2]) < 0.02:
            assert not (_apart(a, b, c, d) and _apart(c, d, a, b)), (one.run.name, other.run.name)
    if start == "commercial":
        assert [p.said("us") for p in found.problems] == []


def _apart(a, b, c, d):
    """Whether two points lie on both sides of a line."""

    def side(p):
        return (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])

    return side(c) * side(d) < -1e-9
