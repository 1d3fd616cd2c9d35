"""One design has one answer: with_taken_values it the values that it took leaves every figure as it was."""

import math

import numpy as np
import pytest
from designs import CHOICES, DEMOS, demo
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from rsdesign import Design, size
from rsdesign.design.model import FIELDS, problems, value_of, with_values
from rsdesign.sizing.system import figures
from rsdesign.sizing.taken import FIGURES, READINGS, ROWS, SECTIONS, taken, with_taken_values

NEAR = 1e-9


def changed(before, after) -> list[str]:
    """The figures that differ, with both values."""
    found = []
    for (figure, old), (_, new) in zip(figures(before), figures(after), strict=True):
        if isinstance(old, str) or old is None:
            same = old == new
        else:
            same = old == new or math.isclose(float(old), float(new), rel_tol=NEAR, abs_tol=1e-18)
            same = same or (math.isnan(float(old)) and math.isnan(float(new)))
        if not same:
            found.append(f"{figure.path}: {old} -> {new}")
    for old, new in zip(before.parts, after.parts, strict=True):
        assert (old.name, old.form) == (new.name, new.form)
        if not math.isclose(float(old.margin), float(new.margin), rel_tol=NEAR):
            found.append(f"margin of {old.name}: {old.margin} -> {new.margin}")
    return found


def judged(design: Design, one_by_one: bool = True) -> dict[str, list[str]]:
    """For each choice told, and for all together, the figures that it changed."""
    before = size(design)
    values = taken(before)
    with_taken_valuess = {"all together": without_twins(values)}
    if one_by_one:
        for path in values:
            told = {path: values[path]}
            if path in ("tank.width", "tank.length") and design.tank.shape == "rectangle":
                told = {p: values[p] for p in ("tank.width", "tank.length")}  # given together
            with_taken_valuess[path] = told
    found = {}
    for name, told in with_taken_valuess.items():
        after = with_taken_values(design, told)
        assert not problems(after), (name, problems(after))
        moved = changed(before, size(after))
        if moved:
            found[name] = moved
    return found


def without_twins(values: dict) -> dict:
    """All of the values, but one of two that say the same in different ways."""
    return {path: value for path, value in values.items() if path != "goal.harvest"}


def words(found: dict) -> str:
    return "\n".join(
        f"{path} moves {len(moved)}: {'; '.join(moved[:4])}" for path, moved in found.items()
    )


def test_every_choice_that_may_be_left_out_is_taken_or_says_why_not():
    for path, entry in FIELDS.items():
        if entry.optional:
            known = path in FIGURES or path in ROWS or path in READINGS
            assert known != (entry.section in SECTIONS), path
    for path in (*FIGURES, *ROWS, *READINGS):
        assert FIELDS[path].optional, path


@pytest.mark.parametrize("name", DEMOS)
def test_a_demo_told_what_it_took_stays_as_it_was(name):
    found = judged(demo(name))
    assert not found, words(found)


SAID = {
    "tank.width": (2.0, 8.0),
    "solids.area": (0.2, 20.0),
    "filter.media_volume": (0.05, 20.0),
    "filter.rate": (0.1e-3 / 86400, 0.6e-3 / 86400),
    "filter.depth": (0.3, 2.0),
    "pump.flow": (0.0005, 0.05),
    "pump.drain_fall": (0.05, 0.6),
    "pump.model": FIELDS["pump.model"].choice.options(),
    "pump.pipe": FIELDS["pump.pipe"].choice.options(),
    "pump.drain_pipe": FIELDS["pump.drain_pipe"].choice.options(),
    "pump.count": (1.0, 2.0, 3.0),
    "air.flow": (0.001, 0.5),
    "air.plate_watts": (5.0, 20000.0),
    "air.device": FIELDS["air.device"].choice.options(),
    "air.spare": (0.0, 1.0, 2.0),
    "air.efficiency": (0.005, 0.1),
    "air.count": (1.0, 2.0, 3.0, 5.0),
    "stock.interval": (28.0, 70.0),
}
"""What a person may have said, each or none of it."""

