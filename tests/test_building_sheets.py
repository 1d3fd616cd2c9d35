"""Sheets to build by: to scale, whole, legible; each part of the layout has its mark; SVG and DXF alike."""

import functools
import io
import itertools
import math
import re
import xml.etree.ElementTree as ET

import ezdxf
import pypdf
import pytest
from building_kinds import KINDS_OF_DESIGN, kind_of_design
from designs import DEMOS, demo, random_design

from rsdesign.__main__ import main
from rsdesign.building.cuts import cuts
from rsdesign.building.layout import layout
from rsdesign.building.rules import rule
from rsdesign.core import tables
from rsdesign.core.kinds import KINDS
from rsdesign.core.units import show
from rsdesign.design.model import with_values
from rsdesign.report.drawings import look
from rsdesign.report.drawings.building import files
from rsdesign.report.drawings.building.dxf import UNITS, dxf
from rsdesign.report.drawings.building.frame import job
from rsdesign.report.drawings.building.marks import PAPERS, TEXT, Dimension, Words
from rsdesign.report.drawings.building.numbers import numbers
from rsdesign.report.drawings.building.outlines import outline
from rsdesign.report.drawings.building.scales import DrawingScale, usual_scale
from rsdesign.report.drawings.building.sheets import numbered
from rsdesign.report.drawings.building.svg import drawing, svg
from rsdesign.report.drawings.building.words import level_words, size_words
from rsdesign.report.drawings.labels import wide
from rsdesign.report.handout.document import compose
from rsdesign.report.handout.html import html
from rsdesign.report.handout.pdf import pdf
from rsdesign.sizing.system import size

SVG = "{http://www.w3.org/2000/svg}"
POINT = 25.4 / 72
LEAST = 7.0 * POINT
"""The smallest letters that may be printed [mm]."""
MORE = {
    "basin, tower, rafts": {"solids.settler": "basin", "filter.plants": 6.0, "filter.plant_bed": "rafts",
                            "filter.type": "trickling", "filter.medium": "plastic rings", "pump.lift": 2.6},
    "screen without settler": {"solids.settler": "none"},
    "several filters": {"filter.vessels": 3.0},
    "long tanks": {"tank.shape": "rectangle", "tank.width": 1.5, "tank.length": 6.0, "tank.count": 3.0},
    "octagons in two rows": {"tank.shape": "octagon", "tank.count": 7.0},
    "cut squares": {"tank.shape": "cut square", "tank.count": 2.0},
    "rafts": {"filter.plants": 40.0, "filter.plant_bed": "rafts"},
    "no air told": {"air.flow": 0.0},
}  # fmt: skip
"""Kinds beside those of ``building_kinds``: what is changed in the family's design [SI]."""
ALIKE = {*DEMOS, "few elbows", "high mountain", "beads", "totes"}
"""Kinds that draw nothing of their own, and the demos, which are taken in both units."""
KINDS_OF_SYSTEM = [*(n for n in KINDS_OF_DESIGN if n not in ALIKE), *MORE]
KEPT = 8
RANDOM = (0, 3)
MORE_RANDOM = tuple(n for n in range(22) if n not in RANDOM)
"""Random designs whose labels alone are looked at."""
CASES = [*((name, units) for name in DEMOS for units in ("us", "metric")),
         *((name, ("us", "metric")[k % 2]) for k, name in enumerate((*KINDS_OF_SYSTEM, *RANDOM)))]  # fmt: skip


@pytest.fixture(scope="module", params=CASES, ids=lambda case: "-".join(map(str, case)))
def case(request):
    """A design and units.  Tests of one case run one after the other, so that few sheets are kept."""
    return request.param


@functools.cache
def layout_of(name):
    if isinstance(name, int):
        return layout(size(random_design(name)))
    if name in MORE:
        return layout(size(with_values(demo("family"), MORE[name])))
    return layout(size(kind_of_design(name)))


@functools.lru_cache(maxsize=KEPT)
def job_of(name, units="us", paper="letter"):
    return job(layout_of(name), units, paper)


