"""A log tunes the model: likelihood, search, boxes, bands, verdicts, bad logs, the tuned design, the report."""

import csv
import json
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
import tuning_logs as logs
from scipy import optimize, stats

import rsdesign
from rsdesign import load, size, tune
from rsdesign.core.choices import DesignError
from rsdesign.core.unit_table import DAY
from rsdesign.equations import makeup, readings
from rsdesign.records import unknowns
from rsdesign.records.box_model import BoxModel
from rsdesign.records.drive import drive_of
from rsdesign.records.film_surface import filter_days, surface_of
from rsdesign.records.fitting import block_bootstrap, condition, covariance, fit
from rsdesign.records.intervals import Readings, log_below, log_between
from rsdesign.records.log import log_of_values
from rsdesign.report.tuned import tuned_json, tuned_text

with (Path(__file__).parent / "reference" / "log.csv").open(encoding="utf-8", newline="") as f:
    ROWS = {row["id"]: row for row in csv.DictReader(f)}


def expected(name: str):
    """What a row of the check values says, with its tolerance, a share of it."""
    return pytest.approx(float(ROWS[name]["expected"]), rel=float(ROWS[name]["tolerance"]))


@pytest.fixture(scope="module")
def example():
    """A log of sixty days with kit colours, its truth, and its tuning."""
    log, sizing, truth = logs.draw("other truth", 1)
    return log, truth, tune(log, sizing)


@pytest.fixture(scope="module")
def even():
    """The same days with one feed and ammonia colours alone."""
    log, sizing, truth = logs.draw("even feed, ammonia", 1)
    return log, truth, tune(log, sizing)


# --- the likelihood of an interval ---------------------------------------------------------


def test_normal_shares_agree_with_scipy_far_into_the_tails():
    x = np.linspace(-38.0, 8.0, 2001)
    assert np.abs(log_below(x) / stats.norm.logcdf(x) - 1.0).max() < 5e-7
    low, high = np.array([-1.0, -np.inf, 2.0, -8.0, 0.1]), np.array([1.0, -5.0, np.inf, -7.0, 0.4])
    scipy = np.log(stats.norm.cdf(high) - stats.norm.cdf(low))
    assert log_between(low, high) == pytest.approx(scipy, rel=1e-6)
    assert np.isfinite(log_between(np.array([60.0, -90.0]), np.array([61.0, -80.0]))).all()


def test_a_residual_is_the_root_of_the_deviance_with_its_sign():
    """By SciPy: a fifth of the level and a quarter of the step scatter; the best chance by a fine search."""
    colours = Readings(np.array([0.4, 0.8, 0.0]), np.array([0.8, 1.6, 0.4]), np.full(3, 0.2))
    levels = np.array([0.3, 0.5, 0.6, 1.0, 1.4])
    found = colours.residuals(np.tile(levels, (3, 1)))
    fine = np.linspace(1e-6, 4.0, 40001)
    for row, (low, high) in enumerate(((0.4, 0.8), (0.8, 1.6), (-np.inf, 0.4))):

        def chance(level, low=low, high=high):
            scatter = colours.scatter(np.tile(level, (3, 1)))[0]
            return stats.norm.logcdf((high - level) / scatter) + np.log1p(
                -np.exp(stats.norm.logcdf((low - level) / scatter) - stats.norm.logcdf((high - level) / scatter)))  # fmt: skip

        best = chance(fine)
        deviance = 2.0 * (best.max() - chance(levels))
        near = deviance < 3.0**2  # farther off a straight line goes on
        assert found[row][near] ** 2 == pytest.approx(deviance[near], rel=2e-3, abs=2e-3)
    assert (np.sign(found[0][[0, 3, 4]]) == [-1, 1, 1]).all()
    assert (found[2] >= 0.0).all(), "a lowest colour only says that there is not more"


def test_a_plain_number_far_off_is_as_many_standard_deviations_away():
    plain = Readings(np.array([1.0]), np.array([1.001]), np.array([0.1]))
    off = plain.residuals(np.array([[0.98, 1.02, 1.05]]))[0]
    assert off[:2] == pytest.approx([-0.2, 0.2], abs=0.15)
    assert plain.information(np.array([1.0]))[0] == pytest.approx(100.0, rel=0.02)


