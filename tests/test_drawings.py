"""Drawings and charts: well-formed, on the sheet, to scale, their words following the numbers."""

import re
import xml.etree.ElementTree as ET

import pytest
from designs import DEMOS, demo, random_design

from rsdesign.design.model import with_values
from rsdesign.report.drawings import (
    air,
    filter,
    look,
    money,
    plan,
    pump,
    sheet,
    solids,
    system,
    tank,
)
from rsdesign.sizing.system import size

PICTURES = (
    tank.picture,
    solids.picture,
    filter.picture,
    air.picture,
    pump.levels,
    system.plan_view,
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


@pytest.mark.parametrize("draw", PICTURES, ids=lambda f: f.__module__ + "." + f.__name__)
def test_pictures_are_whole(draw):
    for seed in range(12):
        sizing = size(demo(DEMOS[seed]) if seed < 3 else random_design(seed))
        for units in ("us", "metric"):
            made = draw(sizing, units)
            root = ET.fromstring(made.svg)
            assert root.get("role") == "img"
            assert made.sentence in root.get("aria-label")
            assert "nan" not in made.svg
            assert "inf" not in re.sub(r"[a-z]+-inf|inf[a-z]+", "", made.svg)
            width = float(root.get("viewBox").split()[2])
            for text, left, right, _, tall in labels(made.svg):
                assert left >= -1, text
                assert right <= width + 1, text
                assert tall * 351 / 480 >= 13, "smaller than 13 px on a phone"
            headings, rows = made.table
            assert all(len(row) == len(headings) for row in rows)


@pytest.mark.parametrize("draw", PICTURES, ids=lambda f: f.__module__ + "." + f.__name__)
@pytest.mark.parametrize("name", DEMOS)
def test_no_two_labels_lie_on_each_other(draw, name):
    found = list(labels(draw(size(demo(name)), "us").svg))
    for i, (one, l1, r1, y1, tall) in enumerate(found):
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
        return made.svg.count("8 5")

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
