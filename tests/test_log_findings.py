"""What a log shows: each rule on a log that has it and on one that has not, feed, next tests, the command."""

import csv
import datetime
import functools
import json
import shutil

import numpy as np
import pytest
from designs import demo

from rsdesign import load, read_log, size
from rsdesign.__main__ import main
from rsdesign.core.cautions import cautions
from rsdesign.core.choices import DesignError
from rsdesign.core.tables import data_folder
from rsdesign.core.unit_table import DAY
from rsdesign.equations.biofilter import nitrification_alkalinity
from rsdesign.records import beside_design, log_findings, log_of_values, next_tests, todays_feed
from rsdesign.records.columns import columns, measured
from rsdesign.records.findings import COVERED, RULES
from rsdesign.records.rules import finding_rows
from rsdesign.records.trends import trend
from rsdesign.season import growout

MG = 1e-3
LOG = data_folder() / "logs" / "school_autumn.csv"
SCHOOL = data_folder() / "designs" / "school.toml"
NAN = float("nan")


@functools.cache
def sizing():
    return size(demo("school"))


def good(days: int = 20, **changes) -> dict[str, np.ndarray]:
    """Three weeks of a filter that is well, in the tank of the school: nitrate as the feed makes it."""
    when = np.arange(days, dtype=float)
    s = sizing()
    feed = 0.8 * float(s.stock.peak_feed) * DAY
    nitrogen = feed * s.design.stock.protein * 0.092 / float(s.tank.volume)
    used = 3.57 * nitrogen
    base = used * float(s.tank.volume) / 0.5957
    found = {
        "temperature": 27.0, "ph": 7.4, "tan": 0.4 * MG, "nitrite": 0.1 * MG, "oxygen": 6.0 * MG,
        "nitrate": 20 * MG + 0.7 * nitrogen * when, "alkalinity": 0.1, "feed": feed, "deaths": 0.0,
        "water_added": 0.0, "base": 0.7 * base,
    }  # fmt: skip
    return {name: np.zeros(days) + value for name, value in (found | changes).items()}


def names_of(values, low=None, high=None, days: int = 20) -> list[str]:
    log = log_of_values("2027-04-15", np.arange(days) + 0.3, values, low=low, high=high)
    return [f.name for f in log_findings(log, sizing())]


def last(value: float, before: float, days: int = 20, tail: int = 3) -> np.ndarray:
    """A value for the last days, another one before."""
    return np.where(np.arange(days) >= days - tail, value, before)


RISING = np.linspace(0.2, 4.0, 20) * MG
CASES = {
    "deaths_many": {"deaths": last(20.0, 0.0)},
    "deaths": {"deaths": last(1.0, 0.0, tail=1)},
    "oxygen_danger": {"oxygen": last(2.5 * MG, 6 * MG)},
    "temperature_high": {"temperature": last(34.0, 27.0)},
    "temperature_low": {"temperature": last(16.0, 27.0)},
    "unionized_deadly": {"tan": last(9 * MG, 0.4 * MG), "ph": last(8.8, 7.4)},
    "unionized_high": {"tan": last(2.0 * MG, 0.4 * MG), "ph": last(8.0, 7.4)},
    "ammonia_high": {"tan": last(3.0 * MG, 0.4 * MG)},
    "nitrite_high": {"nitrite": last(4.9 * MG, 0.1 * MG)},
    "ammonia_bacteria": {"tan": RISING},
    "nitrite_bacteria": {"nitrite": RISING},
    "alkalinity_falling": {"alkalinity": last(0.045, 0.1), "ph": np.linspace(7.8, 6.9, 20)},
    "alkalinity_low": {"alkalinity": last(0.030, 0.1)},
    "ph_low": {"ph": last(6.2, 7.4)},
    "ph_high": {"ph": last(8.6, 7.4)},
    "oxygen_low": {"oxygen": last(4.5 * MG, 6 * MG)},
    "oxygen_probe": {"oxygen": last(11 * MG, 6 * MG)},
    "nitrate_kit": {"nitrate": good()["nitrate"] * 4.4266},
    "nitrate_missing": {"nitrate": 20 * MG + 0.02 * (good()["nitrate"] - 20 * MG)},
    "nitrate_falling": {"nitrate": np.linspace(60, 30, 20) * MG},
    "alkalinity_ratio": {"base": 3.0 * good()["base"]},
    "nitrate_high": {"nitrate": good()["nitrate"] + 0.2},
    "feed_above_plan": {"feed": last(1.6 * good()["feed"][0], good()["feed"][0])},
    "one_reading": {"tan": last(0.9 * MG, 0.4 * MG, tail=1) + 0.02 * MG * np.sin(np.arange(20))},
}
"""What each rule is shown."""


