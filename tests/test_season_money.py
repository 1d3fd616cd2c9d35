"""Place and heat decide the year: harvest, batches, feed, cost and the hottest week follow them."""

import json
import math
import time

import numpy as np
import pytest
from designs import DEMOS, demo

from rsdesign import Design, size
from rsdesign.__main__ import main
from rsdesign.core.kinds import KINDS
from rsdesign.core.tables import data_folder
from rsdesign.core.units import show
from rsdesign.design.file import read_design
from rsdesign.design.link import design_of, token_of
from rsdesign.design.model import FIELDS, value_of, with_values
from rsdesign.design.prices import prices_of
from rsdesign.design.weather import place
from rsdesign.equations.water.properties import vapour_pressure
from rsdesign.pages import blocks
from rsdesign.pages.session import Session
from rsdesign.pages.study_blocks import hottest
from rsdesign.report.handout.document import compose as hand_out
from rsdesign.report.handout.html import html
from rsdesign.report.year_words import first_line, hottest_line
from rsdesign.sizing.system import STAGES
from rsdesign.studies.cashflow import cash_flow, months
from rsdesign.studies.growing import START_UP, all_year, one_season
from rsdesign.studies.heat import yearly
from rsdesign.studies.heat.rows import skies
from rsdesign.studies.heat.season import Run
from rsdesign.studies.heat.study import study
from rsdesign.studies.makeup import study as makeup
from rsdesign.studies.outage import study as outage

DAY = 86400.0
POUND = 0.45359237


def sized(name="family", **changes):
    return size(with_values(demo(name), {k.replace("__", "."): v for k, v in changes.items()}))


# --- the season decides, or a heater does ----------------------------------------------------


def test_unheated_the_harvest_and_the_cost_are_those_of_the_season():
    """The family's tank in the low desert: one batch in the warm days, of smaller fish."""
    sizing = sized()
    year, warm = yearly.year_of(sizing), study(sizing).season
    assert year.basis == "weather"
    assert year.batches == pytest.approx(1.0)
    assert warm.days_to_harvest is None  # the season ends before they come to size
    assert year.weight == pytest.approx(warm.end_weight, rel=1e-9)
    assert year.harvest == pytest.approx(200 * warm.end_weight, rel=1e-9)
    assert year.running == warm.season_days + START_UP
    money = yearly.full_year(sizing)
    assert money.budget.heating == 0.0
    assert money.energy == pytest.approx(sizing.standby.daily_energy * year.running, rel=1e-12)
    every_year = sizing.stock.harvest * 365.25 * DAY
    assert year.harvest < 0.5 * every_year
    # by hand: what the fish gain, those that die counted half way, times the conversion
    by_hand = 1.6 * (year.weight - 0.05) * 200
    assert by_hand < year.feed < 1.06 * by_hand
    assert year.feed == pytest.approx(float(money.feed))


def test_heated_the_harvest_is_the_plans_and_the_heat_is_in_the_cost():
    sizing = sized(climate__heated="yes")
    year, money = yearly.year_of(sizing), yearly.full_year(sizing)
    assert year.harvest == pytest.approx(sizing.stock.harvest * 365.25 * DAY, rel=1e-12)
    price = prices_of(sizing.design)["electricity"].value
    assert money.budget.heating == pytest.approx(
        study(sizing).yearly_heating_energy * price, rel=1e-9
    )
    assert money.energy > year.heating > 0.0


def test_warm_by_itself_is_said_by_the_user_and_buys_no_heat():
    sizing = sized(climate__heated="warm by itself")
    year = yearly.year_of(sizing)
    assert (year.basis, year.heating) == ("told", 0.0)
    assert year.batches == pytest.approx(365.25 / sizing.stock.interval, rel=1e-12)
    assert first_line(sizing).startswith("You say that the water stays at 82.4 °F")


