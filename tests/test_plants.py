"""Plant beds: published rates, a filter that keeps its share, base and oxygen still asked for."""

import numpy as np
import pytest
from designs import demo

from rsdesign import Design, size
from rsdesign.design.model import with_values
from rsdesign.design.sections.beds import Beds
from rsdesign.equations.biofilter import plants

DAY = 86400.0
GRAM = 1e-3 / DAY
"""A gram a day in kg/s."""
BED = 300 * 0.09290304
"""300 ft² of beds in m²: the whole nitrogen of this tank by the old ratio of feed to area."""


@pytest.fixture(scope="module")
def bare():
    return size(demo("family"))


@pytest.fixture(scope="module")
def planted():
    return size(with_values(demo("family"), {"filter.plants": BED}))


def test_the_uptake_is_what_was_measured():
    """Graber and Junge 2009, Desalination 246, abstract: 0.52 and 0.43 g N/m² a day in tomato
    fruit; the fruit held 69 % of what the aquaponic bed removed: 0.62 in all."""
    rate = Design().filter.plant_uptake / GRAM
    assert 0.43 <= rate <= 0.43 / 0.69
    assert plants.nitrogen_uptake(1.0, 0.43 * GRAM) == pytest.approx(0.43 * GRAM)


def test_the_old_ratio_is_three_times_the_measured_uptake(bare):
    """60 g of feed at 32 % protein bring 1.77 g of ammonia nitrogen to each m²: no plant takes it."""
    d = bare.design
    by_ratio = d.filter.plant_feed * d.stock.protein * 0.092
    assert by_ratio / GRAM == pytest.approx(1.766, abs=0.001)
    assert by_ratio > 2.5 * 0.62 * GRAM


def test_rakocys_ratio_stands_beside_as_the_old_rule(planted):
    """Rakocy 2007, guideline 1: 1,000 g of feed a day ask for 16.7 m² at 60 g/m² a day."""
    assert plants.area_for_feed(1000 * GRAM, 60 * GRAM) == pytest.approx(16.7, abs=0.05)
    feed = float(planted.stock.mean_feed) / GRAM
    assert planted.loads.beds_rule == pytest.approx(feed / 60.0)
    assert planted.loads.beds_feed_rule / GRAM == pytest.approx(60.0 * BED)


def test_plants_never_zero_the_filter(bare, planted):
    made = float(planted.loads.ammonia_made)
    assert planted.loads.ammonia_to_filter == pytest.approx(made - 0.56 * BED * GRAM)
    beside = planted.water.exchange * planted.gas.ammonia_limit  # goes with the old water
    assert planted.filter.load == pytest.approx(planted.loads.ammonia_to_filter - beside)
    assert planted.filter.required > 0.5 * bare.filter.required
    huge = size(with_values(demo("family"), {"filter.plants": 3000.0}))
    assert huge.loads.ammonia_to_filter == pytest.approx(0.5 * huge.loads.ammonia_made)
    beside = huge.water.exchange * huge.gas.ammonia_limit
    assert huge.filter.load == pytest.approx(huge.loads.ammonia_to_filter - beside)
    whole = size(with_values(planted.design, {"filter.least_share": 1.0}))
    beside = whole.water.exchange * whole.gas.ammonia_limit
    assert whole.filter.load == pytest.approx(whole.loads.ammonia_made - beside)


def test_base_and_oxygen_are_asked_for_all_that_is_nitrified(bare, planted):
    """In the filter or in the beds: 3.57 and 7.14 g of base, 4.57 g of oxygen for each gram."""
    made = float(planted.loads.ammonia_made)
    assert planted.loads.alkalinity_net == pytest.approx(3.57 * made)
    assert planted.loads.alkalinity_book == pytest.approx(7.14 * made)
    assert planted.loads.nitrifier_oxygen == pytest.approx(4.57 * made)
    assert planted.water.base_net > 0.9 * bare.water.base_net
    lost = 3.57 * made * DAY / float(planted.tank.volume)
    assert lost == pytest.approx(0.028, rel=0.03)  # 28 mg/L a day: without base pH falls in days


def test_new_water_follows_what_the_plants_really_take(bare, planted):
    taken = float(planted.loads.plants_nitrogen)
    assert taken == pytest.approx(0.5 * BED * GRAM)
    spare = planted.design.keep.nitrate - planted.design.source.nitrate
    asked = (float(planted.loads.ammonia_made) - taken) / spare
    assert planted.water.exchange == pytest.approx(asked)
    assert 0.5 * bare.water.exchange < planted.water.exchange < bare.water.exchange


def test_the_kind_of_bed_sets_what_its_film_takes():
    found = {}
    for kind in ("rafts", "media bed", "other"):
        s = size(with_values(demo("family"), {"filter.plants": 5.0, "filter.plant_bed": kind}))
        found[kind] = float(s.loads.beds_ammonia) / GRAM
    assert found == pytest.approx({"rafts": 2.8, "media bed": 10.0, "other": 0.0})
    told = size(with_values(demo("family"), {"filter.plants": 5.0, "filter.bed_rate": 1.0 * GRAM}))
    assert told.loads.beds_ammonia == pytest.approx(5.0 * GRAM)


def test_telling_the_rate_that_was_taken_changes_nothing(planted):
    told = size(with_values(planted.design, {"filter.bed_rate": 0.56 * GRAM}))
    assert told.filter.load == pytest.approx(planted.filter.load, rel=1e-12)
    assert told.filter.required == pytest.approx(planted.filter.required, rel=1e-9)


def test_a_check_says_how_ammonia_climbs_with_empty_or_new_beds(bare, planted):
    climb = 0.56 * BED * 1e-3 / float(planted.tank.volume)  # kg/m³ in a day
    assert planted.water.beds_climb == pytest.approx(climb)
    wrong = next(c for c in planted.checks if "plant beds stop" in c.words)
    assert not wrong.ok
    assert "climbs by 2.63 mg/L a day" in wrong.words
    assert "least share" in wrong.words
    whole = size(with_values(planted.design, {"filter.least_share": 1.0}))
    assert next(c for c in whole.checks if "plant beds stop" in c.words).ok
    assert not [c for c in bare.checks if "plant beds" in c.words]


def test_without_plants_nothing_moved(bare):
    assert bare.loads.ammonia_to_filter == bare.loads.ammonia_made == bare.loads.nitrate
    assert bare.loads.plants_nitrogen == bare.loads.beds_ammonia == bare.water.beds_climb == 0.0


def test_many_bed_areas_at_once_equal_single_ones():
    areas = np.array([0.0, 5.0, 30.0, 400.0])
    many = size(with_values(demo("family"), {"filter.plants": areas}))
    for i, area in enumerate(areas):
        one = size(with_values(demo("family"), {"filter.plants": float(area)}))
        assert many.filter.load[i] == pytest.approx(one.filter.load, rel=1e-12)
        assert many.water.exchange[i] == pytest.approx(one.water.exchange, rel=1e-12)
    assert (np.diff(many.filter.load) <= 0).all()


def test_the_band_of_the_choice_is_said():
    text = Beds.__dataclass_fields__["plant_uptake"].metadata["choice"]
    assert "0.4 to 0.8" in text.help
    assert "Graber and Junge 2009" in text.source
