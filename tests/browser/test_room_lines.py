"""What goes wrong in a room, as people see it: a silent line, a killed program, odd names, a server
that ends, and pages that are refused; in Chromium, at an address that is not localhost."""

import contextlib
import json
import re
import signal
import socket
import struct
import sys
import threading
from pathlib import Path

import psutil
import pytest

sys.path.insert(0, str(Path(__file__).parents[1]))
from axe_playwright_python.sync_playwright import Axe
from needed import ON_NO_NETWORK, missing
from rooms import CODE, LAN, Client, RoomServer
from test_in_a_room import read
from views import WAIT, code_in, join, menu, says
from websockets.sync.client import connect

from rsdesign.design.link import design_of, token_of
from rsdesign.design.model import with_values
from rsdesign.pages.series import page_named
from rsdesign.pages.session import demo

if not LAN:
    missing(ON_NO_NETWORK, allow_module_level=True)
pytestmark = pytest.mark.filterwarnings("default")
FISH, WHOLE = page_named("fish").file, page_named("whole").file
FIELD = "[data-path='tank.width'] input[type=text]"
TOKEN = "new URL(location.href).searchParams.get('d')"
TOKENS = {name: token_of(demo(name)) for name in ("family", "school")}


@pytest.fixture(scope="module")
def room(tmp_path_factory):
    made = RoomServer(tmp_path_factory.mktemp("room"))
    yield made
    made.stop()


def came_in(browser, room, path, query="", width=375, at="", port=0, ready="body[data-ready]"):
    """A page of one who has read the poster."""
    view = browser.new_context(viewport={"width": width, "height": 740}).new_page()
    view.wrong = []
    view.on("pageerror", lambda e: view.wrong.append(str(e)))
    view.goto(f"http://{at or LAN}:{port or room.port}/{path}?token={CODE}{query}", wait_until="commit")  # fmt: skip
    view.wait_for_selector(ready, timeout=WAIT)
    if ready == "body[data-ready]":
        view.wait_for_selector(".rs-team:not([hidden])", timeout=WAIT, state="attached")
    return view


def desk_of(browser, room, name="room"):
    """A page of the instructor, at the machine itself."""
    key = room.said().partition("poster?token=")[2].split()[0]
    view = browser.new_context(viewport={"width": 1280, "height": 800}).new_page()
    view.goto(f"http://localhost:{room.port}/{name}?token={key}")
    view.wait_for_selector("#rs-room[data-ready]", timeout=WAIT)
    return view


def typed(view, feet):
    view.fill(FIELD, feet)
    view.press(FIELD, "Enter")


def shows(view, feet):
    view.wait_for_function("([s, v]) => document.querySelector(s).value === v", arg=[FIELD, feet],
                           timeout=WAIT)  # fmt: skip


class Wire:
    """A way to the room that can fall silent without closing, as for a phone that slept."""

    def __init__(self, port: int, at: int = 0):
        self.to, self.lines = port, []
        self.server = socket.create_server(("", at))
        self.port = self.server.getsockname()[1]
        threading.Thread(target=self._serve, daemon=True).start()

    def _serve(self):
        while True:
            try:
                near = self.server.accept()[0]
                far = socket.create_connection((LAN, self.to))
            except OSError:
                return
            line = {"lost": False, "mute": False, "ends": (near, far)}
            self.lines.append(line)
            for a, b in ((near, far), (far, near)):
                threading.Thread(target=self._carry, args=(line, a, b), daemon=True).start()

    @staticmethod
    def _carry(line, a, b):
        with contextlib.suppress(OSError):
            while data := a.recv(65536):
                if line["mute"] and a is line["ends"][1]:
                    continue
                if not line["lost"]:
                    b.sendall(data)
                elif a is line["ends"][0]:  # whoever speaks on a line that is gone is told so
                    a.setsockopt(socket.SOL_SOCKET, socket.SO_LINGER, struct.pack("ii", 1, 0))
                    a.close()
                    return
            if not line["lost"]:
                b.shutdown(socket.SHUT_WR)

    def lose(self):
        """Every line that stands brings nothing more, and is not closed; new ones carry."""
        for line in self.lines:
            line["lost"] = True

    def mute(self):
        """Every line that stands carries what the page says, and no answer."""
        for line in self.lines:
            line["mute"] = True

    def cut(self):
        """Every line that stands is closed; new ones carry."""
        for line in self.lines:
            line["lost"] = True
            for end in line["ends"]:
                with contextlib.suppress(OSError):
                    end.shutdown(socket.SHUT_RDWR)

    def close(self):
        with contextlib.suppress(OSError):
            self.server.shutdown(socket.SHUT_RDWR)  # else one that waits still takes the next line
        self.server.close()
        for line in self.lines:
            for end in line["ends"]:
                end.close()


