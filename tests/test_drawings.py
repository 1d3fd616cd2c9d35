"""Drawings and charts: well-formed, on the sheet, to scale, their words following the numbers."""

import itertools
import xml.etree.ElementTree as ET

import numpy as np
import pytest
from designs import DEMOS, demo, random_design
from test_scene import faults, whole

from rsdesign.core.kinds import KINDS
from rsdesign.core.units import from_plain, number
from rsdesign.design.model import with_values
from rsdesign.report.drawings import (
    air,
    course_chart,
    filter,
    heat,
    look,
    money,
    outage,
    plan,
    pump,
    sheet,
    solids,
    system,
    tank,
    year,
)
from rsdesign.report.plan import plan_of
from rsdesign.sizing.system import size

PICTURES = (
    tank.picture,
    solids.picture,
    filter.picture,
    air.picture,
    pump.levels,
    plan.weeks,
    outage.falling,
    money.towers,
    heat.flows,
    year.year_picture,
)
CHARTS = (
    plan.chart,
    solids.capture_chart,
    filter.rate_chart,
    air.oxygen_chart,
    pump.curves,
    money.cash_chart,
)
SVG = "{http://www.w3.org/2000/svg}"


def labels(svg: str):
    """Each label with its left, right and baseline, letters taken as 0.55 em wide."""
    for el in ET.fromstring(svg).iter(f"{SVG}text"):
        wide = sheet.EM * float(el.get("font-size")) * len(el.text)
        x = float(el.get("x"))
        left = {"start": x, "middle": x - wide / 2, "end": x - wide}[el.get("text-anchor")]
        yield el.text, left, left + wide, float(el.get("y")), float(el.get("font-size"))


WIDTHS = {636.0: 430.0, 347.0: 235.0, 280.0: 235.0, 900.0: 430.0}
"""Widths at which a page shows its picture, and the most height that its first screen has for it [px]."""


@pytest.mark.parametrize("draw", PICTURES, ids=lambda f: f.__module__ + "." + f.__name__)
def test_pictures_are_whole_and_their_labels_apart(draw):
    for seed in range(9):
        sizing = size(demo(DEMOS[seed]) if seed < 3 else random_design(seed))
        for units, (width, most) in itertools.product(("us", "metric"), WIDTHS.items()):
            made = draw(sizing, units, width)
            root = ET.fromstring(made.svg)
            assert root.get("role") == "img"
            assert made.sentence in root.get("aria-label")
            whole(made.svg)
            assert not faults(made.svg), (seed, units, width)
            box = [float(v) for v in root.get("viewBox").split()[2:]]
            assert box[0] == width, "letters at their natural size"
            assert box[1] <= most
            headings, rows = made.table
            assert all(len(row) == len(headings) for row in rows)


ODD = [
    {"filter.media_volume": 0.0}, {"filter.vessels": 20.0}, {"filter.media_volume": 100.0},
    {"air.flow": 0.0}, {"air.plate_watts": 0.0}, {"goal.fish": 1.0}, {"goal.fish": 1e6},
    {"pump.none": True}, {"pump.lift": 0.0}, {"pump.kind": "airlift", "pump.lift": 0.1},
    {"solids.area": 0.05}, {"climate.weather": None}, {"site.warmest_water": 40.0},
    {"filter.plants": 500.0}, {"safety.backup": "none"}, {"tank.width": 1.0, "goal.fish": 3000.0},
    {"tank.shape": "rectangle", "tank.width": 2.0, "tank.length": 60.0}, {"tank.depth": 4.5},
]  # fmt: skip


@pytest.mark.parametrize("values", ODD, ids=lambda v: "-".join(map(str, v.values())))
def test_pictures_of_odd_designs_are_whole(values):
    sizing = size(with_values(demo("family"), values))
    for draw, (units, width) in itertools.product(PICTURES, (("us", 636.0), ("metric", 347.0))):
        made = draw(sizing, units, width)
        whole(made.svg)
        assert not faults(made.svg), (draw.__module__, width)


def test_the_plan_for_paper_is_whole():
    for name, units in itertools.product(DEMOS, ("us", "metric")):
        made = system.plan_view(size(demo(name)), units)
        whole(made.svg)
        found = list(labels(made.svg))
        for i, (one, l1, r1, y1, tall) in enumerate(found):
            assert l1 >= -1, one
            assert r1 <= 481, one
            for other, l2, r2, y2, _ in found[i + 1 :]:
                apart = r1 <= l2 + 2 or r2 <= l1 + 2 or abs(y1 - y2) >= 0.8 * tall
                assert apart, f"{one!r} and {other!r} overlap"


