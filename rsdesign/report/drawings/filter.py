"""The filter cut through, its surface beside a parking space, and ammonia against media."""

import numpy as np

from ...core.kinds import KINDS
from ...core.units import from_plain, show
from ...design.model import with_values
from ...equations.biofilter.areas import LIMITED_BY
from ...sizing.system import Sizing, size
from .look import Chart, Drawing, axis, here, layout, limit_line, line
from .sheet import Sheet
from .words import rows, said

PARKING = (2.74, 5.49)
"""A parking space [m], 9 by 18 ft, common practice: a thing to compare a surface with."""


def picture(sizing: Sizing, system: str) -> Drawing:
    """A section with the way of the water; the media's surface laid out flat beside a car's place."""
    kind = sizing.design.filter.type
    sheet = Sheet(480, 400, "The filter cut through, and its surface laid out flat")
    _vessel(sheet, kind, sizing, system)
    spaces = float(sizing.filter.area) / (PARKING[0] * PARKING[1])
    _surface(sheet, sizing, system, spaces)
    sentence = (
        f"The media have {said(sizing, 'filter.area', system)} of surface, as much as"
        f" {spaces:.2g} parking spaces. You need {said(sizing, 'filter.required', system)}; the rule"
        f" of thumb gives {said(sizing, 'filter.rule', system)}."
    )
    return Drawing(sheet.svg(sentence), sentence, rows(sizing, (
        "filter.load", "filter.rate", "filter.required", "filter.rule", "filter.area",
        "filter.media_volume", "filter.vessels", "filter.cross_section", "filter.across",
        "filter.depth", "filter.hydraulic_load", "filter.ammonia",
    ), system))  # fmt: skip


def _vessel(sheet: Sheet, kind: str, sizing: Sizing, system: str) -> None:
    left, right, top, floor = 50.0, 210.0, 60.0, 300.0
    wet = kind != "trickling"
    if wet:
        sheet.water(left, top + 20, right - left, floor - top - 20)
    sheet.line((left, top), (left, floor), (right, floor), (right, top), width=3)
    bed = (top + 60, floor - 40)
    step = {"moving bed": 26, "trickling": 22, "submerged": 18, "bead": 14}[kind]
    row = 0
    y = bed[0] + 8
    while y < bed[1]:
        x = left + 12 + (step / 2 if row % 2 else 0)
        while x < right - 8:
            _grain(sheet, kind, x, y)
            x += step
        y += step
        row += 1
    if kind == "trickling":
        sheet.arrow(left - 36, top - 14, left + 70, top - 14, "line-water", 4)
        for x in range(int(left) + 18, int(right), 26):
            sheet.line((x, top - 6), (x, bed[0] - 4), stroke="line-water", width=2, dash="3 5")
        sheet.arrow(right - 20, floor - 14, right + 40, floor - 14, "line-water", 4)
    else:
        sheet.arrow(left - 40, floor - 18, left + 20, floor - 18, "line-water", 4)
        sheet.arrow((left + right) / 2, floor - 16, (left + right) / 2, bed[1] + 4, "line-water", 3)
        sheet.arrow(right - 10, top + 32, right + 40, top + 32, "line-water", 4)
    sheet.text((left + right) / 2, floor + 26, f"{kind} filter", "middle", bold=True)
    sheet.text((left + right) / 2, floor + 50, f"{said(sizing, 'filter.media_volume', system)} of"
               f" {sizing.design.filter.medium}", "middle")  # fmt: skip


def _grain(sheet: Sheet, kind: str, x, y) -> None:
    if kind == "moving bed":
        sheet.circle(x, y, 8, None, "line-filter", 2)
        sheet.line((x - 8, y), (x + 8, y), stroke="line-filter", width=1)
    elif kind == "bead":
        sheet.circle(x, y, 5, "plants", "line-filter", 1)
    elif kind == "trickling":
        sheet.rect(x - 7, y - 7, 14, 14, "plants", "line-filter", 1)
    else:
        sheet.poly(
            [(x - 7, y + 3), (x - 2, y - 6), (x + 6, y - 4), (x + 7, y + 5)], "sand", "soft", 1
        )


def _surface(sheet: Sheet, sizing: Sizing, system: str, spaces: float) -> None:
    need, have = float(sizing.filter.required), float(sizing.filter.area)
    most = max(need, have, PARKING[0] * PARKING[1]) or 1.0
    side = 170.0
    for area, use, dash in ((have, "plants", ""), (need, None, "8 5")):
        edge = side * (area / most) ** 0.5
        sheet.rect(280, 60 + side - edge, edge, edge, use, "line-filter" if use else "ink", 2, dash)
    scale = side / most**0.5
    w, h = PARKING[0] * scale, PARKING[1] * scale
    sheet.rect(280, 60 + side - h, w, h, "sand", "ink", 2)
    sheet.text(280, 260, f"have {said(sizing, 'filter.area', system)}")
    sheet.text(280, 284, f"need {said(sizing, 'filter.required', system)} (dashed)")
    sheet.text(280, 308, "small box: one")
    sheet.text(280, 332, "parking space")
    sheet.text(280, 40, "its surface, laid flat", bold=True)


def rate_chart(sizing: Sizing, system: str) -> Chart:
    """Ammonia in the tank as the media grow: more surface helps until the flow holds it back."""
    kind, level = KINDS["media volume"], KINDS["concentration"]
    now = float(sizing.filter.media_volume)
    volumes = np.geomspace(max(now, 0.01) / 8, max(now, 0.01) * 4, 31)
    swept = size(with_values(sizing.design, {"filter.media_volume": volumes}))
    unit = kind.shown(system)
    x, y = from_plain(volumes, unit), np.broadcast_to(swept.filter.ammonia, volumes.shape) * 1e3
    limit = float(sizing.gas.ammonia_limit) * 1e3
    figure = {
        "data": [*line(x, y, "ammonia in the tank"),
                 here(from_plain(now, unit), float(sizing.filter.ammonia) * 1e3, "now")],
        "layout": layout(axis(f"Media, {unit.label}"),
                         axis("Total ammonia nitrogen, mg/L", rangemode="tozero"),
                         shapes=[limit_line(limit)]),
    }  # fmt: skip
    held = {"area": "surface", "flow": "flow", "both": "surface and flow"}[
        LIMITED_BY[int(sizing.filter.limited_by)]
    ]
    sentence = (
        f"With {show(now, kind, system)} of media ammonia settles at"
        f" {show(float(sizing.filter.ammonia), level, system)}, and what holds the filter back is {held};"
        f" the dashed line is the limit, {limit:.2g} mg/L."
    )
    table = [
        (show(v, kind, system), f"{a:.2g} mg/L") for v, a in zip(volumes[::5], y[::5], strict=True)
    ]
    return Chart(figure, sentence, (("Media", "Ammonia in the tank"), table))
