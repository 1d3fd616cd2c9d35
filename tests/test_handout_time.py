"""The start-up calendar and the season plan of the hand-out say what the commands say, in every format."""

import datetime
import functools
import io
import json
import math
import re

import openpyxl
import pytest
from designs import DEMOS, demo
from test_handout import squeezed, text_of_html, text_of_pdf

from rsdesign import size
from rsdesign.__main__ import main
from rsdesign.building.steps import AFTER
from rsdesign.core.cautions import cautions
from rsdesign.core.kinds import KINDS
from rsdesign.core.tables import data_folder
from rsdesign.core.units import number, show
from rsdesign.pages.courses import starting
from rsdesign.report import routines
from rsdesign.report.building.all_lists import building_of, water_of
from rsdesign.report.handout import computed, files
from rsdesign.report.handout.blocks import TICK, Calendar, Cautions, Heading, Steps, Table, Text
from rsdesign.report.handout.document import compose
from rsdesign.report.handout.filter_calendar import BESIDE
from rsdesign.report.handout.html import html
from rsdesign.report.handout.pdf import pdf
from rsdesign.report.handout.spreadsheet import spreadsheet
from rsdesign.season import harvest_day, startup
from rsdesign.season.batch_order import order_of

CASES = [("family", "us"), ("school", "metric"), ("commercial", "us")]
POUND = 0.45359237


def squeezed_weight(mass: float) -> str:
    """A mass [kg] to two digits in grams, or in kilograms from one on."""
    return f"{number(1e3 * mass, 2)} g" if mass < 1.0 else f"{number(mass, 2)} kg"


@functools.cache
def sizing_of(name):
    return size(demo(name))


@functools.cache
def document_of(name, system):
    return compose(sizing_of(name), system)


@functools.cache
def book_of(name, system):
    content = io.BytesIO(spreadsheet(sizing_of(name), system))
    return openpyxl.load_workbook(content, read_only=True)


def told_by(capsys, command, name, system) -> dict:
    """What the command says of a design as JSON."""
    file = str(data_folder() / "designs" / f"{name}.toml")
    assert main([command, file, "--json", "--units", system]) == 0
    return json.loads(capsys.readouterr().out)


def after(document, words: str) -> list:
    """The blocks of a chapter."""
    blocks = list(document.blocks)
    start = next(i for i, b in enumerate(blocks) if isinstance(b, Heading) and b.words == words)
    ends = (
        i for i, b in enumerate(blocks) if i > start and isinstance(b, Heading) and b.level == 1
    )
    return blocks[start + 1 : next(ends)]


def chapter(document, words: str, kind):
    return next(b for b in after(document, words) if isinstance(b, kind))


def low(value: float) -> str:
    """A level of the calendar: two digits, 0 below a hundredth."""
    return number(value if abs(value) >= 0.01 else 0.0, 2)


def weight(grams: float) -> str:
    return f"{number(grams, 2)} g" if grams < 1000.0 else f"{number(grams / 1000.0, 2)} kg"


@pytest.mark.parametrize(("name", "system"), CASES)
def test_the_calendar_is_the_start_that_the_command_tells(capsys, name, system):
    days = told_by(capsys, "startup", name, system)["days"]
    calendar = chapter(document_of(name, system), "Start-up calendar", Calendar)
    volume = water_of(sizing_of(name))
    boxes = [box for week in calendar.weeks for box in week.boxes]
    assert [box.day for box in boxes] == list(range(56))
    for box in boxes:
        grams = days["dose"][box.day] * volume * 53.491 / 14.007
        assert box.give == (weight(grams) if grams else "")
    assert sum(bool(box.give) for box in boxes) >= 2
    for week in calendar.weeks:
        last = week.boxes[-1].day
        for place, level in enumerate(("ammonia", "nitrite")):
            ends = (low(days[f"{level}_{p}"][last]) for p in (5, 95))
            assert week.expect[place] == f"{level} {' to '.join(ends)}"
        soda = sum(days["base"][box.day] for box in week.boxes) * volume * 84.007 / 50.04
        least = volume * 84.007 / 50.04  # what raises alkalinity by 1 mg/L
        assert week.expect[2:] == ((f"soda {weight(soda)}",) if soda > least else ())


