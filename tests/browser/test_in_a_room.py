"""A phone in a room: 375 px wide, plain http, an address that is not this machine's own name."""

import signal
import sys
from pathlib import Path

import psutil
import pytest

sys.path.insert(0, str(Path(__file__).parents[1]))
from axe_playwright_python.sync_playwright import Axe
from needed import ON_NO_NETWORK, missing
from rooms import CODE, LAN, RoomServer
from views import menu

WAIT = 20_000
if not LAN:
    missing(ON_NO_NETWORK, allow_module_level=True)
pytestmark = pytest.mark.filterwarnings("default")
FILE = "10_fish_feed_tank.ipynb"


@pytest.fixture(scope="module")
def room(tmp_path_factory):
    made = RoomServer(tmp_path_factory.mktemp("room"), "--wifi", "Fish barn")
    yield made
    made.stop()


def phone(browser, room, path="", **about):
    """A phone that has read the QR code of the poster."""
    context = browser.new_context(viewport={"width": 375, "height": 740}, **about)
    view = context.new_page()
    view.wrong = []
    view.on("pageerror", lambda e: view.wrong.append(str(e)))
    view.goto(f"http://{LAN}:{room.port}/{path}?token={CODE}", wait_until="commit")
    view.wait_for_selector("body[data-ready]", timeout=WAIT)
    return view


def widened(view, feet: str) -> str:
    """Type a width; gives the figure that follows from it, once the address has the design."""
    was, url = view.text_content("[data-figure='tank.volume']"), view.url
    box = view.get_by_role("textbox", name="Distance across, ft")
    box.fill(feet)
    box.press("Enter")
    view.wait_for_function(
        "was => document.querySelector(\"[data-figure='tank.volume']\").textContent !== was",
        arg=was,
    )
    view.wait_for_function("url => location.href !== url", arg=url)
    return view.text_content("[data-figure='tank.volume']")


def test_the_code_is_typed_and_the_page_says_you_are_in(browser, room):
    context = browser.new_context(viewport={"width": 375, "height": 740})
    view = context.new_page()
    view.goto(f"http://{LAN}:{room.port}/")
    for scheme in ("light", "dark"):
        view.emulate_media(color_scheme=scheme)
        assert Axe().run(view).response["violations"] == []
    assert view.evaluate("document.documentElement.scrollWidth <= 375")
    view.fill("#code", "fish fish 8")
    view.click("button")
    assert "not the code of this room" in view.inner_text("#wrong")
    assert Axe().run(view).response["violations"] == []
    view.fill("#code", " Fish-FISH-9")
    view.click("button")
    view.wait_for_selector("body[data-ready]", timeout=WAIT)
    assert view.inner_text("#rs-in") == "You are in. No internet needed."
    assert view.is_visible("#rs-in")
    assert "token" not in view.url
    assert CODE not in view.content()
    assert view.evaluate("document.cookie").find("rsdesign-room") == -1, (
        "no script reads the cookie"
    )
    view.click("text=Next:")
    view.wait_for_function("document.querySelector('#rs-in').hidden")
    context.close()


def test_a_link_is_copied_on_plain_http_and_never_holds_the_code(browser, room):
    view = phone(browser, room, f"voila/render/{FILE}")
    assert view.evaluate("[isSecureContext, !!navigator.clipboard]") == [False, False]
    assert f"/voila/render/{FILE}" in view.url
    assert "token" not in view.url
    widened(view, "13")
    view.wait_for_timeout(1000)  # the address is written at most three times a second
    menu(view)
    view.click("summary:text-is('Keep and share')")
    view.click("button:text-is('Copy link')")
    view.wait_for_selector("text=The link is copied.", timeout=WAIT)
    link = view.input_value("#rs-link")
    assert link.startswith(f"http://{LAN}:{room.port}/voila/render/{FILE}?")
    assert "d=1." in link
    assert "token" not in link
    assert "This link works in this room only" in view.inner_text(".rs-share")
    # A phone whose browser copies nothing: the text stands selected, a code stands beside it.
    view.evaluate("document.execCommand = () => false")
    view.click("button:text-is('Copy link')")
    view.wait_for_selector(".rs-qr svg", timeout=WAIT)
    assert "stands selected" in view.inner_text(".rs-share")
    chosen = "(() => { const e = document.activeElement; return e.value.slice(e.selectionStart, e.selectionEnd); })()"
    link = view.input_value("#rs-link")  # the address may have been written once more meanwhile
    assert view.evaluate(chosen) == link
    assert read(view.locator(".rs-qr svg")) == link
    assert "token" not in link
    assert view.wrong == []
    view.context.close()


