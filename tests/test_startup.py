"""The start of a filter: solver against outside runs, conservation, rest, bands, words, command."""

import csv
import json
import warnings
from functools import cache
from pathlib import Path

import numpy as np
import pytest
from designs import DEMOS, demo
from hypothesis import given, settings
from hypothesis import strategies as st

from rsdesign import season, size
from rsdesign.__main__ import main
from rsdesign.core import tables
from rsdesign.core.choices import DesignError
from rsdesign.core.unit_table import DAY
from rsdesign.equations.biofilter import areas, doses, nitrification
from rsdesign.equations.biofilter import ripening as relations
from rsdesign.season import bacteria, film_curve, ripening, start_course
from rsdesign.season.film_search import FilmStep
from rsdesign.season.filter_start import computed
from rsdesign.season.ripening import ALKALINITY, AMMONIA, NITRITE, Film, Water, start, step

with (Path(__file__).parent / "reference" / "startup.csv").open(encoding="utf-8", newline="") as f:
    ROWS = list(csv.DictReader(f))
MG = 1e-3


def rows(what: str) -> list[dict]:
    found = [row for row in ROWS if row["what"].startswith(what)]
    assert found, what
    return found


@cache
def course(temperature, oxygen, load, seed, days, hours=2.0) -> np.ndarray:
    """Levels [mg/L] of a filter under an even load: a row for each step."""
    numbers = bacteria.middle()
    kinds = bacteria.conditions(numbers, temperature, oxygen * MG, 7.2)
    each = load * MG / DAY
    seeds = [seed * relations.bacteria_at_rest(k.yields, each, k.decay) for k in kinds]
    state = start(*seeds, 1e3)
    found = [state]
    for _ in range(round(days * 24 / hours)):
        state = step(state, each, hours * 3600.0, kinds, Water())
        found.append(state)
    return np.array(found) / MG


@pytest.mark.parametrize("row", rows("run"), ids=lambda row: row["id"])
def test_a_run_agrees_with_an_outside_solver(row):
    told = json.loads(row["inputs"])
    levels = course(told["T"], told["DO"], told["load"], told["seed_fraction"], 120)
    day = np.arange(len(levels)) / 12.0
    over = np.nonzero((levels[:, :2] > 1.0).any(axis=1))[0][-1] + 1
    found = {
        "tTAN": day[levels[:, AMMONIA].argmax()],
        "TANpk": levels[:, AMMONIA].max(),
        "tNO2": day[levels[:, NITRITE].argmax()],
        "NO2pk": levels[:, NITRITE].max(),
        "t_both_below_1": day[over],
    }[row["what"].removeprefix("run ")]
    assert found == pytest.approx(float(row["expected"]), rel=float(row["tolerance"]))


def test_halving_the_step_quarters_the_error():
    peak = [course(25, 6, 5, 1e-6, 60, hours)[:, NITRITE].max() for hours in (8.0, 4.0, 2.0, 0.5)]
    error = np.abs(np.array(peak[:3]) - peak[3])
    assert (error[:-1] / error[1:] > 3.0).all()


def test_nitrogen_closes():
    (row,) = rows("nitrogen")
    told = json.loads(row["inputs"])
    levels = course(told["T"], 6, told["load"], 1e-6, told["t"])
    assert levels[-1, :3].sum() == pytest.approx(float(row["expected"]), rel=1e-9)


def test_days_saved_by_a_hundred_times_the_seed():
    (row,) = rows("seed")
    peaks = [course(25, 6, 5, seed, 80, 0.5)[:, NITRITE].argmax() / 48.0 for seed in (1e-6, 1e-4)]
    assert peaks[0] - peaks[1] == pytest.approx(float(row["expected"]), rel=0.01)


