"""Costs: against numpy-financial, printed tables, identities, a case worked by hand, and bad input."""

import itertools
import json
import random

import numpy as np
import numpy_financial as npf
import pytest
from designs import DEMOS, demo, random_design

from rsdesign.__main__ import main
from rsdesign.core.choices import DesignError
from rsdesign.design.model import with_values
from rsdesign.design.prices import NAMES, listed, prices_of
from rsdesign.equations.costs import annual, budget, labour, loans, returns
from rsdesign.equations.costs.budget import LABELS, RECEIPTS
from rsdesign.sizing.system import size
from rsdesign.studies import cashflow, compare, stress
from rsdesign.studies.enterprise import enterprise

# --- against a general library, 200 random cases ---------------------------------------------


@pytest.mark.parametrize("seed", range(200))
def test_agrees_with_numpy_financial(seed):
    source = random.Random(seed)
    rate, years = source.uniform(0.0, 0.3), source.randint(1, 40)
    price, left = source.uniform(10, 1e5), 0.0
    left = source.uniform(0, price)
    assert annual.capital_recovery(rate, float(years)) == pytest.approx(
        -npf.pmt(rate, years, 1.0), rel=1e-9
    )
    assert annual.equivalent_annual(price, float(years), rate, left) == pytest.approx(
        -npf.pmt(rate, years, price, -left), rel=1e-9
    )
    assert loans.loan_payment(price, rate, float(years)) == pytest.approx(
        -npf.pmt(rate / 12, years * 12, price), rel=1e-9
    )
    flows = [-price] + [source.uniform(0, price) for _ in range(years)]
    assert annual.present_value(rate, flows) == pytest.approx(
        npf.npv(rate, flows), rel=1e-9, abs=1e-6
    )
    found = returns.internal_rate(flows)
    if np.isfinite(found):
        assert found == pytest.approx(npf.irr(flows), rel=1e-9, abs=1e-9)
    again = source.uniform(0.0, 0.3)
    assert returns.modified_rate(flows, rate, again) == pytest.approx(
        npf.mirr(flows, rate, again), rel=1e-9, abs=1e-9
    )


# --- identities --------------------------------------------------------------------------------


@pytest.mark.parametrize("seed", range(40))
def test_the_two_forms_of_annual_cost_agree(seed):
    source = random.Random(seed)
    price, left = source.uniform(10, 1e5), source.uniform(0, 1e4)
    life, rate = source.uniform(0.5, 40), source.uniform(0, 0.4)
    other = price * annual.capital_recovery(rate, life) - left * annual.sinking_fund(rate, life)
    assert annual.equivalent_annual(price, life, rate, left) == pytest.approx(other, rel=1e-12)


def test_no_interest_is_straight_line_and_a_small_one_is_near_it():
    assert annual.equivalent_annual(900.0, 7.0, 0.0, 60.0) == annual.straight_line(900.0, 7.0, 60.0)
    assert annual.capital_recovery(1e-12, 7.0) == pytest.approx(1 / 7, rel=1e-10)
    assert annual.capital_recovery(1e-8, 7.0) == pytest.approx((1 + 4e-8) / 7, rel=1e-9)


def test_common_practice_of_tanks():
    """Common practice: 1,500 over 15 to 20 years is 75 to 100 a year; 500 over 3 to 4, 125 to 167."""
    assert [annual.straight_line(1500.0, n) for n in (20.0, 15.0)] == [75.0, 100.0]
    assert [round(annual.straight_line(500.0, n)) for n in (4.0, 3.0)] == [125, 167]


def test_the_ranking_holds_up_to_a_rate_that_is_computed():
    dear = compare.Candidate("dear", 1500.0, 15.0)
    cheap = compare.Candidate("cheap", 500.0, 4.0)
    rate = next(
        x.value for x in compare.crossings(size(demo("family")), (dear, cheap)) if x.axis == "rate"
    )
    cost = [annual.equivalent_annual(c.cost, c.life, rate) for c in (dear, cheap)]
    assert cost[0] == pytest.approx(cost[1], rel=1e-9)
    for at, first in ((rate - 0.01, dear), (rate + 0.01, cheap)):
        best = min((dear, cheap), key=lambda c: annual.equivalent_annual(c.cost, c.life, at))
        assert best is first


