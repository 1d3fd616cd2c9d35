"""The hot day: six heat flows at the tank, water over air by hour, the year, and what stays behind."""

import numpy as np

from ...core.kinds import KINDS, Number
from ...core.units import from_plain, show
from ...design.weather import MONTHS
from ...sizing.system import Sizing
from ...studies.heat import brief as heat_brief
from ...studies.heat import study as heat
from ...studies.makeup import study as makeup
from .fitted import FittedSheet
from .look import Chart, Drawing, axis, layout, limit_line, line
from .sheet import Sheet

GROUPS = {
    "sun": ("sun",),
    "sky": ("longwave",),
    "air": ("convection", "lid", "stripper", "bubbles"),
    "vapour": ("evaporation",),
    "walls": ("walls", "floor"),
    "inside": ("inside", "makeup"),
}
"""Arrows of the drawing and the flows that each gathers."""


def flows(sizing: Sizing, system: str, width: float = 636.0) -> Drawing:
    """The tank on the hot day, an arrow for each way that heat goes, as wide as it is large."""
    day = heat_brief.hot_day(sizing)
    course = day["as designed"]
    gained = {
        words: sum(float(course.flows[n].mean()) for n in names) for words, names in GROUPS.items()
    }
    most = max([abs(v) for v in gained.values()]) or 1.0
    sheet = FittedSheet(width, (480, 372), "Heat of the tank on the hot day")
    left, right, top, floor = 130.0, 350.0, 170.0, 262.0
    sheet.water(left, top, right - left, floor - top)
    sheet.line((left, top - 22), (left, floor), (right, floor), (right, top - 22), width=3)
    kind = KINDS["temperature"]
    sheet.text(240, 206, f"hottest {show(course.hottest, kind, system)}", "middle", bold=True)
    sheet.text(240, 232, f"coldest {show(course.coldest, kind, system)}", "middle")
    power = KINDS["power"]
    for (words, value), x in zip(list(gained.items())[:4], (66, 182, 298, 414), strict=True):
        place = left + 26 + (x - 66) / 348 * (right - left - 52)
        _flow(sheet, place, 84, place, top - 4, value, most)
        sheet.text(x, 24, words, "middle")
        sheet.text(x, 48, show(value, power, system, 2), "middle")
    rest = list(gained.items())[4:]
    for (words, value), (x1, x2, at) in zip(
        rest, ((60, left - 4, 66), (420, right + 4, 414)), strict=True
    ):
        _flow(sheet, x1, 226, x2, 226, value, most)
        sheet.text(at, 178, words, "middle")
        sheet.text(at, 202, show(value, power, system, 2), "middle")
    flow = KINDS["daily flow"]
    low, high = day["least evaporation"].evaporation, day["most evaporation"].evaporation
    sheet.text(
        240,
        300,
        f"lost to the air {show(course.evaporation, flow, system, 2)}",
        "middle",
        bold=True,
    )
    sheet.text(
        240,
        326,
        f"other relations {show(low, flow, system, 2)} to {show(high, flow, system, 2)}",
        "middle",
    )
    sheet.text(240, 354, f"swing {_apart(course.swing, system)} in a day", "middle")
    sentence = (
        f"On the hot day the water swings from {show(course.coldest, kind, system)} to"
        f" {show(course.hottest, kind, system)} and loses {show(course.evaporation, flow, system, 2)}"
        f" to the air; the largest flow is {max(gained, key=lambda w: abs(gained[w]))}."
    )
    rows = [(words, show(value, power, system, 3)) for words, value in gained.items()]
    rows += [("evaporated", show(course.evaporation, flow, system)), ("least", show(low, flow, system)),
             ("most", show(high, flow, system))]  # fmt: skip
    return Drawing(sheet.svg(sentence), sentence, (("Into the water, mean of the day", ""), rows))


def _flow(sheet: Sheet, x1, y1, x2, y2, value: float, most: float) -> None:
    """An arrow into the water where heat is gained, out of it where it is lost."""
    use = "short" if value > 0 else "line-water"
    ends = (x1, y1, x2, y2) if value > 0 else (x2, y2, x1, y1)
    sheet.arrow(*ends, use=use, width=2 + 20 * abs(value) / most, head=12)


def _apart(value: Number, system: str) -> str:
    return show(value, KINDS["temperature difference"], system, 2).replace(" apart", "")