def test_a_follower_whose_line_fell_silent_follows_again(browser, room):
    wire = Wire(room.port)
    first = came_in(browser, room, f"voila/render/{FISH}")
    join(first, "Silent")
    second = came_in(browser, room, f"voila/render/{FISH}", f"&team=Silent&code={code_in(first)}",
                     port=wire.port)  # fmt: skip
    says(second, ".rs-teamline", "you follow")
    typed(first, "13")
    shows(second, "13")
    wire.lose()
    typed(first, "14")
    second.evaluate("document.dispatchEvent(new Event('visibilitychange'))")  # as a phone wakes
    shows(second, "14")
    says(second, ".rs-teamline", "you follow")
    assert "another window" not in second.inner_text(".rs-roombar")
    for view in (first, second):
        assert view.wrong == []
        view.context.close()
    wire.close()


def feet_across(view) -> float:
    """The width in the design of the address."""
    return design_of(view.evaluate(TOKEN)).tank.width / 0.3048


def settled(browser, room, view, feet):
    """The page shows a width, and so do its design, its figures and a page opened from its address."""
    shows(view, feet)
    view.wait_for_function(f"t => {TOKEN} === t", arg=token_with(feet), timeout=WAIT)
    assert view.get_attribute(".rs[data-ack]", "aria-busy") is None
    view.wait_for_selector(".rs[data-ack]:not(.rs-busy)", timeout=WAIT)
    assert view.is_hidden("#rs-lost")
    assert view.wrong == []
    other = came_in(browser, room, f"voila/render/{FISH}", f"&d={token_with(feet)}")
    figures = "[...document.querySelectorAll('[data-figure]')].map((e) => e.textContent)"
    assert view.evaluate(figures) == other.evaluate(figures)
    other.context.close()


def token_with(feet: str) -> str:
    start = demo("family")
    return token_of(with_values(start, {"tank.width": float(feet) * 0.3048}))


def with_widths(browser, room, wire, *feet):
    """A page behind a wire in whose design widths were typed, one after the other."""
    view = came_in(browser, room, f"voila/render/{FISH}", port=wire.port)
    for each in feet:
        typed(view, each)
        view.wait_for_function(f"t => {TOKEN} === t", arg=token_with(each), timeout=WAIT)
    return view


def test_a_change_made_as_the_line_breaks_arrives_when_it_is_back(browser, room):
    wire = Wire(room.port)
    view = with_widths(browser, room, wire, "13")
    wire.lose()
    typed(view, "14")  # into an open line that carries nothing and then closes
    settled(browser, room, view, "14")
    slider = view.get_by_role("slider", name="Distance across, slider")
    slider.focus()
    view.keyboard.press("ArrowRight")
    view.wait_for_function(f"t => {TOKEN} !== t", arg=token_with("14"), timeout=WAIT)
    view.wait_for_selector(".rs[data-ack]:not(.rs-busy)", timeout=WAIT)
    view.context.close()
    wire.close()


