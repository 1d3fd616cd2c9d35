"""The pages on time without a browser: one course on page, command and prompt, nonsense, moments."""

import json
import math

import numpy as np
import pytest
from designs import demo

from rsdesign.core.kinds import KINDS
from rsdesign.core.notebook import shown_in
from rsdesign.pages import blocks
from rsdesign.pages.courses import blocks as courses
from rsdesign.pages.courses import growing
from rsdesign.pages.jupyter.page_channel import PageChannel
from rsdesign.pages.session import Session
from rsdesign.report.order import order_words
from rsdesign.season import feeding_day, growout, startup
from rsdesign.season.what_ifs import KINDS as WHAT_IFS
from rsdesign.sizing.system import size

PAGES = ("startup", "day", "season")
DEMOS = ("family", "school", "commercial")


def on(page: str, name: str = "family", system: str = "us", **answers) -> Session:
    session = Session(page, system)
    session.handle({"do": "demo", "name": name})
    for key, text in answers.items():
        session.handle({"do": "answer", "name": f"{page}.{key}", "text": text})
    return session


def shown(session: Session, name: str) -> np.ndarray:
    course = courses.course_of(session, False)
    one = course.series[name]
    return shown_in(one.values, KINDS[one.kind], session.system)[0]


@pytest.mark.parametrize("system", ["us", "metric"])
@pytest.mark.parametrize("name", DEMOS)
def test_a_page_draws_what_the_frame_holds(name, system):
    """One design has one answer: page, notebook and command take the same course."""
    start = startup(demo(name), seed="1 %", system=system)
    page = on("startup", name, system, seed="1 %")
    for column in ("ammonia", "nitrite", "safe_feed", "ph"):
        assert shown(page, column) == pytest.approx(
            start[column].to_numpy(), rel=1e-12, nan_ok=True
        )
    course = courses.course_of(page, False)
    low, _ = shown_in(course.series["nitrite"].low, KINDS["concentration"], system)
    assert low == pytest.approx(start["nitrite_5"].to_numpy(), rel=1e-12, nan_ok=True)
    ready = next(h for h in course.headline if h["label"] == "Ready for fish")
    assert ready["value"].startswith(f"{start.attrs['ready'][5]:.0f}–")

    day = feeding_day(demo(name), "8:00, 16:00", every=15, system=system)
    page = on("day", name, system, meals="8:00, 16:00")
    for column in ("oxygen", "minutes_to_act", "unionized_ammonia"):
        assert shown(page, column)[:-1] == pytest.approx(day[column].to_numpy(), rel=1e-12)

    year = growout(demo(name), what_ifs=["chlorine slip:60"], growth="slow", system=system)
    page = on("season", name, system, what_ifs="chlorine slip: 60", growth="slow")
    for column in ("weight", "nitrite", "water_temperature", "cash"):
        assert shown(page, column)[: len(year)] == pytest.approx(year[column].to_numpy(), rel=1e-12)


@pytest.mark.parametrize("page", PAGES)
def test_a_course_under_a_moving_slider_is_near_the_exact_one(page):
    """A start takes a step a day, the filter of a season a few; weights of a season and a day are exact."""
    session = on(page)
    exact, quick = (courses.MODULES[page].course(
        session.sizing, courses.options.answers(session, courses.MODULES[page].OPTIONS), "us", q)
        for q in (False, True))  # fmt: skip
    for name in exact.above:
        one, other = exact.series[name].values, quick.series[name].values
        most = np.nanmax(np.abs(one))
        if page == "startup":  # the saw teeth of the doses move by a few days
            assert np.nanmax(other) == pytest.approx(np.nanmax(one), rel=0.1)
        else:
            assert np.nanmax(np.abs(one - other)) <= 1e-12 * most


NONSENSE = {
    "startup": {"way": "by magic", "seed": "lots", "dose": "-3 mg/L", "ammonia": "bleach"},
    "day": {"meals": "always", "hours": "at noon", "below": "<script>"},
    "season": {"start": "366000", "growth": "huge", "weights": "60 120 g", "what_ifs": "flood: 3",
               "below": "'; drop"},
}  # fmt: skip


@pytest.mark.parametrize(
    ("page", "name", "text"), [(p, n, t) for p, of in NONSENSE.items() for n, t in of.items()]
)
def test_nonsense_gets_a_sentence_and_loses_nothing(page, name, text):
    session = on(page)
    before = blocks.compose(session)
    if page == "day" and name == "hours":
        session.handle({"do": "answer", "name": "day.meals", "text": "own"})
    session.handle({"do": "answer", "name": f"{page}.{name}", "text": text})
    found = blocks.compose(session)
    json.dumps(found, allow_nan=False)
    wrong = found["course"]["wrong"]
    assert wrong.endswith(".")
    assert "Traceback" not in wrong
    assert found["picture"] == before["picture"], "the last good course stays"
    assert found["headline"] == before["headline"]
    session.handle({"do": "answer", "name": f"{page}.{name}", "text": ""})
    if page == "day" and name == "hours":
        session.handle({"do": "answer", "name": "day.meals", "text": ""})
    found = blocks.compose(session)
    assert found["course"]["wrong"] == ""
    assert found["picture"] == before["picture"]