def read(picture) -> str:
    """A QR code on the screen, read as another phone reads it."""
    import zxingcpp
    from PIL.ImageFile import Parser

    image = Parser()
    image.feed(picture.screenshot())
    return zxingcpp.read_barcode(image.close()).text


def test_the_poster_is_read_by_a_phone(browser, room):
    context = browser.new_context(viewport={"width": 1280, "height": 800})
    view = context.new_page()
    key = room.said().partition("poster?token=")[2].split()[0]
    view.goto(f"http://localhost:{room.port}/rsdesign/poster?token={key}")
    assert view.url == f"http://localhost:{room.port}/rsdesign/poster"
    codes = view.locator(".code svg")
    assert [read(codes.nth(n)) for n in range(2)] == [
        "WIFI:T:nopass;S:Fish barn;;",
        f"http://{LAN}:{room.port}/?token=fish-fish-9",
    ]
    assert Axe().run(view).response["violations"] == []
    context.close()


HIDE = """Object.defineProperty(document, 'hidden', {configurable: true, get: () => window.asleep});
window.asleep = false; window.shown = [];
const lost = document.getElementById('rs-lost');
new MutationObserver(() => { if (!lost.hidden) sessionStorage.setItem('told', lost.innerText); }).observe(lost, {attributes: true});"""


def sleep(view):
    view.evaluate(HIDE)
    view.evaluate("window.asleep = true; document.dispatchEvent(new Event('visibilitychange'))")


def wake(view):
    view.evaluate("window.asleep = false; document.dispatchEvent(new Event('visibilitychange'))")


def programs(room) -> list:
    return psutil.Process(room.process.pid).children(recursive=True)


def test_a_phone_wakes_in_silence_with_the_same_design(browser, tmp_path):
    room = RoomServer(tmp_path)
    try:
        view = phone(browser, room, f"voila/render/{FILE}")
        figure, url = widened(view, "13"), view.url
        # Asleep right after a change: the change is written before timers stop.
        box = view.get_by_role("textbox", name="Distance across, ft")
        box.fill("14")
        box.press("Enter")
        view.wait_for_function(
            "was => document.querySelector(\"[data-figure='tank.volume']\").textContent !== was",
            arg=figure,
        )
        figure = view.text_content("[data-figure='tank.volume']")
        sleep(view)
        assert view.url != url
        url = view.url
        # Its program ended meanwhile, as idle ones do.
        for program in programs(room)[1:]:
            program.kill()
        view.wait_for_timeout(1500)
        with view.expect_navigation(timeout=WAIT):
            wake(view)
        view.wait_for_selector("body[data-ready]", timeout=WAIT)
        assert view.text_content("[data-figure='tank.volume']") == figure
        assert view.url == url
        assert view.evaluate("sessionStorage.getItem('told')") is None, "without a word"
        # The server itself was killed and started again, long after: a page does not load itself
        # anew twice within ten seconds.
        view.evaluate("sessionStorage.setItem('rsdesign.again', Date.now() - 10_500)")
        sleep(view)
        room.stop(signal.SIGKILL)
        room = RoomServer(tmp_path, port=room.port)
        with view.expect_navigation(timeout=WAIT):
            wake(view)
        view.wait_for_selector("body[data-ready]", timeout=WAIT)
        assert view.text_content("[data-figure='tank.volume']") == figure
        assert view.url == url
        assert view.wrong == []
        view.context.close()
    finally:
        room.stop()


def test_a_line_that_was_down_comes_back_by_itself(browser, room):
    view = phone(browser, room, f"voila/render/{FILE}")
    view.evaluate(HIDE)
    view.context.set_offline(True)
    view.wait_for_timeout(500)
    view.context.set_offline(False)  # tells the page that it is online
    before = view.text_content("[data-figure='tank.volume']")
    assert widened(view, "15") != before
    assert view.is_hidden("#rs-lost")
    view.context.close()


def test_a_flood_from_a_page_is_told_on_the_page(browser, room):
    view = phone(browser, room, f"voila/render/{FILE}")
    view.evaluate(
        """() => { const real = WebSocket.prototype.send; let done = false;
        WebSocket.prototype.send = function (text) { real.call(this, text);
          if (!done) { done = true; for (let i = 0; i < 1000; i++) real.call(this, text); } }; }"""
    )
    menu(view)
    view.click("button:text-is('Show everything')")
    view.wait_for_selector("#rs-lost:not([hidden])", timeout=WAIT)
    assert "more messages than a person can" in view.inner_text("#rs-lost")
    view.click("#rs-lost button")
    view.wait_for_selector("#rs-lost", state="hidden", timeout=WAIT)
    view.wait_for_selector("body[data-ready]", timeout=WAIT)
    view.context.close()
