"""How sure a design is: draws, shares of the variance against outside libraries, the design as built."""

import csv
import json
from pathlib import Path

import numpy as np
import pytest
from designs import DEMOS, demo
from scipy import stats
from scipy.stats import qmc

import rsdesign
from rsdesign import size, spread
from rsdesign.__main__ import main
from rsdesign.core.choices import DesignError
from rsdesign.core.tables import TableError
from rsdesign.design.model import FIELDS, with_values
from rsdesign.equations import chance
from rsdesign.pages import blocks, sureness
from rsdesign.pages.session import Session
from rsdesign.sizing.checks.forms import stands
from rsdesign.sizing.checks.rows import check_rows
from rsdesign.studies.growing import one_season
from rsdesign.studies.heat.yearly import full_year, weathered
from rsdesign.studies.spread import inputs, plan, seasons, shares
from rsdesign.studies.spread.inputs import UncertainInput, uncertain_inputs

with (Path(__file__).parent / "reference" / "chance.csv").open(encoding="utf-8", newline="") as f:
    ROWS = {row["id"]: row for row in csv.DictReader(f)}


def expected(name: str):
    """What a row of the check values says, with its tolerance."""
    row = ROWS[name]
    value, kind = row["tolerance"].split()
    return pytest.approx(float(row["expected"]), **{kind: float(value)})


@pytest.fixture(scope="module")
def family():
    return spread(demo("family"), draws=1000)


@pytest.fixture(scope="module")
def commercial():
    return spread(demo("commercial"), draws=1000)


# --- draws ---------------------------------------------------------------------------------


def test_each_slice_of_each_input_has_one_point():
    n, d = json.loads(ROWS["chance-139"]["inputs"]).values()
    for points in (shares.latin_hypercube(n, d, 3), qmc.LatinHypercube(d, seed=3).random(n)):
        counts = [np.bincount((points[:, k] * n).astype(int), minlength=n) for k in range(d)]
        assert np.min(counts) == expected("chance-139") == np.max(counts)


def test_draws_of_a_hypercube_do_not_hang_together():
    points = shares.latin_hypercube(2000, 12, 1)
    apart = np.corrcoef(points.T) - np.eye(12)
    assert np.abs(apart).max() < 4 / np.sqrt(2000)


def test_the_same_seed_gives_the_same_draws_and_another_one_others():
    one, same, other = (shares.latin_hypercube(100, 5, seed) for seed in (7, 7, 8))
    assert np.array_equal(one, same)
    assert not np.array_equal(one, other)


UNIFORM = np.array([0.01, 0.1, 0.3, 0.5, 0.77, 0.9, 0.99])


@pytest.mark.parametrize(
    ("distribution", "ends", "outside"),
    [
        ("triangular", (0.3, 0.45, 0.65), stats.triang(0.15 / 0.35, 0.3, 0.35)),
        ("triangular", (-1.5, 0.0, 1.5), stats.triang(0.5, -1.5, 3.0)),
        ("uniform", (2.0, 3.0, 4.0), stats.uniform(2.0, 2.0)),
        ("lognormal", (0.5, 1.0, 2.0), stats.lognorm(np.log(2.0) / stats.norm.ppf(0.95))),
    ],
)
def test_draws_have_the_distribution_of_scipy(distribution, ends, outside):
    row = next(r for r in uncertain_inputs() if r.path == "wastes.oxygen_per_feed")
    changed = UncertainInput(**{**_cells(row), "distribution": distribution,
                                **dict(zip(("low", "middle", "high"), map(str, ends), strict=True))})  # fmt: skip
    assert inputs.drawn(changed, ends, UNIFORM) == pytest.approx(outside.ppf(UNIFORM), rel=1e-9)


def _cells(row: UncertainInput) -> dict:
    return {name: getattr(row, name) for name in ("path", "label", "way", "distribution", "low", "middle",
            "high", "unit", "measure", "source", "place", "basis", "range")}  # fmt: skip


def test_a_percentile_of_a_normal_spread():
    mean, sd = json.loads(ROWS["chance-140"]["inputs"]).values()
    z = inputs.normal(0.95)
    assert chance.normal_quantile(float(mean), float(sd), float(z)) == expected("chance-140")


