"""The pages of a class as people use them, in Chromium: by mouse, by keyboard alone, on a phone."""

import csv
import io
import json
import re
import urllib.error
import urllib.request

import pytest
from axe_playwright_python.sync_playwright import Axe
from conftest import Server

from rsdesign.core.units import from_plain
from rsdesign.pages.classroom.lists import EXERCISES, INSTRUCTOR
from rsdesign.pages.series import SERIES
from rsdesign.teaching import gradebook, submissions
from rsdesign.teaching.classbook import ClassBook, class_of, class_text, with_check
from rsdesign.teaching.exercises import exercise_set, ticket
from rsdesign.teaching.marking import mark

WAIT = 20_000
BOOK = ClassBook("an invented class key", tuple(with_check(b) for b in ("K7QP", "M3TT", "W9XZ")))
CODE = BOOK.codes[0]
SET = "ninety-minutes"

pytestmark = pytest.mark.filterwarnings("default")  # sockets of browsers and clients end late


def opened(browser, server, page, width=1280, init="", **about):
    context = browser.new_context(viewport={"width": width, "height": 900}, **about)
    view = context.new_page()
    view.asked, view.wrong = [], []
    view.on("request", lambda r: view.asked.append(r.url))
    view.on("pageerror", lambda e: view.wrong.append(str(e)))
    view.on("dialog", lambda d: d.accept())
    if init:
        view.add_init_script(init)
    show(view, server, page)
    return view


def show(view, server, page):
    view.goto(server.page(page.file), wait_until="commit")
    view.wait_for_selector("body[data-ready]", timeout=WAIT)


def answered(view):
    """Wait until everything that was asked has been answered."""
    view.wait_for_timeout(60)
    view.wait_for_function("!document.querySelector('.rs-working:not([hidden])')", timeout=WAIT)
    view.wait_for_timeout(150)


def sound(view):
    """Axe finds nothing, nothing scrolls sideways, and every target is large enough."""
    view.evaluate("document.querySelectorAll('details').forEach(d => d.open = true)")
    found = Axe().run(view, options={"resultTypes": ["violations"]}).response["violations"]
    assert [(w["id"], [n["html"][:140] for n in w["nodes"][:2]]) for w in found] == []
    wide = view.evaluate(
        "[document.documentElement.scrollWidth, document.documentElement.clientWidth]"
    )
    assert wide[0] <= wide[1]
    small = view.evaluate(
        """[...document.querySelectorAll('button,select,input,a,summary,textarea')].filter(e => {
        const r = e.getBoundingClientRect();
        return r.width && !e.closest('p,.rs-skip') && (r.width < 24 || r.height < 24)
          && getComputedStyle(e).visibility === 'visible' && r.left > -100; }).map(e => e.outerHTML.slice(0, 90))"""
    )
    assert small == []


def answer(name: str, code=CODE) -> tuple[str, str]:
    """The right number and its unit for a problem that asks for one number."""
    problem = exercise_set(SET, code, BOOK.key).problem(name)
    ask = problem.exercise.asks[0]
    return f"{from_plain(problem.answer(ask), ask.kind.unit(ask.unit)):.5g}", ask.unit


def tab_to(view, wanted: str, most=150, key="Tab"):
    """Press Tab until what is focused fits a selector; no mouse, no script that moves the focus."""
    for _ in range(most):
        view.keyboard.press(key)
        if view.evaluate("w => document.activeElement.matches(w)", wanted):
            return
    raise AssertionError(f"{wanted} was not reached by keyboard")


def to_part(view, number: int):
    """Back to the page's own list of parts, and from there to one of them."""
    tab_to(view, f".rs-parts li:nth-child({number}) button", key="Shift+Tab")
    view.keyboard.press("Enter")
    assert focused(view).startswith(str(number))


def focused(view) -> str:
    return view.evaluate("document.activeElement.textContent")


# --- the learner ------------------------------------------------------------------------------


