"""Render ``docs/method.md`` and ``docs/choices.md``: ``python -m rsdesign.report.method_book``.

The document is made, never typed: formula, symbols, units, validity, source and basis all come
from the one place where an equation is written.  A test keeps the file current.
"""

import importlib
import pkgutil
import re
import sys
from pathlib import Path

from .. import equations as subjects
from ..core.choices import span
from ..core.equation import REGISTER, Equation
from ..core.formula import symbols
from ..core.published import checks
from ..core.units import show
from ..design.model import FIELDS

HEAD = """# Method: every equation and its source

This page is generated from the code (`python -m rsdesign.report.method_book docs/method.md`); do not edit
it. Numbers inside are SI: kg, m, s, Pa, W; concentrations in kg/m³, loads in kg/s, flows in m³/s;
temperature in °C. *Basis* says how well a source was seen: `seen` (read in the source),
`derived` (algebra or conservation), `common practice` (a rule of the trade) or `from memory`.
*Checked against* counts the figures printed by others or computed by general-purpose libraries
that the relation must give, see `data/published/`. Terms: [glossary](glossary.md).
"""


def import_all() -> None:
    """Import every formula module, so that the register is complete."""
    for module in pkgutil.walk_packages(subjects.__path__, f"{subjects.__name__}."):
        importlib.import_module(module.name)


def equations() -> list[Equation]:
    """Every equation, by room and module, in the order in which it is written."""
    import_all()
    return sorted(REGISTER.values(), key=_module)


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
    found = getattr(importlib.import_module(f"rsdesign.equations.{module}"), name)
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
        f" (*{equation.basis}*). Checked against: {checked}.\n"
    ]
    return "\n".join(lines)


def _symbol(name: str) -> str:
    known = symbols().get(name)
    return known.symbol if known else name.replace("_", r"\_")


def _words(name: str) -> str:
    known = symbols().get(name)
    return known.words if known else name.replace("_", " ")


CHOICES = """# Choices: what a design file may say

Generated from the code (`python -m rsdesign.report.method_book docs/method.md`); do not edit it. Every
choice may be left out; where the default is "the sizing chooses", the sizing says what it took.
"""


def choices_text() -> str:
    """The table of every choice: path, words, default, range, source."""
    lines, section = [CHOICES], None
    for entry in FIELDS.values():
        if entry.section != section:
            section = entry.section
            lines += [f"\n## {section or 'at the top'}\n",
                      "| choice | what | default | range | source |",
                      "| --- | --- | --- | --- | --- |"]  # fmt: skip
        about = entry.choice
        words = f"{about.label}. {about.help}".rstrip()
        if about.rule_words:
            words = f"{words} Rule: {about.rule_words}."
        lines.append(f"| `{entry.name}` | {words} | {_default(entry)} | {_range(entry)} |"
                     f" {about.source} |")  # fmt: skip
    return "\n".join(lines).rstrip() + "\n"


def _default(entry) -> str:
    default = entry.choice.default
    if default is None:
        return "the sizing chooses" if entry.path not in ("goal.fish", "goal.harvest") else "-"
    if isinstance(default, (str, bool)) or entry.kind is None:
        return str(default).lower() if isinstance(default, bool) else (default or "-")
    us, metric = show(default, entry.kind, "us"), show(default, entry.kind, "metric")
    return us if us == metric else f"{us}, {metric}"


def _range(entry) -> str:
    if entry.choice.options is not None:
        return ", ".join(entry.choice.options())
    return "-" if entry.choice.low is None else span(entry)


def main(argv: list[str]) -> None:
    """Write the method document to a path, and the table of choices beside it."""
    path = Path(argv[0])
    path.write_text(text(), encoding="utf-8", newline="\n")
    path.with_name("choices.md").write_text(choices_text(), encoding="utf-8", newline="\n")


if __name__ == "__main__":
    main(sys.argv[1:] or ["docs/method.md"])