def test_schedule_pays_all_back_to_the_cent():
    """Dahlquist & Knight 2022, section 8.3: the printed lines of a loan of 32,000 at 6 %, 36 months."""
    lines = loans.schedule(32000, 0.06, 3)
    assert (lines[0].payment, lines[0].interest, lines[0].principal) == (973.5, 160.0, 813.5)
    assert lines[4].balance == pytest.approx(27891.61, abs=0.05)
    assert lines[11].balance == pytest.approx(21965.02, abs=0.05)
    assert lines[23].balance == pytest.approx(
        11311.13, abs=0.10
    )  # the book carries its own rounding
    assert sum(x.interest for x in lines[:12]) == pytest.approx(1647.02, abs=0.05)
    assert sum(x.interest for x in lines) == pytest.approx(3046.08, abs=0.10)
    assert lines[-1].balance == 0.0
    assert sum(x.principal for x in lines) == pytest.approx(32000.0, abs=1e-6)
    assert all(round(x.payment, 2) == x.payment for x in lines)


def test_internal_rates_several_one_or_none():
    assert returns.internal_rates([-100, 230, -132]) == pytest.approx([0.1, 0.2])
    assert np.isnan(returns.internal_rate([-100, 230, -132]))
    assert "both fit" in returns.rates_in_words([-100, 230, -132])
    assert returns.internal_rates([100, 100]) == []
    assert returns.rates_in_words([100, 100]) == "No rate makes these flows worth nothing."
    assert returns.internal_rates([-100, 50]) == pytest.approx([-0.5])


def test_payback_never():
    assert np.isnan(returns.payback([-100, 10, 10]))
    assert returns.payback([-100, 60, 80]) == 1.5


def test_arrays_broadcast():
    rates = np.array([0.0, 0.05, 0.1])
    lives = np.array([[5.0], [10.0]])
    found = annual.equivalent_annual(1000.0, lives, rates, 100.0)
    assert found.shape == (2, 3)
    assert found[1, 2] == annual.equivalent_annual(1000.0, 10.0, 0.1, 100.0)


# --- a constructed case, worked by hand with round inputs ---------------------------------------


def constructed(price=9.0, wage=15.0, feed_price=1.5, sold=1000.0) -> budget.Budget:
    """1,000 kg a year, feed 1.5 kg for each, 1.2 kW at 90 %, an hour a day; four parts bought."""
    parts = ((4000, 0, 15), (3000, 0, 10), (1800, 100, 5), (1500, 200, 10))
    equipment = sum(
        annual.equivalent_annual(float(p), float(n), 0.08, float(s)) for p, s, n in parts
    )
    nothing = dict.fromkeys(set(LABELS) - {"operating_interest"}, 0.0)
    time = 365 * 3600.0
    lines = {
        **nothing,
        "sales": sold * price,
        "fingerlings": budget.line(2500, 0.20),
        "feed": budget.line(1000 * 1.5, feed_price),
        "electricity": budget.line(1.2 * 0.9 * 8760, 0.13),
        "supplies": 400.0,
        "labour": labour.labour_cost(time, wage / 3600),
        "equipment": equipment,
        "repairs": 0.03 * sum(p for p, _, _ in parts),
    }
    return budget.budget(rate=0.0, tied_up=0.0, sold=sold, home=0.0, time=time, **lines)


def test_constructed_case():
    """Values computed by hand with numpy-financial: 0.03 of 10,300 and -pmt(0.08, n, P, -S)."""
    b = constructed()
    assert b.feed == 2250.0
    assert b.electricity == pytest.approx(1229.904)
    assert b.labour == pytest.approx(5475.0)
    assert b.variable == pytest.approx(9854.904)
    assert b.equipment == pytest.approx(1557.920954, rel=1e-9)
    assert b.fixed == pytest.approx(1866.920954, rel=1e-9)
    assert b.break_even == pytest.approx(11.721824954, rel=1e-9)
    assert b.net == pytest.approx(-2721.824954, rel=1e-9)
    assert b.net_unpaid == pytest.approx(2753.175046, rel=1e-9)
    assert b.wage_earned * 3600 == pytest.approx(7.542945332, rel=1e-9)
    assert constructed(feed_price=1.65).break_even - b.break_even == pytest.approx(0.225)


# --- a whole design ------------------------------------------------------------------------------