def test_a_learner_works_is_told_saves_and_goes_on(browser, server, tmp_path):
    view = opened(browser, server, EXERCISES)
    assert view.inner_text("h1") == EXERCISES.question
    view.fill("#rs-code", CODE.lower())
    view.fill("#rs-ticket", ticket(BOOK.key, CODE))
    view.click("button:text-is('Begin')")
    view.wait_for_selector(".rs-problem:not([hidden])", timeout=WAIT)
    assert "marked later" in view.inner_text(".rs-set")
    assert view.get_by_role("button", name="Hand in to the room").count() == 0
    view.click("summary:text-is('All problems')")
    view.click(".rs-way button:text-is('Feed for today')")
    view.wait_for_selector(".rs-problem h2:text-is('Feed for today')")
    assert focused(view) == "Feed for today", "a reader is taken to the problem"
    number, unit = answer("feed-ration")
    assert not view.is_visible("button:text-is('Give me a hint')")
    view.fill("#rs-desk-0", f"{8 * float(number):.4g}")
    view.fill("#rs-desk-0-unit", unit)
    view.click("button:text-is('Check')")
    view.wait_for_selector(".rs-mark.rs-wrong")
    assert view.get_attribute("#rs-desk-0", "aria-invalid") == "true"
    assert view.inner_text(".rs-mark") in view.text_content(".rs-told"), "read aloud too"
    view.click("button:text-is('Give me a hint')")
    view.wait_for_selector(".rs-hints li")
    source = view.content() + json.dumps(view.evaluate("Object.values(localStorage)"))
    assert not re.search(rf"(?<![\d.]){re.escape(number)}", source), (
        "the answer is nowhere on the page"
    )
    view.fill("#rs-desk-0", number)
    view.press("#rs-desk-0", "Enter")
    view.wait_for_selector("h3:text-is('How someone with practice does it')")
    view.fill("#rs-desk-reason", "A share of the weight of the fish.")
    view.click("button:text-is('Keep my reason')")
    answered(view)
    assert view.inner_text(".rs-set [role=status]") == "1 of 14 done"
    view.reload(wait_until="commit")
    view.wait_for_selector(".rs-set [role=status]:text-is('1 of 14 done')", timeout=WAIT)
    with view.expect_download() as saved:
        view.click("button:text-is('Save my work as a file')")
    assert saved.value.suggested_filename == f"{CODE}_{SET}.json"
    path = tmp_path / "mine.json"
    saved.value.save_as(path)
    marks = mark(path, BOOK.key, codes=BOOK.codes, learner=CODE)
    row = next(r for r in marks.rows if r.exercise == "feed-ration")
    assert (row.points, row.attempts, row.right) == (3, 2, True)
    assert row.reason == "A share of the weight of the fish."
    view.click("button:text-is('Short text and QR code')")
    view.wait_for_selector(".rs-qr svg")
    assert mark(view.input_value("#rs-short"), BOOK.key).points == 3
    sound(view)
    # Another device: the file opens there, after code and ticket.
    view.click("button:text-is('Forget my work here')")
    view.wait_for_selector(".rs-set", state="hidden")
    assert CODE not in json.dumps(view.evaluate("Object.values(localStorage)"))
    view.fill("#rs-ticket", f"{CODE} {ticket(BOOK.key, CODE)}")
    view.fill("#rs-code", "")
    view.click("button:text-is('Begin')")
    view.wait_for_selector(".rs-set [role=status]:text-is('0 of 14 done')")
    view.set_input_files("#rs-workfile", path)
    view.wait_for_selector(".rs-set [role=status]:text-is('1 of 14 done')")
    assert all(url.startswith((server.url, "blob:", "data:")) for url in view.asked)
    assert view.wrong == []
    view.context.close()


