"""Water levels from tank to sump with the pump's lift, and the pump's curve against the pipe's."""

import numpy as np

from ...core.kinds import KINDS
from ...core.tables import read
from ...core.units import from_plain, show
from ...equations.pipes.tables import Pump
from ...sizing.system import Sizing
from .fitted import FittedSheet, narrow
from .look import Chart, Drawing, axis, here, layout, line
from .words import rows, said, tape


def levels(sizing: Sizing, system: str, width: float = 636.0) -> Drawing:
    """Side view: each water stands where gravity lets it, and the pump lifts it back."""
    p = sizing.pump
    sheet = FittedSheet(width, (480, 360), "Water levels from the tank to the sump")
    tank, settler = float(p.tank_level), float(p.settler_level)
    scale = min(170.0 / max(tank, 0.3), 150.0)
    base = 300.0 - min(max(-settler * scale, 0.0), 60.0)  # a settler lower than the sump
    top = {"tank": base - tank * scale - 20, "settler": base - settler * scale - 20,
           "sump": base - 20}  # fmt: skip
    for name, x, wide, deep in (
        ("tank", 20, 150, 60),
        ("settler", 215, 80, 70),
        ("sump", 330, 96, 40),
    ):
        y = top[name]
        sheet.water(x, y, wide, deep)
        sheet.line((x, y - 14), (x, y + deep), (x + wide, y + deep), (x + wide, y - 14), width=3)
        sheet.text(x + (34 if name == "sump" else wide / 2), y + 28, name, "middle")
    flow = float(p.flow)
    stream = 3 + min(9.0, 6 * flow / 0.003)
    sheet.arrow(170, top["tank"] + 46, 215, top["settler"] + 14, "line-solids", stream)
    sheet.arrow(295, top["settler"] + 18, 330, top["sump"] + 2, "line-water", stream)
    pipe = min(2 + float(p.pipe) * 90, 15 * sheet.down)
    riser = 404.0
    sheet.line((riser, top["sump"] + 14), (riser, 40), (60, 40), stroke="line-water", width=pipe)
    sheet.arrow(60, 40, 60, top["tank"] - 2, "line-water", pipe)
    sheet.circle(riser, top["sump"] + 22, 12, "air", "ink", 2)
    lift = float(sizing.design.pump.lift)
    if tank > 0.05:
        words = "lift" if narrow(width) else tape(lift, system)
        sheet.upright(434 if narrow(width) else 424, top["tank"], top["sump"], words)
    sheet.text(240, 26, f"{said(sizing, 'pump.flow', system)} in a"
               f" {said(sizing, 'pump.pipe', system, 2)} pipe at {said(sizing, 'pump.velocity', system, 2)}", "middle")  # fmt: skip
    rub = said(sizing, "pump.friction", system, 2)
    sheet.text(240, 352, f"lift {show(lift, KINDS['head'], system, 2)} + friction {rub}", "middle")
    share = float(p.lift_share)
    sentence = (
        f"The pump works against {said(sizing, 'pump.head', system)}: {share:.0%} is lift and"
        f" {1 - share:.0%} is friction in the pipe. It draws"
        f" {said(sizing, 'pump.plate_watts', system)} by its plate, day and night."
    )
    return Drawing(sheet.svg(sentence), sentence, rows(sizing, (
        "pump.flow", "pump.head", "pump.friction", "pump.velocity", "pump.plate_watts", "pump.wire_power",
        "pump.tank_level", "pump.settler_level", "pump.drain_down", "pump.overflow",
    ), system))  # fmt: skip


def curves(sizing: Sizing, system: str) -> Chart:
    """The pump gives less as it lifts higher; the pipe asks more as more flows: they meet once."""
    p, kind, head = sizing.pump, KINDS["flow"], KINDS["head"]
    row = next((r for r in read("pumps", Pump) if r.name == p.model), None)
    lift, flow = float(sizing.design.pump.lift), float(p.flow)
    meet = flow
    most = 1.4 * flow
    if row is not None:
        most = max(most, row.free_flow * float(p.count))
    q = np.linspace(0.0, most, 41)
    asked = lift + float(p.friction) * (q / flow) ** 2
    unit, up = kind.shown(system), head.shown(system)
    x = from_plain(q, unit)
    data = line(x, from_plain(asked, up), "pipe needs", 1)
    rows_ = [("Pipe needs at " + show(v, kind, system, 2), show(h, head, system, 3))
             for v, h in zip(q[::8], asked[::8], strict=True)]  # fmt: skip
    if row is not None:
        gives = row.shutoff_head * (1 - (q / (row.free_flow * float(p.count))) ** 2)
        gives = np.where(gives >= 0, gives, np.nan)
        data = [*line(x[gives >= 0], from_plain(gives[gives >= 0], up), "pump gives", 0), *data]
    at = lift + float(p.friction) * (meet / flow) ** 2
    data.append(here(from_plain(meet, unit), from_plain(at, up), "they meet"))
    figure = {
        "data": data,
        "layout": layout(
            axis(f"Flow, {unit.label}"), axis(f"Head, {up.label}", rangemode="tozero")
        ),
    }
    sentence = (
        f"With {p.model} the water meets at {show(meet, kind, system)} and"
        f" {show(at, head, system)}; the fish need {said(sizing, 'flow.required', system)}."
    )
    return Chart(figure, sentence, (("Point", "Head"), rows_))