def test_the_mean_of_four_hundred_colours_is_that_of_the_worked_case():
    """Row log-117: 1.14709 by SciPy, mean and scatter both sought; the mean of the colours is 1.111."""
    seen = np.random.default_rng(7).normal(1.2, 0.5, 400)
    edges = np.array([0.0, 0.125, 0.375, 0.75, 1.5, 3.0, 6.0, 12.0])
    place = np.clip(np.searchsorted(edges, seen) - 1, 0, 6)
    low, high = np.where(place == 0, -np.inf, edges[place]), edges[place + 1]

    def unlikely(p):
        return -log_between((low - p[0]) / p[1], (high - p[0]) / p[1]).sum()

    found = optimize.minimize(unlikely, [1.0, 0.5], method="Nelder-Mead",
                              options={"xatol": 1e-8, "fatol": 1e-10})  # fmt: skip
    assert found.x[0] == expected("log-117")


# --- the search and what the data leave open -----------------------------------------------


def memo_box(numbers, fed=True):
    """Ammonia of 29 days at a load of 5 g/(m³ day) with a fast on days 10 to 13, if any: rate and share by column."""
    rate, share = numbers
    level = share * 5.0 / rate
    found = []
    for day in range(29):
        found.append(level)
        load = 0.0 if 10 <= day <= 13 and not fed else 5.0
        level = makeup.level_after.__wrapped__(1.0, level, 0.0, share * load, 0.0, rate, 1.0)
    return np.array(found)


def memo_information(fed: bool, scatter: float) -> np.ndarray:
    at = np.array([[1.6], [0.92]])
    moved = memo_box(at + 1e-5 * np.eye(2), fed)
    slopes = (moved - memo_box(at, fed)) / 1e-5 / scatter
    return slopes.T @ slopes


def test_standard_errors_of_the_worked_case():
    """Rows log-166 and log-167: the error of the rate, the share fitted too, without and with a prior of 20 %."""
    told = memo_information(False, 0.3)
    assert covariance(told)[0, 0] ** 0.5 == expected("log-166")
    held = told + np.diag([0.0, 1.0 / (0.2 * 0.92) ** 2])
    assert covariance(held)[0, 0] ** 0.5 == expected("log-167")


def test_even_feed_is_singular_and_never_called_certain():
    """Row log-166: J'J has the condition 3e16; a pseudo-inverse reports half a percent."""
    told = memo_information(True, 0.3)
    assert condition(told) > 1e10
    assert covariance(told)[0, 0] ** 0.5 > 100.0
    assert np.linalg.pinv(told, hermitian=True)[0, 0] ** 0.5 < 0.1, "what must not be believed"


def test_residuals_drawn_again_give_the_error_of_the_worked_case():
    """Row log-121: 0.0157 by 400 draws, the load known, readings apart by 0.15, truth 1.6."""
    random = np.random.default_rng(7)

    def model(p):
        return (memo_box(np.stack([p[0], 0.92 + 0.0 * p[0]]), False) - data[:, None]) / 0.15

    errors = []
    for _ in range(12):
        data = memo_box(np.array([[1.6], [0.92]]), False)[:, 0] + random.normal(0.0, 0.15, 29)
        found = fit(
            model, np.array([1.0]), np.array([0.1]), np.array([9.0]), prior=False, soft=np.inf
        )
        errors.append(block_bootstrap(found.residuals, found.slopes, length=1, prior=0.0)[0])
    assert np.mean(errors) == expected("log-121")


def test_the_search_ends_where_that_of_scipy_does(example):
    task = example[2].task
    rows = task.tests.count

    def residuals(x):
        return np.concatenate([task.residuals(x[:, None])[:, 0], x])

    def loss(z):
        """Soft L1 on the readings, plain squares on the prior, as SciPy asks for them."""
        from rsdesign.records.fitting import SOFT, strength

        whole, c = np.sqrt(1.0 + z / SOFT**2), strength()
        soft = np.stack(
            [2.0 * c * SOFT**2 * (whole - 1.0), c / whole, -0.5 * c / SOFT**2 / whole**3]
        )
        plain = np.stack([z, np.ones_like(z), np.zeros_like(z)])
        return np.where(np.arange(z.size) < rows, soft, plain)

    theirs = optimize.least_squares(
        residuals, np.zeros(len(task.unknowns)), loss=loss, bounds=task.ends
    )
    ours = example[2].found
    assert ours.settled
    assert ours.cost <= theirs.cost * (1.0 + 1e-6)
    spread = np.sqrt(np.diag(covariance(example[2].information, 1.0)))
    assert np.abs(ours.at - theirs.x).max() < 0.05 * spread.min()


# --- the boxes ------------------------------------------------------------------------------


