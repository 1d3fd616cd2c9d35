"""The pages under a JupyterHub: hub, proxy, culler, two people and a room, on loopback.

The configuration is the one of the documents. Nothing here is played: the hub is started as its
manual says, people sign in over http, and a page is opened over its web socket.
"""

import importlib.util
import os
import shutil
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor

import psutil
import pytest
from needed import missing

from rsdesign.core.choices import DesignError
from rsdesign.pages.series import SERIES
from rsdesign.pages.server.fork_provisioner import SECRETS
from rsdesign.pages.server.hub import hub_config

SOLIDS = next(page.file for page in SERIES if page.name == "solids")
OVERFLOW = {"do": "slide", "path": "solids.overflow_rate", "end": True}
ROOM_KEY = "county room 7"
PLACE = {
    "JUPYTERHUB_API_TOKEN": "x",
    "JUPYTERHUB_SERVICE_PREFIX": "/user/anna/",
    "JUPYTERHUB_SERVICE_URL": "http://127.0.0.1:4711/user/anna/",
}


@pytest.mark.parametrize("name", PLACE)
def test_by_hand_it_says_who_starts_it(name):
    with pytest.raises(DesignError, match=rf"{name} is not set.*rsdesign serve"):
        hub_config({**PLACE, name: ""})


def test_a_bad_pool_is_refused_with_its_range():
    with pytest.raises(
        DesignError, match="RSDESIGN_POOL is many; give a whole number from 0 to 40"
    ):
        hub_config({**PLACE, "RSDESIGN_POOL": "many"})


def test_a_container_listens_to_all_addresses_when_the_hub_says_so():
    config = hub_config({**PLACE, "JUPYTERHUB_SERVICE_URL": "http://:8888/user/anna/"})
    assert (config.Voila.ip, config.Voila.port) == ("", 8888)


def test_the_command_ends_with_a_sentence():
    env = {k: v for k, v in os.environ.items() if not k.startswith("JUPYTERHUB_")}
    done = subprocess.run([sys.executable, "-m", "rsdesign.pages.server.hub"], env=env, text=True,
                          capture_output=True, check=False, timeout=60)  # fmt: skip
    assert done.returncode == 2
    assert "a JupyterHub starts this program" in done.stderr
    assert "Traceback" not in done.stderr


@pytest.fixture(scope="module")
def hub(tmp_path_factory):
    needed = ("jupyterhub", "configurable_http_proxy", "jupyterhub_idle_culler")
    if any(importlib.util.find_spec(name) is None for name in needed):
        missing("JupyterHub is not installed (extra 'hub'), so the pages were not tried under one.")
    from hub_visit import Hub

    made = Hub(tmp_path_factory.mktemp("hub"), "/fish/", RSDESIGN_ROOM_KEY=ROOM_KEY)
    yield made
    children = psutil.Process(made.process.pid).children(recursive=True)
    made.stop()
    _, left = psutil.wait_procs(children, 20)
    assert not left, f"still running after the hub ended: {[p.cmdline() for p in left]}"


@pytest.fixture(scope="module")
def people(hub):
    """Two who signed in, each with a server that the hub started."""
    from hub_visit import Visitor

    both = Visitor(hub, "anna"), Visitor(hub, "ben")
    assert [one.sign_in() for one in both] == [302, 302]
    with ThreadPoolExecutor(2) as at_once:
        list(at_once.map(Visitor.start, both))
    return both


def test_a_wrong_word_and_a_stranger_get_the_sign_in_and_nothing_else(hub, people):
    from hub_visit import Visitor

    stranger = Visitor(hub, "cara")
    assert stranger.sign_in("a guess of mine") == 403
    for base in (people[0].home, stranger.room, hub.direct):
        for path in ("", "rsdesign/page.js", "rsdesign/style.css", f"voila/render/{SOLIDS}"):
            answer = stranger.get(base, path, allow_redirects=False)
            assert answer.status_code == 302, (base, path)
            assert "/hub/" in answer.headers["Location"], (base, path)
            assert not answer.content
        post = stranger.web.post(f"{base}voila/render/{SOLIDS}", timeout=10)
        assert post.status_code in (403, 404, 405)


def test_each_sees_their_own_page_under_their_own_address(hub, people):
    for one in people:
        page = one.page(one.home, SOLIDS)
        assert page.base_url == f"/fish/user/{one.name}/"
        assert f'src="/fish/user/{one.name}/rsdesign/page.js"' in page.text
        script = one.get(one.home, "rsdesign/page.js").text
        assert f'window.rsPlotly = "/fish/user/{one.name}/rsdesign/plotly.min.js"' in script
        assert one.get(one.home, "rsdesign/plotly.min.js").ok


def test_the_root_leads_to_the_first_page_and_keeps_the_link(hub, people):
    anna = people[0]
    first = anna.get(anna.home, "?d=abc", allow_redirects=False)
    assert first.headers["Location"] == f"/fish/user/anna/voila/render/{SERIES[0].file}?d=abc"