def test_spread_of_a_product():
    assert chance.spread_of_product(*json.loads(ROWS["chance-138"]["inputs"])["cv"]) == expected(
        "chance-138"
    )


# --- shares of the variance ------------------------------------------------------------------


def ishigami(x, a=7.0, b=0.1):
    x = np.pi * (2.0 * x - 1.0)
    return np.sin(x[:, 0]) + a * np.sin(x[:, 1]) ** 2 + b * x[:, 2] ** 4 * np.sin(x[:, 0])


def g_function(x, a=(0.0, 1.0, 4.5, 9.0, 99.0, 99.0, 99.0, 99.0)):
    return np.prod((np.abs(4.0 * x - 2.0) + a) / (1.0 + np.array(a)), axis=1)


def ishigami_shares(a, b):
    """Closed form of Ishigami and Homma 1990."""
    first = 0.5 * (1.0 + b * np.pi**4 / 5.0) ** 2
    second, third = a**2 / 8.0, b**2 * np.pi**8 * (1.0 / 18.0 - 1.0 / 50.0)
    whole = first + second + third
    return whole, (first / whole, second / whole, 0.0), (
        (first + third) / whole, second / whole, third / whole
    )  # fmt: skip


def test_the_closed_forms_are_those_that_were_kept():
    whole, first, total = ishigami_shares(**json.loads(ROWS["chance-124"]["inputs"]))
    assert whole == expected("chance-124")
    assert first[:2] == (expected("chance-125"), expected("chance-126"))
    assert total == tuple(expected(f"chance-{k}") for k in (128, 129, 130))
    a = np.array(json.loads(ROWS["chance-134"]["inputs"])["a"])
    parts = 1.0 / (3.0 * (1.0 + a) ** 2)
    assert tuple((parts / (np.prod(1.0 + parts) - 1.0))[:3]) == tuple(
        expected(f"chance-{k}") for k in (134, 135, 136)
    )
    c = np.array(json.loads(ROWS["chance-137"]["inputs"])["c"])
    assert c[0] ** 2 / np.sum(c**2) == expected("chance-137")


def over_seeds(function, dimensions: int, count: int, seeds: int):
    """Means over several seeds; a run of 8,192 pairs is itself within 0.014 of them (one standard error)."""
    found = [shares.shares(function, dimensions, count, seed) for seed in range(seeds)]
    return (
        np.mean([getattr(one, name) for one in found], axis=0) for name in ("left", "when_known")
    )


def test_shares_of_the_ishigami_function():
    _, first, total = ishigami_shares(7.0, 0.1)
    left, known = over_seeds(ishigami, 3, 8192, 16)
    assert left[0] == expected("chance-131")
    assert left[2] == expected("chance-133")
    assert left == pytest.approx(np.array(total), rel=0.02)
    assert known == pytest.approx(np.array(first), abs=0.01)
    one = shares.shares(ishigami, 3, 8192, 1)
    assert one.left == pytest.approx(np.array(total), abs=4 * 0.014)
    assert one.variance == pytest.approx(float(ROWS["chance-124"]["expected"]), rel=0.02)


def test_shares_of_the_g_function_and_of_a_sum():
    found = shares.shares(g_function, 8, 8192, 2)
    for k in range(3):
        assert found.when_known[k] == pytest.approx(
            float(ROWS[f"chance-{134 + k}"]["expected"]), abs=0.03
        )
    linear = shares.shares(lambda x: x @ np.array([3.0, 2.0, 1.0]), 3, 4096, 1)
    assert linear.when_known[0] == pytest.approx(float(ROWS["chance-137"]["expected"]), abs=0.02)
    assert linear.left == pytest.approx(linear.when_known, abs=0.03)  # a sum hides no interaction


