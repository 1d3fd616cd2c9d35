"""Heat: energy closes each hour, trends hold, the day settles, three answers, words and speed."""

import dataclasses
import functools
import json
import os
import time

import numpy as np
import pytest
from designs import DEMOS, demo
from hypothesis import given, settings
from hypothesis import strategies as st

from rsdesign import size
from rsdesign.__main__ import main
from rsdesign.design.model import FIELDS, with_values
from rsdesign.design.weather import LENGTH, place
from rsdesign.equations.heat import balance as heating
from rsdesign.equations.heat import evaporation, sky, sun
from rsdesign.equations.heat import flows as heat_flows
from rsdesign.equations.water.properties import vapour_pressure
from rsdesign.report.heat import heat_json, heat_text
from rsdesign.report.heat_words import answers, findings
from rsdesign.studies.heat.day import STEP, at_rest, repeated_day
from rsdesign.studies.heat.rows import Row, gather, skies
from rsdesign.studies.heat.season import longest_run, season
from rsdesign.studies.heat.study import DEPTHS, study

PLACES = ("low desert", "high valley", "foothills", "warm coast")


@functools.cache
def sized(name: str = "family", changes: tuple = ()):
    return size(with_values(demo(name), dict(changes)))


@functools.cache
def studied(name: str = "family", where: str = "low desert", changes: tuple = ()):
    return study(sized(name, changes), place(where))


def swing(found, day="hot", way="as designed"):
    return found.course(day, way).swing


# --- the balance ----------------------------------------------------------------------------

SHELTERS = (
    (),
    (("climate.cover", "foam lid"), ("climate.cover_hours", "always")),
    (("climate.cover", "bubble sheet"), ("climate.cover_hours", "day")),
    (("climate.shelter", "greenhouse"), ("climate.shade", 0.3)),
    (("climate.shelter", "indoors"), ("climate.room_temperature", 24.0)),
    (("climate.insulation", "extruded foam"), ("climate.floor_board", True)),
    (("filter.type", "trickling"), ("filter.medium", "plastic rings")),
)


@pytest.mark.parametrize("changes", SHELTERS, ids=str)
@pytest.mark.parametrize("where", PLACES)
def test_energy_closes_every_hour(where, changes):
    """Stored heat is the sum of the flows and the heater, to 1e-9 of the flows that pass."""
    for course in studied("family", where, changes).courses:
        stored = course.capacity * (course.end - course.start) / STEP
        flows = sum(course.flows.values()) + course.heat
        passing = sum(np.abs(f) for f in course.flows.values()) + np.abs(course.heat)
        assert np.all(np.abs(stored - flows) <= 1e-9 * passing), course.arrangement
        assert np.array_equal(course.end, np.roll(course.start, -1))  # the day repeats itself


def test_the_flows_of_a_course_are_those_of_the_public_balance():
    """Each term, worked again with one number at a time by the public function."""
    s, weather = sized(), place("low desert")
    found = skies(weather, 5.0, 8.0)
    rows = gather([Row(12)], s, weather, found)
    course = studied().course("hot")
    for hour in (3, 14):
        given = {
            name: float(np.broadcast_to(value, (1, 24))[0, hour])
            if isinstance(value, np.ndarray) else value
            for name, value in rows.given.items()
        }  # fmt: skip
        one = heating.heat_flows(float(course.middle[hour]), **given)
        for name, flow in one.terms().items():
            assert flow == pytest.approx(course.flows[name][hour], rel=1e-9, abs=1e-9), name


def test_a_finer_step_gives_the_same_day():
    """Hours against ten-minute steps: the day of a shallow tank under a steady sine."""

    def day(steps):
        at = (np.arange(steps) + 0.5) * 86400.0 / steps
        around = 25.0 + 10.0 * np.cos(2 * np.pi * (at / 86400.0 - 0.6))
        return repeated_day(lambda t: 50.0 * (around - t), np.full((1, 1), 2e6),
                            np.full((1, steps), 25.0), step=86400.0 / steps)  # fmt: skip

    coarse, fine = day(24), day(144)
    # closed form of a first-order lag
    lag = 2 * np.pi / 86400.0 * 2e6 / 50.0
    exact = 10.0 / np.sqrt(1.0 + lag * lag)
    assert fine.start.max() - 25.0 == pytest.approx(exact, rel=2e-3)
    assert coarse.start.max() - 25.0 == pytest.approx(exact, rel=2e-2)


