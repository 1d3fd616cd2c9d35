"""LaTeX formulas as Typst mathematics, by way of MathML, which the pages use too."""

import functools
import xml.etree.ElementTree as ElementTree

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
    for child in node:
        if child.get("form") == "prefix":
            stack.append([_node(child)])
        elif child.get("form") == "postfix" and len(stack) > 1:
            inner = " ".join([*stack.pop(), _node(child)])
            stack[-1].append(f"lr({inner})")
        else:
            stack[-1].append(_node(child))
    return " ".join(part for level in stack for part in level)


def _node(node) -> str:
    name, words = node.tag.rpartition("}")[2], (node.text or "").strip().lstrip("\\")
    if name in ("mi", "mo", "mn"):
        return _letters(words)
    if name == "mtext":
        return string((node.text or "").replace("\u00a0", " "))
    parts = [_row([child]) if _tag(child) != "mrow" else _row(child) for child in node]
    if name == "mfrac":
        return f"frac({parts[0]}, {parts[1]})"
    if name == "msqrt":
        return f"sqrt({_row(node)})"
    if name in ("msub", "munder"):
        return f"attach({parts[0]}, b: {parts[1]})"
    if name in ("msup", "mover"):
        return f"attach({parts[0]}, t: {parts[1]})"
    if name in ("msubsup", "munderover"):
        return f"attach({parts[0]}, b: {parts[1]}, t: {parts[2]})"
    if name in ("mrow", "math", "mstyle", "mpadded"):
        return _row(node)
    if name == "mspace":
        return "thin"
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
