"""The air: pressure in thin and hot air, one air for every level, salt, airlifts, energy, words."""

import numpy as np
import pytest

from rsdesign.core import tables
from rsdesign.core.figures import figures_of
from rsdesign.design.file import load
from rsdesign.design.model import Design, value_of, with_values
from rsdesign.equations.air import aeration, blowers
from rsdesign.equations.air import devices as air_devices
from rsdesign.equations.pumps import airlift
from rsdesign.equations.water import oxygen, properties
from rsdesign.sizing.system import figures, size, value_at
from rsdesign.sizing.taken import FIGURES as TAKEN

DEMOS = ("family", "school", "commercial")
FOOT, GALLON, CFM = 0.3048, 3.785411784e-3, 0.3048**3 / 60


def demo(name: str, **changes) -> Design:
    design = load(tables.data_folder() / "designs" / f"{name}.toml")
    return with_values(design, {k.replace("__", "."): v for k, v in changes.items()})


COOL = {"safety__per_ten": 1.0}
"""The hottest week breathes as the growing water does: what the sums by hand leave out."""


def check_of(sizing, start: str):
    found = [c for c in sizing.checks if c.words.startswith(start)]
    assert len(found) == 1, [c.words for c in sizing.checks]
    return found[0]


# --- pressure at height and heat ------------------------------------------------------------


@pytest.mark.parametrize(
    ("name", "equivalent"), [("family", 11.26), ("school", 13.90), ("commercial", 16.48)]
)
def test_a_fans_curve_is_read_at_the_density_of_the_air(name, equivalent):
    """kPa at the density of the plate, worked by hand; the pipe's loss moves with the air, 0.03."""
    s = size(demo(name, air__machine="regenerative", **COOL))
    assert s.air.curve_pressure / 1e3 == pytest.approx(equivalent, abs=0.04)
    thinner = blowers.altitude_factor(s.air.pressure, 35.0)
    assert s.air.curve_pressure == pytest.approx(s.air.discharge_pressure / thinner)


@pytest.mark.parametrize("kind", ["rotary vane", "lobe", "diaphragm"])
def test_a_machine_that_squeezes_is_read_as_it_is(kind):
    a = size(demo("family", air__machine=kind)).air
    assert a.curve_pressure == a.discharge_pressure
    rows = {row.name: row.by_density for row in tables.read("air_types", air_devices.AirType)}
    assert rows == {"diaphragm": 0.0, "regenerative": 1.0, "rotary vane": 0.0, "lobe": 0.0}


def test_a_blower_off_its_curve_in_thin_air_gives_nothing():
    """The small blower that sea level's curve let pass at 1,500 ft is beyond its dead end."""
    s = size(demo("family", air__device="regenerative 0.2 kW"))
    assert s.air.discharge_pressure < 11000 < s.air.curve_pressure
    assert s.air.provided == 0.0
    assert not check_of(s, "Most pressure the machine gives here").ok


@pytest.mark.parametrize("name", DEMOS)
def test_demos_take_machines_with_pressure_to_spare(name):
    s = size(demo(name))
    assert s.air.most_pressure >= 1.15 * s.air.discharge_pressure
    assert s.air.provided >= s.air.required
    for check in s.checks:
        if check.part == "air" and "all the air let in" not in check.words:
            assert np.all(check.ok), check.words


def test_a_machine_without_pressure_to_spare_fails_its_check():
    """At sea level and 20 °C the 0.4 kW blower ends at 14 kPa: 12.5 kPa is within 15 % of it."""
    base = {"air__device": "regenerative 0.4 kW", "site__elevation": 0.0}
    base |= {"air__intake_temperature": 20.0}
    for depth, ok in ((0.8, True), (0.97, False)):
        s = size(demo("family", **base, air__stone_depth=depth))
        check = check_of(s, "Most pressure the machine gives here")
        assert check.ok is ok or bool(check.ok) == ok
        assert s.air.provided > 0  # it runs, but near its dead end
    assert "Take a" in check.words