def test_salib_and_scipy_say_the_same():
    from SALib.analyze import sobol as analyze
    from SALib.sample import sobol as sample

    problem = {"num_vars": 3, "names": ["a", "b", "c"], "bounds": [[0.0, 1.0]] * 3}
    got = analyze.analyze(problem, ishigami(sample.sample(problem, 8192, calc_second_order=False, seed=1)),
                          calc_second_order=False, seed=1)  # fmt: skip
    assert got["ST"][0] == expected("chance-131")
    assert got["ST"][2] == expected("chance-133")
    left, known = over_seeds(ishigami, 3, 8192, 16)
    assert left == pytest.approx(got["ST"], abs=0.015)
    other = stats.sobol_indices(
        func=lambda x: ishigami(x.T)[None, :], n=8192, dists=[stats.uniform()] * 3, rng=1
    )
    assert left == pytest.approx(np.ravel(other.total_order), abs=0.015)
    assert known == pytest.approx(np.ravel(other.first_order), abs=0.015)


def test_the_shares_by_slices_agree_with_the_pairs():
    points = shares.latin_hypercube(4000, 3, 1)
    _, first, _ = ishigami_shares(7.0, 0.1)
    assert shares.known_by_slices(points, ishigami(points)) == pytest.approx(
        np.array(first), abs=0.03
    )
    noise = np.random.default_rng(0).normal(size=4000)
    assert shares.known_by_slices(points, noise).max() < 0.01


def test_rank_correlation_is_that_of_scipy():
    points = shares.latin_hypercube(500, 3, 1)
    values = np.round(ishigami(points), 1)  # with ties
    found = shares.rank_correlation(points, values)
    for k in range(3):
        assert found[k] == pytest.approx(stats.spearmanr(points[:, k], values).statistic, abs=1e-9)


@pytest.mark.parametrize(
    ("result", "words"),
    [
        (lambda x: x[:, 0] > 0.5, "yes or no"),
        (lambda x: (x[:, 0] > 0.5) * 1.0, "yes or no"),
        (lambda x: np.where(x[:, 0] > 0.9, np.nan, x[:, 1]), "no number"),
        (lambda x: np.where(x[:, 0] > 0.9, np.inf, x[:, 1]), "no number"),
        (lambda x: 3.0 + 0.0 * x[:, 0], "the same in all"),
    ],
)
def test_no_shares_of_a_result_for_which_they_mean_nothing(result, words):
    with pytest.raises(DesignError, match=words):
        shares.shares(result, 2, 64)


@pytest.mark.parametrize("n", [1000, 0, 32, True, 1024.5, 2**17])
def test_pairs_are_a_power_of_two(n):
    with pytest.raises(DesignError, match="power of two"):
        shares.shares(ishigami, 3, n)


# --- the table of inputs ---------------------------------------------------------------------


def test_fifteen_to_twenty_inputs_each_with_a_source():
    rows = uncertain_inputs()
    assert 15 <= len(rows) <= 20
    assert len({row.path for row in rows}) == len(rows)
    for row in rows:
        assert row.path in FIELDS or row.path in (plan.EVAPORATION, plan.DUNG), row.path
        assert row.source, row.path


def test_the_middle_of_a_range_is_what_a_design_has_when_nothing_is_told():
    for row in uncertain_inputs():
        about = FIELDS.get(row.path)
        if row.way == "ratio" and about is not None and float(row.middle) != 1.0:
            unit = about.measure.unit(row.unit) if row.unit else about.measure.plain
            assert float(row.middle) * unit.factor == pytest.approx(about.choice.default), row.path


@pytest.mark.parametrize(
    "changed",
    [{"way": "sometimes"}, {"distribution": "normal"}, {"low": "0.7"},
     {"distribution": "lognormal", "low": "0.1"}],
)  # fmt: skip
def test_a_row_that_keeps_no_order_is_refused(changed):
    row = next(r for r in uncertain_inputs() if r.path == "wastes.oxygen_per_feed")
    with pytest.raises(TableError):
        UncertainInput(**{**_cells(row), **changed})


def test_nitrogen_is_conserved_in_every_draw(family):
    loads = family.outcomes.sizing.loads
    shares_ = (loads.fish_nitrogen + loads.ammonia) / loads.feed_nitrogen + loads.faecal_share
    assert shares_ == pytest.approx(np.ones(shares_.size), rel=1e-12)
    assert loads.faecal_share.min() > 0.04
    drawn = family.drawn[plan.DUNG] + float(family.sizing.loads.faecal_share)
    assert loads.faecal_share[: family.draws] == pytest.approx(drawn, abs=1e-12)