def test_where_the_weather_is_not_told_the_first_words_say_so(tmp_path, capsys):
    """In the terminal, on the pages and on paper: before any figure, and not in a fold."""
    file = tmp_path / "mine.toml"
    file.write_text('[goal]\nharvest = "150 lb/year"\n', encoding="utf-8")
    for command, table in (("cost", "Budget of a full year"), ("size", "Parts\n-----")):
        assert main([command, str(file)]) == 0
        told = capsys.readouterr().out
        assert told.index("The weather of your place is not told") < told.index(table)
        assert "as 82.4 °F all year" in told
        assert "is not known, and it is not in the cost" in told
    for name in ("start", "cost"):
        session = Session(name)
        session.handle({"do": "load", "text": file.read_text(encoding="utf-8")})
        assert blocks.compose(session)["text"]["words"][0].startswith("The weather of your place")
    assert "The weather of your place is not told" in html(hand_out(size(starter_150()), "us"))


def starter_150() -> Design:
    return with_values(Design(), {"goal.harvest": 150 * POUND / (365.25 * DAY)})


def test_no_demo_prints_free_heat_without_a_sentence(capsys):
    """Heating $0 stands only where the words before it say that the weather decides."""
    for name in DEMOS:
        assert demo(name).climate.weather, "every demo has its place"
        assert main(["cost", str(data_folder() / "designs" / f"{name}.toml")]) == 0
        told = capsys.readouterr().out
        words = told.splitlines()[2]
        free = any(line.split() == ["Heating", "$0"] for line in told.splitlines())
        assert free == words.startswith("Not heated"), name
        assert ("A heater holds" in words) == (not free), name


def test_a_season_holds_as_many_batches_as_come_to_size():
    """By hand: 10 degrees of growth each day; a batch needs so many days, then tanks rest."""
    sizing = sized(stock__stocking_weight=0.2, goal__weight=0.4)
    warm = np.full(365, 10.0)
    root = (400 ** (1 / 3) - 200 ** (1 / 3)) / (2.4e-3 * 10.0)  # days by the growth relation
    days = math.ceil(root)
    found = one_season(sizing, Run(60, 3 * days + 2 * 14), warm)
    assert found.batches == 3
    assert found.starts == (0.0, days + 14.0, 2 * (days + 14.0))
    assert found.weight == 0.4
    assert one_season(sizing, Run(60, 3 * days + 2 * 14 - 1), warm).batches == 2
    short = one_season(sizing, Run(60, 30), warm)
    assert short.batches == 1
    assert short.weight == pytest.approx((200 ** (1 / 3) + 2.4e-3 * 300) ** 3 / 1000, rel=1e-9)


def test_fish_that_live_through_winter_grow_on_in_spring():
    """All year round: the batches of a year are its days over those of a batch and its rest."""
    sizing = sized(climate__weather="warm coast")
    found = yearly.weathered(sizing)
    assert found.winter
    assert found.summer
    assert found.allowed.batches == pytest.approx(365.25 / (found.allowed.cycle + 14), rel=1e-9)
    base = sizing.tables.species.base_temperature
    steady = all_year(sizing, np.full(365, 28.0 - base))
    assert steady.cycle == pytest.approx(sizing.stock.cycle, rel=1e-9)  # the sizing's own days
    assert steady.batches == pytest.approx(365.25 / sizing.stock.interval, rel=1e-9)


def test_batches_in_turn_take_no_more_than_their_tanks():
    sizing = sized("commercial", climate__heated="no", climate__weather="warm coast")
    found = yearly.weathered(sizing).allowed
    assert found.batches <= 365.25 / 42 + 1e-9
    assert found.batches <= float(sizing.stock.cohorts) * 365.25 / found.cycle + 1e-9


def test_where_nothing_grows_unheated_the_figures_are_those_with_heat():
    sizing = sized(climate__weather="high valley", climate__shelter="indoors",
                   climate__room_temperature=5.0)  # fmt: skip
    year = yearly.year_of(sizing)
    assert year.basis == "none"
    assert year.heating > 0
    assert "no harvest" in first_line(sizing)
    assert math.isfinite(yearly.full_year(sizing).budget.cost_of_each)


def test_the_cash_of_a_season_comes_once_a_year_and_adds_up():
    found = yearly.full_year(sized())
    share = months(found)
    assert np.flatnonzero(share["stocked"]).tolist() == [0, 12]
    assert np.flatnonzero(share["harvested"]).tolist() == [
        7,
        19,
    ]  # after 243 days, the last of the eighth month
    for name in ("stocked", "harvested", "fed"):
        assert share[name][:12].sum() == pytest.approx(1.0, abs=1e-9), name
    assert float(cash_flow(found).lines["feed"][:12].sum()) == pytest.approx(-found.budget.feed)


