"""A finger on the pages: a swipe scrolls, a tap or a thumb drawn sideways moves a slider."""

import os

import pytest
from test_entries import at, opened, quiet
from views import WAIT, menu, says

from rsdesign.pages.series import page_named

WHOLE = bool(os.environ.get("RSDESIGN_WHOLE"))
"""Every swipe straight and slanting; the suite tries each in one of the ways."""

pytestmark = pytest.mark.filterwarnings("default")  # sockets of browsers end late
PATH = "tank.width"
SLIDER = f"[data-path='{PATH}'] input[type=range]"


@pytest.fixture
def phone(browser, server):
    view = opened(browser, server, page=page_named("fish"), width=375, ready=False, has_touch=True, is_mobile=True)  # fmt: skip
    view.touch = view.context.new_cdp_session(view)
    view.evaluate("s => document.querySelector(s).scrollIntoView({block: 'center'})", SLIDER)
    view.wait_for_timeout(300)
    yield view
    assert view.wrong == []
    view.context.close()


def finger(view, *places, pause=16):
    """A finger put down, drawn over the places, and lifted; through the browser's own input."""
    send = view.touch.send
    for i, (x, y) in enumerate(places):
        send("Input.dispatchTouchEvent", {"type": "touchStart" if i == 0 else "touchMove",
                                          "touchPoints": [{"x": x, "y": y}]})  # fmt: skip
        view.wait_for_timeout(pause)
    send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})
    view.wait_for_timeout(100)


def line(start, end, steps=16):
    return [
        tuple(a + (b - a) * i / steps for a, b in zip(start, end, strict=True))
        for i in range(steps + 1)
    ]


def track(view):
    """The middle of the thumb, the ends that its middle can reach, and the height."""
    return view.evaluate("""s => { const e = document.querySelector(s), b = e.getBoundingClientRect();
        return {left: b.left + 12, right: b.right - 12, y: b.top + b.height / 2,
                thumb: b.left + 12 + (b.width - 24) * e.value / 200, tall: b.height}; }""", SLIDER)  # fmt: skip


def state(view):
    return view.input_value(SLIDER), view.input_value(at(PATH)), view.inner_text(".rs-strip")


SWIPES = [
    (where, by, slant)
    for at, where in enumerate(("thumb", "left of it", "right of it"))
    for by in (-250, 250)
    for slant in (0, 40)
    if WHOLE or (slant > 0) == ((at + (by > 0)) % 2 > 0)
]


@pytest.mark.parametrize(("where", "by", "slant"), SWIPES)
def test_swipe_on_a_slider_scrolls_the_page_and_changes_nothing(phone, where, by, slant):
    on = track(phone)
    x = {"thumb": on["thumb"], "left of it": (on["left"] + on["thumb"]) / 2,
         "right of it": (on["right"] + on["thumb"]) / 2}[where]  # fmt: skip
    before, scrolled = state(phone), phone.evaluate("scrollY")
    finger(phone, *line((x, on["y"]), (x + slant, on["y"] + by)))
    quiet(phone)
    assert abs(phone.evaluate("scrollY") - scrolled) > 100, "the page scrolls"
    assert state(phone) == before, "and the design stays"


def test_swipe_sideways_off_the_thumb_changes_nothing(phone):
    on, before = track(phone), state(phone)
    x = on["thumb"] + 80
    finger(phone, *line((x, on["y"]), (x + 90, on["y"] + 5)))
    quiet(phone)
    assert state(phone) == before


def test_a_thumb_drawn_sideways_moves_and_undoes_as_one(phone):
    on, before = track(phone), state(phone)
    finger(phone, *line((on["thumb"] + 5, on["y"]), (on["thumb"] + 105, on["y"] + 30)))
    quiet(phone)
    now = track(phone)
    assert now["thumb"] == pytest.approx(on["thumb"] + 100, abs=4), (
        "the thumb stays under the finger"
    )
    assert state(phone)[1] != before[1]
    phone.click("button:text-is('Undo')")
    phone.wait_for_function("([s, v]) => document.querySelector(s).value === v", arg=[at(PATH), before[1]], timeout=WAIT)  # fmt: skip


def test_a_tap_on_the_track_moves(phone):
    on, before = track(phone), state(phone)
    x = on["thumb"] + 90
    finger(phone, (x, on["y"]))
    quiet(phone)
    assert track(phone)["thumb"] == pytest.approx(x, abs=4)
    assert state(phone)[1] != before[1]


def test_a_tap_leaves_the_box_that_was_typed_in(phone):
    phone.fill(at("tank.depth"), "3")
    on = track(phone)
    finger(phone, (on["thumb"] + 60, on["y"]))
    quiet(phone)
    assert phone.input_value(at("tank.depth")) == "3"
    from rsdesign.design.link import design_of

    depth = None
    for _ in range(50):  # the address is written a moment after the answer
        token = phone.evaluate("new URL(location.href).searchParams.get('d')")
        depth = token and design_of(token).tank.depth
        if depth == pytest.approx(0.9144):
            break
        phone.wait_for_timeout(100)
    assert depth == pytest.approx(0.9144)


