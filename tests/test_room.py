"""The room without a browser: teams, two drivers, caps, forged posts, the wall, its export, the gates."""

import asyncio
import contextlib
import csv
import http.client
import io
import json
import threading
import time

import pytest
import tornado.ioloop
import tornado.web
from tornado.httpclient import HTTPRequest
from tornado.websocket import websocket_connect

from rsdesign.core.choices import DesignError
from rsdesign.design.link import token_of
from rsdesign.design.model import value_of, with_values
from rsdesign.pages.jupyter.front_files import notebook_module, script
from rsdesign.pages.room import state, teams, wall
from rsdesign.pages.room.handlers import handlers, room_address
from rsdesign.pages.room.member import FOLLOWING, ROOM_PATHS, room_values
from rsdesign.pages.room.results import MINUTES, RESULTS, compute_results
from rsdesign.pages.room.scatter import span
from rsdesign.pages.room.state import MAX_WALL_REQUESTS, RoomState
from rsdesign.pages.session import Session, demo
from rsdesign.sizing.system import size
from rsdesign.studies.heat.yearly import full_year

pytestmark = pytest.mark.filterwarnings("default")  # sockets of the clients end late

TOKENS = {name: token_of(demo(name)) for name in ("family", "school", "commercial")}


class Page:
    """One open page of a room, with all that it was told."""

    def __init__(self, room_state: RoomState, address: str = ""):
        self.news: dict = {}
        self.notices: list[str] = []
        self.room_state = room_state
        self.connection = room_state.connect(self.send, address)

    def send(self, kind, data):
        if kind == "notice":
            self.notices.append(data)
        self.news[kind] = json.loads(json.dumps(data))

    def say(self, **message) -> "Page":
        self.stays = asyncio.run(self.room_state.handle(self.connection, message))
        return self

    @property
    def team(self) -> dict | None:
        return self.news.get("team")


class Clock:
    now = 0.0

    def __call__(self):
        return self.now


@pytest.fixture
def room_state():
    made = RoomState(clock=Clock())
    yield made
    made.close()


def pair(room_state: RoomState) -> tuple[Page, Page]:
    """A driver and a follower."""
    first, second = Page(room_state), Page(room_state)
    first.say(do="join", name="Blue", token=TOKENS["family"])
    second.say(do="join", name="blue ", code=first.team["code"].lower())
    return first, second


# --- teams -----------------------------------------------------------------------------------


def test_one_person_alone_leaves_nothing_on_the_server(room_state):
    page = Page(room_state)
    assert page.news == {
        "room": {"values": {}, "units": "", "path": [], "message": "", "number": 0}
    }
    room_state.disconnect(page.connection)
    assert not room_state.connections
    assert not list(room_state.teams)
    assert not room_state.wall.posts


def test_whoever_starts_a_team_drives_and_the_others_follow_live(room_state):
    first, second = pair(room_state)
    assert first.team["driving"]
    assert not second.team["driving"]
    assert second.team["token"] == TOKENS["family"]
    assert first.team["members"] == 2
    first.say(do="design", token=TOKENS["school"])
    assert second.team["token"] == TOKENS["school"]
    assert first.notices == second.notices == []


def test_a_follower_changes_nothing_until_it_drives(room_state):
    first, second = pair(room_state)
    second.say(do="design", token=TOKENS["commercial"])
    assert "Press 'I drive now'" in second.notices[-1]
    assert first.team["token"] == TOKENS["family"]
    second.say(do="drive").say(do="design", token=TOKENS["commercial"])
    assert second.team["driving"]
    assert not first.team["driving"]
    assert first.team["token"] == TOKENS["commercial"]
    assert first.notices == ["Another of your team drives now. You follow."]


def test_of_two_drivers_the_last_hand_over_wins_and_the_other_is_notified(room_state):
    first, second = pair(room_state)
    second.say(do="drive")
    first.say(
        do="design", token=TOKENS["school"]
    )  # already under way when the wheel was handed over
    assert "was not passed on" in first.notices[-1]
    assert second.team["token"] == TOKENS["family"]
    first.say(do="drive")
    second.say(do="drive")
    drivers = [p.team["driving"] for p in (first, second)]
    assert drivers == [False, True]
    assert first.notices[-1] == "Another of your team drives now. You follow."


def test_a_team_is_entered_with_its_code_alone(room_state):
    first, _ = pair(room_state)
    stranger = Page(room_state)
    stranger.say(do="join", name="Blue")
    assert "There is a team Blue already" in stranger.notices[-1]
    stranger.say(do="join", name="Blue", code="AAAAA")
    assert "not the code of team Blue" in stranger.notices[-1]
    stranger.say(do="join", name="Blue", code="<b>")
    assert "A team code has 5" in stranger.notices[-1]
    stranger.say(do="join", name="Blue", key="forged", code="AAAAA")
    assert stranger.team is None
    stranger.say(do="join", name="Bleu", code=first.team["code"])
    assert "There is no team Bleu" in stranger.notices[-1]
    assert TOKENS["family"] not in json.dumps(stranger.news)


