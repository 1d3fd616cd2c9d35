"""Where to begin: what people type, what it sets, the answer in one sentence, and nonsense in one sentence."""

import json

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from reading import grade

from rsdesign.core.choices import DesignError
from rsdesign.core.kinds import KINDS
from rsdesign.core.units import parse
from rsdesign.design.model import FIELDS, value_of
from rsdesign.pages.demos import DEMOS
from rsdesign.pages.session import Session
from rsdesign.pages.typed_plan import plan_of
from rsdesign.pages.way_in import PLACE, way_in
from rsdesign.sizing.margins import checks
from rsdesign.sizing.system import size
from rsdesign.studies.cures import is_green
from rsdesign.studies.heat.yearly import full_year

LB, KG = KINDS["harvest rate"].unit("lb/year").factor, KINDS["harvest rate"].unit("kg/year").factor
FT, IN = 0.3048, 0.0254  # units of the source


def harvest(value: float) -> dict:
    return {"goal.harvest": value}


def tank(width: float, depth: float, **more: float) -> dict:
    return {"tank.width": width, "tank.depth": depth} | {f"tank.{k}": v for k, v in more.items()}


TYPED = [
    ("150 lb", "us", harvest(150 * LB)), ("150 lb", "metric", harvest(150 * LB)),
    ("150 lb a year", "us", harvest(150 * LB)), ("I want 150 lb.", "us", harvest(150 * LB)),
    ("about 150 pounds of fish", "us", harvest(150 * LB)), ("70 kg", "us", harvest(70 * KG)),
    ("70 kg per year", "metric", harvest(70 * KG)), ("1,500 lb/year", "us", harvest(1500 * LB)),
    ("3 lb/week", "us", harvest(3 * LB * 365.25 / 7)), ("150 libras al año", "us", harvest(150 * LB)),
    ("200 fish", "us", {"goal.fish": 200.0}), ("1,200 tilapia", "us", {"goal.fish": 1200.0}),
    ("6 ft 6 in by 3 ft", "us", tank(6.5 * FT, 3 * FT)), ("6'6\" x 3'", "us", tank(6.5 * FT, 3 * FT)),
    ("2 m x 1 m", "us", tank(2.0, 1.0)), ("2 x 1 m", "us", tank(2.0, 1.0)),
    ("2 m x 1", "us", tank(2.0, 1.0)), ("2m×1m", "us", tank(2.0, 1.0)),
    ("6.5 by 3", "us", tank(6.5 * FT, 3 * FT)), ("2,5 by 1,2", "metric", tank(2.5, 1.2)),
    ("a tank of 6 ft 6 in by 3 ft", "us", tank(6.5 * FT, 3 * FT, count=1.0)),
    ("I have a tank of 2 m by 1 m", "metric", tank(2.0, 1.0, count=1.0)),
    ("two tanks of 6 ft by 3 ft each", "us", tank(6 * FT, 3 * FT, count=2.0)),
    ("3 ft deep by 6 ft across", "us", tank(6 * FT, 3 * FT)),
    ("6 ft wide, 3 ft deep", "us", tank(6 * FT, 3 * FT)),
    ("6 ft 6 in by 30 in", "us", tank(6.5 * FT, 30 * IN)),
    ("8 ft by 4 ft by 3 ft", "us", tank(4 * FT, 3 * FT, length=8 * FT)),
    ("4 x 8 x 3 ft", "us", tank(4 * FT, 3 * FT, length=8 * FT)),
]  # fmt: skip


@pytest.mark.parametrize(("text", "system", "expected"), TYPED)
def test_what_people_type(text, system, expected):
    found = plan_of(text, system)
    assert found.keys() == expected.keys()
    for path, value in expected.items():
        assert found[path] == pytest.approx(value, rel=1e-9), path


NONSENSE = [
    "lots", "150", "6 ft", "500 gal", "a tank", "a tank of", "a tank of 500 gal", "by", "x", "x 3 ft",
    "3 ft by", "1 by 2 by 3 by 4", "3 ft by 6 ft", "6 ft deep by 3 ft deep", "6 ft by 3 lb", "-5 lb",
    "0 fish", "nan", "inf lb", "1e999 lb", "100 furlongs by 3", "1/0 ft by 3 ft", "10 lb a month",
    "5 fish a year", "150 °F", "200 fish by 3 ft", "9 tanks", "999 tanks of 2 m by 1 m", "1 ft by 1 ft",
    "1000000 ft by 3 ft", "💥", "__import__('os')", "<b>150</b>", "1" * 5000, "\x00", "٣ lb",
]  # fmt: skip