def test_the_film_sets_the_level_at_rest():
    (row,) = rows("rest")
    told = json.loads(row["inputs"])
    each = told["load"] * MG / DAY
    kinds = bacteria.conditions(bacteria.middle(), told["T"], 6 * MG, 7.2)

    def rate(level):
        return told["derate"] * nitrification.half_order_rate.__wrapped__(level, told["T"])

    seeds = [0.1 * relations.bacteria_at_rest(k.yields, each, k.decay) for k in kinds]
    no_cap = 1.0
    # so much flow that tank and filter are one
    film = Film(told["area"], 1e3, no_cap, True, film_curve.Curve.of(rate))
    state = step(start(*seeds, 1e3), each, 7200.0, kinds, Water(), film, 12 * 200)
    assert state[AMMONIA] / MG == pytest.approx(float(row["expected"]), rel=1e-6)
    nitrite = relations.level_at_rest(kinds[1].half, kinds[1].growth, kinds[1].decay)
    assert state[NITRITE] == pytest.approx(nitrite, rel=1e-6)


@pytest.mark.parametrize("name", DEMOS)
def test_a_long_start_ends_at_the_level_of_the_sizing(name):
    """Mixed beds and plug flow: the same quadrature, so the same level to a millionth."""
    sizing = size(demo(name))
    temperature = sizing.filter.temperature
    site = start_course.Site.of(sizing, temperature)
    numbers = {k: np.array([v]) for k, v in bacteria.middle().items()}
    numbers["seed"] = np.array([0.1])
    found = start_course.run(site, _plan(temperature, days=250), numbers)
    assert found.ends[AMMONIA][0] == pytest.approx(sizing.filter.ammonia, rel=1e-6)
    assert found["ph"][-1, 0] == pytest.approx(sizing.gas.ph, rel=1e-9)
    assert found["ammonia_bacteria"][-1, 0] == pytest.approx(1.0, rel=0.1)


@pytest.mark.parametrize("name", DEMOS)
@pytest.mark.parametrize("way", ["fishless", "fish in"])
def test_a_start_of_the_values_alone_is_the_first_of_many(name, way):
    """On floats under a moving slider and on arrays with the band: one course, the same days."""
    wanted = (way, "ammonium chloride", True, True, False)
    one, many = (computed(size(demo(name)), {"seed": "1 %"}, wanted, 60, n)[0] for n in (0, 20))
    for level in one.rows:
        assert one[level][:, 0] == pytest.approx(many[level][:, 0], rel=1e-9, abs=1e-15), level
    for when in ("ready", "full", "deadly"):
        assert getattr(one, when)[0] == getattr(many, when)[0]
    assert one.ends[:, 0] == pytest.approx(many.ends[:, 0], rel=1e-9)


def _plan(temperature, **changes):
    values = {
        "fishless": False, "equivalents": 2.0, "dose": 3 * MG, "feed_start": 1.0, "feed_rise": 0.1,
        "by_safe_feed": False, "days": 60, "hours": 4.0, "temperature": temperature,
        "chloride": 60 * MG, "chloride_ratio": 10.0, "hold_alkalinity": True,
        "count_poison": False,
    }  # fmt: skip
    return start_course.Plan(**{**values, **changes})


# --- properties over many designs and situations at once -----------------------------------

MANY = 1000


def situations(seed: int):
    """A thousand filters, their water and their films, drawn at random."""
    rng = np.random.default_rng(seed)
    numbers = bacteria.draws(MANY - 1, seed)
    warm, ph = rng.uniform(8, 36, MANY), rng.uniform(5.5, 9, MANY)
    oxygen = rng.uniform(1, 10, MANY) * MG
    kinds = bacteria.conditions(numbers, warm, oxygen, ph, rng.uniform(0, 2, MANY) * MG)
    load = rng.uniform(0, 60, MANY) * MG / DAY * rng.integers(0, 2, MANY)
    water = Water(
        exchange=rng.uniform(0, 1, MANY) / DAY,
        ammonia=rng.uniform(0, 1, MANY) * MG,
        nitrate=rng.uniform(0, 20, MANY) * MG,
        alkalinity=rng.uniform(0, 300, MANY) * MG,
        base=rng.uniform(0, 50, MANY) * MG / DAY,
        alkalinity_use=rng.choice([3.573, 7.145], MANY),
    )
    scale = film_curve.scale_of(oxygen, warm, ph, rng.uniform(5, 200, MANY) * MG, 0.5)
    turnover = rng.uniform(0.2, 6, MANY) / 3600.0
    area = rng.uniform(2, 600, MANY) * scale
    film = Film(area, turnover, oxygen / 3.0, bool(rng.integers(0, 2)))
    seeds = 10.0 ** rng.uniform(-9, -2, (2, MANY))
    levels = rng.uniform(0, 20, (4, MANY)) * MG
    state = start(*seeds, levels[0] * 10, levels[1], levels[2], levels[3])
    return state, load, kinds, water, film


