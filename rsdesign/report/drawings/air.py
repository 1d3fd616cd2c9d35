"""Stones at their depth with the pressure the machine must give; the oxygen that water can hold."""

import numpy as np

from ...core.kinds import KINDS
from ...core.units import from_plain, show
from ...equations.water.oxygen import saturation
from ...sizing.system import Sizing
from .fitted import FittedSheet
from .look import Chart, Drawing, axis, here, layout, limit_line, line
from .sheet import Sheet
from .words import rows, said

FULLEST = 0.012
"""Oxygen at the top of the column [kg/m³]."""


def picture(sizing: Sizing, system: str, width: float = 636.0) -> Drawing:
    """Left the tank with its stones, right the oxygen the water can hold and what must be kept."""
    a, keep = sizing.air, float(sizing.design.keep.oxygen)
    sheet = FittedSheet(
        width, (480, 350), "Air into the tank, and the oxygen that the water can hold"
    )
    _tank(sheet, sizing, system)
    _column(sheet, float(a.saturation), keep, float(a.peak_oxygen), system)
    gap = float(a.saturation) - keep
    held = said(sizing, "air.saturation", system)
    sentence = (
        f"The warmest water can hold {held} of oxygen. Keeping"
        f" {show(keep, KINDS['concentration'], system)} leaves the air a push of"
        f" {show(gap, KINDS['concentration'], system, 2)}. So you need"
        f" {said(sizing, 'air.required', system)} at {said(sizing, 'air.discharge_pressure', system)}."
    )
    if gap <= 0:
        sentence = f"The warmest water can hold only {held}: air alone cannot keep what you ask."
    return Drawing(sheet.svg(sentence), sentence, rows(sizing, (
        "air.saturation", "air.peak_oxygen", "air.required", "air.provided", "air.stone_depth",
        "air.discharge_pressure", "air.stones", "air.wire_power", "loads.peak_oxygen",
    ), system))  # fmt: skip


def _tank(sheet: Sheet, sizing: Sizing, system: str) -> None:
    left, right, top, floor = 12.0, 272.0, 110.0, 270.0
    depth, stone = float(sizing.tank.depth), float(sizing.air.stone_depth)
    sheet.water(left, top, right - left, floor - top)
    sheet.line((left, top - 20), (left, floor), (right, floor), (right, top - 20), width=3)
    at = top + (floor - top) * min(stone / depth, 1.0)
    share = float(sizing.air.used) / max(float(sizing.air.provided), 1e-12)
    for place in range(4):
        x = left + 50 + place * 56
        sheet.rect(x - 14, at - 5, 28, 8, "inset", "ink", 2)
        for k in range(int(3 + 6 * min(share, 1))):
            sheet.circle(
                x - 8 + (k * 7) % 18, at - 12 - k * (at - top - 14) / 9, 3, "paper", "line-water", 1
            )
    sheet.rect(left + 6, 34, 92, 40, "air", "ink", 2)
    sheet.text(left + 52, 60, f"{float(sizing.air.count):.0f} running", "middle")
    sheet.line(
        (left + 98, 54),
        (right - 20, 54),
        (right - 20, at),
        (left + 40, at),
        stroke="line-air",
        width=4,
    )
    sheet.text(right, 40, said(sizing, "air.discharge_pressure", system), "end", bold=True)
    sheet.text(150, 94, str(sizing.air.device), "middle")
    sheet.upright(left + 22, top, at, said(sizing, "air.stone_depth", system))
    sheet.text(142, floor + 28, f"air needed {said(sizing, 'air.required', system)}", "middle")
    sheet.text(142, floor + 52, f"air given {said(sizing, 'air.provided', system)}", "middle")


def _column(sheet: Sheet, full: float, keep: float, now: float, system: str) -> None:
    left, top, floor = 306.0, 60.0, 300.0
    kind = KINDS["concentration"]

    def level(oxygen: float) -> float:
        return floor - (floor - top) * min(max(oxygen, 0.0) / FULLEST, 1.0)

    sheet.rect(left, top, 36, floor - top, None, "ink", 2)
    sheet.rect(left, level(full), 36, floor - level(full), "water", "line-water", 1)
    sheet.rect(left, level(max(keep, 0)), 36, floor - level(keep), "deep", None)
    marks = sorted(
        ((full, "full", "ink"), (keep, "keep", "short"), (now, "now", "enough")), reverse=True
    )
    y_before = -99.0
    for oxygen, word, use in marks:
        sheet.line((left - 6, level(oxygen)), (left + 42, level(oxygen)), stroke=use, width=3)
        y = max(level(oxygen) + 6, y_before + 22)
        y_before = y
        sheet.text(left + 48, y, f"{word} {show(oxygen, kind, system, 2)}", use=use)
    sheet.text(left + 18, 40, "oxygen", "middle")


def oxygen_chart(sizing: Sizing, system: str) -> Chart:
    """What full water holds as it warms, at this height, against what is kept."""
    kind = KINDS["temperature"]
    warm = np.linspace(10.0, 40.0, 61)
    full = saturation(warm, float(sizing.design.source.salinity), float(sizing.air.pressure)) * 1e3
    unit = kind.shown(system)
    keep, at = float(sizing.design.keep.oxygen) * 1e3, float(sizing.air.temperature)
    held = float(sizing.air.saturation) * 1e3
    figure = {
        "data": [*line(from_plain(warm, unit), full, "full water holds"),
                 here(from_plain(at, unit), held, "your warmest")],
        "layout": layout(axis(f"Water, {unit.label}"), axis("Oxygen, mg/L", range=[0, 13]),
                         shapes=[limit_line(keep)]),
    }  # fmt: skip
    sentence = (
        f"At {show(at, kind, system)} and this height full water holds {held:.3g} mg/L of oxygen;"
        f" you keep {keep:.3g} mg/L, the dashed line."
    )
    table = [
        (show(t, kind, system), f"{o:.2f} mg/L") for t, o in zip(warm[::6], full[::6], strict=True)
    ]
    return Chart(figure, sentence, (("Water", "Oxygen when full"), table))
