"""The settler cut through, with the path of each size of waste, and what it catches at other loads."""

from ...core.kinds import KINDS
from ...core.units import from_plain, show
from ...sizing.system import Sizing
from ...studies.sweep import sweep
from .look import Chart, Drawing, axis, here, layout, limit_line, line
from .sheet import Sheet
from .words import rows, said

LEAST_CAUGHT = 0.5
"""Share that a settler should catch; common practice."""


def picture(sizing: Sizing, system: str) -> Drawing:
    """A section; a path that meets the floor before the outlet is caught."""
    s = sizing.solids
    sheet = Sheet(480, 330, "The settler cut through")
    left, right, top, floor = 40.0, 350.0, 70.0, 230.0
    sheet.water(left, top, right - left, floor - top)
    sheet.poly([(left, floor), (right, floor), ((left + right) / 2 + 14, floor + 50),
                ((left + right) / 2 - 14, floor + 50)], "sludge", "ink", 2)  # fmt: skip
    sheet.line((left, top - 20), (left, floor), width=3)
    sheet.line((right, floor), (right, top), width=3)
    sheet.arrow(6, top + 24, left - 2, top + 24, "line-water", 5)
    sheet.arrow(right - 6, top - 8, right + 46, top - 8, "line-water", 5)
    load = float(s.load)
    escapes = []
    velocities = [float(v) for v in sizing.tables.grain_velocities]
    for place, velocity in enumerate(velocities):
        ratio = velocity / load if load > 0 else 9.0
        reach = left + (right - left) * min(1 / ratio if ratio > 0 else 9, 1.0)
        start = top + 10
        end = floor if ratio >= 1 else start + (floor - start) * ratio
        caught = ratio >= 1
        use = "line-solids" if caught else "short"
        sheet.line((left + 4, start), (reach, end), stroke=use, width=1.5 + 1.2 * (5 - place) / 2,
                   dash="2 5" if caught else "8 5")  # fmt: skip
        sheet.circle(reach, end, 3 + (5 - place) * 0.9, use, None)
        if not caught:
            escapes.append(velocity)
    whole = float(s.captured)
    tall = floor - top
    sheet.rect(400, top, 46, tall, "inset", "ink", 2)
    sheet.rect(400, floor - tall * whole, 46, tall * whole, "sludge", "ink", 2)
    sheet.text(423, floor + 24, f"caught {said(sizing, 'solids.captured', system, 2)}", "middle")
    sheet.text((left + right) / 2, floor + 78, f"sludge {said(sizing, 'solids.sludge', system, 2)}",
               "middle")  # fmt: skip
    sheet.text(left, 26, f"{said(sizing, 'solids.settler_flow', system)} over"
               f" {said(sizing, 'solids.area', system)}")  # fmt: skip
    sheet.text(left, 50, f"rises at {show(load, KINDS['settling velocity'], system, 2)}")
    kind = KINDS["settling velocity"]
    lost = (
        f"grains that sink slower than {show(load, kind, system, 2)} escape in part"
        if escapes
        else "every size that was measured sinks fast enough"
    )
    sentence = (
        f"At {said(sizing, 'solids.load', system)} {lost}; the settler catches"
        f" {said(sizing, 'solids.captured', system, 2)} of what can settle."
    )
    if sizing.design.solids.settler == "none":
        sentence = "There is no settler: all the waste stays in the water and rots."
    grains = [
        (f"sinks {show(v, kind, system, 2)}", show(share, KINDS["fraction"], system, 2),
         "caught" if v >= load else f"{min(v / load, 1):.0%} caught, the rest escapes")
        for v, share in zip(velocities, sizing.tables.grain_shares, strict=True)
    ]  # fmt: skip
    figures = rows(sizing, ("solids.load", "solids.captured", "solids.sludge"), system)[1]
    return Drawing(sheet.svg(sentence), sentence, (
        ("Grain", "Share of the waste", "In an ideal settler"),
        [*grains, *((a, b, "") for a, b in figures)],
    ))  # fmt: skip


def capture_chart(sizing: Sizing, system: str) -> Chart:
    """What this kind of settler catches as the flow over each area grows."""
    kind = KINDS["hydraulic load"]
    swept = sweep(sizing.design, "solids.overflow_rate", 0.00034, 0.0068)
    loads = swept.values
    unit = kind.shown(system)
    x, y = from_plain(loads, unit), 100 * swept.result("solids.captured")
    at, value = from_plain(float(sizing.solids.load), unit), 100 * float(sizing.solids.captured)
    figure = {
        "data": [*line(x, y, "caught", below=y[-1] < 100 * LEAST_CAUGHT), here(at, value, "now")],
        "layout": layout(axis(f"Flow over each area, {unit.label}"),
                         axis("Settleable waste caught, %", range=[0, 100]),
                         shapes=[limit_line(100 * LEAST_CAUGHT)]),
    }  # fmt: skip
    sentence = (
        f"This settler catches {value:.0f} % at {show(float(sizing.solids.load), kind, system)};"
        f" at {show(loads[10], kind, system)} it would catch {y[10]:.0f} %."
    )
    table = [(show(v, kind, system), f"{c:.0f} %") for v, c in zip(loads[::5], y[::5], strict=True)]
    return Chart(figure, sentence, (("Flow over each area", "Caught"), table))