def test_a_system_that_is_well_has_no_findings():
    assert names_of(good()) == []


@pytest.mark.parametrize("name", CASES)
def test_a_rule_sees_what_it_looks_for(name):
    assert name in names_of(good(**CASES[name]))


def test_a_kit_at_its_top_is_seen():
    values = good()
    high = {"nitrate": np.full(20, np.inf)}
    assert "top_colour" in names_of(values, high=high)
    assert "nitrate_missing" not in names_of(values, high=high)
    high["nitrate"][-1] = values["nitrate"][-1]
    assert "top_colour" not in names_of(values, high=high)


def test_every_row_has_its_rule_and_its_case_and_is_whole():
    rows = finding_rows()
    assert [row.name for row in rows] == list(RULES)
    assert set(CASES) | {"top_colour"} == set(RULES)
    for row in rows:
        for words in (row.says, row.hour, row.today, row.week):
            assert words[-1] in ".?", words
            assert len(words) < 330
        assert row.caution in cautions()
        assert set(filter(None, row.again.split("|"))) <= set(measured())
        assert row.feed in ("", "0", "0.5", "1")
    assert rows[0].name.startswith("deaths"), "deaths first of all"
    assert set(COVERED) | set(COVERED.values()) <= set(RULES)


def test_deaths_come_first_of_all():
    worst = good(**CASES["unionized_deadly"] | CASES["oxygen_danger"] | CASES["deaths_many"])
    names = names_of(worst)
    assert names[0] == "deaths_many"
    assert "deaths" not in names
    assert names == [n for n in RULES if n in names]


def test_the_kit_switch_turns_the_suspicion_off():
    """Readings of the ion taken for nitrogen rise 4.4 times too fast; told, they fit the feed."""
    values = good()
    lines = ["date,NO3{},feed (kg),added_water (L)"]
    for day in range(20):
        date = datetime.date(2027, 4, 15) + datetime.timedelta(days=day)
        ion = values["nitrate"][day] / MG * 62.004 / 14.007
        lines.append(f"{date},{ion:.1f},{values['feed'][day]:.3f},0")
    text = "\n".join(lines) + "\n"
    bare = log_findings(read_log(text.format("")), sizing())
    told = log_findings(read_log(text.format(" (as ion)")), sizing())
    assert "nitrate_kit" in [f.name for f in bare]
    assert "the ion" in next(f for f in bare if f.name == "nitrate_kit").says()
    assert "nitrate_kit" not in [f.name for f in told]


def test_the_balance_of_alkalinity_is_that_of_the_stoichiometry():
    assert nitrification_alkalinity(1.0) == pytest.approx(3.57, abs=0.01)
    values = good(alkalinity=0.1, base=0.0)
    values["alkalinity"] = 0.35 - 3.57 * (values["nitrate"] - values["nitrate"][0])
    assert "alkalinity_ratio" not in names_of(values)
    values["alkalinity"] = 0.35 - 8.0 * (values["nitrate"] - values["nitrate"][0])
    assert "alkalinity_ratio" in names_of(values)


def test_salt_counts_only_once_chloride_is_tested():
    values = good(nitrite=last(2.5 * MG, 0.1 * MG), chloride=np.full(20, 0.020))
    assert "nitrite_high" in names_of(values)
    assert "nitrite_high" not in names_of(values | {"chloride": np.full(20, 0.140)})
    assert "nitrite_high" not in names_of(values | {"chloride": np.full(20, NAN)}), (
        "140 mg/L in the well"
    )


def test_a_finding_on_one_reading_says_so_and_two_bear_it_out():
    for tail, alone in ((1, True), (2, False)):
        log = log_of_values("2027-04-15", np.arange(20) + 0.3,
                            good(nitrite=last(4.9 * MG, 0.1 * MG, tail=tail)))  # fmt: skip
        found = next(f for f in log_findings(log, sizing()) if f.name == "nitrite_high")
        assert found.alone is alone
        assert ("one reading" in found.says()) is alone


