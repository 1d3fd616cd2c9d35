"""The pages without a browser: what a person does goes in as a message, blocks come out as data."""

import itertools
import json
import math
import random
import re

import pytest
from designs import random_design

from rsdesign.core.choices import DesignError
from rsdesign.core.units import number
from rsdesign.design.file import update_text
from rsdesign.design.link import token_of
from rsdesign.design.model import FIELDS, value_of, with_values
from rsdesign.pages import blocks, carried
from rsdesign.pages.controls import read, span_of, value_at_position
from rsdesign.pages.jupyter.page_channel import PageChannel
from rsdesign.pages.own_blocks import SLOW
from rsdesign.pages.series import SERIES
from rsdesign.pages.session import MAX_PINS, Session, demo
from rsdesign.report.text import as_dict
from rsdesign.sizing.margins import word
from rsdesign.sizing.system import figure_at, size

NAMES = [page.name for page in SERIES]


def said(session: Session, **message) -> dict:
    session.handle(message)
    return blocks.compose(session, settled=not SLOW.intersection(session.page.blocks))


@pytest.mark.parametrize("system", ["us", "metric"])
@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("demo", ["family", "school", "commercial"])
def test_every_page_composes_for_every_demo(name, demo, system):
    session = Session(name, system)
    session.full = True
    session.handle({"do": "demo", "name": demo})
    found = blocks.compose(session)
    json.dumps(found, allow_nan=False)
    assert not session.notice
    page = session.page
    assert [c["path"] for c in found["choices"]] == [c.path for c in page.controls]
    shown = [f["path"] for f in found["figures"]]
    if page.owned:
        assert found["frame"]["summary"].startswith(("Told: ", "Nothing is told"))
        assert set(shown) <= set(page.figures)
    else:
        assert found["frame"]["summary"].startswith("Your fish eat ")
        assert shown == [*page.costs, *page.figures]
    if page.picture and not page.owned:
        own = found["close"] if page.system_first else found["picture"]
        assert own["sentence"].endswith(".")
        assert own["table"]["rows"]
    if page.system_first and not page.owned:
        assert len(found["picture"]["table"]["rows"]) == len(session.parts)
    assert [cell["name"] for cell in found["strip"]] == NAMES
    wanted = [path for path, _, _ in page.headline]
    if page.course:
        assert 4 <= len(found["headline"]) <= 5
        assert found["picture"]["table"]["rows"]
        assert found["moment"]["rows"]
        assert not found["course"]["wrong"]
    elif page.choosing:
        assert len(found["headline"]) == 4
        assert found["picture"]["table"]["rows"]
        assert found["study"]["state"] == "waiting"
    elif page.spread:
        assert len(found["headline"]) == 4
        assert found["picture"]["table"]["rows"]
        assert found["measure"]["rows"]
    else:
        assert ({f["path"] for f in found["headline"]} <= set(wanted)
                if page.owned
                else ([f["path"] for f in found["headline"]] == wanted))  # fmt: skip
    for chart in found["charts"]:
        assert chart["sentence"].endswith(".")
        assert chart["table"]["rows"]


@pytest.mark.parametrize("page", SERIES, ids=NAMES)
def test_a_page_is_well_made(page):
    assert page.question.endswith("?")
    assert 1 <= len(page.short) <= 8
    paths = [c.path for c in page.controls]
    assert len(paths) == len(set(paths))
    for control in page.controls:
        entry = FIELDS[control.path]
        if entry.choice.low is not None:
            low, high = span_of(control)
            assert entry.choice.low - 1e-12 <= low < high <= entry.choice.high * (1 + 1e-9), control
    for path in page.figures:
        figure_at(path)


ENTRIES = [
    ("4,5", 4.5), ("4.5", 4.5), ("3.14159", 3.14159), ("1e1", 10.0), (" 12 ", 12.0), ("+7", 7.0),
    ("12 ft", 12.0), ("120 in", 10.0), ("0,75e1", None), ("1,234", None), ("1.234,5", None),
    ("1,234.5", None), ("abc", None), ("1e999", None), ("nan", None), ("inf", None), ("9**9", None),
    ("__import__('os')", None), ("5 furlongs", None), ("7 kg", None), ("-3", None), ("1 2 3 4 5", None),
    ("1" * 500, None), ("٣", None), ("1.2.3", None),
]  # fmt: skip
"""What is typed for a distance across in feet, and what is taken; None where it is refused."""


@pytest.mark.parametrize(("text", "feet"), ENTRIES)
def test_number_entry(text, feet):
    session = Session("fish")
    before = session.design.tank.width
    found = said(session, do="set", path="tank.width", text=text)
    field = next(c for c in found["choices"] if c["path"] == "tank.width")
    if feet is None:
        assert session.design.tank.width == before
        assert field["wrong"].startswith("Distance across")
        assert "2 ft to 100 ft" in field["wrong"]
        assert field["text"] == text[:200]
    else:
        assert session.design.tank.width == pytest.approx(feet * 0.3048, rel=1e-15)
        assert field["wrong"] == ""


