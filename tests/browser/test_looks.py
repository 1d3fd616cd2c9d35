"""How the pages look: each is walked through in several widths, light and dark, and measured.

A walk opens every page as it comes, then unfolds it; all that misses its measure is told at once, so
that one run gives the whole list.
"""

import os
import re
from dataclasses import dataclass, field

import pytest
from axe_playwright_python.sync_playwright import Axe
from views import WAIT, opened

from rsdesign.pages.series import SERIES, page_named
from rsdesign.studies.tradeoffs import PAIRS

pytestmark = pytest.mark.filterwarnings("default")  # sockets of browsers end late

WHOLE = bool(os.environ.get("RSDESIGN_WHOLE"))
"""Axe in each width and scheme.  The suite leaves three of the six out: what axe reads but for colour
is the same in both schemes, which is compared on every page, and no colour changes with width."""
AXE = [(1280, "light"), (375, "dark"), (320, "light")]
AXE += [(1280, "dark"), (375, "light"), (320, "dark")] if WHOLE else []
WALKS = [*AXE, (1600, "light")]
WIDTHS = (320, 345, 375, 414, 480, 600, 759, 760, 768, 900, 1024, 1111, 1112, 1280, 1440, 1600)
NAME = "{0[0]}-{0[1]}".format

SCREEN = 800  # pixels: the height of a desk's window and of a phone
TALLEST = {1280: 1500, 375: 3200}
SLIDERS = 3
STUCK = 0.30  # share of a phone's height that figures and drawing may take
SMALLEST_LETTER = 12
SMALLEST_TARGET = {True: 44, False: 24}  # by finger, by mouse
TOLERANCE = 0.5  # pixels, by which a browser rounds a place

# What is seen: laid out, not clipped away, not in a fold that is closed.
SEEN = """const seen = e => { const r = e.getBoundingClientRect();
    return r.width > 1 && r.height > 1 && e.checkVisibility({visibilityProperty: true, opacityProperty: true})
      && !e.closest('.rs-hush, .rs-skip'); };
const told = e => `${e.tagName.toLowerCase()}${e.id ? '#' + e.id : ''}${typeof e.className === 'string' && e.className
    ? '.' + e.className.trim().split(/\\s+/).join('.') : ''} "${(e.textContent || e.getAttribute('aria-label') || '').trim().slice(0, 40)}"`;
const round = x => Math.round(10 * x) / 10;
"""
STAGE = f"""() => {{ {SEEN} const box = e => {{ if (!e || !seen(e)) return null;
    const r = e.getBoundingClientRect(); return [round(r.top), round(r.bottom), round(r.left), round(r.right)]; }};
  scrollTo(0, 0);
  return {{ height: document.documentElement.scrollHeight,
    sliders: [...document.querySelectorAll('input[type=range]')].map(box).filter(Boolean),
    drawing: box(document.querySelector('.rs-see .rs-picture svg')),
    answer: [...document.querySelectorAll('.rs-see .rs-ownplace .rs-margins li, .rs-see .rs-ownplace svg')].map(box).filter(Boolean),
    see: box(document.querySelector('.rs-see')),
    tradeoff: box(document.querySelector('.rs-tradeoff .rs-panels svg')) }}; }}"""
LETTERS = f"""least => {{ {SEEN} const small = {{}};
  const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walk.nextNode()) {{
    const e = walk.currentNode.parentElement;
    if (!walk.currentNode.data.trim() || e.closest('script, style, noscript') || !seen(e)) continue;
    let size = parseFloat(getComputedStyle(e).fontSize);
    if (e instanceof SVGElement) {{ const m = e.getScreenCTM(); size *= Math.hypot(m.a, m.b); }}
    if (size < least - 0.05) {{
      const where = `${{round(size)}} px in ${{e.parentElement.closest('[class]:not(svg *)')?.className || ''}}`;
      (small[where] ??= []).push(walk.currentNode.data.trim().slice(0, 24)); }}
  }}
  return Object.entries(small).map(([where, words]) => `letters of ${{where}}: ${{words.length}}, as ${{words.slice(0, 3).join(' | ')}}`); }}"""