@settings(max_examples=12, deadline=None)
@given(seed=st.integers(0, 10_000), hours=st.sampled_from([1.0, 4.0, 24.0]))
def test_nothing_falls_below_zero_and_nitrogen_closes(seed, hours):
    state, load, kinds, water, film = situations(seed)
    closed = Water(0.0, 0.0, 0.0, 0.0, water.base, water.alkalinity_use)
    for chosen in (None, film):
        here, brought = state, state[:3].sum(axis=0)
        with np.errstate(all="ignore"):
            for _ in range(6):
                here = step(here, load, hours * 3600.0, kinds, closed, chosen, 3)
                brought = brought + 3 * hours * 3600.0 * load
                assert np.isfinite(here).all()
                assert here.min() >= 0.0
                assert here[:3].sum(axis=0) == pytest.approx(brought, rel=1e-9, abs=1e-15)
        with np.errstate(all="ignore"):
            open_end = step(state, load, hours * 3600.0, kinds, water, chosen, 12)
        assert np.isfinite(open_end).all()
        assert open_end.min() >= 0.0


@settings(max_examples=4, deadline=None)
@given(seed=st.integers(0, 10_000))
def test_more_seed_leaves_less_to_bear_and_hardly_ever_a_higher_peak(seed):
    """More bacteria at the start do not order all that follows: who eats the first ammonia sooner starves longer.

    A higher late peak is therefore no fault of the steps (finer steps bring more of them: 1 of 1,000
    situations with two parts a step, 30 with thirty-two), and the sum of all days may be higher by what
    such a peak brings (1.5 % at the most in 300,000 situations).
    """
    state, load, kinds, _, _ = situations(seed)
    more = state.copy()
    more[4:6] *= 3.0
    water = Water(alkalinity_use=1e-3)  # alkalinity is never short here
    peaks, sums = np.zeros((2, MANY)), np.zeros((2, MANY))
    for _ in range(120):
        state = step(state, load, 6 * 3600.0, kinds, water, None, 2)
        more = step(more, load, 6 * 3600.0, kinds, water, None, 2)
        levels = np.stack([state[AMMONIA], more[AMMONIA]])
        peaks, sums = np.maximum(peaks, levels), sums + levels
    trace = 1e-3 * MG
    assert np.mean(peaks[1] > peaks[0] * (1 + 1e-2) + trace) <= 0.01
    assert (sums[1] <= sums[0] * (1 + 5e-2) + trace).all()


def test_many_at_once_are_as_each_alone():
    state, load, kinds, water, _ = situations(7)
    some = slice(0, 40)

    def cut(thing, part):
        names = thing.__slots__
        return type(thing)(*(getattr(thing, n)[part] for n in names))

    whole = step(state, load, 7200.0, kinds, water, None, 20)[:, some]
    for at in range(40):
        part = slice(at, at + 1)
        one = step(
            state[:, part], load[part], 7200.0, tuple(cut(k, part) for k in kinds),
            cut(water, part), None, 20,
        )  # fmt: skip
        assert one[:, 0] == pytest.approx(whole[:, at], rel=1e-12, abs=1e-300)


# --- a start of a design -------------------------------------------------------------------


@cache
def started(name="family", **told):
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        return season.startup(demo(name), **{"days": 120, "draws": 60, **told})