def test_out_of_range_text_is_kept_and_nothing_is_clamped():
    session = Session("fish", "metric")
    found = said(session, do="set", path="tank.depth", text="99")
    field = next(c for c in found["choices"] if c["path"] == "tank.depth")
    assert field["text"] == "99"
    assert "99 m" in field["wrong"]
    assert "0.152 m to 4.57 m" in field["wrong"]
    assert session.design.tank.depth == pytest.approx(0.8128)


def test_a_count_with_a_comma_or_point_that_may_mean_two_numbers_is_asked_about():
    """A page writes 1,570, so three digits after a comma are thousands; no fish is half a fish."""
    assert read("1,234", FIELDS["goal.fish"], "us") == 1234.0
    for text, both in (("1,5", "write 1.5 or 15"), ("1.500", "write 1.500 or 1500")):
        with pytest.raises(DesignError) as wrong:
            read(text, FIELDS["goal.fish"], "us")
        assert both in str(wrong.value)
        assert str(wrong.value).startswith("Fish harvested from each batch: ")
        assert "allowed is" in str(wrong.value)


def test_a_file_that_is_no_text_says_so():
    session = Session("start")
    before = session.token
    session.handle({"do": "load", "text": None})
    assert session.notice == "The file is not a text file; a design file is TOML in UTF-8."
    assert session.token == before


def test_the_last_move_of_a_drag_undoes_with_the_others():
    """On a slow line the end of a drag brings a new place."""
    session = Session("fish")
    start = session.design.tank.width
    for at, end in ((0.2, False), (0.4, False), (0.6, True)):
        session.handle({"do": "slide", "path": "tank.width", "at": at, "end": end})
    session.handle({"do": "undo"})
    assert session.design.tank.width == start
    assert not session.can_undo


def test_what_was_refused_is_said_where_its_box_is_gone():
    session = Session("fish")
    session.handle({"do": "set", "path": "tank.depth", "text": "999"})
    assert session.notice == "", "the sentence stands beside the box"
    for message in ({"do": "page", "page": "solids"}, {"do": "units", "units": "metric"}):
        session.handle(message)
        assert session.notice.startswith("Not taken: Water depth is 999 ft")
    session.handle({"do": "page", "page": "fish"})
    assert session.notice == ""
    session.handle({"do": "set", "path": "tank.depth", "text": "99"})
    session.handle({"do": "follow", "on": True, "token": token_of(demo("school"))})
    assert "Not taken: Water depth is 99 m" in session.notice, (
        "a team change drops nothing in silence"
    )


def test_a_typed_text_is_read_in_the_units_in_which_it_was_typed():
    session = Session("fish", "metric")
    session.handle({"do": "set", "path": "tank.depth", "text": "3", "units": "us"})
    assert session.design.tank.depth == pytest.approx(0.9144)


def test_undo_redo_and_reset():
    session, source = Session("fish"), random.Random(3)
    start, states = token_of(session.design), []
    paths = [c.path for c in session.page.controls if FIELDS[c.path].choice.low is not None]
    paths = [p for p in paths if FIELDS[p].choice.sweep or FIELDS[p].kind.name == "count"]
    for _ in range(20):
        path = source.choice(paths)
        session.handle({"do": "slide", "path": path, "at": source.random(), "end": True})
        if not states or token_of(session.design) != states[-1]:
            states.append(token_of(session.design))
    for _ in states:
        assert session.can_undo
        session.handle({"do": "undo"})
    assert token_of(session.design) == start
    for _ in states:
        session.handle({"do": "redo"})
    assert token_of(session.design) == states[-1]
    session.handle({"do": "reset_all"})
    assert token_of(session.design) == start


def test_an_example_that_is_undone_leaves_no_choice_marked_as_changed():
    def changed(session: Session) -> list[str]:
        return [c["path"] for c in blocks.choices(session) if c["changed"]]

    session = Session("fish")
    session.full = True
    session.handle({"do": "demo", "name": "commercial"})
    assert changed(session) == []
    session.handle({"do": "set", "path": "tank.depth", "text": "3.3"})
    assert changed(session) == ["tank.depth"]
    for _ in range(2):
        session.handle({"do": "undo"})
    assert session.design.name.startswith("Ocotillo")
    assert changed(session) == []
    session.handle({"do": "redo"})
    assert changed(session) == []
    session.handle({"do": "redo"})
    assert changed(session) == ["tank.depth"]


@pytest.mark.parametrize("name", NAMES)
def test_the_words_of_a_page_are_in_one_unit_system(name):
    for system, others in (("metric", "gallons?|pounds?|feet|foot|ft²?|gal|lb|in"),
                           ("us", "liters?|kilograms?|meters?|cm|m²|m³|kg|L")):  # fmt: skip
        text = blocks.compose(Session(name, system))["text"]
        parts = [text["question"], *text["words"], text["try_this"]]
        parts += [text["rule"]["words"]] if text["rule"] else []
        parts += text["card"]["lines"] if text["card"] else []
        for part in parts:
            assert not re.search(rf"\d\s*(?:{others})\b", part), part
            assert "{" not in part
            assert "|" not in part