@pytest.mark.parametrize("system", ["us", "metric"])
@pytest.mark.parametrize("text", NONSENSE)
def test_nonsense_gets_one_short_message_that_says_what_to_write(text, system):
    session = Session("start", system)
    before = session.design
    session.handle({"do": "way_in", "text": text})
    assert session.notice == ""
    assert session.design is before
    assert not session.can_undo
    box = way_in(session)["box"]
    assert box["wrong"]
    assert len(box["wrong"]) < 200
    assert "Traceback" not in box["wrong"]
    assert box["text"] == text[:200]
    assert any(w in box["wrong"] for w in ("rite ", "hoose ", "allowed is ")), box["wrong"]


@given(st.text(max_size=60), st.sampled_from(["us", "metric"]))
@settings(max_examples=300, deadline=None)
def test_no_text_does_more_than_name_choices_or_be_refused(text, system):
    try:
        found = plan_of(text, system)
    except DesignError as wrong:
        assert str(wrong).count("\n") == 0  # noqa: PT017
        return
    for path, value in found.items():
        about = FIELDS[path].choice
        assert about.low <= value <= about.high


def test_what_is_refused_is_forgotten_once_something_else_is_done():
    session = Session("start")
    session.handle({"do": "way_in", "text": "lots"})
    session.handle({"do": "set", "path": "goal.fish", "text": "150"})
    assert way_in(session)["box"]["wrong"] == ""
    session.handle({"do": "way_in", "text": "lots"})
    session.handle({"do": "way_in", "text": " "})
    assert way_in(session)["box"]["wrong"] == ""


@pytest.mark.parametrize(
    "text", ["150 lb", "200 fish", "90 fish", "a tank of 6 ft by 3 ft", "8 x 4 x 3 ft"]
)
def test_it_is_one_step_to_undo(text):
    session = Session("start")
    before = session.design
    session.handle({"do": "way_in", "text": text})
    assert not way_in(session)["box"]["wrong"]
    changed = session.design
    if text == "200 fish":  # as it was
        assert changed is before
        return
    session.handle({"do": "undo"})
    assert session.design is before
    session.handle({"do": "redo"})
    assert session.design is changed


def test_so_much_fish_takes_the_place_of_so_many():
    session = Session("start")
    session.handle({"do": "way_in", "text": "150 lb"})
    assert session.design.goal.fish is None
    session.handle({"do": "way_in", "text": "90 fish"})
    assert (session.design.goal.fish, session.design.goal.harvest) == (90.0, None)


@pytest.mark.parametrize("name", DEMOS)
def test_a_tank_plans_for_the_fish_that_it_has_room_for_and_not_for_one_more(name):
    session = Session("start")
    session.handle({"do": "demo", "name": name})
    session.handle({"do": "way_in", "text": "a tank of 6 ft 6 in by 3 ft"})
    assert session.design.tank.width == pytest.approx(6.5 * FT)
    assert session.design.tank.depth == pytest.approx(3 * FT)
    assert session.design.tank.count == 1
    room = {p.name: float(p.margin) for p in session.parts}["tank"]
    assert room >= 1 - 1e-6
    fish = session.design.goal.fish
    answer = way_in(session)["answer"]
    assert answer.startswith(f"Your tank has room for {fish:,.0f} fish: ")
    session.handle({"do": "set", "path": "goal.fish", "text": str(int(fish) + 1)})
    assert {p.name: float(p.margin) for p in session.parts}["tank"] < 1
    assert not way_in(session)["answer"].startswith("Your tank has room")


def test_a_box_has_a_long_side_and_a_round_tank_after_it_has_none():
    session = Session("start")
    session.handle({"do": "way_in", "text": "8 ft by 4 ft by 3 ft"})
    assert session.design.tank.shape == "rectangle"
    assert session.design.tank.length == pytest.approx(8 * FT)
    assert session.sizing.tank.volume == pytest.approx(8 * 4 * 3 * FT**3, rel=1e-6)
    session.handle({"do": "way_in", "text": "6 ft by 3 ft"})
    assert session.design.tank.shape == "round"
    assert session.design.tank.length is None


