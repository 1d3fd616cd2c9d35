"""A typed value is in the design or refused beside its box, whatever the line and the team do."""

import json
import os

import pytest
from views import WAIT, again, code_in, join, menu, says, unfold

from rsdesign.pages.jupyter import front_files
from rsdesign.pages.series import page_named

WHOLE = bool(os.environ.get("RSDESIGN_WHOLE"))
"""Every way of leaving a box on a quick line too, and every lag and pause; a slow line shows what a
quick one hides."""

pytestmark = pytest.mark.filterwarnings("default")  # sockets of browsers end late
FISH, COST = page_named("fish"), page_named("cost")
LAGS = (0, 300, 800) if WHOLE else (0, 800)

LINE = """
(() => {
  const lag = LAG, real = WebSocket;
  window.rsSaid = 0; // the number of the last message to the program, whether it is on the line yet or not
  const note = (data) => {
    const m = JSON.parse(data);
    if (m.channel && m.content.data && m.content.data.content) rsSaid = Math.max(rsSaid, m.content.data.content.n);
  };
  window.WebSocket = class extends real {
    constructor(...about) { super(...about); this.before = { to: Promise.resolve(), from: Promise.resolve() }; }
    later(way, act) {
      const due = performance.now() + lag / 2;
      this.before[way] = this.before[way].then(() => new Promise((done) =>
        setTimeout(() => { act(); done(); }, Math.max(0, due - performance.now()))));
    }
    send(data) {
      note(data);
      if (!lag) return super.send(data);
      this.later("to", () => { if (this.readyState === 1) super.send(data); });
    }
    set onmessage(f) { super.onmessage = f && (lag ? (e) => this.later("from", () => f(e)) : f); }
  };
})();
"""


def at(path):
    return f"[data-path='{path}'] input[type=text]"


WIDTH, DEPTH = at("tank.width"), at("tank.depth")


def opened(browser, server, lag=0, page=FISH, width=1280, query="", ready=True, **about):
    context = browser.new_context(viewport={"width": width, "height": 900}, **about)
    view = context.new_page()
    view.wrong = []
    view.on("pageerror", lambda e: view.wrong.append(str(e)))
    view.add_init_script(LINE.replace("LAG", str(lag)))
    view.goto(server.page(page.file, query), wait_until="commit")
    view.wait_for_selector("body[data-ready]", timeout=WAIT)
    if ready:
        view.wait_for_selector(".rs-team:not([hidden])", timeout=WAIT, state="attached")
    unfold(view)
    return view


def over(view, box, text, delay=60):
    """Typed over what stands there, a key at a time."""
    view.click(box, click_count=3)
    view.keyboard.type(text, delay=delay)


SETTLED = """() => { const page = document.querySelector('.rs[data-ack]');
    return !!page && Number(page.dataset.ack) >= rsSaid && !document.querySelector('.rs-busy'); }"""
"""That all messages of the page were answered and drawn."""


def quiet(view):
    """Until nothing that was said waits for its answer, nor said more when it came."""
    calm = 0
    while calm < 2:
        view.wait_for_function(SETTLED, timeout=WAIT)
        view.wait_for_timeout(60)
        calm = calm + 1 if view.evaluate(SETTLED) else 0


