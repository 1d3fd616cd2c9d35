"""A day of feeding: closed forms, runs of other solvers, balances, and what must hold for any design."""

import csv
import itertools
import json
from pathlib import Path

import numpy as np
import pytest
from designs import DEMOS, demo, random_arrays, random_design
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp
from scipy.interpolate import PchipInterpolator

from rsdesign import Design
from rsdesign.__main__ import main
from rsdesign.core.choices import DesignError
from rsdesign.design.model import with_values
from rsdesign.equations.biofilter import areas as biofilter
from rsdesign.equations.fish import meals as relations
from rsdesign.equations.power import backup
from rsdesign.season import best_meals, feeding_day
from rsdesign.season import daily_cycle as cycle
from rsdesign.season.fed_day import column, fed_day, filter_law
from rsdesign.season.feeding import MEALS, day_of, outages
from rsdesign.season.meal_times import meal_hours
from rsdesign.sizing.system import size
from rsdesign.studies.outage.study import study

HOUR, DAY = 3600.0, 86400.0
WORKDAY = ([8.0, 12.0, 16.0], [1 / 3, 1 / 3, 1 / 3])
EVEN = (cycle.hours_of().tolist(), [1.0 / cycle.STEPS] * cycle.STEPS)


def reference() -> dict:
    path = Path(__file__).with_name("reference") / "feeding_day.csv"
    text = path.read_text(encoding="utf-8")
    lines = [line for line in text.splitlines() if not line.startswith("#")]
    return {
        row["id"]: {**row, "inputs": json.loads(row["inputs"])} for row in csv.DictReader(lines)
    }


ROWS = reference()


def agrees(row: dict, value: float) -> bool:
    if row["kind"] == "band":
        low, high = map(float, row["tolerance"].split(".."))
        return low <= value <= high
    kind = {row["kind"]: float(row["tolerance"])}
    return value == pytest.approx(float(row["expected"]), **kind)


# --- values of others ---


def pattern(inputs: dict, steps: int = cycle.STEPS) -> np.ndarray:
    """What fish use in each step over the mean of the day, base and meals of a row."""
    hours = inputs["meals"]
    meals = cycle.meal_pattern(
        [hours], [[1 / len(hours)] * len(hours)], HOUR * inputs["lag_h"], steps
    )
    return cycle.use_pattern(inputs["base_share"], 1.0, meals)


def tank_day(inputs: dict, steps: int = cycle.STEPS):
    """Oxygen [mg/L] and use [mg/(L h)] of the tank of a row."""
    use = inputs["use"] * pattern(inputs, steps)
    rate = np.full(use.shape, inputs["transfer"])
    found = cycle.breathing_ring(rate * inputs["saturation"], use, rate, [[0.01]], 24.0 / steps)
    return found, use


def test_meals_at_three_hours_peak_as_superposed():
    row = ROWS["day-102"]
    found = pattern(row["inputs"], 24 * 60)
    assert agrees(row, found.max())
    assert cycle.hours_of(24 * 60)[found.argmax()] == pytest.approx(18.2, abs=0.1)


def test_highest_over_resting_ammonia_meets_the_printed_band():
    """Sea bream of 40 g: the model, over the range of its table, must meet what was measured."""
    of = relations.response_of("ammonia")
    ratios = []
    for base, lag in itertools.product((of.base_low, of.base_share, of.base_high),
                                       (of.lag_low, of.lag, of.lag_high)):  # fmt: skip
        found = pattern({"meals": [8], "lag_h": lag / HOUR, "base_share": base})
        ratios.append(found.max() / found.min())
    low, high = map(float, ROWS["day-107"]["tolerance"].split(".."))
    assert min(ratios) <= high
    assert max(ratios) >= low
    assert agrees(ROWS["day-107"], float(ROWS["day-107"]["expected"]))
    assert of.lag_low <= 4.5 * HOUR, "the printed peak lay up to 4.5 h after the meal"


