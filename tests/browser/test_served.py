"""The series as people see it, in Chromium: open, move, reload, read aloud, print, lose the line."""

import asyncio
import contextlib
import json
import re
import time
import urllib.error
import urllib.request
import uuid
from concurrent.futures import ThreadPoolExecutor

import psutil
import pytest
from axe_playwright_python.sync_playwright import Axe
from conftest import Server
from views import WAIT, again, full, menu, opened, pick, section, turn, unfold

from rsdesign.pages.series import SERIES
from rsdesign.report.glossary import glossary

pytestmark = pytest.mark.filterwarnings("default")  # sockets of browsers and clients end late


def read(url: str) -> str:
    with urllib.request.urlopen(url, timeout=20) as answer:
        return answer.read().decode()


def test_every_page_opens_by_its_own_address(browser, server):
    for page in SERIES:
        view = opened(browser, server, page)
        assert view.inner_text("h1") == page.question
        assert view.wrong == []
        view.context.close()


def test_the_glossary_is_one_link_away_from_every_page(browser, server):
    page = next(p for p in SERIES if p.name == "solids")
    view = opened(browser, server, page)
    with view.context.expect_page() as other:
        view.get_by_role("link", name="What the words mean").click()
    other.value.wait_for_selector("dl")
    terms = other.value.locator("dt").all_inner_texts()
    assert [t.split(" (")[0] for t in terms] == list(glossary())
    assert Axe().run(other.value).violations_count == 0
    assert view.wrong == []
    view.context.close()


def settled(view) -> None:
    """Wait until the address, written when moves pause, has stood still; a busy machine answers late."""
    seen = ""
    while seen != view.url or "?d=1." not in seen:
        seen = view.url
        view.wait_for_timeout(2000)


def test_a_move_changes_figures_drawing_and_address_and_a_reload_brings_all_back(browser, server):
    page = next(p for p in SERIES if p.name == "solids")
    view = opened(browser, server, page)
    before = view.inner_text("[data-figure='solids.captured']"), view.inner_html(".rs-drawing")
    slider = view.get_by_role("slider", name="Flow over each area of settler, slider")
    slider.focus()
    for _ in range(30):
        view.keyboard.press("ArrowRight")
    view.wait_for_function(
        "was => document.querySelector(\"[data-figure='solids.captured']\").textContent !== was",
        arg=before[0],
    )
    settled(view)
    after = view.inner_text("[data-figure='solids.captured']"), view.inner_html(".rs-drawing")
    assert before[0] != after[0]
    assert before[1] != after[1]
    assert "?d=1." in view.url
    assert "token" not in view.url
    again(view)
    assert view.inner_text("[data-figure='solids.captured']") == after[0]
    pick(view, "Reset all")
    view.wait_for_function(
        f"document.querySelector(\"[data-figure='solids.captured']\").textContent === '{before[0]}'"
    )
    view.context.close()


def test_a_page_is_drawn_before_its_kernel_is_spoken_to_and_what_is_done_then_is_kept(
    browser, server
):
    """A socket that opens late: sliders stand there already, and a move is answered once it is open."""
    context = browser.new_context(viewport={"width": 1280, "height": 900})
    context.add_init_script("""
        localStorage.setItem("rsdesign.v1", JSON.stringify({pins: [["kept", ""]], guesses: {a: "b"}}));
        const Real = WebSocket;
        window.WebSocket = class extends EventTarget {
          constructor(...about) { super(); window.held = () => new Real(...about); this.readyState = 0; }
          send() {} close() {}
        };
        Object.assign(window.WebSocket, { OPEN: 1, CLOSED: 3, CONNECTING: 0 });
    """)
    view = context.new_page()
    view.goto(server.page(SERIES[0].file), wait_until="commit")
    view.wait_for_selector("body[data-drawn]", timeout=WAIT)
    assert view.locator("input[type=range]:visible").count() >= 3
    assert view.locator(".rs-see svg").first.is_visible()
    assert view.locator("#loading").count() == 0
    assert view.get_attribute("body", "data-ready") is None
    kept = view.evaluate("JSON.parse(localStorage.getItem('rsdesign.v1'))")
    assert kept["guesses"] == {"a": "b"}, "what this browser remembers is not overwritten"
    context.close()
    context = browser.new_context(viewport={"width": 1280, "height": 900})
    view = context.new_page()
    view.goto(server.page(SERIES[0].file, "?u=metric"), wait_until="commit")
    view.wait_for_selector("body[data-drawn]", timeout=WAIT)
    assert view.get_attribute("body", "data-ready") == "1", (
        "in other units it is not drawn too early"
    )
    context.close()
    context = browser.new_context(viewport={"width": 1280, "height": 900})
    view = context.new_page()
    view.goto(server.page(SERIES[0].file), wait_until="commit")
    view.wait_for_selector("body[data-drawn]", timeout=WAIT)
    slider = view.locator("input[type=range]:visible").first
    slider.focus()
    for _ in range(3):
        view.keyboard.press("ArrowRight")
    moved = slider.input_value()
    view.wait_for_selector("body[data-ready]", timeout=WAIT)
    view.wait_for_function("new URLSearchParams(location.search).get('d')", timeout=WAIT)
    view.wait_for_timeout(500)
    assert view.locator("input[type=range]:visible").first.input_value() == moved
    context.close()