@functools.lru_cache(maxsize=KEPT)
def pages_of(name, units="us", paper="letter"):
    return numbered(job_of(name, units, paper))


@functools.lru_cache(maxsize=KEPT)
def roots_of(name, units="us", paper="letter"):
    return [ET.fromstring(svg(page)) for page in pages_of(name, units, paper)]


def words_on(root):
    """Each label with its box, its letters as wide as in the widest of the fonts asked for."""
    for el in root.iter(f"{SVG}text"):
        tall, x, y = (float(el.get(n)) for n in ("font-size", "x", "y"))
        long = wide(el.text, tall, "font-weight:600" in el.get("style"))
        left = {"start": x, "middle": x - long / 2, "end": x - long}[el.get("text-anchor")]
        yield el.text, left, y - 0.75 * tall, left + long, y + 0.2 * tall, tall


# --- whole and legible ---------------------------------------------------------------------


def test_words_lie_on_the_sheet_apart_and_large_enough(case):
    _words_lie_apart(*case)


@pytest.mark.parametrize("seed", MORE_RANDOM)
def test_words_of_any_design_lie_apart(seed):
    _words_lie_apart(seed, ("us", "metric")[seed % 2])


def _words_lie_apart(name, units):
    for page, root in zip(pages_of(name, units), roots_of(name, units), strict=True):
        found = list(words_on(root))
        wrong = []
        for k, (words, left, top, right, low, tall) in enumerate(found):
            assert tall >= LEAST, words
            if left < 5 or top < 5 or right > page.width - 5 or low > page.height - 5:
                wrong.append(f"{words!r} leaves the sheet")
            for other, l2, t2, r2, b2, _ in found[k + 1 :]:
                if left < r2 and l2 < right and top < b2 and t2 < low:
                    wrong.append(f"{words!r} lies on {other!r}")
        assert not wrong, (page.title, wrong)


@pytest.mark.parametrize(("name", "units"), [*CASES, *((n, "us") for n in MORE_RANDOM[:6])],
                         ids=str)  # fmt: skip
def test_no_line_runs_through_words(name, units):
    """A line through a label is hidden by plain paper that was laid over it before the label."""
    for page, root in zip(pages_of(name, units), roots_of(name, units), strict=True):
        lines, papers, wrong = [], [], []
        for place, el in enumerate(e for e in root.iter() if not e.tag.endswith("}g")):
            style = el.get("style") or ""
            if el.tag == f"{SVG}text":
                wrong += _lines_through(el, lines, papers)
            elif el.tag == f"{SVG}rect":
                x, y, w, h = (float(el.get(n)) for n in ("x", "y", "width", "height"))
                papers.append((place, x, y, x + w, y + h))
            elif el.tag == f"{SVG}path":
                corners = points_of(el)
                closed = el.get("d").endswith("Z")
                if closed and len(corners) == 4 and f"fill:{look.colour('paper')}" in style:
                    xs, ys = zip(*corners, strict=True)
                    papers.append((place, min(xs), min(ys), max(xs), max(ys)))
                if "stroke:" in style:
                    half = float(style.partition("stroke-width:")[2].partition(";")[0]) / 2
                    corners = [*corners, corners[0]] if closed else corners
                    lines += [(place, half, *a, *b) for a, b in itertools.pairwise(corners)]
        assert not wrong, (page.title, wrong)


