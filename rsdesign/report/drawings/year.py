"""The year of the water: what the fish find in it, month by month, and the tank that it is in."""

import datetime

import numpy as np

from ...core.choices import DesignError
from ...core.kinds import KINDS
from ...core.units import show
from ...design.weather import MIDDLE, weather_of
from ...sizing.system import Sizing
from ...studies.heat.brief import hot_day, year_brief
from ...studies.heat.season import YEAR
from ...studies.heat.year_chart import year_chart, zones
from .fitted import narrow
from .hatch import patterns
from .labels import LabelledSheet, wide
from .look import Drawing
from .year_frame import MONTHS, YearSheet, scales, zone_bands, zone_words
from .year_tank import below

LOWER = 124.0
"""Height of the tank and the table under the chart [px]."""
TALL = 330.0
"""From this height on there is room for the tank."""


def year_picture(
    sizing: Sizing, system: str, width: float = 636.0, height: float | None = None
) -> Drawing:
    """The water of a design through a year over the zones of its fish, and its tank to scale.

    ``width`` and ``height`` in px, left out 400 on a desk and 180 on a phone; a sheet lower than 330 px has
    the chart alone.  Where no weather is
    told, the zones stand alone, with what to choose.
    """
    height = height or (180.0 if narrow(width) else 400.0)
    sheet = LabelledSheet(
        width, height, "The water through the year", 12.0 if narrow(width) else 12.5
    )
    if sizing.design.climate.weather is None:
        return _asked(YearSheet(sizing, system, sheet), "Choose the weather of your place.")
    try:
        found = year_chart(sizing)
        brief = year_brief(sizing, sizing.design.climate.heated == "yes")
        lost = hot_day(sizing)["as designed"].evaporation if height >= TALL else None
    except DesignError as wrong:
        return _asked(YearSheet(sizing, system, sheet), str(wrong))
    return _drawn(YearSheet(sizing, system, sheet, found, brief), lost)


def _drawn(year: YearSheet, lost) -> Drawing:
    """The whole picture of a year that is known."""
    lower = LOWER if lost is not None else 0.0
    scales(year, year.sheet.height - lower)
    zone_bands(year, zones(year.sizing))
    _water(year)
    _extremes(year)
    zone_words(year, zones(year.sizing))
    told = _season(year)
    if lost is not None:
        below(year, year.sheet.height - lower, lost)
    sentence = _sentence(year, told)
    return _finished(year, sentence, _table(year, lost))


def _asked(year: YearSheet, ask: str) -> Drawing:
    """The zones of the fish alone, and what is still to be chosen."""
    year.sheet.height = min(year.sheet.height, 270.0)
    scales(year, year.sheet.height)
    zone_bands(year, zones(year.sizing))
    middle = (year.x.start + year.x.end) / 2
    year.sheet.write(middle, (year.y.start + year.y.end) / 2 - 4, ask, "middle", bold=True)
    year.sheet.write(
        middle,
        (year.y.start + year.y.end) / 2 + 14,
        "Then the water of its year is drawn here.",
        "middle",
    )
    zone_words(year, zones(year.sizing))
    fish = year.sizing.tables.species
    eat = f"{year.edge(fish.feeding_low)} to {year.edge(fish.feeding_high)}"
    sentence = f"{ask} The fish eat from {eat}."
    rows = [
        (z.name, *("" if v is None else year.edge(v) for v in (z.low, z.high)))
        for z in zones(year.sizing)
    ]
    return _finished(year, sentence, (("Water", "from", "to"), rows))


def _finished(year: YearSheet, sentence: str, table: tuple) -> Drawing:
    sheet = year.sheet
    sheet.marks.extend(sheet.late)
    sheet.marks.insert(0, patterns(year.key))
    return Drawing(sheet.svg(sentence), sentence, table)


