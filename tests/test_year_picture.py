"""The picture of a year: its lines are the heat study's, its words apart, its zones told apart without color."""

import itertools
import re
import xml.etree.ElementTree as ET

import numpy as np
import pytest
from designs import DEMOS, demo, random_design
from test_scene import SVG, faults, labels, whole

from rsdesign.core.kinds import KINDS
from rsdesign.core.units import from_plain
from rsdesign.design.model import with_values
from rsdesign.report.drawings.beside import BUCKET_HOLDS
from rsdesign.report.drawings.year import year_picture
from rsdesign.sizing.system import size
from rsdesign.studies.heat.brief import hot_day, year_brief
from rsdesign.studies.heat.year_chart import year_chart

BASE = size(demo("family"))
DESK, PHONE = (636.0, 400.0), (347.0, 190.0)


def changed(**values):
    return size(with_values(demo("family"), {k.replace("__", "."): v for k, v in values.items()}))


def group(svg, about, value=None):
    """The first group with a mark of its own, or with that value of it."""
    for el in ET.fromstring(svg).iter(f"{SVG}g"):
        if el.get(f"data-{about}") and value in (None, el.get(f"data-{about}")):
            return el
    raise AssertionError(f"no {about} {value}")


def points(path):
    return np.array([[float(v) for v in p.split()] for p in path.get("d").strip("MZ").split("L")])


def degrees(svg, units):
    """The scale of the picture, from its own numbers: degrees shown for a height on the sheet."""
    found = [(float(el.get("y")) - 0.35 * float(el.get("font-size")), float(el.text[:-1]))
             for el in ET.fromstring(svg).iter(f"{SVG}text")
             if re.fullmatch(r"-?\d+°", el.text) and el.get("text-anchor") == "end" and float(el.get("x")) < 60]  # fmt: skip
    heights, values = zip(*found, strict=True)
    slope, start = np.polyfit(heights, values, 1)
    return lambda y: slope * y + start


@pytest.mark.parametrize("units", ["us", "metric"])
@pytest.mark.parametrize("size_", [DESK, PHONE])
def test_the_band_is_the_water_of_the_heat_study(units, size_):
    svg = year_picture(BASE, units, *size_).svg
    line, unit = year_chart(BASE).lines[0], KINDS["temperature"].shown(units)
    paths = group(svg, "band").findall(f"{SVG}path")
    scale = degrees(svg, units)
    for path, known in zip(paths[1:], (line.hottest, line.coldest), strict=True):
        found = points(path)
        assert (np.diff(found[:, 0]) > 0).all()
        drawn = scale(found[1:-1, 1])
        assert np.abs(drawn - from_plain(known, unit)).max() < 0.3
    for name, known in (("hot day", year_brief(BASE, False).hottest), ("cold day", year_brief(BASE, False).coldest)):  # fmt: skip
        mark = group(svg, "extreme", name)
        dot = mark.find(f"{SVG}circle")
        y = float(dot.get("cy")) if dot is not None else points(mark.find(f"{SVG}path"))[0, 1]
        assert scale(y) == pytest.approx(float(from_plain(known, unit)), abs=0.3)
        assert any(t.startswith(f"{name} {from_plain(known, unit):.0f} ") for t, *_ in labels(ET.fromstring(svg)))  # fmt: skip


def test_zones_lie_at_the_limits_of_the_species_and_differ_without_color():
    svg, fish = year_picture(BASE, "us", *DESK).svg, BASE.tables.species
    scale, unit = degrees(svg, "us"), KINDS["temperature"].shown("us")

    def band(name):
        rect = group(svg, "zone", name).find(f"{SVG}rect")
        top = float(rect.get("y"))
        return scale(top + float(rect.get("height"))), scale(top), rect.get("style")

    low, high, eats = band("they eat")
    assert low == pytest.approx(from_plain(float(fish.feeding_low), unit), abs=0.3)
    assert high == pytest.approx(from_plain(float(fish.feeding_high), unit), abs=0.3)
    assert band("they die")[1] == pytest.approx(from_plain(float(fish.lethal_low), unit), abs=0.3)
    fills = {band(n)[2] for n in ("they eat", "too cold to eat", "they die")}
    assert len(fills) == 3
    assert "short" in band("they die")[2]
    assert "enough" in eats


CASES = {
    "shade": {"climate__shade": 0.4}, "lid": {"climate__cover": "foam lid", "climate__shade": 0.9},
    "deep": {"tank__depth": 3.0}, "wide": {"tank__width": 12.0}, "heated": {"climate__heated": "yes"},
    "indoors": {"climate__shelter": "indoors"}, "greenhouse": {"climate__shelter": "greenhouse"},
    "mountain": {"climate__weather": "high valley"}, "trout": {"stock__species": "rainbow_trout"},
    "none": {"climate__weather": None}, "many": {"goal__fish": 5000.0},
}  # fmt: skip