def test_the_air_page_offers_the_kind_of_machine_that_draws_less():
    session = Session("air")
    session.handle({"do": "set", "path": "air.machine", "text": "rotary vane"})
    block = next(b for b in blocks.compose(session)["own"] if b["form"] == "offer")
    drawn = {kind: size(with_values(session.design, {"air.machine": kind})).air.wire_power
             for kind in FIELDS["air.machine"].choice.options()}  # fmt: skip
    assert min(drawn.values()) < 0.95 * drawn["rotary vane"], (
        "the demo is to have something to save"
    )
    act = block["acts"][0]
    assert act["path"] == "air.machine"
    assert drawn[act["text"]] == min(drawn[row[0]] for row in block["rows"])
    before = session.sizing.air.wire_power
    session.handle({"do": "set", "path": act["path"], "text": act["text"]})
    assert session.sizing.air.wire_power < 0.95 * before
    block = next(b for b in blocks.compose(session)["own"] if b["form"] == "offer")
    assert block["acts"] == []
    session.handle({"do": "set", "path": "air.flow", "text": "9 cfm"})
    block = next(b for b in blocks.compose(session)["own"] if b["form"] == "offer")
    assert block["rows"] == []
    assert "of your own" in block["words"][0]


def test_a_length_stands_in_feet_and_inches_beside():
    def also(system: str, text: str) -> str:
        session = Session("fish", system)
        session.handle({"do": "set", "path": "tank.depth", "text": text})
        return next(c for c in blocks.choices(session) if c["path"] == "tank.depth")["also"]

    assert also("us", "32 in") == "2 ft 8 in"
    assert also("us", "3 ft") == ""
    assert also("us", "2.52 ft") == "2 ft 6 1/4 in"
    assert also("metric", "32 in") == ""


def test_prices_stand_with_their_currency():
    session = Session("cost")
    fields = {c["path"]: c for c in blocks.choices(session)}
    assert fields["prices.fish"]["unit"] == "$ per lb"
    assert fields["prices.fish"]["low"].startswith("$1 per lb")
    session.handle({"do": "guess", "text": "5"})
    guess = blocks.compose(session)["text"]["guess"]
    assert guess["unit"] == "$ per lb"
    assert guess["answer"].startswith("$")


def test_a_drag_undoes_as_one():
    session = Session("fish")
    before = session.design.tank.width
    for at in (0.3, 0.4, 0.5, 0.6):
        session.handle({"do": "slide", "path": "tank.width", "at": at})
    session.handle({"do": "slide", "path": "tank.width", "at": 0.6, "end": True})
    session.handle({"do": "undo"})
    assert session.design.tank.width == before


def test_units_are_lossless():
    session = Session("fish")
    session.handle({"do": "set", "path": "tank.depth", "text": "0,777 m"})
    before = {path: value_of(session.design, path) for path in FIELDS}
    for place in range(100):
        found = said(session, do="units", units=("metric", "us")[place % 2])
    assert {path: value_of(session.design, path) for path in FIELDS} == before
    for figure in found["figures"]:
        kind = figure_at(figure["path"]).kind
        assert kind is None or figure["unit"] == kind.shown("us").label


@pytest.mark.parametrize("seed", range(20))
def test_page_figures_equal_the_command_line(seed):
    design = random_design(seed)
    wanted = as_dict(size(design), "us")
    for name in NAMES:
        session = Session(name)
        session.handle({"do": "open", "token": token_of(design)})
        found = blocks.figures(session)
        for figure in found:
            if figure["path"] in session.page.costs:
                continue  # figures of the budget: tests/test_costworking.py
            stage, _, rest = figure["path"].partition(".")
            cell = wanted[stage][rest]
            if isinstance(cell["value"], (int, float)):
                words = number(cell["value"])
                if figure["path"] in ("stock.fish", "stock.to_stock"):  # animals are whole
                    words = f"{math.floor(cell['value'] + 0.5):,}"
                assert figure["value"] == words, figure["path"]
                assert figure["unit"] == cell["unit"]


HOSTILE = [
    None, 3, [], {}, {"do": 3}, {"do": "compute"}, {"do": "_put"}, {"do": "set"},
    {"do": "set", "path": "tank.nothing", "text": "3"}, {"do": "set", "path": ["x"], "text": "3"},
    {"do": "set", "path": "tank.depth", "text": {"a": 1}}, {"do": "set", "path": "__class__"},
    {"do": "slide", "path": "tank.depth", "at": float("nan")},
    {"do": "slide", "path": "tank.depth", "at": "0.5"}, {"do": "slide", "path": "tank.depth", "at": 7},
    {"do": "slide", "path": "tank.shape", "at": 0.5}, {"do": "units", "units": "stone"},
    {"do": "demo", "name": "../../etc"}, {"do": "open_pin", "index": 9},
    {"do": "open_pin", "index": "x"}, {"do": "working", "path": "design.x"},
    {"do": "working", "path": "solids.nothing"}, {"do": "tradeoff", "sweep": "tank.shape"},
    {"do": "tradeoff", "sweep": "tank.depth", "first": "x", "second": "y"},
    {"do": "load", "text": "]["}, {"do": "load", "text": "x" * 1_000_000},
    {"do": "qr", "url": "h" * 5000}, {"do": "set", "path": "name", "text": "n" * 1_000_000},
    {"do": "not_known", "path": "tank.depth"}, {"do": "open", "token": "1.zzz"},
]  # fmt: skip


