"""Render ``docs/method.md`` from the register of equations: ``python -m rsdesign.methodbook``.

The document is made, never typed: formula, symbols, units, validity, source and basis all come
from the one place where an equation is written.  A test keeps the file current.
"""

import importlib
import pkgutil
import re
import sys
from pathlib import Path

from .equation import REGISTER, Equation
from .published import checks
from .working import symbols

ROOMS = ("water", "fish", "parts", "costs", "balance")

HEAD = """# Method: every equation and its source

This page is generated from the code (`python -m rsdesign.methodbook docs/method.md`); do not edit
it. Numbers inside are SI: kg, m, s, Pa, W; concentrations in kg/m³, loads in kg/s, flows in m³/s;
temperature in °C. *Basis* says how well a source was seen: `seen` (read in the source),
`derived` (algebra or conservation), `common practice` (a rule of the trade) or `from memory`.
*Checked against* counts the figures printed by others or computed by general-purpose libraries
that the relation must give, see `data/published/`.
"""


def import_all() -> None:
    """Import every formula module, so that the register is complete."""
    import rsdesign  # noqa: PLC0415

    for room in ROOMS:
        try:
            package = importlib.import_module(f"rsdesign.{room}")
        except ModuleNotFoundError:
            continue
        for module in pkgutil.iter_modules(package.__path__):
            importlib.import_module(f"{package.__name__}.{module.name}")
    assert rsdesign


def equations() -> list[Equation]:
    """Every equation, by room and module, in the order in which it is written."""
    import_all()
    order = {room: place for place, room in enumerate(ROOMS)}
    return sorted(REGISTER.values(), key=lambda e: (order[e.name.split(".")[0]], _module(e)))


def _module(equation: Equation) -> str:
    return equation.name.rsplit(".", 1)[0]


def text() -> str:
    """The whole document."""
    counts: dict[str, int] = {}
    for row in checks():
        name = _registered(row.function.split("[")[0])
        counts[name] = counts.get(name, 0) + 1
    parts, module = [HEAD], None
    for equation in equations():
        if _module(equation) != module:
            module = _module(equation)
            parts.append(f"\n## {module}\n")
        parts.append(_entry(equation, counts.get(equation.name, 0)))
    return "\n".join(parts).rstrip() + "\n"


def _registered(function: str) -> str:
    """The register's name of a function that may be reached through another module."""
    module, _, name = function.rpartition(".")
    found = getattr(importlib.import_module(f"rsdesign.{module}"), name)
    return found.equation.name if hasattr(found, "equation") else function


def _entry(equation: Equation, checked: int) -> str:
    latex = re.sub(r"@(\w+)", lambda m: "{" + _symbol(m[1]) + "}", equation.latex)
    lines = [
        f"### {equation.name.rsplit('.', 1)[1]}\n",
        f"{equation.summary}\n",
        f"$${latex}$$\n",
        "| symbol | argument | what | unit |",
        "| --- | --- | --- | --- |",
    ]
    for name, kind in equation.kinds.items():
        unit = kind.plain.label if kind is not None and kind.plain.label else "-"
        lines.append(f"| ${_symbol(name)}$ | `{name}` | {_words(name)} | {unit} |")
    results = equation.result if isinstance(equation.result, tuple) else (equation.result,)
    given = ", ".join(k.plain.label if k is not None and k.plain.label else "-" for k in results)
    lines += [
        f"\nGives {given}. Valid: {equation.valid}. Source: {equation.source}"
        f" (*{equation.basis}*). Checked against: {checked}.\n",
    ]
    return "\n".join(lines)


def _symbol(name: str) -> str:
    known = symbols().get(name)
    return known.symbol if known else name.replace("_", r"\_")


def _words(name: str) -> str:
    known = symbols().get(name)
    return known.words if known else name.replace("_", " ")


def main(argv: list[str]) -> None:
    """Write the document to a path."""
    Path(argv[0]).write_text(text(), encoding="utf-8", newline="\n")


if __name__ == "__main__":
    main(sys.argv[1:] or ["docs/method.md"])