KINDS_OF = {
    "filter.type, filter.medium": (
        ("moving bed", "carriers"), ("trickling", "plastic rings"), ("submerged", "gravel"),
        ("bead", "beads"),
    ),
    "filter.vessel": FIELDS["filter.vessel"].choice.options(),
    "solids.settler": FIELDS["solids.settler"].choice.options(),
    "solids.second": FIELDS["solids.second"].choice.options(),
    "tank.shape": FIELDS["tank.shape"].choice.options(),
    "tank.split": FIELDS["tank.split"].choice.options(),
    "air.machine": FIELDS["air.machine"].choice.options(),
    "pump.kind": ("pump", "pump", "pump", "airlift"),
    "pump.velocity": (0.3, 1.0, 1.0, 1.9, 3.0),
    "pump.drain_velocity": (0.5, 1.0, 1.0, 1.4, 3.0),
}  # fmt: skip


@st.composite
def made(draw) -> Design:
    """A design with everything drawn; what cannot be is drawn anew."""
    values = {path: draw(st.floats(*span)) for path, span in CHOICES.items()}
    for paths, options in KINDS_OF.items():
        option = draw(st.sampled_from(options))
        names = paths.split(", ")
        values.update(zip(names, option if len(names) > 1 else (option,), strict=True))
    if draw(st.booleans()):
        values["goal.harvest"] = 10 ** draw(st.floats(1.3, 4.5)) / (365.25 * 86400)
    else:
        values["goal.fish"] = 10 ** draw(st.floats(1.0, 4.0))
    for path, span in SAID.items():
        if draw(st.integers(0, 3)) == 0:
            words_or_counts = isinstance(span[0], str) or len(span) > 2
            values[path] = draw(st.sampled_from(span) if words_or_counts else st.floats(*span))
    if values["tank.shape"] == "rectangle" and "tank.width" in values:
        values["tank.length"] = 3 * values["tank.width"]
    design = with_values(Design(), values)
    assume(not problems(design))
    return design


@settings(deadline=None, max_examples=40, suppress_health_check=list(HealthCheck))
@given(made())
def test_any_design_told_what_it_took_stays_as_it_was(design):
    found = judged(design)
    said = {p: value_of(design, p) for p in FIELDS if value_of(design, p) != value_of(Design(), p)}
    assert not found, f"{words(found)}\n{said}"


def test_a_told_number_of_air_machines_chooses_their_size():
    """Two machines told bring the air between them: each of half the need, not of all of it."""
    open_design = demo("commercial")
    need = size(open_design).air.in_all
    for so_many in (2.0, 3.0, 6.0):
        told = size(with_values(open_design, {"air.count": so_many})).air
        assert told.count == so_many
        assert told.total >= need * (1 - 1e-9)
    many = size(with_values(open_design, {"air.count": 6.0})).air
    few = size(with_values(open_design, {"air.count": 2.0})).air
    assert many.device_flow < few.device_flow


def test_a_number_of_air_machines_is_chosen_alike_for_one_design_and_for_many():
    from rsdesign.equations.air import devices as air_devices

    flows = np.geomspace(0.002, 3.0, 25)
    for so_many in (None, 1.0, 2.0, 5.0):
        many = air_devices.choose(flows, 11000.0, 0.93, so_many=so_many)
        for place, flow in enumerate(flows):
            one = air_devices.choose(float(flow), 11000.0, 0.93, so_many=so_many)
            assert (many.name[place], many.count[place]) == (one.name, one.count), (so_many, flow)


def test_watts_on_a_plate_name_no_machine_that_could_be_kept():
    values = taken(size(with_values(demo("family"), {"air.plate_watts": 333.0})))
    assert not {"air.machine", "air.device", "air.count"} & set(values)
    assert "air.flow" in values