def _lines_through(el, lines, papers):
    """The lines over the last paper that reach well into the box of a text."""
    tall, x, y = (float(el.get(n)) for n in ("font-size", "x", "y"))
    long = 0.8 * wide(
        el.text, tall, "font-weight:600" in el.get("style")
    )  # most letters are narrower
    left = {"start": x, "middle": x - long / 2, "end": x - long}[el.get("text-anchor")]
    box = (left + 0.3, y - 0.6 * tall, left + long - 0.3, y - 0.1)
    over = max((p[0] for p in papers if p[1] <= box[0] and p[2] <= box[1] and p[3] >= box[2] and p[4] >= box[3]),
               default=-1)  # fmt: skip
    for place, half, x1, y1, x2, y2 in lines:
        if place <= over or min(x1, x2) - half > box[2] or max(x1, x2) + half < box[0]:
            continue
        if min(y1, y2) - half > box[3] or max(y1, y2) + half < box[1]:
            continue
        away = math.hypot(x2 - x1, y2 - y1)
        dx, dy = (-(y2 - y1) / away * half, (x2 - x1) / away * half) if away else (0.0, 0.0)
        for turn in (-1, 1):
            a, b = (x1 + turn * dx, y1 + turn * dy), (x2 + turn * dx, y2 + turn * dy)
            if any(box[0] < a[0] + t * (b[0] - a[0]) < box[2] and box[1] < a[1] + t * (b[1] - a[1]) < box[3]
                   for t in (k / 60 for k in range(61))):  # fmt: skip
                return [(el.text, (round(x1), round(y1), round(x2), round(y2)))]
    return []


def test_every_part_of_the_layout_has_its_mark(case):
    name, units = case
    found = layout_of(name)
    marks = {key: set() for key in ("vessel", "run", "mark", "hole", "machine")}
    listed = set()
    for page, root in zip(pages_of(name, units), roots_of(name, units), strict=True):
        for el in root.iter():
            for key, seen in marks.items():
                if el.get(f"data-{key}"):
                    seen.add(el.get(f"data-{key}"))
        listed |= {item.words for item in page.items if isinstance(item, Words)}
    told = numbers(found)
    assert {v.name for v in found.vessels} == marks["vessel"]
    assert {r.name for r in found.runs} <= marks["run"]
    assert {m.name for m in found.machines} <= marks["machine"]
    assert {mark for mark, _, _ in told.holes} <= marks["hole"]
    assert set(told.runs.values()) <= listed, "the cut list holds every run"
    drawn = {mark for mark, _, _ in told.fittings}
    assert drawn <= marks["mark"]
    assert {mark for mark, _, _ in (*told.fittings, *told.holes)} <= listed


def test_each_sheet_says_design_scale_datum_units_caution_and_number():
    for units in ("us", "metric"):
        sheets = pages_of("family", units)
        for place, page in enumerate(sheets, 1):
            words = [i.words for i in page.items if isinstance(i, Words)]
            assert "Ocotillo Flat, a family's tank" in words
            assert "Teaching estimate: have it checked." in words
            assert "Datum ±0: finished floor by the tanks" in words
            assert f"Sheet {place} of {len(sheets)}" in words
            assert page.title in words
            assert any(w.startswith(("Scale 1:", "No scale")) for w in words)
            made = drawing(page)
            assert made.sentence.endswith(".")
            assert made.sentence in ET.fromstring(made.svg).get("aria-label")


def test_what_cannot_be_built_stands_on_the_plan():
    found = layout_of("long tanks")
    assert found.problems
    for units in ("us", "metric"):
        plan = pages_of("long tanks", units)[0]
        words = re.sub(r"\s+", " ", " ".join(i.words for i in plan.items if isinstance(i, Words)))
        for problem in found.problems:
            assert problem.said(units) in words


def test_ink_is_told_apart_in_grey():
    def grey(use):
        r, g, b = (int(look.PALETTE[use][k : k + 2], 16) for k in (1, 3, 5))
        return 0.2126 * r + 0.7152 * g + 0.0722 * b

    for fill in ("water", "inset", "sludge", "plants", "air", "paper"):
        assert grey(fill) - grey("ink") > 120


# --- to scale ------------------------------------------------------------------------------


def points_of(el):
    return [tuple(map(float, p.split())) for p in re.findall(r"[-\d.]+ [-\d.]+", el.get("d"))]


def spans(points):
    xs, ys = zip(*points, strict=True)
    return max(xs) - min(xs), max(ys) - min(ys)