# What a label goes with may be pressed on the label too.
TARGETS = f"""least => {{ {SEEN} const small = {{}};
  for (const e of document.querySelectorAll('button, nav a, a.rs-button, select, input, summary, textarea')) {{
    if (!seen(e)) continue;
    const r = (e.matches('[type=checkbox], [type=radio]') && e.closest('label') || e).getBoundingClientRect();
    const side = round(Math.min(r.width, r.height));
    if (side < least - {TOLERANCE}) (small[`${{side}} px ${{told(e)}}`] ??= []).push(e);
  }}
  return Object.entries(small).map(([what, all]) => `target of ${{what}} (${{all.length}})`); }}"""
WIDE = "document.documentElement.scrollWidth - document.documentElement.clientWidth"
# A page is at rest once no answer is due and no study runs; one that may be stopped is stopped by its button.
QUIET = """stop => { const at = document.querySelector('.rs[data-ready]').dataset.ack, now = performance.now();
  const study = document.querySelector('.rs-study:not([hidden]):is([data-state=running], [data-state=waiting])');
  if (stop && study?.dataset.state === 'running' && !(now - window.stoppedAt < 400)) {
    window.stoppedAt = now; study.querySelector('button:not([hidden])').click(); }
  if (window.lastAck !== at) { window.lastAck = at; window.lastAckAt = now; }
  return now - window.lastAckAt > 500 && !study && !document.querySelector('.rs-busy')
    && ![...document.querySelectorAll('.rs-chart')].some(e => e.checkVisibility()
      && e.querySelector('.rs-plot').clientWidth && !e.dataset.ready); }"""
UNFOLD = """document.querySelectorAll('.rs details:not([open])').forEach(
    d => { d.open = true; d.classList.add('unfolded'); })"""
FOLD = """document.querySelectorAll('details.unfolded').forEach(
    d => { d.open = false; d.classList.remove('unfolded'); })"""
MENU = "document.querySelector('.rs-moretools').open = false"  # it lies over what it covers
# What is no colour: every element but those inside a chart, which is one picture to axe.
FORM = """() => [...document.querySelectorAll('body *')].filter(e => !e.closest('.rs-plot *')).map(e => {
    const r = e.getBoundingClientRect(), s = getComputedStyle(e);
    return [e.cloneNode().outerHTML, r.x, r.y, r.width, r.height, s.display, s.visibility, s.opacity,
      s.fontSize, s.fontWeight, s.textDecorationLine].join(' '); })"""


@dataclass
class Walk:
    """What was noted on a walk through all pages: by page, what misses its measure."""

    width: int
    missed: dict = field(default_factory=lambda: {page.name: [] for page in SERIES})
    axe: int = 0
    schemes: dict = field(default_factory=dict)
    asked: list = field(default_factory=list)
    wrong: list = field(default_factory=list)

    def told(self) -> str:
        return "\n".join(
            f"{self.width} px, {name}: {what}"
            for name, found in self.missed.items()
            for what in dict.fromkeys(found)
        )


def to_page(view, page, worked_out: bool = False):
    """To another page by the strip, at rest and from its top; a study is stopped, or has found its answer."""
    view.evaluate(f"document.querySelector('#rs-nav a[data-page={page.name}]').click()")
    view.wait_for_selector(f".rs[data-page={page.name}]", timeout=WAIT)
    view.wait_for_function(QUIET, arg=not worked_out, timeout=6 * WAIT)  # a study takes a while
    view.evaluate("scrollTo(0, 0)")


def as_it_comes(view, page, width: int, touch: bool) -> list[str]:
    """What misses its measure on a page on which nothing was opened."""
    found, now = [], view.evaluate(STAGE)
    if width in TALLEST and now["height"] > TALLEST[width]:
        found.append(f"{now['height']} px tall, at most {TALLEST[width]}")
    if width == 1280:
        found += first_screen(page, now)
    if width == 375:
        tall = now["see"][1] - now["see"][0] if now["see"] else 0
        if not 0 < tall <= STUCK * SCREEN + TOLERANCE:
            found.append(f"figures and drawing take {tall:.0f} px, at most {STUCK * SCREEN:.0f}")
    if page.name in PAIRS and not now["tradeoff"]:
        found.append("the trade-off is not seen without opening anything")
    return found + seen_sizes(view, touch)