@pytest.mark.parametrize("draw", CHARTS, ids=lambda f: f.__module__ + "." + f.__name__)
@pytest.mark.parametrize("name", DEMOS)
def test_charts_carry_units_a_sentence_and_a_table(draw, name):
    for units in ("us", "metric"):
        made = draw(size(demo(name)), units)
        assert made.figure["layout"]["xaxis"]["title"]["text"]
        assert made.figure["layout"]["yaxis"]["title"]["text"]
        assert made.sentence.endswith(".")
        assert made.table[1]


def marked(svg, about, value=None):
    """The groups with a mark of their own, or with that value of it."""
    return [el for el in ET.fromstring(svg).iter(f"{SVG}g")
            if el.get(f"data-{about}") and value in (None, el.get(f"data-{about}"))]  # fmt: skip


def edge(group) -> float:
    return float(group.find(f"{SVG}rect").get("width"))


@pytest.mark.parametrize("name", DEMOS)
def test_the_surface_laid_flat_is_to_scale_beside_a_parking_space(name):
    sizing = size(demo(name))
    svg, f = filter.picture(sizing, "us").svg, sizing.filter
    scale = edge(marked(svg, "square", "parking")[0]) / 2.74
    for square, area in (("have", f.area), ("need", f.required), ("rule", f.rule)):
        drawn = edge(marked(svg, "square", square)[0])
        assert drawn / scale == pytest.approx(float(area) ** 0.5, rel=0.05)
    dashes = {marked(svg, "square", n)[0].find(f"{SVG}rect").get("style").split("dasharray:")[-1]
              for n in ("have", "need", "rule")}  # fmt: skip
    assert len(dashes) == 3, "told apart without color"


@pytest.mark.parametrize("name", DEMOS)
def test_the_filter_is_to_scale_with_what_goes_in_and_out(name):
    sizing = size(demo(name))
    svg, f = filter.picture(sizing, "us").svg, sizing.filter
    rects = marked(svg, "name", "filter")[0].findall(f"{SVG}rect")
    wide_, tall = float(rects[0].get("width")), float(rects[0].get("height"))
    assert tall / wide_ == pytest.approx(float(f.depth) / float(f.across), rel=0.02)
    words = " ".join(text for text, *_ in labels(svg))
    before = float(f.ammonia)
    assert f"in {number(1e3 * before, 2)}" in words
    assert f"out {number(1e3 * before * (1 - float(f.removal)), 2)}" in words
    leaves = before - float(f.load) / float(sizing.pump.flow)  # what the balance of the filter says
    for units, width in itertools.product(("us", "metric"), (636.0, 347.0)):
        words = [text for text, *_ in labels(filter.picture(sizing, units, width).svg)]
        assert any(w.startswith("in ") for w in words)
        assert any(w.startswith("out ") for w in words)
    assert before * (1 - float(f.removal)) == pytest.approx(leaves, rel=0.002)


def test_buckets_hold_the_media():
    for name in DEMOS:
        sizing = size(demo(name))
        svg = filter.picture(sizing, "us").svg
        count = float(sizing.filter.media_volume) / 0.0189
        assert float(marked(svg, "buckets")[0].get("data-buckets")) == pytest.approx(
            count, rel=1e-3
        )
        assert any(t.startswith(f"{number(count, 2)} five-gallon buckets") for t, *_ in labels(svg))


def test_a_short_filter_is_hatched_and_dashed():
    poor = size(with_values(demo("family"), {"filter.media_volume": 0.1}))
    svg = filter.picture(poor, "us").svg
    part = marked(svg, "name", "filter")[0]
    assert part.get("data-state") == "short"
    assert "-short)" in ET.tostring(part, encoding="unicode")
    assert "dasharray" in ET.tostring(part, encoding="unicode")


def test_the_bar_of_the_settler_is_what_it_catches():
    for name in DEMOS:
        sizing = size(demo(name))
        svg = solids.picture(sizing, "us").svg
        caught = marked(svg, "caught")[0]
        rects = [r for r in ET.fromstring(svg).iter(f"{SVG}rect") if r.get("width") == "36"]
        share = float(caught.find(f"{SVG}rect").get("height")) / float(rects[0].get("height"))
        assert share == pytest.approx(float(sizing.solids.captured), abs=0.005)
        assert len(marked(svg, "grain", "caught")) + len(marked(svg, "grain", "escapes")) == len(
            sizing.tables.grain_velocities
        )