# --- one air --------------------------------------------------------------------------------


@pytest.mark.parametrize("name", DEMOS)
def test_oxygen_is_that_of_the_air_let_in(name):
    """Spare air is let out: the level kept is met, not more, and all levels see the same air."""
    s = size(demo(name))
    assert s.air.used == min(s.air.provided, s.air.required)
    assert s.air.peak_oxygen == pytest.approx(s.design.keep.oxygen, rel=1e-12)
    assert s.air.peak_oxygen_all_air > s.air.peak_oxygen
    assert s.gas.ph_all_air > s.gas.ph
    assert s.gas.carbon_dioxide_all_air < s.gas.carbon_dioxide
    assert s.filter.unionized_all_air > s.filter.unionized


AIR_CHOICES = ("air.machine", "air.device", "air.count", "air.spare", "air.flow",
               "air.plate_watts", "air.stone_depth", "air.efficiency", "air.line_diameter")  # fmt: skip


def differences(a, b, exact=1e-9) -> list[str]:
    found = []
    for (figure, x), (_, y) in zip(figures(a), figures(b), strict=True):
        same = x == y if isinstance(x, str) else x == pytest.approx(y, rel=exact, abs=1e-15)
        if not same:
            found.append(f"{figure.path}: {x} -> {y}")
    return found


@pytest.mark.parametrize("name", DEMOS)
@pytest.mark.parametrize("path", [*AIR_CHOICES, "all"])
def test_telling_the_air_that_was_taken_changes_nothing(name, path):
    taken = size(demo(name))
    paths = AIR_CHOICES if path == "all" else (path,)
    values = {p: value_at(taken, TAKEN[p]) for p in paths}
    assert None not in values.values()
    assert differences(taken, size(with_values(demo(name), values))) == []


@pytest.mark.parametrize("depth", [0.5, 1.2, 2.0, 3.0, 4.0])
@pytest.mark.parametrize("fish", [20.0, 300.0, 3000.0])
def test_telling_air_or_watts_of_any_size_changes_nothing(depth, fish):
    """Whatever is taken, by depth and by size, telling its air, its watts or its count is the same."""
    base = demo("family", tank__depth=depth, goal__fish=fish, tank__width=None)
    taken = size(base)
    for path in ("air.flow", "air.plate_watts", "air.count", "air.device"):
        told = size(with_values(base, {path: value_at(taken, TAKEN[path])}))
        assert differences(taken, told) == [], path


def test_the_other_end_is_judged_with_all_the_air_let_in():
    """Advice where what is let in does no harm, told or taken; a failure where that harms too."""
    label = "Un-ionised ammonia with all the air let in"
    for s in (size(demo("family", air__flow=80 * CFM)), size(demo("school"))):
        assert s.filter.unionized < s.design.keep.unionized_ammonia < s.filter.unionized_all_air
        check = check_of(s, label)
        assert check.ok
        assert check.word == "let the rest out"
        assert "Let the spare air out" in check.words
        failed = sum(not np.all(c.ok) for c in s.checks)
        assert check.words in [c.words for c in s.checks[failed : failed + 2]]  # after what fails
    harmed = size(demo("school", filter__media_volume=0.5))
    assert not check_of(harmed, label).ok
    assert check_of(harmed, label).word == "outside"
    s = size(demo("family", air__flow=80 * CFM))
    assert s.filter.unionized == pytest.approx(size(demo("family")).filter.unionized)
    weak = size(demo("family", air__flow=9 * CFM))
    assert not check_of(weak, "Oxygen in the busiest hour with all the air let in").ok


def test_a_measured_ph_moves_as_the_computed_one_does():
    s = size(demo("family", keep__measured_ph=7.5))
    plain = size(demo("family"))
    assert s.gas.ph_all_air - 7.5 == pytest.approx(plain.gas.ph_all_air - plain.gas.ph, abs=1e-9)