def first_screen(page, now: dict) -> list[str]:
    """Sliders, drawing and trade-off inside a desk's first screen."""
    found = []

    def inside(box) -> bool:
        return bool(box) and box[0] >= -TOLERANCE and box[1] <= SCREEN + TOLERANCE

    sliders = sum(inside(box) for box in now["sliders"])
    if sliders < SLIDERS:
        found.append(f"{sliders} sliders in the first screen, at least {SLIDERS}")
    drawn = now["answer"] if page.owned else [now["drawing"]]
    if not drawn or not all(inside(box) for box in drawn):
        name = "the bars of the answer" if page.owned else "the drawing"
        ends = [box and f"{box[0]:.0f} to {box[1]:.0f}" for box in drawn]
        found.append(f"{name} not whole in the first screen: {ends} px")
    if page.name in PAIRS and now["tradeoff"] and not inside(now["tradeoff"]):
        found.append(f"the trade-off ends at {now['tradeoff'][1]:.0f} px, below the first screen")
    return found


def seen_sizes(view, touch: bool) -> list[str]:
    """Letters, targets and width of what is seen now."""
    found = view.evaluate(LETTERS, SMALLEST_LETTER)
    found += view.evaluate(TARGETS, SMALLEST_TARGET[touch])
    wide = view.evaluate(WIDE)
    return [*found, f"{wide} px wider than the screen"] if wide > 0 else found


def while_moved(view) -> list[str]:
    """Where the drawing stands on a phone while the lowest slider in view is moved."""
    found = view.evaluate(
        f"""() => {{ {SEEN} const all = [...document.querySelectorAll('.rs-choices input[type=range]')].filter(seen);
        const slider = all.at(-1); if (!slider) return null;
        slider.scrollIntoView({{block: 'center'}}); slider.focus(); return all.length; }}"""
    )
    if not found:
        return ["no slider among the choices"]
    value = "document.activeElement.value"
    was = view.evaluate(value)
    view.keyboard.press("ArrowRight")
    if view.evaluate(value) == was:  # it stands at its end
        view.keyboard.press("ArrowLeft")
    view.wait_for_timeout(100)
    box = view.evaluate(
        f"""() => {{ {SEEN} const drawing = document.querySelector('.rs-see .rs-picture svg');
        const e = drawing && seen(drawing) ? drawing : document.querySelector('.rs-see .rs-ownplace');
        const r = e.getBoundingClientRect(), s = document.activeElement.getBoundingClientRect();
        const at = document.elementFromPoint(r.left + r.width / 2, (Math.max(r.top, 0) + r.bottom) / 2);
        return {{top: r.top, bottom: r.bottom, slider: s.top, seen: !!at && !!at.closest('.rs-see')}}; }}"""
    )
    view.wait_for_function(QUIET, arg=True, timeout=3 * WAIT)
    if view.is_enabled(".rs-toolbar > button"):  # a step too small for the design changes nothing
        view.click(".rs-toolbar > button")
    view.wait_for_function(QUIET, arg=True, timeout=3 * WAIT)
    if box["seen"] and box["top"] >= -TOLERANCE and box["bottom"] <= box["slider"]:
        return []
    return [f"while a slider moves, the drawing is not in view above it: {box}"]


@pytest.fixture(scope="module")
def walk(request, browser, server):
    width, scheme = request.param
    touch = width < 760
    view = opened(
        browser, server, SERIES[0], folded=True, width=width, color_scheme=scheme, has_touch=touch
    )
    view.set_viewport_size({"width": width, "height": SCREEN})
    notes, axe = Walk(width, asked=view.asked, wrong=view.wrong), Axe()
    for page in SERIES:
        to_page(view, page, worked_out=width in TALLEST)
        notes.missed[page.name] += as_it_comes(view, page, width, touch)
        if width == 375:
            notes.missed[page.name] += while_moved(view)
    for page in SERIES if request.param in AXE else ():
        to_page(view, page)
        view.evaluate(UNFOLD)
        view.wait_for_function(QUIET, arg=True, timeout=3 * WAIT)
        first = view.query_selector(".rs-how:not([hidden])")
        if first:
            first.evaluate("e => e.click()")
            view.wait_for_selector(".rs-step", timeout=WAIT, state="attached")
        notes.missed[page.name] += [f"unfolded, {what}" for what in seen_sizes(view, touch)]
        notes.missed[page.name] += axe_of(axe, view, context=".rs-moretools", name="the menu")
        view.evaluate(MENU)
        notes.missed[page.name] += axe_of(axe, view)
        notes.axe += 1
        notes.schemes[page.name] = other_scheme(view, scheme)
        view.evaluate(FOLD)
    view.evaluate("document.querySelector('.rs-moretools').open = true")
    share = view.locator("summary:text-is('Keep and share')")
    share.click()
    view.click("button:text-is('Show QR code')")
    view.wait_for_selector(".rs-qr svg", timeout=WAIT)
    view.context.close()
    return notes


