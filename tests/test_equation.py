"""The recorder and the working: what a figure came from, step by step."""

import importlib
import inspect
import os

import numpy as np
import pytest
from designs import DEMOS, demo

from rsdesign import size
from rsdesign.core.equation import record, working
from rsdesign.core.formula import FormulaError, code_of, latex_of, plain_formula, symbols
from rsdesign.core.units import from_plain
from rsdesign.equations import heat, pipes
from rsdesign.equations.fish.loads import ammonia_production, feed_nitrogen, nitrifier_oxygen
from rsdesign.report.method_book import equations
from rsdesign.sizing.system import figures
from rsdesign.sizing.working import FIGURES, worked, working_text


def test_a_chain_is_found_by_identity():
    with record() as steps:
        ammonia = ammonia_production(1.0, 0.32)
        feed_nitrogen(1.0, 0.32)
        oxygen = nitrifier_oxygen(ammonia)
    assert [s.equation.name for s in working(steps, oxygen)] == [
        "fish.loads.ammonia_production", "fish.loads.nitrifier_oxygen",
    ]  # fmt: skip
    assert working(steps, 1.0) == []


def test_recording_ends_with_its_block():
    with record() as steps:
        pass
    ammonia_production(1.0, 0.32)
    assert steps == []


def test_recording_changes_no_result():
    with record():
        recorded = size(demo("family"))
    plain = size(demo("family"))
    for (figure, a), (_, b) in zip(figures(recorded), figures(plain), strict=True):
        assert a == b, figure.path


SECTIONS = ("Parameters\n-", "Returns\n-", "Notes\n-", "Formula: ", "Valid: ", "Source: ",
            "Examples\n-", "\n>>> ")  # fmt: skip


@pytest.mark.parametrize("about", equations(), ids=lambda about: about.name)
def test_docstrings_say_what_every_parameter_is(about):
    """In the sections that scientific packages use, each parameter in words with its unit."""
    module, _, name = about.name.rpartition(".")
    text = getattr(importlib.import_module(f"rsdesign.equations.{module}"), name).__doc__
    places = [text.find(part) for part in SECTIONS]
    assert -1 not in places, name
    assert places == sorted(places), name
    assert text[0].isupper() or text.startswith("pH "), name
    assert text.split("\n")[0].endswith("."), name
    for argument, kind in about.kinds.items():
        unit = (kind and kind.plain.label) or "-"
        words = symbols()[argument].words
        assert f"\n{argument} : " in text, argument
        assert f"    {words[:1].upper()}{words[1:]} [{unit}].\n" in text, argument


def test_help_shows_names_and_defaults_and_no_annotations():
    assert str(inspect.signature(pipes.long_side)) == "(width, sides=3.0)"
    assert "sides : float or array, default 3.0" in pipes.long_side.__doc__


def test_a_relation_that_hands_its_arguments_on_says_what_they_are():
    balance, rest = heat.heat_balance.equation, heat.equilibrium_temperature.equation
    assert list(rest.kinds) == list(balance.kinds)[1:]
    assert rest.kinds.items() <= balance.kinds.items()
    assert rest.result.name == "temperature"
    assert heat.equilibrium_temperature(40.0, 0.15, 2.0, 10.0) == pytest.approx(
        heat.equilibrium_temperature(air_temperature=40.0, humidity=0.15, wind=2.0, area=10.0)
    )


def test_the_formula_of_a_definition_is_read_from_its_code():
    about = pipes.pumps_needed.equation
    assert about.formula == "n"
    assert about.latex == r"n = \max\left(1, \lceil \frac{@flow}{@each} - 10^{-9} \rceil\right)"
    assert "Formula: n = most(1.0, ceil(ratio(flow, each) - 1e-9))\n" in pipes.pumps_needed.__doc__


def plain(a, b, c=2.0):
    """A formula."""
    step = a - b
    return 3.0 * a * a / (b - step) / c**2.0 + 1e-9  # a comment


def negative(a, b):
    return -1.0 * a * b - -2.0 * a


def branching(a):
    if a > 0:
        return a
    return -a