def reactor(seed=None) -> dict[str, np.ndarray]:
    """Days until ammonia, and until both, are below 1 mg/L under an even load at 20 °C: 5 and 95 %."""
    numbers = bacteria.draws(200)
    if seed is not None:
        numbers["seed"] = np.full_like(numbers["seed"], seed)
    kinds = bacteria.conditions(numbers, 20.0, 6 * MG, 7.2)
    each = 5 * MG / DAY
    seeds = [numbers["seed"] * relations.bacteria_at_rest(k.yields, each, k.decay) for k in kinds]
    state = start(*seeds, 1e3)
    found = np.full((2, 201), np.inf)
    for day in range(1, 200):
        state = step(state, each, 4 * 3600.0, kinds, Water(), None, 6)
        for row, there in enumerate((state[:1], state[:2])):
            below = (there < MG).all(axis=0) & (state[:3].sum(axis=0) - there.sum(axis=0) > 5 * MG)
            found[row] = np.where(below, np.minimum(found[row], day), found[row])
    return dict(zip(("ammonia", "both"), np.sort(found)[:, [10, 190]], strict=True))


def test_published_times_lie_in_the_band():
    new, old = reactor(), reactor(0.01)
    band = started().attrs["ready"]
    spans = {
        "any": (band[5], band[95]),
        "seeded": old["both"],
        "both 20": new["both"],
        "ammonia 20": new["ammonia"],
        "seed not said": (old["both"][0], new["both"][1]),
    }
    for row in rows("band"):
        low, high = (float(x) for x in row["expected"].split(".."))
        days = 7.0 if row["unit"] == "week" else 1.0
        first, last = spans[row["what"].removeprefix("band ")]
        assert first <= high * days, row
        assert last >= low * days, row


def test_warmth_seed_and_air_move_the_day_as_they_should():
    day = {
        "as it is": started().attrs["ready"][50],
        "warm": started(temperature=30.0).attrs["ready"][50],
        "cold": started(temperature=20.0).attrs["ready"][50],
        "seeded": started(seed=0.01).attrs["ready"][50],
    }
    assert day["warm"] < day["as it is"] < day["cold"]
    assert day["seeded"] < day["as it is"] - 14
    assert 7 <= day["as it is"] <= 90


def test_more_to_dose_hardly_moves_the_day():
    small, large = started(dose="2 mg/L"), started(dose="6 mg/L")
    assert abs(small.attrs["ready"][50] - large.attrs["ready"][50]) < 14


def test_ammonium_chloride_without_base_stops_the_filter():
    found = started(hold_alkalinity=False)
    assert found["alkalinity"].min() < 20.0
    assert found.attrs["ready"]["value"] > started().attrs["ready"]["value"]
    assert any("alkalinity is eaten" in words for words in found.attrs["warnings"])
    gentle = started(hold_alkalinity=False, ammonia="ammonia water")
    early = slice(0, 30)
    used = [f["alkalinity"].iloc[0] - f["alkalinity"].iloc[early].min() for f in (found, gentle)]
    assert used[0] > 1.8 * used[1] > 0


def test_full_feed_on_a_filter_ripe_on_doses_is_a_shock():
    shock = started(feed_start=1.0, by_safe_feed=False)
    day = int(shock.attrs["ready"]["value"])
    after = shock["nitrite"].loc[day : day + 8].max()
    gentle = started()
    assert after > 2.0 * gentle["nitrite"].loc[day : day + 30].max()
    assert after > doses.nitrite_limit(60 * MG, 10.0) / MG


def test_fish_in_an_unripe_filter_die_and_are_drawn_no_further():
    found = started(way="fish in", feed_start=1.0)
    day = int(found.attrs["deadly"])
    assert 1 <= day <= 10
    assert found["ammonia"].iloc[: day - 1].notna().all()
    columns = [c for c in found.columns if c != "dead_share"]
    assert found[columns].iloc[day:].isna().all(axis=None)
    assert f"Deadly from day {day}" in found.attrs["warnings"][0]


