"""The front end's modules, each page's joined into one script: one request instead of forty.

A module imports names as they are (no renaming, no default) and exports functions and constants where
they are declared; so a joined script is its modules, those that a module imports before it, without
their ``import`` lines, the word ``export`` and the comments.
"""

import functools
import re
from pathlib import Path, PurePosixPath

FRONT = Path(__file__).parents[1] / "front"
STYLES = ("style.css", "pieces.css", "class.css")

_IMPORT = re.compile(r'^import \{[^}]*\} from "(\.[^"]*)";\n', re.MULTILINE)
_COMMENT = re.compile(
    r"^[ \t]*(?:/\*\*(?:(?!\*/).)*\*/[ \t]*|//[^\n]*)\n", re.MULTILINE | re.DOTALL
)
"""A comment with lines of its own; types are a third of the text, and no browser reads them."""
_EXPORT = re.compile(r"^export (?=(?:async )?function|const|let|class)", re.MULTILINE)


def modules(entry: str) -> list[str]:
    """The modules of a page, by their paths under ``FRONT``: what a module imports stands before it."""
    order: list[str] = []
    begun: set[str] = set()

    def add(name: str) -> None:
        if name in begun:
            return
        begun.add(name)
        for path in _IMPORT.findall(source(name)):
            add(_beside(name, path))
        order.append(name)

    add(entry)
    return order


def _beside(name: str, path: str) -> str:
    """The module that ``name`` imports as ``path``."""
    parts: list[str] = list(PurePosixPath(name).parent.parts)
    for part in PurePosixPath(path).parts:
        if part == "..":
            parts.pop()
        else:
            parts.append(part)
    return "/".join(parts)


def source(name: str) -> str:
    """The text of one module or style."""
    return (FRONT / name).read_text(encoding="utf-8")


def script_of(entry: str) -> str:
    """A module with all that it imports, as one text without imports and exports."""
    texts = (_EXPORT.sub("", _IMPORT.sub("", source(name))) for name in modules(entry))
    return _COMMENT.sub("", "\n".join(texts))


@functools.cache
def script(page: str) -> str:
    """The script of a page that a server serves: ``served`` for the series, ``wall`` or ``settings``."""
    return "(() => {\n" + script_of(f"{page}.js") + "})();\n"


@functools.cache
def notebook_module() -> str:
    """The front end as one module for JupyterLab; it exports ``render``."""
    return script_of("notebook.js")


@functools.cache
def style() -> str:
    """The look of the pages."""
    return "".join(source(name) for name in STYLES)