@pytest.mark.parametrize("message", HOSTILE, ids=lambda m: str(m)[:50])
def test_hostile_messages_get_a_sentence_and_change_nothing(message):
    session = Session("fish")
    before, token = session.design, session.token
    session.handle(message)
    told = session.notice or "".join(r["why"] for r in session.refused.values())
    assert told, "nothing was said"
    assert told.endswith((".", "?"))
    assert "Traceback" not in told
    assert "site-packages" not in told
    assert session.design is before or session.token == token
    assert session.handle({"do": "set", "path": "tank.depth", "text": "3"}) is None
    assert session.design.tank.depth == pytest.approx(0.9144)


def test_what_goes_wrong_inside_is_said_and_the_last_results_stay(monkeypatch):
    session = Session("fish")
    before = blocks.compose(session)["figures"]
    monkeypatch.setattr("rsdesign.pages.session.size", lambda design: 1 / 0)
    session.handle({"do": "set", "path": "tank.depth", "text": "3"})
    assert "Something went wrong inside" in session.notice
    found = blocks.compose(session)
    assert found["frame"]["stale"]
    assert found["figures"] == before


def test_an_impossible_choice_keeps_the_last_results_and_says_why():
    session = Session("air")
    before = blocks.compose(session)["figures"]
    found = said(session, do="set", path="keep.oxygen", text="11")
    assert "holds hardly more" in found["frame"]["notice"]
    assert found["frame"]["stale"]
    assert found["figures"] == before
    found = said(session, do="undo")
    assert not found["frame"]["stale"]


def test_the_working_opens_and_is_nested():
    session = Session("biofilter")
    found = said(session, do="working", path="filter.required")
    steps = found["working"]["filter.required"]["steps"]
    last = steps[-1]
    assert last["formula"].startswith("<math")
    assert last["source"]
    assert any(
        line["from"] is not None and line["from"] < len(steps) - 1 for line in last["inputs"]
    )
    assert said(session, do="working", path="filter.required")["working"] == {}


@pytest.mark.parametrize("page", [p for p in SERIES if p.tradeoff], ids=lambda p: p.name)
def test_what_a_trade_off_shows_can_be_picked_and_its_axes_have_room(page):
    session = Session(page.name)
    session.full = True
    trade = blocks.compose(session)["explore"]
    sweep, *pair = trade["chosen"]
    assert sweep in [s["path"] for s in trade["sweeps"]]
    assert set(pair) <= {r["path"] for r in trade["results"]}
    for side in ("xaxis", "yaxis", "yaxis2"):
        title = trade["chart"]["figure"]["layout"][side]["title"]["text"]
        assert all(len(part) <= 40 for part in title.split("<br>"))


def test_the_line_on_top_names_the_worst_part_first_and_every_short_one():
    session = Session("start")
    session.handle({"do": "set", "path": "solids.area", "text": "2 ft²"})
    session.handle({"do": "set", "path": "air.flow", "text": "4 cfm"})
    assert not session.refused
    line = blocks.summary_line(session)
    worst = min(session.parts, key=lambda part: float(part.margin))
    assert word(worst.margin) == "short"
    assert f"tightest: {worst.label.lower()}, " in line
    short = {p["label"].lower() for p in blocks.margin_bars(session) if p["word"] == "short"}
    assert len(short) > 1
    assert all(label in line for label in short)
    rows = {row[0]: row for row in blocks.compose(session)["picture"]["table"]["rows"]}
    assert all(rows[p.label][3].startswith(p.word) for p in session.parts)


def test_the_line_on_top_calls_no_part_tight_that_the_sizing_took():
    session = Session("start")
    session.handle({"do": "set", "path": "pump.drain_pipe", "text": "4 in"})
    assert "short" not in blocks.summary_line(session)
    assert "tightest: tank room" in blocks.summary_line(session)


def test_i_do_not_know_hands_the_choice_to_the_sizing():
    session = Session("fish")
    found = said(session, do="not_known", path="tank.width")
    field = next(c for c in found["choices"] if c["path"] == "tank.width")
    assert field["chosen"]
    assert field["taken"]
    assert 0 <= field["position"] <= 1


def test_saying_fish_takes_the_place_of_saying_harvest():
    session = Session("start")
    session.handle({"do": "demo", "name": "commercial"})
    session.handle({"do": "set", "path": "goal.fish", "text": "500"})
    assert not session.notice
    assert session.design.goal.harvest is None
    session.handle({"do": "reset", "path": "goal.fish"})
    assert session.design.goal.fish is None
    assert session.design.goal.harvest is not None


