"""The words of the trade that a booklet uses, each explained once, from the glossary."""

import re

from ..glossary import Term, glossary
from .blocks import Boxes, Cautions, Heading, Steps, Table, Text, Writer
from .build_pages import to_build

CAPTION = "Words of the trade"


def build_words(w: Writer) -> None:
    """The words of the list before and of the pages after it: a builder looks for them in the middle."""
    after = Writer(w.sizing, w.system)
    to_build(after)
    words_used(w, after.blocks)


def words_used(w: Writer, after=()) -> None:
    """A table of the terms that the blocks so far, and those after, use and that no table explained before."""
    told = {
        row[0] for b in w.blocks if isinstance(b, Table) and b.caption == CAPTION for row in b.rows
    }
    text = "\n".join(_said(block) for block in (*w.blocks, *after))
    found = [t for t in glossary().values() if t.paper and t.term not in told and is_said(t, text)]
    if not found:
        return
    rows = tuple((t.term, f"{t.plain[:1].upper()}{t.plain[1:]}. {t.meaning}") for t in found)
    w.add(Table(CAPTION, ("Word", "What it means"), rows, (0.24, 0.76), beside=True, dense=True))


def is_said(term: Term, text: str) -> bool:
    """Whether a text uses a term, in one of the forms that the glossary gives."""
    return re.search(rf"(?<![\w-])({term.paper})(?![\w-])", text, re.IGNORECASE) is not None


def _said(block) -> str:
    """The words of a block; drawings and formulas have none here."""
    if isinstance(block, Heading | Text):
        return block.words
    if isinstance(block, Steps):
        return "\n".join(" ".join(item) for item in block.items)
    if isinstance(block, Table):
        return "" if block.caption == CAPTION else "\n".join(
            " ".join(row) for row in ((block.caption,), block.headings, *block.rows))  # fmt: skip
    if isinstance(block, Cautions):
        return "\n".join(f"{c.hazard} {c.fact} {c.ask}" for c in block.items)
    if isinstance(block, Boxes):
        return "\n".join(f"{title} {line} {' '.join(steps)}" for title, line, steps in block.boxes)
    return ""
