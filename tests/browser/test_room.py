"""The room as people see it: a driver, a follower, the wall, the instructor's page, in Chromium."""

import json

import conftest
import pytest
from axe_playwright_python.sync_playwright import Axe
from conftest import Server
from views import WAIT, code_in, join, menu, says

from rsdesign.design.link import token_of
from rsdesign.pages.room.member import in_room
from rsdesign.pages.series import SERIES, page_named
from rsdesign.pages.session import Session, demo

START, WHOLE = SERIES[0].file, page_named("whole").file
TOKENS = {name: token_of(demo(name)) for name in ("family", "school", "commercial")}

pytestmark = pytest.mark.filterwarnings("default")  # sockets of browsers end late


@pytest.fixture(scope="module")
def room(tmp_path_factory):
    """A server of its own, because a room is shared by all of its pages."""
    made = Server(tmp_path_factory.mktemp("room"))
    yield made
    made.stop()


@pytest.fixture(autouse=True)
def emptied(request):
    """Every test leaves the room as it found it."""
    yield
    if "room" in request.fixturenames and "browser" in request.fixturenames:
        server, browser = request.getfixturevalue("room"), request.getfixturevalue("browser")
        view = browser.new_context().new_page()
        view.goto(f"{server.url}room")
        for asked in ({"do": "end_teams", "all": True}, {"do": "clear"}, {"do": "say", "text": ""},
                      {"do": "set", "units": "", "path": [], "texts": {"climate.weather": "", "prices.feed": ""}}):  # fmt: skip
            found = view.evaluate(
                "b => fetch('/room/act', {method: 'POST', headers: {'Content-Type': 'application/json'},"
                " body: b}).then(r => r.json())",
                json.dumps(asked),
            )
            assert "done" in found, found
        view.context.close()


LATE = """class Late extends WebSocket {
  set onmessage(hear) {
    super.onmessage = this.url.endsWith("/room/socket") ? (event) => setTimeout(hear, 3000, event) : hear;
  }
}
window.WebSocket = Late;"""
"""A browser that hears from the room three seconds late."""


def opened(browser, server, file=START, query="", width=1280, script="", **about):
    context = browser.new_context(viewport={"width": width, "height": 900}, **about)
    view = context.new_page()
    view.add_init_script(script)
    view.wrong = []
    view.on("pageerror", lambda e: view.wrong.append(str(e)))
    view.goto(server.page(file, query), wait_until="commit")
    view.wait_for_selector("body[data-ready]", timeout=WAIT)
    view.wait_for_selector(".rs-team:not([hidden])", timeout=WAIT, state="attached")
    return view


def sheet(browser, server, name, width=1280, **about):
    view = browser.new_context(viewport={"width": width, "height": 900}, **about).new_page()
    view.wrong = []
    view.on("pageerror", lambda e: view.wrong.append(str(e)))
    view.goto(f"{server.url}{name}")
    view.wait_for_selector("#rs-room[data-ready]", timeout=WAIT)
    return view


def token_in(view, token):
    view.wait_for_function(
        "t => new URL(location.href).searchParams.get('d') === t", arg=token, timeout=WAIT
    )


FIELD = "[data-path='goal.fish'] input[type=text]"