def test_a_learner_works_by_keyboard_alone(browser, server):
    view = opened(browser, server, EXERCISES, width=375, color_scheme="dark")
    tab_to(view, "#rs-set")
    tab_to(view, "#rs-code")
    view.keyboard.type(CODE)
    tab_to(view, "#rs-ticket")
    view.keyboard.type(ticket(BOOK.key, CODE))
    view.keyboard.press("Enter")
    view.wait_for_selector(".rs-problem:not([hidden])", timeout=WAIT)
    for at in range(3):  # past the three questions before
        tab_to(view, ".rs-problem ~ .rs-picks button:last-child")
        view.keyboard.press("Enter")
        answered(view)
        assert view.evaluate("document.activeElement.matches('.rs-problem h2')"), at
    tab_to(view, "#rs-desk-0")
    view.keyboard.type("1")
    tab_to(view, "#rs-desk-0-unit")
    view.keyboard.type("gal")
    view.keyboard.press("Enter")
    view.wait_for_selector(".rs-mark.rs-wrong")
    assert view.evaluate("document.activeElement.id") == "rs-desk-0-unit", "the place is kept"
    tab_to(view, "button[type=submit]")
    tab_to(view, ".rs-problem form button[type=button]")
    view.keyboard.press("Enter")
    view.wait_for_selector(".rs-hints li")
    tab_to(view, "#rs-desk-reason")
    view.keyboard.type("A gallon is 3.785 L.")
    tab_to(view, ".rs-why button")
    view.keyboard.press("Enter")
    tab_to(view, ".rs-hand .rs-picks button:not([hidden])")
    with view.expect_download():
        view.keyboard.press("Enter")
    sound(view)
    assert view.wrong == []
    view.context.close()


def test_with_a_class_at_hand_the_code_is_enough_and_the_room_takes_the_work(browser, tmp_path):
    path = tmp_path / "class.toml"
    path.write_text(class_text(BOOK), encoding="utf-8")
    made = Server(tmp_path, "--class", str(path))
    try:
        view = opened(browser, made, EXERCISES)
        assert not view.is_visible("#rs-ticket")
        view.fill("#rs-code", "K7QP-4")
        view.click("button:text-is('Begin')")
        view.wait_for_selector(".rs-notice:not([hidden])")
        assert "One of its letters is wrong" in view.inner_text(".rs-notice")
        view.fill("#rs-code", CODE)
        view.click("button:text-is('Begin')")
        view.wait_for_selector(".rs-problem:not([hidden])", timeout=WAIT)
        number, unit = answer("units-rule-area/before")
        view.fill("#rs-desk-0", number)
        view.fill("#rs-desk-0-unit", unit)
        view.click("button:text-is('Keep my answer')")
        view.wait_for_selector(".rs-mark:text-matches('Kept')")
        view.click("button:text-is('Hand in to the room')")
        view.wait_for_selector(".rs-hand p:text-matches('Handed in')")
        with urllib.request.urlopen(f"{made.url}room/handed.json") as answered:
            taken = json.load(answered)["files"]  # this machine is the instructor's
        found = submissions.read(taken[0]["text"], BOOK.key, CODE)
        assert list(found.work) == ["units-rule-area/before"]
        assert BOOK.key not in view.content() + json.dumps(
            view.evaluate("Object.values(localStorage)")
        )
        # The room asks before work that holds less; the work goes in only after a yes.
        asked = []

        def ask(route):
            asked.append(route.request.url)
            sure = "sure=1" in route.request.url
            body = {"done": "Handed in again."} if sure else {"ask": "It holds less. All the same?"}
            route.fulfill(status=200 if sure else 409, json=body)

        view.evaluate("window.confirm = () => false")
        view.route("**/room/handin*", ask)
        view.click("button:text-is('Hand in to the room')")
        view.wait_for_selector(".rs-hand p:text-matches('Not handed in')")
        assert len(asked) == 1
        view.evaluate("window.confirm = () => true")
        view.click("button:text-is('Hand in to the room')")
        view.wait_for_selector(".rs-hand p:text-matches('Handed in again')")
        assert [("sure" in url) for url in asked] == [False, False, True]
        view.unroute("**/room/handin*")
        # Another browser under the same code goes on where the code is.
        other = opened(browser, made, EXERCISES)
        other.fill("#rs-code", CODE)
        other.click("button:text-is('Begin')")
        other.wait_for_selector(".rs-mark:text-matches('Kept')", timeout=WAIT)
        other.context.close()
        view.route("**/room/handin", lambda route: route.abort())
        view.click("button:text-is('Hand in to the room')")
        view.wait_for_selector(".rs-hand p:text-matches('cannot be reached')")
        view.context.close()
    finally:
        made.stop()