def test_the_second_door_answers_in_one_sentence():
    session = Session("have")
    for path, text in (
        ("tank.width", "12 ft"), ("tank.depth", "2.5 ft"), ("pump.bucket_time", "20 s"),
        ("air.flow", "40 L/min"), ("filter.media_volume", "0 ft³"), ("site.warmest_water", "86"),
        ("source.disinfectant", "chlorine"),
    ):  # fmt: skip
        session.handle({"do": "set", "path": path, "text": text})
        assert not session.notice, session.notice
        assert not session.refused, session.refused
    session.handle({"do": "answer", "name": "budget", "text": "100"})
    answer = blocks.compose(session)["own"][0]
    assert answer["sentence"] == "No filter media, no fish: nothing takes the ammonia out."
    assert "Buy next" in answer["more"][-1]
    assert all(float(buy["cost"].lstrip("$").replace(",", "")) <= 100 for buy in answer["buys"])
    shares = [bar["share"] for bar in answer["bars"]]
    assert shares == sorted(shares)
    assert len(session.page.short) + 1 <= 8, "at most eight things are asked, money counted"


TOLD = {"tank.width": "6.5 ft", "tank.depth": "3 ft", "pump.bucket_time": "20 s",
        "air.plate_watts": "60 W", "filter.media_volume": "3 ft³"}  # fmt: skip


def told(session: Session, *paths: str) -> dict:
    """The answer of the page after so much is told of what is owned."""
    session.handle({"do": "not_known", "path": "tank.width"})
    for path in paths:
        session.handle({"do": "set", "path": path, "text": TOLD[path]})
        assert not session.notice, session.notice
        assert not session.refused, session.refused
    return blocks.compose(session)["own"][0]


def test_no_capacity_stands_in_bold_until_tank_flow_filter_and_air_are_given():
    for count in range(2, len(TOLD)):
        session = Session("have")
        answer = told(session, *list(TOLD)[:count])
        assert answer["sentence"].startswith("No answer yet. Not told: ")
        assert "it carries no fish." in " ".join(answer["more"])
        assert not answer["buys"]
        assert "New water" not in [bar["label"] for bar in answer["bars"]]
    answer = told(Session("have"), *TOLD)
    assert answer["sentence"].startswith("It can feed ")


def test_a_tank_alone_has_room_and_carries_no_fish_without_the_rest():
    answer = told(Session("have"), "tank.width", "tank.depth")
    assert answer["more"][0] == "Your tank has room for about 150 fish of 1.25 lb."
    assert answer["more"][1] == (
        "Until you own a pump, a filter and an air machine, it carries no fish."
    )
    assert answer["more"][2].startswith("For that many fish there must be a flow of ")


def test_what_is_not_known_never_leaves_new_water_as_the_headline():
    answer = told(Session("have"))
    assert answer["sentence"] == ""
    assert answer["bars"] == []
    assert answer["more"] == ["Tell us one thing that you own, and we say what it can carry."]


def test_the_page_of_owned_parts_shows_nothing_of_another_plan():
    session = Session("have")
    told(session, "tank.width", "tank.depth")
    found = blocks.compose(session)
    assert found["frame"]["summary"] == "Told: tank · not told: pump, filter and air machine"
    assert [f["path"] for f in found["figures"]] == ["tank.volume"]
    assert found["checks"] == []
    assert found["parts"] == []
    assert found["picture"] is None


def test_no_pump_means_no_fish_in_words():
    session = Session("have")
    told(session, *TOLD)
    control = next(c for c in blocks.choices(session) if c["path"] == "pump.bucket_time")
    session.handle({"do": "set", "path": "pump.bucket_time", "text": control["nothing"]})
    found = blocks.compose(session)
    answer = found["own"][0]
    assert answer["sentence"] == "No pump, no fish: nothing moves the water."
    assert {buy["what"].split(" for ")[0] for buy in answer["buys"]} == {"water pump"}
    assert "pump.provided" not in [f["path"] for f in found["figures"]]
    field = next(c for c in found["choices"] if c["path"] == "pump.bucket_time")
    assert field["none"]
    assert field["taken"] == ""
    session.handle({"do": "set", "path": "pump.bucket_time", "text": "20"})
    assert not session.design.pump.none
    assert blocks.compose(session)["own"][0]["sentence"].startswith("It can feed ")
    session.handle({"do": "undo"})
    assert session.design.pump.none
    session.handle({"do": "not_known", "path": "pump.bucket_time"})
    assert not session.design.pump.none


def test_no_air_machine_means_no_fish_in_words():
    session = Session("have")
    told(session, *TOLD)
    control = next(c for c in blocks.choices(session) if c["path"] == "air.plate_watts")
    session.handle({"do": "set", "path": "air.plate_watts", "text": control["nothing"]})
    answer = blocks.compose(session)["own"][0]
    assert answer["sentence"].startswith("No air machine, no fish")


def test_a_budget_that_is_no_money_is_said():
    session = Session("have")
    session.handle({"do": "answer", "name": "budget", "text": "lots"})
    assert "sum of money" in blocks.compose(session)["own"][0]["wrong"]