def test_the_boxes_follow_the_season_that_wrote_the_log(example):
    truth = logs.OTHER
    model = example[2].task.model
    season = logs.season_of(logs.family()[0], truth, logs.FIRST + logs.DAYS)
    before = logs.FIRST - 1
    levels = {"nitrate": season.levels.nitrate, "alkalinity": season.base["alkalinity"],
              "chloride": season.chloride, "fish_weight": season.fish.weight[:, 1]}  # fmt: skip
    numbers = {n: v[before] for n, v in levels.items()}
    numbers |= {n: np.array([v]) for n, v in (
        ("filter_factor", truth.filter_factor), ("ammonia_share", truth.ammonia_share),
        ("evaporated", truth.evaporated), ("drained", 1.0), ("growth", truth.growth))}  # fmt: skip
    found = model.courses(numbers)
    levels["tan"] = season.levels.ammonia
    for name, close in (("tan", 0.04), ("nitrate", 0.01), ("alkalinity", 0.01), ("chloride", 0.01),
                        ("fish_weight", 0.005)):  # fmt: skip
        assert found[name][1:, 0] == pytest.approx(levels[name][before + 1 :, 0], rel=close), name


def test_between_its_nodes_the_surface_is_the_filter_itself(example):
    drive = example[2].task.model.drive
    random = np.random.default_rng(3)
    share, factor = random.uniform(0.25, 0.65, 30), np.exp(random.uniform(-1.8, 1.4, 30))
    laid_out = surface_of(drive)
    grid = np.meshgrid(laid_out.shares, laid_out.factors, indexing="ij")
    # beside the nodes, as the season cuts a day into as many steps as the most restless column asks for
    columns = (np.concatenate([g.ravel(), x]) for g, x in zip(grid, (share, factor), strict=True))
    direct = {name: rows[-30:] for name, rows in filter_days(drive, *columns).items()}
    laid = laid_out.at(share, factor)
    off = np.abs(np.log(laid["ammonia"]) - direct["ammonia"].T)
    assert np.quantile(off, 0.95) < 0.02
    assert off.max() < 0.1, "where bacteria take over from the film the surface has a fold"
    assert laid["passed"] == pytest.approx(direct["passed"].T, rel=0.05)


def test_amounts_stand_for_the_days_since_the_line_before():
    nan = float("nan")
    log = log_of_values("2027-07-01", [0.5, 2.5, 3.5, 5.5],
                        {"feed": [1.0, 4.0, nan, 3.0], "water_added": [nan, 0.2, nan, nan]})  # fmt: skip
    drive = drive_of(log, logs.family()[1])
    assert drive.feed[:, 0].tolist() == [1.0, 2.0, 2.0, 1.75, 1.5, 1.5]
    assert drive.known_feed[:, 0].tolist() == [True, True, True, False, True, True]
    assert drive.added is not None
    assert drive.added[:, 0] == pytest.approx([0.0, 0.1, 0.1, 0.0, 0.0, 0.0])


# --- what a tuning says ---------------------------------------------------------------------


def test_a_full_log_decides_every_number_and_holds_most_truths(example):
    _, truth, tuned = example
    for one in tuned.parameters:
        assert one.decidable, one.why
        assert one.decides == ""
        assert one.low < one.value < one.high
        assert one.high - one.low < one.prior[2] - one.prior[0]
        assert one.value == pytest.approx(truth[one.name], rel=0.35), one.name
    held = sum(one.low <= truth[one.name] <= one.high for one in tuned.parameters)
    assert held >= 3


def test_the_bands_of_some_logs_hold_their_truths():
    """Eight of the two hundred logs of tests/bench/bench_tuning.py: five numbers each, nine of ten within.

    Of 40 bands that hold with a chance of 0.9 each fewer than 27 hold once in ten thousand times.
    """
    held = []
    for seed in range(8):
        log, sizing, truth = logs.draw("other truth", 500 + seed)
        answers = logs.answers_of(tune(log, sizing))
        held += [low <= truth[name] <= high for name, (low, high, _) in answers.items()]
    assert len(held) == 40
    assert sum(held) >= 27


@pytest.mark.parametrize("scenario", ["even feed, ammonia", "even feed, all colours, at rest"])
def test_even_feed_decides_neither_filter_nor_share(scenario):
    for seed in range(3):
        log, sizing, _ = logs.draw(scenario, 300 + seed)
        answers = logs.answers_of(tune(log, sizing))
        assert not answers["filter_factor"][2]
        assert not answers["ammonia_share"][2]


def test_an_even_feed_is_told_why_and_what_would_decide(even):
    _, _, tuned = even
    one = tuned["filter_factor"]
    assert one.why.startswith(
        "Not decidable from this log: a faster filter with more ammonia from the feed"
    )
    assert "alkalinity" in one.decides
    assert "chloride" in tuned["water_out"].decides
    assert tuned.condition > 1e10
    with pytest.raises(KeyError, match="choose from: filter_factor"):
        tuned["filter"]


