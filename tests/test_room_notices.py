"""What a room tells its instructor and its teams, without a browser: addresses, names, new prices."""

import asyncio
import json
import socket

import pytest
from rooms import RoomServer, free_port

from rsdesign.core.choices import DesignError
from rsdesign.design.link import design_of, token_of
from rsdesign.design.model import value_of
from rsdesign.pages.room import check as checking
from rsdesign.pages.room import lan, network
from rsdesign.pages.room.member import FOLLOWING
from rsdesign.pages.room.results import RESULTS, compute_results
from rsdesign.pages.room.scatter import scatter
from rsdesign.pages.room.state import RoomState
from rsdesign.pages.room.teams import name_of
from rsdesign.pages.session import Session, demo

TOKENS = {name: token_of(demo(name)) for name in ("family", "school")}


# --- the instructor at the terminal ----------------------------------------------------------


@pytest.fixture
def mine(monkeypatch, tmp_path):
    """Sets the addresses of this machine."""
    for name in ("XDG_STATE_HOME", "HOME", "LOCALAPPDATA"):
        monkeypatch.setenv(name, str(tmp_path))

    def put(*found):
        listed = [network.Address(*about) for about in found]
        for module in (lan, checking):
            monkeypatch.setattr(module, "addresses", lambda: listed)

    return put


def test_the_terminal_says_truly_who_reaches_what(mine):
    mine(("wlan0", "192.168.8.2"))
    room = lan.LanAccess(8866)
    said = room.instructions(color=False, key="ABCDE12345")
    for path in ("", "rsdesign/poster", "wall", "room"):
        assert f"http://localhost:8866/{path}?token={room.keys.instructor}\n" in said
    assert "The instructor's key, to open them at another machine: ABCDE12345" in said
    assert "The internet: nothing, unless your router passes it on." in said
    assert "given by no router" not in said
    mine(("eth0", "8.8.4.4"))
    said = lan.LanAccess(8866).instructions(color=False)
    assert "The internet: the page that asks for the code." in said
    assert "The internet: nothing" not in said
    mine(("wlan0", "169.254.7.7"))
    assert "169.254.7.7 was given by no router" in lan.LanAccess(8866).instructions(color=False)


def test_the_check_tells_a_taken_port_before_anybody_fetches_a_phone(mine):
    mine(("lo", "127.0.0.1"))
    said = []
    with socket.create_server(("", 0)) as taken:
        port = taken.getsockname()[1]
        with pytest.raises(DesignError, match=f"Port {port} cannot be used"):
            checking.check(port, said.append, patience=0.5)
    assert not any("phone" in words for words in said)


def test_the_check_names_the_addresses_there_are_and_says_a_thing_once(mine):
    mine(("wlan0", "192.168.8.2"))
    with pytest.raises(DesignError, match=r"1\.2\.3\.4 is none of this machine's: 192\.168\.8\.2"):
        checking.check(free_port(), print, only="1.2.3.4")
    mine(("wlan0", "169.254.7.7"))
    said = []
    with pytest.raises(DesignError, match="given by no router"):
        checking.check(free_port(), said.append)
    assert said == []


def test_behind_a_proxy_the_server_needs_its_name_and_knows_no_instructor(tmp_path):
    server = RoomServer(tmp_path, "--name", "fish.school.example", lan=False)
    try:
        known = {"Host": "fish.school.example", "X_Forwarded_For": "10.0.0.9"}
        status, _, text = server.ask("/", Host="other.school.example")
        assert status == 403
        assert "--name" in text
        assert server.ask("/wall", **known)[0] == 200
        assert server.ask("/wall", **known, Origin="https://fish.school.example")[0] == 200
        for more in (known, {"Host": "fish.school.example"}):
            assert server.ask("/room/form.json", **more)[0] == 403
            assert server.ask("/voila/render/90_instructor.ipynb", **more)[0] == 403
        assert server.ask("/room/form.json")[0] == 200, "at the machine itself"
    finally:
        server.stop()


# --- names -----------------------------------------------------------------------------------


