"""The tank from above, with its swirl and centre drain, and cut through, with a person beside it."""

from math import cos, pi, sin, tan

from ...core.kinds import KINDS
from ...core.units import show
from ...sizing.system import Sizing
from .look import Drawing
from .sheet import EM, SIZE, Sheet
from .words import rows, said

PERSON = 1.68
"""Height of the person for scale [m]: 5 ft 6 in."""
SWEEPS = 0.15
"""Speed of the water at the wall [m/s] under which dirt stays on the floor; from memory."""


def picture(sizing: Sizing, system: str) -> Drawing:
    """Plan and section of one tank, to one scale."""
    t, d = sizing.tank, sizing.design.tank
    width, depth, wall = float(t.width), float(t.depth), float(t.wall)
    length = float(t.length) if d.shape == "rectangle" else width
    scale = min(280 / max(length, width), 190 / width, 150 / max(wall, PERSON))
    sheet = Sheet(480, 470, "One tank from above and cut through")
    _plan(sheet, sizing, 240, 30 + width * scale / 2, length * scale / 2, width * scale / 2)
    sheet.across(240 - length * scale / 2, 240 + length * scale / 2, 24,
                 said(sizing, "tank.width" if length == width else "tank.length", system))  # fmt: skip
    if length != width:
        sheet.upright(240 - length * scale / 2 - 14, 30, 30 + width * scale,
                      said(sizing, "tank.width", system), "left")  # fmt: skip
    _section(sheet, sizing, system, 420, length * scale, scale, depth, wall)
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


def _plan(sheet: Sheet, sizing: Sizing, x, y, half_long, half_wide) -> None:
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
    sheet.text(x, y + max(half_wide * 0.09, 5) + 20, "drain", "middle")


def _arc(sheet: Sheet, x, y, r, start, turn, width) -> None:
    """One arrow of the swirl."""
    x1, y1 = x + r * cos(start), y + r * sin(start)
    x2, y2 = x + r * cos(start + turn), y + r * sin(start + turn)
    big = 1 if turn > pi else 0
    sheet.path(f"M{x1:.1f} {y1:.1f}A{r:.1f} {r:.1f} 0 {big} 1 {x2:.1f} {y2:.1f}", None,
               "line-water", width)  # fmt: skip
    ahead = start + turn + 0.12
    sheet.arrow(x2, y2, x + r * cos(ahead), y + r * sin(ahead), "line-water", width, 10)


def _section(sheet: Sheet, sizing: Sizing, system, floor, wide, scale, depth, wall) -> None:
    left = 190 - wide / 2 if wide < 260 else 60
    top = floor - wall * scale
    sheet.water(left, floor - depth * scale, wide, depth * scale)
    sheet.line((left, top), (left, floor), (left + wide, floor), (left + wide, top), width=3)
    sheet.line((4, floor + 2), (476, floor + 2), stroke="line", width=2)
    mid = left + wide / 2
    sheet.rect(mid - 5, floor, 10, 10, "deep", "ink", 1)
    for side in (-1, 1):
        sheet.arrow(
            mid + side * wide * 0.4, floor - 10, mid + side * 14, floor - 6, "line-solids", 2
        )
    _person(sheet, left + wide + 34, floor, PERSON * scale)
    words = said(sizing, "tank.depth", system)
    beside = left - 26 > EM * SIZE * len(words)  # else the words stand over the wall
    sheet.upright(left - 14, floor - depth * scale, floor, words if beside else "", "left")
    if not beside:
        sheet.text(left - 20, top - 12, f"{words} deep")
    load = said(sizing, "tank.floor_load", system)
    sheet.text(240, floor + 32, f"{load} on the floor", "middle")
    sheet.text(left + wide + 52, floor - PERSON * scale * 0.4,
               show(PERSON, KINDS["length"], system, 2))  # fmt: skip


def _person(sheet: Sheet, x, floor, tall) -> None:
    """A person for scale: a head, a body, two legs."""
    head = tall * 0.07
    sheet.circle(x, floor - tall + head, head, None, "soft", 2)
    sheet.line((x, floor - tall + 2 * head), (x, floor - tall * 0.45), stroke="soft", width=3)
    sheet.line((x - tall * 0.1, floor), (x, floor - tall * 0.45), (x + tall * 0.1, floor),
               stroke="soft", width=3)  # fmt: skip
    sheet.line((x - tall * 0.12, floor - tall * 0.6), (x, floor - tall * 0.8),
               (x + tall * 0.12, floor - tall * 0.6), stroke="soft", width=2)  # fmt: skip
