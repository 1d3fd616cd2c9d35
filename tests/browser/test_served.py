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

from rsdesign.pages.series import SERIES

WAIT = 20_000

pytestmark = pytest.mark.filterwarnings("default")  # sockets of browsers and clients end late


def read(url: str) -> str:
    with urllib.request.urlopen(url, timeout=20) as answer:
        return answer.read().decode()


def opened(browser, server, page, query="", **about):
    """A page opened in a context of its own, with what it asked for and what went wrong."""
    context = browser.new_context(
        viewport={"width": about.pop("width", 1280), "height": 900}, **about
    )
    view = context.new_page()
    view.asked, view.wrong = [], []
    view.on("request", lambda r: view.asked.append(r.url))
    view.on("pageerror", lambda e: view.wrong.append(str(e)))
    view.goto(server.page(page.file, query), wait_until="commit")
    view.wait_for_selector("body[data-ready]", timeout=WAIT)
    return view


def turn(view, page):
    """To another page by the navigation, which a phone folds into one line."""
    if view.is_visible("#rs-nav summary") and view.get_attribute("#rs-nav details", "open") is None:
        view.click("#rs-nav summary")
    view.click(f"#rs-nav a:text-is('{page.title}')")
    view.wait_for_selector(f".rs[data-page={page.name}]", timeout=WAIT)


def full(view):
    if view.get_attribute("button:text-matches('turn')", "aria-pressed") == "false":
        view.click("button:text-is('Full turn')")
        view.wait_for_selector("button:text-is('Short turn')", timeout=WAIT)


def test_every_page_opens_by_its_own_address(browser, server):
    for page in SERIES:
        view = opened(browser, server, page)
        assert view.inner_text("h1") == page.question
        assert view.wrong == []
        view.context.close()


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("width", [1280, 375])
def test_axe_finds_nothing(browser, server, scheme, width):
    view = opened(browser, server, SERIES[0], width=width, color_scheme=scheme)
    axe, found = Axe(), {}
    # Contrast takes most of the time and does not change with width: once in each scheme.
    measured = (width, scheme) in ((1280, "light"), (375, "dark"))
    options = {"resultTypes": ["violations"], "rules": {"color-contrast": {"enabled": measured}}}
    for page in SERIES:
        turn(view, page)
        full(view)
        first = view.query_selector(".rs-how:not([hidden])")
        if first:
            first.click()
            view.wait_for_selector(".rs-step", timeout=WAIT)
        view.evaluate("document.querySelectorAll('details').forEach(d => d.open = true)")
        view.wait_for_timeout(100)
        wrong = axe.run(view, options=options).response["violations"]
        for w in wrong:
            found[page.name, w["id"]] = [n["html"][:160] for n in w["nodes"][:3]]
    assert found == {}
    assert view.wrong == []
    view.context.close()


@pytest.mark.parametrize("width", [320, 375, 768])
def test_no_page_scrolls_sideways_and_targets_are_large_enough(browser, server, width):
    view = opened(browser, server, SERIES[0], width=width)
    for page in SERIES:
        turn(view, page)
        full(view)
        view.wait_for_timeout(100)
        wide = view.evaluate(
            "[document.documentElement.scrollWidth, document.documentElement.clientWidth]"
        )
        assert wide[0] <= wide[1], page.name
        small = view.evaluate(
            """[...document.querySelectorAll('button,select,input,a,summary')].filter(e => {
            const r = e.getBoundingClientRect();
            return r.width && !e.closest('p,.rs-skip') && (r.width < 24 || r.height < 24)
              && getComputedStyle(e).visibility === 'visible' && r.left > -100; }).map(e => e.outerHTML.slice(0, 90))"""
        )
        assert small == [], page.name
        tracks = view.evaluate(
            "[...document.querySelectorAll('input[type=range]')].map(e => e.clientWidth).filter(Boolean)"
        )
        assert min(tracks, default=200) >= 150
    view.context.close()


