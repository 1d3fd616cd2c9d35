"""When something stops: closed form against steps, conservation, trends, words, command."""

import json

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rsdesign import load, size
from rsdesign.__main__ import main
from rsdesign.core.choices import DesignError
from rsdesign.core.tables import data_folder
from rsdesign.design.model import with_values
from rsdesign.equations.power import backup
from rsdesign.report import outage as outagereport
from rsdesign.report import outage_words
from rsdesign.studies.outage import study as outage
from rsdesign.studies.outage.course import course
from rsdesign.studies.outage.tank import demand, tank_at

DEMOS = ("family", "school", "commercial")


def demo(name: str):
    return load(data_folder() / "designs" / f"{name}.toml")


@pytest.fixture(scope="module", params=DEMOS)
def sizing(request):
    return size(demo(request.param))


MG = 1e-3


def steps(start, critical, full, volume, use, surface, times):
    """The same balance by many small steps of a fourth-order method, as an outside check."""
    level, found, before = start, [], 0.0

    def speed(c):
        return (surface * (full - c) - use * min(1.0, c / critical)) / volume

    for until in times:
        n = 4000
        h = (until - before) / n
        for _ in range(n):
            a = speed(level)
            b = speed(level + h / 2 * a)
            c = speed(level + h / 2 * b)
            d = speed(level + h * c)
            level += h / 6 * (a + 2 * b + 2 * c + d)
        before = until
        found.append(level)
    return np.array(found)


@pytest.mark.parametrize("surface", [0.0, 4e-5, 1e-3])
@pytest.mark.parametrize("start", [8.0, 5.0, 2.0])
def test_the_closed_form_agrees_with_small_steps(surface, start):
    given_ = (start * MG, 3 * MG, 7.5 * MG, 6.0, 1.5e-5, surface)
    times = [300.0, 1500.0, 6000.0]
    closed = backup.oxygen_after(np.array(times), *given_)
    stepped = steps(*given_, times)
    assert closed == pytest.approx(stepped, rel=1e-6)


@settings(max_examples=200, deadline=None)
@given(
    start=st.floats(0.5, 12), full=st.floats(5, 12), use=st.floats(1e-7, 1e-4),
    surface=st.floats(0, 1e-3), share=st.floats(0.05, 0.99),
)  # fmt: skip
def test_time_and_course_are_inverses(start, full, use, surface, share):
    level = share * start * MG
    fixed = (start * MG, 3 * MG, full * MG, 5.0, use, surface)
    time = float(backup.time_until(level, *fixed))
    after = float(backup.oxygen_after(1e7, *fixed))
    if np.isfinite(time):
        assert float(backup.oxygen_after(time, *fixed)) == pytest.approx(level, rel=1e-7)
    else:
        assert after >= level * (1 - 1e-9)
    assert after >= 0.0


def test_time_until_is_time_to_where_nothing_comes_back():
    fixed = (0.003, 0.0055)
    plain = backup.time_to(*fixed, volume=6.0, oxygen_demand=1.4e-5)
    course_ = backup.time_until(*fixed, 0.003, 0.0075, 6.0, 1.4e-5, 0.0)
    assert course_ == pytest.approx(plain, rel=1e-12)


def test_arrays_of_designs_equal_single_ones():
    start = np.linspace(2, 8, 13) * MG
    use = np.linspace(1e-6, 3e-5, 13)
    many = backup.time_until(0.002, start, 0.003, 0.0075, 6.0, use, 4e-5)
    for one, c, r in zip(many, start, use, strict=True):
        single = backup.time_until(0.002, float(c), 0.003, 0.0075, 6.0, float(r), 4e-5)
        assert one == pytest.approx(single, rel=1e-12)


def test_minutes_take_arrays_of_designs():
    design = with_values(demo("family"), {"goal.harvest": None, "goal.fish": None})
    fish = np.array([60.0, 90.0, 120.0])
    design = with_values(design, {"goal.fish": fish})
    level = design.keep.stress_oxygen
    many = outage.minutes(size(design), "all power", level)
    for one, n in zip(many, fish, strict=True):
        alone = size(with_values(design, {"goal.fish": float(n)}))
        assert one == pytest.approx(outage.minutes(alone, "all power", level), rel=1e-9)


def test_mean_breathing_is_the_mean_of_the_factor():
    t = (np.arange(100_000) + 0.5) / 100_000 * 30_000.0
    factor = backup.breathing_factor(t, 1.4, 0.7, 28_800.0)
    assert backup.mean_breathing(30_000.0, 1.4, 0.7, 28_800.0) == pytest.approx(factor.mean())


def test_a_backup_of_its_share_holds_the_level():
    g = backup.conductance(2e-5, 0.0078, 0.95, 0.005)
    share = backup.backup_share(1.2e-5, g, 0.0078, 0.95, 0.004)
    assert share * g * (0.95 * 0.0078 - 0.004) == pytest.approx(1.2e-5)
    assert backup.backup_share(1.2e-5, g, 0.0078, 0.95, 0.0079) == np.inf


def test_ten_times_finer_steps_change_the_course_by_less_than_a_millionth(sizing):
    for failure in ("all power", "air only", "pump only"):
        coarse = course(sizing, failure)[1]
        fine = course(sizing, failure, step=4.5)[1][::10]
        assert np.abs(coarse - fine).max() / coarse[0] < 1e-6


def test_the_course_is_the_closed_form_where_the_meal_does_not_wear_off(sizing):
    changed = with_values(sizing.design, {"safety.resting": 1.0, "wastes.hour_factor": 1.0})
    same = size(changed)
    tank = tank_at(same)
    times, levels = course(same)
    closed = backup.oxygen_after(
        times, float(tank.start), float(changed.keep.stress_oxygen), float(tank.saturation),
        float(tank.volume), float(demand(tank, "all power")), float(tank.surface_transfer),
    )  # fmt: skip
    assert levels == pytest.approx(closed, rel=1e-9, abs=1e-12)