def axe_of(axe, view, context=None, name="the page") -> list[str]:
    """What axe finds, in words."""
    told = axe.run(view, context=context, options={"resultTypes": ["violations"]}).response
    return [
        f"axe on {name}: {w['id']} ({len(w['nodes'])}), as {w['nodes'][0]['html'][:120]}"
        for w in told["violations"]
    ]


def other_scheme(view, scheme: str) -> list:
    """What the other scheme changes that is no colour."""
    shown = view.evaluate(FORM)
    view.emulate_media(color_scheme="light" if scheme == "dark" else "dark")
    other = view.evaluate(FORM)
    view.emulate_media(color_scheme=scheme)
    if len(shown) != len(other):
        return [len(shown), len(other)]
    assert len(shown) > 100
    return [pair for pair in zip(shown, other, strict=True) if pair[0] != pair[1]][:3]


@pytest.mark.parametrize("walk", WALKS, indirect=True, ids=NAME)
def test_every_page_keeps_its_measures(walk):
    assert walk.wrong == []
    assert walk.axe in (0, len(SERIES))
    assert not walk.told(), "\n" + walk.told()


@pytest.mark.parametrize("walk", AXE, indirect=True, ids=NAME)
def test_light_and_dark_differ_in_colour_alone(walk):
    assert len(walk.schemes) == len(SERIES)
    assert {name: changed for name, changed in walk.schemes.items() if changed} == {}


@pytest.mark.parametrize("walk", WALKS, indirect=True, ids=NAME)
def test_nothing_is_asked_of_another_host(walk):
    hosts = {
        re.sub(r"^\w+://([^/:]+).*", r"\1", u)
        for u in walk.asked
        if not u.startswith(("data:", "blob:"))
    }
    assert hosts == {"127.0.0.1"}


def test_no_page_scrolls_sideways_at_any_width(browser, server):
    view = opened(browser, server, SERIES[0], folded=True, width=WIDTHS[-1])
    wide = []
    for page in SERIES:
        to_page(view, page)
        for width in WIDTHS:
            view.set_viewport_size({"width": width, "height": SCREEN})
            view.wait_for_timeout(60)
            over = view.evaluate(WIDE)
            if over > 0:
                wide.append(f"{page.name} at {width}: {over} px too wide")
    assert not wide, "\n" + "\n".join(wide)
    view.context.close()


# --- paper ------------------------------------------------------------------------------------

# The pattern of each state where it stands on the page, and whether paper prints it.
GREY = f"""() => {{ {SEEN} const found = {{}};
  for (const state of ['short', 'tight', 'enough'])
    for (const e of document.querySelectorAll(`.rs-is-${{state}}, .rs-${{state}} > .rs-mark, .rs-bar.rs-${{state}}`)) {{
      if (!seen(e)) continue;
      const s = getComputedStyle(e);
      (found[state] ??= []).push([s.backgroundImage, s.borderTopStyle, s.borderTopWidth, s.printColorAdjust, told(e)]); }}
  return found; }}"""


def test_grey_print_tells_the_states_apart(browser, server):
    """Short is hatched, tight is dotted, enough is plain; paper prints what fills them."""
    view = opened(browser, server, SERIES[0], folded=True)
    wrong, seen = [], set()
    for page in SERIES:
        to_page(view, page)
        view.evaluate("window.dispatchEvent(new Event('beforeprint'))")
        view.emulate_media(media="print")
        found = view.evaluate(GREY)
        view.emulate_media(media="screen")
        view.evaluate("window.dispatchEvent(new Event('afterprint'))")
        seen |= set(found)
        for state, marks in found.items():
            for image, _, _, printed, name in marks:
                pattern = {"short": "repeating-linear", "tight": "radial", "enough": "none"}[state]
                if pattern not in image:
                    wrong.append(f"{page.name}: {state} is filled with '{image[:40]}', {name}")
                if printed != "exact":
                    wrong.append(f"{page.name}: paper leaves the filling of {state} out, {name}")
    assert seen == {"short", "tight", "enough"}
    wrong = list(dict.fromkeys(wrong))
    assert not wrong, "\n" + "\n".join(wrong)
    view.context.close()