@pytest.mark.parametrize("width", [320, 375])
def test_on_a_phone_the_navigation_is_one_line_that_opens(browser, server, width):
    view = opened(browser, server, SERIES[3], width=width)
    assert view.locator("#rs-nav").bounding_box()["height"] <= 48
    here = view.locator("#rs-nav summary")
    assert here.inner_text().startswith(f"Page 4 of {len(SERIES)}: {SERIES[3].title}")
    assert view.get_by_role("link", name=f"Page before: {SERIES[2].title}").is_visible()
    view.get_by_role("link", name=f"Next page: {SERIES[4].title}").click()
    view.wait_for_selector(f".rs[data-page={SERIES[4].name}]", timeout=WAIT)
    # By keyboard: the list opens, holds every page in its order, closes again, and turns the page.
    here.focus()
    view.keyboard.press("Enter")
    names = view.eval_on_selector_all(
        "#rs-nav li a", "all => all.filter(a => a.offsetHeight).map(a => a.textContent)"
    )
    assert names == [page.title for page in SERIES]
    assert view.locator("#rs-nav [aria-current=page]").inner_text() == SERIES[4].title
    small = view.eval_on_selector_all(
        "#rs-nav a, #rs-nav summary",
        "all => all.map(a => a.getBoundingClientRect()).filter(r => r.width && (r.height < 44 || r.width < 44)).length",
    )
    assert small == 0
    wrong = Axe().run(view, context="header").response["violations"]
    assert [w["id"] for w in wrong] == []
    view.keyboard.press("Escape")
    assert view.get_attribute("#rs-nav details", "open") is None
    assert view.evaluate("document.activeElement.tagName") == "SUMMARY"
    view.keyboard.press("Enter")
    view.keyboard.press("Tab")
    assert view.evaluate("document.activeElement.textContent") == SERIES[0].title
    view.keyboard.press("Enter")
    view.wait_for_selector(f".rs[data-page={SERIES[0].name}]", timeout=WAIT)
    assert view.evaluate("document.activeElement.textContent").startswith("Page 1 of")
    assert view.get_by_role("link", name="Page before").count() == 0, (
        "nothing stands before the first"
    )
    view.context.close()


def test_on_a_wide_screen_every_page_stands_in_the_navigation(browser, server):
    view = opened(browser, server, SERIES[1])
    shown = view.eval_on_selector_all(
        "#rs-nav a", "all => all.filter(a => a.offsetHeight).map(a => a.textContent)"
    )
    assert shown == [page.title for page in SERIES]
    assert not view.is_visible("#rs-nav summary")
    view.set_viewport_size({"width": 375, "height": 900})
    view.wait_for_selector("#rs-nav summary", state="visible")
    assert not view.is_visible("#rs-nav li a")
    view.set_viewport_size({"width": 1280, "height": 900})
    view.wait_for_selector("#rs-nav li a", state="visible")
    view.context.close()


def test_nothing_is_asked_of_another_host(browser, server):
    view = opened(browser, server, SERIES[0])
    for page in SERIES:
        turn(view, page)
        full(view)
        view.wait_for_timeout(300)
    view.click("summary:text-is('Keep and share')")
    view.click("button:text-is('Show QR code')")
    view.wait_for_selector(".rs-qr svg", timeout=WAIT)
    hosts = {
        re.sub(r"^\w+://([^/:]+).*", r"\1", u)
        for u in view.asked
        if not u.startswith(("data:", "blob:"))
    }
    assert hosts == {"127.0.0.1"}
    view.context.close()


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
    view.wait_for_timeout(900)  # the address is written when moves pause
    after = view.inner_text("[data-figure='solids.captured']"), view.inner_html(".rs-drawing")
    assert before[0] != after[0]
    assert before[1] != after[1]
    assert "?d=1." in view.url
    assert "token" not in view.url
    view.reload(wait_until="commit")
    view.wait_for_selector("body[data-ready]", timeout=WAIT)
    assert view.inner_text("[data-figure='solids.captured']") == after[0]
    view.click("button:text-is('Reset all')")
    view.wait_for_function(
        f"document.querySelector(\"[data-figure='solids.captured']\").textContent === '{before[0]}'"
    )
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


def test_a_whole_design_by_keyboard_alone(browser, server):
    """Tab to the first choice, set it, and go on page by page to the end; focus always shows."""
    view = opened(browser, server, next(p for p in SERIES if p.name == "fish"))
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
                view.keyboard.press("ArrowRight")
                moved = True
                view.wait_for_timeout(1200)  # the page is drawn anew where the move ends
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


def test_print_cuts_nothing(browser, server):
    for paper, width in (("A4", 794), ("Letter", 816)):
        view = opened(browser, server, next(p for p in SERIES if p.name == "pump"), width=width)
        view.emulate_media(media="print")
        cut = view.evaluate(
            """[...document.querySelectorAll('.rs *')].filter(e => e.getBoundingClientRect().right
            > document.documentElement.clientWidth + 1 && e.getBoundingClientRect().width).map(e => e.outerHTML.slice(0, 80))"""
        )
        assert cut == [], paper
        assert len(view.pdf(format=paper)) > 10_000
        view.context.close()