# --- the design as built ---------------------------------------------------------------------


@pytest.mark.parametrize("name", DEMOS)
def test_with_every_input_in_the_middle_the_built_design_is_the_design(name):
    sizing = size(demo(name))
    found = spread(sizing, draws=100)
    middle = {row.path: 0.5 for row in found.rows}
    assert set(middle) == set(found.drawn)
    assert found.as_planned("cost") == pytest.approx(
        float(full_year(sizing).budget.cost_of_each), rel=1e-9
    )
    again = size(found.base.design)
    for now, then in zip(again.parts, sizing.parts, strict=True):
        assert float(now.margin) == pytest.approx(float(then.margin), rel=1e-9), now.name


def test_parts_do_not_grow_with_the_draws(family):
    drawn, built = family.outcomes.sizing, family.sizing
    for path in ("tank.volume", "solids.area", "filter.media_volume", "air.count", "pump.drains"):
        stage, name = path.split(".")
        assert np.ptp(np.broadcast_to(getattr(getattr(drawn, stage), name), 2)) == 0.0
        assert np.all(getattr(getattr(drawn, stage), name) == pytest.approx(
            float(getattr(getattr(built, stage), name)), rel=1e-9)), path  # fmt: skip
    assert np.ptp(drawn.stock.to_stock) < 1e-9  # as many fingerlings are bought
    assert np.ptp(drawn.stock.fish) > 1.0  # and not as many live


def test_were_it_sized_anew_for_each_draw_nothing_would_fail(family):
    """Why the parts are held: the same draws of a design that is not built fall short nowhere."""
    changed = plan.changes(family.sizing, family.rows, family.drawn)
    anew = size(with_values(demo("family"), changed))
    flow = next(part for part in anew.parts if part.name == "pump")
    assert np.mean(np.asarray(flow.margin) >= 0.98) > 0.999
    assert family.chance("pump") < 0.7


@pytest.mark.parametrize("name", ["family", "commercial"])
def test_a_draw_is_what_a_sizing_of_that_design_says(name, request):
    """One design has one answer: single draws by hand, checks and cost alike."""
    found = request.getfixturevalue(name)
    changed = plan.changes(found.sizing, found.rows, found.drawn)
    for place in (0, 17, 400):
        values = {path: float(row[place]) for path, row in changed.items()}
        one = size(with_values(found.base.design, values))
        same_pipes = one.pump.drains == found.sizing.pump.drains
        for asked in found.asked:
            if asked.row is None or asked.part in ("drain", "overflow") or not same_pipes:
                continue
            ok, margin = stands(one, asked.row)
            assert found.outcomes.stands[asked.name][place] == (
                bool(ok) or (asked.ratio and margin >= 0.98)
            )
        for part in one.parts:
            if same_pipes:
                got = np.clip(np.nan_to_num(float(part.margin)), 0.01, 100.0)
                assert found.outcomes.margins[part.name][place] == pytest.approx(got, rel=1e-9)


def test_the_season_of_a_draw_is_that_of_its_growth():
    sizing = size(demo("family"))
    found = weathered(sizing)
    rates = np.array([1.2, 1.9, 2.4, 3.0, 3.7, 5.0])
    together = seasons.allowed_by(sizing, found, rates)
    for place, rate in enumerate(rates):
        one = size(demo("family").with_(stock_growth_coefficient=float(rate)))
        alone = one_season(one, found.run, found.warmth)
        for figure in ("batches", "weight", "cycle", "temperature", "running"):
            got = np.broadcast_to(getattr(together, figure), rates.shape)[place]
            assert got == pytest.approx(getattr(alone, figure), rel=1e-9), (rate, figure)