@pytest.mark.parametrize("how", ["lose", "mute"])
def test_an_undo_pressed_as_the_line_breaks_undoes_once(browser, room, how):
    """Whether it was swallowed or only its answer was."""
    wire = Wire(room.port)
    view = with_widths(browser, room, wire, "12", "13", "14")
    getattr(wire, how)()
    view.click("button:text-is('Undo')")
    view.wait_for_timeout(1000)
    wire.cut()
    settled(browser, room, view, "13")
    view.wait_for_timeout(2500)
    settled(browser, room, view, "13")
    menu(view)
    view.click("button:text-is('Redo')")
    settled(browser, room, view, "14")
    view.context.close()
    wire.close()


def test_a_phone_that_wakes_on_a_silent_line_keeps_its_program_and_its_change(browser, room):
    wire = Wire(room.port)
    view = with_widths(browser, room, wire, "12", "13")
    view.evaluate("window.sameAsEver = true")
    wire.mute()
    typed(view, "14")
    view.evaluate("document.dispatchEvent(new Event('visibilitychange'))")
    settled(browser, room, view, "14")
    view.click("button:text-is('Undo')")
    settled(browser, room, view, "13")
    assert view.evaluate("window.sameAsEver")
    view.context.close()
    wire.close()


def test_nothing_of_many_changes_made_without_a_line_is_dropped(browser, room):
    wire = Wire(room.port)
    view = with_widths(browser, room, wire, "13")
    wire.close()
    says(view, "#rs-lost", "Not connected.")
    depth = view.locator("[data-path='tank.depth'] input[type=text]")
    depth.fill("3")
    depth.press("Enter")
    for n in range(30):
        typed(view, f"{14 + n / 10:.1f}")
    wire = Wire(room.port, wire.port)
    view.wait_for_selector("#rs-lost", state="hidden", timeout=WAIT)
    view.wait_for_function(f"t => {TOKEN} !== t", arg=token_with("13"), timeout=WAIT)
    view.wait_for_function(
        "document.querySelector('[data-path=\"tank.width\"] input').value === '16.9'"
    )
    view.wait_for_selector(".rs[data-ack]:not(.rs-busy)", timeout=WAIT)
    view.wait_for_timeout(1000)
    assert feet_across(view) == pytest.approx(16.9)
    assert design_of(view.evaluate(TOKEN)).tank.depth == pytest.approx(3 * 0.3048)
    assert view.wrong == []
    view.context.close()
    wire.close()


def test_a_page_tells_a_restart_a_sign_in_and_a_refused_line_from_a_lost_program(browser, room):
    wire = Wire(room.port)
    view = with_widths(browser, room, wire, "13")
    view.route("**/api/kernels/*", lambda route: route.fulfill(status=503, body="starts again"))
    wire.cut()
    says(view, "#rs-lost", "Not connected.")
    assert "lost its program" not in view.inner_text("#rs-lost")
    view.unroute("**/api/kernels/*")
    view.wait_for_selector("#rs-lost", state="hidden", timeout=WAIT)
    elsewhere = {"Location": f"http://{LAN}:{wire.port}/rsdesign/style.css"}
    view.route("**/api/kernels/*", lambda route: route.fulfill(status=302, headers=elsewhere))
    wire.cut()
    says(
        view,
        "#rs-lost",
        "You are signed out. Reload the page to sign in again; your design is kept",
    )
    view.evaluate(
        """() => { window.Carries = window.WebSocket;
        window.WebSocket = class extends Carries { constructor(url) { super(String(url).replace('channels', 'nothing')); } }; }"""
    )
    view.unroute("**/api/kernels/*")
    says(view, "#rs-lost", "The page reaches its program and the line to it closes again.")
    typed(view, "14")
    view.evaluate("() => { window.WebSocket = window.Carries; }")
    settled(browser, room, view, "14")
    view.context.close()
    wire.close()


def test_a_page_for_which_the_room_has_no_seat_says_why_and_waits(browser, room):
    view = browser.new_context(viewport={"width": 375, "height": 740}).new_page()
    tries = []

    def full(line):
        tries.append(line)
        line.close(code=1008, reason="The room is full just now.")

    view.route_web_socket("**/room/socket", full)
    view.goto(f"http://{LAN}:{room.port}/voila/render/{FISH}?token={CODE}")
    says(view, ".rs-roombar", "The room is full just now.")
    view.wait_for_timeout(4000)
    view.evaluate("document.dispatchEvent(new Event('visibilitychange'))")
    view.wait_for_timeout(500)
    assert len(tries) == 1
    view.context.close()