def test_a_rise_within_the_colours_of_a_chart_is_no_rise():
    values = np.repeat([0.25, 0.5], 10) * MG
    log = log_of_values("2027-04-15", np.arange(20.0), {"tan": values},
                        low={"tan": values - 0.125 * MG}, high={"tan": values + 0.25 * MG})  # fmt: skip
    assert trend(log, "tan", 20.0).sure == 0
    sharp = log_of_values("2027-04-15", np.arange(20.0), {"tan": values})
    assert trend(sharp, "tan", 20.0).sure == 1


def test_missing_days_are_no_findings():
    nothing = {name: np.full(20, NAN) for name in ("deaths", "oxygen", "alkalinity", "feed", "tan")}
    assert names_of(nothing) == []


def test_without_a_design_the_rules_of_ones_own_volume_are_silent():
    log = log_of_values("2027-04-15", np.arange(20) + 0.3, good(**CASES["nitrate_kit"]))
    own = {row.name for row in finding_rows() if row.design}
    assert not own & {f.name for f in log_findings(log)}
    assert "nitrate_kit" in own


def test_findings_are_a_frame_and_a_table():
    found = log_findings(read_log(LOG), sizing())
    frame = found.frame("metric")
    assert len(frame) == len(found) > 2
    assert frame["In the next hour"].str.len().min() > 5
    assert frame["source"].str.len().min() > 5
    assert set(frame.attrs["units"]) == set(frame.columns)
    assert "<table>" in found._repr_html_()
    assert "{" not in " ".join(frame.astype(str).to_numpy().ravel())
    with pytest.raises(DesignError, match="one design"):
        log_findings(read_log(LOG), demo("school").with_(tank_depth=[1.0, 1.2]))


# --- next steps ------------------------------------------------------------------------------


def test_tests_come_when_their_task_comes_and_sooner_after_a_finding():
    log = log_of_values("2027-04-15", np.arange(20) + 0.3, good())
    due = {one.column: one for one in next_tests(log, log_findings(log, sizing()))}
    today = datetime.date(2027, 5, 4)
    assert due["tan"].date == today + datetime.timedelta(days=7)
    assert due["temperature"].date == today + datetime.timedelta(days=1)
    assert due["sample_weight"].date == today
    assert "no test" in due["sample_weight"].why
    bad = log_of_values("2027-04-15", np.arange(20) + 0.3, good(**CASES["nitrite_high"]))
    again = {one.column: one for one in next_tests(bad, log_findings(bad, sizing()))}
    assert again["nitrite"].date == today + datetime.timedelta(days=1)
    assert "Nitrite is high" in again["nitrite"].why
    dates = [one.date for one in next_tests(log)]
    assert dates == sorted(dates)
    assert next_tests(read_log("date,pH\n")) == ()


def test_todays_feed_is_that_of_the_season_held_by_the_day_before_and_by_the_findings():
    frame = growout(sizing(), 20, "2027-04-15", system="si")
    planned = float(frame["feed"].iloc[-1])
    for feed, expected in (
        (planned * DAY, planned),
        (0.5 * planned * DAY, 0.55 * planned),
        (NAN, planned),
    ):
        log = log_of_values("2027-04-15", np.arange(20) + 0.3, good(feed=feed))
        found = todays_feed(log, sizing())
        assert found.rate == pytest.approx(expected, rel=1e-9)
        assert found.planned == pytest.approx(planned)
    ill = log_of_values("2027-04-15", np.arange(20) + 0.3, good(**CASES["nitrite_high"]))
    found = todays_feed(ill, sizing())
    assert found.rate == 0.0
    assert "none" in found.says()
    assert "Nitrite" in found.says()
    half = log_of_values(
        "2027-04-15", np.arange(20) + 0.3, good(**CASES["oxygen_low"], feed=planned * DAY)
    )
    assert todays_feed(half, sizing()).rate == pytest.approx(0.5 * planned)
    with pytest.raises(DesignError, match="the day the fish came"):
        todays_feed(half, sizing(), stocked="2031-01-01")
    with pytest.raises(DesignError, match="write year-month-day, such as 2027-03-15"):
        todays_feed(half, sizing(), stocked="spring")


