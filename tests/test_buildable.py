"""What a reader of the papers could not build: each fault of geometry or count that was found, and stays mended."""

import functools
import math
from itertools import pairwise

import pytest
from building_kinds import KINDS_OF_DESIGN, kind_of_design
from designs import random_design

from rsdesign import size
from rsdesign.building.cuts import cuts
from rsdesign.building.layout import layout
from rsdesign.building.rules import pipe_part, rule
from rsdesign.building.stations import ends, pieces_of, spot_of, stations

NAMES = [*KINDS_OF_DESIGN, *range(8)]
SAME = 1e-6


@functools.cache
def laid(name):
    return layout(size(random_design(name) if isinstance(name, int) else kind_of_design(name)))


def ways_of(found, name):
    return [w for w in found.ways if w.run.name == name]


@pytest.mark.parametrize("name", NAMES)
def test_a_hose_reaches_from_its_manifold_to_its_disc(name):
    """Level to the disc and down to it: a hose that is stretched over the rim comes out of its barb."""
    found = laid(name)
    for way in ways_of(found, "air drop"):
        (x, y, high), end = way.points[0], way.points[-1]
        need = math.hypot(end[0] - x, end[1] - y) + high - end[2]
        assert way.length == pytest.approx(need)
        assert sum(leg.length for leg in way.measured if leg.way == "down") == pytest.approx(
            high - end[2]
        )


def _on_a_wall(found, way, p):
    """Whether a point lies in the wall or the floor of a vessel, at a hole for a bulkhead fitting of the pipe's size."""
    for v in found.vessels:
        for hole in v.holes:
            if hole.fitting != "bulkhead fitting" or hole.size != way.run.pipe:
                continue
            if abs(p[2] - hole.height) > SAME:
                continue
            for x, y in found.places[v.name]:
                dx, dy = abs(p[0] - x), abs(p[1] - y)
                if hole.side.startswith("wall"):
                    edge = (
                        abs(math.hypot(dx, dy) - v.across / 2) < SAME
                        if v.shape != "box"
                        else (abs(dx - v.length / 2) < SAME and dy < v.across / 2)
                        or (abs(dy - v.across / 2) < SAME and dx < v.length / 2)
                    )
                    if edge:
                        return True
                elif dx < v.length / 2 and dy < v.across / 2:
                    return True
    return False


@pytest.mark.parametrize("name", NAMES)
def test_every_bulkhead_fitting_parts_its_pipe(name):
    """Its sockets have a stop: a pipe ends there, and no piece runs through a wall."""
    found = laid(name)
    if any("ends in one vessel" in p.words or "side by side" in p.words for p in found.problems):
        return  # the layout says that it cannot be built so
    joins = ends(found)
    for way in found.ways:
        if way.run.kind == "hose":
            continue
        at_ends = sum(_on_a_wall(found, way, p) for p in (way.points[0], way.points[-1]))
        many = way.run.counted("bulkhead")
        if way.run.name in ("drain", "drain branch", "standpipe tie"):
            at_ends -= many < len(way.walls) + at_ends  # under the fitting of its standpipe
        assert len(way.walls) + at_ends == many, way.run.name
        assert all(_on_a_wall(found, way, p) for p in way.walls)
        parts = [s for s in stations(way, joins) if s.kind == "bulkhead"]
        assert len(parts) == len(way.walls)
        assert len(pieces_of(way, joins)[0]) == len(way.legs) + len(stations(way, joins))


@pytest.mark.parametrize("name", NAMES)
def test_the_pipe_under_the_media_is_cut_at_its_crosses(name):
    found = laid(name)
    joins, laterals = ends(found), ways_of(found, "filter air lateral")
    for way in laterals:
        assert [s.kind for s in stations(way, joins)] == ["cross"]
        first, last = pieces_of(way, joins)[0]
        assert first == pytest.approx(last)
    drops = ways_of(found, "filter air drop")
    crosses = sum(s.kind == "cross" for way in drops for s in stations(way, joins)) + len(drops)
    assert (
        crosses == len(laterals) or not drops
    )  # the last one of each vessel is the end of its pipe
    for way in drops:
        assert pieces_of(way, joins)[1] < 0.005


def test_the_pieces_under_the_media_of_a_family_by_hand():
    """Elbow, crosses 12 in apart: half an elbow or a cross of 1/2 in pipe is 0.42 + 0.125 in."""
    pieces = {p.length for p in cuts(laid("family")).pieces if p.run == "filter air drop"}
    assert min(abs(p - (12 - 2 * 0.545) * 0.0254) for p in pieces) < 2e-4


@pytest.mark.parametrize("name", NAMES)
def test_a_reducer_bushing_fills_the_wider_socket(name):
    """What it takes off its pipe: the depth of the wider socket less that of its own, and the wider fitting."""
    found = laid(name)
    joins = ends(found)
    for way in found.ways:
        for f in (f for f in way.run.fittings if f.kind == "reducer"):
            assert f.at in ("start", "end", "middle")
            wider, own = pipe_part(f.size), pipe_part(way.run.pipe)
            if wider.outside_diameter < own.outside_diameter:  # a standpipe narrower than its drain
                assert way.run.name in ("drain", "drain branch")
                continue
            more = float(wider.socket) - float(own.socket)
            pieces, _ = pieces_of(way, joins)
            if (f.at, way.run.name) == ("start", "drain"):  # in the floor fitting of the standpipe
                leg, on = way.legs[0], [s for s in stations(way, joins) if s.leg == 0]
                if not on and pieces[0] > 2.0 * float(own.socket) + SAME:
                    assert pieces[0] == pytest.approx(leg - more - own.lay)
    for run in found.runs:
        if run.counted("bulkhead") or run.name.startswith("drain"):
            for way in ways_of(found, run.name):
                assert all(math.dist(a, b) > SAME for a, b in pairwise(way.points))