def test_a_team_is_joined_by_its_code_without_a_name(room_state):
    first, _ = pair(room_state)
    phone = Page(room_state)
    phone.say(do="join", name="", code=f" {first.team['code'].lower()} ")
    assert phone.team["name"] == "Blue"
    assert phone.team["driving"] is False
    assert phone.team["token"] == first.team["token"]
    stranger = Page(room_state)
    stranger.say(do="join", name="", code="AAAAA")
    assert stranger.notices[-1].startswith("No team has the code AAAAA")
    stranger.say(do="join", name="", code="")
    assert "A team needs a name" in stranger.notices[-1]
    for _ in range(2 * teams.CODE_BURST):
        page = Page(room_state)
        page.say(do="join", code="AAAAB")
    assert "Too many wrong codes in this room" in page.notices[-1]
    page.say(do="join", name="Blue", code=first.team["code"])
    assert page.team is not None, "name and code still let one in"


def test_guessing_a_code_is_slowed(room_state):
    first, _ = pair(room_state)
    words = []
    for at in range(3 * teams.WRONG_CODE_BURST):
        page = Page(room_state)
        wrong = "".join(teams.CODE_LETTERS[(at // 9**i) % 9] for i in range(teams.CODE_LENGTH))
        page.say(do="join", name="Blue", code=wrong)
        words.append(page.notices[-1])
    assert sum("not the code" in w for w in words) == teams.WRONG_CODE_BURST
    assert sum("Too many wrong codes" in w for w in words) == 2 * teams.WRONG_CODE_BURST
    assert first.team["members"] == 2


def test_a_driver_that_comes_back_drives_again(room_state):
    first, second = pair(room_state)
    mine = first.team
    room_state.disconnect(first.connection)
    assert second.team["driver"] is False
    again = Page(room_state)
    again.say(do="join", again=True, name="Blue", code=mine["code"], key=mine["key"], drove=True)
    assert again.team["driving"]
    assert second.team["driver"]
    # A phone that woke while its old line still stands takes the place of its old self.
    woken = Page(room_state)
    woken.say(do="join", again=True, name="Blue", code=mine["code"], key=mine["key"], drove=True)
    assert woken.team["driving"]
    assert again.team is None
    assert "another window" in again.notices[-1]
    # Somebody took the wheel meanwhile: then it stays there.
    room_state.disconnect(woken.connection)
    second.say(do="drive")
    last = Page(room_state)
    last.say(do="join", again=True, name="Blue", code=mine["code"], key=mine["key"], drove=True)
    assert second.team["driving"]
    assert not last.team["driving"]


def test_after_a_restart_a_team_comes_back_with_its_code_and_driver(room_state):
    first, second = pair(room_state)
    known = [p.team for p in (first, second)]
    fresh = RoomState()
    back = [Page(fresh), Page(fresh)]
    for page, was in zip(reversed(back), reversed(known), strict=True):  # the follower is quicker
        page.say(do="join", again=True, name=was["name"], code=was["code"], key=was["key"],
                 drove=was["driving"], token=TOKENS["school"] if was["driving"] else "")  # fmt: skip
    assert back[0].team["driving"]
    assert not back[1].team["driving"]
    assert back[1].team["token"] == TOKENS["school"]
    assert back[0].team["code"] == known[0]["code"]


@pytest.mark.parametrize("gone", [True, False])
def test_a_driver_whose_page_comes_back_twice_after_a_restart_keeps_the_wheel(room_state, gone):
    """The old page finds the new server, then loads itself anew before it has heard the answer."""
    first, second = pair(room_state)
    mine, other = first.team, second.team
    fresh = RoomState()
    old, new, follower = Page(fresh), Page(fresh), Page(fresh)
    back = {"do": "join", "again": True, "name": "Blue", "code": mine["code"]}
    follower.say(**back, key=other["key"], drove=False)
    old.say(**back, key=mine["key"], drove=True)
    if gone:
        fresh.disconnect(old.connection)
    new.say(**back, key=mine["key"], drove=True)
    assert new.team["driving"]
    assert not follower.team["driving"]


def test_what_a_driver_sends_is_checked(room_state):
    first, second = pair(room_state)
    for bad in (None, 7, {}, ["x"], "1.AAAA", "2.abc", "x" * 9000, "<script>alert(1)</script>"):
        before = len(first.notices)
        first.say(do="design", token=bad)
        assert len(first.notices) == before + 1
        assert first.notices[-1].endswith(".")
    assert second.team["token"] == TOKENS["family"]


@pytest.mark.parametrize("bad", ["1.AAAA", "2.abc", 7, ["x"]])
def test_a_design_that_cannot_be_read_starts_no_team_and_leaves_none(room_state, bad):
    """Else a team would stand there, closed by a code that nobody has seen."""
    page, other = Page(room_state), Page(room_state)
    page.say(do="join", name="Blue", token=bad)
    assert page.notices[-1].endswith(".")
    assert page.connection.team is None
    assert not list(room_state.teams)
    assert other.say(do="join", name="Blue", token=TOKENS["family"]).team["driving"]
    page.say(do="join", name="Red", token=TOKENS["school"])
    page.say(do="join", name="Green", token=bad)
    assert page.connection.team.name == "Red"
    assert page.connection.team.driver is page.connection
    follower = Page(room_state).say(do="join", name="Blue", code=other.team["code"], token=bad)
    assert follower.team["token"] == TOKENS["family"], "who follows brings no design"


def test_what_goes_wrong_inside_is_said_to_the_page_and_logged(room_state, monkeypatch, caplog):
    page = Page(room_state)
    monkeypatch.setattr(room_state.teams, "join", lambda connection, asked: 1 / 0)
    assert page.say(do="join", name="Blue").stays
    assert "Something went wrong inside" in page.notices[-1]
    assert page.notices[-1].endswith(".")
    assert "ZeroDivisionError" in caplog.text


def test_a_key_that_is_no_text_is_a_wrong_key(room_state):
    for key in ("\ud800", "", None, 5, ["x"], "é"):
        assert room_state.is_instructor_key(key) is False
    assert room_state.is_instructor_key(f" {room_state.key.lower()} ")


def test_caps_of_teams_and_pages(room_state):
    holders = [Page(room_state) for _ in range(teams.MAX_TEAMS)]
    for at, page in enumerate(holders):
        page.say(do="join", name=f"Team {at}")
        assert page.team
    late = Page(room_state).say(do="join", name="One more")
    assert "which is all a room can hold" in late.notices[-1]
    room_state.disconnect(holders[3].connection)  # a team that nobody has open gives its place
    late.say(do="join", name="One more")
    assert late.team["driving"]
    code = holders[0].team["code"]
    more = [Page(room_state).say(do="join", name="Team 0", code=code)
            for _ in range(teams.MAX_MEMBERS)]  # fmt: skip
    assert sum(p.team is not None for p in more) == teams.MAX_MEMBERS - 1
    assert "is full" in more[-1].notices[-1]
    while len(room_state.connections) < state.MAX_CONNECTIONS:
        Page(room_state, f"10.0.0.{len(room_state.connections) // 50}")
    with pytest.raises(DesignError, match="The room is full"):
        Page(room_state, "10.0.0.99")
    crowd = RoomState()
    for _ in range(state.MAX_PER_ADDRESS):
        Page(crowd, "10.0.0.1")
    with pytest.raises(DesignError, match="The room is full"):
        Page(crowd, "10.0.0.1")
    Page(crowd, "10.0.0.2")


def test_the_instructor_ends_one_team_and_the_others_go_on(room_state):
    first, second = pair(room_state)
    other = Page(room_state)
    other.say(do="join", name="Red", token=TOKENS["school"])
    assert room_state.instructor_actions.handle({"do": "end_teams", "team": "BLUE"}) == {
        "done": "1 team ended."
    }
    assert first.team is second.team is None
    assert "ended this team" in first.notices[-1]
    assert other.team["driving"]
    assert room_state.instructor_actions.handle({"do": "end_teams", "team": "Blue"}) == {
        "done": "0 teams ended."
    }
    assert [t["name"] for t in room_state.form("us")["teams"]] == ["Red"]


def test_names_are_one_line_of_plain_text(room_state):
    page = Page(room_state).say(do="join", name="  <img src=x\nonerror=alert(1)>\u202e ")
    assert page.team["name"] == "<img src=x onerror=alert(1)>"
    for bad in ("", "  ", None, 5, "x" * 31, "\u200b"):
        other = Page(room_state).say(do="join", name=bad)
        assert other.team is None
        assert "team" in other.notices[-1].lower()


def test_a_page_that_shouts_is_slowed_then_shown_out(room_state):
    page, other = Page(room_state), Page(room_state)
    stays = [page.say(do="drive").stays for _ in range(1000)]
    assert not stays[-1]
    assert stays.index(False) < 600
    assert sum("Too many messages" in t for t in page.notices) <= 20
    other.say(do="join", name="Quiet")
    assert other.team["driving"]


@pytest.mark.parametrize("message", [None, 1, [], {}, {"do": None}, {"do": "eval"}, {"do": ["join"]},
                                     {"do": "act", "text": "x"}, {"do": "post"}, {"do": "drive"}])  # fmt: skip
def test_forged_messages_get_a_sentence(room_state, message):
    page = Page(room_state)
    asyncio.run(room_state.handle(page.connection, message))
    assert page.notices[-1].endswith(".")
    assert not room_state.wall.posts


# --- the wall ----------------------------------------------------------------------------------


def test_a_post_is_computed_from_the_link_alone(room_state):
    first, second = pair(room_state)
    watcher = Page(room_state).say(do="watch")
    second.say(
        do="post", token=TOKENS["commercial"]
    )  # a follower posts the team's design, no other
    assert first.team
    assert room_state.wall.posts["blue"].computed.token == TOKENS["family"]
    first.say(do="post", token=TOKENS["school"], values={"stock.peak_feed": 9.9}, team="Red")
    assert list(room_state.wall.posts) == ["blue"]
    post = room_state.wall.posts["blue"]
    sizing = size(demo("school"))
    year = full_year(sizing).budget
    assert post.computed.values["stock.peak_feed"] == pytest.approx(float(sizing.stock.peak_feed))
    assert post.computed.values["cost.each"] == pytest.approx(float(year.cost_of_each))
    assert post.computed.values["cost.each_unpaid"] == pytest.approx(
        float(year.cost_of_each_unpaid)
    )
    assert post.computed.values[MINUTES] == pytest.approx(float(sizing.standby.minutes_peak))
    assert watcher.news["wall"]["version"] == 2
    assert first.notices[-1] == "Posted to the wall as Blue."


def test_the_wall_shows_differences_only_and_a_chart_of_any_two(room_state):
    for name, token in TOKENS.items():
        room_state.wall.put(name, compute_results(token))
    for system in ("us", "metric"):
        shown = json.loads(
            json.dumps(room_state.wall.shown(system, "tank.volume", "cost.net"), allow_nan=False)
        )
        assert [c["team"] for c in shown["cards"]] == list(TOKENS)
        for card in shown["cards"]:
            labels = [row[0] for row in card["rows"]]
            assert labels == ["Feed on the biggest day", "Cost of fish, own hours paid",
                              "Cost of fish, own hours unpaid", "Time to act when the air stops",
                              "What limits"]  # fmt: skip
            assert card["svg"].startswith("<svg")
        for row in (*shown["results"]["rows"], *shown["choices"]["rows"]):
            assert len(set(row[1:])) > 1
        assert shown["chart"]["svg"].count("<circle") == 3
    everything = room_state.wall.shown()["picks"]
    assert {p["path"] for p in everything} == set(RESULTS)
    for pick in everything:
        room_state.wall.shown("us", pick["path"], MINUTES)
    same = room_state.wall
    same.clear()
    same.put("a", compute_results(TOKENS["family"]))
    same.put("b", compute_results(TOKENS["family"]))
    assert same.shown()["results"]["rows"] == same.shown()["choices"]["rows"] == []
    for bad in ("", "cost.nothing", None):
        with pytest.raises(DesignError, match="not a result"):
            same.shown("us", bad, MINUTES)


def test_a_result_without_a_number_is_said_and_never_breaks_the_wall(room_state):
    found = compute_results(TOKENS["family"])
    found.values.update({MINUTES: float("inf"), "cost.each": float("nan")})
    room_state.wall.put("Blue", found)
    shown = room_state.wall.shown("us", MINUTES, "cost.each")
    json.dumps(shown, allow_nan=False)
    assert shown["chart"]["svg"] == ""
    assert "for want of a number: Blue" in shown["chart"]["sentence"]
    json.loads(room_state.wall.as_json())
    assert "nan" not in room_state.wall.as_csv()


@pytest.mark.parametrize(
    "values", [[0.0], [3.0, 7.9], [-4000.0, 200.0], [1e-9, 2e-9], [12.0], [-3.0]]
)
def test_an_axis_holds_zero_and_every_value(values):
    low, high, step = span(values)
    assert low <= min(0.0, *values, 0.0) + 1e-12
    assert high >= max(0.0, *values, 0.0) - 1e-12
    assert low < high
    assert 2 <= round((high - low) / step) + 1 <= 8


def test_the_wall_is_capped_and_cleared(room_state):
    found = compute_results(TOKENS["family"])
    for at in range(wall.MAX_POSTS):
        room_state.wall.put(f"Team {at}", found)
    page = Page(room_state).say(do="join", name="Late", token=TOKENS["family"]).say(do="post")
    assert "is full" in page.notices[-1]
    room_state.wall.put("Team 0", compute_results(TOKENS["school"]))  # one's own may be replaced
    assert (
        room_state.instructor_actions.handle({"do": "clear", "team": "Team 0"})["done"]
        == "1 taken from the wall."
    )
    page.say(do="post")
    assert "late" in room_state.wall.posts
    room_state.instructor_actions.handle({"do": "clear"})
    assert not room_state.wall.posts


def test_looks_at_the_wall_are_bounded_and_survive_a_change_meanwhile(room_state):
    first = room_state.wall.shown()
    room_state._queued_wall_requests = MAX_WALL_REQUESTS
    with pytest.raises(DesignError, match="look again"):
        asyncio.run(room_state.wall_view("us"))
    room_state._queued_wall_requests = 0
    assert asyncio.run(room_state.wall_view("us")) == first
    composed = room_state.wall._composed
    room_state.wall._changed()

    def cleared(*asked):
        found = composed(*asked)
        room_state.wall._changed()
        return found

    room_state.wall._composed = cleared
    assert room_state.wall.shown()["cards"] == first["cards"]


def test_the_submission_box_is_emptied_by_the_instructor(room_state):
    work = {"set": "s", "learner": "A1", "seal": "x", "work": []}
    room_state.submissions.take(work)
    assert room_state.form("us")["submissions"] == 1
    assert room_state.instructor_actions.handle({"do": "clear_submissions"}) == {
        "done": "1 file of work thrown away."
    }
    assert room_state.form("us")["submissions"] == len(room_state.submissions) == 0


def test_a_queue_of_posts_is_bounded(room_state, monkeypatch):
    monkeypatch.setattr(state, "compute_results", lambda token: time.sleep(0.05))

    async def many():
        asked = [room_state.compute("") for _ in range(30)]
        return await asyncio.gather(*asked, return_exceptions=True)

    refused = [r for r in asyncio.run(many()) if isinstance(r, DesignError)]
    assert len(refused) == 30 - state.MAX_QUEUED_POSTS
    assert "busy" in str(refused[0])


def test_the_export_is_whole_and_holds_no_formula(room_state):
    evil = with_values(demo("family"), {"prices.currency": "=1+1"})
    room_state.wall.put('=HYPERLINK("x")', compute_results(token_of(evil)))
    room_state.wall.put("Grün, “two”", compute_results(TOKENS["school"]))
    found = json.loads(room_state.wall.as_json())
    assert [p["team"] for p in found["posts"]] == ['=HYPERLINK("x")', "Grün, “two”"]
    assert set(found["posts"][1]["results"]) == set(RESULTS)
    assert found["posts"][1]["token"] == TOKENS["school"]
    rows = list(csv.reader(io.StringIO(room_state.wall.as_csv("metric"))))
    assert len(rows) == 3
    assert len({len(r) for r in rows}) == 1
    feed = next(i for i, head in enumerate(rows[0]) if head == "Feed on the biggest day (kg/day)")
    assert float(rows[2][feed]) == pytest.approx(
        float(size(demo("school")).stock.peak_feed) * 86400, rel=1e-5
    )
    for row in rows[1:]:
        for at, cell in enumerate(row):
            assert cell[:1] not in "=+@" or not cell, (rows[0][at], cell)
            assert cell[:1] != "-" or float(cell) < 0


# --- settings ----------------------------------------------------------------------------------


def test_the_room_sets_what_pages_start_from(room_state):
    page = Page(room_state)
    done = room_state.instructor_actions.handle({"do": "set", "system": "us", "units": "metric", "path": ["start", "outage", "whole"],
                      "texts": {"prices.electricity": "0.21", "climate.weather": "high valley",
                                "site.elevation": "1200 ft"}})  # fmt: skip
    assert done["done"].startswith("Set. Pages that open from now on start so.")
    room = page.news["room"]
    assert room["units"] == "metric"
    assert room["path"] == ["start", "outage", "whole"]
    assert room["values"]["site.elevation"] == pytest.approx(365.76)
    session = Session()
    session.handle({"do": "open", "page": "start", "token": "", "room": room["values"]})
    assert session.design.climate.weather == "high valley"
    assert not session.can_undo
    assert session.design.prices.electricity == pytest.approx(0.21 / 3.6e6)
    session.handle({"do": "demo", "name": "school"})
    assert session.design.climate.weather == "high valley"
    assert session.design.site.elevation == pytest.approx(365.76)
    own = Session()
    own.handle({"do": "open", "token": TOKENS["school"]})
    own.handle({"do": "enter", "room": room["values"]})
    assert own.design.climate.weather == demo("school").climate.weather
    assert value_of(own.design, "site.elevation") == value_of(demo("school"), "site.elevation")


def test_what_was_set_and_not_touched_stays_to_the_last_digit(room_state):
    room_state.settings.values = {"prices.feed": 1.23456789, "site.elevation": 1000 / 3}
    form = room_state.settings.form("us")
    texts = {f["path"]: f["text"] for g in form["groups"] for f in g["fields"]}
    room_state.instructor_actions.handle({"do": "set", "system": "us", "texts": texts})
    assert room_state.settings.values == {"prices.feed": 1.23456789, "site.elevation": 1000 / 3}
    assert set(texts) == set(ROOM_PATHS)
    room_state.instructor_actions.handle(
        {"do": "set", "system": "us", "texts": {**texts, "prices.feed": ""}}
    )
    assert "prices.feed" not in room_state.settings.values


@pytest.mark.parametrize(("asked", "field", "words"), [
    ({"texts": {"prices.feed": "abc"}}, "prices.feed", "does not start with a number"),
    ({"texts": {"prices.feed": "-3"}}, "prices.feed", "Price of feed"),
    ({"texts": {"site.elevation": "5 kg"}}, "site.elevation", "Height above sea level"),
    ({"texts": {"climate.weather": "the moon"}}, "climate.weather", "choose one of"),
    ({"texts": {"tank.depth": "3"}}, "tank.depth", "not something a room sets"),
    ({"units": "imperial"}, "units", "US units"),
    ({"path": ["start", "../etc"]}, "path", "pages of the series"),
    ({"path": "start"}, "path", "pages of the series"),
    ({"texts": {"prices.currency": "x" * 41}}, "prices.currency", "at most 40"),
    ({"texts": {"site.water_temperature": "41 °F"}}, "", "site.water_temperature"),
])  # fmt: skip
def test_what_a_room_cannot_set_is_said_and_nothing_is_taken(room_state, asked, field, words):
    room_state.instructor_actions.handle({"do": "set", "texts": {"prices.wage": "12"}})
    before = dict(room_state.settings.values)
    found = room_state.instructor_actions.handle({"do": "set", "system": "us", **asked})
    assert words in found["wrong"][field]
    assert room_state.settings.values == before


def test_a_price_file_is_taken_whole_or_not_at_all(room_state):
    text = '[prices]\ncurrency = "€"\nfeed = "0.9 per kg"\nwage = "11 per h"\n'
    assert (
        room_state.instructor_actions.handle({"do": "prices", "text": text})["done"]
        == "3 prices taken from the file."
    )
    assert room_state.settings.values["prices.currency"] == "€"
    assert room_state.settings.values["prices.feed"] == pytest.approx(0.9)
    for bad in ("", "name = 'x'", "[prices]\nfeed = 3", "[prices]\nfede = '1 per kg'", "=", None):
        with pytest.raises(DesignError):
            room_state.instructor_actions.handle({"do": "prices", "text": bad})
    assert len(room_state.settings.values) == 3


def test_a_message_reaches_every_page_at_once(room_state):
    pages = [Page(room_state) for _ in range(5)]
    room_state.instructor_actions.handle({"do": "say", "text": "Break until 10:30.\x07"})
    assert {p.news["room"]["message"] for p in pages} == {"Break until 10:30."}
    room_state.instructor_actions.handle({"do": "say", "text": "Break until 10:30."})
    assert {p.news["room"]["number"] for p in pages} == {2}
    with pytest.raises(DesignError, match="at most 300"):
        room_state.instructor_actions.handle({"do": "say", "text": "x" * 301})


def test_a_page_believes_no_forged_room():
    for bad in ([], "x", {"tank.depth": 1.0}, {"prices.feed": "cheap"}, {"prices.feed": float("nan")},
                {"site.elevation": 1e9}, {"prices.feed": True}, {7: 1.0},
                {"site.water_temperature": 5.0}):  # fmt: skip
        session = Session()
        session.handle({"do": "open", "token": "", "room": bad})
        assert session.notice == ""
        assert session.token == TOKENS["family"]
    assert room_values({"site.elevation": 300}) == {"site.elevation": 300.0}


# --- following, in the page's own program ----------------------------------------------------------


def test_a_follower_is_set_by_its_driver_and_refuses_its_own_changes():
    session = Session()
    session.handle({"do": "set", "path": "tank.depth", "text": "3 ft"})
    mine = session.token
    for name in ("school", "commercial", "family"):
        session.handle({"do": "follow", "on": True, "token": TOKENS[name]})
        assert session.token == TOKENS[name]
        assert session.notice == ""
    for message in ({"do": "slide", "path": "tank.depth", "at": 0.9}, {"do": "undo"}, {"do": "redo"},
                    {"do": "demo", "name": "school"}, {"do": "reset_all"},
                    {"do": "load", "text": "[goal]\nfish = 7"}, {"do": "open", "token": TOKENS["school"]}):  # fmt: skip
        session.handle(message)
        assert session.notice == FOLLOWING, message
        assert session.token == TOKENS["family"]
    session.handle({"do": "set", "path": "tank.depth", "text": "4 ft"})
    assert session.refused["tank.depth"]["why"] == FOLLOWING
    session.handle({"do": "follow", "on": True, "token": "1.AAAA"})
    assert "damaged" in session.notice
    assert session.token == TOKENS["family"]
    session.handle({"do": "follow", "on": False})
    session.handle({"do": "set", "path": "tank.depth", "text": "4 ft"})
    assert session.notice == ""
    assert session.design.tank.depth == pytest.approx(1.2192)
    session.handle({"do": "undo"})
    session.handle({"do": "undo"})
    assert token_of(session.design) == mine  # the three that were followed undo as one


# --- over the wire -----------------------------------------------------------------------------


@contextlib.contextmanager
def served(room_state: RoomState, base: str = "/"):
    """A room by itself on a port of its own."""
    ready, about = threading.Event(), {}

    def run():
        async def main():
            application = tornado.web.Application(
                handlers(room_state, base), websocket_max_message_size=16 * state.MAX_MESSAGE
            )
            server = application.listen(0, "127.0.0.1")
            about.update(loop=tornado.ioloop.IOLoop.current(), stop=asyncio.Event(),
                         port=next(iter(server._sockets.values())).getsockname()[1])  # fmt: skip
            ready.set()
            await about["stop"].wait()
            server.stop()
            await server.close_all_connections()

        asyncio.run(main())

    thread = threading.Thread(target=run, daemon=True)
    thread.start()
    assert ready.wait(10)
    yield about["port"]
    about["loop"].add_callback(about["stop"].set)
    thread.join(10)
    room_state.close()


def call(port, path, body=None, **headers):
    """Status, headers and text of one request."""
    line = http.client.HTTPConnection("127.0.0.1", port, timeout=20)
    method = "GET" if body is None else "POST"
    headers = {k.replace("_", "-"): v for k, v in headers.items()}
    if body is not None and "Content-Type" not in headers:
        headers["Content-Type"] = "application/json"
    line.request(method, path, body, headers)
    answer = line.getresponse()
    found = answer.status, answer.headers, answer.read().decode()
    line.close()
    return found


@pytest.fixture(scope="module")
def room():
    room_state = RoomState(loopback_is_instructor=False, key="ABCDEF")
    with served(room_state, "/services/room/") as port:
        yield room_state, port, "/services/room/"


def test_without_the_key_nothing_is_set_cleared_or_exported(room):
    room_state, port, base = room
    room_state.wall.put("Blue", compute_results(TOKENS["family"]))
    for path in ("room/export.json", "room/export.csv", "room/form.json"):
        status, _, text = call(port, base + path)
        assert status == 403
        assert "Only the instructor" in text
        assert TOKENS["family"] not in text
    for asked in ({"do": "clear"}, {"do": "say", "text": "x"}, {"do": "set", "units": "metric"}):
        status, _, text = call(port, f"{base}room/act", json.dumps(asked))
        assert status == 403
        assert "Only the instructor" in json.loads(text)["refused"]
    status, _, text = call(port, f"{base}room/act", json.dumps({"do": "clear"}),
                           Cookie="rsdesign-instructor=forged")  # fmt: skip
    assert status == 403
    assert "blue" in room_state.wall.posts
    assert room_state.settings.number == 0


def test_the_key_opens_the_room_and_guessing_is_slowed(room):
    room_state, port, base = room
    status, headers, _ = call(port, f"{base}room/key", json.dumps({"key": " abcdef "}))
    cookie = headers["Set-Cookie"]
    assert status == 200
    assert "HttpOnly" in cookie
    assert "SameSite=Strict" in cookie
    assert room_state.key not in cookie
    cookie = cookie.split(";")[0]
    room_state.wall.put("Blue", compute_results(TOKENS["family"]))
    status, headers, text = call(port, f"{base}room/export.json", Cookie=cookie)
    assert status == 200
    assert json.loads(text)["posts"][-1]["team"] == "Blue"
    assert headers["Content-Disposition"] == 'attachment; filename="wall.json"'
    assert call(port, f"{base}room/export.csv", Cookie=cookie)[2].startswith("\ufeffTeam,")
    status, _, text = call(port, f"{base}room/act", json.dumps({"do": "clear"}), Cookie=cookie)
    assert status == 200
    assert not room_state.wall.posts
    answers = [call(port, f"{base}room/key", json.dumps({"key": f"AAAA{i}"}))[0] for i in range(20)]
    assert 429 in answers
    assert answers.count(403) <= 10


def test_ten_megabytes_are_refused_with_a_sentence_and_forgotten(room):
    _, port, base = room
    for path in ("room/act", "room/key"):
        status, _, text = call(port, base + path, b"x" * 10_000_000)
        refused = json.loads(text)["refused"]
        assert status in (403, 413)
        assert refused.endswith(".")
    status, _, text = call(port, f"{base}room/key", b"x" * 10_000_000)
    assert status == 413
    assert "10,000,000 bytes" in text


def test_a_foreign_page_is_refused(room):
    _, port, base = room
    for path in ("room/wall.json", "wall", "room/form.json"):
        for origin in ("http://elsewhere.example", "http://["):
            assert call(port, base + path, Origin=origin)[0] == 403
    status, _, text = call(port, f"{base}room/key", json.dumps({"key": "ABCDEF"}),
                           Origin="http://elsewhere.example")  # fmt: skip
    assert status == 403
    assert "another site" in text
    status, _, _ = call(port, f"{base}room/key", json.dumps({"key": "ABCDEF"}),
                        **{"Content-Type": "text/plain"})  # fmt: skip
    assert status == 415

    async def foreign():
        url = HTTPRequest(f"ws://127.0.0.1:{port}{base}room/socket",
                          headers={"Origin": "http://elsewhere.example"})  # fmt: skip
        with pytest.raises(Exception, match="403"):
            await websocket_connect(url)

    asyncio.run(foreign())


def test_whoever_sits_at_the_machine_is_the_instructor_and_nobody_behind_a_proxy():
    room_state = RoomState()
    with served(room_state) as port:
        assert call(port, "/room/form.json")[0] == 200
        for more in ({"X_Forwarded_For": "10.0.0.9"}, {"Forwarded": "for=10.0.0.9"},
                     {"X_Real_Ip": "10.0.0.9"}, {"Host": f"evil.example:{port}"}):  # fmt: skip
            assert call(port, "/room/form.json", **more)[0] == 403
        status, headers, text = call(port, "/wall")
        assert status == 200
        assert "default-src 'self'" in headers["Content-Security-Policy"]
        assert "http" not in text.replace('lang="en"', "")
        for path in ("/room", "/room/wall.js", "/room/settings.js", "/room/style.css"):
            assert call(port, path)[0] == 200
        status, _, text = call(port, "/room/wall.json?u=metric&x=nothing")
        assert status == 400
        assert "not a result" in text


def test_the_line_of_a_page_end_to_end():
    """A driver and a follower over sockets; a huge message; news that waits is only the latest."""
    room_state = RoomState()

    async def heard(line, kind):
        while True:
            found = json.loads(await asyncio.wait_for(line.read_message(), 10))
            if kind in found:
                return found[kind]

    async def act(port):
        url = f"ws://127.0.0.1:{port}/room/socket"
        first, second = [await websocket_connect(url) for _ in range(2)]
        assert (await heard(first, "room"))["values"] == {}
        await first.write_message(
            json.dumps({"do": "join", "name": "Blue", "token": TOKENS["family"]})
        )
        team = await heard(first, "team")
        await second.write_message(json.dumps({"do": "join", "name": "Blue", "code": team["code"]}))
        assert (await heard(second, "team"))["token"] == TOKENS["family"]
        start = time.perf_counter()
        await first.write_message(json.dumps({"do": "design", "token": TOKENS["school"]}))
        while (await heard(second, "team"))["token"] != TOKENS["school"]:
            pass
        assert time.perf_counter() - start < 1.0
        for bad in ("x" * 50_000, "{", "[" * 5000, b"\x00\x01"):
            await second.write_message(bad, binary=isinstance(bad, bytes))
            assert (await heard(second, "notice")).endswith(".")
        await first.write_message(json.dumps({"do": "post"}))
        assert await heard(first, "notice") == "Posted to the wall as Blue."
        flood = await websocket_connect(url)
        await flood.write_message("x" * 1_000_000)  # more than a line carries: it is closed
        while await asyncio.wait_for(flood.read_message(), 10) is not None:
            pass
        assert flood.close_code == 1009
        assert "too long" in flood.close_reason
        assert flood.close_reason.endswith(".")
        shouting = await websocket_connect(url)
        for _ in range(1000):
            with contextlib.suppress(Exception):
                await shouting.write_message(json.dumps({"do": "drive"}))
        while await asyncio.wait_for(shouting.read_message(), 10) is not None:
            pass
        assert shouting.close_code == 1008
        first.close()
        assert (await heard(second, "team"))["driver"] is False
        for line in (first, second, flood, shouting):
            line.close()
        await asyncio.sleep(0.3)

    with served(room_state) as port:
        asyncio.run(act(port))
        for _ in range(50):
            if not room_state.connections:
                break
            time.sleep(0.1)
        assert not room_state.connections


def test_a_page_finds_its_room(monkeypatch):
    assert room_address("/sub/") == "/sub/"
    monkeypatch.setenv("RSDESIGN_ROOM", "services/room")
    assert room_address("/user/ana/") == "/services/room/"
    assert "function roomLink" in script("served")
    assert "function roomLink" not in notebook_module()  # a notebook has no room


def test_nothing_is_written_to_disk(room_state, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    first, _ = pair(room_state)
    first.say(do="post")
    room_state.instructor_actions.handle({"do": "say", "text": "hello"})
    room_state.wall.as_csv()
    assert room_state.wall.posts
    assert list(tmp_path.iterdir()) == []
