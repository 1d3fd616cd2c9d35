"""One number of minutes: from the oxygen really held, with its range, the same wherever it is told."""

import io
import json
import re

import numpy as np
import pypdf
import pytest
from designs import DEMOS, demo, random_design

from rsdesign import load, size
from rsdesign.__main__ import main
from rsdesign.core.tables import data_folder
from rsdesign.design.link import token_of
from rsdesign.design.model import with_values
from rsdesign.pages import blocks
from rsdesign.pages.room.results import MINUTES, compute_results
from rsdesign.pages.session import Session
from rsdesign.report import outage as outagereport
from rsdesign.report import outage_words, routines
from rsdesign.report import ranges as bands
from rsdesign.report.handout.document import compose
from rsdesign.report.handout.pdf import pdf
from rsdesign.studies.outage import study as outage
from rsdesign.studies.outage.tank import minutes

CFM = 0.3048**3 / 60.0
ENDS = ("minutes_low", "minutes_peak", "minutes_high")


def by_hand(s) -> float:
    """The minutes again, from the design's own numbers alone."""
    d, share = s.design, float(s.stock.tank_feed / s.stock.peak_feed)
    hottest = d.site.warmest_water or d.site.water_temperature
    warmth = d.safety.per_ten ** ((hottest - d.site.water_temperature) / 10.0)
    fish = float(s.stock.peak_feed) * d.wastes.oxygen_per_feed * d.wastes.hour_factor * warmth
    others = float(s.loads.nitrifier_oxygen) * (s.design.filter.type != "trickling")
    others += float(s.loads.heterotroph_oxygen)
    start = min(d.keep.oxygen, float(s.air.peak_oxygen))
    fall = max(start - d.keep.stress_oxygen, 0.0) * float(s.tank.volume_each)
    return fall / ((fish + others) * share)


@pytest.mark.parametrize("name", DEMOS)
def test_the_minutes_are_the_pencil_sum(name):
    s = size(demo(name))
    assert s.standby.minutes_peak == pytest.approx(by_hand(s), rel=1e-9)
    assert s.standby.minutes_low < s.standby.minutes_peak < s.standby.minutes_high