@pytest.mark.parametrize(("name", "system"), CASES)
def test_the_calendar_tells_a_band_its_cautions_and_how_to_feed(capsys, name, system):
    told = told_by(capsys, "startup", name, system)
    document = document_of(name, system)
    heading = chapter(document, "Start-up calendar", Text).words
    first, half = told["ready"]["5"], told["ready"]["50"]
    assert (
        f"Ready for fish: day {first:.0f} at the earliest, half of all by day {half:.0f}" in heading
    )
    assert "perhaps not within 90 days" in heading
    beside = chapter(document, "Start-up calendar", Cautions).items
    assert [c.fact for c in beside] == [cautions()[n]["fact"] for n in BESIDE]
    everywhere = [c.fact for b in document.blocks if isinstance(b, Cautions) for c in b.items]
    assert len(everywhere) == len(set(everywhere)) == len(cautions())
    steps = dict(chapter(document, "Start-up calendar", Steps).items)
    assert list(steps) == ["Day 0", "All the water", "Dose again", "Soda", "Ripe", "Then feed"]
    held = sum(v.count * v.volume for v in building_of(sizing_of(name)).layout.vessels)
    assert held > float(sizing_of(name).tank.volume)
    assert f"about {show(held, KINDS['volume'], system)} in tanks" in steps["All the water"]
    first = (
        3e-3 * held * 53.491 / 14.007
    )  # 3 mg/L of nitrogen in all the water, as ammonium chloride
    assert squeezed_weight(first) in steps["Day 0"]
    fed = [feed for feed in told["days"]["feed"] if feed > 0.0]
    each = 1000.0 * (POUND if system == "us" else 1.0)
    for day in (1, 2, 3, 8):
        assert f"day {day}: {number(each * fed[day - 1])} g" in steps["Then feed"]
    top = float(sizing_of(name).stock.peak_feed) * 86400.0 * 1000.0
    assert each * fed[0] == pytest.approx(0.25 * top), "a quarter, as the words say"
    assert each * fed[1] == pytest.approx(0.275 * top), "a tenth more"


@pytest.mark.parametrize("date", [None, datetime.date(2027, 6, 18)])
@pytest.mark.parametrize("name", DEMOS)
def test_the_calendar_orders_digs_and_fills_before_the_filter_starts(name, date):
    """Weeks add up: building by the hours of its steps, then order and permit; dates count back from stocking."""
    s = sizing_of(name)
    found = routines.before(s, "us", date)
    words = ["permit for", "Order vessels", "build step by step", "electrician wire", "Fill tanks", "Start the filter",
             "Then order", "Test once more", "Float the bags"]  # fmt: skip
    assert [any_word in step[1] for any_word, step in zip(words, found, strict=True)] == [True] * 9
    hours = sum(step.time for step in building_of(s).steps if step.row.name not in AFTER) / 3600
    build = math.ceil(math.ceil(hours / 6) / 5)
    weeks = [11 + build + 6 + 4, 11 + build + 6, 11 + build, 12, 11, 10, 2]
    if date is None:
        assert [step[0] for step in found[:7]] == [f"{n} weeks before" for n in weeks]
    else:
        told = [date - datetime.date.fromisoformat(step[0]) for step in found[:7]]
        assert [one.days for one in told] == [7 * n for n in weeks]
        assert found[-1][0] == date.isoformat()
    assert show(water_of(s), KINDS["volume"], "us") in found[4][1]


@pytest.mark.parametrize("name", DEMOS)
def test_batches_and_season_plan_say_why_their_days_differ(name):
    """One sentence with both numbers, the same in both places; none where they agree within three days."""
    s = sizing_of(name)
    planned = harvest_day(s).attrs["planned"]
    counted = round(float(s.stock.cycle))
    said = [
        b.words
        for b in document_of(name, "us").blocks
        if isinstance(b, Text) and "go by the season plan" in b.words
    ]
    if order_of(s).closes or abs(planned - counted) <= 3:
        assert said == []
        return
    assert len(said) == 2
    for words in said:
        assert f"The {counted} days count on" in words
        assert f"until day {planned}" in words