def test_unfed_share_of_the_table_is_that_measured():
    row = ROWS["day-108"]
    ratio = row["inputs"]["fed"] / row["inputs"]["unfed"]
    assert agrees(row, ratio)
    assert relations.response_of("oxygen").base_low == pytest.approx(1 / ratio, abs=0.005)


def test_an_outage_after_the_meal_leaves_less_time():
    row = ROWS["day-113"]
    times = [
        backup.time_to(0.002, 0.006, 1.0, row["inputs"][n] / HOUR)
        for n in ("use_after", "use_before")
    ]
    assert agrees(row, times[0] / times[1])


@pytest.mark.parametrize("name", ["day-162", "day-164"])
def test_lowest_oxygen_of_a_feeding_day(name):
    found, _ = tank_day(ROWS[name]["inputs"])
    assert agrees(ROWS[name], found.start.min())
    assert found.mean.mean() == pytest.approx(7.8 - 4.0 / 2.5, rel=1e-12)


def test_fewest_minutes_of_a_feeding_day():
    from rsdesign.season.feeding import _time_to_use

    row = ROWS["day-163"]
    found, use = tank_day(row["inputs"])
    times = _time_to_use(found.start - row["inputs"]["low"], use / HOUR)[0] / 60.0
    assert agrees(row, times.min())
    assert cycle.hours_of()[times.argmin()] == 17.5
    assert times.max() == pytest.approx(146.0, abs=1.0)


