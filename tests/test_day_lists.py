"""Day-by-day lists: the numbers of the season, what is tested when, tasks as often as their table says."""

import functools

import pytest
from designs import DEMOS, demo

from rsdesign import season, size
from rsdesign.core.choices import DesignError
from rsdesign.core.units import number
from rsdesign.equations.costs.labour import done_with
from rsdesign.report import day_lists
from rsdesign.report.day_lists import WHOLE_TEST, day_list, every_day
from rsdesign.studies.enterprise import methods


@functools.cache
def lists(name, system="us"):
    sizing = size(demo(name))
    frame = season.growout(sizing, system=system)
    return frame, sizing, day_list(frame, sizing)


@pytest.mark.parametrize("system", ["us", "metric", "si"])
@pytest.mark.parametrize("name", DEMOS)
def test_feed_is_that_of_the_season_but_where_all_fish_go(name, system):
    frame, _, found = lists(name, system)
    per_day = {"us": 0.45359237, "metric": 1.0, "si": 86400.0}[system]
    assert [line.day for line in found] == frame["day"].tolist()
    assert [line.date for line in found] == frame["date"].tolist()
    fasting = set()
    for place in range(len(frame)):
        if frame["harvested"].iloc[place] > 0 and frame["fish"].iloc[place] == 0:
            fasting |= {place - 1, place}
    for place, line in enumerate(found):
        wanted = 0.0 if place in fasting else frame["feed"].iloc[place] * per_day
        assert line.feed == pytest.approx(wanted, rel=1e-12)
        assert line.feed_words == "none" or line.feed_words.startswith(f"{number(1e3 * wanted)} g")
        assert (line.feed_words == "none") == (wanted == 0.0)
    if name == "school":
        assert fasting


def test_soda_is_the_base_of_the_season_by_weight():
    """84.007 g of baking soda hold as much as 50.04 g of calcium carbonate."""
    frame, _, found = lists("commercial", "metric")
    for base, line in zip(frame["base"], found, strict=True):
        assert line.soda == pytest.approx(1e-3 * base * 84.007 / 50.04, rel=1e-3)


@pytest.mark.parametrize("name", DEMOS)
def test_what_the_season_tells_stands_on_its_day(name):
    frame, _, found = lists(name)
    for event in frame.attrs["events"]:
        words = event["event"]
        assert f"{words[0].upper()}{words[1:]}." in found[event["day"] - 1].work
    for warning in frame.attrs["warnings"]:
        assert f"Look out: {warning['warning']}." in found[warning["day"] - 1].work


def test_tests_are_weekly_daily_after_new_fish_and_at_dawn_in_the_heat():
    frame, _, found = lists("family")
    assert all((line.test.startswith(WHOLE_TEST)) == (line.day % 7 == 1) for line in found)
    assert all(line.test for line in found[:14])
    hottest = int(frame["water_temperature"].argmax())
    coldest = int(frame["water_temperature"].argmin())
    assert "oxygen at dawn" in found[hottest].test
    week = found[coldest - coldest % 7 :][:7]
    assert sum("ammonia" in line.test for line in week) == 2
    assert not any("dawn" in line.test for line in week)
    assert all("dawn" not in line.test for line in lists("commercial")[2]), "heated all year"


@pytest.mark.parametrize("name", DEMOS)
def test_tasks_come_as_often_as_their_table_says(name):
    _, sizing, found = lists(name)
    each_day = every_day(sizing)
    for task in done_with(methods(sizing)):
        words = f"{task.label[0].upper()}{task.label[1:]}."
        times = sum(words in line.work for line in found)
        if task.when == "week" and task.name != day_lists.TESTED:
            assert times == 52
        elif task.when == "month":
            assert times in (11, 12)
        elif task.when == "day":
            assert task.label in each_day
            assert times == 0


def test_fish_fast_before_harvest_and_an_empty_filter_is_fed():
    _, _, found = lists("school")
    (taken,) = [line.day for line in found if any(w.startswith("Harvest") for w in line.work)]
    assert any("harvested tomorrow" in words for words in found[taken - 2].work)
    assert any("the filter starves" in words for words in found[taken].work)
    assert not any("the filter starves" in words for words in found[taken + 1].work)
    _, _, many = lists("commercial")
    harvests = [line for line in many if any(w.startswith("Harvest") for w in line.work)]
    assert harvests
    assert all("Feed only the fish that stay." in line.work for line in harvests)


def test_any_range_of_days():
    frame, sizing, found = lists("family")
    assert day_list(frame, sizing, 8, 14) == found[7:14]
    assert day_list(frame, sizing, 365) == found[-1:]


@pytest.mark.parametrize(
    ("days", "words"),
    [
        ((0, 5), "first (day of the list) is 0; write a whole number from 1 to 365."),
        ((1, 366), "last (day of the list) is 366; write a whole number from 1 to 365."),
        ((True, 5), "first (day of the list) is True"),
        ((2.5, 5), "first (day of the list) is 2.5"),
        ((9, 5), "last is 5, before first, 9; write a later day."),
    ],
)
def test_days_that_are_not_there_are_told_in_a_sentence(days, words):
    frame, sizing, _ = lists("family")
    with pytest.raises(DesignError) as told:
        day_list(frame, sizing, *days)
    assert words in str(told.value)


def test_a_season_that_ends_with_dead_fish_ends_so():
    sizing = size(demo("family"))
    frame = season.growout(sizing, what_ifs=["heat wave:140:30:15"])
    assert frame.attrs["dead"] is not None
    found = day_list(frame, sizing)
    assert found[-1].day == frame.attrs["dead"] < 365
    assert any("fish would be dead" in words for words in found[-1].work)
    assert found[-1].feed == 0.0