def test_feed_follows_what_is_safe():
    found = started()
    fed = found[found["feed"] > 0]
    assert (fed["feed"] <= fed["safe_feed"] * (1 + 1e-9)).all()
    assert found.attrs["full_feed"]["value"] > found.attrs["ready"]["value"]


def test_the_frame_has_a_band_and_units():
    found = started()
    for name in ("ammonia", "nitrite", "nitrate", "alkalinity", "safe_feed"):
        band = found[[f"{name}_5", f"{name}_50", f"{name}_95"]].to_numpy()
        assert (np.diff(band, axis=1) >= 0).all()
    assert set(found.attrs["units"]) == set(found.columns)
    ready = found.attrs["ready"]
    assert ready[5] < ready[50] < ready[95]
    metric = started(system="metric")
    assert metric["feed"].max() == pytest.approx(found["feed"].max() * 0.45359237)


def test_the_draws_stay_in_their_ranges_and_meet_every_part():
    found = bacteria.draws(200)
    for name, row in bacteria.parameters().items():
        assert row.low <= row.value <= row.high, name
        assert found[name][0] == pytest.approx(row.plain(row.value))
        assert (found[name] >= row.plain(row.low) * (1 - 1e-12)).all()
        assert (found[name] <= row.plain(row.high) * (1 + 1e-12)).all()
        assert row.low == row.high or len(set(found[name])) > 190


# --- what is printed and must not be followed -----------------------------------------------


def test_dangerous_advice_is_not_followed():
    (soda,) = rows("flag baking soda")
    mass = 1e3 * doses.baking_soda_to_raise(3.785, 0.010)
    assert mass > 1.15 * float(soda["expected"])
    (nitrite,) = rows("flag nitrite")
    for chloride in (0.0, 35.0, 70.0, 200.0, 1000.0):
        limit = doses.as_nitrite(doses.nitrite_limit(chloride * MG, 6.0)) / MG
        assert limit < 0.7 * float(nitrite["expected"])


def test_deadly_levels_are_those_of_the_trials():
    for row in rows("deadly nitrite"):
        chloride = json.loads(row["inputs"])["chloride"] * MG
        found = doses.as_nitrite(start_course.deadly_nitrite(chloride)) / MG
        assert found == pytest.approx(float(row["expected"]), rel=1e-9)
    for row in rows("deadly ammonia"):
        found = doses.as_ammonia(start_course.DEADLY_AMMONIA) / MG
        assert found <= float(row["expected"]) * (1 + 1e-9)


@pytest.mark.parametrize(
    ("told", "words"),
    [
        ({"way": "fish first"}, "choose 'fishless' or 'fish in'"),
        ({"ammonia": "bleach"}, "choose 'ammonium chloride' or 'ammonia water'"),
        ({"dose": "30 mg/L"}, "give a value from 0.5 mg/L to 10 mg/L"),
        ({"dose": "a spoon"}, "'a spoon'"),
        ({"seed": 2.0}, "0.0001 % to 100 %"),
        ({"days": 3}, "whole number from 7 to 365"),
        ({"draws": 1.5}, "whole number from 20 to 2000"),
        ({"temperature": float("nan")}, "5 °C to 40 °C"),
    ],
)
def test_bad_input_gets_one_sentence(told, words):
    with pytest.raises(DesignError, match=words.replace("(", r"\(")) as wrong:
        season.startup(demo("family"), **told)
    assert str(wrong.value).count(". ") == 0


def test_many_designs_are_refused():
    with pytest.raises(DesignError, match="one design at a time"):
        season.startup(demo("family").with_(goal_fish=[180, 360]))


def test_left_is_the_root():
    s = ripening.left(np.array([0.0, 1.0, 50.0]), 1.5, np.array([0.0, 4.0, 1.0]), 0.5)
    there = 1.5 * s + np.array([0.0, 4.0, 1.0]) * s / (0.5 + s)
    assert there == pytest.approx([0.0, 1.0, 50.0])