def test_the_answer_to_an_earlier_key_does_not_put_a_slider_back(browser, server):
    view = opened(browser, server, SERIES[0])
    slider = view.locator("input[type=range]:visible").first
    slider.focus()
    view.evaluate("""() => {
        const slider = document.activeElement;
        window.places = [];
        const look = () => { window.places.push(Number(slider.value)); requestAnimationFrame(look); };
        look();
    }""")
    for _ in range(12):
        view.keyboard.press("ArrowRight")
    view.wait_for_timeout(1500)
    places = view.evaluate("window.places")
    assert places == sorted(places)
    assert places[-1] > places[0]
    view.context.close()


def test_back_and_forward_turn_pages(browser, server):
    view = opened(browser, server, SERIES[0])
    turn(view, SERIES[3])
    turn(view, SERIES[4])
    view.go_back()
    view.wait_for_selector(f".rs[data-page={SERIES[3].name}]", timeout=WAIT)
    assert SERIES[3].file in view.url
    view.context.close()


def test_a_damaged_link_says_so(browser, server):
    view = opened(browser, server, SERIES[0], "?d=1.abcdef")
    assert "damaged" in view.inner_text("[role=alert].rs-notice")
    view.context.close()


def test_typed_text_that_cannot_be_is_kept_and_explained(browser, server):
    page = next(p for p in SERIES if p.name == "fish")
    view = opened(browser, server, page)
    box = view.get_by_role("textbox", name="Distance across, ft")
    box.fill("9999")
    box.press("Enter")
    wrong = view.locator("[data-path='tank.width'] .rs-wrong")
    wrong.wait_for(state="visible", timeout=WAIT)
    assert "2 ft to 100 ft" in wrong.inner_text()
    assert box.input_value() == "9999"
    assert box.get_attribute("aria-invalid") == "true"
    box.fill("8,5")
    box.press("Enter")
    wrong.wait_for(state="hidden", timeout=WAIT)
    view.wait_for_function(
        "document.querySelector(\"[data-figure='tank.volume']\").textContent !== '1,570 gal'"
    )
    view.context.close()


HEARD = "n => Number(document.querySelector('.rs[data-ack]').dataset.ack) >= n"
"""That so many messages of the page were answered and drawn."""


def test_a_whole_design_by_keyboard_alone(browser, server):
    """Tab to the first choice, set it, and go on page by page to the end; focus always shows."""
    view = opened(browser, server, next(p for p in SERIES if p.name == "fish"), folded=True)
    view.wait_for_selector(".rs[data-ack]", timeout=WAIT)
    places = [p.name for p in SERIES]
    for name in places[places.index("fish") : -1]:
        view.wait_for_selector(f".rs[data-page={name}]", timeout=WAIT)
        view.evaluate("document.body.focus()")
        moved = False
        for _ in range(160):
            view.keyboard.press("Tab")
            at = view.evaluate(
                """(() => { const e = document.activeElement, s = getComputedStyle(e);
                return [e.type || e.tagName, s.outlineStyle, e.textContent.slice(0, 5), e.className]; })()"""
            )
            assert at[1] != "none", f"focus is not seen on {at} of {name}"
            if at[0] == "range" and not moved:
                heard = int(view.get_attribute(".rs[data-ack]", "data-ack"))
                view.keyboard.press("ArrowRight")
                moved = True
                view.wait_for_function(HEARD, arg=heard + 3, timeout=WAIT)  # a move, its end, more
            if at[2] == "Next:":
                view.keyboard.press("Enter")
                break
        else:
            pytest.fail(f"no way on from {name} by keyboard")
        assert moved
    view.wait_for_selector(f".rs[data-page={places[-1]}]", timeout=WAIT)
    view.context.close()


def test_charts_are_drawn_in_the_full_turn(browser, server):
    view = opened(browser, server, next(p for p in SERIES if p.name == "pump"))
    full(view)
    view.wait_for_selector(".rs-chart[data-ready] .main-svg", timeout=WAIT)
    assert view.wrong == []
    view.context.close()


