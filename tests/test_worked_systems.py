"""The three demo systems worked by hand in ``hand_chain.py``, figure beside figure.

The hand calls nothing of the package and reads none of its tables, so a slip in either shows.
One per cent is allowed: the hand's viscosity and density are short formulas.  pH is compared by
0.005 of a unit.
"""

import ast
from pathlib import Path

import pytest
from designs import DEMOS, demo
from hand_chain import Case, work

from rsdesign import size

CASES = {
    "family": Case(
        elevation=1500 * 0.3048, water=28.0, warmest=30.0, coldest=(75 - 32) / 1.8,
        source_alkalinity=180, source_ph=7.8, source_nitrate=5, stocked_at=50,
        sold_at=1.25 * 453.59237, survival=0.95, conversion=1.6, protein=0.32, depth=32 * 0.0254,
        lift=3 * 0.3048, length=30 * 0.3048, elbows=5, settler=0.7, overflow=1.3581944,
        polishing=0.10, rinsed=0.3, trickling=False, fish=200, tanks=1, width=10 * 0.3048,
        pump=(3.8, 122, 1),
    ),
    "school": Case(
        elevation=850, water=27, warmest=29, coldest=24, source_alkalinity=260, source_ph=7.9,
        source_nitrate=8, stocked_at=30, sold_at=500, survival=0.92, conversion=1.6, protein=0.32,
        depth=1.0, lift=1.9, length=24, elbows=8, settler=0.6, overflow=3 / 3.6, polishing=0.10,
        rinsed=0.3, trickling=True, plants=10, fish=500, tanks=2, width=3.05,
        pump=(4.0, 150, 2),
    ),
    "commercial": Case(
        elevation=3200 * 0.3048, water=(82 - 32) / 1.8, warmest=(84 - 32) / 1.8,
        coldest=(79 - 32) / 1.8, source_alkalinity=210, source_ph=7.7, source_nitrate=6,
        stocked_at=40, sold_at=1.5 * 453.59237, survival=0.93, conversion=1.6, protein=0.36,
        depth=4 * 0.3048, lift=5 * 0.3048, length=95 * 0.3048, elbows=10, settler=0.7,
        overflow=1.3581944, polishing=0.30, rinsed=1.0, trickling=False,
        harvest=9000 * 0.45359237, interval=42, density=0.4 * 119.826427,
        pump=(6.5, 430, 4),
    ),
}  # fmt: skip

DAY, HOUR = 86400.0, 3600.0

OURS = {
    "days to harvest": lambda s: s.stock.cycle,
    "peak feed, kg/d": lambda s: s.stock.peak_feed * DAY,
    "ammonia of the fish, g/d": lambda s: s.loads.ammonia * 1e3 * DAY,
    "ammonia with rotting, g/d": lambda s: s.loads.ammonia_made * 1e3 * DAY,
    "oxygen of the fish, g/h": lambda s: s.loads.fish_oxygen * 1e3 * HOUR,
    "oxygen of the nitrifiers, g/h": lambda s: s.loads.nitrifier_oxygen * 1e3 * HOUR,
    "oxygen of rotting, g/h": lambda s: s.loads.heterotroph_oxygen * 1e3 * HOUR,
    "oxygen in the busiest hour, g/h": lambda s: s.loads.peak_oxygen * 1e3 * HOUR,
    "carbon dioxide made, g/h": lambda s: s.loads.carbon_dioxide * 1e3 * HOUR,
    "carbon dioxide in the tank, mg/L": lambda s: s.gas.carbon_dioxide * 1e3,
    "pH": lambda s: s.gas.ph,
    "flow for ammonia, L/min": lambda s: s.flow.for_ammonia * 6e4,
    "flow for fines, L/min": lambda s: s.flow.for_fines * 6e4,
    "settler, m²": lambda s: s.solids.required,
    "share caught": lambda s: s.solids.captured,
    "air, m³/h": lambda s: s.air.required * HOUR,
    "media, m²": lambda s: s.filter.required,
    "head, m": lambda s: s.pump.head,
    "new water, L/d": lambda s: s.flow.exchange * 1e3 * DAY,
    "baking soda, g/d": lambda s: s.water.bicarbonate_net * 1e3 * DAY,
    "minutes from 5 to 3 mg/L": lambda s: s.standby.minutes_peak / 60.0,
}


@pytest.fixture(scope="module")
def both():
    return {name: (work(CASES[name]), size(demo(name))) for name in DEMOS}


@pytest.mark.parametrize("name", DEMOS)
@pytest.mark.parametrize("figure", OURS)
def test_hand_and_package_agree(both, name, figure):
    hand, sizing = both[name]
    close = {"abs": 0.005} if figure == "pH" else {"rel": 0.01}
    assert OURS[figure](sizing) == pytest.approx(hand[figure], **close)


def test_the_hand_gives_every_figure(both):
    assert set(both["family"][0]) == set(OURS)


def test_the_hand_is_independent():
    text = Path(__file__).with_name("hand_chain.py").read_text(encoding="utf-8")
    names = set()
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.Import):
            names |= {a.name for a in node.names}
        if isinstance(node, ast.ImportFrom):
            names.add(node.module)
    assert names == {"dataclasses", "math"}