def test_weak_air_lowers_the_oxygen_that_is_held():
    held = [size(demo("family", air__flow=f * CFM)).air.peak_oxygen for f in (3, 9, 15, 19, 40)]
    assert (np.diff(held) >= 0).all()
    assert held[0] == 0.0
    assert held[-1] == pytest.approx(0.005)


# --- weak air is told as air short, not as water ----------------------------------------------


@pytest.mark.parametrize("name", DEMOS)
@pytest.mark.parametrize("flow", [0.0, 0.2, 0.5, 0.99])
def test_weak_air_asks_for_no_water(name, flow):
    plain = size(demo(name))
    weak = size(demo(name, air__flow=flow * plain.air.required))
    assert weak.flow.required == pytest.approx(plain.flow.required, rel=1e-9)
    assert weak.solids.required == pytest.approx(plain.solids.required, rel=1e-9)
    part = next(p for p in weak.parts if p.name == "air")
    assert part.margin == pytest.approx(flow, rel=1e-9)
    if flow < 0.5:
        assert "More air mends it" in check_of(weak, "Oxygen in the busiest hour: ").words


def test_a_filter_with_no_air_to_spare_brings_no_oxygen():
    weak = size(demo("family", air__flow=3 * CFM))
    assert weak.flow.return_oxygen == weak.design.keep.oxygen
    assert np.isinf(weak.flow.for_oxygen)


# --- salt -------------------------------------------------------------------------------------


def test_salt_asks_for_more_air():
    """The family's air over that in fresh water, from cfm by the ASCE/EWRI 2-06 form by hand."""
    by_hand = {0.0: 18.1, 3.0: 19.2, 5.0: 19.9, 10.0: 22.2, 15.0: 25.0, 20.0: 28.4, 35.0: 46.6}
    many = size(demo("family", source__salinity=np.array(list(by_hand)), **COOL))
    for salinity, air, printed in zip(by_hand, many.air.required, by_hand.values(), strict=True):
        assert air / many.air.required[0] == pytest.approx(printed / 18.1, rel=0.05 / 18.1 * 2)
        alone = size(demo("family", source__salinity=salinity, **COOL))
        assert alone.air.required == pytest.approx(air, rel=1e-12)
    assert (np.diff(many.air.required) > 0).all()
    assert many.air.peak_oxygen == pytest.approx(np.full(7, 0.005), rel=1e-9)


def test_salt_is_in_the_form_itself():
    fresh = (28.0, 0.005, 0.7, 95950.0, 0.85, 0.98, 1.024, 0.85)
    full = oxygen.saturation(28.0, 20.0, 95950.0 + 9.80665 * properties.density(28.0) * 0.35)
    expected = 0.85 * 0.85 * 1.024**8 * (0.98 * full - 0.005) / 9.0924e-3
    assert aeration.field_factor(*fresh, 20.0) == pytest.approx(expected)
    assert aeration.field_transfer(2.0, *fresh, 20.0) == pytest.approx(2 * expected)
    assert aeration.field_factor(*fresh) == aeration.field_factor(*fresh, 0.0)


# --- airlifts ---------------------------------------------------------------------------------

PIPES, DEPTHS, AIR = (0.076, 0.102, 0.152), (0.50, 0.65, 0.80), (71, 150, 240, 324)


def moved(pipe, depth, air, lift=0.0):
    losses = airlift.airlift_losses(pipe, depth)
    return airlift.airlift_flow(air / 60000, pipe, depth, lift, losses) * 60000


def test_airlifts_stay_within_what_was_measured():
    """Wurts et al. 1994: 66 to 225 L/min over all pipes, depths and air flows."""
    flows = [moved(p, d, a) for p in PIPES for d in DEPTHS for a in AIR]
    assert min(flows) >= 65.5
    assert max(flows) <= 225.5
    assert moved(0.076, 0.8, 71) == pytest.approx(111, abs=0.5)


def test_airlifts_rise_with_pipe_depth_and_air():
    """As the study says of all three; and arrays are single calls."""
    p, d, a = np.meshgrid(PIPES, DEPTHS, AIR, indexing="ij")
    flows = moved(p, d, a)
    for axis in range(3):
        assert (np.diff(flows, axis=axis) > 0).all()
    assert flows[1, 2, 3] == pytest.approx(moved(0.102, 0.80, 324), rel=1e-12)