def test_plan_and_section_are_to_scale(case):
    name, units = case
    found = layout_of(name)
    plan, section = roots_of(name, units)[:2]
    for root, upright in ((plan, False), (section, True)):
        scale = float(root.get("data-scale")) / 1000
        fine = (
            1.01e-4 * scale
        )  # a coordinate is written to 0.0001 mm, and two of them make a length
        width, height = PAPERS["letter"]
        assert root.get("width") == f"{width:g}mm"
        assert root.get("viewBox") == f"0 0 {width:g} {height:g}"
        seen = set()
        for el in root.iter():
            vessel = found.vessel(el.get("data-vessel") or "")
            if vessel is None or el.tag == f"{SVG}text":
                continue
            seen.add(vessel.name)
            if el.tag == f"{SVG}circle":
                assert 2 * float(el.get("r")) * scale == pytest.approx(vessel.across, abs=fine)
                continue
            wide_, tall = (d * scale for d in spans(points_of(el)))
            assert wide_ == pytest.approx(vessel.length, abs=fine)
            if not upright:
                assert tall == pytest.approx(vessel.across, abs=fine)
            elif vessel.inlet is None:
                assert tall == pytest.approx(vessel.rim - vessel.lowest, abs=fine)
            else:
                assert tall == pytest.approx(vessel.depth, abs=fine)
        assert seen == {v.name for v in found.vessels}


def test_places_in_plan_are_those_of_the_layout():
    for name in DEMOS:
        found, page = layout_of(name), pages_of(name)[0]
        middles = [el for el in roots_of(name)[0].iter() if el.get("data-middle")]
        for vessel, places in found.places.items():
            drawn = {tuple(round(sum(c) / 2, 4) for c in zip(*points_of(el)[:2], strict=True))
                     for el in middles if el.get("data-middle") == vessel}  # fmt: skip
            for x, y in places:
                px, py = page.at(x, y)
                assert any(math.hypot(px - a, py - b) < 1e-3 for a, b in drawn)


def test_dimensions_say_what_is_drawn(case):
    name, units = case
    count = 0
    for page in pages_of(name, units):
        for item in page.items:
            if not isinstance(item, Dimension):
                continue
            count += 1
            axis = 0 if item.way == "x" else 1
            meters = abs(item.end[axis] - item.start[axis]) * page.scale / 1000
            told = dict(item.about)
            assert meters == pytest.approx(float(told["data-meters"]), abs=1e-8)
            assert item.words.endswith(size_words(meters, units))
    assert count > 20


def test_sizes_and_levels_are_read_off_a_tape():
    assert size_words(1.2345, "metric") == show(
        1.2345, KINDS["pipe diameter"], "metric", 4
    ).replace("1,234", "1,234")
    assert size_words(0.6096, "us") == "2 ft"
    assert size_words(-0.3048, "us") == "-1 ft"
    assert level_words(0.0001, "us") == "±0"
    assert level_words(-1.0, "metric") == "-1,000 mm"


def test_levels_and_holes_are_those_of_the_layout(case):
    name, units = case
    found = layout_of(name)
    known = {level_words(z, units) for v in found.vessels
             for z in (v.level, v.lowest, *([v.inlet] if v.inlet is not None else []))}  # fmt: skip
    for el in (el for root in roots_of(name, units) for el in root.iter(f"{SVG}text")):
        if el.get("data-level"):
            assert el.text.split(" ", 1)[-1] in known or el.text in known
            assert el.text.endswith(level_words(float(el.get("data-level")), units))
    holes = {mark: hole for mark, _, hole in numbers(found).holes}
    drawn = [
        el
        for root in roots_of(name, units)
        for el in root.iter(f"{SVG}path")
        if el.get("data-purpose")
    ]
    assert {el.get("data-hole") for el in drawn} == set(holes)
    words = " ".join(
        i.words for p in pages_of(name, units) for i in p.items if isinstance(i, Words)
    )
    for mark, hole in holes.items():
        assert f"{mark} · {hole.purpose.split()[0]}" in words
    scales = {
        id(el): float(root.get("data-scale"))
        for root in roots_of(name, units)
        for el in root.iter()
    }
    for el in drawn:
        long = max(spans(points_of(el))) * scales[id(el)] / 1000
        fine = 1.01e-4 * scales[id(el)] / 1000
        assert long == pytest.approx(holes[el.get("data-hole")].diameter, abs=fine)