def test_work_is_done_on_the_days_in_use():
    season, whole = yearly.full_year(sized()), yearly.full_year(sized(climate__heated="yes"))
    hours = {w.label: float(w.time) for w in whole.work}
    running = yearly.weathered(sized()).allowed.running
    for w in season.work:
        if w.times * 365.25 > 300 and float(w.times) > 5:
            assert float(w.time) == pytest.approx(hours[w.label] * running / 365.25, rel=1e-9)


def test_the_season_does_not_touch_the_sizing():
    """Peak loads of the worked systems are what they were: the season enters after the sizing."""
    for name in DEMOS:
        plain = size(demo(name))
        for changes in (
            {"climate.heated": "yes"},
            {"climate.weather": "warm coast"},
            {"climate.weather": None},
        ):
            other = size(with_values(demo(name), changes))
            for stage in STAGES:
                assert getattr(plain, stage) == getattr(other, stage) or all(
                    getattr(getattr(plain, stage), n) == getattr(getattr(other, stage), n)
                    for n in getattr(plain, stage).__slots__
                ), (name, stage)


def test_one_definition_of_the_energy_of_a_year():
    """The budget's energy is that of a day times the days in use, and nothing beside it."""
    for name in DEMOS:
        for heated in ("no", "yes", "warm by itself"):
            sizing = sized(name, climate__heated=heated)
            year, money = yearly.year_of(sizing), yearly.full_year(sizing)
            own = sizing.standby.daily_energy * year.running
            assert float(money.energy) == pytest.approx(own + year.heating, rel=1e-12)


def test_splash_water_is_in_the_cost():
    """The family's 1,570 gallons lose 0.2 % a day: 1,143 gallons in a year, over the days in use."""
    sizing = sized(climate__heated="yes")
    dry = sized(climate__heated="yes", makeup__splash=0.0)
    more = yearly.full_year(sizing).amounts["water"][0] - yearly.full_year(dry).amounts["water"][0]
    gallons = float(more) / 0.003785411784
    assert gallons == pytest.approx(0.002 * sizing.tank.volume * 365.25 / 0.003785411784, rel=1e-9)
    assert gallons == pytest.approx(1143, rel=0.01)


def test_the_year_is_computed_once_and_kept(monkeypatch):
    """``size`` does no work for it; the pages and the cost share one summary of the heat."""
    sizing = sized(tank__depth=0.91)
    yearly.year_of(sizing)
    monkeypatch.setattr(yearly, "year_brief", lambda *_: pytest.fail("the heat was reckoned again"))
    yearly.full_year(sizing)
    first_line(sizing)
    hottest_line(sizing)
    monkeypatch.setattr(yearly, "_found", lambda key: pytest.fail("size asked for the season"))
    took = []
    for _ in range(5):  # the least of them: one may collect what tests before it left
        start = time.thread_time()
        size(sizing.design)
        took.append(time.thread_time() - start)
    assert min(took) < 0.05


# --- what is chosen, and old designs ----------------------------------------------------------


def test_old_files_and_links_with_yes_and_no_still_open():
    """``heated = true`` of earlier versions is the heater of this one."""
    for word, wanted in (("true", "yes"), ("false", "no")):
        read = read_design(f"[goal]\nfish = 200\n[climate]\nheated = {word}\n")
        assert read.climate.heated == wanted
    old = "1.ePkDVwumq0auu4wMDHSUknMyc4EpUg9YvpTAtNUCAAI-DWY"  # of the version before
    assert design_of(old).goal.fish == 200.0
    assert design_of(old).climate.heated == "yes"
    assert design_of(token_of(design_of(old))).climate.heated == "yes"


def test_a_new_design_knows_no_weather_and_says_so():
    """Nobody is given a desert that they did not choose."""
    assert Design().climate.weather is None
    assert Design().climate.heated == "no"
    assert yearly.weathered(size(starter_150())).basis == "not known"
    assert FIELDS["climate.heated"].choice.options() == ("no", "yes", "warm by itself")


