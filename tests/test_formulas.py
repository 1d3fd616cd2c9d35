"""Behaviour of single relations: hand values, round trips, limits, trends, refusals."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rsdesign import equations as eq
from rsdesign.core.arrays import bisect, root
from rsdesign.equations.air import aeration
from rsdesign.equations.biofilter import areas as biofilter
from rsdesign.equations.biofilter.nitrification import (
    areal_rate,
    half_order_rate,
    linear_rate,
    rate_law,
)
from rsdesign.equations.fish import growth, loads, stocking
from rsdesign.equations.gas import degassing
from rsdesign.equations.pipes import drains, pipes
from rsdesign.equations.pumps import pumps
from rsdesign.equations.solids import settling
from rsdesign.equations.tank import vessel as tank
from rsdesign.equations.water import ammonia, carbonate, oxygen, properties

DAY, GAL, LB, FT = 86400.0, 231 * 0.0254**3, 0.45359237, 0.3048


def test_gas_partition_and_equilibrium():
    # remembered values of 1/(K0 R T): 1.06, 1.20, 1.29 at 20, 25, 28 °C
    found = [carbonate.gas_partition(t) for t in (20.0, 25.0, 28.0)]
    assert found == pytest.approx([1.06, 1.20, 1.29], abs=0.006)
    # in air at balance, water holds what the partition says of the air above it
    t, p, x = 25.0, 101325.0, 420e-6
    in_air = x * (p - properties.vapour_pressure(t)) * 44.01e-3 / (8.314462618 * (t + 273.15))
    balance_level = in_air / carbonate.gas_partition(t)
    assert carbonate.equilibrium_carbon_dioxide(t, p, x) == pytest.approx(balance_level, rel=2e-3)


@given(st.floats(0.01, 0.5), st.floats(5.5, 9.0), st.floats(5, 38))
def test_ph_and_carbon_dioxide_turn_around(alkalinity, ph, temperature):
    level = carbonate.carbon_dioxide(alkalinity, ph, temperature)
    assert carbonate.ph(alkalinity, level, temperature) == pytest.approx(ph, abs=1e-9)


@pytest.mark.parametrize(("level", "rate"), [(0.65e-3, 0.265), (0.79e-3, 0.30)])
def test_areal_rate_by_hand(level, rate):
    # 0.75 × (0.55 √S − 0.10) × 1.043^4 × 0.87 at 28 °C and pH 7.2, alkalinity ample
    assert areal_rate(level, 6e-3, 28.0, 7.2, 1e9) * DAY * 1e3 == pytest.approx(rate, abs=0.001)


def test_areal_rate_rises_with_the_level_and_starts_at_nothing():
    levels = np.linspace(0.0, 5e-3, 2000)
    rates = areal_rate(levels, 6e-3, 28.0, 7.2, 0.1)
    assert rates[0] == 0
    assert (np.diff(rates) >= 0).all()
    low = areal_rate(0.3e-3, 6e-3, 24.0, 8.2, 1e9, 1.0)
    assert low == pytest.approx(float(linear_rate(0.3e-3, 24.0)), rel=1e-6)
    high = areal_rate(0.8e-3, 6e-3, 24.0, 8.2, 1e9, 1.0)
    assert high == pytest.approx(float(half_order_rate(0.8e-3, 24.0)), rel=1e-6)


def test_areal_rate_is_held_back_by_oxygen_acid_and_cold():
    base = areal_rate(2e-3, 6e-3, 28.0, 7.6, 0.1)
    assert areal_rate(2e-3, 3e-3, 28.0, 7.6, 0.1) < base
    assert areal_rate(2e-3, 6e-3, 20.0, 7.6, 0.1) < base
    assert areal_rate(2e-3, 6e-3, 28.0, 6.0, 0.1) < base
    assert areal_rate(2e-3, 6e-3, 28.0, 7.6, 0.01) < base
    assert areal_rate(2e-3, 6e-3, 28.0, -5.0, 0.1) > 0


def first_order(level):
    return 0.22 / DAY * level


def test_mixed_and_plug_flow_reactors():
    """First-order beds, closed forms of the reactor textbooks: Da/(1 + Da) and 1 − exp(−Da)."""
    flow, area, inlet = 20.0 / DAY, 100.0, 1e-3
    da = 0.22 * 100 / 20
    mixed = 1 - biofilter.outlet(inlet, flow, area, first_order) / inlet
    plug = 1 - biofilter.outlet(inlet, flow, area, first_order, mixed=False) / inlet
    assert mixed == pytest.approx(da / (1 + da), rel=1e-9)
    assert plug == pytest.approx(1 - math.exp(-da), rel=1e-9)
    assert mixed * 20 == pytest.approx(10.5, abs=0.05)
    assert plug * 20 == pytest.approx(13.3, abs=0.05)
    assert plug < 1  # both stay below the lesser of flow × level and area × rate
    assert mixed * 20 < min(20.0, 22.0)


def test_zero_order_filter():
    found = biofilter.outlet(1e-3, 1e-3, 100.0, 2e-9, mixed=True)
    assert found == pytest.approx(1e-3 - 100.0 * 2e-9 / 1e-3, rel=1e-9)


@pytest.mark.parametrize("mixed", [True, False])
def test_no_area_and_no_flow_can_do_this(mixed):
    law = rate_law(6e-3, 28.0, 7.6, 0.1)
    load, level = 0.1 / DAY, 1e-3
    least = biofilter.least_flow(load, level)
    assert biofilter.area_required(load, least * 0.99, level, law, mixed) == math.inf
    assert biofilter.area_required(load, least * 1.5, level, law, mixed) < math.inf
    most = load / float(law(level))
    assert biofilter.flow_required(load, most * 0.9, level, law, mixed) == math.inf
    assert biofilter.flow_required(load, most * 2.0, level, law, mixed) < math.inf


@pytest.mark.parametrize("mixed", [True, False])
def test_area_and_flow_turn_around(mixed):
    law = rate_law(6e-3, 28.0, 7.6, 0.1)
    load, flow, level = 0.1 / DAY, 200 / 60000, 1e-3
    area = biofilter.area_required(load, flow, level, law, mixed)
    assert biofilter.flow_required(load, area, level, law, mixed) == pytest.approx(flow, rel=1e-4)
    outlet = biofilter.loop_outlet(load, flow, area, law, 0.0, 0.0, mixed)
    assert biofilter.tank_ammonia(load, flow, outlet, 0.0, 0.0) == pytest.approx(level, rel=1e-4)


def test_what_holds_a_filter_back():
    assert [biofilter.limited_by(x) for x in (0.1, 0.29, 0.3, 1.0, 3.0, 3.1)] == [0, 0, 1, 1, 1, 2]


@given(st.floats(1e-3, 0.2), st.floats(0.25, 2.0), st.floats(20, 32), st.floats(0.5, 4))
def test_growth_turns_around(weight, harvest, temperature, coefficient):
    days = growth.days_to(weight, harvest, temperature, coefficient, 18.3)
    assert growth.weight_after(weight, days, temperature, coefficient, 18.3) == pytest.approx(
        harvest, rel=1e-9
    )


def test_growth_stops_in_the_cold():
    assert growth.weight_after(0.05, 100.0, 15.0, 2.4, 18.3) == pytest.approx(0.05)
    assert growth.days_to(0.05, 0.5, 15.0, 2.4, 18.3) == math.inf
    assert growth.gain(0.05, 15.0, 2.4, 18.3) == 0


def test_plan_agrees_with_its_equations():
    plan = stocking.plan(100, 0.05, 0.5, 6)
    args = (plan.to_stock, 0.05, 28.0, 2.4, 18.3, plan.cycle, 0.95)
    peak = stocking.peak_total_feed(*args, 1.6, 42.0)
    assert plan.peak_feed == pytest.approx(peak, rel=0.02)  # weeks against the harvest day
    assert plan.cohorts == stocking.cohorts(plan.cycle, 42.0)
    assert plan.fingerlings_per_year == pytest.approx(plan.to_stock * 365.25 / 42)
    assert len(plan.rows()) > plan.cohorts
    single = stocking.plan(100, 0.05, 0.5)
    assert single.peak_feed == pytest.approx(stocking.peak_cohort_feed(*args, 1.6), rel=1e-9)


def test_feed_of_a_batch_is_feed_conversion_times_gain_without_deaths():
    args = (100.0, 0.05, 28.0, 2.4, 18.3, 180.0, 1.0)
    gained = 100.0 * (growth.weight_after(0.05, 180.0, 28.0, 2.4, 18.3) - 0.05)
    assert stocking.feed_per_batch(*args, 1.6) == pytest.approx(1.6 * gained, rel=1e-9)


def test_surviving_ends_at_the_survival():
    assert stocking.surviving(100.0, 0.9, 200.0, 200.0) == pytest.approx(90.0)


def test_wrong_sign_is_no_flow():
    assert loads.flow_to_hold(-1.0, 5.0, 7.0) == math.inf
    assert loads.flow_to_hold(1.0, 5.0, 5.0) == math.inf
    assert loads.flow_to_hold(0.0, 5.0, 5.0) == 0
    assert loads.flow_to_remove(1.0, 0.0, 0.0, 1.0, 0.0) == math.inf


def test_rules_of_the_trade():
    assert tank.rule_volume(LB) == pytest.approx(4 * GAL, rel=1e-6)
    assert biofilter.rule_area(LB / DAY) == pytest.approx(300 * FT**2, rel=1e-6)
    implied = [biofilter.implied_rate(loads.ammonia_production(1.0, p), biofilter.rule_area(1.0))
               for p in (0.28, 0.32, 0.36, 0.40)]  # fmt: skip
    # 0.092 × protein over 61.4 m² for each kg of feed a day
    assert [r * DAY * 1e3 for r in implied] == pytest.approx([0.42, 0.48, 0.54, 0.60], abs=0.005)


def test_standpipe_turns_around():
    for flow in (2e-4, 2e-3, 2e-2):
        size = eq.pipes.standpipe_needed(flow, 0.05, 0.5)
        found = drains.standpipe_capacity(size, 0.05, open_share=0.5)
        assert found == pytest.approx(flow, rel=1e-9)


def test_standpipe_passes_from_weir_to_opening():
    # the two meet where the head is 0.36 of the diameter: Cd √(2g) / (4 Cw)
    d = 0.1
    low, high = (drains.standpipe_capacity(d, h) for h in (0.02, 0.06))
    assert low == pytest.approx(1.84 * math.pi * d * 0.02**1.5)
    assert high == pytest.approx(0.6 * math.pi / 4 * d**2 * math.sqrt(2 * 9.80665 * 0.06))


def test_rotation_balances_its_torques():
    q, vj, d, h = 0.00336, 1.0, 3.6576, 0.8128
    v = tank.rotation_velocity(q, vj, d, h)
    r = d / 2
    assert q * (vj - v) == pytest.approx(0.004 * 2 * math.pi * r**2 * (h / r + 0.2) * v**2)
    small = tank.rotation_velocity(0.00336 / 3, vj, 6.5 * FT, h)
    assert 0.15 < small < 0.30


def test_settling_is_stokes_for_dust_and_slower_for_grit():
    args = (1150.0, 996.2, 8.3e-4)
    dust = settling.settling_velocity_in(2e-5, *args)
    assert dust == pytest.approx(settling.stokes_velocity_in(2e-5, *args), rel=1e-6)
    assert settling.settling_velocity_in(1e-3, *args) < settling.stokes_velocity_in(1e-3, *args)
    assert settling.settling_velocity_in(1e-3, 990.0, 996.2, 8.3e-4) == 0


def test_a_bigger_basin_catches_more_up_to_all():
    v, w = np.array([1e-3, 5e-3]), np.array([0.5, 0.5])
    caught = settling.captured_fraction(0.003, np.array([0.1, 1.0, 3.0, 9.0]), v, w)
    assert (np.diff(caught) >= 0).all()
    assert caught[-1] == pytest.approx(1.0)


def test_drained_at_once_is_all_and_late_is_less():
    assert settling.drained_share(1.0) == pytest.approx(1.0, abs=1e-5)
    assert settling.drained_share(3 * DAY) < settling.drained_share(DAY) < 1


def test_field_factor_at_the_surface():
    # 0.85 × 0.85 × 1.024^8 × (0.98 × 7.40 − 5.0) / 9.09 at 95.95 kPa
    found = aeration.field_factor(28.0, 5e-3, 0.0, 95950.0, 0.85, 0.98, 1.024, 0.85)
    assert found == pytest.approx(0.216, abs=0.001)
    assert aeration.field_factor(28.0, 5e-3, 0.7, 95950.0, 0.85, 0.98, 1.024, 0.85) > found


def test_air_of_watts_turns_around():
    watts = aeration.watts_of_air(0.02, 95950.0, 10800.0, 35.0, 0.35)
    assert aeration.air_of_watts(watts, 95950.0, 10800.0, 35.0, 0.35) == pytest.approx(0.02)


def test_carbon_dioxide_settles_where_air_takes_what_is_made():
    level = degassing.tank_carbon_dioxide(3e-5, 0.02, 0.4, 1.29, 5e-4, 1e-5, 6e-3, 0.003, 0.2)
    out = 0.02 * 0.4 * 1.29 * (level - 5e-4) + 0.003 * 0.2 * (level - 5e-4)
    assert out + 1e-5 * (level - 6e-3) == pytest.approx(3e-5, rel=1e-9)


def test_stripping_never_passes_the_ceiling():
    ratios = np.array([0.5, 2.0, 5.0, 10.0, 50.0])
    shares = degassing.stripped_fraction(ratios, 25.0)
    assert (np.diff(shares) > 0).all()
    assert (shares < 1).all()


def test_gravity_flow_uses_its_fall():
    flow = pipes.gravity_flow(0.15, 0.1, 6.0, 1e-4, 2.0, 28.0)
    used = pipes.head_loss(flow, 0.1, 6.0, 1e-4, 2.0, 28.0)
    speed = pipes.velocity(flow, 0.1)
    assert used + speed**2 / (2 * 9.80665) == pytest.approx(0.15, rel=1e-6)


def test_friction_factor_joins_its_laws():
    numbers = np.array([1999.0, 2000.0, 2001.0, 3999.0, 4000.0, 4001.0])
    steps = np.diff(pipes.friction_factor(numbers, 1e-4))
    assert np.abs(steps[[0, 1, 3, 4]]).max() < 1e-4


def test_next_size_takes_inches_and_millimetres_alike():
    sizes = np.array([0.0254, 0.0508])
    assert pipes.next_size(2 * 0.0254, sizes) == 0.0508
    assert pipes.next_size(0.0508 * (1 + 1e-12), sizes) == 0.0508
    assert pipes.next_size(0.06, sizes) == math.inf


def test_operating_point_by_table_and_by_curve():
    """Schaschke, Fluid Mechanics: Worked Examples, 9.10: 0.0066 m³/s and about 34 m."""
    flows = np.array([0.0, 2.0, 4.0, 6.0, 8.0]) * 1e-3
    heads = np.array([40.0, 39.5, 38.0, 35.0, 30.0])
    flow, head = pumps.operating_point((flows, heads), lambda q: 15.0 + 4.3e5 * q**2)
    assert head == pytest.approx(float(np.interp(flow, flows, heads)))
    closed = pumps.quadratic_operating_point(40.0, 0.0163, 15.0, 4.3e5)
    flow2, _ = pumps.operating_point(
        lambda q: 40 * (1 - (q / 0.0163) ** 2), lambda q: 15 + 4.3e5 * q**2
    )
    assert flow2 == pytest.approx(closed, rel=1e-9)


def test_oxygen_falls_with_warmth_salt_and_height():
    t = np.linspace(5, 38, 30)
    assert (np.diff(oxygen.saturation(t)) < 0).all()
    assert oxygen.saturation(25.0, 10.0) < oxygen.saturation(25.0)
    heights = properties.pressure_at_elevation(np.linspace(0, 3000, 30))
    assert (np.diff(oxygen.saturation(25.0, 0.0, heights)) < 0).all()


def test_unionized_share_rises_with_ph_and_warmth():
    assert ammonia.unionized_fraction(28.0, 8.0) > ammonia.unionized_fraction(28.0, 7.0)
    assert ammonia.unionized_fraction(32.0, 8.0) > ammonia.unionized_fraction(24.0, 8.0)
    # at 32 °C and pH 8.2, 0.05 mg/L un-ionised allows only 0.39 mg/L of total ammonia
    most = ammonia.total_ammonia_limit(5e-5, ammonia.unionized_fraction(32.0, 8.2))
    assert most * 1e3 == pytest.approx(0.39, abs=0.01)


@given(st.floats(0.1, 50), st.floats(0.2, 5))
def test_root_finders_find_the_same(a, power_):
    def f(x):
        return x**power_ - a

    exact = a ** (1 / power_)
    assert root(f, 1e-9, 1e12, 120) == pytest.approx(exact, rel=1e-9)
    assert bisect(f, 0.0, 1e12, 120) == pytest.approx(exact, rel=1e-9)
    many = root(lambda x: x**power_ - np.array([a, a]), np.full(2, 1e-9), np.full(2, 1e12), 120)
    assert many == pytest.approx([exact, exact], rel=1e-9)
