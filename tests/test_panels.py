"""The two panels of a trade-off: their lines are the study's numbers, their words apart, their points told apart."""

import re
import xml.etree.ElementTree as ET

import numpy as np
import pytest
from designs import DEMOS, demo, random_design
from test_scene import SVG, faults, labels, whole

from rsdesign.core.choices import DesignError
from rsdesign.core.units import number
from rsdesign.design.model import with_values
from rsdesign.report.drawings.panels import tradeoff_panels
from rsdesign.sizing.system import size
from rsdesign.studies.stacked import Slider
from rsdesign.studies.tradeoffs import PAIRS, tradeoff

BASE = size(demo("family"))
SPANS = {"goal.fish": (10, 5000), "tank.depth": (0.3, 1.8), "solids.overflow_rate": (3e-4, 5e-3),
         "filter.media_volume": (0.03, 5.7), "keep.oxygen": (3e-3, 7e-3), "pump.lift": (0.0, 4.5),
         "solids.drain_interval": (6 * 3600, 96 * 3600), "climate.shade": (0.0, 0.9)}  # fmt: skip


def of(page):
    path = PAIRS[page].choice
    return Slider(path, *map(float, SPANS[path]))


def points(root, name):
    """The points of one line [px]."""
    group = next(el for el in root.iter(f"{SVG}g") if el.get("data-line") == name)
    path = group.find(f"{SVG}path").get("d")
    return np.array([[float(v) for v in p.split()] for p in path[1:].split("L")])


def scaled(pixels, values) -> np.ndarray:
    """How far pixels lie from a straight scale of the values [px]."""
    fit = np.polyfit(values, pixels, 1)
    return np.abs(np.polyval(fit, values) - pixels)


@pytest.mark.parametrize("units", ["us", "metric"])
@pytest.mark.parametrize("page", PAIRS)
def test_lines_are_the_numbers_of_the_study(page, units):
    slider = of(page)
    plain = tradeoff(BASE, page, slider).plain(units)
    made = tradeoff_panels(BASE, page, slider, units)
    root = ET.fromstring(made.svg)
    words = [text for text, *_ in labels(root)]
    x = np.log(plain["x"]) if slider.logarithmic else np.array(plain["x"])
    for name in ("get", "give"):
        found, values = points(root, name), np.array(plain[name]["values"], float)
        assert len(found) == len(values)
        assert (np.diff(found[:, 0]) > 0).all()
        assert scaled(found[:, 0], x).max() < 0.1
        if np.ptp(values) == 0:  # a level line has no scale of its own
            assert np.ptp(found[:, 1]) == 0
        else:
            steps = scaled(found[:, 1], values).max()
            assert steps < 0.1 or scaled(found[:, 1], np.log(values)).max() < 0.1
            assert np.corrcoef(found[:, 1], values)[0, 1] < 0, "more stands higher"
        assert number(plain[name]["now"]) in words
        assert number(plain[name]["now"]) in made.sentence
    assert number(plain["now"]) in words


def test_numbers_beside_a_scale_stand_at_their_place():
    root = ET.fromstring(tradeoff_panels(BASE, "fish", of("fish"), "us").svg)
    values = tradeoff(BASE, "fish", of("fish")).plain("us")["get"]["values"]
    line = points(root, "get")
    fit = np.polyfit(values, line[:, 1], 1)
    ticks = [el for el in root.iter(f"{SVG}text") if el.get("text-anchor") == "end" and float(el.get("y")) < 100]  # fmt: skip
    for el in [
        t for t in ticks if re.fullmatch(r"[\d.,]+", t.text) and float(t.get("x")) < line[0, 0]
    ]:
        middle = float(el.get("y")) - 0.35 * float(el.get("font-size"))
        assert middle == pytest.approx(np.polyval(fit, float(el.text.replace(",", ""))), abs=0.3)


@pytest.mark.parametrize("page", PAIRS)
def test_words_keep_apart(page):
    slider = of(page)
    cases = [(size(demo(name)), units) for name in DEMOS for units in ("us", "metric")]
    cases += [(size(random_design(seed)), "us") for seed in range(3)]
    for sizing, units in cases:
        for at in (None, 0.45):
            last = None if at is None else float(slider.value_at(at))
            try:
                made = tradeoff_panels(sizing, page, slider, units, last)
            except DesignError:
                assert page == "heat"  # the only one that asks for weather
                continue
            whole(made.svg)
            assert not faults(made.svg), (page, units, at)
            headings, rows = made.table
            assert all(len(row) == len(headings) for row in rows)


@pytest.mark.parametrize("share", np.linspace(0.02, 0.98, 5))
def test_words_keep_apart_wherever_the_thumb_is(share):
    for page in ("fish", "biofilter", "heat", "pump"):
        slider = of(page)
        sizing = size(with_values(BASE.design, {slider.path: float(slider.value_at(share))}))
        made = tradeoff_panels(sizing, page, slider, "us", float(slider.value_at(0.5)))
        assert not faults(made.svg), page


def circles(svg):
    return [c.get("style") for c in ET.fromstring(svg).iter(f"{SVG}circle")]


def test_the_point_before_is_hollow_and_dashed_the_present_one_filled():
    alone = circles(tradeoff_panels(BASE, "fish", of("fish"), "us").svg)
    both = circles(tradeoff_panels(BASE, "fish", of("fish"), "us", 1.5).svg)
    assert len(alone) == 2
    assert not any("dasharray" in style for style in alone)
    hollow = [style for style in both if "dasharray" in style]
    assert len(hollow) == 2
    assert all("fill:var(--rs-paper" in style for style in hollow)
    same = tradeoff_panels(BASE, "fish", of("fish"), "us", float(BASE.tank.depth)).svg
    assert len(circles(same)) == 2, "nothing was moved"


def test_the_two_lines_differ_without_color():
    root = ET.fromstring(tradeoff_panels(BASE, "fish", of("fish"), "us").svg)
    styles = {
        el.get("data-line"): el.find(f"{SVG}path").get("style") for el in root.iter(f"{SVG}g")
    }
    assert "dasharray" not in styles["get"]
    assert "dasharray" in styles["give"]


def test_limits_are_those_of_the_checks():
    def told(page):
        return [
            t for t, *_ in labels(ET.fromstring(tradeoff_panels(BASE, page, of(page), "us").svg))
        ]

    assert f"at most {number(1e3 * float(BASE.gas.ammonia_limit))}" in told("biofilter")
    assert "at least 15" in told("fish")
    assert "at least 15" in told("whole")
    assert any(t.startswith("they stop at ") for t in told("heat"))
    assert not any(t.startswith("at ") for t in told("start"))


def test_a_choice_beyond_its_span_is_said_in_words():
    narrow = Slider("tank.depth", 1.0, 1.8)
    svg = tradeoff_panels(BASE, "fish", narrow, "us").svg
    words = [t for t, *_ in labels(ET.fromstring(svg))]
    assert "Water depth, now 2.67" in words
    assert not circles(svg)


def test_steps_of_the_trade_are_ticks_with_one_word():
    words = [
        t for t, *_ in labels(ET.fromstring(tradeoff_panels(BASE, "pump", of("pump"), "us").svg))
    ]
    assert sum("next pump size" in t for t in words) == 1
    assert not any("next" in t for t, *_ in labels(ET.fromstring(tradeoff_panels(BASE, "fish", of("fish"), "us").svg)))  # fmt: skip