def test_print_cuts_nothing(browser, server):
    for paper, width in (("A4", 794), ("Letter", 816)):
        view = opened(
            browser, server, next(p for p in SERIES if p.name == "pump"), width=width, folded=True
        )
        view.emulate_media(media="print")
        cut = view.evaluate(
            """[...document.querySelectorAll('.rs *')].filter(e => e.getBoundingClientRect().right
            > document.documentElement.clientWidth + 1 && e.getBoundingClientRect().width).map(e => e.outerHTML.slice(0, 80))"""
        )
        assert cut == [], paper
        assert len(view.pdf(format=paper)) > 10_000
        view.context.close()


def test_checks_are_behind_one_line_and_paper_shows_them_all(browser, server):
    view = opened(browser, server, SERIES[0], folded=True)
    view.wait_for_function(QUIET, timeout=WAIT)
    fold, shown = ".rs-allchecks", ".rs-allchecks .rs-check"
    told = re.fullmatch(
        r"All (\d+) checks(?:: (\d+) hold| hold)", view.inner_text(f"{fold} summary")
    )
    every, held = int(told[1]), int(told[2] or told[1])
    assert every >= held > 4
    assert view.locator(shown).count() == 0, "dozens of checks are drawn where somebody looks"
    view.click(f"{fold} summary")
    view.wait_for_selector(shown)
    assert view.locator(shown).count() == every
    assert view.locator(f"{shown}.rs-enough").count() == held
    view.click(f"{fold} summary")
    view.evaluate("window.dispatchEvent(new Event('beforeprint'))")
    view.emulate_media(media="print")
    assert (
        view.evaluate(
            f"[...document.querySelectorAll('{shown}')].filter(e => e.checkVisibility()).length"
        )
        == every
    )
    # A mark says enough by being full: paper must print its filling, or all look short.
    mark = "getComputedStyle(document.querySelector('.rs-enough > .rs-mark')).printColorAdjust"
    assert view.evaluate(mark) == "exact"
    assert not view.is_visible(".rs-own-way_in")
    view.evaluate("window.dispatchEvent(new Event('afterprint'))")
    assert view.get_attribute(fold, "open") is None
    view.context.close()


# --- the strip and the order of a phone -----------------------------------------------------------


@pytest.mark.parametrize("width", [320, 375])
def test_on_a_phone_the_strip_stands_at_the_bottom_and_goes_sideways(browser, server, width):
    view = opened(browser, server, SERIES[3], folded=True, width=width, has_touch=True)
    strip = view.locator("#rs-nav").bounding_box()
    assert strip["height"] <= 64
    assert strip["y"] + strip["height"] == pytest.approx(900, abs=1)
    here = view.locator("#rs-nav a[aria-current=page]")
    assert here.get_attribute("data-page") == SERIES[3].name
    box = here.bounding_box()
    assert box["x"] >= 0
    assert box["x"] + box["width"] <= width, "the page that is open is in view"
    names = view.eval_on_selector_all(
        "#rs-nav li a", "all => all.filter(a => a.offsetHeight).map(a => a.dataset.page)"
    )
    assert names == [page.name for page in SERIES]
    small = view.eval_on_selector_all(
        "#rs-nav a, #rs-class a",
        "all => all.map(a => a.getBoundingClientRect()).filter(r => r.width && (r.height < 44 || r.width < 44)).length",
    )
    assert small == 0
    assert axe_of(Axe(), view, context="header", name="the header") == []
    # By keyboard: the next page is the next link, it comes into view, and is read from its top.
    view.evaluate("scrollTo(0, 900)")
    here.focus()
    view.keyboard.press("Tab")
    assert view.evaluate("document.activeElement.dataset.page") == SERIES[4].name
    view.keyboard.press("Enter")
    view.wait_for_selector(f".rs[data-page={SERIES[4].name}]", timeout=WAIT)
    assert view.evaluate("scrollY") == 0
    box = view.locator("#rs-nav a[aria-current=page]").bounding_box()
    assert box["x"] >= 0
    assert box["x"] + box["width"] <= width
    # At the foot of a page stand the ways to the page before and after it, none before the first.
    view.click(f".rs-next a:text-is('Before: {SERIES[3].title}')")
    view.wait_for_selector(f".rs[data-page={SERIES[3].name}]", timeout=WAIT)
    to_page(view, SERIES[0])
    assert view.locator(".rs-next a").count() == 1
    # What is at the foot is not under the strip.
    view.evaluate("scrollTo(0, document.documentElement.scrollHeight)")
    foot = view.locator(".rs-next a").bounding_box()
    assert foot["y"] + foot["height"] <= view.locator("#rs-nav").bounding_box()["y"]
    view.context.close()