def test_a_phone_that_was_frozen_goes_on_with_its_design(browser, room):
    view = came_in(browser, room, f"voila/render/{FISH}")
    typed(view, "13")
    view.wait_for_function("location.search.includes('d=')")
    phone = view.context.new_cdp_session(view)
    phone.send("Page.setWebLifecycleState", {"state": "frozen"})
    phone.send("Page.setWebLifecycleState", {"state": "active"})
    shows(view, "13")
    typed(view, "14")
    shows(view, "14")
    assert view.is_hidden("#rs-lost")
    view.context.close()


def test_a_page_loaded_anew_or_closed_ends_its_program(browser, room):
    """Else it would hold its memory for three minutes, as for a phone that sleeps."""
    view = came_in(browser, room, f"voila/render/{FISH}")
    program = (
        "() => JSON.parse(document.getElementById('jupyter-config-data').textContent).kernelId"
    )
    there = "async (p) => (await fetch(`/api/kernels/${p}`)).ok"
    gone = f"async (p) => !(await ({there})(p))"
    first = view.evaluate(program)
    assert view.evaluate(there, first)
    view.reload()
    view.wait_for_selector("body[data-ready]", timeout=WAIT)
    second = view.evaluate(program)
    view.wait_for_function(gone, arg=first, timeout=WAIT, polling=500)
    other = view.context.new_page()
    other.goto(f"http://{LAN}:{room.port}/wall")
    view.close()
    other.wait_for_function(gone, arg=second, timeout=WAIT, polling=500)
    other.context.close()


def test_the_drivers_program_is_killed_and_the_team_goes_on(browser, room):
    first = came_in(browser, room, f"voila/render/{FISH}")
    join(first, "Killed")
    children = psutil.Process(room.process.pid).children
    before = set(children(recursive=True))
    second = came_in(browser, room, f"voila/render/{FISH}", f"&team=Killed&code={code_in(first)}")
    says(second, ".rs-teamline", "you follow")
    typed(first, "13")
    shows(second, "13")
    # Every program that stood before the follower came, save the one that they are forked from.
    for program in sorted(before, key=lambda p: p.create_time())[1:]:
        with contextlib.suppress(psutil.NoSuchProcess):  # of a page that was closed before
            program.kill()
    says(first, "#rs-lost", "has lost its program")
    assert "Your design is kept" in first.inner_text("#rs-lost")
    second.click(".rs-roombar button:text-is('I drive now')")
    says(second, ".rs-teamline", "you drive")
    assert second.is_hidden("#rs-lost")
    typed(second, "14")
    first.click("#rs-lost button")
    first.wait_for_selector("#rs-lost", state="hidden", timeout=WAIT)
    says(first, ".rs-teamline", "you follow")
    shows(first, "14")
    # The driver leaves: the others are told, and what was said before is not said any more.
    menu(second)
    second.click(".rs-team > summary")
    second.click(".rs-team button:text-is('Leave the team')")
    says(first, ".rs-teamline", "nobody drives just now")
    assert "You drive now" not in second.inner_text(".rs-roombar")
    for view in (first, second):
        assert view.wrong == []
        view.context.close()


