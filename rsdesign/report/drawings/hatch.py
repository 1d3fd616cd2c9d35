"""Patterns: how a part stands, in tint and hatch, and what lies in it; told apart on grey paper."""

import functools

from ...sizing.judging import Part
from ...sizing.margins import ENOUGH, FIT, SHORT, TIGHT
from .look import colour

UNKNOWN = "not known"
STATES = (SHORT, TIGHT, ENOUGH, FIT, UNKNOWN)

OUTLINES = {
    SHORT: ("short", 3.0, "7 3"), TIGHT: ("tight", 2.6, ""), ENOUGH: ("ink", 1.6, ""),
    FIT: ("ink", 1.6, ""), UNKNOWN: ("soft", 1.6, "2 3"), "": ("ink", 1.6, ""),
}  # fmt: skip
"""Outline of a part: color, width [px], dash."""

GRADES = {
    SHORT: "short",
    TIGHT: "tight",
    ENOUGH: "enough",
    FIT: "enough",
    UNKNOWN: "soft",
    "": "ink",
}
"""Color of the words of a part."""


PRINTED = "@media print{[data-drag]{display:none}}"
"""Paper has no grips."""


def state(part: Part | None) -> str:
    """How a part stands; nothing where no part is judged, "not known" where there is no margin."""
    if part is None:
        return ""
    margin = float(part.margin)
    return UNKNOWN if margin != margin else part.word  # noqa: PLR0124


def short_name(word: str) -> str:
    """A state as the name of its pattern."""
    return {SHORT: "short", TIGHT: "tight", ENOUGH: "enough", FIT: "fit", UNKNOWN: "unknown"}[word]


def _pattern(key: str, name: str, wide: float, tall: float, marks: str, turn: int = 0) -> str:
    turned = f' patternTransform="rotate({turn})"' if turn else ""
    return (
        f'<pattern id="{key}-{name}" width="{wide}" height="{tall}"'
        f' patternUnits="userSpaceOnUse"{turned}>{marks}</pattern>'
    )


def _tint(use: str, wide: float, tall: float) -> str:
    return f'<rect width="{wide}" height="{tall}" style="fill:{colour(use)};fill-opacity:.4"/>'


def _drawn(d: str, use: str, width: float, fill: str = "none") -> str:
    return f'<path d="{d}" style="fill:{fill};stroke:{colour(use)};stroke-width:{width}"/>'


@functools.lru_cache(maxsize=100)
def patterns(key: str) -> str:
    """Definitions of all patterns, their names beginning with a key that is the page's own."""
    water = f'style="fill:{colour("line-water")}"'
    found = [
        _pattern(key, "short", 7, 7, _tint("short-fill", 7, 7) + _drawn("M0 0V7", "short", 2.6), 45),
        _pattern(key, "tight", 7, 7, _tint("tight-fill", 7, 7) + _dots("tight", 1.2)),
        _pattern(key, "enough", 8, 8, _tint("enough-fill", 8, 8)),
        _pattern(key, "fit", 6, 6, _tint("enough-fill", 6, 6) + _drawn("M3 0V6", "enough", 0.6)),
        _pattern(key, "unknown", 8, 8, _tint("inset", 8, 8) + _drawn("M0 4H8M4 0V8", "soft", 0.9), 45),
        _pattern(key, "earth", 8, 8, f'<rect width="8" height="8" style="fill:{colour("sand")}"/>'
                 + _drawn("M0 0V8", "line", 0.6), 45),
        _pattern(key, "carriers", 11, 11, _drawn("M1 4a3 3 0 1 0 6 0a3 3 0 1 0-6 0M1 4H7M4 1V7", "line-filter", 0.9)),
        _pattern(key, "rings", 9, 9, _drawn("M1 2H6V7H1ZM1 4.5H6", "line-filter", 0.9)),
        _pattern(key, "stones", 12, 9, _drawn("M1 6L3 2L7 3L8 7ZM8 2L11 1L11.5 4Z", "soft", 0.9, colour("sand"))),
        _pattern(key, "beads", 5, 5, _drawn("M1 2.2a1.4 1.4 0 1 0 2.8 0a1.4 1.4 0 1 0-2.8 0", "line-filter", 0.8, colour("plants"))),
        _pattern(key, "mat", 5, 5, _drawn("M0 0L5 5M5 0L0 5", "line-solids", 0.8)),
        _pattern(key, "plants", 13, 13, _drawn("M6.5 11V6M6.5 7Q2 7 2 2Q6.5 3 6.5 7Q7 3 11 2Q11 7 6.5 7", "line-filter", 1, colour("plants"))),
        f'<marker id="{key}-head" viewBox="0 0 10 10" refX="6" refY="5" markerUnits="userSpaceOnUse"'
        f' markerWidth="11" markerHeight="11" orient="auto"><path d="M0 0L10 5L0 10Z" {water}/></marker>',
    ]  # fmt: skip
    return f"<style>{PRINTED}</style><defs>{''.join(found)}</defs>"


def _dots(use: str, r: float) -> str:
    fill = f'style="fill:{colour(use)}"'
    return f'<circle cx="2" cy="2" r="{r}" {fill}/><circle cx="5.5" cy="5.5" r="{r}" {fill}/>'


MEDIA = {"moving bed": "carriers", "trickling": "rings", "submerged": "stones", "bead": "beads"}
"""Pattern of what lies in a filter, by its kind."""