@pytest.mark.parametrize("page", ["start", "cost", "heat"])
def test_place_and_heater_are_controls_of_the_first_view(page):
    session = Session(page)
    shown = {c["path"]: c for c in blocks.choices(session)}
    assert {"climate.weather", "climate.heated"} <= set(shown)
    assert not shown["climate.heated"]["more"]
    before = yearly.full_year(session.sizing).budget.cost_of_each
    session.handle({"do": "set", "path": "climate.heated", "text": "yes"})
    assert not session.notice
    assert yearly.full_year(session.sizing).budget.cost_of_each != before
    if page != "heat":
        found = blocks.compose(session)
        assert found["text"]["words"][0].startswith("A heater holds")
        value = next(f for f in found["figures"] if f["path"] == "cost.harvest")["value"]
        assert value == "432"


def test_summary_cost_page_and_hand_out_give_one_harvest(capsys):
    sizing = sized()
    line = first_line(sizing)
    assert "about 189 lb of fish in 1 batch a year" in line
    path = str(data_folder() / "designs" / "family.toml")
    for command in ("size", "cost"):
        assert main([command, path]) == 0
        assert line in capsys.readouterr().out
    assert main(["size", "--json", path]) == 0
    told = json.loads(capsys.readouterr().out)["year"]
    assert told["harvest"]["si"] == pytest.approx(yearly.year_of(sizing).harvest, rel=1e-12)
    assert line in html(hand_out(sizing, "us"))


# --- one water for the hottest week -----------------------------------------------------------


def test_one_hottest_water_on_all_pages():
    """Un-ionised ammonia in the words of the Heat page is the figure of the sizing."""
    for changes in ({}, {"site__warmest_water": None}, {"site__warmest_water": 35.0}):
        sizing = sized(**changes)
        found = makeup.study(sizing).hottest
        assert found.temperature == sizing.air.temperature
        assert found.unionized == pytest.approx(sizing.filter.unionized, rel=1e-9)
        assert yearly.year_of(sizing).counted == sizing.air.temperature
        assert show(sizing.air.temperature, KINDS["temperature"], "us") in hottest_line(sizing)


def test_the_gap_to_the_weather_is_flagged_and_a_button_closes_it():
    session = Session("start")
    told = session.sizing.air.temperature
    brings = study(session.sizing).course("hot").hottest
    assert brings > told + 0.5
    flagged = next(i for i in hottest(session)["items"] if i["kind"] == "words")["text"]
    assert flagged.startswith("Water in the hottest week")
    assert "you told it" in flagged
    take = next(i for i in hottest(session)["items"] if i["kind"] == "take")
    session.handle({"do": "set", "path": take["path"], "text": take["text"]})
    assert not session.refused
    assert session.sizing.air.temperature == pytest.approx(brings, abs=0.5)
    assert not any(i["kind"] == "take" for i in hottest(session)["items"])
    assert "you told it" in hottest(session)["items"][0]["text"]
    assert any(w.startswith("Water in the hottest week") for w in flagged_words(Session("whole")))
    whole = Session("whole")
    whole.handle({"do": "set", "path": take["path"], "text": take["text"]})
    assert not any(w.startswith("Water in the hottest week") for w in flagged_words(whole))


def flagged_words(session):
    return blocks.compose(session)["text"]["words"]


def test_what_is_not_told_is_said_to_be_taken():
    line = hottest_line(sized(site__warmest_water=None))
    assert "taken, as warm as the water in which they grow" in line
    assert "82.4 °F" in line


def test_the_minutes_of_a_failure_start_at_the_same_water():
    sizing = sized()
    tank = outage.study(sizing)
    assert tank.sizing.air.temperature == value_of(sizing.design, "site.warmest_water")


# --- the hot day's humidity -------------------------------------------------------------------


