"""New water: water and salt close, chains in order, words say what to do."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rsdesign import load, size
from rsdesign.core.tables import data_folder
from rsdesign.core.unit_table import DAY
from rsdesign.design.model import with_values
from rsdesign.equations import makeup as formulas
from rsdesign.equations.power.tables import bases, treatments
from rsdesign.report import makeup_words
from rsdesign.studies.heat.study import study as heat_study
from rsdesign.studies.makeup import study as makeup


def demo(name="family"):
    return load(data_folder() / "designs" / f"{name}.toml")


@pytest.fixture(scope="module")
def study():
    return makeup.study(demo())


@settings(max_examples=100, deadline=None)
@given(
    start=st.floats(0, 0.2), source=st.floats(0, 0.2), gain=st.floats(0, 1e-6),
    evaporation=st.floats(0, 1e-5), out=st.floats(0, 1e-5), days=st.floats(1, 400),
)  # fmt: skip
def test_mass_of_salt_closes(start, source, gain, evaporation, out, days):
    """What came in less what went out is what the water holds more, to 1e-9 of what moved."""
    volume, new = 6.0, evaporation + out
    time = days * DAY
    fixed = (start, source, gain, new, out, volume)
    end = float(formulas.level_after(time, *fixed))
    # the outflow is the integral of out * C; Gauss points make it exact for an exponential
    x, w = np.polynomial.legendre.leggauss(60)
    levels = formulas.level_after(time * (x + 1) / 2, *fixed)
    left = out * float(np.dot(w, levels)) * time / 2
    came = (new * source + gain) * time
    moved = max(came, left, volume * start, 1e-9)
    assert volume * (end - start) == pytest.approx(came - left, abs=1e-9 * moved)


def test_water_closes(study):
    f = study.flows
    assert f.makeup == pytest.approx(f.evaporation + f.drained + f.splash, rel=1e-12)
    out = f.drained + f.splash
    for salt in study.salts:
        came = (study.mean_evaporation + out) * salt.source + salt.gain
        assert out * salt.at_rest == pytest.approx(came, rel=1e-12)


def test_a_year_is_near_the_end_and_topping_up_only_climbs(study):
    for salt in study.salts:
        assert salt.month <= salt.quarter <= salt.year <= salt.at_rest * (1 + 1e-9)
        assert salt.only_topped > salt.at_rest
    days, levels = makeup.course(study, study.salts[0])
    assert levels[0] == pytest.approx(study.salts[0].source)
    assert levels[-1] == pytest.approx(study.salts[0].year)
    assert np.all(np.diff(levels) > 0)
    assert days[-1] == 365.0


def test_draining_what_holds_a_limit_holds_it(study):
    for salt in study.salts[:2]:
        drain = salt.to_hold
        rest = formulas.steady_level(salt.source, salt.gain, study.mean_evaporation + drain, drain)
        assert rest == pytest.approx(salt.limit, rel=1e-9)
    nitrate = study.salts[0]
    assert formulas.drain_to_hold(nitrate.gain, 1e-6, nitrate.limit, nitrate.source) == np.inf


def test_bases_are_their_equivalents():
    weights = {
        "baking soda": (84.007, 1), "washing soda": (105.988, 2), "hydrated lime": (74.093, 2),
        "potassium bicarbonate": (100.115, 1), "magnesium hydroxide": (58.320, 2),
        "crushed limestone": (100.087, 2),
    }  # fmt: skip
    assert {b.name for b in bases()} == set(weights)
    for base in bases():
        mass, equivalents = weights[base.name]
        assert base.strength == pytest.approx(50.0435 * equivalents / mass, abs=6e-5)


def test_treatments_are_their_reactions():
    weights = {"sodium thiosulfate": 2 * 248.18, "vitamin C": 176.12, "sodium ascorbate": 198.11}
    for row in treatments():
        if row.name in weights:
            assert row.dose_ratio == pytest.approx(weights[row.name] / 70.906, abs=0.006)


def test_the_trade_rule_lies_between_net_and_book():
    """0.25 kg of baking soda for each kg of feed (from memory) lies between the two uses."""
    changes = {"source.alkalinity": 0.1, "keep.alkalinity": 0.1}
    soda = makeup.study(with_values(demo(), changes)).doses[0]
    assert soda.net_each < 0.25 < soda.book_each


def test_the_source_is_credited():
    soft, hard = (
        makeup.study(with_values(demo(), {"source.alkalinity": a})).doses[0] for a in (0.0, 0.25)
    )
    assert hard.net < soft.net


def test_lime_adds_hardness_and_soda_does_not():
    soda = makeup.study(demo()).salts[2]
    lime = makeup.study(with_values(demo(), {"makeup.base": "hydrated lime"})).salts[2]
    assert soda.gain == 0.0
    assert lime.at_rest > soda.at_rest


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"source.disinfectant": "none"}, "adds no chlorine"),
        ({"source.disinfectant": "chlorine"}, "for the first filling"),
        ({"source.disinfectant": "chloramine"}, "frees"),
        ({"source.disinfectant": "chlorine", "makeup.treatment": "wait with air"}, "stand with air"),
        ({"source.disinfectant": "chloramine", "makeup.treatment": "wait with air"},
         "does not leave with air"),
        ({"source.iron": 0.002}, "Iron"),
        ({"source.carbon_dioxide": 0.04}, "Carbon dioxide"),
        ({"source.chloride": 0.39}, "Chloride climbs"),
        ({"source.chloride": 2.0}, "use another water"),
    ],
)  # fmt: skip
def test_findings_say_what_to_do(changes, words):
    found = makeup_words.findings(makeup.study(with_values(demo(), changes)))
    assert any(words in line for line in found), found
    assert not any("nan" in line for line in found)


def test_more_shade_and_lid_need_less_water():
    open_, shaded = (
        makeup.study(with_values(demo(), {"climate.shade": x})).yearly_makeup for x in (0.0, 0.8)
    )
    assert shaded < open_


def test_nitrogen_of_the_old_water_is_no_more_than_the_feed_brings(study):
    s = study.sizing
    feed = s.loads.feed_nitrogen * s.stock.mean_feed / s.stock.peak_feed
    came = feed + study.flows.makeup * s.design.source.nitrate
    assert study.discharge.nitrogen < came
    assert study.discharge.land > 0


def test_a_given_heat_study_is_used_again():
    s = size(demo())
    heat = heat_study(s)
    assert makeup.study(s, heat).heat is heat
