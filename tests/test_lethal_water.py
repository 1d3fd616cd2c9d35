"""Water that kills is the first thing said, hot or cold."""

import numpy as np
import pytest
from designs import DEMOS, demo

from rsdesign import size
from rsdesign.core.choices import DesignError
from rsdesign.design.model import with_values
from rsdesign.equations.fish.species import species

TROUT = {"stock.species": "rainbow_trout", "site.water_temperature": 15.0,
         "site.coldest_feeding_water": 10.0}  # fmt: skip


def test_the_lethal_columns_are_within_what_was_measured():
    """Trout: half lived at 25 °C, none at 26 (Huysman et al. 2020). Channel catfish: 36.6 to
    37.8 °C (1967). Carp used to 26 °C: 35.7 °C (Black 1953). Tilapia: 10 to 11 °C, SRAC 283."""
    assert 24.0 <= species("rainbow_trout").lethal_high <= 26.0
    assert 36.6 <= species("channel_catfish").lethal_high <= 37.8
    assert species("common_carp").lethal_high == pytest.approx(35.7)
    assert 10.0 <= species("tilapia").lethal_low <= 11.1


@pytest.mark.parametrize(
    ("changes", "week"),
    [
        (TROUT | {"site.warmest_water": 30.0}, "hottest"),  # 86 °F
        ({"site.warmest_water": 42.0}, "hottest"),
        ({"site.warmest_water": 41.0}, "hottest"),
        ({"site.coldest_feeding_water": 5.0}, "coldest"),
        ({"site.coldest_feeding_water": 11.0}, "coldest"),
    ],
)
def test_fish_that_die_are_the_first_check(changes, week):
    s = size(with_values(demo("family"), changes))
    first = s.checks[0]
    assert not first.ok
    assert first.word == "they die"
    assert first.words.startswith(f"The fish die: the {week} week is")
    # nothing that fails otherwise comes before it
    weak = size(with_values(s.design, {"air.flow": 0.0, "pump.flow": 1e-4}))
    assert weak.checks[0].word == "they die"


def test_a_sweep_says_it_where_any_design_dies():
    s = size(with_values(demo("family"), {"site.warmest_water": np.array([30.0, 42.0])}))
    assert s.checks[0].word == "they die"
    assert list(s.checks[0].ok) == [True, False]


def test_too_cold_to_grow_says_that_they_die_too():
    with pytest.raises(DesignError, match=r"die at 51\.8 °F"):
        size(with_values(demo("family"), {"site.water_temperature": 5.0}))
    with pytest.raises(DesignError, match="do not grow below") as told:
        size(with_values(demo("family"), {"site.water_temperature": 17.0}))
    assert "die" not in str(told.value)


@pytest.mark.parametrize("name", DEMOS)
def test_the_demos_live(name):
    found = [c for c in size(demo(name)).checks if "at which" in c.words and " die" in c.words]
    assert len(found) == 2
    assert all(c.ok for c in found)