def test_the_heater_only_heats_and_only_when_cold():
    held = studied().course("cold", "held")
    assert held.heat.min() >= 0.0
    assert held.start.min() >= 28.0 - 1e-9
    hot = studied().course("hot", "held")
    assert hot.start.max() <= 33.0 + 1e-9
    assert hot.heat.max() <= 0.0
    assert np.all(hot.heat[hot.end < 33.0 - 1e-6] == 0.0)


def test_a_day_that_is_marched_comes_to_the_repeated_day():
    """Twenty days hour by hour with an explicit small step end on the ring's answer."""
    s, weather = sized(), place("low desert")
    rows = gather([Row(12)], s, weather, skies(weather, 5.0, 8.0))
    ring = repeated_day(rows.net, rows.capacity, rows.guess)
    water = float(rows.guess[0, 0])
    for _ in range(20):
        for hour in range(24):
            for _ in range(4):
                there = np.full((1, 24), water)
                water += STEP / 4 / float(rows.capacity[0, 0]) * float(rows.net(there)[0, hour])
    assert water == pytest.approx(float(ring.start[0, 0]), abs=0.1)


# --- evaporation ----------------------------------------------------------------------------


def test_rohwer_by_hand():
    """0.771 (1.465 - 0.000732 × 760) (0.44 + 0.0733 × 7.2) × 10 mmHg, in mm a day."""
    by_hand = 0.771 * (1.465 - 0.000732 * 760) * (0.44 + 0.0733 * 7.2) * 10.0
    ours = evaporation.rohwer_transfer(2.0) * 10 * 133.322387 * 86400
    assert ours == pytest.approx(by_hand, rel=1e-6)


def test_activity_relation_by_hand():
    """0.1 lb/h/ft² for each inHg."""
    each = evaporation.activity_transfer(1.0) * 3386.388640341
    assert each == pytest.approx(0.1 * 0.45359237 / 3600 / 0.3048**2, rel=1e-5)


def test_air_through_the_water_by_hand():
    """72 m³/h of 43 °C, 15 % air leaves full at 28 °C: about 31 L and 0.9 kW of vapour heat."""
    density_in = sky.vapour_density(0.15 * vapour_pressure(43.0), 43.0)
    density_out = sky.vapour_density(vapour_pressure(28.0), 28.0)
    by_volume = 72 / 3600 * (density_out - density_in)
    dry = 72 / 3600 * (101325 - 0.15 * vapour_pressure(43.0)) / (287.058 * 316.15)
    found = heating.heat_flows(28.0, 43.0, 0.15, 0.0, 1.0, air_mass_flow=dry)
    assert found.stream_vapour == pytest.approx(
        by_volume, rel=0.08
    )  # its volume shrinks as it cools
    assert 28.0 < found.stream_vapour * 86400 < 34.0  # kg, or litres, a day
    assert found.bubbles < 0


@pytest.mark.parametrize("relation", heating.RELATIONS)
def test_no_vapour_passes_where_the_pressures_meet(relation):
    humidity = float(vapour_pressure(26.7) / vapour_pressure(27.8))
    assert abs(heating.evaporation(26.7, 27.8, humidity, 2.0, 1.0, relation)) < 1e-15
    assert heating.evaporation(26.7, 27.8, humidity + 0.02, 2.0, 1.0, relation) < 0
    assert heating.evaporation(26.7, 27.8, humidity - 0.02, 2.0, 1.0, relation) > 0


def test_an_unknown_relation_is_named():
    with pytest.raises(ValueError, match="weather, pool"):
        heating.evaporation(28.0, 30.0, 0.5, 1.0, 1.0, "guess")


def test_the_choices_of_relation_are_those_there_are():
    assert FIELDS["climate.relation"].choice.options() == heating.RELATIONS


