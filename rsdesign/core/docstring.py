"""The docstring of an equation in the usual sections, from what its decorator knows."""

import inspect
import typing
from collections.abc import Callable

from .formula import code_of, plain_formula, symbols
from .kinds import Kind

if typing.TYPE_CHECKING:
    from .equation import Equation


def document(about: "Equation", example: str = "") -> str:
    """The docstring: the function's own words, parameters in words with units, result, source.

    Runs for every equation at import, and so reads a definition's code but does not parse it.
    """
    own, _, doctest = (inspect.getdoc(about.function) or "").partition("\n>>>")
    derived = "=" not in about.formula
    lines = [own.strip(), "", *_heading("Parameters")]
    for name, kind in about.kinds.items():
        lines += _parameter(about.signature.parameters[name], kind)
    results = about.result if isinstance(about.result, tuple) else (about.result,)
    lines += ["", *_heading("Returns")]
    for kind in results:
        lines += ["float or array", f"    {_capital(kind.name if kind else 'result', kind)}"]
    formula = f"{about.formula} = {code_of(about.function)}" if derived else about.formula
    lines += [
        "",
        *_heading("Notes"),
        f"Formula: {formula if derived else plain_formula(formula)}",
        f"Valid: {about.valid}.",
        f"Source: {about.source} ({about.basis}).",
        "Plain numbers are in the units named; arrays broadcast; quantities with units will do too.",
        "",
        *_heading("Examples"),
        *([f">>>{doctest}"] if doctest else ()),
    ]
    for pair in filter(None, example.split("; ")):
        call, _, result = pair.partition(" == ")
        lines += [f">>> {call}", result]
    return "\n".join(lines)


def _heading(title: str) -> list[str]:
    return [title, "-" * len(title)]


def _parameter(given: inspect.Parameter, kind: Kind | None) -> list[str]:
    """An argument with what may be given for it, its default, its words and its unit."""
    known = symbols().get(given.name)
    words = known.words if known else given.name.replace("_", " ")
    plain = isinstance(given.annotation, type) and kind is None
    what = given.annotation.__name__ if plain else "float or array"
    if given.annotation is Callable:
        what = "function"
    if given.default is None:
        what += ", optional"
    elif given.default is not given.empty:
        what += f", default {given.default}"
    return [f"{given.name} : {what}", f"    {_capital(words, kind)}"]


def _capital(words: str, kind: Kind | None) -> str:
    """Words that begin with a capital, and the unit."""
    unit = "-" if kind is None else kind.plain.label or "-"
    return f"{words[:1].upper()}{words[1:]} [{unit}]."