@pytest.mark.parametrize("where", ["low desert", "foothills", "high valley", "warm coast"])
def test_a_hot_day_is_as_humid_as_its_month(where):
    """FAO-56 equation 19 with the day's own temperatures gives the month's mean humidity back."""
    weather = place(where)
    for day, month, shift in (
        (12, int(np.argmax(weather.air_mean)), 5.0),
        (14, int(np.argmin(weather.air_mean)), -8.0),
    ):
        found = skies(weather, 5.0, 8.0)
        ends = (weather.air_min[month] + shift, weather.air_max[month] + shift)
        full = sum(float(vapour_pressure(t)) for t in ends) / 2.0
        there = found.humidity[day] * np.array([float(vapour_pressure(t)) for t in found.air[day]])
        assert np.max(there) / full == pytest.approx(weather.humidity[month], rel=1e-9)


def test_fao_56_example_5_humidity_of_a_day():
    """Printed: 18 and 25 °C, mean humidity (82 + 54) / 2 %: 1.78 kPa by equation 19."""
    from rsdesign.equations.heat.sky import day_vapour

    found = day_vapour(0.68, float(vapour_pressure(18.0)), float(vapour_pressure(25.0)))
    assert found / 1000 == pytest.approx(1.78, abs=0.005)


def test_the_hot_day_evaporates_less_than_in_drier_air():
    """With the vapour of the mean day the same hot day would be cooler: not the safe side."""
    found = study(sized()).course("hot")
    assert found.hottest == pytest.approx(
        35.5, abs=0.1
    )  # motors of 1 and 1 machine, pump by its plate
    assert found.hottest > 34.24 + 1.0  # what it was with the vapour of the mean day


# --- pounds a year, whole animals, pounds a foot ----------------------------------------------


def test_the_start_page_takes_pounds_a_year():
    """The grower's question: 150 lb a year; the number of fish follows, and the other way round."""
    session = Session("start")
    session.handle({"do": "set", "path": "goal.harvest", "text": "150"})
    assert not session.refused
    assert session.design.goal.fish is None
    shown = {c["path"]: c for c in blocks.choices(session)}
    assert shown["goal.harvest"]["text"] == "150"
    assert shown["goal.fish"]["taken"] == "69"
    assert shown["goal.fish"]["help"].startswith("It follows from: fish wanted in a year.")
    session.handle({"do": "set", "path": "goal.fish", "text": "200"})
    assert session.design.goal.harvest is None
    shown = {c["path"]: c for c in blocks.choices(session)}
    assert shown["goal.harvest"]["help"].startswith("It follows from: fish harvested from each")


def test_a_harvest_wanted_in_a_season_says_how_many_fish_it_takes():
    sizing = sized(goal__fish=None, goal__harvest=150 * POUND / (365.25 * DAY))
    year = yearly.year_of(sizing)
    fish = 150 * POUND / (float(year.batches) * year.weight)
    assert f"keep {math.floor(fish + 0.5)} fish in a batch" in first_line(sizing)


def test_animals_are_shown_whole_everywhere(capsys):
    kind = KINDS["animals"]
    assert [show(x, kind) for x in (69.4, 210.5, 2256.3)] == ["69", "211", "2,256"]
    session = Session("start")
    session.handle({"do": "set", "path": "goal.harvest", "text": "150"})
    for name in ("start", "fish", "lists", "whole"):
        session.handle({"do": "page", "page": name})
        for figure in blocks.figures(session):
            if figure["path"] in ("stock.fish", "stock.to_stock"):
                assert figure["value"].replace(",", "").isdigit(), figure
    from rsdesign.report.text import size_text

    told = size_text(session.sizing, "us")
    assert "69 tilapia of 1.25 lb" in told
    assert "69.4" not in told
    document = html(hand_out(session.sizing, "us"))
    assert "The goal: 69 tilapia" in document


def test_the_pull_of_a_wall_is_in_pounds_a_foot():
    """12,095 N/m by hand: 828.8 lb for each foot of height; 1 lb of force is 4.4482216 N."""
    kind = KINDS["tension"]
    assert show(12095.0, kind, "us") == f"{round(12095.0 * 0.3048 / 4.4482216152605):,} lb/ft"
    assert show(12095.0, kind, "metric") == "12,100 N/m"


def test_the_header_says_the_mean_feed_beside_the_biggest_day():
    assert blocks.summary_line(Session()).startswith(
        "Your fish eat 3.4 lb on the biggest day, 1.8 lb on a mean day"
    )