def day_chart(sizing: Sizing, system: str) -> Chart:
    """Water over air through the hot day, with lid by day and open water beside the design."""
    study = heat.study(sizing)
    unit, hours = KINDS["temperature"].shown(system), list(range(25))
    ways = ["as designed", "open water", "half shade, open"]
    lid = next((c.arrangement for c in study.courses if c.arrangement.endswith("by day")), None)
    ways[2] = lid or ways[2]
    courses = [study.course("hot", way) for way in ways]

    def shown(values):
        return from_plain(np.append(values, values[0]), unit).tolist()

    data = [
        t
        for place, c in enumerate(courses)
        for t in line(hours, shown(c.start), c.arrangement, place)
    ]
    data += line(hours, shown(courses[0].air), "air", 3)
    high = from_plain(float(sizing.tables.species.feeding_high), unit)
    figure = {
        "data": data,
        "layout": layout(axis("Hour of the hot day", dtick=6), axis(f"Temperature, {unit.label}"),
                         shapes=[limit_line(high)]),
    }  # fmt: skip
    kind = KINDS["temperature"]
    sentence = (
        f"At its hottest the water reaches {show(courses[0].hottest, kind, system)} as designed,"
        f" {show(courses[1].hottest, kind, system)} open and {show(courses[2].hottest, kind, system)}"
        f" with {ways[2]}; fish stop eating at the dashed line."
    )
    rows = [(c.arrangement, show(c.coldest, kind, system), show(c.mean, kind, system),
             show(c.hottest, kind, system)) for c in courses]  # fmt: skip
    return Chart(figure, sentence, (("Hot day", "Coldest", "Mean", "Hottest"), rows))


def year_chart(sizing: Sizing, system: str) -> Chart:
    """Unheated water month by month, with its hottest and coldest hour."""
    study = heat.study(sizing)
    kind = KINDS["temperature"]
    unit, fish = kind.shown(system), sizing.tables.species
    names = [m.month[:3] for m in study.months]

    def shown(name):
        return [from_plain(getattr(m, name), unit) for m in study.months]

    data = [*line(names, shown("water"), "water", 0), *line(names, shown("hottest"), "hottest hour", 1),
            *line(names, shown("coldest"), "coldest hour", 2), *line(names, shown("air"), "air", 3)]  # fmt: skip
    limits = [limit_line(from_plain(float(x), unit)) for x in (fish.feeding_low, fish.feeding_high)]
    figure = {
        "data": data,
        "layout": layout(axis("Month"), axis(f"Temperature, {unit.label}"), shapes=limits),
    }
    warm = sum(fish.feeding_low <= m.water <= fish.feeding_high for m in study.months)
    sentence = (
        f"Without a heater the mean water lets the fish eat in {warm} of {len(MONTHS)} months: between"
        f" the dashed lines, {show(fish.feeding_low, kind, system)} and"
        f" {show(fish.feeding_high, kind, system)}."
    )
    rows = [(m.month, show(m.air, kind, system), show(m.water, kind, system), show(m.hottest, kind, system),
             show(m.coldest, kind, system)) for m in study.months]  # fmt: skip
    return Chart(figure, sentence, (("Month", "Air", "Water", "Hottest", "Coldest"), rows))


def salt_chart(sizing: Sizing, system: str) -> Chart:
    """Nitrate and chloride through a year, with what is drained and when nothing is."""
    study = makeup.study(sizing)
    data, rows = [], []
    for place, salt in enumerate(study.salts[:2]):
        name = salt.name.split(",")[0]
        for drained, words in ((True, name), (False, f"{name}, only topped up")):
            days, levels = makeup.course(study, salt, drained)
            data += line(days, 1e3 * levels, words, place + (0 if drained else 2))
            rows.append(
                (words, *(f"{1e3 * np.interp(d, days, levels):.3g} mg/L" for d in (30, 90, 365)))
            )
    most = 1e3 * float(sizing.design.keep.nitrate)
    top = 4.0 * max(most, 1e3 * float(study.salts[0].at_rest))
    figure = {
        "data": data,
        "layout": layout(axis("Days since the first filling"), axis("mg/L", range=[0, top]),
                         shapes=[limit_line(most)]),
    }  # fmt: skip
    nitrate = study.salts[0]
    kind = KINDS["concentration"]
    sentence = (
        f"With what is drained, nitrate settles at {show(nitrate.at_rest, kind, system, 2)}; only topped"
        f" up, it reaches {show(nitrate.only_topped, kind, system, 2)} in a year. The dashed line is the"
        " most nitrate you allow."
    )
    return Chart(figure, sentence, (("In the water", "30 days", "90 days", "A year"), rows))