# --- the instructor ---------------------------------------------------------------------------


def handed_in(code: str, book=BOOK) -> str:
    found = exercise_set(SET, code, ticket=ticket(book.key, code))
    work = submissions.blank(found)
    for problem in found.problems:
        work = work.with_attempt(problem.name, {a.name: "12 gal" for a in problem.exercise.asks}, 2)
    return submissions.write(work, found)


def test_an_instructor_makes_prints_marks_and_looks(browser, server, tmp_path):
    view = opened(browser, server, INSTRUCTOR)
    view.fill("#rs-count", "20")
    with view.expect_download() as saved:
        view.click("button:text-is('Make a class of codes')")
    saved.value.save_as(tmp_path / "class.toml")
    book = class_of((tmp_path / "class.toml").read_text(encoding="utf-8"))
    assert len(book.codes) == 20
    view.select_option("#rs-topic", "tank")
    view.wait_for_selector(".rs-bank p:text-is('5 exercises')")
    view.click("button[aria-label='Three variants of Water in a round tank']")
    view.wait_for_selector(".rs-three > div:nth-child(3)")
    assert view.locator(".rs-three strong:text-is('Key: ')").count() == 3
    view.click("button[aria-label='Try Water in a round tank']")
    view.fill("#rs-try-0", "3")
    view.fill("#rs-try-0-unit", "galons")
    view.click(".rs-bank button:text-is('Check')")
    view.wait_for_selector(".rs-bank .rs-mark.rs-wrong")
    view.click("button:text-is('Put it away')")
    view.click("button:text-is('Make the sheets')")
    view.click("button:text-is('Make the code cards')")
    view.wait_for_selector(".rs-papers li:nth-child(2)")
    with view.context.expect_page() as tab:
        view.click("a:text-is('Open code cards to print')")
    tab.value.wait_for_selector(".card:nth-child(20)")
    assert book.codes[19] in tab.value.inner_text("body")
    tab.value.close()
    work = tmp_path / "back"
    work.mkdir()
    one, two, three = book.codes[:3]
    (work / f"{one}_{SET}.json").write_text(handed_in(one, book), encoding="utf-8")
    (work / "changed.json").write_text(
        handed_in(two, book).replace("12 gal", "13 gal"), encoding="utf-8"
    )
    (work / "large.json").write_text("x" * 5_000_000, encoding="utf-8")
    view.set_input_files("#rs-work", sorted(work.iterdir()))
    view.wait_for_selector(".rs-table p:text-is('1 learner marked, 2 not.')", timeout=WAIT)
    told = view.inner_text(".rs-table")
    assert "seal does not fit" in told
    assert "larger than" in told
    view.click("summary:text-is('Type answers from paper')")
    box = view.get_by_role("textbox", name=f"{three}, Feed for today", exact=True)
    box.fill("7 lb")
    box.press("Enter")
    view.click("button:text-is('Mark all')")
    view.wait_for_selector(".rs-table p:text-is('2 learners marked, 2 not.')", timeout=WAIT)
    view.locator(".rs-table figure").scroll_into_view_if_needed()
    view.wait_for_selector(".rs-table figure[data-ready] .main-svg", timeout=WAIT)
    assert view.locator("h3:text-is('Common slips')").is_visible()
    with view.expect_download() as saved:
        view.click("button:text-is('Save marks.csv')")
    saved.value.save_as(tmp_path / "marks.csv")
    rows = list(csv.reader(io.StringIO((tmp_path / "marks.csv").read_text(encoding="utf-8"))))
    assert tuple(rows[0]) == gradebook.LONG
    assert {row[0] for row in rows[1:]} == {one, three}
    sound(view)
    view.reload(wait_until="commit")
    view.wait_for_selector(".rs-class p:text-matches('A class of 20 codes')", timeout=WAIT)
    view.click("summary:text-is('Type answers from paper')")
    assert (
        view.get_by_role("textbox", name=f"{three}, Feed for today", exact=True).input_value()
        == "7 lb"
    )
    assert all(url.startswith((server.url, "blob:", "data:")) for url in view.asked)
    assert not any(book.key in url for url in view.asked)
    assert view.wrong == []
    view.context.close()


