"""The pages on time in Chromium: the moment, by keyboard, pointer and play; what may go wrong; two courses."""

import pytest
from views import WAIT, opened

from rsdesign.pages.series import page_named

pytestmark = pytest.mark.filterwarnings("default")

TOLD = ".rs-moment-words"
MARK = (
    "[...document.querySelectorAll('.rs-picture .rs-now')].map(l => Number(l.getAttribute('x1')))"
)


@pytest.fixture
def view_of(browser, server):
    views = []

    def open_page(name, **about):
        view = opened(browser, server, page_named(name), folded=True, **about)
        view.wait_for_selector(".rs-moment:not([hidden])", timeout=WAIT)
        views.append(view)
        return view

    yield open_page
    for view in views:
        assert view.wrong == []
        view.context.close()


def moved(view, before: str) -> str:
    view.wait_for_function(
        "was => document.querySelector('.rs-moment-words').textContent !== was",
        arg=before,
        timeout=WAIT,
    )
    return view.inner_text(TOLD)


def test_the_moment_moves_by_keyboard_and_pointer_and_marks_both_charts(view_of):
    view = view_of("day")
    marks, words = view.evaluate(MARK), view.inner_text(TOLD)
    assert len(marks) == 2
    assert marks[0] == pytest.approx(marks[1], abs=0.2), "two charts over one time"
    view.focus("#rs-moment")
    for _ in range(8):
        view.keyboard.press("ArrowLeft")
    view.wait_for_function(
        "document.querySelector('.rs-moment-words').textContent === '15:45'", timeout=WAIT
    )
    assert words == "17:45"
    assert view.evaluate(MARK)[0] < marks[0]
    assert view.get_attribute("#rs-moment", "aria-valuetext") == "15:45"
    numbers = view.inner_text(".rs-moment-numbers")
    box = view.locator(".rs-picture svg").first.bounding_box()
    view.mouse.move(box["x"] + 0.3 * box["width"], box["y"] + 0.5 * box["height"])
    moved(view, "15:45")
    view.wait_for_function(
        "was => document.querySelector('.rs-moment-numbers').innerText !== was",
        arg=numbers,
        timeout=WAIT,
    )


def test_the_moment_plays_and_stops(view_of):
    view = view_of("season")
    words = view.inner_text(TOLD)
    view.focus("#rs-moment")
    view.keyboard.press("Home")
    words = moved(view, words)
    play = view.locator(".rs-moment button").first
    play.click()
    assert play.inner_text() == "Stop"
    words = moved(view, words)
    moved(view, words)
    play.click()
    assert play.inner_text() == "Play"


def test_old_media_bring_the_fish_sooner(view_of):
    view = view_of("startup")
    ready = "[data-headline='Ready for fish']"
    view.wait_for_selector(".rs-picture [data-band=nitrite]", timeout=WAIT)
    before = view.inner_text(ready)
    view.select_option("#rs-startup-seed", "1 %")
    view.wait_for_function(
        "([at, was]) => { const now = document.querySelector(at).textContent;"
        " return now !== was && now.includes('–'); }", arg=[ready, before], timeout=WAIT,
    )  # fmt: skip
    first = [int(text.split("–")[0]) for text in (before, view.inner_text(ready))]
    assert first[1] < first[0]


def test_a_what_if_is_one_press_and_nonsense_gets_a_sentence(view_of):
    view = view_of("season")
    view.click(".rs-course button:text-is('Chlorine slip')")
    view.wait_for_selector(
        ".rs-picture [data-event='chlorine slip']", timeout=WAIT, state="attached"
    )
    box = view.locator("#rs-season-what_ifs")
    assert box.input_value().startswith("chlorine slip: ")
    assert view.locator(".rs-course button:text-is('Chlorine slip')").count() == 0
    box.fill("flood: 3")
    box.press("Enter")
    view.wait_for_selector(".rs-course .rs-wrong:not([hidden])", timeout=WAIT)
    assert "is not a what-if" in view.inner_text(".rs-course .rs-wrong")
    assert box.input_value() == "flood: 3", "what was typed stays"
    assert view.locator(".rs-picture svg").count() == 2, "the last good course stays"


def test_a_kept_course_stands_beside_the_next(view_of):
    view = view_of("day")
    view.click(".rs-course button:has-text('Keep this course')")
    view.wait_for_selector(".rs-course button:has-text('Drop the kept course')", timeout=WAIT)
    view.select_option("#rs-day-meals", "8:00")
    view.wait_for_selector(
        ".rs-picture [data-line='oxygen, fullest tank, kept']", timeout=WAIT, state="attached"
    )


@pytest.mark.parametrize("name", ["startup", "day", "season"])
def test_on_a_phone_the_chart_stays_in_view_while_a_choice_moves(view_of, name):
    view = view_of(name, width=375, has_touch=True)
    view.mouse.wheel(0, 700)
    view.wait_for_function("scrollY > 300")
    see = view.evaluate("(() => { const b = document.querySelector('.rs-see').getBoundingClientRect();"
                        " return [b.top, b.height / innerHeight]; })()")  # fmt: skip
    assert see[0] == pytest.approx(0, abs=1)
    assert see[1] <= 0.3