@pytest.mark.parametrize("name", DEMOS)
def test_page_and_command_weigh_doses_for_the_water_of_the_hand_out(capsys, name):
    """One design has one answer: what is dosed in all is of all the water as laid out, not of the tanks alone."""
    s = sizing_of(name)
    dosed = startup(s).attrs["dosed"]
    held = sum(v.count * v.volume for v in building_of(s).layout.vessels)
    salt = dosed * held * 53.491 / 14.007
    assert main(["startup", str(data_folder() / "designs" / f"{name}.toml")]) == 0
    assert f"as ammonium chloride {show(salt, KINDS['mass'], 'us', 2)}" in capsys.readouterr().out
    answers = {option.name: option.usual for option in starting.OPTIONS}
    heads = starting.course(s, answers, "us", False).headline
    assert next(h for h in heads if h["label"] == "To dose")["value"] == number(salt / POUND, 3)


@pytest.mark.parametrize(("name", "system"), CASES)
def test_the_plan_is_the_season_that_the_command_tells(capsys, name, system):
    told = told_by(capsys, "season", name, system)
    days, units = told["days"], told["units"]
    table = chapter(document_of(name, system), "Season plan", Table)
    each = 1000.0 * (POUND if system == "us" else 1.0)
    covered, harvested = [], 0.0
    for row in table.rows:
        month, span, water, feed, fish, band, cash, work = row
        first, last = (int(x) - 1 for x in re.findall(r"\d+", span)[:2])
        here = slice(first, last + 1)
        covered += range(first, last + 1)
        assert {date.split()[0] for date in days["date"][here]} == {month.removeprefix(f"{TICK} ")}
        temperatures = days["water_temperature"][here]
        assert water == pair(min(temperatures), max(temperatures))
        assert feed == pair(each * days["feed"][first], each * days["feed"][last])
        if days["weight_fast"][last]:
            assert fish == number(days["weight"][last])
            assert band == pair(days["weight_slow"][last], days["weight_fast"][last])
        assert cash == number(days["cash"][last])
        assert all(line.startswith(TICK) for line in work.splitlines())
        gained = sum(days["harvested"][here])
        harvested += gained
        words = f"Harvest of the month: {number(gained)} {units['harvested']}."
        assert (words in work) == (gained > 0.0)
    assert covered == list(range(len(days["day"])))
    assert harvested == pytest.approx(sum(days["harvested"]))
    work = squeezed("".join(row[-1] for row in table.rows))
    for event in told["events"]:
        assert squeezed(f"Day {event['day']}: {event['event']}.") in work
    for warning in told["warnings"]:
        assert squeezed(f"Day {warning['day']}, look out: {warning['warning']}.") in work


def pair(first: float, last: float) -> str:
    first, last = number(first), number(last)
    return first if first == last else f"{first} to {last}"


@pytest.mark.parametrize(("name", "system"), CASES)
def test_html_and_pdf_show_all_of_it(name, system):
    document = document_of(name, system)
    for written in (text_of_html(html(document)), text_of_pdf(pdf(document))):
        calendar = chapter(document, "Start-up calendar", Calendar)
        for week in calendar.weeks:
            for words in (week.days, *week.expect, *(box.give for box in week.boxes)):
                assert squeezed(words) in written
        for row in chapter(document, "Season plan", Table).rows:
            assert all(squeezed(cell) in written for cell in row[:-1])
            assert all(squeezed(line) in written for line in row[-1].splitlines())
        assert written.count(TICK) >= 56 + 12


