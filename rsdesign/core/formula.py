"""A relation as it is printed: LaTeX read from the code, formulas as plain text, words of symbols.

``latex_of`` turns the value that a short function returns into LaTeX, so that a definition is
written once, as Python.  It knows the arithmetic and the functions of ``arrays`` that have a sign of
their own in print; anything else is an error, and the relation then states its LaTeX itself.
"""

import ast
import functools
import inspect
import linecache
import re
import textwrap
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from . import arrays, tables

SUM, PRODUCT, POWER, ATOM = 1, 2, 3, 4
"""How tightly parts of a formula hold together; a looser part stands in brackets."""


class FormulaError(ValueError):
    """A function whose code cannot be read as a formula."""


@dataclass(frozen=True, slots=True)
class Symbol:
    """The words and the symbol of one argument."""

    name: str
    symbol: str
    words: str


@functools.cache
def symbols() -> dict[str, Symbol]:
    """Every argument's symbol and words by its name, from ``data/symbols.csv``."""
    return {row.name: row for row in tables.read("symbols", Symbol)}


# --- LaTeX from code -----------------------------------------------------------------------


@functools.cache
def latex_of(function: Callable) -> str:
    """The LaTeX of what a function returns, ``@name`` standing for its arguments.

    The body is one ``return``, perhaps after assignments to names, which are put in.  Raises
    ``FormulaError`` where the code is more than a formula.
    """
    tree = ast.parse(textwrap.dedent(inspect.getsource(function))).body[0]
    known: dict[str, ast.expr | None] = dict.fromkeys(inspect.signature(function).parameters)
    for statement in tree.body if isinstance(tree, ast.FunctionDef) else ():
        if isinstance(statement, ast.Return) and statement.value is not None:
            return _Writer(function.__globals__, known).text(statement.value)
        match statement:
            case ast.Assign(targets=[ast.Name(id=name)], value=value) if name not in known:
                known[name] = value
            case ast.Expr():
                continue  # the docstring
            case _:
                break
    raise FormulaError(f"{function.__name__} does more than return a formula")


def code_of(function: Callable) -> str:
    """The code of a definition's formula as one line, without comments, for its docstring."""
    about = function.__code__
    last = max(place[1] or 0 for place in about.co_positions())
    lines = linecache.getlines(about.co_filename)[about.co_firstlineno - 1 : last]
    body = re.sub(r"\s+#.*", "", "".join(lines)).rpartition('"""')[2]
    parts = re.split(r"\n(?=    [^\s)])", body.strip("\n"))
    code = "; ".join(" ".join(part.split()) for part in parts)
    return code.replace("( ", "(").replace(" )", ")").replace(",)", ")").replace("return ", "")


class _Writer:
    """Writes the parts of one function's formula."""

    def __init__(self, constants: dict[str, Any], known: dict[str, ast.expr | None]) -> None:
        self.constants = constants
        self.known = known
        """What the names of the body stand for; nothing for arguments."""

    def text(self, node: ast.expr, least: int = SUM) -> str:
        """A part of the formula, in brackets where it holds less tightly than ``least``."""
        text, strength = self._written(node)
        return text if strength >= least else rf"\left({text}\right)"

    def _written(self, node: ast.expr) -> tuple[str, int]:
        if isinstance(node, ast.Name):
            return self._name(node.id)
        if isinstance(node, ast.Constant) and isinstance(node.value, (float, int)):
            return _number(node.value)
        if isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.USub):
            return f"-{self.text(node.operand, PRODUCT)}", SUM
        if isinstance(node, ast.BinOp):
            return self._operation(node, node.left, node.right)
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name):
            called = getattr(arrays, node.func.id, abs)
            plain = not any(isinstance(given, ast.Starred) for given in node.args)
            if plain and node.func.id in CALLS and self.constants.get(node.func.id, abs) is called:
                return CALLS[node.func.id](self, *node.args)
        raise FormulaError(f"{ast.unparse(node)} has no sign in print")

    def _operation(self, node: ast.BinOp, left: ast.expr, right: ast.expr) -> tuple[str, int]:
        kept = {ast.Add: 0.0, ast.Mult: 1.0}.get(type(node.op))  # never -0; a new number
        if isinstance(right, ast.Constant) and right.value == kept:
            return self._written(left)
        if isinstance(node.op, ast.Add):
            return f"{self.text(left)} + {self.text(right)}", SUM
        if isinstance(node.op, ast.Sub):
            return f"{self.text(left)} - {self.text(right, PRODUCT)}", SUM
        if isinstance(node.op, ast.Mult):
            return self._product(*_factors(node))
        if isinstance(node.op, ast.Div):
            return self._fraction(left, right)
        if isinstance(node.op, ast.Pow):
            return self._power(left, right)
        raise FormulaError(f"{ast.unparse(node)} has no sign in print")

    def _name(self, name: str) -> tuple[str, int]:
        if name in self.known:
            meant = self.known[name]
            return (f"@{name}", ATOM) if meant is None else self._written(meant)
        if name == "pi":
            return r"\pi", ATOM
        value = self.constants.get(name)
        if isinstance(value, (float, int)):
            return _number(value)
        raise FormulaError(f"{name} is no argument and no number")

    def _product(self, *factors: ast.expr) -> tuple[str, int]:
        first = factors[0]
        if isinstance(first, ast.UnaryOp) and len(factors) > 1:
            one = isinstance(first.operand, ast.Constant) and first.operand.value == 1
            rest = factors[1:] if one else (first.operand, *factors[1:])
            return f"-{self._product(*rest)[0]}", SUM
        written = [self.text(factor, PRODUCT) for factor in factors]
        counts = Counter(text for text in written if text.startswith(("@", r"\left(")))
        once = [x for n, x in enumerate(written) if x not in counts or x not in written[:n]]
        powers = [f"{x}^{{{counts[x]}}}" if counts[x] > 1 else x for x in once]
        return r" \cdot ".join(powers), PRODUCT

    def _fraction(self, top: ast.expr, bottom: ast.expr, *_: ast.expr) -> tuple[str, int]:
        over: list[ast.expr] = []
        under = [bottom]
        while isinstance(top, ast.BinOp) and isinstance(top.op, (ast.Div, ast.Mult)):
            (under if isinstance(top.op, ast.Div) else over).insert(0, top.right)
            top = top.left
        whole = [(top, *over), under]
        parts = [self.text(x[0]) if len(x) == 1 else self._product(*x)[0] for x in whole]
        return rf"\frac{{{parts[0]}}}{{{parts[1]}}}", PRODUCT

    def _power(self, base: ast.expr, exponent: ast.expr) -> tuple[str, int]:
        text, strength = self._written(base)
        base_text = text if strength == ATOM else rf"\left({text}\right)"
        return f"{base_text}^{{{self.text(exponent)}}}", POWER

    def _same(self, inner: ast.expr) -> tuple[str, int]:
        return self._written(inner)

    def _between(self, before: str, after: str, *inner: ast.expr) -> tuple[str, int]:
        return f"{before}{', '.join(self.text(part) for part in inner)}{after}", ATOM

    def _clip(self, x: ast.expr, low: ast.expr, high: ast.expr) -> tuple[str, int]:
        inner = rf"\max\left({self.text(x)}, {self.text(low)}\right)"
        return rf"\min\left({inner}, {self.text(high)}\right)", ATOM