def test_what_is_said_to_decide_does_decide():
    """The days of an even-feed log go on with the tests that it is told to make."""
    season = logs._season(logs.OTHER, 160, 95)
    told = {"tan": 1, "nitrate": 3, "alkalinity": 3}
    log = logs.log_of(season, 100, 60, np.random.default_rng(4), told)
    answers = logs.answers_of(tune(log, logs.family()[1]))
    assert answers["ammonia_share"][2]
    assert answers["filter_factor"][2]


def test_one_number_taken_as_known_decides_the_other(even):
    log, _, tuned = even
    fixed = tune(log, tuned.sizing, known=["ammonia_share"])
    assert fixed["filter_factor"].decidable
    assert "ammonia_share" not in fixed.verdicts
    with pytest.raises(DesignError, match="not a number that is tuned; choose from: filter_factor"):
        tune(log, tuned.sizing, known=["filter"])


def test_chloride_alone_tells_the_leak_as_its_equation_does():
    """Level kept by fresh water, nothing else put in: q = V/t ln(C0/C1)."""
    design = rsdesign.with_values(
        logs.family()[0], {"source.chloride": 0.0, "climate.weather": None}
    )
    sizing = size(design)
    volume, days = float(sizing.tank.volume), np.arange(0.0, 60.0)
    leak = 0.03 * volume / DAY
    chloride = readings.chloride_after.__wrapped__(0.3, volume, leak, days * DAY)
    values = {
        "feed": np.full(60, 0.5),
        "water_added": np.full(60, 0.05 * volume),
        "chloride": chloride,
    }
    tuned = tune(log_of_values("2027-07-01", days, values), sizing)
    one = tuned["water_out"]
    closed = readings.salt_leak.__wrapped__(volume, 59.0 * DAY, chloride[0], chloride[-1])
    assert one.decidable
    assert one.low < closed < one.high
    assert one.value == pytest.approx(closed, rel=0.05)
    assert tuned["evaporation"].value == pytest.approx(0.02 * volume / DAY, rel=0.1)


def test_gross_errors_do_not_carry_the_rest_away(example):
    log, _, tuned = example
    spoiled = {n: v.copy() for n, v in log.values.items()}
    ends = [{n: v.copy() for n, v in t.items()} for t in (log.low, log.high)]
    for place in (10, 30, 50):
        for table, value in zip((spoiled, *ends), (8e-3, 6e-3, np.inf), strict=True):
            table["tan"][place] = value  # the last colour of the chart
    worse = tune(replace(log, values=spoiled, low=ends[0], high=ends[1]), tuned.sizing)
    one, other = tuned["filter_factor"], worse["filter_factor"]
    assert one.low < other.value < one.high


def test_blocks_of_residuals_agree_with_the_jacobian(example):
    for name, (plain, drawn) in example[2].bootstrap.items():
        assert 0.4 < drawn / plain < 2.5, name


# --- logs that will not do ------------------------------------------------------------------


@pytest.mark.parametrize(
    ("days", "values", "words"),
    [
        ([0.5, 1.5, 2.5], {"feed": [1, 1, 1], "tan": [1e-3] * 3}, "holds 3 readings .* over 3 days"),
        (np.arange(30.0), {"feed": np.full(30, np.nan)}, "no reading of ammonia"),
        (np.arange(30.0), {"tan": np.full(30, 1e-3)}, "tells no feed"),
        (np.zeros(0), {}, "no line with a date"),
    ],
)  # fmt: skip
def test_a_log_that_will_not_do_gets_a_sentence(days, values, words):
    with pytest.raises(DesignError, match=words):
        tune(log_of_values("2027-07-01", days, values), logs.family()[1])


def test_swept_designs_are_refused(example):
    swept = logs.family()[0].with_(tank_depth=[0.8, 0.9])
    with pytest.raises(DesignError, match="A log is of one system"):
        tune(example[0], swept)


@pytest.mark.parametrize("seed", [2, 3])
def test_nonsense_gives_numbers_or_a_sentence(seed):
    random = np.random.default_rng(seed)
    count = int(random.integers(8, 40))
    names = (
        "feed",
        "tan",
        "nitrate",
        "alkalinity",
        "base",
        "chloride",
        "water_added",
        "sample_weight",
    )
    values = {}
    for name in names:
        column = 10.0 ** random.uniform(-9, 3, count)
        column[random.random(count) < 0.4] = np.nan
        column[random.random(count) < 0.1] = 0.0
        values[name] = column
    log = log_of_values("2027-02-28", np.sort(random.uniform(0, 60, count)), values)
    try:
        tuned = tune(log, logs.family()[1])
    except DesignError:
        return
    for one in tuned.parameters:
        assert np.isfinite([one.low, one.value, one.high]).all()
    assert tuned_text(tuned)