@pytest.mark.parametrize("seed", range(15))
def test_totals_are_the_sums_of_their_lines(seed):
    found = enterprise(size(demo(DEMOS[seed]) if seed < 3 else random_design(seed)))
    b = found.budget
    receipts = sum(float(getattr(b, n)) for n in RECEIPTS)
    costs = sum(float(getattr(b, n)) for n in LABELS if n not in RECEIPTS)
    assert float(b.receipts) == pytest.approx(receipts)
    assert float(b.costs) == pytest.approx(costs)
    assert float(b.net) == pytest.approx(receipts - costs)
    assert float(b.equipment) == pytest.approx(sum(float(i.annual) for i in found.items))
    assert float(b.time) == pytest.approx(sum(float(w.time) for w in found.work))
    assert set(LABELS) == set(budget.RECEIPTS) | set(budget.VARIABLE) | set(budget.FIXED)


@pytest.mark.parametrize("name", DEMOS)
def test_break_even_price_put_back_gives_nothing_to_a_cent(name):
    sizing = size(demo(name))
    for paid in (True, False):
        b = enterprise(sizing).budget
        price = float(b.break_even if paid else b.break_even_unpaid)
        again = enterprise(size(with_values(demo(name), {"prices.fish": price}))).budget
        assert float(again.net if paid else again.net_unpaid) == pytest.approx(0.0, abs=0.005)


def test_break_evens_put_back_give_nothing():
    """At a price that leaves a profit: below it, free feed or current alone does not save the year."""
    paying = with_values(demo("commercial"), {"prices.fish": 8.0 / 0.45359237})
    sizing = size(paying)
    rows = stress.break_evens(sizing)
    assert sum(row.value is not None for row in rows) >= 6
    for row in rows:
        if row.value is None or not row.path.startswith("prices.") or "unpaid" in row.words:
            continue
        design = with_values(paying, {row.path: row.value})
        assert float(enterprise(size(design)).budget.net) == pytest.approx(0.0, abs=0.005)


@pytest.mark.parametrize("name", DEMOS)
def test_cash_and_budget_reconcile_line_by_line(name):
    found = enterprise(size(demo(name)))
    flow = cashflow.cash_flow(found)
    for row in cashflow.reconcile(found, flow):
        if row.why:
            assert row.cash == 0.0
        else:
            assert row.cash == pytest.approx(row.budget, rel=1e-12), row.line
    assert flow.total == pytest.approx(sum(flow.lines.values()))
    assert flow.balance[-1] == pytest.approx(flow.total.sum() - flow.start)
    paid = cashflow.cash_flow(found, paid_labour=True)
    assert paid.total.sum() < flow.total.sum()


def test_purchases_in_cash_are_worth_what_the_budget_spreads():
    """Over a span that every life divides, with no interest, cash spent is the lives' straight line."""
    lives = {f"terms.{name}": 5.0 for name in (
        "life_tank", "life_settler", "life_media", "life_vessel", "life_air", "life_stones",
        "life_pump", "life_pipe", "life_backup", "life_meters", "life_electrics")}  # fmt: skip
    design = with_values(demo("family"), {**lives, "terms.rate": 0.0, "terms.horizon": 20.0})
    found = enterprise(size(design))
    flow = cashflow.cash_flow(found)
    spent = (
        flow.start - flow.lines["bought again"].sum() - sum(float(i.salvage) for i in found.items)
    )
    assert spent / 20 == pytest.approx(float(found.budget.equipment), rel=1e-9)


def test_first_year_is_not_full():
    found = enterprise(size(demo("commercial")))
    flow = cashflow.cash_flow(found)
    assert flow.lines["sales"][:6].sum() == 0.0, "nothing is sold before the first batch is grown"
    assert flow.lines["sales"][:12].sum() < float(found.budget.sales)
    assert flow.lines["sales"][12:24].sum() == pytest.approx(float(found.budget.sales), rel=0.15)


def test_own_labour_is_shown_both_ways_and_only_the_wage_parts_them():
    b = enterprise(size(demo("school"))).budget
    assert float(b.net_unpaid - b.net) == pytest.approx(float(b.labour))
    free = enterprise(size(with_values(demo("school"), {"prices.wage": 0.0}))).budget
    assert float(free.net) == pytest.approx(float(b.net_unpaid))