def programs(server) -> list:
    """The programs behind open pages, forked or started, of this server."""
    found = []
    for child in psutil.Process(server.process.pid).children(recursive=True):
        with contextlib.suppress(psutil.Error):  # it may end while it is looked at
            forked = child.ppid() != server.process.pid
            if forked or "ipykernel_launcher" in " ".join(child.cmdline()):
                found.append(child)
    return found


def test_a_lost_program_is_told_within_ten_seconds_and_a_reload_brings_all_back(browser, server):
    before = {p.pid for p in programs(server)}
    view = opened(browser, server, SERIES[2])
    box = view.get_by_role("textbox", name="Distance across, ft")
    box.fill("13")
    box.press("Enter")
    view.wait_for_timeout(900)
    figure = view.inner_text("[data-figure='tank.volume']")
    mine = [p for p in programs(server) if p.pid not in before]
    assert mine
    for program in mine:
        with contextlib.suppress(psutil.Error):
            program.kill()
    view.wait_for_selector("#rs-lost:not([hidden])", timeout=10_000)
    assert "lost its program" in view.inner_text("#rs-lost")
    view.click("#rs-lost button")
    view.wait_for_selector("body[data-ready]", timeout=WAIT)
    unfold(view)
    assert view.inner_text("[data-figure='tank.volume']") == figure
    view.context.close()


def test_every_program_ends_with_the_server(tmp_path):
    made = Server(tmp_path)
    read(made.page(SERIES[1].file))
    mine = psutil.Process(made.process.pid).children(recursive=True)
    assert mine
    made.stop()
    _, alive = psutil.wait_procs(mine, timeout=15)
    assert alive == []


def test_a_program_that_nobody_came_for_ends_and_those_of_the_pool_and_of_readers_do_not(
    browser, tmp_path
):
    """Loaded by bare HTTP, without a socket: with a patience of 8 s, it is gone within 20."""
    code = (
        "import sys; from rsdesign.pages.server import app as s; from rsdesign.pages.room import limits;"
        " limits.MAX_UNOPENED, s.CHECK_INTERVAL = 8.0, 0.5;"
        " s.serve(int(sys.argv[-1]), False)"
    )
    made = Server(tmp_path, command=["-c", code])
    try:
        end = time.monotonic() + 20
        while not (pooled := {p.pid for p in programs(made)}):
            assert time.monotonic() < end
            time.sleep(0.2)
        view = opened(browser, made, SERIES[2])
        reader = {p.pid for p in programs(made)} - pooled
        assert reader
        read(made.page(SERIES[1].file))
        left = {p.pid for p in programs(made)} - pooled - reader
        assert left
        # The one in the pool is older, so by then it has waited longer than a visitor may.
        end = time.monotonic() + 20
        while left & {p.pid for p in programs(made)} and time.monotonic() < end:
            time.sleep(0.2)
        still = {p.pid for p in programs(made)}
        assert not left & still
        assert (pooled | reader) <= still
        full(view)
        view.context.close()
    finally:
        made.stop()


def test_nobody_waits_for_a_pool_that_is_being_filled(tmp_path):
    """One visitor takes the program of the pool, and the next is due long after: others start theirs."""
    code = (
        "import sys; from rsdesign.pages.server import app as s; made = s.voila_config\n"
        "def slow(*about):\n"
        "    config = made(*about); config.VoilaKernelManager.fill_delay = 600; return config\n"
        "s.voila_config = slow; s.serve(int(sys.argv[-1]), False)"
    )
    made = Server(tmp_path, command=["-c", code])
    try:
        for _ in range(3):
            assert "kernelId" in read(made.page(SERIES[0].file))
    finally:
        made.stop()


@pytest.mark.parametrize(
    "path",
    ["voila/files/00_start.ipynb", "voila/files/README.md", "api/contents", "api/kernels", "api/sessions",
     "api/terminals", "voila/tree", "voila/api/contents", "voila/static/voila.js", "tree",
     "voila/files/../../pyproject.toml", "voila/templates/rsdesign/static/../conf.json"],
)  # fmt: skip
def test_sources_and_the_file_list_are_not_served(server, path):
    try:
        with urllib.request.urlopen(server.url + path) as answer:
            code = answer.status
    except urllib.error.HTTPError as refused:
        code = refused.code
        refused.close()
    assert code in (403, 404, 405)


def test_a_page_holds_no_source_of_the_notebook(server):
    text = read(server.page(SERIES[0].file))
    assert "check_figures" not in text
    assert "from rsdesign" not in text