def test_a_follower_sees_the_drivers_design_live_and_hands_over(browser, room):
    first = opened(browser, room)
    join(first, "Blue <b>team</b>")
    says(first, ".rs-teamline", "Team Blue <b>team</b>: you drive. Code")
    second = opened(browser, room, WHOLE, f"?d={TOKENS['school']}", width=375)
    join(second, "Blue <b>team</b>", code_in(first))
    says(second, ".rs-teamline", "you follow the driver, so choices are locked")
    assert second.eval_on_selector(FIELD, "e => e.matches(':disabled')")
    for name in ("Undo", "Redo", "Reset all"):
        assert second.is_disabled(f"button:text-is('{name}')")
    first.fill(FIELD, "321")
    first.press(FIELD, "Enter")
    second.wait_for_function(
        "s => document.querySelector(s).value === '321'", arg=FIELD, timeout=WAIT
    )
    says(first, ".rs-teamline", "1 follows")
    # The wheel goes over; whoever had it is told, and is locked.
    second.click(".rs-roombar button:text-is('I drive now')")
    says(second, ".rs-teamline", "you drive")
    says(first, ".rs-roombar", "Another of your team drives now. You follow.")
    first.wait_for_function("s => document.querySelector(s).matches(':disabled')", arg=FIELD)
    assert not second.eval_on_selector(FIELD, "e => e.matches(':disabled')")
    second.fill(FIELD, "123")
    second.press(FIELD, "Enter")
    first.wait_for_function(
        "s => document.querySelector(s).value === '123'", arg=FIELD, timeout=WAIT
    )
    # A page that is loaded again comes back to its team and keeps the wheel.
    second.reload(wait_until="commit")
    says(second, ".rs-teamline", "you drive")
    second.wait_for_function(
        "s => document.querySelector(s).value === '123'", arg=FIELD, timeout=WAIT
    )
    first.click(".rs-team button:text-is('Leave the team')")
    first.wait_for_function("s => !document.querySelector(s).matches(':disabled')", arg=FIELD)
    assert first.inner_text(".rs-teamline") == ""
    for view in (first, second):
        assert view.wrong == []
        view.context.close()


def test_a_team_is_joined_by_its_link_which_then_forgets_the_code(browser, room):
    first = opened(browser, room)
    join(first, "Blue")
    code = code_in(first)
    second = opened(browser, room, START, f"?team=Blue&code={code}")
    says(second, ".rs-teamline", "you follow")
    second.wait_for_function("!location.search.includes('code=')", timeout=WAIT)
    menu(second)
    second.click(".rs-share:not(.rs-team) > summary")
    second.wait_for_function("document.getElementById('rs-link').value.length > 0")
    assert code not in second.input_value("#rs-link")
    # With a wrong code there is a sentence, and no team.
    third = opened(browser, room, START, "?team=Blue&code=AAAAA")
    says(third, ".rs-roombar", "not the code of team Blue")
    assert third.inner_text(".rs-teamline") == ""
    for view in (first, second, third):
        view.context.close()


def test_after_a_restart_the_team_is_back_with_its_design(browser, tmp_path, monkeypatch):
    before = Server(tmp_path)
    first = opened(browser, before, START, f"?d={TOKENS['school']}")
    join(first, "Blue")
    code = code_in(first)
    second = opened(browser, before, START, f"?team=Blue&code={code}")
    says(second, ".rs-teamline", "you follow")
    for view in (first, second):
        view.evaluate("window.before = true")
    before.stop()
    monkeypatch.setattr(conftest, "free_port", lambda: before.port)
    again = Server(tmp_path)
    try:
        for view in (second, first):
            # The page finds the server again and loads itself anew; its team is joined once more.
            view.wait_for_function(
                "() => !window.before && document.querySelector('.rs-teamline.rs-said')",
                timeout=3 * WAIT,
            )
        says(first, ".rs-teamline", f"you drive. Code {code}")
        says(second, ".rs-teamline", "you follow the driver")
        token_in(second, TOKENS["school"])
    finally:
        first.context.close()
        second.context.close()
        again.stop()


