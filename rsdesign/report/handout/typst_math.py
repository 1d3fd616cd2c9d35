"""LaTeX formulas as Typst mathematics, by way of MathML, which the pages use too."""

import functools
from xml.etree import ElementTree

from latex2mathml.converter import convert

NAMES = {"max", "min", "log", "ln", "exp", "sin", "cos", "tan", "arccos", "arg"}
"""Functions that stand upright."""
LARGE = {"∑", "∫"}


@functools.lru_cache(maxsize=2000)
def typst_math(latex: str) -> str:
    """The inside of a Typst formula.

    >>> typst_math("A = r_s")
    'A \\\\= attach(r, b: s)'
    """
    return _row(ElementTree.fromstring(convert(latex)))


def _row(node) -> str:
    """The children of a row; what stands between fences grows with its content."""
    stack: list[list[str]] = [[]]
    children = list(node)
    for place, child in enumerate(children):
        if place + 1 < len(children) and _tag(children[place + 1]) == "mtable":
            continue  # cases bring their brace along
        if child.get("form") == "prefix":
            stack.append([_node(child)])
        elif child.get("form") == "postfix" and len(stack) > 1:
            inner = " ".join([*stack.pop(), _node(child)])
            stack[-1].append(f"lr({inner})")
        else:
            stack[-1].append(_node(child))
    return " ".join(part for level in stack for part in level)


SHAPES = {
    "mfrac": "frac({0}, {1})",
    "msub": "attach({0}, b: {1})",
    "munder": "attach({0}, b: {1})",
    "msup": "attach({0}, t: {1})",
    "mover": "attach({0}, t: {1})",
    "msubsup": "attach({0}, b: {1}, t: {2})",
    "munderover": "attach({0}, b: {1}, t: {2})",
}
ROWS = {"mrow": "{0}", "math": "{0}", "msqrt": "sqrt({0})"}


def _node(node) -> str:
    name, words = _tag(node), (node.text or "").strip().lstrip("\\")
    if name in ("mi", "mo", "mn"):
        return _letters(words)
    if name == "mtext":
        return string((node.text or "").replace("\u00a0", " "))
    if name == "mtable":
        return f"cases({', '.join(' & '.join(_row(cell) for cell in row) for row in node)})"
    if name in ROWS:
        return ROWS[name].format(_row(node))
    if name in SHAPES:
        return SHAPES[name].format(*(_row([child]) for child in node))
    raise ValueError(f"no translation of {name}")


def _tag(node) -> str:
    return node.tag.rpartition("}")[2]


def _letters(words: str) -> str:
    """Letters, numbers and signs; names of functions upright."""
    if words in NAMES:
        return f'op("{words}")'
    if len(words) > 1 and not words.replace(".", "").isdigit():
        return string(words)
    if len(words) > 1 or words.isalnum() or words in LARGE:
        return words
    return f"\\{words}" if words.isascii() and words else words


def string(words: str) -> str:
    """Any words as a Typst string, in which nothing is markup.

    >>> string("a #c")
    '"a #c"'
    """
    safe = words.replace("\\", "\\\\").replace('"', '\\"').replace("\n", "\\n").replace("\t", " ")
    return f'"{safe}"'