def test_batches_that_take_turns_come_to_size_as_one_by_one():
    design = demo("family").with_(stock_interval="60 day", tank_count=3, tank_width="6 ft")
    sizing = size(design)
    found = weathered(sizing)
    assert found.run is not None
    rates = np.array([2.0, 2.4, 3.6])
    together = seasons.allowed_by(sizing, found, rates)
    for place, rate in enumerate(rates):
        changed = size(design)
        alone = one_season(_with_growth(changed, float(rate)), found.run, found.warmth)
        assert together.batches[place] == alone.batches
        assert together.running[place] == pytest.approx(alone.running)


def _with_growth(sizing, rate: float):
    from dataclasses import replace

    return replace(sizing, design=sizing.design.with_(stock_growth_coefficient=rate))


# --- what it says ----------------------------------------------------------------------------


def test_chances_hang_together_as_they_must(family, commercial):
    for found in (family, commercial):
        judged = [found.chance(one.name) for one in found.judged]
        assert found.all_stand <= min(judged)
        kept = [found.chance(one.name) for one in found.judged if one.stands]
        assert found.all_stand <= found.kept_stand <= min(kept)
        apart = np.prod(kept)
        assert found.kept_stand > apart  # checks hang together, so the product is too low


def test_the_average_design_is_not_safe(commercial):
    """Every check stands as planned, and all together in less than half of the draws."""
    assert not commercial.failing
    assert commercial.kept_stand < 0.5


def test_more_of_a_part_makes_it_surer_on_equal_draws():
    base = demo("commercial")
    built = size(base)
    more = base.with_(filter_media_volume=float(built.filter.media_volume) * 1.5)
    assert spread(more, 500).chance("filter") > spread(base, 500).chance("filter") + 0.2


def test_what_is_known_does_not_vary_and_narrows():
    base = spread(demo("commercial"), 1000)
    known = spread(demo("commercial"), 1000, known=("stock.feed_conversion",))
    assert np.ptp(known.drawn["stock.feed_conversion"]) == 0.0
    assert np.ptp(known.drawn["filter.derate"]) > 0.0
    assert np.array_equal(known.drawn["filter.derate"], base.drawn["filter.derate"])
    less = np.var(known.result("margin")) / np.var(base.result("margin"))
    said = base.measure_first().set_index("path").narrows["stock.feed_conversion"]
    assert less < 1.0
    assert 1.0 - less == pytest.approx(said, abs=0.12)  # what goes on average, and what goes here


def test_another_seed_says_the_same_within_its_chance():
    chances = [spread(demo("commercial"), 2000, seed).kept_stand for seed in range(1, 5)]
    assert np.ptp(chances) < 4 * np.sqrt(0.25 / 2000)


def test_the_emergency_is_not_judged_by_chance(family):
    words = [one.label for one in family.judged]
    assert not [w for w in words if "Minutes to act" in w or "power fails" in w]
    assert [one.label for one in family.emergency] == ["Minutes to act in the busiest hour"]
    with pytest.raises(DesignError, match="not a result"):
        family.chance(family.emergency[0].name)


def test_checks_of_words_alone_are_not_drawn(family):
    asked = {one.row for one in family.asked}
    for row in check_rows():
        if row.form in ("yes", "notice"):
            assert row not in asked


def test_frames_carry_units(commercial):
    for frame in (commercial.checks(), commercial.inputs(), commercial.measure_first(),
                  commercial.tornado(), commercial.each_draw("metric")):  # fmt: skip
        assert set(frame.attrs["units"]) == set(frame.columns)
    assert commercial.tornado().attrs["units"]["at_10"] == "$ per lb"
    assert commercial.each_draw("metric").attrs["units"]["cost"] == "$ per kg"
    assert len(commercial.each_draw()) == commercial.draws
    ordered = commercial.checks().chance.tolist()
    assert ordered == sorted(ordered)


def test_a_tornado_at_its_ends_is_a_run_at_its_ends(commercial):
    frame = commercial.tornado("cost", "si").set_index("path")
    uniform = np.full((2, len(commercial.rows)), 0.5)
    place = [row.path for row in commercial.rows].index("prices.wage")
    by = {row.path: np.full(2, {"difference": 0.0}.get(row.way, 1.0)) for row in commercial.rows}
    row = commercial.rows[place]
    by["prices.wage"] = inputs.drawn(
        row, inputs.range_of(row, commercial.sizing), np.array([0.1, 0.9])
    )
    wages = 12.0 / 3600.0 * by["prices.wage"]
    assert uniform.shape[1] == len(frame)
    for wage, at in zip(wages, ("at_10", "at_90"), strict=True):
        alone = full_year(size(demo("commercial").with_(prices_wage=float(wage))))
        assert frame[at]["prices.wage"] == pytest.approx(float(alone.budget.cost_of_each), rel=1e-6)


