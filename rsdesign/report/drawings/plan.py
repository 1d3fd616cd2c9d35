"""The stocking plan over the weeks: weight of fish, and feed with its peak."""

from math import ceil

from ...core.kinds import KINDS
from ...core.units import from_plain, number, show
from ...sizing.system import Sizing
from ..plan import plan_of
from .axes import Axis, nice
from .fitted import narrow
from .labels import LabelledSheet, wide
from .look import Chart, Drawing, axis, here, layout, line

HEADROOM = 1.12
"""Room over the highest value for its words."""


def weeks(sizing: Sizing, system: str, width: float = 636.0) -> Drawing:
    """The weight of fish above, the feed below, over the weeks of the plan; the biggest day marked."""
    found, small = plan_of(sizing), narrow(width)
    sheet = LabelledSheet(width, 222.0 if small else 380.0, "Fish and feed over the weeks",
                          12.0 if small else 13.0)  # fmt: skip
    size, feed = sheet.size, found.feed.sum(axis=0)
    rows = [("Fish in the water", KINDS["mass"], found.biomass.sum(axis=0), "line-water", ""),
            ("Feed in a day", KINDS["feed rate"], feed, "clay", "7 4")]  # fmt: skip
    shown = [from_plain(values, kind.shown(system)) for _, kind, values, *_ in rows]
    axes = [_upward(values) for values in shown]
    left = 10 + max(wide(number(axis.high), size) for axis in axes)
    x = Axis(0.0, float(found.week[-1]) or 1.0, left, width - 8)
    tall = (sheet.height - 6 * size - 22) / 2
    for k, (name, kind, _, use, dash) in enumerate(rows):
        head = k * (tall + 2.3 * size + 8)
        sheet.write(2, head + size, f"{name}, {kind.shown(system).label}", bold=True)
        axes[k].end = head + size + 10
        axes[k].start = axes[k].end + tall
        words = ("", "biggest day ")[k] + number(shown[k][int(feed.argmax())])
        _course(
            sheet, x, axes[k], (found.week, shown[k], int(feed.argmax())), (name, use, dash, words)
        )
    base = axes[1].start + size + 7
    sheet.write(x.start, base, "0", "middle", "soft")
    sheet.write(x.end, base, f"week {number(x.high)}", "end", "soft")
    sheet.marks.extend(sheet.late)
    told = chart(sizing, system)
    return Drawing(sheet.svg(told.sentence), told.sentence, told.table)


def _upward(values) -> Axis:
    """From nothing to a round number over the highest value."""
    most = max(float(values.max()), 1e-9)
    step = nice(most / 3)
    return Axis(0.0, ceil(HEADROOM * most / step) * step, 0.0, 0.0)


def _course(sheet: LabelledSheet, x: Axis, y: Axis, course, look) -> None:
    """One figure over the weeks, marked where the fish eat most."""
    (week, values, top), (name, use, dash, words), size = course, look, sheet.size
    sheet.line((x.start, y.end), (x.start, y.start), (x.end, y.start), stroke="line", width=1)
    for tick in (0.0, y.high):
        sheet.write(x.start - 5, y.at(tick) + 0.35 * size, number(tick), "end", "soft")
    points = [(x.at(w), y.at(v)) for w, v in zip(week, values, strict=True)]
    sheet.group(data_line=name)
    sheet.line(*points, stroke=use, width=2, dash=dash)
    sheet.end()
    sheet.keep_clear(points)
    at, up = points[top]
    sheet.circle(at, up, 4.5, use, "paper", 1.2)
    sheet.keep(at - 6, up - 6, at + 6, up + 6)
    heights = [h for h in (up - 8, up + 4, up + size + 8) if h >= y.end + size - 4]
    sheet.put(
        [(at + s, h, a) for h in heights for s, a in ((-10, "end"), (10, "start"))],
        words,
        bold=True,
    )


def chart(sizing: Sizing, system: str) -> Chart:
    """Fish and feed in every week of the plan."""
    found = plan_of(sizing)
    mass, rate = KINDS["mass"], KINDS["feed rate"]
    biomass, feed = found.biomass.sum(axis=0), found.feed.sum(axis=0)
    top = int(feed.argmax())
    unit, per = mass.shown(system), rate.shown(system)
    x, y1, y2 = found.week, from_plain(biomass, unit), from_plain(feed, per)
    figure = {
        "data": [*line(x, y1, "fish", 0), *line(x, y2, "feed", 2, second=True),
                 here(float(x[top]), float(y2[top]), "biggest day", second=True)],
        "layout": layout(axis("Week"), axis(f"Fish, {unit.label}", rangemode="tozero"),
                         axis(f"Feed, {per.label}", rangemode="tozero")),
    }  # fmt: skip
    sentence = (
        f"The fish eat most in week {float(x[top]):.0f}: {show(feed[top], rate, system)}, when"
        f" {show(biomass[top], mass, system)} of fish are in the water."
    )
    step = max(1, len(x) // 26)
    table = [
        (f"{float(w):.0f}", show(b, mass, system), show(f, rate, system))
        for w, b, f in zip(x[::step], biomass[::step], feed[::step], strict=True)
    ]
    return Chart(figure, sentence, (("Week", "Fish", "Feed a day"), table))