def test_the_weeks_are_those_of_the_plan():
    for name in DEMOS:
        sizing = size(demo(name))
        found, svg = plan_of(sizing), plan.weeks(sizing, "metric").svg
        for line, totals in (("Fish in the water", found.biomass), ("Feed in a day", found.feed)):
            path = marked(svg, "line", line)[0].find(f"{SVG}path").get("d")
            points = np.array([[float(v) for v in p.split()] for p in path[1:].split("L")])
            assert len(points) == len(found.week)
            for drawn, known in ((points[:, 0], found.week), (points[:, 1], totals.sum(axis=0))):
                fit = np.polyfit(known, drawn, 1)
                assert np.abs(np.polyval(fit, known) - drawn).max() < 0.15, line
            assert fit[0] < 0, "more stands higher"
        top = float(from_plain(found.feed.sum(axis=0).max(), KINDS["feed rate"].shown("metric")))
        assert f"biggest day {number(top)}" in svg


def test_without_a_settler_none_is_drawn():
    bare = size(with_values(demo("family"), {"solids.settler": "none", "solids.second": "none"}))
    for width in WIDTHS:
        made = solids.picture(bare, "us", width)
        assert not faults(made.svg)
        assert not marked(made.svg, "grain")
        assert "no settler" in [text for text, *_ in labels(made.svg)]


def test_the_tank_is_drawn_to_scale():
    def water(depth):
        made = tank.picture(size(with_values(demo("family"), {"tank.depth": depth})), "us").svg
        rects = [r for r in ET.fromstring(made).iter(f"{SVG}rect") if "rs-water" in r.get("style")]
        return float(rects[0].get("width")), float(rects[0].get("height"))

    wide, tall = water(0.8128)
    assert tall / wide == pytest.approx(0.8128 / 3.048, rel=0.02)
    wide, tall = water(1.6)
    assert tall / wide == pytest.approx(1.6 / 3.048, rel=0.02)


def test_a_steeper_load_lets_more_sizes_escape():
    def escaping(rate):
        made = solids.picture(
            size(with_values(demo("family"), {"solids.overflow_rate": rate})), "us"
        )
        return len(marked(made.svg, "grain", "escapes"))

    assert escaping(0.0002) < escaping(0.001358) < escaping(0.009)


def test_sentences_follow_the_numbers():
    for draw in PICTURES:
        one = draw(size(demo("family")), "us").sentence
        other = draw(size(demo("school")), "us").sentence
        assert one != other


def test_fixed_colours_are_there_for_programs_that_know_no_variables():
    made = look.plain(tank.picture(size(demo("family")), "us").svg)
    assert "var(" not in made
    assert look.PALETTE["water"] in made


def luminance(colour: str) -> float:
    def channel(c):
        c /= 255
        return c / 12.92 if c <= 0.03928 else ((c + 0.055) / 1.055) ** 2.4

    r, g, b = (channel(int(colour[i : i + 2], 16)) for i in (1, 3, 5))
    return 0.2126 * r + 0.7152 * g + 0.0722 * b


def contrast(one: str, other: str) -> float:
    """WCAG 2.2, contrast ratio."""
    a, b = sorted((luminance(one), luminance(other)), reverse=True)
    return (a + 0.05) / (b + 0.05)


@pytest.mark.parametrize("fill", ["water", "deep", "sludge", "plants", "air", "sand", "enough-fill",
                                  "tight-fill", "short-fill", "paper", "inset"])  # fmt: skip
def test_ink_reads_on_every_fill(fill):
    assert contrast(look.PALETTE["ink"], look.PALETTE[fill]) >= 7


def test_chart_lines_stand_out_and_differ_in_dash_and_marker():
    for use, _, _ in look.LINES:
        assert contrast(look.PALETTE[use], look.PALETTE["paper"]) >= 3
    assert len({dash for _, dash, _ in look.LINES}) == len(look.LINES)
    assert len({marker for _, _, marker in look.LINES}) == len(look.LINES)


# --- the chart of a course over time ---