@pytest.mark.parametrize("page", PAGES)
def test_the_moment_stays_between_start_and_end(page):
    session = on(page)
    most = len(courses.course_of(session, False).times) - 1
    for at, place in ((0, 0), (1, most), (0.5, round(0.5 * most))):
        session.handle({"do": "moment", "at": at})
        assert session.notice == ""
        found = blocks.at_moment(session)["moment"]
        assert found["at"] == place
        assert all(isinstance(words, str) and words for row in found["rows"] for words in row)
    for at in (-0.1, 1.1, "noon", None, True, math.nan):
        session.handle({"do": "moment", "at": at})
        assert session.notice.endswith(".")
        assert blocks.at_moment(session)["moment"] == found


def test_a_page_without_a_course_has_no_moment():
    session = Session("solids")
    for message in ({"do": "moment", "at": 0.5}, {"do": "beside"}):
        session.handle(message)
        assert session.notice == "This page shows nothing that changes with time."


def test_a_moment_is_answered_by_itself():
    sent = []
    channel = PageChannel(on("day"), lambda content, buffers: sent.append(content))
    channel.receive({"n": 1, "message": {"do": "open"}})
    del sent[:]
    channel.receive({"n": 2, "message": {"do": "moment", "at": 0.25}})
    assert [m["ack"] for m in sent] == [2]
    assert set(sent[0]["blocks"]) <= {"moment", "course"}
    assert sent[0]["blocks"]["moment"]["words"] == "6:00"


def test_figures_come_first_and_the_band_after():
    sent = []
    channel = PageChannel(on("startup"), lambda content, buffers: sent.append(content))
    channel.receive({"n": 1, "message": {"do": "open"}})
    del sent[:]
    channel.receive({"n": 2, "message": {"do": "set", "path": "goal.fish", "text": "150"}})
    first, then = sent
    assert "data-band" not in first["blocks"]["picture"]["svg"]
    assert "data-band" in then["blocks"]["picture"]["svg"]
    assert then["ack"] == 2


@pytest.mark.parametrize("page", PAGES)
def test_a_course_is_kept_beside_the_next_one(page):
    session = on(page)
    blocks.compose(session)
    session.handle({"do": "beside"})
    session.handle({"do": "set", "path": "goal.fish", "text": "120"})
    found = blocks.compose(session)
    assert found["course"]["kept"]
    assert ", kept" in found["picture"]["svg"]
    session.handle({"do": "beside"})
    found = blocks.compose(session)
    assert not found["course"]["kept"]
    assert ", kept" not in found["picture"]["svg"]


def test_every_what_if_is_a_button_that_does_it():
    session = on("season")
    session.handle({"do": "moment", "at": 100 / 364})
    for count, name in enumerate(WHAT_IFS, 1):
        buttons = blocks.compose(session)["course"]["buttons"]
        assert len(buttons) == len(WHAT_IFS) - count + 1
        button = next(b for b in buttons if b["title"].lower() == name)
        session.handle({"do": "answer", "name": "season.what_ifs", "text": button["text"]})
        found = blocks.compose(session)["course"]
        assert not found["wrong"]
        assert [w.name for w in growing.what_ifs_of(button["text"])][-1] == name
        assert {w.day for w in growing.what_ifs_of(button["text"])} == {101}
    assert blocks.compose(session)["course"]["buttons"] == []


def test_each_way_to_start_and_to_feed_can_be_picked():
    for page in PAGES:
        for option in courses.MODULES[page].OPTIONS:
            for value, _ in option.picks:
                session = on(page, **{option.name: value})
                if value == "own":
                    session.handle({"do": "answer", "name": "day.hours", "text": "7:00, 19:00"})
                found = blocks.compose(session)
                assert found["course"]["wrong"] == "", (page, option.name, value)
                json.dumps(found, allow_nan=False)


@pytest.mark.parametrize("system", ["us", "metric"])
def test_the_page_of_a_season_says_until_when_to_harvest_as_command_and_papers_do(system):
    course = courses.course_of(on("season", "family", system), False)
    told = order_words(size(demo("family")), system)
    assert told[-1].startswith("Harvest on day ")
    assert course.warnings[0] == told[-1]
    kept_warm = courses.course_of(on("season", "commercial", system), False)
    assert not any(words.startswith("Harvest on day ") for words in kept_warm.warnings)
    late = courses.course_of(on("season", "family", system, start="2027-12-20"), False)
    assert late.warnings[0].startswith("On the day of stocking that you told")


def test_dead_fish_end_the_course():
    """Nothing is drawn on where the fish would be dead, and the page says so first."""
    session = on("startup", way="fish in", feed="full")
    found = blocks.compose(session)
    assert [h["value"] for h in found["headline"][:2]] == ["no day", "no day"]
    course = courses.course_of(session, False)
    assert found["course"]["warnings"][0].startswith("Deadly from day ")
    assert course.last < len(course.times) - 1
    assert np.isnan(course.series["ammonia"].values[course.last + 1 :]).all()
    session.handle({"do": "moment", "at": 1})
    assert blocks.at_moment(session)["moment"]["at"] == course.last
    assert "dead" in blocks.at_moment(session)["moment"]["svg"]


@pytest.mark.parametrize("page", PAGES)
def test_a_page_that_opened_as_it_was_carried_keeps_its_course(page):
    """Its kernel has followed none: what it shows came with the HTML."""
    session = Session(page)
    assert not session.courses
    session.handle({"do": "beside"})
    assert not session.notice
    assert page in session.beside
