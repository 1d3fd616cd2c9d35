"""The ladder of a page: bars in one scale, the present number as one line, what gives out first and then."""

import json
import time

import pytest
from designs import DEMOS, demo, random_design
from reading import grade

from rsdesign.design.link import token_of
from rsdesign.pages.ladder_block import BY_FLOW, NOT_BY_FISH, ladder_block
from rsdesign.pages.session import Session
from rsdesign.studies.ladder import ladder
from rsdesign.studies.stacked import TODAY

SAMPLE = [*map(demo, DEMOS), *map(random_design, range(12))]


def opened(design) -> Session:
    session = Session("whole")
    session.handle({"do": "open", "token": token_of(design)})
    assert not session.notice
    return session


def fish(text: str) -> int:
    return int(text.replace(",", ""))


@pytest.mark.parametrize("design", SAMPLE)
def test_bars_are_sorted_and_in_one_scale_with_the_line(design):
    session = opened(design)
    found = ladder_block(session)
    json.dumps(found, allow_nan=False)
    assert sorted(r["part"] for r in [*found["rungs"], *found["steady"]]) == sorted(
        part.name for part in session.parts
    )
    counts = [fish(rung["fish"]) for rung in found["rungs"]]
    assert counts == sorted(counts)
    assert all(0 <= rung["reach"] <= 1 for rung in found["rungs"])
    now = found["now"]["reach"] / float(session.sizing.stock.fish)
    for rung in found["rungs"]:
        if not rung["beyond"]:
            assert rung["reach"] == pytest.approx(fish(rung["fish"]) * now, abs=2e-3)
        else:
            assert rung["reach"] == 1.0
            assert fish(rung["fish"]) * now > 1.0


@pytest.mark.parametrize("design", SAMPLE)
def test_a_bar_stops_before_the_line_where_its_part_is_short(design):
    session = opened(design)
    found = ladder_block(session)
    words = {part.name: part.word for part in session.parts}
    for rung in [*found["rungs"], *found["steady"]]:
        assert rung["word"] == words[rung["part"]]
        assert (rung["state"] == "short") == (rung["word"] == "short")
    for rung in found["rungs"]:
        if rung["state"] == "short":
            assert rung["reach"] <= found["now"]["reach"]
        else:
            assert fish(rung["fish"]) + 1 > float(session.sizing.stock.fish)


@pytest.mark.parametrize("design", SAMPLE)
def test_the_sentence_names_what_gives_out_first_and_then(design):
    session = opened(design)
    found, known = ladder_block(session), ladder(session.sizing, TODAY)
    first, then = known.rungs[:2]
    assert found["sentence"].startswith(first.label)
    assert then.label.lower() in found["sentence"].lower()
    assert ("is short" in found["sentence"]) == (first.state == "short")
    assert len(found["sentence"].split()) <= 16
    assert grade(found["sentence"]) <= 8


def test_more_fish_move_the_line_and_turn_bars_short():
    session = opened(demo("family"))
    session.handle({"do": "set", "path": "filter.media_volume", "text": "15 ft³"})
    before = ladder_block(session)
    assert before["sentence"].startswith("Filter gives out first, at 2")
    session.handle({"do": "set", "path": "goal.fish", "text": "400"})
    after = ladder_block(session)
    assert after["now"]["label"] == "now 400 fish"
    rung = {r["part"]: r for r in after["rungs"]}
    assert rung["filter"]["state"] == "short"
    assert rung["tank"]["state"] == "short"
    assert after["sentence"].startswith("Filter is short: it carries 2")
    assert rung["filter"]["reach"] < after["now"]["reach"]


def test_parts_that_carry_water_stand_beneath():
    found = ladder_block(opened(demo("family")))
    assert found["steady_title"] == BY_FLOW
    assert {r["part"] for r in found["steady"]} == {"drain", "overflow"}
    assert all("% of need" in r["words"] for r in found["steady"])


def test_other_parts_that_fish_do_not_touch_are_not_put_down_to_the_flow():
    seen = set()
    for seed in range(30):
        found = ladder_block(opened(random_design(seed)))
        parts = {r["part"] for r in found["steady"]}
        seen.add(found["steady_title"])
        by_flow = parts <= {"drain", "overflow", "settler"}
        assert found["steady_title"] == (BY_FLOW if by_flow else NOT_BY_FISH)
    assert seen == {BY_FLOW, NOT_BY_FISH}


def test_it_is_quick_enough_to_follow_a_move():
    session = opened(demo("family"))
    took = []
    for number in range(200, 206):
        session.handle({"do": "set", "path": "goal.fish", "text": str(number)})
        start = time.process_time()
        ladder_block(session)
        took.append(time.process_time() - start)
    assert min(took) < 0.12
