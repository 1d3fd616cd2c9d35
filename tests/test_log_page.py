"""The page of the log: what is typed is read, findings and feed equal the command's, tuned numbers can be undone."""

import json

import pytest

from rsdesign import read_log, size
from rsdesign.core.tables import data_folder
from rsdesign.pages import blocks
from rsdesign.pages.log_blocks import log_entry
from rsdesign.pages.session import Session
from rsdesign.records.findings import log_findings
from rsdesign.records.next_steps import next_tests, todays_feed
from rsdesign.season.growing_season import growout

SAMPLE = data_folder() / "logs" / "school_autumn.csv"
LINE = "date,time,pH,TAN (mg/L as N),DO (mg/L)\n2027-04-15,7:30,7.4,<0.25,2.4\n"


@pytest.fixture
def session():
    return Session("log", "metric")


def own(session, form: str) -> dict:
    return next(b for b in blocks.own(session) if b["form"] == form)


def test_a_page_without_a_log_asks_for_a_test(session):
    made = blocks.compose(session)
    assert [h["value"] for h in made["headline"][:2]] == ["none", "none"]
    assert own(session, "log_findings")["findings"] == []
    assert made["moment"]["svg"] == ""


def test_a_typed_test_gives_its_findings(session):
    session.handle({"do": "log", "text": LINE})
    assert session.notice == ""
    found = own(session, "log_findings")["findings"]
    assert found[0]["title"] == "Oxygen is dangerously low"
    assert [when for when, _ in found[0]["steps"]] == ["In the next hour", "Today", "This week"]
    assert found[0]["caution"]
    assert own(session, "log_entry")["places"] == {
        "date": 0,
        "time": 1,
        "ph": 2,
        "tan": 3,
        "oxygen": 4,
    }


def test_the_page_says_what_the_command_says(session):
    session.handle({"do": "sample_log"})
    log, sizing = read_log(SAMPLE), size(session.design)
    findings = log_findings(log, sizing)
    shown = own(session, "log_findings")
    assert [f["says"] for f in shown["findings"]] == [f.says("metric") for f in findings]
    assert [d[0] for d in shown["due"]] == [d.date.isoformat() for d in next_tests(log, findings)]
    feed = todays_feed(log, sizing, findings)
    told = next(h for h in blocks.compose(session)["headline"] if h["label"] == "Feed that day")
    assert (told["value"] == "none") == (feed.rate == 0.0)


def test_the_line_of_the_design_is_its_season(session):
    session.handle({"do": "sample_log"})
    log = read_log(SAMPLE)
    course = blocks.courses(session).course_of(session, False)
    days = len(course.times)
    season = growout(size(session.design), days, log.first_day.isoformat(), system="si")
    assert course.series["tan_design"].values == pytest.approx(
        season["ammonia"].to_numpy(), rel=1e-12
    )


def test_a_test_stands_between_the_ends_of_its_kit(session):
    session.handle({"do": "sample_log"})
    tested = blocks.courses(session).course_of(session, False).series["tan"]
    place = int((tested.values == 0.00025).nonzero()[0][0])
    assert (tested.low[place], tested.high[place]) == pytest.approx((0.000125, 0.000375))


@pytest.mark.parametrize("text", [None, 3, "x" * 300_000])
def test_what_is_no_log_is_a_sentence_and_nothing_is_lost(session, text):
    session.handle({"do": "log", "text": LINE})
    session.handle({"do": "log", "text": text})
    assert session.notice
    assert session.log_text == LINE.strip()


def test_damaged_lines_are_told_and_the_rest_is_read(session):
    session.handle({"do": "log", "text": LINE + "someday,8:00,7,0.5,6\n2027-04-17,8:00,72,0.5,6\n"})
    entry = own(session, "log_entry")
    assert entry["read"] == 2
    assert [p.split(" ")[1].rstrip(":,") for p in entry["problems"]] == ["3", "4"]


def test_the_words_of_the_form_never_name_the_note():
    """By these words the browser knows what may leave it."""
    words = log_entry(Session("log"))["words"]
    assert "ph" in words
    assert not any(word in words for word in ("note", "notes", "comment", "remarks"))


def test_tuned_numbers_go_into_the_design_and_come_back(session):
    session.handle({"do": "use_tuned"})
    assert "Tune the numbers" in session.notice
    session.handle({"do": "sample_log"})
    before = session.design
    session.handle({"do": "tune"})
    made = own(session, "log_tuned")
    assert len(made["numbers"]["rows"]) == 5
    json.dumps(made)
    session.handle({"do": "use_tuned"})
    assert session.notice == ""
    assert session.design != before
    assert own(session, "log_tuned")["stale"]
    session.handle({"do": "undo"})
    assert session.design == before