def test_designs_are_apart(hub, people):
    """One moves a choice; the other's page, opened before and asked after, has not moved."""
    anna, ben = (one.page(one.home, SOLIDS) for one in people)
    at_first = ben.say({"do": "open"})["frame"]["token"]
    moved = anna.say({"do": "open"}, {**OVERFLOW, "at": 0.9})["frame"]["token"]
    assert moved != at_first
    assert ben.say({"do": "open"})["frame"]["token"] == at_first
    assert anna.say({"do": "open"})["frame"]["token"] == moved


def test_a_link_opens_the_same_design_with_the_other(hub, people):
    anna, ben = (one.page(one.home, SOLIDS) for one in people)
    token = anna.say({"do": "open"}, {**OVERFLOW, "at": 0.8})["frame"]["token"]
    assert ben.say({"do": "open", "token": token})["frame"]["token"] == token


def test_neither_can_read_nor_speak_to_the_others_page(hub, people):
    from websockets.exceptions import InvalidStatus

    anna, ben = people
    page = anna.page(anna.home, SOLIDS)
    assert ben.get(anna.home, f"voila/render/{SOLIDS}").status_code in (403, 404)
    assert ben.get(anna.home, "rsdesign/page.js").status_code in (403, 404)
    with pytest.raises(InvalidStatus) as refused:
        page.say({"do": "open"}, who=ben)
    assert refused.value.response.status_code == 403


def test_a_foreign_origin_is_refused(hub, people):
    from websockets.exceptions import InvalidStatus

    page = people[0].page(people[0].home, SOLIDS)
    with pytest.raises(InvalidStatus) as refused:
        page.say({"do": "open"}, origin="http://elsewhere.example")
    assert refused.value.response.status_code == 403


def test_the_room_is_one_server_with_a_design_for_each(hub, people):
    anna, ben = (one.page(one.room, SOLIDS) for one in people)
    assert anna.base_url == ben.base_url == "/fish/services/room/"
    moved = anna.say({"do": "open"}, {**OVERFLOW, "at": 0.9})["frame"]["token"]
    assert ben.say({"do": "open"})["frame"]["token"] != moved


def test_no_kernel_behind_a_page_holds_the_hubs_token(hub, people):
    people[0].page(people[0].home, SOLIDS)
    kernels = [p for p in psutil.Process(hub.process.pid).children(recursive=True)
               if {"ipykernel_launcher", "rsdesign.pages.server.fork_server"} & set(p.cmdline())]  # fmt: skip
    assert kernels
    for kernel in kernels:
        assert not set(SECRETS) & set(kernel.environ())


@pytest.fixture(scope="module")
def front(hub, tmp_path_factory):
    """A school's web server before the hub."""
    from hub_visit import Front

    nginx = shutil.which("nginx") or shutil.which("/usr/sbin/nginx")
    if nginx is None:
        missing("nginx is not installed, so its configuration was not tried.")
    made = Front(tmp_path_factory.mktemp("nginx"), hub, nginx)
    yield made
    made.stop()


def test_behind_nginx_under_a_path_the_page_opens_over_its_socket(hub, people, front):
    from hub_visit import Visitor
    from websockets.exceptions import InvalidStatus

    ben = Visitor(hub, "ben", front.url)
    assert ben.get(ben.home, "rsdesign/page.js", allow_redirects=False).status_code == 302
    assert ben.sign_in() == 302
    for base in (ben.home, ben.room):
        page = ben.page(base, SOLIDS)
        at_first = page.say({"do": "open"})["frame"]["token"]
        assert page.say({"do": "open"}, {**OVERFLOW, "at": 0.9})["frame"]["token"] != at_first
        with pytest.raises(InvalidStatus):
            page.say({"do": "open"}, origin="http://elsewhere.example")


@pytest.fixture(scope="module")
def chromium():
    """A browser; without one the test skips with a sentence, and fails where CI runs it."""
    path = next(filter(None, map(shutil.which, ("chromium", "chromium-browser"))), None)
    if path is None:
        missing("No Chromium is installed, so no page was looked at under a hub.")
    from playwright.sync_api import sync_playwright

    with sync_playwright() as play:
        made = play.chromium.launch(executable_path=path, args=["--no-sandbox"])
        yield made
        made.close()