@given(
    st.floats(10, 38), st.floats(5, 45), st.floats(0.05, 0.95), st.floats(0, 6),
    st.sampled_from(heating.RELATIONS),
)  # fmt: skip
def test_warmer_water_drier_air_and_more_wind_evaporate_more(water, air, humidity, wind, relation):
    now = heating.evaporation(water, air, humidity, wind, 1.0, relation)
    assert heating.evaporation(water + 1.0, air, humidity, wind, 1.0, relation) > now
    assert heating.evaporation(water, air, humidity * 0.9, wind, 1.0, relation) >= now
    if now > 0:
        assert heating.evaporation(water, air, humidity, wind + 1.0, 1.0, relation) >= now


# --- rest -----------------------------------------------------------------------------------


@given(
    st.floats(5, 45), st.floats(0.05, 0.95), st.floats(0.1, 5), st.floats(0, 350),
    st.floats(0, 400), st.floats(0, 1),
)  # fmt: skip
@settings(max_examples=60)
def test_the_balance_is_zero_at_rest(air, humidity, wind, light, inside, covered):
    given_ = {"sun": light, "inside_heat": inside, "covered": covered}
    rest = heating.equilibrium_temperature(air, humidity, wind, 5.0, **given_)
    assert abs(heating.heat_balance(rest, air, humidity, wind, 5.0, **given_)) < 1e-6
    more = heating.equilibrium_temperature(air, humidity, wind, 5.0, sun=light + 20,
                                           inside_heat=inside, covered=covered)  # fmt: skip
    assert more > rest


def test_rest_as_an_array_is_rest_one_by_one():
    air = np.array([10.0, 25.0, 43.0])
    many = heating.equilibrium_temperature(air, 0.3, 2.0, 5.0, sun=200.0)
    for k, t in enumerate(air):
        assert many[k] == pytest.approx(
            heating.equilibrium_temperature(float(t), 0.3, 2.0, 5.0, sun=200.0), abs=1e-9
        )


def test_a_shaded_tank_in_wind_comes_near_the_wet_bulb():
    """No sun, walls as warm as air: the more wind the nearer; Bowen's 0.61 against 0.665 hPa
    leaves it a degree under."""
    wet = sky.wet_bulb(40.0, 0.15 * vapour_pressure(40.0))
    apart = [
        abs(heating.equilibrium_temperature(40.0, 0.15, wind, 1.0) - wet) for wind in (1, 5, 50)
    ]
    assert apart == sorted(apart, reverse=True)
    assert apart[-1] < 1.5


def test_deep_water_comes_to_rest_where_the_flows_sum_to_zero():
    s, weather = sized(), place("low desert")
    found = skies(weather, 5.0, 8.0)
    rows = gather([Row(12, depth=1000.0)], s, weather, found)
    rows = dataclasses.replace(rows, given={**rows.given, "wall_conductance": np.array([[20.0]])})
    deep = repeated_day(rows.net, rows.capacity, rows.guess)
    assert deep.middle.mean() == pytest.approx(float(at_rest(rows.net, np.array([[25.0]]))[0, 0]),
                                               abs=0.01)  # fmt: skip
    assert deep.middle.max() - deep.middle.min() < 0.05


# --- trends ---------------------------------------------------------------------------------


@pytest.mark.parametrize("name", DEMOS)
@pytest.mark.parametrize("where", PLACES)
def test_deeper_water_swings_less(name, where):
    found = studied(name, where).depths
    swings = [d.swing for d in found]
    assert swings == sorted(swings, reverse=True)
    assert all(np.diff(swings) < 0)
    assert {d.depth for d in found} >= set(DEPTHS)
    coldest = [d.coldest for d in found]
    assert coldest == sorted(coldest)


def test_the_trades_depth_rule_is_a_place_on_a_line_and_no_edge():
    """The swing falls a little more slowly than one over the depth, below 2.5 ft as above it: the
    power is the same on both sides of the rule, so the rule is no edge."""
    found = {round(d.depth, 4): d.swing for d in studied().depths}
    before, at, after = found[0.6096], found[0.762], found[0.9144]
    below = np.log(before / at) / np.log(0.762 / 0.6096)
    above = np.log(at / after) / np.log(0.9144 / 0.762)
    assert 0.5 < below < 1.0
    assert abs(below - above) < 0.03


