"""The stocking plan over the weeks: weight of fish, and feed with its peak."""

from ...core.kinds import KINDS
from ...core.units import from_plain, show
from ...sizing.system import Sizing
from ..plan import plan_of
from .look import Chart, axis, here, layout, line


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