def test_up_to_four_designs_are_kept_and_compared():
    session = Session("whole")
    for place in range(MAX_PINS):
        session.handle({"do": "set", "path": "goal.fish", "text": str(100 + 50 * place)})
        session.handle({"do": "pin", "name": f"plan {place}"})
    session.handle({"do": "pin"})
    assert "take one away" in session.notice
    side = blocks.compose(session)["compare"]
    assert len(side["columns"]) == MAX_PINS + 1
    assert all(len(set(row["cells"])) > 1 for row in side["rows"])


def test_a_page_that_opens_again_keeps_no_more_designs_and_none_twice():
    session = Session("whole")
    plans = [[f"plan {fish}", token_of(with_values(session.design, {"goal.fish": 100.0 + fish}))]
             for fish in range(2 * MAX_PINS)]  # fmt: skip
    for _ in range(3):
        session.handle({"do": "open", "pins": plans[:2]})
    assert [list(pin) for pin in session.pins] == plans[:2]
    for at in range(len(plans)):
        session.handle({"do": "open", "pins": plans[at:]})
    assert [list(pin) for pin in session.pins] == plans[:MAX_PINS]


DOES = sorted(name.removeprefix("_do_") for name in dir(Session) if name.startswith("_do_"))
ASKED = ("path", "part", "name", "text", "page", "units", "token", "sweep", "first", "second",
         "index", "format", "room", "cost", "life", "power", "daily_time")  # fmt: skip


@pytest.mark.parametrize("do", DOES)
def test_no_message_makes_a_session_or_its_frame_grow_without_end(do):
    session = Session("cost")

    def held() -> int:
        kept = (session.own, session.pins, session.guesses, session.answers, session.sweep,
                session.open, session.refused, session.notice, session.own_wrong)  # fmt: skip
        return len(repr(kept)) + len(json.dumps(blocks.frame(session)))

    before = held()
    for n in range(100):
        long = f"{n} {'x' * 5000}"
        session.handle({"do": do, **dict.fromkeys(ASKED, long), "guesses": {long: long},
                        "own": {long: [{"name": long}]}, "pins": [[long, ""]]})  # fmt: skip
        session.handle({"do": do, "path": "name", "text": long, "name": str(n), "part": str(n)})
    assert held() < before + 20_000


@pytest.mark.parametrize("path", ["name", "note"])
def test_a_design_with_more_text_than_a_page_holds_is_refused_with_its_choice(path):
    session = Session("fish")
    design = session.design
    wordy = with_values(design, {path: "fish " * 600})
    for message in (
        {"do": "load", "text": update_text("", wordy)},
        {"do": "open", "token": token_of(wordy)},
        {"do": "follow", "on": True, "token": token_of(wordy)},
    ):
        session.handle(message)
        assert session.notice.startswith(path)
        assert session.notice.endswith("2,000 characters at most.")
        assert session.design is design
    assert not session.following
    session.handle(
        {"do": "load", "text": update_text("", with_values(design, {path: "fish " * 300}))}
    )
    assert not session.notice


def test_what_a_browser_remembers_of_another_kind_is_dropped():
    session = Session("fish")
    session.handle({"do": "open", "page": ["cost"], "units": {}, "pins": [3, [[], {}]], "guesses": [],
                    "room": {"site.elevation": 10**400}})  # fmt: skip
    assert session.notice == ""
    assert not session.pins
    assert not session.room


def test_guess_is_compared_with_the_figure():
    session = Session("fish")
    found = said(session, do="guess", text="6,8")["text"]["guess"]
    assert found["answer"] == "3.38 lb/day"
    assert "2 times" in found["words"]
    assert said(session, do="guess", text="much")["text"]["guess"]["answer"] == ""


def test_a_saved_file_opens_again():
    session = Session("fish")
    session.handle({"do": "set", "path": "tank.depth", "text": "2.9"})
    session.handle({"do": "save"})
    text, token = session.reply["text"], session.token
    other = Session("fish")
    other.handle({"do": "load", "text": text})
    assert not other.notice
    assert size(other.design).tank.volume == pytest.approx(size(session.design).tank.volume, 1e-9)
    assert len(other.token) <= len(token) + 400


def test_lists_carry_dates_counted_from_stocking():
    session = Session("lists")
    session.handle({"do": "answer", "name": "stocking_date", "text": "2027-03-15"})
    lists = blocks.compose(session)["own"][0]["lists"]
    assert lists[0]["steps"][-1][0] == "2027-03-15"
    # 24 weeks: permit 4, order 6, building 3, tests 1, filter 8, then 2 for fingerlings ordered when it is ripe
    assert lists[0]["steps"][0][0] == "2026-09-28"
    assert not any(step[0].isdigit() for steps in lists for step in steps["steps"]), (
        "numbered twice"
    )
    session.handle({"do": "answer", "name": "stocking_date", "text": "soon"})
    assert "is not a date" in blocks.compose(session)["own"][0]["wrong"]
    for far in ("9999-12-20", "0001-01-01"):
        session.handle({"do": "answer", "name": "stocking_date", "text": far})
        assert "lies outside the years 1950 to 2200" in blocks.compose(session)["own"][0]["wrong"]


