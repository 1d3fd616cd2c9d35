"""Heat and evaporation flow into the budget, and a money slider does not reckon the heat anew."""

import pytest

from rsdesign import load, size
from rsdesign.__main__ import main
from rsdesign.design import with_values
from rsdesign.season import yearly
from rsdesign.season.heat import study
from rsdesign.studies.enterprise import enterprise
from rsdesign.tables import data_folder


def demo(**changes):
    design = load(data_folder() / "designs" / "family.toml")
    return size(with_values(design, {k.replace("__", "."): v for k, v in changes.items()}))


def test_evaporation_is_bought_and_treated():
    plain, whole = enterprise(demo()).budget, yearly.full_year(demo()).budget
    extra = study(demo()).yearly_evaporation
    price = whole.water / plain.water
    assert price > 1
    assert whole.heating == 0.0
    assert whole.discharge == plain.discharge, "vapour needs no drain"
    per = (whole.water - plain.water) / extra
    assert per == pytest.approx(plain.water / _volume(), rel=1e-9)


def _volume() -> float:
    from rsdesign.pricelist import prices_of

    sizing = demo()
    return enterprise(sizing).budget.water / prices_of(sizing.design)["water"].value


def test_heat_is_bought_only_where_the_water_is_heated():
    warm = yearly.full_year(demo(climate__heated=True)).budget
    cold = yearly.full_year(demo()).budget
    assert warm.heating > 0.0
    assert warm.net == pytest.approx(cold.net - warm.heating, abs=0.06 * warm.heating)


def test_a_price_does_not_reckon_the_heat_anew(monkeypatch):
    yearly._found.cache_clear()
    yearly.full_year(demo())
    monkeypatch.setattr(yearly, "study", lambda sizing: pytest.fail("the heat was reckoned again"))
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