def until(view, holds, milliseconds=5000):
    """Whether something holds, looked at again and again until it does."""
    for _ in range(milliseconds // 50):
        if holds():
            return True
        view.wait_for_timeout(50)
    return holds()


def in_design(view, **feet):
    """The design of the address holds these lengths, and the boxes show them."""
    from rsdesign.design.link import design_of

    quiet(view)
    wanted = {name: pytest.approx(value * 0.3048, rel=1e-6) for name, value in feet.items()}

    def held():
        tank = design_of(view.evaluate("new URL(location.href).searchParams.get('d')")).tank
        return {name: getattr(tank, name) for name in wanted}

    until(view, lambda: held() == wanted)  # the address is written when moves pause
    assert held() == wanted
    for name, value in feet.items():
        box = at(f"tank.{name}")
        if view.query_selector(box):
            assert float(view.input_value(box)) == pytest.approx(value, rel=1e-4), name


@pytest.mark.parametrize(("lag", "pause"), 
    [(0, 700), (800, 0), (800, 1300), *([(0, 0), (300, 700)] if WHOLE else [])])  # fmt: skip
def test_lost_entry_a_reply_between_typing_and_leaving_drops_nothing(browser, server, lag, pause):
    view = opened(browser, server, lag)
    for width, depth in (("6.5", "3"), ("9", "2")):
        over(view, WIDTH, width)
        view.keyboard.press("Tab")
        view.keyboard.press("Tab")  # over the slider
        over(view, DEPTH, depth)
        view.wait_for_timeout(pause)  # the reply to the width falls into the pause
        assert view.input_value(DEPTH) == depth, "nothing is written under the caret"
        view.keyboard.press("Tab")
        in_design(view, width=float(width), depth=float(depth))
    assert view.wrong == []
    view.context.close()


def leave_by(view, way):
    if way == "slider":
        box = view.locator(
            "[data-path='goal.fish'] input[type=range], [data-path='tank.freeboard'] input[type=range]"
        ).first.bounding_box()
        view.mouse.click(box["x"] + box["width"] * 0.6, box["y"] + box["height"] / 2)
    elif way == "another box":
        view.click(WIDTH)
    elif way == "page turn":
        view.click("a.rs-button:has-text('Next:')")
        view.wait_for_selector(".rs:not([data-page=fish])", timeout=WAIT)
    elif way == "back":
        view.go_back()
    elif way == "Done":  # what the keyboard of a phone sends: Enter, and nothing more
        view.evaluate("""() => document.activeElement.dispatchEvent(
            new KeyboardEvent('keydown', {key: 'Enter', bubbles: true}))""")
    elif way == "Done of another phone":  # the box is only left
        view.evaluate("document.activeElement.blur()")
    elif way == "tab hidden":
        view.evaluate("""() => { Object.defineProperty(document, 'hidden', {value: true, configurable: true});
            document.dispatchEvent(new Event('visibilitychange')); delete document.hidden; }""")
    elif way == "a button that takes no focus":  # as in Safari
        view.evaluate("document.querySelector('.rs-how').click()")
    elif way == "reload":
        again(view)
    else:
        view.keyboard.press(way)


@pytest.mark.parametrize("lag", [0, 800] if WHOLE else [800])
@pytest.mark.parametrize("way", ["Enter", "Tab", "slider", "another box", "page turn", "Done",
                                 "Done of another phone", "tab hidden", "a button that takes no focus",
                                 "reload"])  # fmt: skip
def test_lost_entry_a_box_left_in_any_way_is_in_the_design(browser, server, lag, way):
    view = opened(browser, server, lag, ready=False)
    over(view, DEPTH, "3", 0)
    leave_by(view, way)
    in_design(view, depth=3.0)
    assert view.wrong == []
    view.context.close()


@pytest.mark.parametrize("pause", [0, 150, 600] if WHOLE else [0, 150])
def test_lost_entry_a_reload_right_after_a_change_keeps_it(browser, server, pause):
    """Said or answered, but not in the address that the reload asks for."""
    view = opened(browser, server, ready=False)
    over(view, DEPTH, "3", 0)
    view.keyboard.press("Tab")
    view.wait_for_timeout(pause)
    leave_by(view, "reload")
    in_design(view, depth=3.0)
    slider = "[data-path='tank.depth'] input[type=range]"
    view.focus(slider)
    view.keyboard.press("ArrowRight")
    view.wait_for_timeout(pause)
    moved = view.input_value(slider)
    if pause:  # answered
        leave_by(view, "reload")
        quiet(view)
        assert view.input_value(slider) == moved
    assert view.wrong == []
    view.context.close()


def test_lost_entry_back_and_forward_keep_what_was_typed_since(browser, server):
    view = opened(browser, server, ready=False)
    view.click("a.rs-button:has-text('Next:')")
    view.wait_for_selector(".rs[data-page=solids]", timeout=WAIT)
    view.go_back()
    view.wait_for_selector(".rs[data-page=fish]", timeout=WAIT)
    over(view, DEPTH, "3")
    view.go_forward()  # the box is left by turning the page
    view.wait_for_selector(".rs[data-page=solids]", timeout=WAIT)
    in_design(view, depth=3.0)
    view.context.close()


def test_lost_entry_what_is_refused_stands_beside_the_box_and_is_told_on_the_next_page(
    browser, server
):
    view = opened(browser, server, 300, ready=False)
    over(view, DEPTH, "999")
    view.click("a.rs-button:has-text('Next:')")
    view.wait_for_selector(".rs[data-page=solids]", timeout=WAIT)
    says(view, ".rs-notice", "Not taken: Water depth is 999 ft, outside what can be computed")
    view.go_back()
    view.wait_for_selector(".rs[data-page=fish]", timeout=WAIT)
    says(view, "[data-path='tank.depth'] .rs-wrong", "999 ft")
    assert view.input_value(DEPTH) == "999"
    view.context.close()


def test_lost_entry_in_other_units_a_text_means_what_it_meant_when_it_was_typed(browser, server):
    """The room may turn the units of a page while somebody types."""
    view = opened(browser, server, ready=False)
    over(view, DEPTH, "3")
    view.evaluate(
        "() => { const s = document.getElementById('rs-units'); s.value = 'metric'; s.dispatchEvent(new Event('change')); }"
    )
    says(view, "[data-path='tank.depth'] .rs-unit", "m")
    assert view.input_value(DEPTH) == "3", "nothing is written under the caret"
    view.keyboard.press("Enter")
    view.wait_for_function(
        "s => document.querySelector(s).value === '0.9144'", arg=DEPTH, timeout=WAIT
    )
    view.context.close()


def test_a_box_shows_the_unit_of_the_page_after_another_was_typed(browser, server):
    view = opened(browser, server, 300, ready=False)
    for text in ("6 1/2", "6'6\"", "78 in", "6 ft 6 in"):  # the design is 6.5 ft after the first
        over(view, WIDTH, text, 0)
        view.keyboard.press("Enter")
        view.wait_for_function(
            "s => document.querySelector(s).value === '6.5'", arg=WIDTH, timeout=WAIT
        )
    view.context.close()


@pytest.mark.parametrize("lag", [300, 800])
def test_lost_entry_the_last_place_of_a_slider_is_not_lost_to_another_one(browser, server, lag):
    view = opened(browser, server, lag, ready=False)
    for path, place in (("tank.width", 40), ("tank.depth", 150)):
        view.evaluate("""([path, place]) => { const s = document.querySelector(`[data-path='${path}'] input[type=range]`);
            for (const at of [place + 3, place + 2, place]) { s.value = at; s.dispatchEvent(new Event('input')); }
            s.dispatchEvent(new Event('change')); }""", [path, place])  # fmt: skip
    quiet(view)
    for path, place in (("tank.width", 40), ("tank.depth", 150)):
        assert abs(int(view.input_value(f"[data-path='{path}'] input[type=range]")) - place) <= 1, (
            path
        )
    view.context.close()


# --- a room with two pages -------------------------------------------------------------------


@pytest.mark.parametrize("lag", LAGS)
def test_lost_entry_while_a_team_change_arrives_what_is_typed_is_taken_or_refused_beside_the_box(
    browser, server, lag
):
    name = f"Lag {lag}"
    driver, other = opened(browser, server, lag), opened(browser, server, 0)
    join(driver, name)
    join(other, name, code_in(driver))
    for view in (driver, other):
        menu(view, False)
    says(other, ".rs-teamline", "you follow")
    over(driver, WIDTH, "9")
    driver.keyboard.press("Tab")
    other.wait_for_function("s => document.querySelector(s).value === '9'", arg=WIDTH, timeout=WAIT)
    # Somebody takes the wheel while the driver types.
    over(driver, DEPTH, "3")
    other.click(".rs-roombar button:text-is('I drive now')")
    says(
        driver,
        "[data-path='tank.depth'] .rs-wrong",
        "'3' was not taken: somebody else of your team drives now",
    )
    over(other, WIDTH, "7")
    other.keyboard.press("Enter")
    driver.wait_for_function(
        "s => document.querySelector(s).value === '7'", arg=WIDTH, timeout=WAIT
    )
    assert driver.is_visible("[data-path='tank.depth'] .rs-wrong"), (
        "the next change of the team does not wipe it out"
    )
    # And back: typed and left at once, while the wheel goes.
    driver.click(".rs-roombar button:text-is('I drive now')")
    says(driver, ".rs-teamline", "you drive")
    says(other, ".rs-teamline", "you follow")
    over(driver, DEPTH, "2.5", 0)
    other.click(".rs-roombar button:text-is('I drive now')")
    driver.keyboard.press("Enter")
    says(driver, ".rs-teamline", "you follow")
    quiet(driver)
    quiet(other)

    def taken_or_told():
        return (
            other.input_value(DEPTH) == "2.5"
            or driver.is_visible("[data-path='tank.depth'] .rs-wrong")
            or "too late" in driver.inner_text(".rs-roombar")
            or "Not taken" in driver.inner_text(".rs-notice")
        )

    def same():
        return driver.input_value(DEPTH) == other.input_value(DEPTH)

    until(driver, lambda: taken_or_told() and same())
    driver.wait_for_timeout(2 * lag + 300)  # what the room still carries may not undo it
    assert taken_or_told()
    assert same()
    for view in (driver, other):
        assert view.wrong == []
        view.context.close()


@pytest.mark.parametrize("lag", [0, 800])
def test_lost_entry_while_a_message_to_all_arrives_typing_goes_on(browser, server, lag):
    view = opened(browser, server, lag)
    over(view, DEPTH, "2.")
    desk = browser.new_context().new_page()
    desk.goto(f"{server.url}room")
    for asked in (
        {"do": "say", "text": f"Lunch {lag}"},
        {"do": "set", "units": "", "path": [], "texts": {"prices.feed": "1.23"}},
    ):
        desk.evaluate("""b => fetch('/room/act', {method: 'POST', headers: {'Content-Type': 'application/json'}, body: b})
            .then(r => r.json())""", json.dumps(asked))  # fmt: skip
    says(view, ".rs-roommessage", f"Lunch {lag}")
    quiet(view)
    assert view.input_value(DEPTH) == "2."
    view.keyboard.type("5")
    view.keyboard.press("Tab")
    in_design(view, depth=2.5)
    for page in (view, desk):
        page.context.close()


# --- other boxes of a page -------------------------------------------------------------------


def test_lost_entry_in_blocks_that_are_drawn_anew_while_somebody_types(browser, server):
    view = opened(browser, server, 800, page_named("have"), ready=False)
    over(view, WIDTH, "9")
    view.keyboard.press("Tab")
    over(view, "#rs-budget", "1,5")
    view.wait_for_timeout(1600)  # the answer to the width draws its block anew
    view.keyboard.type("00")
    assert view.input_value("#rs-budget") == "1,500"
    view.keyboard.press("Enter")
    quiet(view)
    assert view.input_value("#rs-budget") == "1,500"
    assert not view.is_visible(".rs-own .rs-wrong")
    view.context.close()
    view = opened(browser, server, 300, page_named("whole"), ready=False)
    over(view, "#rs-keep-name", "Mine")
    over(view, at("goal.fish"), "150")
    view.keyboard.press("Enter")
    quiet(view)
    assert view.input_value("#rs-keep-name") == "Mine", "a name that was not kept yet stays"
    view.context.close()


def test_lost_entry_a_guess_that_was_not_kept_stays_while_choices_move(browser, server):
    view = opened(browser, server, 300, ready=False)
    view.fill("#rs-guess", "42")
    over(view, WIDTH, "9")
    view.keyboard.press("Enter")
    quiet(view)
    assert view.input_value("#rs-guess") == "42"
    view.context.close()


# --- the state of an entry alone ---------------------------------------------------------------

WALK = """
(seeds) => {
  const wrong = [];
  for (const seed of seeds) {
    let x = seed * 2654435761 % 4294967296;
    const pick = (n) => { x = (x * 1664525 + 1013904223) % 4294967296; return Math.floor(x / 4294967296 * n); };
    const s = entryState("0"), program = { text: "0" }, to = [], from = [];
    let number = 0, left = [], done = [], focused = false;
    const say = (said) => { if (said) { number += 1; ENTRY.sent(s, number); to.push([number, said.text]); } };
    let last = "0";
    const news = () => program.text === last ? null : (last = program.text); // only what changed is told
    const leave = () => { const was = s.typed ? s.shown : null; const said = ENTRY.left(s); say(said); if (said) left.push(was); };
    const step = (what) => {
      const before = s.shown, own = s.said && s.number;
      if (what === 0) { ENTRY.focus(s); focused = true; }
      if (what === 1 && focused) ENTRY.typed(s, String(pick(40)));
      if (what === 2 && focused) leave();                              // Enter
      if (what === 3) { leave(); ENTRY.blur(s); focused = false; }
      if (what === 4 && to.length) {                                   // the program hears
        const [n, text] = to.shift();
        done.push(text);
        program.text = Number(text) % 7 === 3 ? text : String(Number(text)); // refused or taken: it tells the text
        if (pick(2)) from.push([null, news()]);                        // figures first, without a number
        from.push([n, news()]);
      }
      if (what === 5) { program.text = String(100 + pick(40)); from.push([null, news()]); } // from the team
      if (what === 6 && from.length) {                                 // the page hears
        const [n, text] = from.shift();
        if (text !== null) ENTRY.told(s, text);
        if (n !== null) ENTRY.answered(s, n);
        if (focused && s.shown !== before && !(own && n !== null && own <= n)) wrong.push([seed, "written under the caret", before, s.shown]);
      }
    };
    for (let i = 0; i < 60; i += 1) step(pick(7));
    step(3);
    while (to.length || from.length) { step(4); step(6); }
    if (s.shown !== program.text) wrong.push([seed, "shows", s.shown, "holds", program.text]);
    if (JSON.stringify(left) !== JSON.stringify(done)) wrong.push([seed, "left", left, "heard", done]);
    if (s.typed || s.said !== null) wrong.push([seed, "not settled"]);
  }
  return wrong;
}
"""


def test_lost_entry_the_state_of_a_box_keeps_its_promises_in_random_order(browser):
    """Every text that is left is heard once and in order; nothing is written under the caret but the
    answer to the box's own text; in the end the box shows what the program holds."""
    view = browser.new_page()
    view.add_script_tag(content=front_files.script_of("entry.js")
                        + "window.entryState = entryState; window.ENTRY = ENTRY;")  # fmt: skip
    assert view.evaluate(WALK, list(range(4000)))[:5] == []
    view.close()


@pytest.mark.parametrize("steps", [
    "typed 3|told 8|left: 3|sent 1|told 8|answered 1|shows 8",      # a refusal tells what it refused
    "typed 3|left: 3|sent 1|told 8|shows 3|told 3|answered 1|shows 3",
    "typed 3|left: 3|sent 1|typed 4|answered 1|told 3|shows 4|left: 4|sent 2|answered 2|told 4|shows 4",
    "typed 3|left: 3|sent 1|typed 8|left: 8|sent 2|answered 1|shows 8|answered 2|told 8|shows 8",
    "typed 8|left none|shows 8", "typed 3|lock: 3|shows 8", "typed 3|left: 3|sent 1|lock: 3|told 5|shows 5",
    "focus|told 9|shows 8|blur|shows 9", "focus|typed 3|told 9|shows 3|left: 3|sent 1|told 3|answered 1|shows 3",
])  # fmt: skip
def test_lost_entry_the_state_of_a_box_step_by_step(browser, steps):
    view = browser.new_page()
    view.add_script_tag(content=front_files.script_of("entry.js")
                        + "window.entryState = entryState; window.ENTRY = ENTRY;")  # fmt: skip
    odd = view.evaluate("""(steps) => { const s = entryState("8"), odd = []; for (const step of steps.split("|")) {
      const [act, text] = step.split(" ");
      const same = (a, b) => a === b || odd.push([step, a]);
      if (act === "left:") { const said = ENTRY.left(s); same(said && said.text, text); }
      else if (act === "left") same(ENTRY.left(s), null);
      else if (act === "lock:") same(ENTRY.lock(s), text);
      else if (act === "shows") same(s.shown, text);
      else if (act === "sent") ENTRY.sent(s, Number(text));
      else if (act === "answered") ENTRY.answered(s, Number(text));
      else ENTRY[act](s, text);
    } return odd; }""", steps)  # fmt: skip
    assert odd == []
    view.close()


# --- pages of a class and of a room ------------------------------------------------------------


def at_work(browser, server, lag=0):
    """A learner's page with a problem open."""
    from browser.test_classroom import CODE, EXERCISES

    view = browser.new_context(viewport={"width": 1280, "height": 900}).new_page()
    view.wrong = []
    view.on("pageerror", lambda e: view.wrong.append(str(e)))
    view.add_init_script(LINE.replace("LAG", str(lag)))
    view.goto(server.page(EXERCISES.file), wait_until="commit")
    view.wait_for_selector("body[data-ready]", timeout=WAIT)
    if not view.is_visible(".rs-problem"):
        view.fill("#rs-code", CODE)
        view.click("button:text-is('Begin')")
    view.wait_for_selector(".rs-problem:not([hidden])", timeout=WAIT)
    return view


def test_lost_entry_an_answer_that_was_not_checked_waits_for_the_learner(browser, server):
    view = at_work(browser, server, 300)
    view.click("summary:text-is('All problems')")
    view.click(".rs-way button:text-is('Feed for today')")
    view.wait_for_selector(".rs-problem h2:text-is('Feed for today')")
    view.fill("#rs-desk-0", "7.5")
    view.fill("#rs-desk-0-unit", "lb")
    view.click("button:text-is('Next problem')")
    view.wait_for_selector(".rs-problem h2:not(:text-is('Feed for today'))")
    assert view.input_value(".rs-problem input, .rs-problem select") == ""
    view.click("button:text-is('Problem before')")
    view.wait_for_selector(".rs-problem h2:text-is('Feed for today')")
    assert [view.input_value("#rs-desk-0"), view.input_value("#rs-desk-0-unit")] == ["7.5", "lb"]
    view.click("button:text-is('Check')")
    view.wait_for_selector(".rs-mark:not([hidden])")
    assert view.input_value("#rs-desk-0") == "7.5"
    assert view.wrong == []
    view.context.close()


@pytest.mark.parametrize("lag", [0, 800])
def test_lost_entry_answers_from_paper_are_all_taken_on_a_slow_line(browser, server, lag):
    from browser.test_classroom import INSTRUCTOR

    view = browser.new_context(viewport={"width": 1280, "height": 900}).new_page()
    view.add_init_script(LINE.replace("LAG", str(lag)))
    view.goto(server.page(INSTRUCTOR.file), wait_until="commit")
    view.wait_for_selector("body[data-ready]", timeout=WAIT)
    view.fill("#rs-count", "5")
    view.click("button:text-is('Make a class of codes')")
    view.wait_for_selector(".rs-codes li", state="attached", timeout=WAIT)
    view.click("summary:text-is('Type answers from paper')")
    view.click("[data-at='0 0']")
    for row in range(5):
        view.keyboard.type(f"{row + 1} lb", delay=40)
        view.keyboard.press("Enter")  # goes down
    typed = [f"{row + 1} lb" for row in range(5)]

    def kept():
        stored = json.dumps(view.evaluate("Object.values(localStorage)"))
        return [text for text in typed if text in stored]

    until(view, lambda: kept() == typed)
    assert kept() == typed, "the program has them"
    view.wait_for_timeout(lag + 100)  # an answer that comes late writes over none
    assert [view.input_value(f"[data-at='{row} 0']") for row in range(5)] == typed
    view.context.close()


def test_lost_entry_a_price_that_was_not_set_stays_when_the_instructor_speaks_to_all(
    browser, server
):
    view = browser.new_context().new_page()
    view.goto(f"{server.url}room")
    view.wait_for_selector("#rs-room[data-ready]", timeout=WAIT)
    view.fill("#rs-prices-feed", "1.23")
    view.fill("#rs-say", "Back soon")
    view.press("#rs-say", "Enter")
    says(view, "#rs-room .rs-told", "Shown on every page.")
    assert view.input_value("#rs-prices-feed") == "1.23"
    view.select_option("#rs-system", "metric")
    says(view, "#rs-room .rs-notice", "Set the room first")
    assert view.input_value("#rs-system") == "us"
    view.fill("#rs-prices-feed", "")
    view.context.close()