def test_alkalinity_stops_at_zero():
    kinds = bacteria.conditions(bacteria.middle(), 25.0, 6 * MG, 7.2)
    state = step(start(0.1, 0.1, 10 * MG, 50 * MG), 0.0, 7200.0, kinds, Water(), None, 24)
    assert state[ALKALINITY] == pytest.approx(0.0, abs=1e-12)
    assert state[AMMONIA] == pytest.approx(50 * MG - 10 * MG / 7.145, rel=1e-9)


@pytest.mark.parametrize("load", [0.3e-6, 1e-6, 3e-6])
def test_the_plug_flow_area_is_that_of_the_sizing(load):
    """What the curve needs, times what the sizing's eight points differ from it by: 0.6 % at most here."""
    law = nitrification.rate_law(0.006, 26.0, 7.2, 0.1, 0.5)
    scale = float(film_curve.scale_of(0.006, 26.0, 7.2, 0.1, 0.5))
    area = areas.area_required(load, 0.004, 1e-3, law, False)
    lowest, tank = np.array([areas.outlet_for(load, 0.004, 1e-3)]), np.array([1e-3])
    curve = film_curve.film()
    top = curve.top(np.array([0.002]))
    passed = curve.many(tank, top, False)[1] - curve.many(lowest, top, False)[1]
    ratio = film_curve.as_in_sizing(curve, lowest, tank, top)
    assert 0.004 * passed * ratio / scale == pytest.approx(area, rel=1e-6)
    assert ratio == pytest.approx(1.0, abs=1e-2)


@pytest.mark.parametrize("mixed", [True, False])
def test_the_search_for_many_is_that_for_each_and_meets_the_balance(mixed):
    """Filters drawn at random: film and bacteria, thick and thin water; one by one and all at once."""
    rng = np.random.default_rng(11)
    curve, count = film_curve.film(), 400
    seconds, turnover = 7200.0, rng.uniform(0.2, 6, count) / 3600.0
    area = rng.uniform(1, 600, count)
    cap = np.full(count, 1.7e-3)
    there = 10.0 ** rng.uniform(-6, -1.5, count)
    level = there * rng.uniform(0.0, 1.0, count)
    guess = there * rng.uniform(0.0, 1.0, count)
    whole = FilmStep(curve, seconds, area, turnover, curve.top(cap), mixed)
    tank, outlet = whole.limited(level, there, guess)
    assert (tank >= level * (1 - 1e-9)).all()
    assert (tank <= there * (1 + 1e-9)).all()
    for at in range(count):
        one = FilmStep(curve, seconds, area[at].item(), turnover[at].item(),
                       curve.top(cap[at].item()), mixed)  # fmt: skip
        found = one.limited(level[at].item(), there[at].item(), guess[at].item())
        assert found[0] == pytest.approx(tank[at], rel=1e-6)
        assert found[1] == pytest.approx(outlet[at], rel=1e-4, abs=1e-12)
    film_limits = tank > level * (1 + 1e-6)
    assert 50 < film_limits.sum() < 350
    taken = (there - tank)[film_limits]
    through = (seconds * turnover * (tank - outlet))[film_limits]
    assert through == pytest.approx(taken, rel=1e-6, abs=1e-12)
    if mixed:
        rate = film_curve.rate_at(outlet, 1.7e-3)[0][film_limits]
        assert seconds * area[film_limits] * rate == pytest.approx(taken, rel=1e-3, abs=1e-9)


@pytest.mark.parametrize("mixed", [True, False])
def test_the_film_takes_nothing_from_water_thinner_than_its_law_begins(mixed):
    """Below 0.033 mg/L the half-order form is zero; a mixed bed and plug flow alike."""
    curve = film_curve.film()
    there = np.array([0.01, 0.02, 0.033, 0.04]) * MG
    area = np.full(4, 300.0)
    filter_ = FilmStep(curve, 86400.0, area, 1e-3, curve.top(np.array(1.0)), mixed)
    tank, _ = filter_.limited(0.0 * there, there, 0.5 * there)
    assert tank[:3] == pytest.approx(there[:3], rel=1e-12)
    assert 0.033 * MG < tank[3] < 0.035 * MG