def _boxes(found):
    """The pits of a layout: vessel, and its box between the walls and around them."""
    for v in found.vessels:
        if v.side > 0.0:
            for x, y in found.places[v.name]:
                (a, b), (c, d) = v.pit_size, v.dug_size
                yield v, (x, y), (a / 2, b / 2), (c / 2, d / 2)


@pytest.mark.parametrize("name", NAMES)
def test_the_walls_of_pits_stand_clear_of_each_other_and_of_tanks(name):
    found = laid(name)
    boxes = [(v.name, at, out) for v, at, _, out in _boxes(found)]
    boxes += [("tank", at, (found.vessel("tank").length / 2, found.vessel("tank").across / 2))
              for at in found.places["tank"]]  # fmt: skip
    for k, (_, (x, y), (a, b)) in enumerate(boxes):
        for _, (other_x, other_y), (c, d) in boxes[k + 1 :]:
            assert abs(x - other_x) >= a + c - SAME or abs(y - other_y) >= b + d - SAME


@pytest.mark.parametrize("name", NAMES)
def test_no_upright_pipe_and_no_valve_lies_in_the_wall_of_a_pit(name):
    found = laid(name)
    joins = ends(found)
    spots = []
    for way in found.ways:
        if way.run.kind == "hose":
            continue
        half = float(pipe_part(way.run.pipe).outside_diameter) / 2
        for a, b in pairwise(way.points):
            if math.hypot(a[0] - b[0], a[1] - b[1]) < SAME and min(a[2], b[2]) < 0.0:
                spots.append((way.run.name, a, half))
        for s in stations(way, joins):
            if s.kind in ("union", "ball valve", "flexible coupling", "clean-out", "check valve"):
                a, b = way.points[s.leg], way.points[s.leg + 1]
                share = s.at / way.legs[s.leg]
                p = tuple(q + share * (r - q) for q, r in zip(a, b, strict=True))
                if p[2] < 0.0:
                    spots.append((f"{way.run.name}, {s.kind}", p, half))
    for v, (x, y), (a, b), (c, d) in _boxes(found):
        for what, p, half in spots:
            dx, dy = abs(p[0] - x), abs(p[1] - y)
            within = dx < a - half + SAME and dy < b - half + SAME
            beyond = dx > c + half - SAME or dy > d + half - SAME
            assert within or beyond or not v.lined or 4 * half > rule("pit side"), (v.name, what)


@pytest.mark.parametrize("name", NAMES)
def test_a_centre_drain_is_open_as_high_as_the_rim(name):
    found = laid(name)
    rim, centres = found.vessel("tank").rim, ways_of(found, "centre drain")
    vents = ways_of(found, "centre drain vent")
    assert len(vents) == len(centres)
    for way, vent in zip(centres, vents, strict=True):
        assert vent.points[0] == max(way.points, key=lambda p: p[2])
        assert vent.points[-1][2] >= rim - SAME
    assert any(p.run == "centre drain vent" for p in cuts(found).pieces)


@pytest.mark.parametrize("name", NAMES)
def test_the_sludge_valve_lies_over_the_floor_and_a_bucket_comes_under_its_mouth(name):
    found = laid(name)
    said = [n for n in found.notes if n.words.startswith("The sludge pipe ends")]
    ways = ways_of(found, "sludge")
    assert len(said) == len(ways)
    for way in ways:
        spot, _ = spot_of(way, "ball valve", ends(found))
        assert spot[2] > 0.1
        told = {n: v for n, v, _ in said[0].values}
        assert told["mouth"] == pytest.approx(way.points[-1][2])
        outside = float(pipe_part(way.run.pipe).outside_diameter)
        assert told["mouth"] - outside / 2 + told["deep"] >= told["tall"]
        settler = found.vessel("settler")
        if way.points[-1][2] > settler.level - rule("sludge head") + SAME:
            assert any("sludge valve" in p.words for p in found.problems)


@pytest.mark.parametrize("name", NAMES)
def test_a_pipe_begins_at_the_outlet_of_its_machine(name):
    """Not inside it: over its shelf, and over the floor of the sump, by a height to be measured."""
    found = laid(name)
    for way in found.ways:
        z = way.points[0][2]
        if way.run.name == "air riser":
            tank = found.vessel("tank")
            assert z == pytest.approx(
                tank.level + rule("shelf over water") + rule("machine outlet")
            )
        elif way.run.name == "riser" or (way.run.name == "main" and way.run.counted("adapter")):
            assert z == pytest.approx(found.vessel("sump").floor + rule("pump outlet"))
            assert z < found.vessel("sump").level