@pytest.mark.parametrize("where", PLACES)
def test_a_lid_by_day_overheats_and_shade_cools(where):
    found = studied("family", where)
    assert found.course("hot", "bubble sheet by day").hottest > found.course("hot").hottest
    assert found.course("hot", "half shade, open").hottest < found.course("hot").hottest
    assert found.course("cold", "foam lid by night").coldest > found.course("cold").coldest


@given(st.floats(0.0, 0.9), st.floats(0.0, 0.9))
@settings(max_examples=20, deadline=None)
def test_more_lid_evaporates_less_and_more_shade_warms_less(a, b):
    less, more = sorted((a, b))
    if more - less < 0.02:
        return
    given_ = (30.0, 38.0, 0.2, 1.5, 5.0)
    out = [heating.heat_flows(*given_, covered=x, lid_leak=0.1).vapour for x in (less, more)]
    assert out[1] < out[0]
    s = [studied_shade(round(x, 2)) for x in (less, more)]
    assert s[1] <= s[0] + 1e-9


@functools.cache
def studied_shade(share):
    return studied("family", "low desert", (("climate.shade", share),)).course("hot").hottest


def test_covered_insulated_and_sheltered_tanks_need_less_heat():
    bare = studied().yearly_heating_energy
    lid = studied(changes=(("climate.cover", "foam lid"),)).yearly_heating_energy
    always = studied(changes=(("climate.cover", "foam lid"), ("climate.cover_hours", "always")))
    board = studied(changes=(("climate.insulation", "extruded foam"),)).yearly_heating_energy
    thick = studied(
        changes=(("climate.insulation", "extruded foam"), ("climate.wall_board", 0.15))
    ).yearly_heating_energy
    house = studied(changes=(("climate.shelter", "greenhouse"),)).yearly_heating_energy
    assert always.yearly_heating_energy < lid < bare
    assert thick < board < bare
    assert house < 0.5 * bare
    assert always.yearly_evaporation < 0.5 * studied().yearly_evaporation


def test_a_better_glazing_keeps_a_greenhouse_warmer():
    def winter(glazing):
        changes = (("climate.shelter", "greenhouse"), ("climate.glazing", glazing))
        return studied("family", "high valley", changes).months[0].water

    assert winter("twin wall") > winter("single film")


def test_indoors_the_sun_and_the_seasons_do_not_matter():
    found = studied(changes=(("climate.shelter", "indoors"),))
    water = [m.water for m in found.months]
    assert max(water) - min(water) < 1e-6
    assert all(np.all(c.flows["sun"] == 0.0) for c in found.courses)


def test_hotter_spells_need_more_and_heat_pumps_less():
    mild, hard = (studied(changes=(("climate.cold_spell", x),)).heating.loss for x in (2.0, 15.0))
    assert hard > mild
    pump = studied(changes=(("climate.heater_performance", 3.0),))
    assert pump.yearly_heating_energy == pytest.approx(studied().yearly_heating_energy / 3.0)


def test_the_year_is_the_sum_of_its_months():
    found = studied()
    heat = sum(m.heating * d * 86400 for m, d in zip(found.months, LENGTH, strict=True))
    assert found.heating.yearly_heat == pytest.approx(heat)
    assert found.yearly_heating_energy == found.heating.yearly_heating_energy


def test_the_used_relation_lies_in_its_band():
    for where in PLACES:
        found = studied("family", where)
        values = found.relations
        assert min(values.values()) <= values[found.relation] <= max(values.values())
        assert max(values.values()) > 1.3 * min(values.values())
        for m in found.months:
            assert m.evaporation_low <= m.evaporation <= m.evaporation_high
        least = found.course("hot", "least evaporation").hottest
        most = found.course("hot", "most evaporation").hottest
        assert most < found.course("hot").hottest <= least


def test_every_relation_can_be_chosen():
    for relation in heating.RELATIONS:
        found = studied(changes=(("climate.relation", relation),))
        assert found.relation == relation
        assert min(found.relations.values()) <= found.relations[relation]