def test_a_tank_too_small_for_one_fish_is_refused():
    session = Session("start")
    session.handle({"do": "set", "path": "goal.weight", "text": "12 lb"})
    before = session.design
    session.handle({"do": "way_in", "text": "2 ft by 0.5 ft"})
    assert "no room for a fish of this size" in way_in(session)["box"]["wrong"]
    assert session.design is before


def test_a_small_tank_after_a_huge_goal_is_found():
    session = Session("start")
    session.handle({"do": "way_in", "text": "1000000 lb"})
    session.handle({"do": "way_in", "text": "a tank of 4 ft by 2 ft"})
    assert way_in(session)["box"]["wrong"] == ""
    assert 20 < session.design.goal.fish < 60


def test_the_answer_is_what_a_full_year_gives():
    session = Session("start")
    session.handle({"do": "way_in", "text": "150 lb"})
    found = way_in(session)
    given = full_year(session.sizing).harvest / 0.45359237
    assert found["answer"] == f"This weather gives {given:.1f} lb of the 150 lb you want."
    assert len(found["answer"].split()) <= 12
    assert grade(found["answer"]) <= 8


@pytest.mark.parametrize("place", FIELDS[PLACE].choice.options())
def test_what_is_offered_instead_gives_all_that_is_wanted(place):
    session = Session("start")
    session.handle({"do": "set", "path": PLACE, "text": place})
    session.handle({"do": "way_in", "text": "150 lb"})
    fix = way_in(session)["fix"]
    assert fix is not None
    session.handle({"do": "set", "path": "goal.fish", "text": fix["fish"]})
    assert not session.notice
    assert full_year(session.sizing).harvest >= 0.98 * parse("150 lb", KINDS["mass"])
    assert way_in(session)["fix"] is None
    assert "in a full year" in way_in(session)["answer"]


def test_where_no_fish_grow_without_heat_the_answer_says_so():
    session = Session("start")
    session.handle({"do": "set", "path": "climate.shelter", "text": "indoors"})
    session.handle({"do": "set", "path": "climate.room_temperature", "text": "50 °F"})
    found = way_in(session)
    assert found["answer"] == "Without a heater these fish do not grow here."
    assert found["fix"] is None


def test_the_one_thing_to_mend_is_the_worst_check():
    for name in DEMOS:
        session = Session("start")
        session.handle({"do": "demo", "name": name})
        worst = next(c for c in checks(session.sizing, "us") if not is_green(c))
        assert way_in(session)["mend"]["key"].startswith(f"{worst.part}: ")
        assert way_in(session)["mend"]["title"] in worst.words


def test_the_place_comes_first_and_is_one_of_those_there_are():
    session = Session("start", "metric")
    found = way_in(session)
    json.dumps(found, allow_nan=False)
    assert list(found).index("place") < list(found).index("box") < list(found).index("demos")
    for option in found["place"]["options"]:
        session.handle({"do": "set", "path": found["place"]["path"], "text": option["value"]})
        assert not session.notice
        assert value_of(session.design, PLACE) == option["value"]
        assert way_in(session)["place"]["value"] == option["value"]
    assert found["box"]["example"] == "70 kg a year"
    session.handle({"do": "way_in", "text": found["box"]["example"]})
    session.handle({"do": "way_in", "text": found["box"]["or"]})
    assert not way_in(session)["box"]["wrong"]


def test_a_design_that_names_no_place_is_asked_for_one():
    session = Session("start")
    session.handle({"do": "not_known", "path": PLACE})
    assert way_in(session)["place"]["words"].startswith("Choose one")


def test_every_example_works_and_says_in_a_line_what_it_is():
    found = way_in(Session("start"))["demos"]
    assert [d["name"] for d in found] == list(DEMOS)
    for about in found:
        session = Session("start")
        session.handle({"do": "demo", "name": about["name"]})
        assert not session.notice
        assert size(session.design)
        assert about["words"].startswith("Invented example.")


def test_who_follows_a_driver_changes_nothing():
    session = Session("start")
    session.handle({"do": "follow", "on": True, "token": session.token})
    before = session.design
    session.handle({"do": "way_in", "text": "150 lb"})
    assert "drive" in session.notice
    assert session.design is before