def test_one_number_is_said_everywhere(capsys):
    """size --json, the outage report, the hand-out with its wall card, pages, lists and the room."""
    path = str(data_folder() / "designs" / "family.toml")
    s = size(load(path))
    told = bands.minutes_to_act(s, "us")
    assert re.fullmatch(r"[\d.]+ min \([\d.]+ min to [\d.]+ min\)", told)
    # size --json
    assert main(["size", path, "--json"]) == 0
    figures = json.loads(capsys.readouterr().out)["standby"]
    for end in ENDS:
        assert figures[end]["si"] == pytest.approx(float(getattr(s.standby, end)))
    # size as text
    assert main(["size", path]) == 0
    assert f"Minutes to act in the busiest hour (range {_ends(told)})" in _flat(
        capsys.readouterr().out
    )
    # outage, as text and as JSON
    assert main(["outage", path]) == 0
    text = capsys.readouterr().out
    assert text.count(told) >= 3  # the answer and both boxes
    assert main(["outage", path, "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert told in found["answer"]
    for end in ENDS:
        assert found["minutes_to_act"][end] * 60 == pytest.approx(float(getattr(s.standby, end)))
    assert found["times"]
    # the hand-out: front page, parts list, wall card, on real paper
    paper = pdf(compose(s, "us"), "letter")
    pages = [_flat(p.extract_text()) for p in pypdf.PdfReader(io.BytesIO(paper)).pages]
    assert told in pages[0]
    assert any("Parts and first cost" in p or "without air the fish have" in p for p in pages)
    assert sum(told in p for p in pages) >= 3
    card = next(p for p in pages if "Emergency card" in p)
    assert card.count(told) >= 3
    # pages: figures, the outage page and its picture, lists
    session = Session("outage", "us")
    session.design, session.sizing = s.design, s
    page = json.dumps(blocks.compose(session), ensure_ascii=False)
    assert page.count(told) >= 3
    assert told in json.dumps(routines.wrong(s, "us"))
    # the wall of a room
    post = compute_results(token_of(s.design))
    assert post.minutes == told
    assert post.values[MINUTES] == pytest.approx(float(s.standby.minutes_peak))


def _flat(text: str) -> str:
    return " ".join(text.split())


def _ends(told: str) -> str:
    return told.partition("(")[2].rstrip(")")


@pytest.mark.parametrize("seed", range(25))
def test_one_function_serves_size_and_outage(seed):
    s = size(random_design(seed))
    level = s.design.keep.stress_oxygen
    for end, name in zip(("short", "likely", "long"), ENDS, strict=True):
        assert minutes(s, "air only", level, end=end) == pytest.approx(
            float(getattr(s.standby, name)), rel=1e-9
        )
    # the pump off too never leaves less
    assert minutes(s, "all power", level) >= s.standby.minutes_peak * (1 - 1e-12)


def test_the_minutes_start_from_the_level_that_is_held():
    """9 cfm holds less than what is to be kept: the clock starts there; 3 cfm leaves nothing."""
    for flow in (11.0, 9.0, 3.0):
        s = size(with_values(demo("family"), {"air.flow": flow * CFM}))
        held = float(s.air.peak_oxygen)
        assert held < s.design.keep.oxygen
        assert s.standby.start == pytest.approx(held)
        assert s.standby.minutes_peak == pytest.approx(by_hand(s), rel=1e-9)
        text = outagereport.outage_text(outage.study(s), "us")
        assert "safe side" not in text
        if held <= s.design.keep.stress_oxygen:
            assert s.standby.minutes_low == s.standby.minutes_peak == s.standby.minutes_high == 0.0
            assert "in distress before anything stops" in text
        else:
            assert "air falls short" in text
        check = next(c for c in s.checks if "Minutes to act" in c.words)
        assert not check.ok
    many = size(with_values(demo("family"), {"air.flow": np.array([3.0, 11.0]) * CFM}))
    assert many.standby.minutes_peak[0] == 0.0 < many.standby.minutes_peak[1]


def test_spare_air_gives_no_minutes():
    """More air than is needed is let out: the count never starts above the oxygen to keep."""
    s = size(with_values(demo("family"), {"air.flow": 60 * CFM}))
    assert s.standby.start == s.design.keep.oxygen


def test_someone_is_in_time_only_before_distress():
    """Between distress and death is too late."""
    s = size(demo("family"))
    low = float(s.standby.minutes_low)
    for answer, ok in ((0.9 * low, True), (1.5 * low, False)):
        found = outage.study(size(with_values(s.design, {"safety.answer": answer})))
        check = next(c for c in outage_words.checks(found) if "stands at the tank" in c.words)
        assert bool(check.ok) is ok
        assert "in distress" in check.words
        assert "die" not in check.words


def test_the_hottest_week_raises_what_the_fish_breathe_in_size_too():
    """Twice for 10 °C, common practice: 28 to 30 °C is 2^0.2 = 1.149 times as much."""
    s = size(demo("family"))
    assert s.loads.warmth == pytest.approx(2**0.2, rel=1e-3)
    cool = size(with_values(s.design, {"site.warmest_water": None}))
    assert cool.loads.warmth == 1.0
    fish = float(cool.loads.fish_oxygen) * s.design.wastes.hour_factor
    assert cool.loads.peak_fish == pytest.approx(fish)
    assert s.loads.peak_fish == pytest.approx(fish * float(s.loads.warmth))
    assert s.air.demand > cool.air.demand
    assert s.air.required > cool.air.required
    assert s.standby.minutes_peak < cool.standby.minutes_peak
    calm = size(with_values(s.design, {"safety.per_ten": 1.0}))
    assert calm.loads.peak_fish == pytest.approx(fish)


def test_the_other_times_are_named():
    found = outage.study(size(demo("family")))
    names = [row[0] for row in outage_words.other_times(found)]
    for word in ("alarm", "die", "pump off", "mean hour"):
        assert any(word in name for name in names), word
    assert not any("today" in name for name in names)
    told = size(with_values(demo("family"), {"safety.since_feeding": 12 * 3600.0}))
    names = [row[0] for row in outage_words.other_times(outage.study(told))]
    assert any("today" in name for name in names)
    assert "today" in outage_words.answer(outage.study(told))
