"""The whole system from above: parts in the way of the water, flows as wide as they are big."""

from ...sizing.margins import percent, short_percent
from ...sizing.system import Sizing
from ...sizing.worst_first import among, worst_part
from .look import Drawing
from .sheet import Sheet
from .words import margin_table, said

FILLS = {
    "short": "short-fill", "tight": "tight-fill", "enough": "enough-fill",
    "sized to fit": "enough-fill",
}  # fmt: skip


def plan_view(sizing: Sizing, system: str) -> Drawing:
    """Tank, settler, filter and sump with the pump; air on the tank, new water in, sludge out."""
    sheet = Sheet(480, 500, "The whole system from above")
    found = {part.name: part for part in sizing.parts}
    tightest = worst_part(tuple(found.values()))
    flow = float(sizing.pump.flow)
    band = 4 + min(14.0, 8 * (flow / 0.0015) ** 0.5)
    wide = 60 + min(50.0, 12 * float(sizing.tank.volume) ** (1 / 3))
    tank_x, tank_y = 110.0, 150.0
    sheet.arrow(tank_x + wide * 0.7, tank_y + wide * 0.72, 290, 318, "line-solids", band, 14)
    sheet.arrow(338, 320, 372, 212, "line-water", band, 14)
    sheet.arrow(370, 130, 372, 76, "line-water", band, 14)
    sheet.line((330, 52), (tank_x, 52), stroke="line-water", width=band)
    sheet.arrow(tank_x, 52, tank_x, tank_y - wide - 2, "line-water", band, 14)
    _round(sheet, tank_x, tank_y, wide, found["tank"], tightest)
    count = float(sizing.stock.tanks)
    name = "tank" if count == 1 else f"{count:.0f} tanks"
    sheet.text(tank_x, tank_y - 38, name, "middle", bold=True)
    sheet.text(tank_x, tank_y - 14, said(sizing, "tank.volume", system), "middle")
    if "settler" in found:
        _box(sheet, 250, 320, 190, 76, "settler", found["settler"], tightest,
             said(sizing, "solids.area", system))  # fmt: skip
    else:
        sheet.rect(250, 320, 190, 76, None, "soft", 1, "4 4")
        sheet.text(345, 362, "no settler", "middle")
    _box(sheet, 300, 132, 170, 76, "filter", found["filter"], tightest,
         said(sizing, "filter.media_volume", system))  # fmt: skip
    _box(sheet, 330, 22, 130, 54, "pump", found["pump"], tightest, "")
    _box(sheet, 16, 320, 180, 76, "air", found["air"], tightest,
         said(sizing, "air.provided", system))  # fmt: skip
    sheet.arrow(96, 320, 100, tank_y + wide + 4, "line-air", 5, 12)
    sheet.arrow(350, 396, 350, 440, "line-solids", 3 + min(6.0, 4e7 * float(sizing.solids.sludge)))
    sheet.text(350, 462, f"sludge {said(sizing, 'solids.sludge', system, 2)}", "middle")
    sheet.text(110, 426, f"feed {said(sizing, 'stock.peak_feed', system, 2)}", "middle", bold=True)
    sheet.text(110, 450, f"new water {said(sizing, 'water.exchange', system, 2)}", "middle")
    sheet.text(225, 46 - band / 2, said(sizing, "pump.flow", system), "middle")
    sheet.text(240, 490, f"ring: the tightest part, {tightest.label.lower()}", "middle", use="soft")
    drain = found["drain"]
    sentence = (
        f"Fish that eat {said(sizing, 'stock.peak_feed', system, 2)} need"
        f" {said(sizing, 'flow.required', system)} of flow, {said(sizing, 'filter.required', system)} of"
        f" media and {said(sizing, 'air.required', system)} of air. The tightest part is"
        f" {tightest.label.lower()} with {percent(tightest.margin, tightest.form)}"
        f"{among(tuple(found.values()))}."
    )
    if tightest is not drain:
        sentence += f" The drain can carry {percent(drain.margin, drain.form)}."
    return Drawing(sheet.svg(sentence), sentence, margin_table(sizing.parts, system))


def _ring(part, tightest) -> tuple[str, float]:
    return ("clay", 6.0) if part.name == tightest.name else ("ink", 2.0)


def _round(sheet: Sheet, x, y, r, part, tightest) -> None:
    use, width = _ring(part, tightest)
    sheet.circle(x, y, r, "water", use, width)
    sheet.text(x, y + 34, short_percent(part.margin, part.form), "middle")


def _box(sheet: Sheet, x, y, w, h, name, part, tightest, size: str) -> None:
    use, width = _ring(part, tightest)
    sheet.rect(x, y, w, h, FILLS[part.word], use, width)
    share = short_percent(part.margin, part.form)
    sheet.text(x + w / 2, y + 24, f"{name} {share}", "middle", bold=True)
    if size:
        sheet.text(x + w / 2, y + 52, size, "middle")