def airlifted(**more):
    base = {"pump__kind": "airlift", "pump__lift": 0.0, "goal__fish": 60.0, "tank__depth": 0.8}
    return demo("family", **{**base, **more})


def test_airlifts_beyond_what_was_measured_are_said():
    assert check_of(size(airlifted()), "The airlifts are like").ok
    for beyond in (
        {"pump__airlift_pipe": 0.05},
        {"tank__depth": 1.5},
        {"pump__airlift_air": 12 * CFM},
    ):
        assert not check_of(size(airlifted(**beyond)), "The airlifts are like").ok


def test_the_airlifts_air_counts():
    """It is asked of the air machines, in pressure pipe, size and power, and nowhere twice."""
    s, pumped = size(airlifted()), size(airlifted(pump__kind="pump", pump__lift=0.9))
    assert s.air.to_airlifts == pytest.approx(s.pump.count * s.design.pump.airlift_air)
    assert s.air.in_all == pytest.approx(s.air.required + s.air.to_airlifts)
    assert s.air.total >= s.air.in_all
    assert s.air.provided == pytest.approx(s.air.total - s.air.to_airlifts)
    assert s.air.wire_power > pumped.air.wire_power
    assert s.pump.plate_watts == 0.0
    assert s.standby.watts == s.air.wire_power + s.bed.wire_power
    told = size(airlifted(air__flow=s.air.total))
    assert differences(s, told) == []


# --- the moving bed's own air -------------------------------------------------------------------


@pytest.mark.parametrize("name", ["family", "commercial"])
def test_the_moving_beds_air_is_counted(name):
    s = size(demo(name))
    assert s.bed.for_rolling == pytest.approx(5 / 3600 * s.filter.cross_section)
    assert s.bed.required == max(s.bed.for_rolling, s.bed.for_oxygen)
    assert s.bed.provided >= s.bed.required
    assert s.bed.pressure > 9.8 * 995 * s.filter.depth
    assert s.standby.watts == s.air.wire_power + s.bed.wire_power + s.pump.plate_watts
    # its bubbles do bring the bacteria their half of the oxygen
    caught = 0.025 * s.filter.depth * 0.2787 * s.air.field_factor
    assert s.bed.for_oxygen * caught == pytest.approx(s.bed.oxygen)
    assert s.bed.oxygen == pytest.approx(0.5 * s.loads.nitrifier_oxygen)


def test_filters_without_air_of_their_own_draw_none():
    for kind in ("trickling", "submerged", "bead"):
        s = size(demo("school", filter__type=kind))
        assert (s.bed.required, s.bed.wire_power, s.bed.device) == (0.0, 0.0, "none")
    none = size(demo("family", filter__media_volume=0.0))
    assert none.bed.required == 0.0


# --- energy ---------------------------------------------------------------------------------------


def test_spare_machines_stand_still():
    s = size(demo("school", **COOL))
    assert s.air.count == 1
    assert s.air.spare == 1
    assert s.air.wire_power == 850.0
    assert s.air.plate_watts == 1700.0
    assert check_of(s, "Mean load with the largest").ok
    assert not check_of(
        size(demo("school", air__spare=0.0, **COOL)), "Mean load with the largest"
    ).ok


def test_the_kind_with_fewest_watts_is_taken():
    """Diaphragm pumps where little air is asked for, blowers for much."""
    small = size(demo("family", goal__fish=40.0))
    assert small.air.kind == "diaphragm"
    assert small.air.wire_power < 150
    for name in DEMOS:
        free = size(demo(name))
        for kind in ("diaphragm", "regenerative", "rotary vane", "lobe"):
            told = size(demo(name, air__machine=kind))
            assert told.air.kind == kind
            if told.air.count <= air_devices.MOST_OF_ONE:
                both = told.air.wire_power + told.air.mean_power
                assert both >= free.air.wire_power + free.air.mean_power


