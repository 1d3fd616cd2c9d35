"""The LaTeX of every equation against its code: numbers put into both agree to 1e-9.

What the parser cannot read, because it is a root search, a table or a sum over rows, stands in
``latex_exceptions.csv`` with the reason; an exception that is not needed fails.
"""

import csv
import random
import re
import warnings
from pathlib import Path

import numpy as np
import pytest

from rsdesign.core.formula import symbols
from rsdesign.report.method_book import equations

EQUATIONS = {e.name: e for e in equations()}
FILE = Path(__file__).with_name("latex_exceptions.csv")
with FILE.open(encoding="utf-8", newline="") as file:
    EXCEPTIONS = {row["function"]: row["reason"] for row in csv.DictReader(file)}

SPANS = {
    "temperature": (5.0, 35.0),
    "pH": (6.0, 9.0),
    "fraction": (0.05, 0.95),
    "concentration": (1e-4, 0.3),
    "pressure": (8e4, 1.2e5),
    "elevation": (0.0, 3000.0),
    "density": (900.0, 1200.0),
    "salinity": (0.0, 30.0),
    "angle": (-0.6, 0.6),
    "days": (5.0, 200.0),
    "count": (1.0, 9.0),
}
"""What a number of a kind is drawn from; others from 0.2 to 3."""

SAMPLES = {
    "water.carbonate.ph": {"alkalinity": (0.05, 0.3), "carbon_dioxide": (1e-3, 3e-2)},
    "fish.growth.days_to": {"weight": (0.01, 0.1), "harvest_weight": (0.3, 1.0),
                            "base_temperature": (0.0, 10.0), "temperature": (20.0, 30.0)},
    "fish.growth.specific_growth_rate": {"weight": (0.1, 0.2), "later_weight": (0.3, 0.9)},
    "air.aeration.transfer_coefficient": {"start": (0.1, 0.2), "end": (0.3, 0.4),
                                            "saturation": (0.5, 0.9)},
    "pumps.pumps.quadratic_operating_point": {"static_head": (0.2, 1.0),
                                              "shutoff_head": (1.5, 3.0)},
    "pumps.flows.carbon_dioxide_flow": {"equilibrium": (0.001, 0.01), "limit": (0.05, 0.2),
                                          "source": (0.001, 0.01)},
    "air.definitions.air_over_sea_level": {"saturation": (0.1, 0.2), "oxygen": (0.01, 0.02)},
    "fish.loads.exchange_to_hold": {"source": (0.001, 0.01), "concentration": (0.05, 0.2)},
    "fish.loads.flow_to_hold": {"inlet": (0.001, 0.01), "outlet": (0.05, 0.2)},
    "biofilter.definitions.area_where_flow_allows": {"flow": (2.0, 3.0), "least_flow": (0.2, 1.0)},
    "pipes.definitions.pump_at_head": {"head": (0.2, 1.0), "shutoff_head": (2.0, 3.0)},
    "fish.peaks.cohort_feed": {"age": (5.0, 90.0), "cycle": (100.0, 200.0),
                                  "base_temperature": (0.0, 4.0)},
    "solids.loop.steady_decaying_solids": {"ammonia": (1.0, 2.0), "plants_nitrogen": (0.0, 0.5),
                                     "nitrate_limit": (0.1, 0.3), "nitrate_source": (0.001, 0.05)},
    "pumps.flows.oxygen_flow": {"oxygen_demand": (2.0, 3.0), "transfer": (0.2, 1.0),
                                  "oxygen": (0.01, 0.05), "return_oxygen": (0.1, 0.2)},
    "biofilter.ripening.growing_batch_time": {"start": (2.0, 3.0), "level": (0.2, 1.0)},
    "solids.settling.stokes_velocity_in": {"diameter": (1e-5, 1e-4)},
}  # fmt: skip
"""Ranges for equations whose sense needs an order of its arguments."""


def drawn(about, rng) -> dict:
    spans = SAMPLES.get(about.name, {})
    values = {}
    for name, kind in about.kinds.items():
        low, high = spans.get(name, SPANS.get(kind.name if kind else "", (0.2, 3.0)))
        values[name] = rng.uniform(low, high)
    return values