def course(seed: int, width: float):
    """A chart with everything drawn at random: lines, bands, gaps, limits, events."""
    rng = np.random.default_rng(seed)
    times = np.sort(rng.uniform(0, 10 ** rng.uniform(0, 2.5), rng.integers(2, 120)))
    size_ = 10 ** rng.uniform(-3, 3)
    lines = []
    for name in ("total ammonia", "nitrite", "nitrate", "alkalinity")[: rng.integers(1, 5)]:
        values = size_ * np.abs(rng.normal(1, 0.5) + np.cumsum(rng.normal(0, 0.1, len(times))))
        band = (0.7 * values, 1.4 * values) if rng.random() < 0.5 else (None, None)
        if rng.random() < 0.3:
            values[rng.integers(1, len(times)) :] = np.nan
        lines.append(course_chart.Line(name, values, *band))
    made = course_chart.course_chart(
        times,
        lines,
        title="A course",
        x_label="days since the start",
        unit="mg/L",
        thresholds=[
            course_chart.Threshold(size_ * v, f"limit {k}", bool(rng.random() < 0.5))
            for k, v in enumerate(rng.uniform(0, 5, rng.integers(0, 4)))
        ],
        events=[
            course_chart.Event(float(t), rng.choice(["meal", "fish in"]))
            for t in rng.choice(times, rng.integers(0, 5))
        ],
        from_zero=bool(rng.random() < 0.7),
        width=width,
    )
    return made, times, lines


@pytest.mark.parametrize("width", [636.0, 347.0, 280.0, 900.0])
def test_charts_of_courses_are_whole_and_their_labels_apart(width):
    for seed in range(60):
        made, _, lines = course(seed, width)
        whole(made.svg)
        assert not faults(made.svg), (seed, width)
        root = ET.fromstring(made.svg)
        assert root.get("role") == "img"
        assert root.find(f"{SVG}title").text == "A course"
        assert made.sentence in root.get("aria-label")
        box = [float(v) for v in root.get("viewBox").split()[2:]]
        assert box[0] == width, "letters at their natural size"
        words = [text for text, *_ in labels(made.svg)]
        for one in lines:
            if np.isfinite(one.values).any():
                assert one.name in words, (seed, width)
        headings, rows = made.table
        assert len(headings) == len(lines) + 1
        assert all(len(row) == len(headings) for row in rows)


def test_a_course_is_drawn_where_its_numbers_are():
    values = np.array([2.0, 4.0, np.nan, 3.0, 1.0])
    line = course_chart.Line("oxygen", values, values - 0.5, values + 1.0)
    other = course_chart.Line("pH", values + 1.0)
    made = course_chart.course_chart(
        [0.0, 1.0, 2.0, 3.0, 4.0], [line, other], title="Day", x_label="hour of the day",
        unit="mg/L", thresholds=[course_chart.Threshold(3.5, "keep under 3.5"), course_chart.Threshold(99.0, "far")],
        events=[course_chart.Event(1.0, "meal")], moment=lambda t: f"{t:.0f}:00",
    )  # fmt: skip
    paths = [p.get("d") for p in marked(made.svg, "line", "oxygen")[0].findall(f"{SVG}path")]
    assert len(paths) == 2, "a gap stays a gap"
    points = [np.array([[float(v) for v in p.split()] for p in d[1:].split("L")]) for d in paths]
    points = np.concatenate(points)
    fit = np.polyfit(values[np.isfinite(values)], points[:, 1], 1)
    assert np.abs(np.polyval(fit, values[np.isfinite(values)]) - points[:, 1]).max() < 0.1
    assert np.allclose(np.diff(points[:, 0])[[0, 2]], points[1, 0] - points[0, 0], atol=0.11)
    level = marked(made.svg, "limit")[0].find(f"{SVG}path").get("d").split()[1].split("L")[0]
    assert float(level) == pytest.approx(np.polyval(fit, 3.5), abs=0.1)
    assert marked(made.svg, "band", "oxygen")
    words = [text for text, *_ in labels(made.svg)]
    assert "far: far above this chart" in words
    assert "meal" in words
    assert made.sentence.startswith(
        "oxygen is highest, 4 mg/L, at 1:00 and lowest, 1 mg/L, at 4:00"
    )
    assert ("2:00", "not known", "not known") in made.table[1]
    dashes = {marked(made.svg, "line", n)[0].find(f"{SVG}path").get("style").partition("dasharray")[2]
              for n in ("oxygen", "pH")}  # fmt: skip
    assert len(dashes) == 2, "told apart without color"
    for wrong in ([], [course_chart.Line("x", [1.0])], [line] * 5):
        with pytest.raises(ValueError, match="line"):
            course_chart.course_chart(range(5), wrong, title="x", x_label="hour")