def test_on_a_wide_screen_every_page_stands_in_the_strip(browser, server):
    view = opened(browser, server, SERIES[1], folded=True)
    boxes = view.eval_on_selector_all(
        "#rs-nav a",
        "all => all.map(a => [a.dataset.page, a.title, a.getBoundingClientRect()]).map(([n, t, r]) => [n, t, r.left, r.right, r.top])",
    )
    assert [box[:2] for box in boxes] == [[page.name, page.title] for page in SERIES]
    assert all(0 <= box[2] < box[3] <= 1280 for box in boxes)
    assert len({box[4] for box in boxes}) == 1
    assert view.locator("#rs-nav").bounding_box()["y"] < 100
    view.context.close()


def test_on_a_phone_the_choices_stand_right_under_the_picture(browser, server):
    """Lists and tables come behind; where they are the answer to the choices, they stand for the picture."""
    view = opened(browser, server, SERIES[0], folded=True, width=375)
    for page in SERIES:
        to_page(view, page)
        top = view.evaluate(
            """Object.fromEntries(['picture', 'choices', 'side', 'figures', 'ownplace'].map(n => {
            const e = document.querySelector('.rs-' + n); return [n, e.offsetHeight > 30 ? e.getBoundingClientRect().top : null]; }))"""
        )
        order = [
            name
            for name, _ in sorted(
                ((n, y) for n, y in top.items() if y is not None), key=lambda x: x[1]
            )
        ]
        wanted = ["picture", "choices", "side", "ownplace", "figures"]
        if page.owned:
            wanted = ["picture", "ownplace", "choices", "side", "figures"]
        assert order == [name for name in wanted if name in order], page.name
    view.context.close()


@pytest.mark.parametrize("width", [375, 1280])
def test_what_comes_before_fish_stands_open_even_where_a_sum_of_money_is_wrong(
    browser, server, width
):
    view = opened(browser, server, page_named("have"), folded=True, width=width)
    for text, answer in (("", "No answer yet"), ("much", "not a sum of money")):
        view.fill("#rs-budget", text)
        view.press("#rs-budget", "Enter")
        # Not QUIET, which counts from the last answer seen: this one may still be on its way.
        view.wait_for_selector(f".rs-own-answer >> text={answer}", timeout=WAIT)
        assert view.is_visible(".rs-cautions >> text=Do not buy fish yet")
        assert view.is_visible(".rs-cautions >> text=Stop and ask if a pump leaks oil")
    view.context.close()


SHIFTS = """window.shifts = []; new PerformanceObserver(list => {
    for (const e of list.getEntries()) shifts.push([e.startTime, e.value]); }).observe({type: 'layout-shift', buffered: true});
    const seen = new MutationObserver(() => { if (!document.body || !document.body.dataset.drawn) return;
        seen.disconnect();
        requestAnimationFrame(() => requestAnimationFrame(() => { window.drawnAt = performance.now(); })); });
    seen.observe(document, {attributes: true, subtree: true});"""
"""Layout shifts, and when the frame in which a page was drawn was over, however long it took."""


@pytest.mark.parametrize("width", [375, 1280])
@pytest.mark.parametrize("name", ["start", "have", "biofilter", "cost"])
def test_nothing_moves_once_a_page_is_drawn(browser, server, width, name):
    """What somebody is about to press stays where it is while the kernel's first answers come.

    The bar is a tenth of what is called good (0.1: Cumulative Layout Shift, web.dev/articles/cls).
    """
    view = browser.new_context(viewport={"width": width, "height": 900}).new_page()
    view.add_init_script(SHIFTS)
    view.goto(server.page(page_named(name).file))
    view.wait_for_selector("body[data-ready]", timeout=WAIT)
    view.wait_for_timeout(1500)
    moved = view.evaluate("shifts.filter(([at]) => at > drawnAt).map(([, value]) => value)")
    assert sum(moved) < 0.01, moved
    view.context.close()