def test_a_name_read_from_the_right_is_set_apart_and_taken_home_plain():
    shown = name_of("שלום 3")
    assert shown == "\u2068שלום 3\u2069"
    assert name_of(shown) == shown, "typed again from what is shown, it is the same team"
    assert name_of("\u202eBlue\u2069") == "Blue"
    assert name_of("Se\u0301pia") == name_of("S\u00e9pia"), "phones write letters in two ways"
    room_state = RoomState()
    room_state.wall.put(shown, compute_results(TOKENS["family"]))
    assert json.loads(room_state.wall.as_json())["posts"][0]["team"] == "שלום 3"
    assert "\u2068" not in room_state.wall.as_csv()
    assert (
        room_state.instructor_actions.handle({"do": "clear", "team": shown})["done"]
        == "1 taken from the wall."
    )


def test_rings_that_would_hide_one_another_are_one_with_all_numbers():
    values = dict.fromkeys(RESULTS, 1.0)
    other = dict.fromkeys(RESULTS, 9.0)
    designs = [("a", values, "$"), ("b", other, "$"), ("c", values, "$"), ("d", values, "$")]
    picture = scatter(designs, RESULTS["tank.volume"], RESULTS["cost.net"], "us")["svg"]
    assert picture.count("<circle") == 2
    assert "and 3, 4" in picture


# --- the room's prices and a page that is open --------------------------------------------------


def test_a_page_that_is_open_takes_the_rooms_values_when_asked_and_undoes_it():
    session = Session()
    session.handle({"do": "open", "token": TOKENS["school"]})
    assert not session.room_differs
    session.handle({"do": "enter", "room": {"prices.feed": 1.5, "climate.weather": "high valley"}})
    assert session.token == TOKENS["school"], "nothing changes by itself"
    assert session.room_differs
    session.handle({"do": "use_room"})
    assert value_of(session.design, "prices.feed") == 1.5
    assert session.design.climate.weather == "high valley"
    assert value_of(session.design, "tank.depth") == value_of(
        design_of(TOKENS["school"]), "tank.depth"
    )
    assert not session.room_differs
    again = Session()  # a link rounds a number: that is no difference
    again.handle({"do": "open", "token": session.token})
    again.handle({"do": "enter", "room": {"prices.feed": 1.5 * (1 + 1e-9)}})
    assert not again.room_differs
    session.handle({"do": "undo"})
    assert session.token == TOKENS["school"]
    session.handle({"do": "enter", "room": {}})
    assert not session.room_differs
    session.handle({"do": "use_room"})
    assert session.token == TOKENS["school"]


def test_a_page_starts_from_a_room_that_answers_late_unless_something_was_changed():
    late = {"do": "enter", "room": {"climate.weather": "high valley"}, "late": True}
    session = Session()
    session.handle({"do": "open", "page": "start", "token": ""})
    session.handle(late)
    assert session.design.climate.weather == "high valley"
    assert not session.can_undo
    busy = Session()
    busy.handle({"do": "open", "page": "start", "token": ""})
    busy.handle({"do": "set", "path": "goal.fish", "text": "123"})
    before = busy.token
    busy.handle(late)
    assert busy.token == before
    assert busy.room_differs


def test_what_does_not_go_together_with_a_design_is_said():
    session = Session()
    session.handle({"do": "open", "token": TOKENS["school"]})
    session.handle({"do": "enter", "room": {"site.water_temperature": 5.0}})
    assert session.room_differs
    session.handle({"do": "use_room"})
    assert "do not go together with this design" in session.notice
    assert session.token == TOKENS["school"]


def test_a_follower_leaves_the_rooms_values_to_the_driver():
    session = Session()
    session.handle({"do": "follow", "on": True, "token": TOKENS["school"]})
    session.handle({"do": "enter", "room": {"prices.feed": 1.5}})
    session.handle({"do": "use_room"})
    assert session.notice == FOLLOWING
    assert session.token == TOKENS["school"]


def test_a_page_that_asks_whether_its_line_carries_is_answered():
    room_state, news = RoomState(), []
    connection = room_state.connect(lambda kind, data: news.append(kind))
    asyncio.run(room_state.handle(connection, {"do": "hello"}))
    assert news == ["room", "hello"]
