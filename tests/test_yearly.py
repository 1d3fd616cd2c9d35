"""Heat and evaporation flow into the budget, and a money slider does not reckon the heat anew."""

import pytest

from rsdesign import load, size
from rsdesign.__main__ import main
from rsdesign.core.tables import data_folder
from rsdesign.design.model import with_values
from rsdesign.design.prices import prices_of
from rsdesign.studies.enterprise import enterprise
from rsdesign.studies.heat import yearly
from rsdesign.studies.heat.study import study


def demo(**changes):
    design = load(data_folder() / "designs" / "family.toml")
    return size(with_values(design, {k.replace("__", "."): v for k, v in changes.items()}))


def test_evaporation_is_bought_and_treated():
    """All year where the fish live all year; a vapour needs no drain."""
    sizing = demo(climate__weather="warm coast")
    told = yearly.extras(sizing)
    plain = enterprise(sizing, allowed=told["allowed"]).budget
    whole = yearly.full_year(sizing).budget
    extra = study(sizing).yearly_evaporation
    assert told["evaporation"] == pytest.approx(extra, rel=0.01)  # days against months
    price = prices_of(sizing.design)["water"].value
    assert whole.water - plain.water == pytest.approx(told["evaporation"] * price, rel=1e-9)
    assert whole.heating == 0.0
    assert whole.discharge == plain.discharge, "vapour needs no drain"


def test_heat_is_bought_only_where_the_water_is_heated():
    """The heat of the study, and the evaporation of the warmer water, and nothing else."""
    sizing = demo(climate__heated="yes")
    warm, told = yearly.full_year(sizing).budget, yearly.full_year(
        demo(climate__heated="warm by itself")
    ).budget  # fmt: skip
    assert yearly.full_year(demo()).budget.heating == 0.0
    assert yearly.weathered(sizing).heating_energy == pytest.approx(
        study(sizing).yearly_heating_energy, rel=1e-9
    )
    assert warm.sold == told.sold
    assert warm.feed == told.feed
    assert warm.heating > 0.0
    assert warm.net == pytest.approx(told.net - warm.heating, abs=0.06 * warm.heating)


def test_a_price_does_not_reckon_the_heat_anew(monkeypatch):
    yearly._found.cache_clear()
    yearly.full_year(demo())
    monkeypatch.setattr(
        yearly, "year_brief", lambda *given: pytest.fail("the heat was reckoned again")
    )
    yearly.full_year(demo(prices__fish=9.0, terms__rate=0.1))
    with pytest.raises(pytest.fail.Exception):
        yearly.full_year(demo(tank__depth=1.2))


def test_the_command_says_heated(capsys):
    path = str(data_folder() / "designs" / "family.toml")
    assert main(["cost", path]) == 0
    cold = capsys.readouterr().out
    assert main(["cost", "--heated", path]) == 0
    warm = capsys.readouterr().out
    line = next(x for x in warm.splitlines() if x.strip().startswith("Heating"))
    assert line not in cold