# --- pipes in space ------------------------------------------------------------------------


@pytest.mark.parametrize("name", [*DEMOS, *KINDS_OF_SYSTEM])
def test_every_pipe_is_there_as_often_as_the_layout_counts_it(name):
    found, made = layout_of(name), job_of(name)
    for run in found.runs:
        ways = [w for w in made.ways if w.run is run]
        assert len(ways) == run.count, run.name
        for way in ways:
            assert all(math.isfinite(c) for p in way.points for c in p)
            assert all(leg > 1e-6 for leg in way.legs), run.name


@pytest.mark.parametrize("name", [*DEMOS, *KINDS_OF_SYSTEM])
def test_upright_pieces_are_as_long_as_in_the_layout(name):
    made = job_of(name)
    for run in layout_of(name).runs:
        if run.name not in (
            "standpipe",
            "sludge",
            "riser",
            "main",
            "branch",
            "air riser",
            "airlift",
        ):
            continue
        way = next(w for w in made.ways if w.run is run)
        drawn = [
            abs(b[2] - a[2]) for a, b in itertools.pairwise(way.points) if abs(b[2] - a[2]) > 1e-9
        ]
        told = [leg.length for leg in run.legs if leg.way != "level" and leg.length > 1e-9]
        assert drawn == pytest.approx(told, abs=1e-9), run.name


@pytest.mark.parametrize("name", [*DEMOS, *KINDS_OF_SYSTEM])
def test_pipes_meet_their_holes(name):
    found, made = layout_of(name), job_of(name)
    for way in made.ways:
        run = way.run
        if run.name != f"{run.source} to {run.target}":
            continue
        source, target = found.vessel(run.source), found.vessel(run.target)
        out = [h for h in source.holes if h.purpose == f"to the {target.label}"]
        assert out, run.name
        if run.lip is None:
            assert way.points[0][2] == pytest.approx(out[0].height)
            assert _on_wall(source, made.site.places[source.name], way.points[0]), run.name
        else:  # from a lip inside, down to the height of the hole and out
            assert way.points[0][2] == pytest.approx(run.lip)
            assert way.points[1][2] == way.points[2][2] == pytest.approx(out[0].height)
            assert _inside(source, made.site.places[source.name], way.points[1]), run.name
            assert not _inside(source, made.site.places[source.name], way.points[2]), run.name
        into = [h for h in target.holes if h.purpose == f"from the {source.label}"]
        if into:
            assert way.points[-1][2] == pytest.approx(into[0].height)
            ends = _inside if into[0].side == "wall of the drip pan" else _on_wall
            assert ends(target, made.site.places[target.name], way.points[-1]), run.name
        else:
            assert _inside(target, made.site.places[target.name], way.points[-1]), run.name
    for way in (w for w in made.ways if w.run.name in ("main", "branch") and w.tank is not None):
        assert _inside(found.vessel("tank"), made.site.tanks, way.points[-1])
        assert found.vessel("tank").floor < way.points[-1][2] <= found.vessel("tank").level + 1e-9
    for way in (w for w in made.ways if w.run.name == "standpipe"):
        assert _inside(found.vessel("tank"), made.site.tanks, way.points[0])


def _on_wall(vessel, places, point):
    for x, y in places:
        if vessel.shape == "box":
            edge = (
                abs(abs(point[0] - x) - vessel.length / 2) < 1e-9
                and abs(point[1] - y) < vessel.across / 2
            )
        else:
            edge = abs(math.hypot(point[0] - x, point[1] - y) - vessel.across / 2) < 1e-9
        if edge:
            return True
    return False


def _inside(vessel, places, point):
    for x, y in places:
        shape = outline(vessel, x, y)
        if shape is None:
            if math.hypot(point[0] - x, point[1] - y) < vessel.across / 2:
                return True
        elif abs(point[0] - x) < vessel.length / 2 and abs(point[1] - y) < vessel.across / 2:
            return True
    return False