def test_machines_run_by_the_feed_of_the_day():
    s = size(demo("family"))
    share = s.stock.mean_feed / s.stock.peak_feed
    assert s.air.mean_count == np.ceil(share * s.air.required / s.air.device_flow)
    assert s.air.mean_power == pytest.approx(s.air.wire_power * s.air.mean_count / s.air.count)
    assert s.standby.daily_energy == pytest.approx(86400 * s.standby.mean_watts)


UVI = 2210 * 365.25 * 24 / 1000 / 5000
"""kWh/kg: nearly 5 t a year with 2.21 kW, Rakocy et al., abstract of the UVI system."""
LOVE = 159.0
"""kWh/kg of tilapia, heat included, Love et al. 2015; from memory."""


@pytest.mark.parametrize(("name", "before"), [("family", 39.0), ("school", 37.0)])
def test_energy_is_near_what_small_systems_draw(name, before):
    """Between a published large system and a published small one, and less than it was.

    UVI, nearly 5 t a year: 3.9 kWh/kg, Rakocy et al.  A raft system in Baltimore: 19,526 kWh a year,
    heat included (Love et al. 2015, abstract seen), 159 kWh for each kg of tilapia (from memory).
    The difference to the large one is not tuned away:
    whole machines from a table, stones at 0.7 to 0.9 m that catch 3 %, water at 30 °C, an
    efficiency at the wall of a fifth to a third, and one batch, so that the mean day is half the
    biggest while pump and filter run on.  By physics alone air and water take 1.5 to 4.4.
    """
    s = size(demo(name))
    drawn = s.standby.energy_for_harvest / 3.6e6
    assert UVI < drawn < min(before, LOVE)
    least = s.air.adiabatic_power * s.stock.mean_feed / s.stock.peak_feed + s.pump.hydraulic_power
    assert least / s.stock.harvest / 3.6e6 < drawn / 3


def test_energy_is_said_beside_a_published_system():
    words = check_of(size(demo("family")), "Energy for each weight of fish").words
    assert "drew 1.77 kWh/lb (3.9 kWh/kg)" in words


# --- no machine of the kind ------------------------------------------------------------------------


@pytest.mark.parametrize("depth", [2.0, 2.5, 3.0, 3.05, 4.0, 4.5])
def test_deep_stones_take_a_kind_that_gives_the_pressure(depth):
    """Never air 0, and never kilowatts: two of the smallest vane pumps at most."""
    s = size(demo("family", tank__depth=min(depth + 0.1, 4.57), air__stone_depth=depth))
    shallow = size(demo("family"))
    assert s.air.provided >= s.air.required
    assert s.air.wire_power <= 580.0
    assert s.flow.required < 1.5 * shallow.flow.required


def test_a_kind_that_cannot_names_those_that_can():
    s = size(demo("family", tank__depth=3.15, air__stone_depth=3.05, air__machine="regenerative"))
    words = check_of(s, "A machine of this kind gives the pressure").words
    assert "No regenerative blower gives" in words
    assert "rotary vane blower" in words
    assert s.air.device == "none"
    assert s.flow.required < 30 * GALLON / 60
    nearer = size(
        demo("family", tank__depth=2.5, air__stone_depth=2.2, air__machine="regenerative")
    )
    check = check_of(nearer, "Watts over those of the kind that draws least")
    assert not check.ok
    assert "diaphragm air pump brings that air for" in check.words


# --- height ------------------------------------------------------------------------------------------


def test_height_says_what_would_undo_it():
    """At 7,000 ft: the oxygen that takes twice sea level's air, and the alkalinity, each tried."""
    high = demo("family", site__elevation=7000 * FOOT)
    s = size(high)
    check = check_of(s, "Air needed over that at sea level")
    assert not check.ok
    assert "Keeping 4.44 mg/L instead of 5 mg/L" in check.words
    low = size(with_values(high, {"site.elevation": 0.0}))
    eased = size(with_values(high, {"keep.oxygen": s.air.sea_level_oxygen}))
    assert eased.air.required / low.air.required == pytest.approx(2.0, rel=0.03)
    assert check_of(size(demo("family")), "Air needed over that at sea level").ok