def test_all_feed_in_half_a_day_nearly_triples_the_ammonia():
    given_ = ROWS["day-159"]["inputs"]
    exchange = np.array([[given_["exchange"] / DAY]])

    def taken(level):
        rate = biofilter.half_order_rate.__wrapped__(level, given_["temperature"])
        return given_["area"] * given_["derate"] * rate

    half = np.where(np.arange(cycle.STEPS) < cycle.STEPS // 2, 2.0, 0.0)[None, :]
    load = given_["load"] * 1e-3 / DAY * half
    found, takes = cycle.filtered_ring(load, taken, exchange, np.array([[0.39e-3]]))
    assert agrees(ROWS["day-159"], 1e3 * found.start.max())
    assert takes.mean() + float(exchange[0, 0]) * found.mean.mean() == pytest.approx(load.mean())
    even, _ = cycle.filtered_ring(np.full(load.shape, load.mean()), taken, exchange,
                                  np.array([[0.39e-3]]))  # fmt: skip
    assert 1e3 * even.start.max() == pytest.approx(0.39, abs=0.005)


# --- the ring against another solver ---


@pytest.mark.parametrize("name", DEMOS)
def test_a_day_agrees_with_another_solver(name):
    """Oxygen and ammonia run by scipy through the day, from midnight to midnight."""
    sizing = size(demo(name))
    day = fed_day(sizing, [WORKDAY[0]], [WORKDAY[1]])
    tank, d, at = day.tank, sizing.design, cycle.hours_of()
    step = DAY / cycle.STEPS
    rate = float(tank.conductance) / float(tank.volume)
    full = float(d.air.beta) * float(tank.saturation)
    use = (day.fish + day.others)[0] / float(tank.volume)
    law, mixed = filter_law(sizing)
    flow, area = float(sizing.pump.flow), float(sizing.filter.area)
    volume, exchange = float(sizing.tank.volume), float(sizing.flow.exchange)

    levels = np.geomspace(1e-6, 0.1, 1200)
    left = biofilter.outlet.__wrapped__(levels[None, :], flow, area, law, mixed)[0]
    takes = PchipInterpolator(levels, flow * (levels - left))

    def slopes(t, y):
        k = int(t / step) % cycle.STEPS
        gone = float(takes(y[1])) + exchange * y[1]
        return [rate * (full - y[0]) - use[k], (day.made[0, k] - gone) / volume]

    level = [float(day.oxygen.start[0, 0]), float(day.ammonia.start[0, 0])]
    starts = []
    for k in range(cycle.STEPS):
        starts.append(level)
        span = (k * step, (k + 1) * step * (1 - 1e-12))
        level = solve_ivp(slopes, span, level, rtol=1e-8, atol=1e-13).y[:, -1]
    assert level == pytest.approx(starts[0], rel=2e-3), "the day repeats itself"
    oxygen, ammonia = np.array(starts).T
    assert np.abs(oxygen / day.oxygen.start[0] - 1.0).max() < 1e-6
    assert np.abs(ammonia / day.ammonia.start[0] - 1.0).max() < 2e-3, (
        "steps of a quarter of an hour"
    )
    assert at[oxygen.argmin()] == at[day.oxygen.start[0].argmin()]


def test_oxygen_below_the_critical_level_agrees_with_another_solver():
    rng = np.random.default_rng(4)
    use = 6.0 * pattern({"meals": [8], "lag_h": 2.0, "base_share": 0.4})
    for transfer in (0.3, 1.0, 1.8):
        rate = np.full(use.shape, transfer)
        found = cycle.breathing_ring(rate * 7.8, use, rate, [[3.0]], 0.25)

        def slope(t, y, transfer=transfer):
            taken = use[0, int(t / 0.25) % cycle.STEPS] * min(1.0, y[0] / 3.0)
            return [transfer * (7.8 - y[0]) - taken]

        level = [float(rng.uniform(0.0, 7.8))]
        for _ in range(4):
            starts = []
            for k in range(cycle.STEPS):
                starts.append(level[0])
                span = (0.25 * k, 0.25 * (k + 1) - 1e-9)
                level = solve_ivp(slope, span, level, rtol=1e-9, atol=1e-11).y[:, -1]
        assert np.abs(np.array(starts) - found.start[0]).max() < 1e-5
        assert found.start.min() > 0.0


def test_steps_of_a_quarter_hour_are_fine_enough():
    sizing = size(demo("family"))
    coarse, fine = (fed_day(sizing, [WORKDAY[0]], [WORKDAY[1]], steps=n) for n in (96, 1440))
    for one, other in (
        (coarse.oxygen.start, fine.oxygen.start),
        (coarse.ammonia.start, fine.ammonia.start),
        (coarse.carbon_dioxide.start, fine.carbon_dioxide.start),
        (coarse.unionized, fine.unionized),
    ):
        assert np.abs(one[0] / other[0, ::15] - 1.0).max() < 5e-3


# --- what the sizing says ---


@pytest.mark.parametrize("seed", range(40))
def test_the_mean_day_is_the_sizing(seed):
    """The balances of oxygen and carbon dioxide are linear, so their means are the steady levels."""
    sizing = size(demo(DEMOS[seed]) if seed < 3 else random_design(seed))
    day = fed_day(sizing, [WORKDAY[0]], [WORKDAY[1]])
    critical = float(sizing.design.keep.stress_oxygen)
    if day.oxygen.start.min() >= critical:
        assert day.oxygen.mean.mean() == pytest.approx(float(sizing.air.mean_oxygen), rel=1e-9)
    assert day.carbon_dioxide.mean.mean() == pytest.approx(
        float(sizing.gas.carbon_dioxide), rel=1e-9
    )
    even = fed_day(sizing, [EVEN[0]], [EVEN[1]])
    if np.isfinite(even.ammonia.start).all():
        steady = float(sizing.filter.ammonia)
        assert even.ammonia.start == pytest.approx(np.full((1, 96), steady), rel=1e-6)
        assert even.taken.mean() == pytest.approx(float(sizing.filter.removed), rel=1e-6)


def test_a_told_rate_of_the_filter_is_the_one_used():
    for kind in ("moving bed", "trickling"):
        medium = "carriers" if kind == "moving bed" else "plastic rings"
        sizing = size(with_values(demo("family"), {
            "filter.type": kind, "filter.medium": medium, "filter.rate": 0.3e-3 / DAY,
        }))  # fmt: skip
        even = fed_day(sizing, [EVEN[0]], [EVEN[1]])
        assert even.ammonia.start.max() == pytest.approx(float(sizing.filter.ammonia), rel=1e-6)


def test_outages_feed_on_the_study_of_outages():
    """Fed evenly without light, every hour leaves the time of a constant use from that oxygen."""
    sizing = size(demo("family"))
    day, _, _ = day_of(sizing, *EVEN, light=(6.0, 6.0))
    times = outages(day)
    d, tank = sizing.design, day.tank
    bacteria = study(sizing).peak
    use = day.fish[0, 0] + float(bacteria.filter) + float(bacteria.waste)
    plain = backup.time_to(
        float(d.keep.stress_oxygen), float(day.oxygen.start[0, 0]), float(tank.volume), float(use)
    )
    assert times.likely == pytest.approx(np.full((1, 96), plain), rel=1e-9)
    assert np.all(times.short <= times.likely)
    assert np.all(times.likely <= times.long)
    assert (day.tank.volume, day.tank.filter) == (bacteria.volume, bacteria.filter)


# --- what holds for any design ---


@settings(max_examples=4, deadline=None)
@given(
    seed=st.integers(0, 10**6),
    meals=st.lists(st.integers(0, 95), min_size=1, max_size=6, unique=True),
    shift=st.integers(1, 95),
)
def test_many_designs_keep_balances_and_signs(seed, meals, shift):
    """2,500 random designs a call, ten thousand over the examples."""
    sizing = size(random_arrays(2500, seed))
    hours, parts = np.array([sorted(meals)]) / 4.0, [[1 / len(meals)] * len(meals)]
    always = (6.0, 6.0)
    day = fed_day(sizing, hours, parts, light=always)
    known = np.isfinite(day.ammonia.start).all(axis=-1)
    for level in (day.oxygen.start, day.ammonia.start[known], day.carbon_dioxide.start,
                  day.unionized[known]):  # fmt: skip
        assert level.min() >= 0.0
    assert known.mean() > 0.9
    made, gone = day.made.mean(axis=-1), (day.taken + day.let_out).mean(axis=-1)
    assert np.abs(gone / made - 1.0)[known].max() < 1e-6
    stored = (day.ammonia.start - np.roll(day.ammonia.start, -1, axis=-1)) * column(
        sizing.tank.volume
    )
    left = (day.made - day.taken - day.let_out) * DAY / cycle.STEPS + stored
    assert np.abs(left[known] / (made[known, None] * DAY)).max() < 1e-6
    few = size(random_arrays(100, seed))
    now, later = (fed_day(few, np.mod(hours + by / 4.0, 24.0), parts, light=always)
                  for by in (0, shift))  # fmt: skip
    for one, other in (
        (now.oxygen.start, later.oxygen.start),
        (now.ammonia.start, later.ammonia.start),
        (now.carbon_dioxide.start, later.carbon_dioxide.start),
    ):
        moved = np.roll(one, shift, axis=-1)
        both = np.isfinite(moved) & np.isfinite(other)
        assert np.abs(moved[both] - other[both]).max() <= 1e-7 * np.nanmax(one)


@settings(max_examples=50, deadline=None)
@given(
    st.integers(1, 12), st.integers(1, 4), st.floats(1.0, 8.0), st.floats(0.0, 0.9),
    st.floats(0.0, 23.9),
)  # fmt: skip
def test_more_meals_evenly_given_make_a_smaller_peak(count, times, lag, base, start):
    def peak(n):
        hours = np.mod(start + np.arange(n) * 24.0 / n, 24.0)
        return pattern({"meals": hours.tolist(), "lag_h": lag, "base_share": base}).max()

    few, more = peak(count), peak(count * times)
    assert more <= few * (1.0 + 1e-9)
    alike = HOUR * 24 / count
    top = relations.highest_response(relations.highest_hour(lag * HOUR, alike), lag * HOUR, alike)
    assert few <= relations.hour_over_mean(base, top) * (1.0 + 1e-9)


@settings(max_examples=60, deadline=None)
@given(
    st.lists(st.floats(0.0, 23.99), min_size=1, max_size=8),
    st.floats(0.5, 12.0),
    st.integers(4, 200),
)
def test_the_whole_of_a_meal_is_given_off_in_a_day(hours, lag, steps):
    found = cycle.meal_pattern([hours], [[1 / len(hours)] * len(hours)], lag * HOUR, steps)
    assert found.mean() == pytest.approx(1.0, rel=1e-12)
    assert found.min() >= 0.0


@given(st.floats(1.0, 3.0), st.floats(0.0, 24.0), st.floats(0.0, 24.0), st.integers(4, 200))
def test_light_leaves_the_mean_of_the_day(factor, on, off, steps):
    found = cycle.light_pattern(factor, (on, off), steps)
    assert found.mean() == pytest.approx(1.0, rel=1e-12)
    assert found.max() <= factor * found.min() * (1 + 1e-12)


def test_the_response_is_the_slope_of_what_is_given_off():
    for lag in (2.0, 4.0, 6.0):
        t = np.linspace(0.0, DAY, 5001)
        given_off = relations.given_off(t, lag * HOUR)
        slope = np.gradient(given_off, t) * DAY
        response = relations.meal_response(t, lag * HOUR)
        assert np.abs(slope - response)[1:-1].max() < 1e-3
        assert given_off[-1] == pytest.approx(1.0, rel=1e-14)
        assert response.max() == pytest.approx(
            relations.highest_response(relations.highest_hour(lag * HOUR), lag * HOUR), rel=1e-5
        )


# --- the table and the words ---


def test_the_table_carries_units_and_its_worst_hours():
    sizing = size(demo("family"))
    hourly, quarter = feeding_day(sizing), feeding_day(sizing, every=15)
    assert list(hourly.index) == [float(h) for h in range(24)]
    assert len(quarter) == 96
    assert set(hourly.columns) < set(hourly.attrs["units"])
    assert np.allclose(hourly["oxygen"], quarter["oxygen"][::4])
    for table in (hourly, quarter):
        assert table["feed"].sum() == pytest.approx(100.0)
        worst = table.attrs["worst"]
        assert worst["oxygen"]["value"] == quarter["oxygen"].min()
        assert quarter["ammonia"][worst["ammonia"]["hour"]] == quarter["ammonia"].max()
        start = table.attrs["worst_start"]
        assert start["minutes"] == pytest.approx(quarter["minutes_to_act"].min())
        assert table.attrs["best_start"]["minutes"] == pytest.approx(
            quarter["minutes_to_act"].max()
        )
    assert hourly.attrs["meals"] == ["8:00", "12:00", "16:00"]
    si = feeding_day(sizing, system="si")
    assert si["oxygen"].to_numpy() == pytest.approx(hourly["oxygen"].to_numpy() * 1e-3)


def test_a_warmer_afternoon_makes_the_ammonia_more_poisonous():
    sizing = size(demo("family"))
    warm = float(sizing.air.temperature)
    water = np.full(24, warm - 2.0)
    water[12:18] = warm + 2.0
    even, swung = feeding_day(sizing), feeding_day(sizing, water=water)
    same = feeding_day(sizing, water=np.full(24, warm))
    assert np.allclose(same["oxygen"], even["oxygen"])
    assert swung["unionized_ammonia"][15] > even["unionized_ammonia"][15]
    assert swung["unionized_ammonia"][3] < even["unionized_ammonia"][3]
    assert swung["oxygen"].min() < even["oxygen"].min()


def test_the_best_meals_are_no_worse_than_any_others():
    sizing = size(demo("family"))

    def lowest(hours):
        return feeding_day(sizing, hours).attrs["worst"]["oxygen"]["value"]

    rng = np.random.default_rng(2)
    for count in (1, 2, 3, 5):
        best = best_meals(sizing, count)
        assert len(best) == count
        assert all(6.0 <= h <= 20.0 for h in best)
        others = [rng.choice(np.arange(6.0, 20.25, 0.5), count, replace=False) for _ in range(25)]
        assert lowest(best) >= max(map(lowest, others)) - 1e-9
    assert lowest(best_meals(sizing, 3)) > lowest(MEALS)
    many = best_meals(sizing, 12)
    assert lowest(many) >= lowest(best_meals(sizing, 3))


def test_a_day_says_what_is_wrong():
    poor = with_values(demo("family"), {"air.flow": 0.004})
    words = " ".join(feeding_day(poor).attrs["warnings"])
    assert "oxygen falls" in words
    bare = with_values(demo("family"), {"filter.media_volume": 0.0})
    found = feeding_day(bare)
    assert any("rises day after day" in w for w in found.attrs["warnings"]) or (
        found["ammonia"].notna().all()
    )
    one = feeding_day(demo("family"), "8:00")
    assert any("busiest hour" in w for w in one.attrs["warnings"])


@pytest.mark.parametrize(
    ("meals", "more", "words"),
    [
        ("25:00", {}, "no hour of the day"),
        ([8, "x"], {}, "no hour of the day"),
        ("", {}, "No meal"),
        ([8, 8], {}, "same hour"),
        ([float("nan")], {}, "no hour of the day"),
        ([8, 12], {"shares": [0.5, 0.6]}, "add up to 1"),
        ([8, 12], {"shares": [1.0]}, "2 numbers"),
        ([8], {"light": (6, 30)}, "Light is told"),
        ([8], {"water": [20.0]}, "24 temperatures"),
        ([8], {"every": 7}, "choose 60, 30 or 15"),
        (list(np.arange(97) / 5), {}, "too many"),
    ],
)
def test_bad_input_gets_one_sentence(meals, more, words):
    with pytest.raises(DesignError, match=words) as wrong:
        feeding_day(demo("family"), meals, **more)
    assert str(wrong.value).endswith(".")


def test_bad_designs_and_counts_get_one_sentence():
    with pytest.raises(DesignError, match="one design"):
        feeding_day(Design().with_(goal_fish=[180, 360]))
    for count, more in ((0, {}), (13, {}), (2.5, {}), (3, {"first": 12.0, "last": 12.5})):
        with pytest.raises(DesignError):
            best_meals(demo("family"), count, **more)


def test_hours_are_read_as_people_write_them():
    assert meal_hours("8, 12:30; 5 pm, 12 am") == [0.0, 8.0, 12.5, 17.0]
    assert meal_hours(["7:15 am", 19]) == [7.25, 19.0]


def test_the_command_tells_the_worst_hour_first(capsys, tmp_path):
    from rsdesign.core import tables

    file = str(tables.data_folder() / "designs" / "family.toml")
    assert main(["day", file, "--meals", "8:00, 12:00"]) == 0
    text = capsys.readouterr().out
    assert (
        text.index("The worst hour of each")
        < text.index("When not to risk")
        < text.index("Hour by")
    )
    assert "Mains power near water" in text
    table = tmp_path / "day.csv"
    assert main(["day", file, "--best", "3", "--json", "--csv", str(table)]) == 0
    found = json.loads(capsys.readouterr().out)
    assert len(found["hours"]) == 24
    assert found["units"]["oxygen"] == "mg/L"
    assert len(table.read_text(encoding="utf-8").splitlines()) == 97
    for bad, words in (
        (["--csv", str(table)], "there already"),
        (["--meals", "noon"], "no hour of the day"),
        (["--meals", "8", "--best", "2"], "not both"),
        (["--best", "many"], "whole number"),
    ):
        assert main(["day", file, *bad]) == 2
        assert words in capsys.readouterr().err