@pytest.mark.parametrize("name", DEMOS)
def test_the_list_holds_the_cuts_and_lengths_of_the_layout(name):
    from rsdesign.report.drawings.building.list_sheets import cut_list, longest, pieces

    made = job_of(name)
    _, _, head, rows, _ = cut_list(made)
    assert len(rows) == len(layout_of(name).runs)
    for run, row in zip(layout_of(name).runs, rows, strict=True):
        told = dict(zip(head, row, strict=True))
        way = longest(made, run)
        assert told["Size"] == run.pipe
        assert told["How many"] == str(run.count)
        assert told["Its length"] == size_words(run.length, "us") == size_words(way.length, "us")
        assert told["The longest, middle to middle"] == pieces(made, way)
        for long in way.legs:
            assert size_words(long, "us") in pieces(made, way)
        for piece in (p for p in cuts(layout_of(name)).pieces if p.run == run.name):
            assert (
                f"{piece.count} × {size_words(piece.length, 'us')}" in told["Cut for all of them"]
            )


# --- scales, files -------------------------------------------------------------------------


def test_scales_are_the_usual_ones_in_their_order():
    for system in ("us", "metric"):
        rows = [r for r in tables.read("drawing_scales", DrawingScale) if r.system == system]
        assert [r.ratio for r in rows] == sorted(r.ratio for r in rows)
        for row in rows:
            assert usual_scale(row.ratio, system) == (row.ratio, row.name)
            if system == "us":  # what the name says in inches to the foot is the ratio
                whole, _, part = row.name.partition("(")[2].partition(" in")[0].partition(" ")
                inches = sum(eval_fraction(p) for p in (whole, part) if p)
                assert 12 / inches == pytest.approx(row.ratio)
            else:
                assert row.name == f"1:{row.ratio:g}"
        assert usual_scale(1e5, system)[0] >= 1e5


def eval_fraction(words: str) -> float:
    top, _, low = words.partition("/")
    return float(top) / float(low or 1)


@pytest.mark.parametrize(("name", "units"), [("family", "us"), ("school", "metric"), ("commercial", "us"),
                                             ("basin, tower, rafts", "metric")])  # fmt: skip
def test_dxf_reads_back_in_real_units(name, units):
    found = layout_of(name)
    number, unit = UNITS[units]
    for k, page in enumerate(pages_of(name, units)):
        file = ezdxf.read(io.StringIO(dxf(page, units).decode("utf-8")))
        audit = file.audit()
        assert not audit.errors, page.title
        assert not audit.fixes, page.title
        assert file.units == number
        assert file.dxfversion == "AC1024"
        assert {"tanks", "pipes", "levels", "dimensions", "text"} <= {
            layer.dxf.name for layer in file.layers
        }
        space = file.modelspace()
        for entity in space:
            assert entity.dxf.layer in file.layers
        for dim, item in zip(
            space.query("DIMENSION"),
            (i for i in page.items if isinstance(i, Dimension)),
            strict=True,
        ):
            assert dim.get_measurement() * unit == pytest.approx(
                float(dict(item.about)["data-meters"]), abs=1e-6
            )
        if k == 0:
            _vessels_in_plan(space, found, unit)
            _pipes_in_plan(space, job_of(name, units), unit)