def test_two_weeks_of_the_season_stand_among_the_lists_when_asked_for():
    from rsdesign.report.day_lists import day_list
    from rsdesign.season import growout

    session = Session("lists", "metric")
    assert blocks.compose(session)["own"][0]["days"] == []
    session.handle({"do": "answer", "name": "list_day", "text": "60"})
    found = blocks.compose(session)["own"][0]
    wanted = day_list(growout(session.sizing, system="metric"), session.sizing, 60, 73)
    assert [row[2] for row in found["days"]] == [line.feed_words for line in wanted]
    assert [row[0] for row in found["days"]] == [f"{line.day}, {line.date}" for line in wanted]
    for text in ("0", "400", "soon", "1.5", "-3"):
        session.handle({"do": "answer", "name": "list_day", "text": text})
        found = blocks.compose(session)["own"][0]
        assert found["days"] == []
        assert "write a whole number from 1 to 365" in found["day_wrong"]
        assert found["day"] == text, "what was typed stays"
    session.handle({"do": "answer", "name": "list_day", "text": "1"})
    session.handle({"do": "answer", "name": "stocking_date", "text": "2027-05-01"})
    assert blocks.compose(session)["own"][0]["days"][0][0] == "1, 2027-05-01"


@pytest.mark.parametrize("system", ["us", "metric"])
def test_slider_positions_give_round_values_inside_the_span(system):
    for page in SERIES:
        for control in page.controls:
            entry = FIELDS[control.path]
            if entry.choice.low is None:
                continue
            low, high = span_of(control)
            values = [value_at_position(control, at / 50, system) for at in range(51)]
            assert values[0] == low
            assert values[-1] == high
            assert all(b >= a - 1e-12 * abs(high) for a, b in itertools.pairwise(values))
            assert all(math.isfinite(v) for v in values)


def test_figures_and_drawing_do_not_wait_for_what_takes_longer():
    sent = []
    channel = PageChannel(Session("have"), lambda content, buffers: sent.append(content))
    channel.receive({"n": 1, "message": {"do": "open"}})
    assert [m["ack"] for m in sent] == [1], "a page that opens comes whole"
    assert {"figures", "picture", "own"} <= set(sent[0]["blocks"])
    del sent[:]
    channel.receive({"n": 2, "message": {"do": "set", "path": "tank.depth", "text": "1.2 m"}})
    first, then = sent
    assert "figures" in first["blocks"]
    assert "own" not in first["blocks"]
    assert "ack" not in first
    assert "own" in then["blocks"]
    assert then["ack"] == 2


def test_what_the_html_of_a_page_carries_is_not_sent_again_unless_a_browser_asks_for_all():
    def opened(*messages):
        sent = []
        channel = PageChannel(Session("start"), lambda content, buffers: sent.append(content))
        carried = channel.first()
        for n, message in enumerate(messages, 1):
            channel.receive({"n": n, "message": {"do": "open", "width": 636, **message}})
        return carried, [m["blocks"] for m in sent]

    carried, (answer,) = opened({"drawn": True})
    assert {"frame", "headline", "choices", "picture", "text"} <= set(carried)
    assert json.loads(json.dumps(carried)) == carried
    assert not {"choices", "picture", "headline", "text"} & set(answer)
    assert "frame" in answer
    composed = set(carried) - {"phone", "ribbons", "tradeoff", "ladder"}
    assert composed <= set(opened({})[1][0]), "a browser with settings of its own drew nothing"
    again = opened({"drawn": True}, {"drawn": True})[1][1]
    assert composed <= set(again), "a page that comes from a browser's store carries what was"
    metric = opened({"drawn": True, "units": "metric"})[1][0]
    assert {"choices", "headline"} <= set(metric)


@pytest.mark.parametrize("width", [636, 344])
@pytest.mark.parametrize("page", [p.name for p in SERIES])
def test_a_page_opened_as_it_was_carried_is_as_if_composed_anew(page, width):
    message = {"do": "open", "page": page, "width": width, "narrow": width < 400}
    kept, anew = Session(page), Session(page)
    kept.handle(message)
    anew.handle(message)
    found, composed = carried.opened(kept), blocks.compose(anew)
    if found is None:
        assert width != 636, "in a window of the usual width every page opens as it was carried"
        return
    assert {name: found[name] for name in composed} == composed
    assert kept.scale == anew.scale
    for own in ({"full": True}, {"guesses": {page: "40 W"}}, {"room": {"goal.fish": 77.0}}):
        changed = Session(page)
        changed.handle(message | own)
        assert carried.opened(changed) is None, own