def test_posts_stand_side_by_side_on_the_wall(browser, room):
    wall = sheet(browser, room, "wall")
    says(wall, "#rs-room .rs-told", "No design is on the wall yet")
    views = []
    for name, team in (
        ("school", "Blue"),
        ("commercial", "<img src=x onerror=document.title='bad'>"[:30]),
    ):
        view = opened(browser, room, WHOLE, f"?d={TOKENS[name]}", width=375)
        view.click(".rs-wallpost summary")
        view.fill("#rs-wall-team", team)
        one = view.locator(".rs-wallpost button:visible:text-is('Post to the wall')")
        assert one.count() == 1, "one way to post, before there is a team and after"
        one.click()
        says(view, ".rs-wallpost", f"Posted to the wall as {team}.")
        views.append(view)
    wall.wait_for_function(
        "() => document.querySelectorAll('.rs-wallcard').length === 2", timeout=WAIT
    )
    heads = wall.eval_on_selector_all(".rs-wallcard h2", "all => all.map(e => e.textContent)")
    assert heads[0] == "1 · Blue"
    assert heads[1].startswith("2 · <img src=x")
    assert wall.title() == "The wall"
    assert wall.locator(".rs-wallcard img").count() == 0
    card = wall.inner_text(".rs-wallcard")
    for words in (
        "Feed on the biggest day",
        "own hours paid",
        "own hours unpaid",
        "What limits",
        "per lb",
    ):
        assert words in card
    assert wall.locator(".rs-wallcard svg").count() == 2
    rows = wall.eval_on_selector_all(
        ".rs-differ tbody tr, .rs-chosen tbody tr",
        "all => all.map(r => [...r.querySelectorAll('td')].map(c => c.textContent))",
    )
    assert len(rows) > 10
    assert all(len(set(cells)) > 1 for cells in rows)
    wall.select_option("#rs-pick-x", "tank.volume")
    wall.select_option("#rs-pick-y", "cost.net")
    wall.select_option("#rs-units", "metric")
    says(wall, ".rs-chart .rs-sentence", "Water in all tanks across")
    says(wall, ".rs-chart .rs-sentence", "m³")
    assert wall.locator(".rs-chart svg circle").count() == 2
    with wall.expect_download() as got:
        wall.click("text=Save as JSON")
    found = json.loads(got.value.path().read_text(encoding="utf-8"))
    assert [p["token"] for p in found["posts"]] == [TOKENS["school"], TOKENS["commercial"]]
    assert wall.wrong == []
    for view in (wall, *views):
        view.context.close()


def test_the_instructor_sets_the_room_and_speaks_to_all(browser, room):
    learner = opened(browser, room)
    desk = sheet(browser, room, "room")
    desk.fill("#rs-say", "Back at <i>10:30</i>")
    desk.press("#rs-say", "Enter")
    says(learner, ".rs-roommessage", "Back at <i>10:30</i>")
    assert learner.get_attribute(".rs-roommessage", "aria-live") == "polite"
    says(desk, "#rs-room .rs-told", "Shown on every page.")
    desk.fill("#rs-prices-feed", "abc")
    desk.click("button:text-is('Set the room')")
    says(desk, "#rs-prices-feed-wrong", "does not start with a number")
    assert desk.evaluate("document.activeElement.id") == "rs-prices-feed"
    desk.fill("#rs-prices-feed", "1.23")
    desk.select_option("#rs-climate-weather", "high valley")
    desk.select_option("#rs-room-units", "metric")
    for name in ("start", "outage", "whole"):
        desk.check(f"#rs-page-{name}")
    desk.click("button:text-is('Set the room')")
    says(desk, "#rs-room .rs-told", "Set. Pages that open from now on start so.")
    shown = sheet(browser, room, "wall")
    says(shown, ".rs-roommessage", "Back at <i>10:30</i>")
    shown.context.close()
    # A page that opens now starts so; one with a design of its own keeps it.
    late = opened(browser, room)
    late.wait_for_function("document.getElementById('rs-units').value === 'metric'", timeout=WAIT)
    shown = late.eval_on_selector_all(
        "#rs-nav li a", "all => all.filter(a => a.offsetHeight).map(a => a.dataset.page)"
    )
    assert shown == ["start", "outage", "whole"]
    assert late.inner_text(".rs-next") == f"Next: {page_named('outage').title}"
    late.click("#rs-nav button:text-is('All pages')")
    assert late.locator("#rs-nav li a:visible").count() == len(SERIES)
    token = token_of(
        in_room(
            Session().design, {"climate.weather": "high valley", "prices.feed": 1.23 / 0.45359237}
        )
    )
    token_in(late, token)
    # The same where the room answers after the page began without it.
    slow = opened(browser, room, script=LATE)
    token_in(slow, token)
    slow.wait_for_function("document.getElementById('rs-units').value === 'metric'", timeout=WAIT)
    own = opened(browser, room, START, f"?d={TOKENS['school']}")
    token_in(own, TOKENS["school"])
    for view in (learner, desk, late, slow, own):
        assert view.wrong == []
        view.context.close()


