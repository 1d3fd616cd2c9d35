"""One tank from above at one moment of a course: every fish as long as it is, and shares as bars."""

from collections.abc import Sequence
from dataclasses import dataclass

from ...sizing.system import Sizing
from .fish_shapes import ABOVE, box_places, fish_length, fish_shape, round_places, school
from .hatch import GRADES, OUTLINES, patterns, short_name
from .labels import LabelledSheet
from .look import Drawing
from .places import one

ACROSS = 132.0
"""Longest side of the tank [px]."""
MOST_FISH = 600
"""Marks that are drawn at most; more would be one gray field."""
ROW = 20.0
KEY = "rsmo"


@dataclass(frozen=True, slots=True)
class Bar:
    """A share from 0 to 1 with its name and its words."""

    label: str
    share: float
    words: str


@dataclass(frozen=True, slots=True)
class Tank:
    """What the tanks hold at a moment, and how it stands."""

    fish: float
    """In all tanks."""
    weight: float
    """Of one fish [kg]."""
    state: str
    """A state of a part, such as "short"; empty where nothing is judged."""
    words: str
    bars: Sequence[Bar] = ()


def moment_picture(sizing: Sizing, tank: Tank, width: float = 262.0) -> Drawing:
    """One of the tanks from above, its fish to scale, how it stands, and bars of shares beneath.

    Parameters:
        sizing: of one design.
        tank: what the tanks hold.
        width: of the sheet [px].
    Returns: ``Drawing``.
    """
    sheet = LabelledSheet(
        width, ACROSS + 34 + ROW * len(tank.bars), "The tank at this moment", 12.5
    )
    about, design = sizing.tank, sizing.design
    box = design.tank.shape == "rectangle"
    broad = one(about.width)
    long = one(about.length) if box else broad
    scale = min(ACROSS / long, ACROSS / broad)
    x, y = 4 + long * scale / 2, 4 + ACROSS / 2
    use, thick, dash = OUTLINES[tank.state]
    for fill, edge in (("water", None), (_hatch(tank.state), use)):
        if box:
            sheet.rect(x - long * scale / 2, y - broad * scale / 2, long * scale, broad * scale, fill, edge,
                       thick, dash)  # fmt: skip
        else:
            sheet.circle(x, y, broad * scale / 2, fill, edge, thick, dash)
    tanks = max(round(one(about.volume) / one(about.volume_each)), 1)
    count = min(round(tank.fish / tanks), MOST_FISH)
    if count and tank.weight > 0:
        shape = fish_shape(design.stock.species)
        length = fish_length(tank.weight, shape)
        inside = max(broad - length, 0.2 * broad) * scale / 2
        if box:
            places = box_places(x - (long - length) * scale / 2, y - inside, (long - length) * scale, 2 * inside,
                                count)  # fmt: skip
        else:
            places = round_places(x, y, inside, count)
        sheet.path(school(places, ABOVE, length * scale, length * shape.broad * scale), "line-solids",
                   "paper", 0.5)  # fmt: skip
    beside = x + long * scale / 2 + 10
    _beside(sheet, beside, y, tank, count, tanks)
    for k, bar in enumerate(tank.bars):
        _bar(sheet, ACROSS + 26 + ROW * k, bar, width)
    sheet.marks.insert(0, patterns(KEY))
    sheet.marks.extend(sheet.late)
    return Drawing(sheet.svg(tank.words), tank.words, ((), ()))


def _hatch(state: str) -> str | None:
    return f"url(#{KEY}-{short_name(state)})" if state else None


def _beside(sheet: LabelledSheet, x: float, y: float, tank: Tank, count: int, tanks: int) -> None:
    """How it stands, and how many fish a mark is, beside the tank; each word on a line that holds it."""
    lines = [tank.words]
    if count:
        lines.append("each mark a fish" if tanks == 1 else f"one of {tanks} tanks")
    room = (sheet.width - x - 2) / (0.56 * sheet.size)
    at = y - 16
    for place, words in enumerate(lines):
        use = GRADES[tank.state] if place == 0 else "soft"
        for part in _broken(words, room):
            sheet.write(x, at, part, "start", use, bold=place == 0)
            at += sheet.size + 4


def _broken(words: str, room: float) -> list[str]:
    """Words in lines of at most so many letters."""
    found: list[str] = []
    for word in words.split():
        if found and len(found[-1]) + 1 + len(word) <= room:
            found[-1] += f" {word}"
        else:
            found.append(word)
    return found


def _bar(sheet: LabelledSheet, top: float, bar: Bar, width: float) -> None:
    sheet.write(2, top + 12, bar.label, "start", "soft")
    left, right = 0.5 * width, width - 66
    sheet.rect(left, top + 3, right - left, 10, None, "line", 1)
    sheet.rect(left, top + 3, (right - left) * bar.share, 10, "line-filter", None)
    sheet.write(width - 2, top + 12, bar.words, "end")


__all__ = ["Bar", "Tank", "moment_picture"]