@pytest.mark.parametrize(("name", "system"), CASES)
def test_the_sheets_hold_every_day_of_both_commands(capsys, name, system):
    book, volume = book_of(name, system), water_of(sizing_of(name))
    days = told_by(capsys, "startup", name, system)["days"]
    rows = list(book["Start-up"].iter_rows(min_row=2, max_row=92, values_only=True))
    heads = [cell.value for cell in next(book["Start-up"].iter_rows(max_row=1))]
    assert [row[0] for row in rows] == days["day"]
    for row, day in zip(rows, days["day"], strict=True):
        wanted = [
            days[f"{n}_{p}"][day] for n in ("ammonia", "nitrite", "safe_feed") for p in (5, 50, 95)
        ]
        assert list(row[1:10]) == pytest.approx(wanted, rel=1e-12)
        assert row[10] == pytest.approx(days["dose"][day] * volume * 53.491 / 14.007, rel=1e-12)
        assert row[11] == pytest.approx(days["base"][day] * volume * 84.007 / 50.04, rel=1e-12)
        assert row[12] == pytest.approx(days["feed"][day], rel=1e-12)
        assert row[13] == TICK
        assert row[14:18] == (None,) * 4, "cells for own readings"
    assert heads[13:18] == ["Done", "My ammonia", "My nitrite", "My pH", "My alkalinity"]
    season = told_by(capsys, "season", name, system)["days"]
    rows = list(book["Days"].iter_rows(min_row=2, values_only=True))
    assert [row[0] for row in rows] == season["day"]
    assert [row[1] for row in rows] == season["date"]
    assert [row[2] for row in rows] == pytest.approx(season["water_temperature"], rel=1e-12)
    each = 1000.0 * (POUND if system == "us" else 1.0)
    fasting = [row[0] for row, feed in zip(rows, season["feed"], strict=True)
               if row[3] != pytest.approx(each * feed, rel=1e-12)]  # fmt: skip
    assert fasting == ([210, 211] if name == "school" else []), "only where all fish are taken"
    months = list(book["Season"].iter_rows(min_row=2, values_only=True))
    table = chapter(document_of(name, system), "Season plan", Table)
    for row, shown in zip(months, table.rows, strict=False):
        assert number(row[11]) == shown[6]
        assert pair(row[3], row[4]) == shown[2]
        assert pair(row[5], row[6]) == shown[3]
        assert number(row[8]) == shown[4] or not row[8]


def test_the_day_of_stocking_dates_the_season_and_never_the_start():
    date = datetime.date(2027, 4, 15)
    document = compose(sizing_of("family"), "us", date)
    rows = chapter(document, "Season plan", Table).rows
    assert rows[0][:2] == ("☐ 2027-04", "1 to 16"), "its tasks of the month have a box"
    assert rows[1][0] == "☐ 2027-05"
    start = [b for b in after(document, "Start-up calendar") if isinstance(b, (Text, Steps))]
    assert "2027" not in str(start)
    book = openpyxl.load_workbook(io.BytesIO(files.make(sizing_of("family"), "xlsx", date=date)))
    assert book["Days"]["B2"].value == "2027-04-15"


def test_one_sizing_is_started_once_for_all_formats(monkeypatch):
    count = []
    real = computed.startup
    monkeypatch.setattr(computed, "startup", lambda *a, **k: count.append(1) or real(*a, **k))
    sizing = size(demo("commercial"))
    for form in files.FORMATS:
        files.make(sizing, form)
    assert len(count) == 1


def test_dead_fish_end_the_plan():
    """A tank that boils in summer: the plan stops on that day and says why."""
    from rsdesign import season
    from rsdesign.report.handout.season_plan import EACH_MONTH, months

    frame = season.growout(sizing_of("family"), what_ifs=["heat wave:140:30:15"])
    found = months(frame)
    assert found[-1].last == frame.attrs["dead"]
    assert "would be dead" in " ".join(found[-1].work)
    assert EACH_MONTH not in found[-1].work
    assert EACH_MONTH in found[0].work


@pytest.mark.parametrize("name", DEMOS)
def test_months_tell_of_heat_and_cold_where_the_water_changes(name):
    rows = chapter(document_of(name, "us"), "Season plan", Table).rows
    work = "".join(row[-1] for row in rows)
    changing = name == "family"
    assert ("Hot days begin" in work) == changing
    assert ("Cold days begin" in work) == changing