@pytest.mark.parametrize("name", CASES)
def test_words_keep_apart(name):
    sizing = changed(**CASES[name])
    for units, extent in itertools.product(("us", "metric"), (DESK, PHONE, (720.0, 430.0))):
        made = year_picture(sizing, units, *extent)
        whole(made.svg)
        assert not faults(made.svg), (units, extent)
        box = [float(v) for v in ET.fromstring(made.svg).get("viewBox").split()[2:]]
        assert box[0] == extent[0]
        assert box[1] <= extent[1]


@pytest.mark.parametrize("name", DEMOS)
def test_words_of_the_demos_keep_apart(name):
    for units, extent in itertools.product(("us", "metric"), (DESK, PHONE)):
        assert not faults(year_picture(size(demo(name)), units, *extent).svg)


def test_any_design_is_drawn():
    for seed in range(10):
        made = year_picture(size(random_design(seed)), "us", *DESK)
        whole(made.svg)
        assert not faults(made.svg), seed


def test_the_season_stands_under_the_months_in_which_they_grow():
    svg, season = year_picture(BASE, "us", *DESK).svg, year_brief(BASE, False).season
    first, last = map(int, group(svg, "season").get("data-season").split("-"))
    assert (first + 1, last + 1) == (season.first_day, season.last_day)
    words = " ".join(t for t, *_ in labels(ET.fromstring(svg)))
    assert "they grow 11 Mar to 8 Nov: 243 days" in words
    assert season.growing_days == 243


def spans(svg):
    """First and last place of every stretch in which they grow."""
    return [tuple(map(int, el.get("data-season").split("-")))
            for el in ET.fromstring(svg).iter(f"{SVG}g") if el.get("data-season")]  # fmt: skip


def test_a_summer_too_hot_parts_the_season():
    """A clear lid in a desert summer: they stop eating, and the days in which they grow lie around it."""
    hot = changed(climate__cover="bubble sheet", climate__cover_hours="always")
    made, days = year_picture(hot, "us", *DESK), year_chart(hot).lines[0].growing_days
    assert year_brief(hot, False).season.season_days < days
    assert f"they grow in {days} days of the year" in made.svg
    assert len(spans(made.svg)) > 1
    assert sum(last - first + 1 for first, last in spans(made.svg)) == days


def test_a_season_over_the_turn_of_the_year_lies_at_both_ends():
    cool = changed(stock__species="rainbow_trout")
    made, season = year_picture(cool, "us", *DESK), year_brief(cool, False).season
    assert season.last_day < season.first_day
    found = spans(made.svg)
    assert (found[0][0], found[-1][1]) == (0, 364)
    assert sum(last - first + 1 for first, last in found) == season.season_days


def test_buckets_hold_what_the_hot_day_loses():
    for fish in (200.0, 5000.0):
        sizing = changed(goal__fish=fish)
        svg = year_picture(sizing, "us", *DESK).svg
        lost = float(hot_day(sizing)["as designed"].evaporation) * 86400 / BUCKET_HOLDS
        found = group(svg, "buckets")
        assert float(found.get("data-buckets")) == pytest.approx(lost, rel=1e-3)
        drawn = sum("fill:none" in p.get("style") for p in found.findall(f"{SVG}path"))
        assert drawn <= 12
        words = [t for t, *_ in labels(ET.fromstring(svg))]
        each = next((float(t.split()[-1]) for t in words if t.startswith("each stands for")), 1.0)
        assert drawn == np.ceil(lost / each)


def test_what_a_change_does_is_said_with_its_days():
    words = [t for t, *_ in labels(ET.fromstring(year_picture(BASE, "us", *DESK).svg))]
    for line in year_chart(BASE).lines:
        assert str(line.growing_days) in words
    assert {"As designed", "Lid at night", "Half shade", "Foot deeper"} <= set(words)


def test_lid_and_shade_are_drawn_where_there_are_any():
    plain = year_picture(BASE, "us", *DESK).svg
    both = year_picture(changed(climate__cover="foam lid", climate__shade=0.4), "us", *DESK).svg
    assert "no lid" in plain
    assert "no shade" in plain
    assert group(both, "cover").get("data-cover") == "foam lid"
    assert group(both, "shade").get("data-shade") == "0.4"
    assert "no lid" not in both


def test_a_heater_that_stops_is_named_beside_the_cold_day():
    assert "heater off" in year_picture(changed(climate__heated="yes"), "us", *DESK).svg
    assert "heater off" not in year_picture(BASE, "us", *DESK).svg


def test_without_weather_it_says_what_to_choose():
    made = year_picture(changed(climate__weather=None), "us", *DESK)
    assert "Choose the weather" in made.sentence
    assert "Choose the weather of your place." in [t for t, *_ in labels(ET.fromstring(made.svg))]
    assert "data-band" not in made.svg
