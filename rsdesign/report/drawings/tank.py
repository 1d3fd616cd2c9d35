"""The tank from above, with its swirl and centre drain, and cut through, with a person beside it."""

from math import cos, pi, sin, tan

from ...sizing.system import Sizing
from .beside import PERSON, person
from .fitted import narrow
from .labels import LabelledSheet, wide
from .look import Drawing
from .sheet import Sheet
from .words import rows, said, tape

SWEEPS = 0.15
"""Speed of the water at the wall [m/s] under which dirt stays on the floor; from memory."""


def picture(sizing: Sizing, system: str, width: float = 636.0) -> Drawing:
    """Plan and section of one tank side by side, to one scale."""
    small = narrow(width)
    sheet = LabelledSheet(width, 226.0 if small else 350.0, "One tank from above and cut through",
                          12.0 if small else 13.0)  # fmt: skip
    t = sizing.tank
    across = float(t.width)
    long = float(t.length) if sizing.design.tank.shape == "rectangle" else across
    half, base = 0.42 * width, sheet.height - 2.6 * sheet.size
    beside = wide(tape(float(t.depth), system), sheet.size) + 24
    scale = min((half - 30) / long, (base - 3.4 * sheet.size) / across,
                (width - half - beside - 8) / (long + 1.3), (base - 30) / max(float(t.wall), PERSON))  # fmt: skip
    base = max(across * scale + 4.0 * sheet.size, max(float(t.wall), PERSON) * scale + 30)
    sheet.height = base + 2.2 * sheet.size
    low = base - 0.6 * sheet.size
    middle = low - across * scale / 2
    _plan(sheet, sizing, half / 2 + 8, middle, long * scale / 2, across * scale / 2)
    _plan_words(sheet, sizing, system, half / 2 + 8, low, long * scale, across * scale)
    _section(sheet, sizing, system, half + beside, base, long * scale, scale)
    sheet.marks.extend(sheet.late)
    slow = float(sizing.turning.rotation) < SWEEPS
    speed = said(sizing, "turning.rotation", system)
    swept = "too slow to carry dirt to the drain" if slow else "enough to carry dirt to the drain"
    sentence = (
        f"One tank {said(sizing, 'tank.width', system)} across holds"
        f" {said(sizing, 'tank.volume_each', system)} and turns at {speed}, {swept}."
    )
    return Drawing(sheet.svg(sentence), sentence, rows(sizing, (
        "tank.width", "tank.depth", "tank.wall", "tank.volume_each", "tank.volume",
        "turning.rotation", "turning.drain_flow", "turning.turnover", "tank.floor_load",
    ), system))  # fmt: skip


def _plan_words(sheet: LabelledSheet, sizing: Sizing, system: str, x, low, long, across) -> None:
    """Across, along, and how fast the water turns."""
    top = low - across - 10
    named = "tank.length" if long > across * 1.001 else "tank.width"
    _dimension(sheet, (x - long / 2, top), (x + long / 2, top))
    sheet.write(x, top - 6, tape(float(getattr(sizing.tank, named[5:])), system), "middle")
    if named == "tank.length":
        _dimension(sheet, (x - long / 2 - 10, low - across), (x - long / 2 - 10, low))
        words = tape(float(sizing.tank.width), system)
        sheet.put([(x - long / 2 - 16, low - across / 2 + 4, "end"), (x - long / 2, low - across - 30, "start"),
                   (x - long / 2, top - 8, "start")], words)  # fmt: skip
    speed = said(sizing, "turning.rotation", system)
    slow = float(sizing.turning.rotation) < SWEEPS
    words = f"turns at {speed}{', too slow' if slow else ''}"
    sheet.put([(x, low + sheet.size + 8, "middle"), (2, low + sheet.size + 8, "start")], words,
              "short" if slow else "ink", bold=slow)  # fmt: skip


def _dimension(sheet: LabelledSheet, one, other) -> None:
    """A builder's dimension line with its ticks."""
    sheet.line(one, other, width=0.8)
    sheet.path("".join(f"M{x - 4:.1f} {y + 4:.1f}l8-8" for x, y in (one, other)), None, "ink", 1.4)