def test_checks_that_hold_are_folded_and_paper_shows_them_all(browser, server):
    view = opened(browser, server, SERIES[0])
    shown = ".rs-checks .rs-check"
    every = view.locator(shown).count()
    held = view.locator(".rs-held .rs-check").count()
    assert every > held > 4
    assert view.inner_text(".rs-held summary") == f"{held} more checks hold"
    assert (
        view.evaluate(
            f"[...document.querySelectorAll('{shown}')].filter(e => e.checkVisibility()).length"
        )
        == every - held
    )
    assert view.locator(".rs-held .rs-short, .rs-held .rs-tight").count() == 0
    view.click(".rs-held summary")
    assert view.locator(".rs-held .rs-check").first.is_visible()
    view.click(".rs-held summary")
    view.evaluate("window.dispatchEvent(new Event('beforeprint'))")
    view.emulate_media(media="print")
    assert (
        view.evaluate(
            f"[...document.querySelectorAll('{shown}')].filter(e => e.checkVisibility()).length"
        )
        == every
    )
    # A plaque says enough by being full: paper must print its filling, or all look short.
    plaque = "getComputedStyle(document.querySelector('.rs-enough .rs-plaque')).printColorAdjust"
    assert view.evaluate(plaque) == "exact"
    assert not view.is_visible(".rs-own-doors")
    view.evaluate("window.dispatchEvent(new Event('afterprint'))")
    assert view.get_attribute(".rs-held", "open") is None
    view.context.close()


def test_on_a_phone_the_choices_stand_right_under_the_picture(browser, server):
    """Tables and lists that are long come behind, but where they are the answer to the choices."""
    view = opened(browser, server, SERIES[0], width=375)
    for page in SERIES:
        turn(view, page)
        top = view.evaluate(
            """Object.fromEntries(['picture', 'choices', 'figures', 'ownplace'].map(n => {
            const e = document.querySelector('.rs-' + n); return [n, e.offsetHeight > 30 ? e.getBoundingClientRect().top : null]; }))"""
        )
        order = [
            name
            for name, _ in sorted(
                ((n, y) for n, y in top.items() if y is not None), key=lambda x: x[1]
            )
        ]
        wanted = ["picture", "choices", "figures", "ownplace"]
        if page.name in ("have", "whole", "lists", "outage"):
            wanted = ["picture", "choices", "ownplace", "figures"]
        assert order == [name for name in wanted if name in order], page.name
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
    """Loaded by bare HTTP, without a socket: with a patience of 3 s, it is gone within 10."""
    code = (
        "import sys; from rsdesign.pages import serve as s; s.PATIENCE, s.LOOK = 3.0, 0.5;"
        " s.serve(int(sys.argv[-1]), False)"
    )
    made = Server(tmp_path, command=["-c", code])
    try:
        time.sleep(5)  # the one in the pool has waited longer than a visitor may
        pooled = {p.pid for p in programs(made)}
        assert pooled
        view = opened(browser, made, SERIES[2])
        reader = {p.pid for p in programs(made)} - pooled
        assert reader
        read(made.page(SERIES[1].file))
        left = {p.pid for p in programs(made)} - pooled - reader
        assert left
        end = time.monotonic() + 10
        while left & {p.pid for p in programs(made)} and time.monotonic() < end:
            time.sleep(0.2)
        still = {p.pid for p in programs(made)}
        assert not left & still
        assert (pooled | reader) <= still
        view.click("button:text-is('Full turn')")
        view.wait_for_selector("button:text-is('Short turn')", timeout=WAIT)
        view.context.close()
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
    view.fill("#rs-own-name", "Used milk vat")
    view.fill("#rs-own-cost", "cheap")
    view.fill("#rs-own-life", "4")
    view.click("button:text-is('Add to the tank list')")
    wrong = view.locator("#rs-own-wrong")
    wrong.wait_for(state="visible", timeout=WAIT)
    assert wrong.inner_text().startswith("Price: 'cheap'")
    slider = view.get_by_role("slider", name="Price of feed, slider")
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
    view.reload(wait_until="commit")
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
    view.click("summary:text-is('Keep and share')")
    view.click(".rs-share li button")
    view.wait_for_function(
        "was => document.querySelector(\"[data-figure='tank.volume']\").textContent === was",
        arg=first,
    )
    view.context.close()


def test_a_file_saved_opens_again(browser, server, tmp_path):
    view = opened(browser, server, next(p for p in SERIES if p.name == "fish"))
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