def test_in_a_browser_the_page_lives_under_its_base(hub, people, chromium):
    """Sign in by typing, move a choice, stay connected, turn the page: nothing leaves the base."""
    from hub_visit import WORD

    view = chromium.new_context().new_page()
    refused, asked = [], []
    view.on("request", lambda request: asked.append(request.url))
    view.on("response", lambda r: refused.append((r.status, r.url)) if r.status >= 400 else None)
    view.on("websocket", lambda socket: asked.append(socket.url))
    view.goto(f"{hub.url}hub/login")
    view.fill("[name=username]", "anna")
    view.fill("[name=password]", WORD)
    view.click("#login_submit")
    view.wait_for_url("**/user/anna/**", timeout=60_000)
    view.goto(f"{people[0].home}voila/render/{SOLIDS}")
    view.wait_for_selector("body[data-ready]", timeout=30_000)
    asked.clear()
    figure = view.locator("[data-figure='solids.captured']").first
    before = figure.text_content()
    knob = view.locator("[data-path='solids.overflow_rate'] input[type=range]").first
    knob.evaluate("e => { e.value = e.max; e.dispatchEvent(new Event('input', {bubbles: true})); }")
    view.wait_for_function(
        "old => document.querySelector(`[data-figure='solids.captured']`).textContent !== old",
        arg=before, timeout=15_000)  # fmt: skip
    # The page asks after its program every five seconds.
    with view.expect_response(lambda r: "/fish/user/anna/api/kernels/" in r.url, timeout=15_000):
        pass
    assert view.locator("#rs-lost").is_hidden()
    view.locator("#rs-nav ol a:not([aria-current])").first.click()
    view.wait_for_url("**/user/anna/voila/render/**")
    view.wait_for_selector("body[data-ready]", timeout=30_000)
    assert not refused
    outside = [
        u for u in asked if "/fish/user/anna/" not in u and not u.startswith(("data:", "blob:"))
    ]
    assert not outside


def signed_in(chromium, hub, name):
    """A browser of one who signed in by typing, on their own first page."""
    from hub_visit import WORD

    view = chromium.new_context(viewport={"width": 375, "height": 740}).new_page()
    view.goto(f"{hub.url}hub/login")
    view.fill("[name=username]", name)
    view.fill("[name=password]", WORD)
    view.click("#login_submit")
    view.wait_for_url(f"**/user/{name}/voila/**", timeout=60_000)
    view.wait_for_selector("body[data-ready]", timeout=30_000)
    view.wait_for_selector(".rs-team:not([hidden])", timeout=30_000, state="attached")
    return view


def says(view, selector, words):
    view.wait_for_function(
        "([s, w]) => (document.querySelector(s) || {textContent: ''}).textContent.includes(w)",
        arg=[selector, words], timeout=20_000,
    )  # fmt: skip


def test_two_browsers_share_a_team_and_the_wall_from_servers_of_their_own(hub, people, chromium):
    anna, ben = (signed_in(chromium, hub, name) for name in ("anna", "ben"))
    token = "new URL(location.href).searchParams.get('d')"
    field = "[data-path='goal.fish'] input[type=text]"
    # Apart, as long as they are in no team.
    anna.fill(field, "123")
    anna.press(field, "Enter")
    anna.wait_for_function(f"t => {token} && {token} !== t", arg=ben.evaluate(token))
    assert ben.input_value(field) != "123"
    # A team: one drives, the other follows.
    anna.click(".rs-moretools > summary")
    anna.click(".rs-team > summary")
    anna.fill("#rs-team-name", "Blue")
    anna.click("button:text-is('Join or start')")
    says(anna, ".rs-teamline", "you drive")
    # The team's link leads each to their own server; another's would refuse them.
    anna.click("button:text-is('Show QR code for my team')")
    anna.wait_for_selector(".rs-team .rs-qr svg")
    link = qr_of(anna.locator(".rs-team .rs-qr svg"))
    assert link.startswith(f"{hub.url}hub/user-redirect/voila/render/")
    ben.goto(link)
    says(ben, ".rs-teamline", "Team Blue: you follow")
    assert "/fish/user/ben/" in ben.url
    ben.wait_for_function("s => document.querySelector(s).value === '123'", arg=field)
    anna.fill(field, "140")
    anna.press(field, "Enter")
    ben.wait_for_function("s => document.querySelector(s).value === '140'", arg=field)
    # The wall is one for all.
    wall = ben.context.new_page()
    wall.goto(f"{hub.url}services/room/wall")
    says(wall, "#rs-room", "No design is on the wall yet")
    anna.click(".rs-team button:text-is('Post to the wall')")
    says(wall, "#rs-room", "1 · Blue")
    # Whoever has the key is the instructor; nobody else is.
    assert wall.evaluate("fetch('room/export.json').then(r => r.status)") == 403
    desk = wall.context.new_page()
    desk.goto(f"{hub.url}services/room/room")
    desk.fill("#rs-key", "not the key")
    desk.press("#rs-key", "Enter")
    says(desk, "#rs-room", "That is not the instructor's key")
    desk.fill("#rs-key", ROOM_KEY)
    desk.press("#rs-key", "Enter")
    desk.wait_for_selector("#rs-say", timeout=20_000)
    desk.fill("#rs-say", "Back at 10:30")
    desk.press("#rs-say", "Enter")
    says(anna, ".rs-roommessage", "Back at 10:30")
    assert desk.evaluate("fetch('room/export.json').then(r => r.status)") == 200
    for view in (anna, ben):
        view.context.close()


def qr_of(picture) -> str:
    """A QR code on the screen, read as a phone reads it."""
    import zxingcpp
    from PIL.ImageFile import Parser

    image = Parser()
    image.feed(picture.screenshot())
    return zxingcpp.read_barcode(image.close()).text


def test_a_short_key_of_a_room_is_refused():
    with pytest.raises(DesignError, match="RSDESIGN_ROOM_KEY needs at least 8"):
        hub_config({**PLACE, "RSDESIGN_ROOM_KEY": "abc"})
