"""A typed value is in the design or refused beside its box, whatever the line and the team do."""

import json
import random
from pathlib import Path

import pytest
from views import WAIT, code_in, join, says

from rsdesign.pages.jupyter import front_files
from rsdesign.pages.series import page_named

pytestmark = pytest.mark.filterwarnings("default")  # sockets of browsers end late
FISH, COST = page_named("fish"), page_named("cost")
LAGS = (0, 300, 800)

SLOW_LINE = """
(() => {
  const lag = LAG, real = WebSocket;
  if (!lag) return;
  window.WebSocket = class extends real {
    constructor(...about) { super(...about); this.before = { to: Promise.resolve(), from: Promise.resolve() }; }
    later(way, act) {
      const due = performance.now() + lag / 2;
      this.before[way] = this.before[way].then(() => new Promise((done) =>
        setTimeout(() => { act(); done(); }, Math.max(0, due - performance.now()))));
    }
    send(data) { this.later("to", () => { if (this.readyState === 1) super.send(data); }); }
    set onmessage(f) { super.onmessage = f && ((e) => this.later("from", () => f(e))); }
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
    view.add_init_script(SLOW_LINE.replace("LAG", str(lag)))
    view.goto(server.page(page.file, query), wait_until="commit")
    view.wait_for_selector("body[data-ready]", timeout=WAIT)
    if ready:
        view.wait_for_selector(".rs-team:not([hidden])", timeout=WAIT, state="attached")
    return view


def over(view, box, text, delay=60):
    """Typed over what stands there, a key at a time."""
    view.click(box, click_count=3)
    view.keyboard.type(text, delay=delay)


def quiet(view):
    """Until nothing that was said waits for its answer."""
    view.wait_for_function("!document.querySelector('.rs-busy')", timeout=WAIT)
    last = None
    for _ in range(60):
        view.wait_for_timeout(250)
        now = view.evaluate("document.querySelector('.rs').dataset.ack + document.querySelector('.rs-strip').textContent")
        if now == last and view.evaluate("performance.now()") > 0:
            same += 1
            if same >= 5:
                return
        else:
            same, last = 0, now


def in_design(view, **feet):
    """The design of the address holds these lengths, and the boxes show them."""
    from rsdesign.designlink import design_of

    quiet(view)
    view.wait_for_timeout(400)
    token = view.evaluate("new URL(location.href).searchParams.get('d')")
    tank = design_of(token).tank
    for name, value in feet.items():
        assert getattr(tank, name) == pytest.approx(value * 0.3048, rel=1e-6), name
        box = at(f"tank.{name}")
        if view.query_selector(box):
            assert float(view.input_value(box)) == pytest.approx(value, rel=1e-4), name


@pytest.mark.parametrize("lag", LAGS)
@pytest.mark.parametrize("pause", [0, 700, 1300])
def test_lost_entry_a_reply_between_typing_and_leaving_drops_nothing(browser, server, lag, pause):
    view = opened(browser, server, lag)
    for width, depth in (("6.5", "3"), ("9", "2.2"), ("8.25", "2")):
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
