"""Small pictures of whole systems: no words, one scale, what is short told without color."""

import itertools
import re
import xml.etree.ElementTree as ET

import pytest
from designs import DEMOS, demo, random_design
from test_scene import SVG, whole

from rsdesign.design.model import with_values
from rsdesign.report.drawings.small import common_scale, thumbnail, thumbnails
from rsdesign.sizing.system import size

SYSTEMS = [size(demo(name)) for name in DEMOS]


def scale_of(svg):
    return float(ET.fromstring(svg).get("data-px-per-m"))


def part(svg, name, last=False):
    found = [el for el in ET.fromstring(svg).iter() if el.get("data-name") == name]
    return found[-1 if last else 0]


def height(svg):
    return float(ET.fromstring(svg).get("viewBox").split()[3])


@pytest.mark.parametrize("width", [140.0, 220.0, 300.0])
def test_small_pictures_have_no_words_and_are_whole(width):
    for seed, sizing in enumerate([*SYSTEMS, *(size(random_design(k)) for k in range(6))]):
        svg = thumbnail(sizing, width, key=f"t{seed}")
        whole(svg)
        root = ET.fromstring(svg)
        assert not list(root.iter(f"{SVG}text"))
        assert [t.text[:8] for t in root.iter(f"{SVG}title")] == ["A person"], "the one for scale"
        assert root.get("role") == "img"
        assert "across with" in root.get("aria-label"), "a sentence for those who do not see it"
        assert height(svg) < 2.5 * width
        assert len(svg) < 40_000


def test_vessels_side_by_side_are_on_one_scale():
    made, scale = thumbnails(SYSTEMS), common_scale(SYSTEMS)
    assert len({height(svg) for svg in made}) == 1
    for svg, sizing in zip(made, SYSTEMS, strict=True):
        assert scale_of(svg) == pytest.approx(scale, rel=1e-3)
        radius = float(part(svg, "settler", last=True).find(f"{SVG}circle").get("r")) if sizing.design.solids.settler in ("radial", "swirl") else None  # fmt: skip
        if radius:
            assert 2 * radius == pytest.approx(float(sizing.solids.across) * scale, abs=0.2)
        water = [
            r for r in part(svg, "tank").findall(f"{SVG}rect") if "--rs-water" in r.get("style")
        ]
        assert float(water[0].get("height")) == pytest.approx(float(sizing.tank.depth) * scale, abs=0.2)  # fmt: skip
        assert float(water[0].get("width")) == pytest.approx(float(sizing.tank.width) * scale, abs=0.2)  # fmt: skip


def test_the_common_scale_is_that_of_the_largest():
    alone = [scale_of(thumbnail(sizing)) for sizing in SYSTEMS]
    assert common_scale(SYSTEMS) == pytest.approx(min(alone), rel=1e-3)
    assert common_scale(SYSTEMS[:1]) == pytest.approx(alone[0], rel=1e-3)
    assert max(alone) > 1.5 * min(alone), "the demos differ in size"
    assert scale_of(thumbnail(SYSTEMS[2], scale=1000.0)) == pytest.approx(alone[2], rel=1e-3)


def test_everything_lies_on_the_sheet():
    for svg, width in itertools.product(thumbnails(SYSTEMS), (220.0,)):
        for rect in ET.fromstring(svg).iter(f"{SVG}rect"):
            if rect.get("x") is None:
                continue  # a tile of a pattern
            assert float(rect.get("x")) >= -0.1
            assert float(rect.get("x")) + float(rect.get("width")) <= width + 0.1
        tall = height(svg)
        for circle in ET.fromstring(svg).iter(f"{SVG}circle"):
            assert float(circle.get("cy")) + float(circle.get("r")) <= tall


def test_names_of_patterns_differ_between_pictures_of_a_page():
    names = [set(re.findall(r'id="([\w-]+)"', svg)) for svg in thumbnails(SYSTEMS)]
    for one, other in itertools.combinations(names, 2):
        assert not one & other


def test_a_short_part_is_hatched_and_dashed():
    crowded = size(with_values(demo("family"), {"tank.width": 1.8, "goal.fish": 400.0}))
    svg = thumbnail(crowded)
    tank = part(svg, "tank")
    assert tank.get("data-state") == "short"
    text = ET.tostring(tank, encoding="unicode")
    assert "-short)" in text
    assert "stroke-dasharray" in text
    assert part(thumbnail(SYSTEMS[0]), "tank").get("data-state") == "enough"
