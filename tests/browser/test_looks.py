"""How the pages look: each is walked through in several widths, light and dark, and measured.

A walk opens every page once and notes all that is to be measured on it; the tests read the notes.
"""

import os
import re
from dataclasses import dataclass, field

import pytest
from axe_playwright_python.sync_playwright import Axe
from views import WAIT, full, opened, turn

from rsdesign.pages.series import SERIES

pytestmark = pytest.mark.filterwarnings("default")  # sockets of browsers end late

WHOLE = bool(os.environ.get("RSDESIGN_WHOLE"))
"""Axe in each width and scheme.  The suite leaves two of the four out: what axe reads but for colour
is the same in both schemes, which is compared on every page, and no colour changes with width."""
AXE = [(1280, "light"), (375, "dark"), *([(1280, "dark"), (375, "light")] if WHOLE else [])]
WALKS = [*AXE, (320, "light"), (768, "light")]
NAME = "{0[0]}-{0[1]}".format

SMALL = """[...document.querySelectorAll('button,select,input,a,summary')].filter(e => {
    const r = e.getBoundingClientRect();
    return r.width && !e.closest('p,.rs-skip') && (r.width < 24 || r.height < 24)
      && getComputedStyle(e).visibility === 'visible' && r.left > -100; }).map(e => e.outerHTML.slice(0, 90))"""
WIDE = "[document.documentElement.scrollWidth, document.documentElement.clientWidth]"
TRACKS = (
    "[...document.querySelectorAll('input[type=range]')].map(e => e.clientWidth).filter(Boolean)"
)
DRAWN = """() => ![...document.querySelectorAll('.rs-chart')].some(
    e => e.checkVisibility() && e.querySelector('.rs-plot').clientWidth && !e.dataset.ready)"""
UNFOLD = """document.querySelectorAll('details:not([open])').forEach(
    d => { d.open = true; d.classList.add('unfolded'); })"""
FOLD = """document.querySelectorAll('details.unfolded').forEach(
    d => { d.open = false; d.classList.remove('unfolded'); })"""
# What is no colour: every element but those inside a chart, which is one picture to axe.
FORM = """() => [...document.querySelectorAll('body *')].filter(e => !e.closest('.rs-plot *')).map(e => {
    const r = e.getBoundingClientRect(), s = getComputedStyle(e);
    return [e.cloneNode().outerHTML, r.x, r.y, r.width, r.height, s.display, s.visibility, s.opacity,
      s.fontSize, s.fontWeight, s.textDecorationLine].join(' '); })"""


@dataclass
class Walk:
    """What was noted on a walk through all pages."""

    width: int
    sideways: dict = field(default_factory=dict)
    small: dict = field(default_factory=dict)
    tracks: dict = field(default_factory=dict)
    violations: dict = field(default_factory=dict)
    schemes: dict = field(default_factory=dict)
    asked: list = field(default_factory=list)
    wrong: list = field(default_factory=list)


@pytest.fixture(scope="module")
def walk(request, browser, server):
    width, scheme = request.param
    view = opened(browser, server, SERIES[0], width=width, color_scheme=scheme)
    notes, axe = Walk(width, asked=view.asked, wrong=view.wrong), Axe()
    for page in SERIES:
        turn(view, page)
        full(view)
        view.wait_for_timeout(100)
        view.wait_for_function(DRAWN, timeout=WAIT)
        notes.sideways[page.name] = view.evaluate(WIDE)
        notes.small[page.name] = view.evaluate(SMALL)
        notes.tracks[page.name] = view.evaluate(TRACKS)
        if request.param in AXE:
            first = view.query_selector(".rs-how:not([hidden])")
            if first:
                first.click()
                view.wait_for_selector(".rs-step", timeout=WAIT)
            view.evaluate(UNFOLD)
            view.wait_for_timeout(100)
            found = axe.run(view, options={"resultTypes": ["violations"]}).response["violations"]
            notes.violations[page.name] = {
                w["id"]: [n["html"][:160] for n in w["nodes"][:3]] for w in found
            }
            notes.schemes[page.name] = other_scheme(view, scheme)
            view.evaluate(FOLD)
    share = view.locator("summary:text-is('Keep and share')")
    share.click()
    view.click("button:text-is('Show QR code')")
    view.wait_for_selector(".rs-qr svg", timeout=WAIT)
    view.context.close()
    return notes


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


@pytest.mark.parametrize("walk", AXE, indirect=True, ids=NAME)
def test_axe_finds_nothing(walk):
    assert len(walk.violations) == len(SERIES)
    assert {name: found for name, found in walk.violations.items() if found} == {}
    assert walk.wrong == []


@pytest.mark.parametrize("walk", AXE, indirect=True, ids=NAME)
def test_light_and_dark_differ_in_colour_alone(walk):
    assert len(walk.schemes) == len(SERIES)
    assert {name: changed for name, changed in walk.schemes.items() if changed} == {}


@pytest.mark.parametrize("walk", WALKS, indirect=True, ids=NAME)
def test_no_page_scrolls_sideways_and_targets_are_large_enough(walk):
    assert len(walk.sideways) == len(SERIES)
    assert {name: wide for name, wide in walk.sideways.items() if wide[0] > wide[1]} == {}
    assert {name: small for name, small in walk.small.items() if small} == {}
    if walk.width < 1000:  # elsewhere a slider stands in a column
        assert min(track for tracks in walk.tracks.values() for track in tracks) >= 150


@pytest.mark.parametrize("walk", WALKS, indirect=True, ids=NAME)
def test_nothing_is_asked_of_another_host(walk):
    hosts = {
        re.sub(r"^\w+://([^/:]+).*", r"\1", u)
        for u in walk.asked
        if not u.startswith(("data:", "blob:"))
    }
    assert hosts == {"127.0.0.1"}


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