def test_what_is_kept_is_the_morning_before_the_dose():
    found = started()
    assert found["ammonia"].iloc[0] == 0.0
    dosed = found["dose"] > 0
    assert (found["ammonia"][dosed] < 0.5).all()


# --- the command ----------------------------------------------------------------------------

FILE = str(tables.data_folder() / "designs" / "family.toml")


def test_the_command_tells_a_band_a_calendar_and_cautions(capsys):
    assert main(["startup", FILE, "--days", "90"]) == 0
    text = capsys.readouterr().out
    assert "half of all by day" in text
    assert "Calendar" in text
    assert "Never buy fish for a filter that is not ripe" in text
    assert "lb/day" in text
    assert (
        main(["startup", FILE, "--way", "fish in", "--feed-start", "100 %", "--units", "metric"])
        == 0
    )
    text = capsys.readouterr().out
    assert "Deadly from day" in text
    assert "kg/day" in text


def test_the_command_writes_a_table_and_json(capsys, tmp_path):
    out = tmp_path / "days.csv"
    assert main(["startup", FILE, "--json", "--csv", str(out), "--days", "30"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert found["days"]["day"][-1] == 30
    assert set(found["ready"]) == {"value", "5", "50", "95"}
    with out.open(encoding="utf-8", newline="") as file:
        table = list(csv.reader(file))
    assert len(table) == 32
    assert table[0][:2] == ["day", "ammonia [mg/L]"]
    out.write_text("mine", encoding="utf-8")
    assert main(["startup", FILE, "--csv", str(out), "--days", "30"]) == 2
    assert "there already" in capsys.readouterr().err
    assert out.read_text(encoding="utf-8") == "mine"


@pytest.mark.parametrize(
    ("told", "words"),
    [
        (["--dose", "50 mg/L"], "0.5 mg/L to 10 mg/L"),
        (["--dose", "5"], "'5' has no unit"),
        (["--temperature", "26"], "'26' has no unit"),
        (["--seed", "banana"], "0.0001 % to 100 %"),
        (["--days", "5"], "7 to 365"),
        (["--way", "hope"], "fishless"),
        (["--csv", "/no/such/folder/x.csv"], "cannot be written"),
    ],
)
def test_the_command_refuses_in_one_sentence(capsys, told, words):
    assert main(["startup", FILE, "--days", "20", *told]) == 2
    found = capsys.readouterr().err
    assert words in found
    assert "Traceback" not in found
    assert found.count("\n") == 1


@pytest.mark.parametrize("system", ["us", "metric", "si"])
def test_salt_against_nitrite_is_told_in_each_system_of_units(system):
    frame = season.startup(demo("school"), "fishless", draws=20, system=system)
    words = next(words for words in frame.attrs["warnings"] if words.startswith("Nitrite reaches"))
    volume = {"us": "100 gal", "metric": "1000 L", "si": "1 m³"}[system]
    assert f"of salt for each {volume} of all the water" in words


def test_where_the_fish_would_be_dead_no_day_is_ready():
    """A filter that ripens beside dead fish is ready for nobody; the words say the same."""
    frame = season.startup(demo("family"), "fish in", draws=20)
    assert frame.attrs["deadly"] < 20
    assert frame["dead_share"].iloc[-1] == 100.0
    for name in ("ready", "full_feed"):
        assert all(np.isinf(day) for day in frame.attrs[name].values()), name
    assert frame.attrs["warnings"][0].startswith("Deadly from day ")
    assert not [words for words in frame.attrs["warnings"] if words.startswith("Nitrite reaches")]
    alive = season.startup(
        demo("family"), "fish in", seed="100 %", feed_start="1 %", feed_rise="1 %", draws=20
    )
    assert np.isinf(alive.attrs["deadly"])