def test_an_instructor_works_by_keyboard_alone_on_a_small_screen(browser, server, tmp_path):
    view = opened(browser, server, INSTRUCTOR, width=375, color_scheme="dark")
    tab_to(view, "#rs-count")
    view.keyboard.press("Control+a")
    view.keyboard.type("3")
    with view.expect_download():
        view.keyboard.press("Enter")
    tab_to(view, "#rs-topic")
    view.keyboard.type("tank")
    view.wait_for_selector(".rs-bank p:text-is('5 exercises')")
    to_part(view, 3)
    tab_to(view, "#rs-setname")
    tab_to(view, ".rs-print button")
    view.keyboard.press("Enter")
    view.wait_for_selector(".rs-papers a")
    tab_to(view, ".rs-papers a")
    to_part(view, 4)
    tab_to(view, ".rs-back details summary")
    view.keyboard.press("Enter")
    tab_to(view, ".rs-grid input")
    codes = view.locator(".rs-codes li").all_text_contents()
    for value in ("400 gal", "300 gal", "200 gal"):
        view.keyboard.type(value)
        view.keyboard.press("Enter")  # down, and at the foot to the next answer
    assert view.get_attribute(":focus", "data-at") == "0 1"
    view.keyboard.press("Shift+Tab")
    assert view.get_attribute(":focus", "data-at") == "0 0"
    assert view.input_value(":focus") == "400 gal"
    tab_to(view, ".rs-back > .rs-body > .rs-picks:last-child button", most=120)
    view.keyboard.press("Enter")
    view.wait_for_selector(".rs-table p:text-is('3 learners marked, 0 not.')", timeout=WAIT)
    to_part(view, 5)
    tab_to(view, ".rs-table button")
    with view.expect_download():
        view.keyboard.press("Enter")
    assert len(codes) == 3
    sound(view)
    assert view.wrong == []
    view.context.close()


@pytest.mark.parametrize("path", ["90_instructor.ipynb", "90%5Finstructor.ipynb"])
def test_the_instructors_page_does_not_open_under_another_name_of_this_machine(server, path):
    request = urllib.request.Request(server.page(path), headers={"Host": "room.example"})
    with pytest.raises(urllib.error.HTTPError) as refused:
        urllib.request.urlopen(request)
    assert refused.value.code == 403
    text = refused.value.read().decode()
    assert "only on the machine that runs it" in text or "<title>Not here</title>" in text
    assert "kernelId" not in text
    refused.value.close()


# --- worked examples on the design pages ------------------------------------------------------


def test_an_example_fades_by_keyboard_and_can_be_skipped(browser, server):
    page = next(p for p in SERIES if p.name == "biofilter")
    view = opened(browser, server, page)
    ways = view.locator("#rs-class a").all_text_contents()
    assert ways == [EXERCISES.title, INSTRUCTOR.title]
    view.focus(".rs-faded > summary")
    view.keyboard.press("Enter")
    tab_to(view, ".rs-stages li:nth-child(2) button")
    view.keyboard.press("Enter")
    view.wait_for_selector(".rs-fadedsteps form")
    tab_to(view, ".rs-fadedsteps input")
    view.keyboard.type("1 L")
    view.keyboard.press("Enter")
    view.wait_for_selector(".rs-fadedsteps .rs-wrong")
    assert view.evaluate("document.activeElement.matches('.rs-fadedsteps input')"), (
        "the place is kept"
    )
    tab_to(view, ".rs-fadedsteps form button.rs-small")
    view.keyboard.press("Enter")
    view.wait_for_selector(".rs-faded .rs-answer:not([hidden])")
    tab_to(view, ".rs-fadedsteps ~ button")
    view.keyboard.press("Enter")
    view.wait_for_selector(".rs-stages li:nth-child(3) [aria-current]")
    view.click("button:text-is('I know this, skip')")
    assert view.get_attribute(".rs-faded", "open") is None
    view.reload(wait_until="commit")
    view.wait_for_selector(".rs-faded summary:text-matches('you know this')", timeout=WAIT)
    assert view.wrong == []
    view.context.close()
