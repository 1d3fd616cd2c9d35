"""Units: exact factors against pint, the strict reader, the display, and the edge."""

import numpy as np
import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rsdesign.core import units
from rsdesign.core.choices import DesignError
from rsdesign.core.kinds import FAMILIES, KINDS, UnitError
from rsdesign.design.model import Design
from rsdesign.equations.fish.loads import ammonia_production, oxygen_demand
from rsdesign.equations.pumps.pumps import quadratic_operating_point
from rsdesign.equations.tank.vessel import volume_for
from rsdesign.equations.water.oxygen import saturation

UNITS = [(family, unit) for family, row in FAMILIES.items() for unit in row]


@pytest.mark.parametrize(("family", "unit"), UNITS, ids=lambda x: getattr(x, "label", x))
def test_every_factor_equals_pints(family, unit):
    base = FAMILIES[family][0]
    quantity = units.registry().Quantity(2.0, unit.pint or "dimensionless")
    expected = quantity.to(base.pint or "dimensionless").magnitude
    assert 2.0 * unit.factor + unit.offset == pytest.approx(expected, rel=1e-12, abs=1e-12)


def test_the_registry_is_pints_application_registry():
    assert units.ureg is pint.application_registry.get()
    assert isinstance(units.quantity(3, "ft"), pint.Quantity)


@pytest.mark.parametrize("kind", KINDS.values(), ids=lambda kind: kind.name)
def test_every_kind_is_shown_in_both_systems(kind):
    for system in units.SYSTEMS:
        assert units.show(1.5, kind, system)


@pytest.mark.parametrize(("text", "kind", "plain"), [
    ("40 lb/week", "feed rate", 40 * 0.45359237 / 604800),
    ("82.4 °F", "temperature", 28.0),
    ("82.4F", "temperature", 28.0),
    ("10 °F apart", "temperature difference", 50 / 9),
    ("1 gpm", "flow", 231 * 0.0254**3 / 60),
    ("5 US gal", "small volume", 5 * 231 * 0.0254**3),
    ("2 psi", "pressure", 2 * 0.45359237 * 9.80665 / 0.0254**2),
    ("1 hp", "power", 745.6998715822702),
    ("1 kWh", "energy", 3.6e6),
    ("0.3 g/m2/day", "areal rate", 0.3e-3 / 86400),
    ("32 %", "fraction", 0.32),
    ("7.5", "pH", 7.5),
    ("1e-3 m3/h", "flow", 1e-3 / 3600),
    ("-5 °C", "temperature", -5.0),
])  # fmt: skip
def test_what_people_type(text, kind, plain):
    assert units.parse(text, KINDS[kind]) == pytest.approx(plain, rel=1e-12)


@pytest.mark.parametrize("text", [
    "", " ", "ft", "3", "3 furlong", "3 ft 2", "1,50,0 ft", "1,5.0,0 ft", "nan ft", "inf ft", "0x10 ft",
    "1_000 ft", "3 ft; rm -rf", "__import__('os')", "2**9 ft", "٣ ft", "9" * 5000 + " ft", "1e999 ft",
    "3 ft\x00", "three ft", "3 m/s",
])  # fmt: skip
def test_what_is_refused(text):
    with pytest.raises(UnitError) as wrong:
        units.parse(text, KINDS["length"])
    assert str(wrong.value).count("\n") == 0
    assert len(str(wrong.value)) < 300


def test_a_near_unit_is_suggested():
    with pytest.raises(UnitError, match="Did you mean 'gpm'"):
        units.parse("3 gpmm", KINDS["flow"])


@given(st.floats(1e-6, 1e6), st.sampled_from([k for k in KINDS.values() if k.family != "money"]),
       st.sampled_from(units.SYSTEMS))  # fmt: skip
def test_conversion_is_lossless(value, kind, system):
    unit = kind.shown(system)
    there = units.from_plain(value, unit)
    assert units.to_plain(there, unit) == pytest.approx(value, rel=1e-12, abs=1e-9)


@pytest.mark.parametrize(("value", "text"), [
    (2256.3, "2,260"), (0.05, "0.05"), (7.4, "7.4"), (0, "0"), (999.9, "1,000"), (1e-9, "1.00e-09"), (1e9, "1,000,000,000"),
    (float("nan"), "none"), (float("inf"), "∞"), (-3.14159, "-3.14"),
])  # fmt: skip
def test_numbers_as_people_write_them(value, text):
    assert units.number(value) == text


# --- the edge ------------------------------------------------------------------------------


def q(value, label):
    return units.quantity(value, label)


def test_quantity_in_quantity_out():
    found = ammonia_production(q(10, "lb/day"), 0.32)
    assert isinstance(found, pint.Quantity)
    plain = ammonia_production(10 * 0.45359237 / 86400, 0.32)
    assert found.to("kg/s").magnitude == pytest.approx(plain, rel=1e-12)


def test_numbers_without_dimension_and_defaults_stay_plain():
    assert oxygen_demand(q(1, "kg/day"), 0.45).check("[mass]/[time]")
    assert saturation(q(20, "°C")).to("mg/L").magnitude == pytest.approx(9.09, abs=0.005)


def test_a_plain_number_among_quantities_is_named():
    with pytest.raises(UnitError, match=r"density is a plain number.*lb/gal"):
        volume_for(q(100, "lb"), 30.0)


def test_a_wrong_dimension_is_named_with_a_unit_that_would_do():
    with pytest.raises(UnitError, match=r"biomass.*give it in lb"):
        volume_for(q(100, "gpm"), q(0.25, "lb/gal"))
    with pytest.raises(TypeError, match="biomass"):
        volume_for(q(100, "gpm"), q(0.25, "lb/gal"))


def test_a_reading_is_not_a_difference():
    registry = units.registry()
    with pytest.raises(UnitError, match="difference of temperatures"):
        saturation(registry.Quantity(5.0, "delta_degC"))
    assert saturation(registry.Quantity(293.15, "kelvin")).magnitude == pytest.approx(
        saturation(20.0), rel=1e-9
    )


def test_arrays_and_lists():
    found = volume_for(q(np.array([10.0, 20.0]), "kg"), q(5.0, "kg/m³"))
    assert found.to("m**3").magnitude == pytest.approx([2.0, 4.0])
    assert volume_for([10, 20], 5) == pytest.approx([2.0, 4.0])
    assert isinstance(volume_for(np.float32(10), np.int64(5)), float)


def test_a_composed_kind_goes_through():
    flow = quadratic_operating_point(q(4, "m"), q(2, "m³/s"), q(1, "m"), q(2.0, "s²/m⁵"))
    assert flow.to("m**3/s").magnitude == pytest.approx(1.0)


def test_a_quantity_of_the_readers_own_registry_is_taken():
    own = pint.UnitRegistry()
    own.formatter.default_format = ".4g~L"
    design = Design().with_(goal_fish=180, tank_depth=3 * own.foot)
    assert design == Design().with_(goal_fish=180, tank_depth="3 ft")
    warm = own.Quantity(80, "degF")
    assert design.with_(site_water_temperature=warm) == design.with_(site_water_temperature="80 °F")
    own.define("span = 0.9 foot")
    with pytest.raises(DesignError, match="give it in ft"):
        design.with_(tank_depth=3 * own.span)