def test_code_becomes_latex_with_brackets_where_they_are_needed():
    assert latex_of(plain) == (
        r"\frac{3 \cdot @a^{2}}{\left(@b - \left(@a - @b\right)\right) \cdot @c^{2}} + 10^{-9}"
    )
    assert latex_of(negative) == r"-@a \cdot @b - \left(-2 \cdot @a\right)"
    assert code_of(plain) == "step = a - b; 3.0 * a * a / (b - step) / c**2.0 + 1e-9"


def cube_root(a):
    return np.cbrt(a)


@pytest.mark.parametrize(("function", "words"), [
    (branching, "more than return a formula"), (cube_root, "has no sign in print"),
])  # fmt: skip
def test_code_that_is_no_formula_is_refused(function, words):
    with pytest.raises(FormulaError, match=words):
        latex_of(function)


def half_last_digit(text: str) -> float:
    """Half of the last printed digit of a number."""
    digits = text.replace(",", "").lower()
    mantissa, _, exponent = digits.partition("e")
    decimals = len(mantissa.split(".")[1]) if "." in mantissa else 0
    whole = mantissa.lstrip("-").split(".")[0]
    if "." not in mantissa and len(whole) > FIGURES:
        decimals = FIGURES - len(whole)
    return 0.5 * 10.0 ** (int(exponent or 0) - decimals)


WHOLE = bool(os.environ.get("RSDESIGN_WHOLE"))
"""Every demo in both systems of units; the suite tries each demo in one."""


@pytest.mark.parametrize(
    ("system", "name"),
    [(system, name) for system in ("us", "metric") for name in DEMOS
     if WHOLE or (system == "metric") == (name == "school")],
)  # fmt: skip
def test_the_printed_numbers_give_the_printed_result(name, system):
    """Each step called on its printed quantities agrees within what rounding them can make."""
    design = demo(name)
    paths = [f.path for f, _ in figures(size(design)) if f.kind is not None]
    seen = set()
    for chain in worked(design, paths, system).values():
        for shown in chain:
            if id(shown.step) in seen or shown.value in ("∞", "none"):
                continue
            seen.add(id(shown.step))
            check_step(shown, system)


def check_step(shown, system):
    about, given = shown.step.equation, dict(shown.step.given)
    printed = {}
    for line in shown.lines:
        kind, value = about.kinds[line.name], given[line.name]
        if not isinstance(value, float) or line.value in ("∞", "none", "-∞"):
            continue
        unit = kind.shown(system)
        number = float(line.value.replace(",", ""))
        printed[line.name] = (number * unit.factor + unit.offset,
                              half_last_digit(line.value) * unit.factor)  # fmt: skip
    centre = {**given, **{k: v for k, (v, _) in printed.items()}}
    result = about.function(**centre)
    spread = 0.0
    for name, (value, half) in printed.items():
        ends = []
        for change in (-half, half):
            try:
                ends.append(about.function(**{**centre, name: value + change}))
            except (ValueError, ZeroDivisionError, OverflowError):
                continue
        spread += max((abs(e - result) for e in ends), default=0.0)
    unit = about.result.shown(system)
    expected = float(shown.value.replace(",", ""))
    allowed = 1.05 * spread / unit.factor + half_last_digit(shown.value) * 1.0001
    steps = any(w in about.latex for w in (r"\lceil", r"\lfloor", r"\min\{", "arg", "ge 0.3"))
    if steps:  # whole numbers jump: the printed inputs may fall on the other side of a step
        allowed += abs(expected)
    got = from_plain(result, unit)
    assert abs(got - expected) <= allowed, (about.name, shown.lines, got, expected, allowed)


@pytest.mark.parametrize("part", ["filter", "tank", "air", "pump", "flow", "solids", "fish",
                                  "filter.required", "water", "gas", "standby"])  # fmt: skip
def test_the_working_of_every_part_is_text(part):
    text = working_text(size(demo("family")), part, "us")
    assert "source:" in text
    assert "  = " in text
    assert "\\" not in text


def test_formula_as_plain_text():
    assert plain_formula(r"A = \frac{@load}{@rate}") == "A = load / rate"
    assert "sqrt(" in plain_formula(r"v = \sqrt{\frac{@a}{@b}}")


def test_arrays_are_recorded_too():
    with record() as steps:
        ammonia_production(np.array([1.0, 2.0]), 0.32)
    assert steps[0].result.shape == (2,)