def _water(year: YearSheet) -> None:
    """The band from the coldest to the hottest hour of a mean day."""
    assert year.chart is not None
    line, days = year.chart.lines[0], year.chart.days
    full = [0.0, *days, float(YEAR)]

    def points(weeks):
        turn = (weeks[0] + weeks[-1]) / 2  # the year closes on itself
        return [
            (year.x.at(d), year.y.at(year.shown(v)))
            for d, v in zip(full, [turn, *weeks, turn], strict=True)
        ]

    hot, cold = points(line.hottest), points(line.coldest)
    sheet = year.sheet
    sheet.group(data_band="water")
    sheet.poly([*hot, *cold[::-1]], "water", None)
    sheet.line(*hot, stroke="line-water", width=1.8)
    sheet.line(*cold, stroke="line-water", width=1.8)
    sheet.end()
    for (x1, y1), (_, y2) in zip(hot, cold, strict=True):
        sheet.block(x1 - 5, y1 - 2, x1 + 5, y2 + 2)
    if not year.narrow:
        peak = int(np.argmax(line.hottest))
        spots = [(hot[k][0] + s, hot[k][1] - 8, a) for k in (peak // 2, peak // 2 + 3, peak // 2 - 4)
                 for s, a in ((-6, "end"), (6, "start"))]  # fmt: skip
        spots += [
            (cold[k][0], cold[k][1] + down, "middle")
            for down in (18, 40)
            for k in (peak, peak + 2, peak - 2)
        ]
        for words in ("water, coldest to hottest hour of a mean day",
                      "water, coldest to\nhottest hour of a mean day"):  # fmt: skip
            if sheet.put(spots, words, "line-water", clear=True):
                break


def _extremes(year: YearSheet) -> None:
    """The hottest hour of the hot day and the coldest of the cold one."""
    assert year.brief is not None
    weather, sheet = weather_of(year.sizing.design.climate), year.sheet
    hot, cold = MIDDLE[int(np.argmax(weather.air_mean))], MIDDLE[int(np.argmin(weather.air_mean))]
    for name, day, value in (
        ("hot day", hot, year.brief.hottest),
        ("cold day", cold, year.brief.coldest),
    ):
        x, y = year.x.at(day), year.y.at(year.shown(value))
        sheet.group(data_extreme=name)
        if name == "hot day":
            sheet.circle(x, y, 5, "clay", "paper", 1.4)
        else:
            sheet.poly([(x - 5, y), (x, y - 6), (x + 5, y), (x, y + 6)], "line-water", "paper", 1.4)
        sheet.end()
        sheet.keep(x - 6, y - 6, x + 6, y + 6)
        words = f"{name} {year.said(value)}"
        if year.heated and name == "cold day":
            words += ", heater off"
        spots = [(x + s, y + d, a) for d in (4, -7, 15) for s, a in ((10, "start"), (-10, "end"))]
        sheet.put(spots, words, bold=True)


def _date(day: float) -> str:
    """A day of the year as a date.

    >>> _date(70.0), _date(312.0)
    ('11 Mar', '8 Nov')
    """
    date = datetime.date(2001, 1, 1) + datetime.timedelta(days=round(day) - 1)
    return f"{date.day} {MONTHS[date.month - 1]}"


def _runs(good: np.ndarray) -> list[tuple[int, int]]:
    """Stretches of good days within a calendar year: first and last place of each."""
    edges = np.flatnonzero(np.diff(np.concatenate([[0], good.astype(int), [0]])))
    return [(int(a), int(b) - 1) for a, b in edges.reshape(-1, 2)]


def _season(year: YearSheet) -> str:
    """When they grow, as a dimension under the frame; the words of it."""
    assert year.chart is not None
    assert year.brief is not None
    sheet, days = year.sheet, year.chart.lines[0].growing_days
    base = year.y.start + sheet.size + 3
    if year.heated:
        words = (
            f"held by a heater they grow {days} days"
            if days < YEAR
            else "held by a heater they grow all year"
        )
        runs = [(0, YEAR - 1)] if days == YEAR else []
    else:
        runs, season = _runs(year.brief.good), year.brief.season
        words = f"they grow {_date(float(season.first_day))} to {_date(float(season.last_day))}: {days} days"
        if days == YEAR:
            words = "they grow all year"
        elif season.season_days < days:
            words = f"they grow in {days} days of the year"
        elif not days:
            words = "no day in which they grow"
        elif year.narrow:
            words = f"{days} days they grow"
    y = base - 0.35 * sheet.size
    for first, last in runs:
        left, right = year.x.at(first), year.x.at(last + 1)
        sheet.group(data_season=f"{first}-{last}")
        sheet.line((left, y), (right, y), stroke="enough", width=3)
        sheet.end()
        for x in (left, right):
            sheet.line((x - 4, y + 5), (x + 4, y - 5), stroke="enough", width=2)
    longest = max(runs, key=lambda run: run[1] - run[0], default=(0, YEAR - 1))
    middle = year.x.at((longest[0] + longest[1]) / 2)
    half = wide(words, sheet.size, bold=True) / 2
    middle = min(max(middle, year.x.start + half), year.x.end - half)
    sheet.rect(middle - half - 4, base - sheet.size, 2 * half + 8, sheet.size + 4, "paper", None)
    sheet.write(middle, base, words, "middle", bold=True)
    return words


# --- words and numbers ---


def _sentence(year: YearSheet, told: str) -> str:
    assert year.chart is not None
    assert year.brief is not None
    line = year.chart.lines[0]
    return (
        f"Through the year the water of mean days runs from {year.said(line.coldest.min())} in its coldest"
        f" hour to {year.said(line.hottest.max())} in its hottest; a hot day reaches"
        f" {year.said(year.brief.hottest)}, a cold day {year.said(year.brief.coldest)}. {told[0].upper()}{told[1:]}."
    )


def _table(year: YearSheet, lost) -> tuple:
    assert year.chart is not None
    assert year.brief is not None
    rows = [(line.name, f"{line.growing_days}", year.said(line.hottest.max()), year.said(line.coldest.min()))
            for line in year.chart.lines]  # fmt: skip
    rows += [("hot day, as designed", "", year.said(year.brief.hottest), ""),
             ("cold day, as designed, no heater", "", "", year.said(year.brief.coldest))]  # fmt: skip
    if lost is not None:
        rows.append(
            (
                f"lost to the air on the hot day: {show(lost, KINDS['daily flow'], year.system)}",
                "",
                "",
                "",
            )
        )
    return ("Water through the year", "Days they grow", "Hottest hour", "Coldest hour"), rows