def split(latex: str) -> list[str]:
    """The relation and its definitions, which stand behind commas at the outermost level."""
    parts, depth, start = [], 0, 0
    for place, letter in enumerate(latex):
        depth += (letter in "{(" and 1) or (letter in "})" and -1) or 0
        if letter == "," and depth == 0:
            parts.append(latex[start:place])
            start = place + 1
    return [*parts, latex[start:]]


def expression(latex: str, names: dict):
    """The right-hand side as a sympy expression, definitions put in."""
    import sympy
    from sympy.parsing.latex import parse_latex

    def read(text: str):
        text = re.sub(r"\\max\s*\\left\(", r"f(", text)
        text = re.sub(r"\\min\s*\\left\(", r"g(", text).replace(r"\left(", "(")
        text = text.replace(r"\right)", ")").replace(r"\left[", "(").replace(r"\right]", ")")
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            found = parse_latex(text, backend="antlr", strict=True)
        return found.replace(sympy.Function("f"), sympy.Max).replace(sympy.Function("g"), sympy.Min)

    def hidden(text: str) -> str:
        return re.sub(r"@(\w+)", lambda m: "z_{" + str(names[m[1]]) + "}", text)

    relation, *definitions = split(hidden(latex))
    result = read(relation.split("=", 1)[1])
    for definition in definitions:
        left, right = definition.split("=", 1)
        result = result.subs(read(left), read(right))
    return result


def with_integrals(number):
    """The same with each integral worked out by quadrature: sympy looks long for one with a corner in it."""
    import sympy
    from scipy.integrate import quad

    def worked_out(integral):
        ((letter, low, high),) = integral.limits
        inside = sympy.lambdify(letter, integral.function)
        return sympy.Float(quad(inside, float(low), float(high), limit=200)[0], 20)

    return number.replace(lambda part: isinstance(part, sympy.Integral), worked_out)


def agreement(about) -> float:
    """The worst relative difference between LaTeX and code over five draws."""
    import sympy

    names = {name: place for place, name in enumerate(about.kinds)}
    form = expression(about.latex, names)
    letters = [sympy.Symbol(f"z_{{{place}}}") for place in names.values()]
    if form.free_symbols - set(letters) - {sympy.Symbol("pi")}:
        return np.inf
    worst, rng = 0.0, random.Random(about.name)
    for _ in range(5):
        values = drawn(about, rng)
        number = form.subs(dict(zip(letters, values.values(), strict=True)))
        number = with_integrals(number.subs(sympy.Symbol("pi"), sympy.pi))
        number = float(number.evalf(20))
        code = float(about.function(**values))
        worst = max(worst, abs(number - code) / max(abs(code), 1e-300))
    return worst


@pytest.mark.parametrize("name", EQUATIONS)
def test_latex_agrees_with_the_code(name):
    about = EQUATIONS[name]
    if name not in EXCEPTIONS:
        assert agreement(about) <= 1e-9
        return
    try:
        needless = agreement(about) <= 1e-9
    except Exception:  # the parser or the numbers refuse: what the exception says
        needless = False
    assert not needless, f"{name} needs no exception"


def test_exceptions_are_known_and_say_why():
    assert not set(EXCEPTIONS) - set(EQUATIONS)
    assert all(len(reason) > 10 for reason in EXCEPTIONS.values())


GIVEN_ON_THE_LEFT = {
    "biofilter.areas.loop_outlet": "two balances in the level that is looked for",
    "pipes.pipes.gravity_flow": "the energy equation in the speed that is looked for",
    "solids.loop.agreed_flow": "the flow given is the flow needed",
}
"""Relations that are written as they stand and solved for something inside them."""


def letters(about) -> dict[str, str]:
    """The symbol of every argument as it is printed."""
    known = symbols()
    return {
        name: about.words.get(name, ("", ""))[0] or known[name].symbol
        for name in about.signature.parameters
        if name in known or name in about.words
    }


@pytest.mark.parametrize("name", EQUATIONS)
def test_no_letter_stands_for_two_things_in_one_equation(name):
    about = EQUATIONS[name]
    printed = letters(about)
    twice = [s for s in set(printed.values()) if list(printed.values()).count(s) > 1]
    assert not twice, f"{name} prints {twice} for different things"
    left = about.latex.split("=")[0].strip()
    if name not in GIVEN_ON_THE_LEFT:
        same = [argument for argument, symbol in printed.items() if symbol == left]
        assert not same, f"{name} prints {left} for its result and for {same}"