def test_the_choices_of_climate_leave_the_sizing_alone():
    changes = (("climate.shelter", "greenhouse"), ("climate.cover", "foam lid"))
    a, b = sized(), sized("family", changes)
    for stage in ("stock", "air", "flow", "water", "pump"):
        assert dataclasses.astuple(getattr(a, stage)) == pytest.approx(
            dataclasses.astuple(getattr(b, stage)), nan_ok=True
        ) or repr(getattr(a, stage)) == repr(getattr(b, stage))


# --- weather and season ---------------------------------------------------------------------


@pytest.mark.parametrize("where", PLACES)
def test_the_hours_of_a_month_give_its_means(where):
    weather = place(where)
    found = skies(weather, 5.0, 8.0)
    assert found.air[:12].mean(axis=1) == pytest.approx(weather.air_mean, abs=1e-9)
    assert found.sun[:12].mean(axis=1) == pytest.approx(weather.sun, rel=1e-9)
    assert np.all(found.sun[found.dark] == 0.0)
    assert np.all(found.humidity <= 1.0)
    assert found.air[12].mean() == pytest.approx(weather.air_mean.max() + 5.0)
    assert found.air[14].mean() == pytest.approx(weather.air_mean.min() - 8.0)


def test_the_clear_sky_of_a_moment_adds_up_to_that_of_the_day():
    """Haurwitz through the day against FAO-56's clear sky: within 5 % where both are meant."""
    for latitude in (25.0, 33.45):
        for day in (105.0, 172.0, 258.0):
            hours = (np.arange(1440) + 0.5) * 60.0
            height = sun.sun_height(np.radians(latitude), sun.declination(day), hours)
            moment = sun.clear_sun(height).mean()
            whole = sun.clear_sky(sun.above_the_air(np.radians(latitude), day), 340.0)
            assert moment == pytest.approx(float(whole), rel=0.05)


def test_the_longest_run_goes_over_the_turn_of_the_year():
    good = np.zeros(365, bool)
    assert longest_run(good).days == 0
    good[[0, 1, 2, 363, 364]] = True
    run = longest_run(good)
    assert (run.first, run.days) == (363, 5)
    assert list(run.places) == [363, 364, 0, 1, 2]
    assert longest_run(np.ones(365, bool)).days == 365


def test_a_season_by_hand():
    """Water of 28 °C all year: days to harvest and end weight as the growth relation says."""
    from rsdesign.equations.fish.growth import days_to, weight_after
    from rsdesign.equations.fish.species import species

    fish = species("tilapia")
    found, _ = season(fish, np.full(12, 28.0), np.full(12, 29.0), np.full(12, 27.0), (0.05, 0.567))
    days = days_to(0.05, 0.567, 28.0, 2.4, 18.3)
    assert found.days_to_harvest == pytest.approx(days, abs=1.0)
    assert found.end_weight == pytest.approx(weight_after(0.05, 365.0, 28.0, 2.4, 18.3))
    cold, _ = season(fish, np.full(12, 12.0), np.full(12, 13.0), np.full(12, 11.0), (0.05, 0.567))
    assert cold.growing_days == 0
    assert cold.end_weight == pytest.approx(0.05)
    assert cold.days_to_harvest is None


def test_warmer_places_have_longer_seasons_and_cheaper_heat():
    order = ("high valley", "foothills", "warm coast")
    days = [studied("family", where).season.growing_days for where in order]
    heat = [studied("family", where).yearly_heating_energy for where in order]
    assert days == sorted(days)
    assert heat == sorted(heat, reverse=True)


def test_a_cooler_fish_takes_the_days_that_are_left():
    found = studied("family", "high valley")
    best = found.cooler[0]
    assert best.species == "rainbow_trout"
    assert best.season_days + found.season.season_days <= 365
    assert [s.end_weight for s in found.cooler] == sorted(
        (s.end_weight for s in found.cooler), reverse=True
    )
    assert studied("family", "warm coast").cooler == ()


# --- words, JSON, command, speed ------------------------------------------------------------