def _vessels_in_plan(space, found, unit):
    """Circles and outlines of the layer of tanks are as large, and stand where the layout puts them."""
    circles = [(c.dxf.center.x * unit, c.dxf.center.y * unit, 2 * c.dxf.radius * unit)
               for c in space.query("CIRCLE[layer=='tanks']")]  # fmt: skip
    boxes = []
    for line in space.query("LWPOLYLINE[layer=='tanks']"):
        xs, ys = zip(*[(p[0] * unit, p[1] * unit) for p in line.get_points()], strict=True)
        boxes.append(
            ((min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2, max(xs) - min(xs), max(ys) - min(ys))
        )
    for vessel in found.vessels:
        for x, y in found.places[vessel.name]:
            if vessel.shape == "round":
                wanted, made = (x, y, vessel.across), circles
            else:
                wanted, made = (x, y, vessel.length, vessel.across), boxes
            assert any(
                all(abs(a - b) < 1e-6 for a, b in zip(wanted, m, strict=True)) for m in made
            ), vessel.name


def _pipes_in_plan(space, made, unit):
    """The middle of each water pipe runs from corner to corner of its way."""
    drawn = [
        [(p[0] * unit, p[1] * unit) for p in line.get_points()]
        for line in space.query("LWPOLYLINE[layer=='pipes']")
    ]
    ends = [p for line in drawn for p in line]
    for way in made.ways:
        if way.run.kind in ("gravity", "pressure") and way.run.name != "centre drain":
            for x, y, _ in way.points:
                seen = any(math.hypot(x - a, y - b) < 1e-6 for a, b in ends)
                upright = sum(math.hypot(x - p[0], y - p[1]) < 1e-9 for p in way.points) == len(
                    way.points
                )
                assert seen or upright, way.run.name


def test_the_command_writes_each_format(tmp_path, capsys):
    for form, ending, many in (("svg", "svg", 8), ("dxf", "dxf", 8), ("pdf", "pdf", 1)):
        out = tmp_path / form
        assert (
            main(
                [
                    "drawings",
                    "data/designs/school.toml",
                    "-o",
                    str(out),
                    "--format",
                    form,
                    "--units",
                    "metric",
                ]
            )
            == 0
        )
        said = capsys.readouterr().out
        made = sorted(out.iterdir())
        assert len(made) == many
        assert all(p.suffix == f".{ending}" for p in made)
        assert all(str(p) in said for p in made)
        assert ("cannot be built" in said) == bool(layout_of("school").problems)
    reader = pypdf.PdfReader(tmp_path / "pdf" / "drawings.pdf")
    assert len(reader.pages) == 8 == len(pages_of("school", "metric"))
    for page in reader.pages:
        assert [float(v) * POINT for v in page.mediabox[2:]] == pytest.approx(
            PAPERS["letter"], abs=0.1
        )


def test_a_folder_that_cannot_be_is_said_in_one_sentence(tmp_path, capsys):
    (tmp_path / "taken").write_text("a file", encoding="utf-8")
    assert main(["drawings", "data/designs/family.toml", "-o", str(tmp_path / "taken")]) == 2
    said = capsys.readouterr().err
    assert "cannot be written" in said
    assert "Traceback" not in said
    assert (tmp_path / "taken").read_text(encoding="utf-8") == "a file"


@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_the_hand_out_holds_every_sheet_at_full_size(paper):
    document = compose(size(demo("family")))
    reader = pypdf.PdfReader(io.BytesIO(pdf(document, paper)))
    flat = [p for p in reader.pages if p.mediabox.width > p.mediabox.height]
    sheets = pages_of("family", "us", paper)
    assert len(flat) == len(sheets)
    for page in flat:
        assert [float(v) * POINT for v in page.mediabox[2:]] == pytest.approx(
            PAPERS[paper], abs=0.1
        )
    if paper == "letter":  # reading text back is slow: the plan alone
        text = re.sub(r"\s+", "", flat[0].extract_text())
        assert re.sub(r"\s+", "", sheets[0].title) in text
        for item in sheets[0].items:
            if isinstance(item, Dimension):
                assert item.words.replace(" ", "") in text
    page = html(document)
    assert page.count('<figure class="sheet"') == len(pages_of("family"))


def test_files_have_plain_names():
    made = files.contents(pages_of("family"), "svg", "us")
    assert list(made)[:3] == ["01-plan.svg", "02-section.svg", "03-isometric.svg"]
    for content in made.values():
        assert b"var(" not in content
        ET.fromstring(content.decode())


def test_letters_are_larger_than_seven_points():
    assert TEXT >= LEAST
    assert rule("gap") > 0