def test_total_shares_of_a_design(commercial):
    frame = commercial.total_shares("cost", 256)
    assert frame.attrs["runs"] == 256 * (len(commercial.rows) + 2)
    assert frame.total.sum() > 0.9
    idle = frame.set_index("path").total
    assert idle["wastes.solids_per_feed"] < 0.01
    for result in ("air-32", "stands", "nothing"):
        with pytest.raises(DesignError):
            commercial.total_shares(result, 64)


@pytest.mark.parametrize(
    ("asked", "words"),
    [
        ({"draws": 50}, "draws is 50"),
        ({"draws": 2.5}, "draws is 2.5"),
        ({"seed": -1}, "seed is -1"),
        ({"seed": True}, "seed is True"),
        ({"known": ("tank.depth",)}, "not an input that varies"),
    ],
)
def test_what_cannot_be_asked_gets_a_sentence(asked, words):
    with pytest.raises(DesignError, match=words):
        spread(demo("family"), **asked)


def test_it_is_asked_of_one_design():
    with pytest.raises(DesignError, match="one design"):
        spread(demo("family").with_(goal_fish=[100.0, 200.0]), 100)


EXTREMES = [
    {"goal_fish": 1.0}, {"filter_plants": "400 ft²"}, {"stock_ration": "2 %/day"},
    {"climate_heated": "yes"}, {"climate_weather": None}, {"stock_species": "rainbow_trout"},
    {"pump_kind": "airlift", "pump_lift": "0.5 ft"}, {"filter_rate": "0.3 g/(m² day)"},
    {"stock_survival": 1.0}, {"site_water_temperature": 34.0}, {"air_plate_watts": 300.0},
    {"pump_none": True}, {"source_supply": 0.0}, {"terms_loss_every": 1.0}, {"prices_fish": 0.0},
]  # fmt: skip


@pytest.mark.parametrize("changes", EXTREMES, ids="-".join)
def test_odd_designs_get_an_answer(changes):
    found = spread(demo("family").with_(**changes), 100)
    assert 0.0 <= found.all_stand <= 1.0
    assert len(found.checks()) == len(found.judged)
    found.measure_first("cost")
    found.tornado()
    found.inputs()


# --- the command -----------------------------------------------------------------------------


def test_the_command_says_it_in_words(capsys, tmp_path):
    rsdesign.save(demo("family"), tmp_path / "family.toml")
    table = tmp_path / "draws.csv"
    assert (
        main(["spread", str(tmp_path / "family.toml"), "--draws", "200", "--csv", str(table)]) == 0
    )
    said = capsys.readouterr().out
    for words in ("All checks stand in", "Measure this first", "no warranty", "not judged by chance",
                  "One check falls short as planned"):  # fmt: skip
        assert words in said
    assert len(table.read_text(encoding="utf-8").splitlines()) == 201


def test_the_command_gives_json_and_the_same_numbers(capsys, tmp_path):
    rsdesign.save(demo("commercial"), tmp_path / "c.toml")
    asked = [
        "spread",
        str(tmp_path / "c.toml"),
        "--draws",
        "300",
        "--seed",
        "4",
        "--json",
        "--known",
        "filter.derate",
    ]
    assert main(asked) == 0
    said = json.loads(capsys.readouterr().out)
    found = spread(demo("commercial"), 300, 4, ("filter.derate",))
    assert said["kept_stand"] == pytest.approx(found.kept_stand)
    assert said["cost"]["si"][1] == pytest.approx(float(np.quantile(found.result("cost"), 0.5)))
    assert said["known"] == ["filter.derate"]
    assert any("warranty" in one["hazard"] for one in said["cautions"])