@pytest.mark.parametrize("system", ["us", "metric"])
@pytest.mark.parametrize("name", DEMOS)
def test_words_and_json(name, system):
    for where in PLACES:
        found = studied(name, where)
        for words in (*answers(found, system), *findings(found, system)):
            assert words.endswith(".")
            assert "nan" not in words
            assert " apart" not in words
        text = heat_text(found, system)
        assert ("°F" in text) == (system == "us")
        data = json.loads(heat_json(found, system))
        assert len(data["months"]) == 12
        assert len(data["courses"]) == 3 * 10
        hours = data["courses"][0]["hours"]
        assert len(hours["water"]) == 24
        assert set(hours["flows"]) == set(heating.TERMS)


def test_a_chain_of_dangers_is_said():
    cold = findings(studied("family", "high valley"))
    assert any(w.startswith("Deadly: the cold day") for w in cold)
    lid = studied("family", "warm coast", (("climate.cover", "dark sheet"),
                                           ("climate.cover_hours", "always")))  # fmt: skip
    assert any("stop eating" in w or w.startswith("Deadly: the hot") for w in findings(lid))


def run(capsys, *argv):
    code = main(list(argv))
    return code, capsys.readouterr()


def family(folder):
    from rsdesign.core import tables

    return str(tables.data_folder() / "designs" / f"{folder}.toml")


def test_the_command(capsys):
    code, shown = run(
        capsys, "heat", family("family"), "--site", "high valley", "--units", "metric"
    )
    assert code == 0
    for words in ("One warm-season batch", "Heated to", "A cooler fish in winter", "m³", "Deadly"):
        assert words in shown.out or words == "m³"
    code, shown = run(capsys, "heat", family("school"), "--json")
    assert json.loads(shown.out)["heating"]["yearly_heating_energy"]["unit"] == "kWh"
    code, shown = run(capsys, "heat", family("family"), "--site", "atlantis")
    assert code == 2
    assert "low desert" in shown.err
    code, shown = run(
        capsys, "heat", family("family"), "--site", "low desert", "--climate", "x.csv"
    )
    assert code == 2
    assert "not both" in shown.err


def test_a_year_and_three_days_are_quick():
    """As many sizings as on the machine of docs/performance.md: 16.9 ms for the whole study, 1.7 ms for one
    sizing, and as much again. tests/bench/bench_heat.py measures."""
    s, weather = sized(), place("low desert")

    def least(work) -> float:
        times = []
        for _ in range(5):
            start = time.process_time()
            work()
            times.append(time.process_time() - start)
        return min(times)

    study(s, weather)
    assert (
        least(lambda: study(s, weather))
        < 20 * least(lambda: [size(s.design) for _ in range(4)]) / 4
    )


WHOLE = bool(os.environ.get("RSDESIGN_WHOLE"))
"""Every end under every roof; the suite tries each under none and under one of the others in turn."""


@pytest.mark.parametrize(
    "path", [p for p in FIELDS if p.startswith("climate.") or p in ("tank.depth", "tank.width")]
)
def test_every_choice_at_its_ends_settles(path):
    entry = FIELDS[path]
    ends = entry.choice.options() if entry.choice.options else (
        (True, False) if entry.choice.low is None else (entry.choice.low, entry.choice.high)
    )  # fmt: skip
    roofs = (
        {"climate.shelter": "greenhouse"},
        {"climate.shelter": "indoors"},
        {"climate.cover": "foam lid", "climate.insulation": "straw"},
    )
    for at, value in enumerate(ends, list(FIELDS).index(path)):
        for extra in ({}, *(roofs if WHOLE else (roofs[at % len(roofs)],))):
            found = study(size(with_values(demo("family"), {**extra, path: value})))
            assert np.isfinite([m.water for m in found.months]).all()
            text = heat_text(found, "us")
            assert "nan" not in text.split()
            json.loads(heat_json(found, "metric"))


def test_lid_and_walls_by_hand():
    """100 W/K between 10 and 30 °C, and a lid of 0.35 + 0.05 m² K/W over 4 m²."""
    assert heat_flows.conduction(100.0, 10.0, 30.0) == -2000.0
    assert heat_flows.lid_gain(4.0, 10.0, 30.0, 0.35, 0.05) == pytest.approx(-200.0)