def test_a_log_stands_beside_the_course_of_its_design():
    log = read_log(LOG)
    table = beside_design(log, sizing(), system="metric")
    frame = growout(sizing(), 60, "2027-09-06", system="metric")
    assert len(table) == len(log)
    assert table["day"].iloc[-1] == 60
    row = table.iloc[10]
    of_course = frame.iloc[int(row["day"]) - 1]
    assert row["tan_design"] == pytest.approx(of_course["ammonia"])
    assert row["feed_design"] == pytest.approx(of_course["feed"])
    assert row["date"] == of_course["date"]
    assert table.attrs["units"]["tan_design"] == "mg/L"
    close = np.abs(table["feed"] - table["feed_design"])
    assert close.max() < 0.02, "the demonstration log is made from this season"
    later = beside_design(log, sizing(), stocked="2027-09-16", system="metric")
    assert later["tan_design"].isna().sum() == (table["day"] <= 10).sum()
    start = beside_design(log, sizing(), "startup", system="metric")
    assert "oxygen_design" not in start
    with pytest.raises(DesignError, match="season, startup"):
        beside_design(log, sizing(), "holiday")


# --- the command -----------------------------------------------------------------------------


def run(capsys, *args) -> str:
    assert main(["log", *map(str, args)]) == 0
    return capsys.readouterr().out


def test_the_command_prints_findings_feed_and_next_tests(capsys, tmp_path):
    file = tmp_path / "log.csv"
    file.write_text(
        LOG.read_text(encoding="utf-8") + "2027-11-05,7:30,abc,8.1,,,,,6.5\nbad day,1\n",
        encoding="utf-8",
    )
    text = run(capsys, file, "--design", SCHOOL, "--units", "metric")
    log = read_log(file)
    for finding in log_findings(log, load(SCHOOL)):
        assert finding.says("metric") in text
        for words in finding.steps("metric").values():
            assert words in text
    assert todays_feed(log, load(SCHOOL)).says("metric") in text
    assert "Next tests" in text
    assert "'abc'" in text
    assert "'bad day'" in text
    assert len(log.problems) == 2


def test_the_command_without_a_design_says_what_it_leaves_out(capsys):
    text = run(capsys, LOG)
    assert "--design" in text
    assert "°F" in text


def test_json_and_csv_say_the_same(capsys, tmp_path):
    out = tmp_path / "tests.csv"
    found = json.loads(
        run(capsys, LOG, "--design", SCHOOL, "--json", "--csv", out, "--units", "metric")
    )
    log = read_log(LOG)
    assert [f["name"] for f in found["findings"]] == [
        f.name for f in log_findings(log, load(SCHOOL))
    ]
    assert len(found["tests"]["tan"]) == len(log)
    assert found["design"]["tan_design"][0] > 0.0
    rows = list(csv.DictReader(out.read_text(encoding="utf-8").splitlines()))
    assert len(rows) == len(log)
    assert float(rows[0]["temperature [°C]"]) == pytest.approx(28.6)
    assert main(["log", str(LOG), "--csv", str(out)]) == 2
    assert "is there already" in capsys.readouterr().err


def test_no_note_is_in_what_is_sent_on(capsys):
    text = run(capsys, LOG, "--json")
    assert "dechlorinator" not in text
    assert 'fish came"' not in text


@pytest.mark.parametrize("args", [["none.csv"], [str(LOG), "--kit", "weather: as ion"], [str(LOG), "--kit", "NO3: as blue"],
                                  [str(LOG), "--design", "none.toml"], [str(LOG), "--stocked", "spring", "--design", str(SCHOOL)]])  # fmt: skip
def test_what_cannot_be_done_is_one_sentence(capsys, args):
    assert main(["log", *args]) == 2
    told = capsys.readouterr().err.strip()
    assert told.startswith("rsdesign: ")
    assert told.endswith(".")
    assert "\n" not in told


def test_a_kit_of_the_command_is_that_of_the_heading(capsys, tmp_path):
    file = tmp_path / "log.csv"
    file.write_text("date,NO2\n2027-04-15,3.2844\n", encoding="utf-8")
    found = json.loads(run(capsys, file, "--kit", "NO2: as ion", "--units", "metric", "--json"))
    assert found["tests"]["nitrite"] == [pytest.approx(1.0, rel=1e-4)]
    assert found["remarks"] == []
    shutil.copy(file, tmp_path / "copy.csv")


def test_every_task_of_a_column_is_a_task():
    from rsdesign.equations.costs.labour import DAYS_BETWEEN, tasks

    often = {task.name: task.when for task in tasks()}
    for name in measured():
        task = columns()[name].task
        assert not task or often[task] in DAYS_BETWEEN, name