def test_a_teams_code_is_seen_read_and_opens_the_team_from_the_instructors_machine_too(
    browser, room
):
    view = came_in(browser, room, f"voila/render/{FISH}", at="localhost")
    join(view, "Barn & Söhne")
    view.click("button:text-is('Show QR code for my team')")
    view.wait_for_selector(".rs-team .rs-qr svg", timeout=WAIT)
    assert view.is_visible(".rs-team .rs-qr svg")
    link = read(view.locator(".rs-team .rs-qr svg"))
    assert link.startswith(f"http://{LAN}:{room.port}/voila/render/{FISH}?team=Barn")
    assert f"code={code_in(view)}" in link
    for secret in ("token", CODE, "fish-fish-9"):
        assert secret not in link
    other = browser.new_context(viewport={"width": 375, "height": 740}).new_page()
    other.goto(link)
    other.fill("#code", CODE)
    other.click("button")
    says(other, ".rs-teamline", "Team Barn & Söhne: you follow")
    view.click("summary:text-is('Keep and share')")
    view.wait_for_function("document.getElementById('rs-link').value.length > 0")
    assert view.input_value("#rs-link").startswith(f"http://{LAN}:{room.port}/")
    for one in (view, other):
        one.context.close()


def posted(room, name, token):
    """A team that posts a design, over the room's line alone."""
    url = f"ws://{LAN}:{room.port}/room/socket"
    with connect(url, additional_headers={"Cookie": room.enter()}) as line:
        for asked in ({"do": "join", "name": name, "token": token}, {"do": "post"}):
            line.send(json.dumps(asked))
        while "Posted to the wall" not in line.recv(timeout=20):
            pass


def test_odd_names_stay_text_in_their_place_and_equal_designs_are_both_seen(browser, room):
    names = ["W" * 30, "שלום 3", "👩‍🌾 fish", "</p><b>x"]
    for name, design in zip(names, ("family", "school", "family", "family"), strict=True):
        posted(room, name, TOKENS[design])
    wall = came_in(browser, room, "wall", width=320, ready="#rs-room[data-ready]")
    assert wall.locator(".rs-wallcard").count() == 4
    assert wall.locator(".rs-wallcard b, .rs-wallcard script").count() == 0
    narrow = (
        "Math.min(...[...document.querySelectorAll('.rs-differ tbody th')].map(e => e.clientWidth))"
    )
    for width in (320, 375, 1280):
        wall.set_viewport_size({"width": width, "height": 740})
        assert wall.evaluate("document.documentElement.scrollWidth") <= width
        assert wall.evaluate(narrow) > 80, "words of the first column are not broken into letters"
    heads = wall.eval_on_selector_all(".rs-wallcard h2", "all => all.map(e => e.textContent)")
    assert heads[1] == "2 · \u2068שלום 3\u2069", "what is read from the right is set apart"
    assert wall.locator(".rs-chart svg circle").count() == 2
    assert "and 3, 4" in wall.locator(".rs-chart svg").inner_html()
    assert wall.is_hidden("text=Save as CSV"), "for the instructor alone"
    assert wall.evaluate("fetch('/room/export.json').then(r => r.status)") == 403
    wall.context.close()
    desk = desk_of(browser, room)
    said = desk.inner_text("#rs-room")
    assert "null" not in said
    assert re.search(r"Open now: \d+ pages?, \d+ teams, 4 designs on the wall", said)
    desk.context.close()


def test_new_prices_reach_an_open_page_and_it_decides(browser, room):
    view = came_in(browser, room, f"voila/render/{FISH}", f"&d={TOKENS['school']}")
    desk = desk_of(browser, room)

    def price(text):
        desk.fill("#rs-prices-feed", text)
        desk.click("button:text-is('Set the room')")
        says(desk, "#rs-room .rs-told", "Open pages ask whether to take it.")
        put = "document.querySelector('#rs-room .rs-told').textContent = ''"
        desk.evaluate(put)

    offered = "The instructor has set prices, site or weather for the room."
    price("1.11")
    says(view, ".rs-roomoffer", offered)
    assert view.get_attribute(".rs-roomoffer", "role") == "status"
    view.click("button:text-is('Keep mine')")
    typed(view, "13")
    shows(view, "13")
    assert view.inner_text(".rs-roomoffer") == "", "it is not asked again"
    price("1.23")
    says(view, ".rs-roomoffer", offered)
    token = "new URL(location.href).searchParams.get('d')"
    view.wait_for_function(f"t => {token} !== t", arg=TOKENS["school"])
    was = view.evaluate(token)
    view.click('button:text-is("Use the room\'s")')
    view.wait_for_function(f"t => {token} !== t", arg=was)
    now = design_of(view.evaluate(token))
    assert now.prices.feed == pytest.approx(1.23 / 0.45359237)
    assert now.tank.width == pytest.approx(13 * 0.3048)
    assert view.inner_text(".rs-roomoffer") == ""
    price("")
    view.click("button:text-is('Undo')")
    view.wait_for_function(f"t => {token} === t", arg=was)
    assert view.inner_text(".rs-roomoffer") == "", "nothing is set any more"
    for one in (view, desk):
        one.context.close()