def _named(before: str, after: str = r"\right)") -> Callable[..., tuple[str, int]]:
    return lambda writer, *given: writer._between(before, after, *given)


CALLS: dict[str, Callable[..., tuple[str, int]]] = {
    "most": _named(r"\max\left("),
    "least": _named(r"\min\left("),
    "index_of_largest": _named(r"\arg\max\left("),
    "sqrt": _named(r"\sqrt{", "}"),
    "exp": _named(r"\exp\left("),
    "log": _named(r"\ln\left("),
    "ceil": _named(r"\lceil ", r" \rceil"),
    "floor": _named(r"\lfloor ", r" \rfloor"),
    "abs": _named(r"\left|", r"\right|"),
    "finite": _Writer._same,
    "ratio": _Writer._fraction,
    "for_load": _Writer._fraction,
    "power": _Writer._power,
    "clip": _Writer._clip,
}
"""How each function that a formula may call is printed."""


def _factors(node: ast.expr) -> list[ast.expr]:
    """The factors of a product, first to last."""
    if isinstance(node, ast.BinOp) and isinstance(node.op, ast.Mult):
        return [*_factors(node.left), node.right]
    return [node]


def _number(value: float) -> tuple[str, int]:
    """A number as it is printed: whole without a point, small and large with a power of ten."""
    mantissa, _, exponent = f"{value:.15g}".partition("e")
    if not exponent:
        return mantissa, ATOM
    power = f"10^{{{int(exponent)}}}"
    return (power, POWER) if mantissa == "1" else (rf"{mantissa} \cdot {power}", PRODUCT)


# --- LaTeX as plain text -------------------------------------------------------------------


def plain_formula(latex: str) -> str:
    """LaTeX as one line of plain text for a terminal.

    >>> plain_formula(r"A = \\frac{@load}{@rate}")
    'A = load / rate'
    """
    text = latex
    while True:
        after = re.sub(r"\\frac\{([^{}]*)\}\{([^{}]*)\}", _one_line, text)
        after = re.sub(r"\\sqrt\{([^{}]*)\}", r"sqrt(\1)", after)
        after = re.sub(r"([\^_])\{([^{}]*)\}", r"\1(\2)", after)
        if after == text:
            break
        text = after
    text = re.sub(r"\\(left|right)\s*", "", text).replace(r"\cdot", "×")
    text = text.replace(r"\lfloor", "floor(").replace(r"\rfloor", ")")
    text = text.replace(r"\lceil", "ceil(").replace(r"\rceil", ")")
    text = re.sub(r"\\([a-zA-Z]+)", r"\1", text).replace("{", "(").replace("}", ")")
    text = re.sub(r"\^\(([\w.]+)\)", r"^\1", text).replace("@", "").replace("\\", "")
    return re.sub(r"\s+", " ", text).replace("( ", "(").replace(" )", ")").strip()


def _one_line(match: re.Match) -> str:
    top, bottom = (
        part if re.fullmatch(r"[@\w.]+", part.strip()) else f"({part})" for part in match.groups()
    )
    return f"{top} / {bottom}"
