"""Every public function says in words what it takes, gives and refuses, and shows a call."""

import ast
import inspect
import re
import textwrap
import types

import pytest

import rsdesign
from rsdesign import design, report, season, sizing, studies, teaching
from rsdesign.core import units

REFUSALS = ("DesignError", "ExerciseError", "RefusedError", "UnitError")


def _functions(module) -> dict:
    """The functions of a module by their full names, and the methods of its public classes."""
    found = {}
    for name in module.__all__:
        thing = getattr(module, name)
        if isinstance(thing, types.ModuleType) and "equations" not in thing.__name__:
            inner = {n: f for n, f in vars(thing).items() if _written_in(thing, f)}
            if hasattr(thing, "__all__"):  # units
                continue
            named = name if name in inner and name != "plot" else None
            found |= {f"{thing.__name__}.{n}": f for n, f in inner.items() if named in (None, n)}
        elif inspect.isclass(thing):
            methods = {n: m for n, m in vars(thing).items() if inspect.isfunction(m)}
            found |= {m.__qualname__: m for n, m in methods.items() if n[0] != "_"}
        elif inspect.isfunction(inspect.unwrap(thing)):
            function = inspect.unwrap(thing)
            found[f"{function.__module__}.{function.__qualname__}"] = function
    return found


def _written_in(module, thing) -> bool:
    function = inspect.unwrap(thing) if callable(thing) else None
    public = inspect.isfunction(function) and function.__name__[0] != "_"
    return public and function.__module__ == module.__name__


PUBLIC: dict = {}
for _package in (rsdesign, design, sizing, studies, season, report, teaching, units):
    PUBLIC |= _functions(_package)


def test_the_public_functions_are_found():
    assert len(PUBLIC) >= 86
    assert {"rsdesign.sizing.system.size", "Design.with_", "rsdesign.report.plot.limits"} <= set(
        PUBLIC
    )
    for package in (rsdesign, design, sizing, studies, report, teaching):
        assert set(package.__all__) <= set(dir(package))


def _sections(text: str) -> dict[str, str]:
    """What stands below ``Parameters:`` and after ``Returns:``, ``Raises:``, ``Source:`` ..."""
    parts = re.split(r"^(Parameters|Returns|Raises|Source|Example):", text, flags=re.M)
    return dict(zip(parts[1::2], parts[2::2], strict=True))


@pytest.mark.parametrize("name", sorted(PUBLIC))
def test_a_public_function_is_described_in_words(name):
    function = PUBLIC[name]
    text = inspect.getdoc(function) or ""
    first = text.partition("\n")[0]
    assert first[:1].isupper() or first.startswith("pint"), first
    assert re.search(r"[.:]$|``\.$", first), f"one sentence: {first}"
    sections = _sections(text)
    code = ast.parse(textwrap.dedent(inspect.getsource(function))).body[0].args
    asked = [
        a for a in (*code.posonlyargs, *code.args, code.vararg, *code.kwonlyargs, code.kwarg) if a
    ]
    for argument in asked:
        if argument.arg == "self":
            continue
        words = re.search(
            rf"^    {argument.arg}: (.+(?:\n        .+)*)", sections["Parameters"], re.M
        )
        assert words, f"{argument.arg} is not described"
        kind = ast.unparse(argument.annotation) if argument.annotation else ""
        if re.match(r"(float|int|Number)\b", kind):
            ranged = r"range|above|or more|or less|\d to \d|\d or \d|\d, \d|None"
            assert re.search(r"\[.+\]|unit|level", words[1]), f"{argument.arg}: its unit"
            assert re.search(ranged, words[1]), f"{argument.arg}: its range"
    assert sections["Returns"].strip()
    if any(
        word in inspect.getsource(function).replace(text, "")
        for word in map("raise {}".format, REFUSALS)
    ):
        assert re.search("|".join(REFUSALS), sections["Raises"]), "what it refuses"
    assert ">>> " in text or f"{function.__name__}(" in sections["Example"], "a call"


COMPUTED = sorted(
    name for name in PUBLIC if re.match(r"rsdesign\.(studies|season)\.|.*system\.size$", name)
)


@pytest.mark.parametrize("name", COMPUTED)
def test_a_function_that_computes_names_its_source(name):
    """What only reads, writes or words has none to name."""
    said = _sections(inspect.getdoc(PUBLIC[name]))
    if "labeled" not in name:
        assert len(said["Source"].split()) >= 2


def test_a_function_that_says_too_little_is_found():
    """The walk asks for every section; a docstring of one line has none."""
    assert _sections("A line.\n\nParameters:\n    a: one.\nReturns: two.") == {
        "Parameters": "\n    a: one.\n", "Returns": " two.",
    }  # fmt: skip
    assert "Returns" not in _sections("A line.")
