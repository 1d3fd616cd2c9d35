"""The trade's terms as used here, and ``docs/glossary.md``: ``python -m rsdesign.report.glossary``."""

import functools
import sys
from dataclasses import dataclass
from html import escape
from pathlib import Path

from ..core import tables
from ..core.kinds import KINDS

HEAD = """# Glossary

The trade's terms as they are used here, in the order of a design, each with the plain word beside
it. This page is made from `data/glossary.csv` (`python -m rsdesign.report.glossary docs/glossary.md`);
do not edit it. *Where* is the figure (`rsdesign size FILE --figures`), the choice
([choices](choices.md)) or the relation ([method](method.md)) that holds one. The relations give
their own sources; the words follow the usage of the trade.

| term | plain words | meaning | unit | where |
| --- | --- | --- | --- | --- |
"""


@dataclass(frozen=True, slots=True)
class Term:
    """One term: what it is called, in plain words, what it means, its kind and where it is met."""

    term: str
    plain: str
    meaning: str
    kind: str
    where: str
    source: str
    basis: str
    paper: str = ""
    """How the papers of a hand-out say it, forms parted by |; "" where they do not."""

    @property
    def units(self) -> str:
        """The units in which a reader meets it, US first; empty where it has none."""
        if not self.kind:
            return ""
        us, metric = KINDS[self.kind].us, KINDS[self.kind].metric
        return us if us == metric else f"{us}, {metric}"


@functools.cache
def glossary() -> dict[str, Term]:
    """Every term by its name, in the order of a design.

    >>> glossary()["overflow rate"].plain, glossary()["overflow rate"].units
    ('flow for each square foot of settler', 'gpm/ft², m/h')
    """
    return {row.term: row for row in tables.read("glossary", Term)}


def text() -> str:
    """The whole document."""
    rows = (
        f"| **{t.term}** | {t.plain} | {t.meaning} | {t.units} | `{t.where}` |"
        for t in glossary().values()
    )
    return HEAD + "\n".join(rows) + "\n"


def html() -> str:
    """The terms as a page of their own, for who reads the workbooks in a browser."""
    rows = "".join(
        f"<dt>{escape(t.term)}{f' ({escape(t.units)})' if t.units else ''}</dt>"
        f"<dd><b>{escape(t.plain)}</b>. {escape(t.meaning)}</dd>"
        for t in glossary().values()
    )
    return (
        '<!doctype html><html lang="en"><head><meta charset="utf-8"><title>What the words mean</title>'
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        '<meta name="color-scheme" content="light dark"><link rel="stylesheet" href="style.css"></head>'
        '<body style="margin: 0; background: var(--rs-paper)"><main class="rs"><h1>What the words mean</h1>'
        f"<dl>{rows}</dl></main></body></html>"
    )


def main(argv: list[str]) -> None:
    """Write the document to a path."""
    Path(argv[0]).write_text(text(), encoding="utf-8", newline="\n")


if __name__ == "__main__":
    main(sys.argv[1:] or ["docs/glossary.md"])