@pytest.mark.parametrize("bad", [["--draws", "10"], ["--seed", "x"], ["--known", "nothing"]])
def test_the_command_refuses_in_one_sentence(capsys, tmp_path, bad):
    rsdesign.save(demo("family"), tmp_path / "f.toml")
    assert main(["spread", str(tmp_path / "f.toml"), *bad]) == 2
    assert capsys.readouterr().err.count("\n") == 1


# --- the page --------------------------------------------------------------------------------


def page():
    session = Session("spread")
    blocks.compose(session)
    return session


def test_while_a_thumb_moves_there_are_fewer_draws_of_the_same_seed():
    session = page()
    session.handle({"do": "slide", "path": "filter.media_volume", "at": 0.6})
    moved = blocks.moving(session)
    quick = session.spreads[True][1]
    assert (quick.draws, quick.seed) == (sureness.FEW, session.spreads[False][1].seed)
    assert "measure" not in moved  # it follows once the thumb is let go
    settled = blocks.late_blocks(session)
    assert session.spreads[False][1].draws == 2000
    assert settled["measure"]["rows"]
    found = spread(session.design)
    shown = {one["path"]: one["value"] for one in settled["headline"]}
    assert shown["All the others"] == f"{100 * found.kept_stand:.0f}"  # as the command says


def test_no_chance_is_told_of_the_emergency():
    drawn = blocks.compose(page())
    told = [row[0] for row in drawn["picture"]["table"]["rows"]]
    assert not [words for words in told if "Minutes to act" in words]
    minutes = next(one for one in drawn["headline"] if one["path"] == "minutes")
    assert minutes["unit"] == "min"
    assert any("not judged by chance" in note for note in drawn["measure"]["notes"])


def test_as_if_measured_and_back():
    session = page()
    session.handle({"do": "measured", "path": "stock.growth_coefficient"})
    found = blocks.late_blocks(session)["measure"]
    assert [one["path"] for one in found["known"]] == ["stock.growth_coefficient"]
    assert "stock.growth_coefficient" not in [row["path"] for row in found["rows"]]
    session.handle({"do": "measured", "path": "stock.growth_coefficient"})
    assert session.measured == ()
    session.handle({"do": "measured", "path": "tank.depth"})
    assert "not an input" in session.notice


def test_shares_of_the_variance_are_worked_out_on_the_page_when_asked_for():
    session = page()
    assert blocks.late_blocks(session)["measure"]["shares"]["rows"] == []
    for result in ("margin", "cost"):
        session.handle({"do": "answer", "name": "spread.result", "text": result})
        assert blocks.late_blocks(session)["measure"]["shares"]["rows"] == []
        session.handle({"do": "shares"})
        assert not session.notice
        block = blocks.late_blocks(session)["measure"]["shares"]
        told = spread(session.design).total_shares(result, sureness.PAIRS)
        first = told.iloc[0]
        assert block["rows"][0][0] == first["input"]
        assert block["rows"][0][2] == sureness.percent(first["total"])
        assert all(len(row) == len(block["headings"]) for row in block["rows"])
    session.handle({"do": "set", "path": "goal.fish", "text": "150"})
    assert (
        blocks.late_blocks(session)["measure"]["shares"]["rows"] == []
    )  # those were of another design


def test_parts_that_are_held_leave_every_chance_as_it_is_and_then_fewer_fish_help():
    session = page()
    before = spread(session.sizing, 500)
    session.handle({"do": "build"})
    assert session.can_undo
    held = spread(session.sizing, 500)
    assert held.kept_stand == pytest.approx(before.kept_stand)
    assert not blocks.late_blocks(session)["measure"]["build"]
    session.handle({"do": "set", "path": "goal.fish", "text": "150"})
    assert spread(session.sizing, 500).kept_stand > held.kept_stand + 0.2


def test_the_chart_keeps_its_height_while_chances_rise():
    session = page()
    before = blocks.compose(session)["picture"]["svg"].count("<rect")
    session.handle({"do": "set", "path": "filter.media_volume", "text": "40 ft³"})
    assert abs(blocks.compose(session)["picture"]["svg"].count("<rect") - before) <= 2