def test_methods_change_the_minutes():
    sizing = size(demo("family"))
    basin = size(with_values(demo("family"), {"solids.settler": "basin"}))
    assert enterprise(basin).budget.time > enterprise(sizing).budget.time
    gravel = size(
        with_values(demo("family"), {"filter.type": "submerged", "filter.medium": "gravel"})
    )
    assert enterprise(gravel).budget.time > enterprise(sizing).budget.time


def test_home_use_is_apart_from_sales_and_valued_at_its_own_price():
    b = enterprise(size(with_values(demo("family"), {"terms.home_share": 1.0}))).budget
    assert float(b.sales) == 0.0
    weight = float(b.home)
    assert float(b.home_use) == pytest.approx(weight * listed()["home_fish"].value)


def test_lost_batches_count():
    """By hand: 1,000 kg in two batches a year, one batch lost in five years: a tenth is lost."""
    assert budget.sold_weight(1000.0, 1.0, 5.0, 2.0) == 900.0
    assert budget.sold_weight(1000.0, 1.0, 0.4, 1.0) == 0.0


def test_stress_makes_things_worse_and_movers_are_sorted():
    sizing = size(demo("commercial"))
    rows = stress.stressed(sizing)
    for row in rows[1:]:
        if row.words != "own hours at nothing":
            assert row.net < rows[0].net, row.words
    spans = [m.span for m in stress.movers(sizing)]
    assert spans == sorted(spans, reverse=True)


def test_heating_is_a_line():
    sizing = size(demo("family"))
    warm = enterprise(sizing, heating_energy=3.6e9)
    assert float(warm.budget.heating) == pytest.approx(1000 * 0.14)
    assert warm.energy_for_each > enterprise(sizing).energy_for_each


def test_prices_are_complete_marked_and_can_be_overridden():
    rows = listed()
    assert set(rows) == set(NAMES)
    assert all("invented" in p.source and p.date for p in rows.values())
    values = {f"prices.{name}": 1.23 * rows[name].value for name in NAMES}
    found = prices_of(with_values(demo("family"), values))
    assert all(p.source == "the design" for p in found.values())
    dear = enterprise(size(with_values(demo("family"), values)))
    assert len(dear.own_prices) == len(NAMES)
    assert float(dear.budget.feed) == pytest.approx(
        1.23 * float(enterprise(size(demo("family"))).budget.feed)
    )


def test_arrays_of_designs_give_arrays_of_budgets():
    prices = np.array([5.0, 10.0, 20.0])
    design = with_values(
        demo("family"), {"prices.fish": prices, "goal.fish": np.array([150.0, 200.0, 220.0])}
    )
    many = enterprise(size(design)).budget
    for place, (price, fish) in enumerate(zip(prices, (150.0, 200.0, 220.0), strict=True)):
        one = enterprise(
            size(with_values(demo("family"), {"prices.fish": price, "goal.fish": fish}))
        ).budget
        assert many.net[place] == pytest.approx(float(one.net), rel=1e-12)


# --- candidates ----------------------------------------------------------------------------------


def test_crossings_are_where_costs_are_equal():
    sizing = size(demo("family"))
    found = compare.candidates("filter")
    price = {name: p.value for name, p in prices_of(sizing.design).items()}
    for x in compare.crossings(sizing, found):
        if x.value is None:
            continue
        at = {
            "wage": price["wage"],
            "electricity": price["electricity"],
            "rate": 0.08,
            x.axis: x.value,
        }
        one, other = (next(c for c in found if c.name == n) for n in (x.first, x.second))
        if x.axis == "life":
            one = compare.replace(one, life=x.value)
        terms = (at["wage"], at["electricity"], at["rate"])
        assert compare.yearly_cost(one, *terms) == pytest.approx(
            compare.yearly_cost(other, *terms), rel=1e-9
        )


def test_minutes_can_pay_for_a_dear_filter():
    rows = compare.compare(size(demo("family")), compare.candidates("filter"))
    by = {r.candidate.name: r for r in rows}
    cheap = min(rows, key=lambda r: r.candidate.cost)
    assert rows[0].yearly < by[cheap.candidate.name].yearly
    assert rows[0].candidate.cost > cheap.candidate.cost