def test_a_page_at_rest_is_asked_for_what_stands_beside_it_only_after_a_change():
    sent = []
    channel = PageChannel(Session("solids"), lambda content, buffers: sent.append(content))
    channel.first()
    slide = {"do": "slide", "path": "solids.overflow_rate", "at": 0.3}
    messages = [
        {"do": "open", "width": 636, "drawn": True},
        {"do": "aside"},
        slide,
        {"do": "aside"},
        {"do": "aside"},
    ]
    for n, message in enumerate(messages, 1):
        channel.receive({"n": n, "message": message})
    assert [m.get("ack") for m in sent] == [1, 2, 3, None, 4, 5]
    assert set(sent[0]["blocks"]) == {"frame"}
    assert sent[1]["blocks"] == sent[5]["blocks"] == {}
    assert "tradeoff" in sent[3]["blocks"], "what is seen goes first"
    assert "figures" in sent[4]["blocks"]


def test_while_a_thumb_moves_the_charts_follow_and_what_explains_them_waits():
    sent = []
    channel = PageChannel(Session("solids"), lambda content, buffers: sent.append(content))
    channel.receive({"n": 1, "message": {"do": "open", "width": 636, "full": True}})
    del sent[:]
    channel.receive({"n": 2, "message": {"do": "slide", "path": "solids.overflow_rate", "at": 0.3}})
    assert [m.get("ack") for m in sent] == [None, 2]
    assert {"headline", "picture"} <= set(sent[0]["blocks"])
    assert set(sent[1]["blocks"]) == {"charts", "explore"}
    del sent[:]
    channel.receive({"n": 3, "message": {"do": "aside"}})
    assert "figures" in sent[-1]["blocks"]
    kept = {name: block for m in sent for name, block in m["blocks"].items()}
    composed = json.loads(json.dumps(blocks.compose(channel.session)))
    assert {name: json.loads(json.dumps(kept[name])) for name in ("text", "figures")} == {
        name: composed[name] for name in ("text", "figures")
    }


def _whole(before: dict, blocks: dict) -> dict:
    """The blocks with whole drawings, as front/drawings.js makes them."""
    found = json.loads(json.dumps(blocks))
    for name, block in found.items():
        for field in ("svg", "plan") if isinstance(block, dict) else ():
            if isinstance(block.get(field), dict):
                pieces = before[name][field].split('"')
                for place, piece in block[field]["edits"]:
                    pieces[place] = piece
                block[field] = '"'.join(pieces)
    return found


@pytest.mark.parametrize("page", ["solids", "whole", "fish"])
def test_a_drawing_told_by_what_changed_of_it_is_the_drawing_itself(page):
    sent, plain = [], []
    told = PageChannel(Session(page), lambda content, buffers: sent.append(content))
    whole = PageChannel(Session(page), lambda content, buffers: plain.append(content))
    path = told.session.page.short[0].path
    messages = [{"do": "open", "width": 636, "edits": True}]
    for k in range(6):
        messages += [{"do": "slide", "path": path, "at": 0.3 + 0.05 * k}, {"do": "aside"}]
    now, told_shorter = {}, 0
    for n, message in enumerate(messages, 1):
        del sent[:], plain[:]
        told.receive({"n": n, "message": message})
        whole.receive({"n": n, "message": {k: v for k, v in message.items() if k != "edits"}})
        for one, other in zip(sent, plain, strict=True):
            now |= _whole(now, one["blocks"])
            assert {name: now[name] for name in other["blocks"]} == json.loads(
                json.dumps(other["blocks"])
            )
            told_shorter += len(json.dumps(one)) < 0.7 * len(json.dumps(other))
    assert told_shorter or page == "whole", "schools of fish of another size are drawn whole"
    del sent[:]
    told.receive({"n": 99, "message": {"do": "whole"}})
    assert isinstance(sent[0]["blocks"]["picture"]["svg"], str), "a page that lost it asks for all"


def test_what_a_page_says_again_is_answered_whole_and_not_done_twice():
    """After a line that broke; a page loaded anew and one in a notebook are heard as ever."""
    sent = []
    session = Session("have")
    channel = PageChannel(session, lambda content, buffers: sent.append(content))

    def say(n, page="first", **message):
        del sent[:]
        channel.receive({"n": n, "page": page, "message": message})
        return sent[-1]

    start = session.design
    say(1, do="open")
    for n, text in ((2, "1.2 m"), (3, "1.3 m")):
        say(n, do="set", path="tank.depth", text=text)
    say(4, do="undo")
    assert session.design.tank.depth == 1.2
    answer = say(4, do="undo")
    assert session.design.tank.depth == 1.2
    assert answer["ack"] == 4
    assert {"frame", "choices", "figures", "own"} <= set(answer["blocks"])
    say(3, do="set", path="tank.depth", text="1.3 m")
    say(1, do="open", token=token_of(start))
    assert session.design.tank.depth == 1.2
    say(5, do="undo")
    assert session.design == start
    say(6, do="redo")
    say(1, "second", do="undo")
    assert session.design == start, "another page counts from 1"
    for page in (None, "", 7):
        say(2, "second", do="redo")
        say(1, page, do="undo")
        assert session.design == start
        say(1, page, do="redo")
        assert session.design != start, "whoever gives no word says nothing twice"
        say(1, page, do="undo")
    assert say("x", "second", do="undo")["ack"] == 0