def _plan(sheet: LabelledSheet, sizing: Sizing, x, y, half_long, half_wide) -> None:
    shape = sizing.design.tank.shape
    if shape == "round":
        sheet.circle(x, y, half_wide, "water", "ink", 3)
    elif shape == "octagon":
        r = half_wide / cos(pi / 8)
        sheet.poly([(x + r * cos(pi / 8 + k * pi / 4), y + r * sin(pi / 8 + k * pi / 4))
                    for k in range(8)], "water", "ink", 3)  # fmt: skip
    elif shape == "cut square":
        cut = half_wide * (1 - tan(pi / 8)) * 0.6
        h = half_wide
        sheet.poly([(x - h + cut, y - h), (x + h - cut, y - h), (x + h, y - h + cut),
                    (x + h, y + h - cut), (x + h - cut, y + h), (x - h + cut, y + h),
                    (x - h, y + h - cut), (x - h, y - h + cut)], "water", "ink", 3)  # fmt: skip
    else:
        sheet.rect(x - half_long, y - half_wide, 2 * half_long, 2 * half_wide, "water", "ink", 3)
    speed = float(sizing.turning.rotation)
    turns = 0.35 + 2.4 * min(speed / 0.3, 1.0)
    if speed < SWEEPS and shape != "rectangle":
        sheet.circle(x, y, half_wide * 0.93, None, "line-solids", 5, "3 6")
    for start in (0.0, 2 * pi / 3, 4 * pi / 3):
        _arc(sheet, x, y, half_wide * 0.72, start, min(turns, 1.7), 1.5 + 8 * min(speed, 0.4))
    sheet.circle(x, y, max(half_wide * 0.09, 5), "deep", "ink", 2)
    sheet.write(x, y + max(half_wide * 0.09, 5) + sheet.size + 3, "drain", "middle")


def _arc(sheet: Sheet, x, y, r, start, turn, width) -> None:
    """One arrow of the swirl."""
    x1, y1 = x + r * cos(start), y + r * sin(start)
    x2, y2 = x + r * cos(start + turn), y + r * sin(start + turn)
    big = 1 if turn > pi else 0
    sheet.path(f"M{x1:.1f} {y1:.1f}A{r:.1f} {r:.1f} 0 {big} 1 {x2:.1f} {y2:.1f}", None,
               "line-water", width)  # fmt: skip
    ahead = start + turn + 0.12
    sheet.arrow(x2, y2, x + r * cos(ahead), y + r * sin(ahead), "line-water", width, 10)


def _section(sheet: LabelledSheet, sizing: Sizing, system, left, floor, long, scale) -> None:
    """The tank cut through with its drain, its depth and its wall, a person beside it."""
    t = sizing.tank
    depth, wall = float(t.depth) * scale, float(t.wall) * scale
    sheet.water(left, floor - depth, long, depth)
    sheet.line(
        (left, floor - wall),
        (left, floor),
        (left + long, floor),
        (left + long, floor - wall),
        width=2.4,
    )
    sheet.line((left - 26, floor + 1.5), (sheet.width - 2, floor + 1.5), stroke="line", width=1.6)
    mid = left + long / 2
    sheet.rect(mid - 4, floor, 8, 7, "deep", "ink", 1)
    for side in (-1, 1):
        sheet.arrow(
            mid + side * long * 0.4, floor - 7, mid + side * 11, floor - 4, "line-solids", 1.6, 8
        )
    _dimension(sheet, (left - 11, floor - depth), (left - 11, floor))
    middle = floor - depth / 2 + 4
    sheet.put([(left - 18, middle, "end"), (left - 18, floor - depth - 6, "end"), (left, floor - wall - 8, "start")],
              tape(float(t.depth), system))  # fmt: skip
    at = left + long + 0.55 * scale
    person(sheet, at, floor, scale)
    sheet.keep(at - 0.25 * scale, floor - PERSON * scale, at + 0.25 * scale, floor)
    words = tape(PERSON, system)
    sheet.put([(at, floor - PERSON * scale - 6, "middle"), (sheet.width - 2, floor - PERSON * scale - 6, "end")],
              words, "soft")  # fmt: skip
    sheet.put([(mid, floor - depth / 2 + 2, "middle"), (mid, floor - wall - 8, "middle"),
               (mid, floor - wall - 26, "middle")], said(sizing, "tank.volume_each", system), bold=True)  # fmt: skip
    load = said(sizing, "tank.floor_load", system)
    sheet.put([(mid, floor + sheet.size + 10, "middle"), (sheet.width - 2, floor + sheet.size + 10, "end")],
              f"{load} on the floor")  # fmt: skip
    wall_words = f"wall {tape(float(t.wall), system)}"
    sheet.put(
        [(left + 4, floor - wall - 6, "start"), (left + 4, floor - wall - 22, "start")],
        wall_words,
        clear=True,
    )
