"""How many pages the sheets of a class are, said before anything is printed.

Only a browser knows where it breaks a page.  Here each problem is taken as lines of so many
characters, in the measures of the print style of ``sheets`` on US letter, the shorter of the common
papers, and the problems are put into columns one after the other.  A test compares it with what
Chromium prints.
"""

from functools import lru_cache
from math import ceil

from .exercises import ExerciseSet, exercise_set
from .paper_examples import example_lines, has_example
from .sheets import WORK_LINES, parts_of
from .variants import Problem

COLUMN, HEAD, RULE_LINE, RULE_WIDE = 255.0, 28.0, 5.0, 125
"""Height of a column, of title and code above the columns, and of a line of the rules, in mm; the
characters of such a line."""
LINE, WIDE = 4.9, 57
"""Height of a line of text in mm, and its characters."""
SMALL, SMALL_WIDE = 4.2, 67
"""The same for small print."""
RULED, PARAGRAPH, TITLE, HEADING = 6.0, 1.1, 9.5, 8.5
"""A line to write on, the space of a paragraph, a problem's title with its rule, a heading, in mm."""
LOOKED_AT = 3
"""Learners whose sheets are looked at; the longest stands for all."""


def needs_notes(found: ExerciseSet, examples: bool = False) -> bool:
    """Whether a sheet ends on a front side, so that a page for notes makes it whole."""
    return pages_of(found, examples) % 2 == 1


def pages_of(found: ExerciseSet, examples: bool = False) -> int:
    """Pages of one learner's sheet, with its worked examples where they are printed."""
    head = HEAD + RULE_LINE * _lines(" ".join(found.rules.words), RULE_WIDE)
    columns, left = 1, COLUMN - head
    for _, problems in parts_of(found):
        for place, problem in enumerate(problems):
            height = _height(problem, bool(found.rules.reason) and not problem.turn)
            height += HEADING if place == 0 else 0.0
            pieces = [height]
            if examples and has_example(found, problem):
                pieces = [*_example(problem), height]
                if place == 0:  # a heading stays with all that is below it
                    pieces = [sum(pieces)]
            for piece in pieces:
                if piece > left:
                    columns += 1
                    left = COLUMN - (head if columns == 2 else 0.0)
                left -= piece
    return ceil(columns / 2)


def _height(found: Problem, reason: bool) -> float:
    """Height of a problem in its column, in mm."""
    e = found.exercise
    height = TITLE + SMALL + PARAGRAPH + _text(found.text)
    if e.caution:
        height += _text(f"Take care. {e.caution}", WIDE - 6) + 4.0
    height += sum(_text(line, WIDE - 4) for line in found.lines)
    for _, words in found.options:
        height += _row(words) if e.columns else _text(words, WIDE - 8) - PARAGRAPH
    height += (LINE + 1.5) if e.columns else 0.0
    if e.published:
        height += _lines(f"After: {e.published.source}.", SMALL_WIDE) * SMALL + PARAGRAPH
    height += (WORK_LINES - (found.turn != "" or not e.numbers)) * RULED + 3.0
    for ask in e.asks:
        text = found.ask_text(ask) or "Answer:"
        height += _text(f"{text} {'_' * 18}") + 1.0
    return height + (2 * RULED + 2.0 if reason else 0.0)


EXAMPLE, EXAMPLE_WIDE, REASON = 4.6, 60, 3.9
"""A line of a worked example in mm, which is smaller print, its characters, and the line of a reason."""


def _example(found: Problem) -> list[float]:
    """Heights of the lines of the worked examples before a problem."""
    return [
        _lines(text, EXAMPLE_WIDE) * EXAMPLE + PARAGRAPH + (REASON if asks else 0.0)
        for text, asks in example_lines(found)
    ]


def _text(text: str, wide: int = WIDE) -> float:
    return _lines(text, wide) * LINE + PARAGRAPH


def _lines(text: str, wide: int) -> int:
    return max(ceil(len(text) / wide), 1)


def _row(words: str) -> float:
    """A row of a table: as high as its fullest cell."""
    cells = words.split("|")
    wide = max((WIDE - 6) // len(cells), 8)
    return max(_lines(cell.strip(), wide) for cell in cells) * LINE + 1.5


@lru_cache(maxsize=64)
def pages_words(name: str, codes: tuple[str, ...], class_key: str, examples: bool = False) -> str:
    """One sentence on how much paper a class needs."""
    each = max(pages_of(exercise_set(name, c, class_key), examples) for c in codes[:LOOKED_AT])
    count, pages = len(codes), each * len(codes)
    who = "1 learner" if count == 1 else f"{count} learners"
    sides = f"{count * ceil(each / 2)} sheets of paper when both sides are printed"
    if each % 2:
        sides += ", each learner's on a front side with a page for notes at the end"
    if each == 1:
        return f"The sheets are about 1 page for each learner: {pages} pages for {who}."
    return f"The sheets are about {each} pages for each learner: {pages} pages for {who}, {sides}."
