"""Oxygen falling after the air stops, with three named lines and a clock at each crossing."""

import numpy as np

from ...core.kinds import KINDS
from ...core.units import show
from ...equations.power import backup
from ...sizing.system import Sizing
from ...studies.outage.course import course, needs
from ...studies.outage.tank import BREATHS, HEADLINE, LEVELS, demand, levels, minutes, tank_at
from .. import outage_words
from .. import ranges as bands
from .fitted import FittedSheet
from .look import Drawing
from .sheet import Sheet

LEFT, RIGHT, TOP, FLOOR = 44.0, 470.0, 40.0, 300.0
SHORTEST, LONGEST = 20.0, 180.0
"""Minutes that the axis shows at least and at most."""
USES = {"alarm": "tight", "stress": "clay", "deadly": "short"}


def falling(sizing: Sizing, system: str, width: float = 636.0) -> Drawing:
    """The fullest tank as it stands today: likely course, its range, and what the backup does."""
    d, tank = sizing.design, tank_at(sizing, today=True)
    kind = KINDS["concentration"]
    times = {
        name: {end: float(minutes(sizing, HEADLINE, level, True, end)) / 60
               for end in ("short", "likely", "long")}
        for name, level in levels(d).items()
    }  # fmt: skip
    last = times["deadly"]["likely"]
    span = float(np.clip(1.25 * last if np.isfinite(last) else LONGEST, SHORTEST, LONGEST))
    top = 1.15 * max(float(tank.start), float(d.safety.alarm_oxygen))
    sheet = FittedSheet(width, (480, 372), "Oxygen after the air stops")

    def at(minute, oxygen):
        x = LEFT + (RIGHT - LEFT) * np.minimum(np.asarray(minute) / span, 1.0)
        y = FLOOR - (FLOOR - TOP) * np.minimum(np.asarray(oxygen) / top, 1.0)
        return x, y

    _band(sheet, sizing, tank, span, at)
    for name, level in levels(d).items():
        _, y = at(0.0, level)
        sheet.line((LEFT, y), (RIGHT, y), stroke=USES[name], width=2, dash="7 5")
        sheet.text(RIGHT, y - 9, f"{name} {show(level, kind, system, 2)}", "end", use=USES[name])
        when = times[name]["likely"]
        if when <= span:
            x, _ = at(when, level)
            sheet.circle(x, y, 6, "paper", "ink", 3)
            words = outage_words.clock(when * 60)
            first = when < 0.15 * span  # beside the numbers of the axis
            sheet.text(
                x + (8 if first else 0), y + 22, words, "start" if first else "middle", bold=True
            )
    _backed(sheet, sizing, span, at)
    sheet.line((LEFT, TOP - 10), (LEFT, FLOOR), (RIGHT, FLOOR), width=2)
    for part in (0.0, 0.5, 1.0):
        x, _ = at(part * span, 0.0)
        sheet.text(x, FLOOR + 24, f"{part * span:.0f}", "middle")
    sheet.text((LEFT + RIGHT) / 2, FLOOR + 48, "minutes since the air stopped", "middle")
    sheet.text(4, 22, "oxygen, mg/L")
    sheet.text(
        LEFT - 8, at(0.0, tank.start)[1] + 6, show(tank.start, kind, system, 2).split()[0], "end"
    )
    sentence = _sentence(sizing, tank, times, system)
    rows = [
        (f"until {outage_words.LEVEL_WORDS[n]} ({show(levels(d)[n], kind, system, 2)})",
         *(outage_words.clock(times[n][e] * 60) for e in ("short", "likely", "long")))
        for n in LEVELS
    ]  # fmt: skip
    return Drawing(
        sheet.svg(sentence), sentence, (("The air stops", "Short", "Likely", "Long"), rows)
    )


def _curve(sizing: Sizing, tank, breath: float, surface, time):
    return backup.oxygen_after.__wrapped__(
        time, float(tank.start), float(sizing.design.keep.stress_oxygen), float(tank.saturation),
        float(tank.volume), float(demand(tank, HEADLINE, breath)), float(surface),
    )  # fmt: skip


def _band(sheet: Sheet, sizing: Sizing, tank, span: float, at) -> None:
    """The range between the ends as an area, the likely course as a line."""
    minute = np.linspace(0.0, span, 61)
    own = float(sizing.design.wastes.oxygen_per_feed)
    low = _curve(sizing, tank, max(BREATHS[0] / own, 1.0), 0.0, minute * 60)
    high = _curve(sizing, tank, min(BREATHS[1] / own, 1.0), tank.surface_transfer, minute * 60)
    likely = _curve(sizing, tank, 1.0, 0.0, minute * 60)
    x, y_low = at(minute, low)
    _, y_high = at(minute, high)
    edge = [*zip(x, y_high, strict=True), *zip(x[::-1], y_low[::-1], strict=True)]
    sheet.poly(edge, "inset", None)
    sheet.line(*zip(*at(minute, likely), strict=True), stroke="line-water", width=4)


def _backed(sheet: FittedSheet, sizing: Sizing, span: float, at) -> None:
    """The course with the backup of the design, dashed."""
    if sizing.design.safety.backup == "none":
        return
    times, oxygen = course(sizing, HEADLINE, today=True, backed=True, duration=span * 60, step=span)
    sheet.line(
        *zip(*at(times / 60, oxygen), strict=True), stroke="line-filter", width=3, dash="3 4"
    )
    begins = float(needs(sizing).starts_after) / 60
    if begins < span:
        x, y = at(begins, np.interp(begins * 60, times, oxygen))
        sheet.circle(x, y, 5, "line-filter", None)
        spots = [(x - 6, y + 24, "end"), (x + 10, y - 10, "start"), (x + 10, y + 24, "start"),
                 (x - 6, y - 12, "end"), (x + 10, y - 30, "start"), (x + 10, y + 46, "start")]  # fmt: skip
        sheet.first_free(spots, "backup works", "line-filter")


def _sentence(sizing: Sizing, tank, times, system: str) -> str:
    start = show(tank.start, KINDS["concentration"], system, 2)
    ends = [60.0 * times["stress"][e] for e in ("likely", "short", "long")]
    words = (
        f"From {start}, oxygen in the fullest tank falls to the stress line in"
        f" {bands.banded(*(show(t, KINDS['minutes'], system) for t in ends))}."
    )
    if abs(ends[0] - float(sizing.standby.minutes_peak)) > 1.0:
        words += (
            f" That is the tank as it stands today. In the busiest hour of the hottest week the fish"
            f" have {bands.minutes_to_act(sizing, system)}."
        )
    if sizing.design.safety.backup == "none":
        return words + " Nothing stands ready to stop it."
    after = outage_words.clock(needs(sizing).starts_after)
    return words + f" The backup works after {after} (dotted line)."