def test_oxygen_is_conserved_over_a_course(sizing):
    """What the surface brought less what was used is what the water lost; use by the trapezoid."""
    d, tank = sizing.design, tank_at(sizing)
    times, levels = course(sizing, step=2.0)
    critical = d.keep.stress_oxygen
    breathing = backup.breathing_factor(
        times, d.wastes.hour_factor, d.safety.resting, d.safety.digestion
    )
    use = (tank.waste + tank.fish * breathing / d.wastes.hour_factor) * np.minimum(
        1, levels / critical
    )
    brought = tank.surface_transfer * (tank.saturation - levels)
    change = np.trapezoid(brought - use, times) / tank.volume
    assert levels[-1] - levels[0] == pytest.approx(change, rel=2e-6)


def test_a_backup_turns_the_course_up(sizing):
    changed = with_values(sizing.design, {"safety.backup": "by itself"})
    for kind in ("battery air", "inverter", "oxygen bottle", "generator"):
        other = size(with_values(changed, {"safety.backup_kind": kind}))
        _, levels = course(other, backed=True)
        assert levels.min() > 0.9 * changed.safety.alarm_oxygen, kind
        assert course(other)[1].min() < 0.2 * changed.safety.alarm_oxygen


@pytest.mark.parametrize(
    ("path", "lower", "higher"),
    [
        ("safety.water_now", 24.0, 30.0),
        ("safety.fish_now", 10.0, 40.0),
        ("wastes.oxygen_per_feed", 0.35, 0.6),
        ("wastes.hour_factor", 1.1, 2.0),
    ],
)
def test_hotter_fuller_and_fed_fish_have_less_time(path, lower, higher):
    found = []
    for value in (lower, higher):
        s = size(with_values(demo("family"), {path: value}))
        changed = with_values(
            s.design, {"safety.start_oxygen": 0.0055, "safety.since_feeding": 0.0}
        )
        s = size(changed)
        found.append(float(outage.minutes(s, "all power", 0.003, today=True)))
    assert found[0] > found[1]


def test_hungry_fish_have_more_time_and_the_levels_come_in_order(sizing):
    found = outage.study(sizing)
    for failure in ("all power", "air only"):
        times = [found.time(failure, level) for level in ("alarm", "stress", "deadly")]
        for t in times:
            assert t.short <= t.likely <= t.long
        assert times[0].likely < times[1].likely < times[2].likely
    for level in ("alarm", "stress", "deadly"):
        all_off, air_off = (found.time(f, level) for f in ("all power", "air only"))
        assert air_off.likely <= all_off.likely
        assert found.time("all power", level, today=True).likely >= all_off.likely
    moved = dict(outage.sensitivity(sizing))
    base = moved["as on the peak day"]
    assert moved["half the fish"] > base
    assert moved["12 hours after the last meal"] > base > moved["started 1 mg/L lower"]


def test_twice_as_deep_has_more_time():
    one, two = (
        size(
            with_values(demo("family"), {"tank.depth": depth, "tank.width": 3.0, "tank.count": 2.0})
        )
        for depth in (0.8, 1.6)
    )
    level = one.design.keep.stress_oxygen
    start = {"safety.start_oxygen": 0.0055}
    one, two = (size(with_values(s.design, start)) for s in (one, two))
    a, b = (float(outage.minutes(s, "all power", level, today=True)) for s in (one, two))
    assert b > 1.8 * a


def test_run_gives_a_table():
    table = outage.run(demo("family"), duration=3600.0)
    assert table.index.name == "time"
    assert list(table.columns) == ["likely", "short", "long", "backed"]
    assert (table >= 0).all().all()
    assert (table["short"] <= table["long"]).all()
    assert not table.isna().any().any()


def test_the_battery_that_was_sized_runs_for_the_time():
    need = outage.needs(size(demo("family")))
    assert need.owned_time is None
    owned = size(with_values(demo("family"), {"safety.battery": float(need.battery)}))
    assert outage.needs(owned).owned_time == pytest.approx(need.run_time)
    assert "battery you own" in outagereport.outage_text(outage.study(owned), "us")


def test_a_failure_without_a_course_is_a_sentence():
    s = size(demo("family"))
    with pytest.raises(DesignError, match="No course of oxygen"):
        course(s, "leak")
    with pytest.raises(DesignError, match="does not stop the air"):
        outage.minutes(s, "pump only", 0.003)


def test_five_boxes_each_with_a_first_act_and_an_order_to_restart(sizing):
    boxes = outage_words.boxes(outage.study(sizing))
    assert len(boxes) == 5
    assert len({b["title"] for b in boxes}) == 5
    for box in boxes:
        assert box["first"]
        assert box["restart"]
        assert "nan" not in json.dumps(box)


def test_checks_say_when_nothing_stands_ready():
    changes = {
        "none": (False, "There is no backup"),
        "by hand": (False, "works after"),
        "by itself": (True, "works after"),
    }
    for backup_, (ok, words) in changes.items():
        s = size(with_values(demo("family"), {"safety.backup": backup_}))
        first = outage_words.checks(outage.study(s))[0]
        assert bool(first.ok) is ok
        assert words in first.words


@pytest.mark.parametrize("command", ["outage", "water"])
@pytest.mark.parametrize("units", ["us", "metric"])
def test_the_commands_speak(command, units, capsys):
    path = str(data_folder() / "designs" / "family.toml")
    assert main([command, path, "--units", units]) == 0
    text = capsys.readouterr().out
    assert "nan" not in text.replace("Ordinance", "")
    assert main([command, path, "--units", units, "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["answer"] in text
