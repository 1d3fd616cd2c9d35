"""The frame of the picture of a year: months along x, degrees along y, the zones of the fish as bands."""

from dataclasses import dataclass, field

import numpy as np

from ...core.kinds import KINDS
from ...core.units import from_plain, show
from ...design.weather import LENGTH
from ...sizing.system import Sizing
from ...studies.heat.brief import Brief
from ...studies.heat.season import YEAR
from ...studies.heat.year_chart import YearChart, Zone
from .axes import Axis, nice
from .fitted import narrow
from .labels import LabelledSheet, wide

MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "June", "July", "Aug", "Sept", "Oct", "Nov", "Dec")
AROUND = 2.5
"""Degrees that are shown beyond the hottest and the coldest of what is drawn."""
FILLS = {"they die": "short", "too cold to eat": "tight", "too warm to eat": "tight"}
"""Pattern of a zone; the others are those in which the fish eat."""


@dataclass(slots=True)
class YearSheet:
    """The picture in the making."""

    sizing: Sizing
    system: str
    sheet: LabelledSheet
    chart: YearChart | None = None
    brief: Brief | None = None
    x: Axis = field(init=False)
    y: Axis = field(init=False)

    @property
    def key(self) -> str:
        """What the names of its patterns begin with."""
        return "rsyn" if self.narrow else "rsyw"

    @property
    def narrow(self) -> bool:
        """Whether it is a phone's."""
        return narrow(self.sheet.width)

    @property
    def heated(self) -> bool:
        """Whether a heater holds the water."""
        return self.sizing.design.climate.heated == "yes"

    def shown(self, celsius) -> float:
        """A temperature in the unit shown."""
        return float(from_plain(float(celsius), KINDS["temperature"].shown(self.system)))

    def said(self, celsius) -> str:
        """A temperature to the degree, as on a thermometer."""
        unit = KINDS["temperature"].shown(self.system).label
        return f"{self.shown(celsius):.0f} {unit}"

    def edge(self, celsius) -> str:
        """A limit with its decimal, as the table of species has it."""
        return show(celsius, KINDS["temperature"], self.system)


def scales(year: YearSheet, height: float) -> None:
    """The frame: months along x, degrees along y."""
    sheet, fish = year.sheet, year.sizing.tables.species
    points = [fish.feeding_low, fish.feeding_high, fish.lethal_low]
    if year.chart is not None and year.brief is not None:
        line = year.chart.lines[0]
        points += [line.hottest.max(), line.coldest.min(), year.brief.hottest, year.brief.coldest]
    low, high = year.shown(min(points) - AROUND), year.shown(max(points) + AROUND)
    step = nice((high - low) / 6)
    ticks = list(np.arange(np.ceil(low / step), high / step + 1e-9) * step)
    left = 8 + max(wide(f"{t:.0f}", sheet.size) for t in ticks) + wide("°", sheet.size)
    strip = 0.0 if year.chart is None else sheet.size + 8
    year.y = Axis(low, high, height - sheet.size - 8 - strip, 3.0, ticks=ticks)
    year.x = Axis(0.0, float(YEAR), left, sheet.width - 3)
    for tick in ticks:
        at = year.y.at(tick)
        sheet.line((left - 4, at), (left, at), stroke="line", width=1)
        words = f"{tick:.0f}°"
        if at - 0.6 * sheet.size > 0 and at + 0.65 * sheet.size < height:
            sheet.write(left - 6, at + 0.35 * sheet.size, words, "end", "soft")
    base, ends = height - 5, np.concatenate([[0], np.cumsum(LENGTH) * YEAR / LENGTH.sum()])
    for k, name in enumerate(MONTHS):
        middle = year.x.at((ends[k] + ends[k + 1]) / 2)
        sheet.write(middle, base, name[0] if year.narrow else name, "middle")
        sheet.line(
            (year.x.at(ends[k]), year.y.start),
            (year.x.at(ends[k]), year.y.start + 4),
            stroke="line",
            width=1,
        )


def _shown_zones(year: YearSheet, found: tuple[Zone, ...]):
    """Zones that are on the sheet, those in which the fish eat as one: (zone, low, high) in degrees shown."""
    merged: list[Zone] = []
    for zone in found:
        if merged and zone.name not in FILLS and merged[-1].name not in FILLS:
            merged[-1] = Zone("they eat", merged[-1].low, zone.high)
        else:
            merged.append(zone)
    for zone in merged:
        low = year.y.low if zone.low is None else max(year.shown(zone.low), year.y.low)
        high = year.y.high if zone.high is None else min(year.shown(zone.high), year.y.high)
        if low < high:
            yield zone, low, high


def zone_bands(year: YearSheet, found: tuple[Zone, ...]) -> None:
    """Each zone as a band in its own pattern."""
    for zone, low, high in _shown_zones(year, found):
        top, bottom = year.y.at(high), year.y.at(low)
        fill = f"url(#{year.key}-{FILLS.get(zone.name, 'enough')})"
        year.sheet.group(data_zone=zone.name, opacity=0.65 if zone.name in FILLS else None)
        year.sheet.rect(year.x.start, top, year.x.end - year.x.start, bottom - top, fill, None)
        year.sheet.end()
        if zone.low is not None and low > year.y.low:
            use = "short" if "die" in zone.name or zone.name == "too cold to eat" else "tight"
            year.sheet.line((year.x.start, bottom), (year.x.end, bottom), stroke=use, width=0.8)
    year.sheet.rect(year.x.start, year.y.end, year.x.end - year.x.start, year.y.start - year.y.end,
                    None, "line", 1)  # fmt: skip


def zone_words(year: YearSheet, found: tuple[Zone, ...]) -> None:
    """What each zone is, in the first of its corners that is free."""
    size = year.sheet.size
    for zone, low, high in _shown_zones(year, found):
        top, bottom = year.y.at(high), year.y.at(low)
        if bottom - top < size + 2:
            continue
        words = {"they eat": "they eat"}.get(zone.name, zone.name)
        if zone.low is None:
            words += f" under {year.edge(zone.high)}"
        elif zone.high is None or zone.name == "too warm to eat":
            words += f" over {year.edge(zone.low)}"
        elif zone.name == "too cold to eat":
            words += f" under {year.edge(zone.high)}"
        heights = (bottom - 5, top + size + 1, (top + bottom) / 2 + 0.35 * size)
        spots = [(x, y, a) for y in heights for x, a in (
            (year.x.end - 6, "end"), (year.x.start + 6, "start"), ((year.x.start + year.x.end) / 2, "middle"))]  # fmt: skip
        year.sheet.put(spots, words)