def test_alkalinity_without_base_is_left_out_and_said():
    values = {"feed": np.full(20, 0.5), "alkalinity": np.full(20, 0.1), "tan": np.full(20, 4e-4)}
    log = log_of_values("2027-07-01", np.arange(20.0), values)
    assert "alkalinity" not in unknowns.tests_of(log).by_name
    assert any("write 0 where none was" in note for note in tune(log, logs.family()[1]).notes)


# --- the tuned design, tables and reports ---------------------------------------------------


def test_the_tuned_design_takes_what_is_decided_and_what_it_has_a_choice_for(example, even):
    _, _, tuned = example
    before, after = tuned.sizing.design, tuned.design()
    assert after.filter.derate == pytest.approx(before.filter.derate * tuned["filter_factor"].value)
    assert after.makeup.drained == pytest.approx(tuned["water_out"].value)
    assert after.stock.growth_coefficient == pytest.approx(tuned["growth"].value)
    assert size(after)["filter.area"] is not None
    said = " ".join(tuned.carried())
    assert "nitrogen that turns to ammonia: not carried over" in said
    assert even[2].design() == even[2].sizing.design
    assert all("does not decide it" in words for words in even[2].carried())


def test_a_filter_faster_than_a_choice_allows_is_carried_as_far_as_it_goes(example):
    _, _, tuned = example
    fast = replace(tuned["filter_factor"], value=4.0)
    path, value, words = tuned.carry(fast)
    assert (path, value) == ("filter.derate", 1.0)
    assert "as far as its range goes" in words


def test_courses_have_bands_in_order_and_units(example):
    _, _, tuned = example
    frame = tuned.courses("metric")
    assert len(frame) == logs.DAYS
    assert frame.attrs["units"]["tan_after_50"] == "mg/L"
    for name in ("tan", "nitrate", "alkalinity", "chloride", "fish_weight"):
        for when in ("before", "after"):
            low, middle, high = (frame[f"{name}_{when}_{share}"] for share in (5, 50, 95))
            assert (low <= middle).all()
            assert (middle <= high).all()
    wide = frame["tan_before_95"] - frame["tan_before_5"]
    assert (frame["tan_after_95"] - frame["tan_after_5"] < wide).all()
    us = tuned.courses("us")
    assert us["fish_weight_after_50"].iloc[0] == pytest.approx(
        frame["fish_weight_after_50"].iloc[0] / 453.59237
    )


def test_text_and_json_say_the_same_numbers(example, even):
    for _, _, tuned in (example, even):
        text = tuned_text(tuned, "metric")
        data = json.loads(tuned_json(tuned, "metric"))
        assert set(data["numbers"]) == {one.name for one in tuned.parameters}
        for one in tuned.parameters:
            assert one.why in text
            assert one.decides in text
            assert data["numbers"][one.name]["why"] == one.why
        assert data["courses"]["date"][0] == tuned.log.date(0).isoformat()
    assert "never starve fry" not in tuned_text(example[2])
    assert "Salt stays in the water" in tuned_text(even[2])


def test_the_same_log_gives_the_same_numbers(example):
    log, _, tuned = example
    assert tune(log, tuned.sizing).table().equals(tuned.table())


def test_a_log_without_new_water_tunes_what_is_drained():
    season = logs.season_of(logs.family()[0], logs.OTHER, 120)
    log = logs.log_of(season, 60, 60, np.random.default_rng(5), logs.FULL,
                      columns=("feed", "base", "temperature", "ph"))  # fmt: skip
    tuned = tune(log, logs.family()[1])
    assert {one.name for one in tuned.parameters} == {
        "filter_factor",
        "ammonia_share",
        "water_out",
        "growth",
    }
    assert any("does not tell the new water" in note for note in tuned.notes)
    assert isinstance(tuned.task.model, BoxModel)


def test_other_fish_and_told_rates_tune_too():
    design = load("school").with_(filter_rate="0.3 g/(m² day)")
    values = {
        "feed": np.full(20, 0.5),
        "tan": np.full(20, 4e-4),
        "nitrate": np.linspace(0.01, 0.02, 20),
    }
    tuned = tune(log_of_values("2027-07-01", np.arange(20.0), values), design)
    assert tuned["filter_factor"].low > 0.0
