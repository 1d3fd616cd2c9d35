"""Rules that set the nitrogen and the alkalinity of the tests beside the feed of the log."""

import numpy as np

from .. import equations as eq
from ..core.unit_table import DAY
from ..equations.power.tables import bases as base_kinds
from .log import WaterLog
from .rules import Evidence, FindingRow, Seen
from .trends import Trend, recent, total, trend

LEAST_SPAN = 10.0
"""Days that a balance needs; shorter ones tell less than the kit."""


def fed(seen: Seen, window: float) -> float | None:
    """Feed of a mean day [kg/s], where feed is written down on half of the days or more."""
    places = recent(seen.log, "feed", window)
    if places.size < 2:
        return None
    days = np.floor(seen.log.days[places])
    span = float(np.ptp(days)) + 1.0
    if np.unique(days).size < span / 2.0:
        return None
    return float(seen.log.values["feed"][places].sum()) / span / DAY


def by_day(log: WaterLog, name: str, window: float = np.inf) -> dict[int, float]:
    """Sums of a column by the day of the log, over the last days."""
    sums: dict[int, float] = {}
    for place in recent(log, name, window):
        day = int(log.days[place] // 1)
        sums[day] = sums.get(day, 0.0) + float(log.values[name][place])
    return sums


def fed_on(log: WaterLog) -> float | None:
    """Feed of the last day before today on which feed was given [kg/s]; None where nothing is written."""
    today = int(log.days[-1] // 1) if len(log) else 0
    days = {day: mass for day, mass in by_day(log, "feed").items() if mass > 0.0}
    before = [day for day in days if day < today] or list(days)
    return days[max(before)] / DAY if before else None


def a_day(log: WaterLog, name: str, window: float) -> float:
    """What of a column comes on a mean day of the last days, lines where nothing is written as nought."""
    span = min(window, float(np.ptp(log.days)))
    return total(log, name, window) / max(span, 1.0)


def exchange(seen: Seen, window: float) -> float | None:
    """New water for the volume in a day, as written down; None where nothing is."""
    if not recent(seen.log, "water_added", window).size:
        return None
    return a_day(seen.log, "water_added", window) / float(seen.sizing.tank.volume)


def nitrogen(seen: Seen, row: FindingRow, told: bool) -> tuple[float, float, Trend] | None:
    """Nitrate made as the tests show it, and what the feed can make [kg/(m³ day)], and the line of the tests.

    ``told``: whether the new water must be written down; else none is taken, the low side.
    """
    line, feed = trend(seen.log, "nitrate", row.days), fed(seen, row.days)
    if line is None or feed is None or line.span < LEAST_SPAN:
        return None
    places = recent(seen.log, "nitrate", row.days)
    if np.isinf(seen.log.high["nitrate"][places]).any():
        return None
    swapped = exchange(seen, row.days)
    if swapped is None and told:
        return None
    above = float(seen.log.values["nitrate"][places].mean()) - float(
        seen.sizing.design.source.nitrate
    )
    found = line.rate + (swapped or 0.0) * above
    load = eq.fish.loads.ammonia_production.__wrapped__(feed, seen.sizing.design.stock.protein)
    return found, load * DAY / float(seen.sizing.tank.volume), line


def _compared(found: float, made: float, seen: Seen, row: FindingRow) -> Evidence:
    numbers = {"found": found / DAY, "made": made / DAY, "ratio": found / made}
    return numbers, recent(seen.log, "nitrate", row.days).tolist()


def nitrate_kit(seen: Seen, row: FindingRow) -> Evidence | None:
    """Nitrate rises faster than the feed can make it."""
    both = nitrogen(seen, row, told=False)
    if both is None or both[2].sure < 1:
        return None
    found, made, _ = both
    return (
        _compared(found, made, seen, row)
        if found > row.limit(seen.sizing, "low") * made > 0.0
        else None
    )


def nitrate_missing(seen: Seen, row: FindingRow) -> Evidence | None:
    """Nitrate rises far less than the feed makes, by more than the readings leave open."""
    both = nitrogen(seen, row, told=True)
    if both is None:
        return None
    found, made, line = both
    open_ = 2.0 * line.error + line.width / line.span
    if found + open_ >= row.limit(seen.sizing, "high") * made:
        return None
    return _compared(found, made, seen, row)


def nitrate_falling(seen: Seen, row: FindingRow) -> Evidence | None:
    """Nitrate falls by more than new water takes out."""
    line = trend(seen.log, "nitrate", row.days)
    if line is None or line.sure > -1:
        return None
    swapped = exchange(seen, row.days)
    places = recent(seen.log, "nitrate", row.days)
    above = float(seen.log.values["nitrate"][places].mean()) - float(
        seen.sizing.design.source.nitrate
    )
    by_water = (swapped or 0.0) * max(above, 0.0) * line.span
    if -line.change - by_water <= line.width:
        return None
    return {"change": -line.change, "span": line.span}, places.tolist()


def alkalinity_ratio(seen: Seen, row: FindingRow) -> Evidence | None:
    """The alkalinity used for each nitrate nitrogen made is none that bacteria use."""
    both, line = nitrogen(seen, row, told=True), trend(seen.log, "alkalinity", row.days)
    if both is None or line is None or line.span < LEAST_SPAN or both[2].sure < 1:
        return None
    if not recent(seen.log, "base", row.days).size:
        return None
    design, volume = seen.sizing.design, float(seen.sizing.tank.volume)
    base = next(b for b in base_kinds() if b.name == design.makeup.base)
    given = a_day(seen.log, "base", row.days) * base.strength / volume
    places = recent(seen.log, "alkalinity", row.days)
    brought = float(design.source.alkalinity) - float(seen.log.values["alkalinity"][places].mean())
    swapped = exchange(seen, row.days) or 0.0
    used = given + swapped * brought - line.rate
    ratio = used / both[0]
    low, high = row.limit(seen.sizing, "low"), row.limit(seen.sizing, "high")
    open_ = (2.0 * line.error + line.width / line.span + high * 2.0 * both[2].error) / both[0]
    if low - open_ <= ratio <= high + open_:
        return None
    expected = eq.biofilter.nitrification_alkalinity.__wrapped__(1.0)
    return {"ratio": ratio, "expected": expected}, places.tolist()


def feed_above_plan(seen: Seen, row: FindingRow) -> Evidence | None:
    """The feed of a day is above the biggest day of the sizing."""
    sums = by_day(seen.log, "feed", row.days)
    if not sums:
        return None
    day = max(sums, key=lambda one: (sums[one], one))
    limit = row.limit(seen.sizing, "high")
    if sums[day] / DAY <= 1.05 * limit:  # scoops are not scales
        return None
    places = recent(seen.log, "feed", row.days)
    on_day = places[np.floor(seen.log.days[places]) == day]
    return {"value": sums[day] / DAY, "high": limit}, [int(on_day[-1])]