def test_a_visitor_runs_no_code(server):
    """A forged ``execute_request`` on the socket is never answered; the kernel lives on."""
    import websockets

    text = read(server.page(SERIES[1].file))
    kernel = re.search(r'"kernelId": "([\w-]+)"', text)[1]

    def message(kind, content):
        header = {"msg_id": uuid.uuid4().hex, "msg_type": kind, "session": "x", "username": "",
                  "version": "5.3", "date": "2026-01-01T00:00:00Z"}  # fmt: skip
        return json.dumps({"header": header, "parent_header": {}, "metadata": {}, "content": content,
                           "channel": "shell", "buffers": []})  # fmt: skip

    async def talk():
        url = f"ws://127.0.0.1:{server.port}/api/kernels/{kernel}/channels?session_id=x"
        async with websockets.connect(url) as socket:
            code = {"code": "1+1", "silent": False, "store_history": False, "user_expressions": {},
                    "allow_stdin": False, "stop_on_error": True}  # fmt: skip
            await socket.send(message("execute_request", code))
            await socket.send(message("kernel_info_request", {}))
            kinds = []
            while "kernel_info_reply" not in kinds:
                kinds.append(json.loads(await asyncio.wait_for(socket.recv(), 10))["msg_type"])
            return kinds

    with ThreadPoolExecutor(1) as other:  # the browser's own loop runs in this thread
        kinds = other.submit(lambda: asyncio.run(talk())).result(30)
    assert not {"execute_reply", "execute_input", "execute_result"} & set(kinds)


def test_an_own_candidate_is_typed_told_kept_and_taken_away(browser, server):
    page = next(p for p in SERIES if p.name == "cost")
    view = opened(browser, server, page, width=375)
    section(view, "own-candidates")
    view.fill("#rs-own-name", "Used milk vat")
    view.fill("#rs-own-cost", "cheap")
    view.fill("#rs-own-life", "4")
    view.click("button:text-is('Add to the tank list')")
    wrong = view.locator("#rs-own-wrong")
    wrong.wait_for(state="visible", timeout=WAIT)
    assert wrong.inner_text().startswith("Price: 'cheap'")
    slider = view.get_by_role("slider", name="Price of electricity, slider")
    slider.focus()
    view.keyboard.press("ArrowRight")
    view.wait_for_timeout(300)
    assert view.input_value("#rs-own-name") == "Used milk vat", "typing survives a move elsewhere"
    view.fill("#rs-own-cost", "150")
    view.press("#rs-own-cost", "Enter")
    view.wait_for_selector("th:text-is('Used milk vat (yours)')", timeout=WAIT)
    assert view.input_value("#rs-own-name") == ""
    assert [
        w["id"] for w in Axe().run(view, context=".rs-own-candidates").response["violations"]
    ] == []
    again(view)
    section(view, "own-candidates")
    view.wait_for_selector("th:text-is('Used milk vat (yours)')", timeout=WAIT)
    view.click("button:text-is('Take away')")
    view.wait_for_selector("th:text-is('Used milk vat (yours)')", state="detached", timeout=WAIT)
    assert view.wrong == []
    view.context.close()


def test_the_last_designs_are_kept_in_the_browser(browser, server):
    view = opened(browser, server, next(p for p in SERIES if p.name == "fish"))
    first = view.inner_text("[data-figure='tank.volume']")
    box = view.get_by_role("textbox", name="Distance across, ft")
    box.fill("14")
    box.press("Enter")
    view.wait_for_function(
        "was => document.querySelector(\"[data-figure='tank.volume']\").textContent !== was",
        arg=first,
    )
    view.wait_for_timeout(500)
    menu(view)
    view.click("summary:text-is('Keep and share')")
    view.click(".rs-share li button")
    view.wait_for_function(
        "was => document.querySelector(\"[data-figure='tank.volume']\").textContent === was",
        arg=first,
    )
    view.context.close()


def test_a_file_saved_opens_again(browser, server, tmp_path):
    view = opened(browser, server, next(p for p in SERIES if p.name == "fish"))
    menu(view)
    view.click("summary:text-is('Keep and share')")
    with view.expect_download() as saved:
        view.click("button:text-is('Save as a file')")
    path = tmp_path / "mine.toml"
    saved.value.save_as(path)
    text = path.read_text(encoding="utf-8").replace('width = "10 ft"', 'width = "14 ft"')
    assert 'width = "14 ft"' in text
    path.write_text(text, encoding="utf-8")
    view.set_input_files("#rs-file", path)
    view.wait_for_function(
        "document.querySelector(\"[data-figure='tank.volume']\").textContent !== '1,570 gal'"
    )
    view.context.close()