BAD = [
    ("x", "cannot be read"), ("[[tank]]\nname='a'\ncost='5'\nlife='2 year'", "give 2 to 4"),
    ("[[tank]]\nname='a'\n[[tank]]\nname='b'", "cost is missing"),
    ("[[tank]]\nname='a'\ncost='5'\nlife='0 year'\n[[tank]]\nname='b'\ncost='5'\nlife='2 year'", "choose from"),
    ("[[tank]]\nname='a'\ncost='5'\nlife='2 stone'\n[[tank]]\nname='b'\ncost='5'\nlife='2 year'", "not a unit"),
    ("[[tank]]\nname='a'\ncost='nan'\nlife='2 year'\n[[tank]]\nname='b'\ncost='5'\nlife='2 year'", "number"),
    ("[[tank]]\nname='a'\ncost='5'\nlife='2 year'\nsalvage='9'\n[[tank]]\nname='b'\ncost='5'\nlife='2 year'", "more than its cost"),
    ("[[tank]]\nname='a'\ncost='5'\nlife='2 year'\nfee='9'\n[[tank]]\nname='b'\ncost='5'\nlife='2 year'", "is not known"),
    ("[[tank]]\ncost='5'\n[[tank]]\nname='b'", "has no name"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "words"), BAD)
def test_bad_candidates_get_a_sentence(text, words, tmp_path):
    file = tmp_path / "mine.toml"
    file.write_text(text, encoding="utf-8")
    with pytest.raises(DesignError, match=words):
        compare.candidates("tank", file)


# --- the command line -----------------------------------------------------------------------------


@pytest.mark.parametrize(("name", "units"), list(itertools.product(DEMOS, ("us", "metric"))))
def test_commands_print_tables_and_json_that_agree(name, units, capsys):
    file = f"data/designs/{name}.toml"
    assert main(["cost", file, "--units", units]) == 0
    text = capsys.readouterr().out
    assert main(["cost", file, "--units", units, "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert f"{abs(found['totals']['net']):,.0f}" in text
    assert f"{abs(found['totals']['net_unpaid']):,.0f}" in text
    assert "invented" in text
    assert main(["compare", file, "tank", "filter", "--units", units, "--json"]) == 0
    assert [x["part"] for x in json.loads(capsys.readouterr().out)] == ["tank", "filter"]


@pytest.mark.parametrize(
    ("argv", "words"),
    [(["cost", "nothing.toml"], "is not there"), (["compare", "data/designs/family.toml", "moon"], "no candidates"),
     (["compare", "data/designs/family.toml", "tank", "--candidates", "nothing.toml"], "cannot be read")],
)  # fmt: skip
def test_commands_refuse_in_a_sentence(argv, words, capsys):
    assert main(argv) == 2
    assert words in capsys.readouterr().err


def test_double_declining_balance_stops_at_the_salvage():
    """Dahlquist & Knight 2022, section 4.3: year 4 is 2,528, since 5,011.20 would go under salvage."""
    found = annual.declining_balance(58000, 5, 10000)
    assert found[3] == pytest.approx(2528.0)
    assert sum(found) == pytest.approx(48000.0)


@pytest.mark.parametrize(("one", "other"), [((1350.0, 14), (420.0, 4)), ((900.0, 7), (380.0, 3))])
def test_unequal_lives_by_annual_equivalent_rank_as_chains_of_purchases(one, other):
    """Bought again and again until both lives end together, priced with numpy-financial."""
    years = int(np.lcm(one[1], other[1]))
    for rate in (0.0, 0.05, 0.12):
        for price, life in (one, other):
            flows = [
                -price if year % life == 0 and year < years else 0.0 for year in range(years + 1)
            ]
            chain = npf.npv(rate, flows)
            spread = annual.equivalent_annual(price, float(life), rate)
            worth = years if rate == 0 else -npf.pv(rate, years, 1.0)
            assert -chain == pytest.approx(spread * worth, rel=1e-9)


def test_a_batch_empties_its_own_tanks_only():
    """By hand: six batches at once share the tanks, so a batch's filling is a sixth of the water."""
    sizing = size(demo("commercial"))
    found = enterprise(sizing)
    price = listed()["water"].value
    filled = float(sizing.tank.volume / sizing.stock.cohorts * found.batches)
    daily = float(sizing.water.exchange * sizing.stock.mean_feed / sizing.stock.peak_feed)
    drops = 0.002 * float(sizing.tank.volume) * 365.25  # 0.2 % of the water in a day
    assert float(found.budget.water) == pytest.approx(
        (filled + daily * 365.25 * 86400 + drops) * price
    )
