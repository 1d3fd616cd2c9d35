"""Under the year: the tank to scale with shade and lid, a day's loss in buckets, and what a change does."""

from math import ceil

from ...core.kinds import KINDS
from ...core.units import number, show
from .beside import BUCKET, BUCKET_HOLDS, PERSON, bucket, person
from .labels import wide
from .places import one
from .words import tape
from .year_frame import YearSheet

POST = 2.1
"""Height at which shade cloth hangs [m]; so that a person passes under it, from memory."""
BUCKETS = 12
"""Buckets that are drawn."""
PER_ROW = 6
LARGE = 15.0
"""Width of a bucket that is counted [px]."""


def below(year: YearSheet, top: float, lost) -> None:
    """The tank, the buckets and the table from one height down."""
    third = year.sheet.width / 3
    _tank(year, 4, 1.12 * third, top + 6, year.sheet.height - 3)
    _loss(year, 1.16 * third, top + 14, 0.68 * third, lost)
    _changes(year, 1.86 * third, top + 14)


def _tank(year: YearSheet, left: float, right: float, top: float, bottom: float) -> None:
    """The tank cut through, its lid, the shade over it, a person and a bucket."""
    sheet, sizing = year.sheet, year.sizing
    c, tank = sizing.design.climate, sizing.tank
    across, depth, wall = one(tank.width), one(tank.depth), one(tank.wall)
    ground = bottom - 14
    room = right - left - 74
    scale = min((ground - top) / max(POST + 0.1, wall + 0.1), room / (across + 1.3))
    x = left + 0.95 * scale + 6
    end = x + across * scale
    sheet.rect(left, ground, right - left, 7, f"url(#{year.key}-earth)", None)
    sheet.line((left, ground), (right, ground), width=1)
    sheet.group(
        role="img",
        aria_label=f"A person of {tape(PERSON, year.system)} and a five-gallon bucket, for scale.",
    )
    person(sheet, left + 0.26 * scale, ground, scale)
    bucket(sheet, left + 0.55 * scale, ground, scale)
    sheet.end()
    level = ground - depth * scale
    sheet.rect(x, level, end - x, depth * scale, "water", None)
    sheet.line((x, level), (end, level), stroke="line-water", width=1.2)
    sheet.line(
        (x, ground - wall * scale),
        (x, ground),
        (end, ground),
        (end, ground - wall * scale),
        width=2,
    )
    _cover(year, x, end, level)
    _shade(year, x, end, ground, scale)
    at = end + 9
    sheet.line((at, level), (at, ground), width=0.8)
    sheet.path("".join(f"M{at - 4:.1f} {y + 4:.1f}l8-8" for y in (level, ground)), None, "ink", 1.4)
    sheet.put([(at + 7, (level + ground) / 2 + 4, "start")], tape(depth, year.system))
    if c.shelter != "outdoors":
        sheet.put(
            [(left, top + 12, "start")],
            f"in a {c.shelter}" if c.shelter == "greenhouse" else c.shelter,
            "soft",
        )


def _cover(year: YearSheet, x: float, end: float, level: float) -> None:
    c, sheet = year.sizing.design.climate, year.sheet
    middle = (x + end) / 2
    if c.cover == "none":
        sheet.put(
            [(middle, level + 18, "middle"), (middle, level + 14, "middle")], "no lid", "soft"
        )
        return
    long = (end - x - 4) * float(c.cover_share)
    sheet.group(data_cover=c.cover)
    sheet.rect(x + 2, level - 5, long, 5, "plants", "ink", 1)
    sheet.end()
    when = {"night": "by night", "day": "by day", "always": "always"}[c.cover_hours]
    sheet.put([(middle, level + 16, "middle"), (middle, level - 9, "middle")], f"{c.cover} {when}")


def _shade(year: YearSheet, x: float, end: float, ground: float, scale: float) -> None:
    """Shade cloth on two posts: the more it keeps off, the closer its weave."""
    sheet, share = year.sheet, float(year.sizing.design.climate.shade)
    high = ground - POST * scale
    if share <= 0:
        sheet.put(
            [((x + end) / 2, high + 14, "middle"), ((x + end) / 2, high + 4, "middle")],
            "no shade",
            "soft",
        )
        return
    for at in (x - 5, end + 3):
        sheet.line((at, high), (at, ground), stroke="soft", width=1.4)
    gap = 10 * (1 - share) + 0.6
    sheet.group(data_shade=f"{share:.3g}")
    sheet.line(
        (x - 10, high), (end + 8, high), stroke="ink", width=5, dash=f"{10 * share:.1f} {gap:.1f}"
    )
    sheet.end()
    sheet.put([((x + end) / 2, high + 18, "middle")], f"shade {100 * share:.0f} %")


def _loss(year: YearSheet, left: float, top: float, room: float, lost) -> None:
    """Water that the air takes on the hot day, in buckets that one carries."""
    sheet, flow = year.sheet, KINDS["daily flow"]
    day = float(lost) * 86400.0  # units of the source
    buckets = max(day / BUCKET_HOLDS, 0.0)
    words = show(lost, flow, year.system, 2).removesuffix("/day")
    sheet.write(left, top, "Lost on the hot day", bold=True)
    size = "five-gallon" if year.system == "us" else "19-liter"
    told = f"{words}, {number(buckets, 2)} buckets"
    sheet.write(left, top + 16, told if wide(told, sheet.size) < room else words)
    scale = LARGE / BUCKET[0]
    each = max(ceil(buckets / BUCKETS), 1)
    shown = ceil(buckets / each - 1e-9)
    high = BUCKET[1] * scale + 6
    sheet.group(data_buckets=f"{buckets:.4g}")
    for k in range(shown):
        full = min(buckets / each - k, 1.0)
        bucket(
            sheet,
            left + (k % PER_ROW) * (LARGE + 5),
            top + 24 + high * (k // PER_ROW + 1) - 6,
            scale,
            full,
        )
    sheet.end()
    rows = max(ceil(shown / PER_ROW), 1)
    base = top + 24 + high * rows + sheet.size
    sheet.write(
        left,
        base,
        f"{size} buckets" if each <= 1 else f"each stands for {number(each, 3)}",
        use="soft",
    )


def _changes(year: YearSheet, left: float, top: float) -> None:
    """What one change does to the year: days of growth, hottest and coldest hour of mean days."""
    sheet = year.sheet
    ends = (sheet.width - 92, sheet.width - 46, sheet.width - 3)
    unit = KINDS["temperature"].shown(year.system).label
    sheet.write(left, top, "One change", bold=True)
    for x, words in zip(ends, ("days", "hot", "cold"), strict=True):
        sheet.write(x, top, words, "end", "soft")
    assert year.chart is not None
    for k, line in enumerate(year.chart.lines, 1):
        y = top + 18 * k
        sheet.line((left, y - 13.5), (sheet.width - 3, y - 13.5), stroke="line", width=0.5)
        name = line.name.removeprefix("with ").removeprefix("a ")
        sheet.write(left, y, name[0].upper() + name[1:], bold=k == 1)
        cells = (
            f"{line.growing_days}",
            *(f"{year.shown(v):.0f}°" for v in (line.hottest.max(), line.coldest.min())),
        )
        for x, words in zip(ends, cells, strict=True):
            sheet.write(x, y, words, "end", bold=k == 1)
    sheet.write(left, top + 18 * 5 + 2, f"Hours of mean days, {unit}", use="soft")