def test_what_is_pressed_on_a_phone_is_44_pixels_high(phone):
    """Buttons, boxes, lists and what unfolds, on every page; words that only link are in a text."""
    phone.evaluate("document.querySelectorAll('details').forEach(d => { d.open = true; })")
    low = phone.evaluate("""[...document.querySelectorAll('.rs button, .rs select, .rs input, .rs summary, .rs a')].filter(e => {
        const r = e.getBoundingClientRect(); return r.width && !e.closest('p') && r.height < 43.5; })
        .map(e => [e.outerHTML.slice(0, 80), e.getBoundingClientRect().height])""")  # fmt: skip
    assert low == []


def test_a_mouse_moves_a_slider_as_before(browser, server):
    view = opened(browser, server, page=page_named("fish"), ready=False)
    view.evaluate("s => document.querySelector(s).scrollIntoView({block: 'center'})", SLIDER)
    on, before = track(view), state(view)
    view.mouse.move(on["thumb"], on["y"])
    view.mouse.down()
    view.mouse.move(on["thumb"] + 40, on["y"], steps=5)
    view.mouse.up()
    quiet(view)
    assert track(view)["thumb"] == pytest.approx(on["thumb"] + 40, abs=4)
    assert state(view)[1] != before[1]
    view.context.close()


def test_a_mouse_beside_a_touch_screen_moves_a_slider_as_on_any(browser, server):
    view = opened(browser, server, page=page_named("fish"), ready=False, has_touch=True)
    view.evaluate("s => document.querySelector(s).scrollIntoView({block: 'center'})", SLIDER)
    on, before = track(view), state(view)
    view.mouse.move(on["thumb"] + 50, on["y"])
    view.mouse.down()
    view.mouse.move(on["thumb"] + 80, on["y"], steps=5)
    view.mouse.up()
    quiet(view)
    assert track(view)["thumb"] == pytest.approx(on["thumb"] + 80, abs=4)
    assert state(view)[1] != before[1]
    view.context.close()


# --- what stands where --------------------------------------------------------------------------


def test_a_file_in_another_encoding_says_that_it_is_no_text_file(browser, server):
    view = opened(browser, server, ready=False)
    menu(view)
    view.click("summary:text-is('Keep and share')")
    view.set_input_files("#rs-file", {"name": "old.toml", "mimeType": "text/plain",
                                      "buffer": "name = 'Teich für Fische'\n".encode("latin-1")})  # fmt: skip
    says(view, ".rs-notice", "The file is not a text file; a design file is TOML in UTF-8.")
    view.context.close()


def test_what_unfolds_among_the_tools_takes_a_row_of_its_own(browser, server):
    view = opened(browser, server, ready=False)
    rows = """s => [...document.querySelectorAll(s)].map(e => Math.round(e.getBoundingClientRect().top))"""
    bar, picks = ".rs-toolbar > button, .rs-moretools > summary, h1", ".rs-menu > .rs-picks > *"
    before = view.evaluate(rows, bar)
    menu(view)
    assert view.evaluate(rows, bar) == before
    among = view.evaluate(rows, picks)
    assert len(among) >= 5
    view.click("summary:text-is('Keep and share')")
    assert view.evaluate(rows, bar) == before
    assert view.evaluate(rows, picks)[: len(among)] == among
    view.context.close()


@pytest.mark.parametrize("name", ["cost", "heat"])
def test_a_table_wider_than_a_phone_shades_the_side_where_it_goes_on(browser, server, name):
    view = opened(browser, server, page=page_named(name), width=375, ready=False)
    view.wait_for_selector(".rs-scroll table", state="attached", timeout=WAIT)
    view.evaluate("document.querySelectorAll('details').forEach(d => { d.open = true; })")
    found = view.evaluate("""[...document.querySelectorAll('.rs-scroll')].filter(e => e.querySelector('table') && e.scrollWidth > e.clientWidth)
        .map(e => [getComputedStyle(e).backgroundImage.split('linear-gradient').length - 1, getComputedStyle(e).backgroundAttachment])""")  # fmt: skip
    assert found, "a table that is wider than the phone"
    assert all(x == [4, "local, local, scroll, scroll"] for x in found)
    view.context.close()


def test_in_a_notebook_the_picture_has_the_width_that_two_columns_leave(browser, server):
    """As JupyterLab shows it at 1280: some 900 pixels beside its panel."""
    view = opened(browser, server, ready=False)
    wide = view.evaluate("""() => { const e = document.querySelector('.rs'); e.classList.add('rs-lab'); e.style.width = '900px';
        return document.querySelector('.rs-picture').getBoundingClientRect().width; }""")  # fmt: skip
    assert wide > 500
    view.context.close()
