"""The filter cut through, its surface beside a parking space, and ammonia against media."""

import numpy as np

from ...core.kinds import KINDS
from ...core.units import from_plain, number, show
from ...design.model import with_values
from ...equations.biofilter.areas import LIMITED_BY
from ...sizing.system import Sizing, size
from .filter_parts import PARKING, FilterSheet, buckets, laid_flat, stands, surface_words, vessels
from .fitted import narrow
from .hatch import patterns
from .labels import LabelledSheet
from .look import Chart, Drawing, axis, here, layout, limit_line, line
from .words import rows, said


def picture(sizing: Sizing, system: str, width: float = 636.0) -> Drawing:
    """A section to scale with the way of the water; the media's surface laid out flat; buckets to buy."""
    wide_ = not narrow(width)
    sheet = LabelledSheet(width, 400.0 if wide_ else 232.0, "The filter cut through, and its surface laid out flat",
                          13.0 if wide_ else 12.0)  # fmt: skip
    made = FilterSheet(sizing, system, sheet)
    if wide_:
        middle, side = 0.57 * width, min(0.3 * width, 200.0)
        sheet.write(2, 14, "The filter, to scale", bold=True)
        stands(made, 152, 14)
        sheet.write(middle, 14, "Its surface, laid flat", bold=True)
        laid_flat(made, middle, 26, side)
        surface_words(made, middle, 26 + side + 44)
        buckets(made, 2, 342, 0.98 * width)
        vessels(made, 2, middle - 12, 34, 286)
    else:
        middle = min(0.62 * width, width - 136)
        stands(made, 2, 12)
        laid_flat(made, middle, 20, 92)
        surface_words(made, middle, 20 + 92 + 40)
        buckets(made, 2, 227, width)
        vessels(made, 2, middle - 6, 20, 166)
    sheet.marks.extend(sheet.late)
    sheet.marks.insert(0, patterns(made.key))
    spaces = float(sizing.filter.area) / (PARKING[0] * PARKING[1])
    sentence = (
        f"The media have {said(sizing, 'filter.area', system)} of surface, as much as"
        f" {number(spaces, 2)} parking spaces. You need {said(sizing, 'filter.required', system)}; the rule"
        f" of thumb gives {said(sizing, 'filter.rule', system)}."
    )
    return Drawing(sheet.svg(sentence), sentence, rows(sizing, (
        "filter.load", "filter.rate", "filter.required", "filter.rule", "filter.area",
        "filter.media_volume", "filter.vessels", "filter.cross_section", "filter.across",
        "filter.depth", "filter.hydraulic_load", "filter.ammonia", "filter.removal",
    ), system))  # fmt: skip


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