def test_the_alkalinity_named_undoes_the_low_limit_on_ammonia():
    from rsdesign.sizing.checks.advice import alkalinity_that_undoes

    high = demo("family", site__elevation=6000 * FOOT)
    s = size(high)
    assert s.gas.ammonia_limit < 0.7e-3
    alkalinity = alkalinity_that_undoes(s)
    words = check_of(s, "Air needed over that at sea level").words
    assert "alkalinity of" in words
    eased = size(with_values(high, {"keep.alkalinity": alkalinity}))
    assert eased.gas.ammonia_limit == pytest.approx(1e-3, rel=0.03)
    assert eased.filter.required < 0.6 * s.filter.required


# --- carbon dioxide in the busiest hour -----------------------------------------------------------------


def test_carbon_dioxide_is_judged_in_the_busiest_hour():
    """The fish's share times the hour factor; 4.1 mg/L for the family by hand."""
    s = size(demo("family", **COOL))
    fish = 1.375 * s.loads.fish_oxygen
    expected = s.loads.carbon_dioxide + (s.design.wastes.hour_factor - 1) * fish
    assert s.loads.peak_carbon_dioxide == pytest.approx(expected, rel=2e-3)
    assert s.gas.peak_carbon_dioxide * 1e3 == pytest.approx(4.1, abs=0.05)
    part = next(p for p in s.parts if p.name == "carbon dioxide")
    assert part.provided == s.gas.peak_carbon_dioxide
    deep = size(demo("family", tank__depth=3.1, air__stone_depth=3.0))
    assert deep.gas.peak_carbon_dioxide > 0.015 > deep.gas.carbon_dioxide
    assert next(p for p in deep.parts if p.name == "carbon dioxide").margin < 1


# --- arrays and trends ------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("path", "values"),
    [
        ("air.flow", np.linspace(0.0, 0.05, 41)),
        ("air.plate_watts", np.linspace(0.0, 6000.0, 61)),
        ("air.stone_depth", np.linspace(0.3, 4.4, 42)),
        ("site.elevation", np.linspace(0.0, 2200.0, 23)),
        ("source.salinity", np.linspace(0.0, 30.0, 16)),
        ("goal.fish", np.geomspace(5.0, 5000.0, 31)),
    ],
)
def test_arrays_equal_singles_and_trends_hold(path, values):
    base = {"tank__width": None, "tank__depth": 4.5, "air__stone_depth": 0.8}
    many = size(demo("family", **{**base, path.replace(".", "__"): values}))
    for place in range(0, len(values), 5):
        one = {**base, path.replace(".", "__"): float(values[place])}
        alone = size(demo("family", **one))
        for figure in figures_of("air", type(alone.air)):
            a, b = getattr(many.air, figure.name), getattr(alone.air, figure.name)
            a = a[place] if np.ndim(a) else a
            same = a == b if isinstance(b, str) else a == pytest.approx(b, rel=1e-9, abs=1e-15)
            assert same, (figure.path, values[place], a, b)
    rising = {"air.flow": "provided", "air.plate_watts": "provided", "site.elevation": "required",
              "source.salinity": "required", "goal.fish": "required"}  # fmt: skip
    if path in rising:
        assert (np.diff(getattr(many.air, rising[path])) >= 0).all()
    else:
        assert (np.diff(many.air.required) < 0).all()
    assert (np.asarray(many.air.peak_oxygen) <= np.asarray(many.air.peak_oxygen_all_air)).all()
    assert (np.asarray(many.air.wire_power) >= 0).all()


def test_old_files_that_name_a_kind_still_open():
    for kind in ("diaphragm", "regenerative", "rotary vane", "lobe"):
        assert size(demo("family", air__machine=kind)).air.kind == kind
    assert value_of(Design(), "air.machine") is None