def test_on_a_slow_line_what_is_typed_after_a_sentence_is_not_drawn_over(browser, room):
    desk = sheet(browser, room, "room")
    desk.evaluate(
        """() => { const real = window.fetch; window.fetch = (url, about) => String(url).includes("form.json")
        ? new Promise((done) => setTimeout(done, 500)).then(() => real(url, about)) : real(url, about); }"""
    )
    desk.fill("#rs-say", "Back at 10:30")
    desk.press("#rs-say", "Enter")
    says(desk, "#rs-room .rs-told", "Shown on every page.")
    desk.fill("#rs-prices-feed", "1.23")
    desk.wait_for_timeout(1000)
    assert desk.input_value("#rs-prices-feed") == "1.23"
    desk.context.close()


@pytest.mark.parametrize(("width", "scheme"), [(1280, "light"), (375, "dark")])
def test_axe_finds_nothing_and_nothing_scrolls_sideways(browser, room, scheme, width):
    views = [opened(browser, room, WHOLE, f"?d={TOKENS['family']}", width, color_scheme=scheme)]
    views[0].click(".rs-wallpost summary")
    views[0].fill("#rs-wall-team", "Blue")
    views[0].click(".rs-wallpost button:visible:text-is('Post to the wall')")
    says(views[0], ".rs-wallpost", "Posted to the wall as Blue.")
    views.append(
        opened(
            browser, room, WHOLE, f"?team=Blue&code={code_in(views[0])}", width, color_scheme=scheme
        )
    )
    says(views[1], ".rs-teamline", "you follow")
    other = opened(browser, room, WHOLE, f"?d={TOKENS['school']}", width, color_scheme=scheme)
    other.click(".rs-wallpost summary")
    other.fill("#rs-wall-team", "A team with a very long name x"[:30])
    other.click(".rs-wallpost button:visible:text-is('Post to the wall')")
    says(other, ".rs-wallpost", "Posted to the wall")
    views += [sheet(browser, room, name, width, color_scheme=scheme) for name in ("wall", "room")]
    axe, found = Axe(), {}
    for at, view in enumerate(views):
        view.evaluate("document.querySelectorAll('details').forEach(d => d.open = true)")
        view.wait_for_timeout(150)
        for w in axe.run(view, options={"resultTypes": ["violations"]}).response["violations"]:
            found[at, w["id"]] = [n["html"][:160] for n in w["nodes"][:3]]
        wide = view.evaluate(
            "[document.documentElement.scrollWidth, document.documentElement.clientWidth]"
        )
        assert wide[0] <= wide[1], (at, wide)
        # A part of the drawing leads where a cell of the strip leads, which is large enough.
        small = view.evaluate(
            """[...document.querySelectorAll('button,select,input,a,summary')].filter(e => {
            const r = e.getBoundingClientRect();
            return r.width && !e.closest('p,.rs-skip,svg') && (r.width < 24 || r.height < 24)
              && getComputedStyle(e).visibility === 'visible' && r.left > -100; }).map(e => e.outerHTML.slice(0, 90))"""
        )
        assert small == [], at
        assert view.wrong == []
    assert found == {}
    for view in (*views, other):
        view.context.close()


def test_a_team_is_made_and_the_wheel_taken_by_keyboard_alone(browser, room):
    first, second = opened(browser, room), opened(browser, room)
    for view in (first, second):
        view.focus(".rs-moretools > summary")
        view.keyboard.press("Enter")
        for _ in range(12):
            view.keyboard.press("Tab")
            if view.evaluate("document.activeElement.matches('.rs-team > summary')"):
                break
        view.keyboard.press("Enter")
        view.keyboard.press("Tab")
        assert view.evaluate("document.activeElement.id") == "rs-team-name"
        view.keyboard.type("Green")
        view.keyboard.press("Tab")
        if view is second:
            view.keyboard.type(code_in(first))
        view.keyboard.press("Enter")
        view.wait_for_selector(".rs-teamline.rs-said", timeout=WAIT)
    second.focus(".rs-roombar button")
    second.keyboard.press("Enter")
    says(second, ".rs-teamline", "you drive")
    says(first, ".rs-teamline", "you follow")
    for view in (first, second):
        view.context.close()