def test_whatever_is_refused_is_a_page_with_a_sentence(browser, room):
    view = came_in(browser, room, "nothing/here", ready="main")
    found = {}
    for path, words in (
        ("nothing/here", "There is no page at this address."),
        ("voila/render/99_old.ipynb", "There is no page at this address."),
        ("voila/render/90_instructor.ipynb", "opens only on the machine that runs it"),
        ("rsdesign/poster", "The poster is shown on the machine that serves the room"),
        ("room", "Only the instructor may do this"),
    ):
        view.goto(f"http://{LAN}:{room.port}/{path}")
        says(view, "main", words)
        found.update({(path, v["id"]): v["nodes"] for v in Axe().run(view).response["violations"]})
        assert view.evaluate("document.documentElement.scrollWidth") <= 375
    assert found == {}
    view.goto(f"http://{LAN}:{room.port}/nothing/here")
    assert view.get_attribute("text=Open the first page", "href") == "/"
    view.context.close()


def test_a_killed_server_takes_the_wall_along_and_nobodys_design(browser, tmp_path):
    room = RoomServer(tmp_path)
    try:
        view = came_in(browser, room, f"voila/render/{WHOLE}", f"&d={TOKENS['school']}")
        view.click(".rs-wallpost summary")
        view.fill("#rs-wall-team", "Blue")
        view.click(".rs-wallpost button:visible:text-is('Post to the wall')")
        says(view, ".rs-wallpost", "Posted to the wall as Blue.")
        wall = came_in(browser, room, "wall", width=1280, ready="#rs-room[data-ready]")
        says(wall, "#rs-room", "1 · Blue")
        view.evaluate("window.opened = 'before'")
        room.stop(signal.SIGKILL)
        wall.select_option("#rs-units", "metric")
        says(wall, "#rs-room .rs-told", "The room cannot be reached.")
        assert wall.locator(".rs-wallcard").count() == 1, "what was shown stays to be looked at"
        room = RoomServer(tmp_path, port=room.port)
        says(wall, "#rs-room .rs-told", "No design is on the wall yet.")
        # The page loads itself anew, as its kernel is gone: what is opened before that is closed again.
        view.wait_for_function("window.opened !== 'before'", timeout=WAIT)
        view.wait_for_selector("body[data-ready]", timeout=WAIT)
        says(view, ".rs-teamline", "Team Blue: you drive")
        assert view.evaluate("new URL(location.href).searchParams.get('d')") == TOKENS["school"]
        view.click(".rs-wallpost summary")
        view.click(".rs-wallpost button:visible:text-is('Post to the wall')")
        says(wall, "#rs-room", "1 · Blue")
        # Ended in good order and opened anew, there is another code: the wall says what to do.
        room.stop()
        room = RoomServer(
            tmp_path, "--token", "another22", "--most", "1", "--pool", "0", port=room.port
        )
        wall.select_option("#rs-units", "us")
        says(wall, "#rs-room .rs-told", "The room was started anew")
        # Full, it says so on a page that can be read.
        Client(room, room.enter("another22"))
        wall.goto(f"http://{LAN}:{room.port}/voila/render/{FISH}?token=another22")
        says(wall, "main", "The room is full: 1 pages are open")
        assert Axe().run(wall).response["violations"] == []
        for one in (view, wall):
            one.context.close()
    finally:
        room.stop()
