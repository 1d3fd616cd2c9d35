"""The start of the filter as a course: ammonia, nitrite, bacteria, and what is safe to feed."""

import math

import numpy as np

from ...core.kinds import KINDS
from ...core.units import show
from ...equations.biofilter import doses
from ...report.building.all_lists import water_of
from ...report.drawings.course_chart import Event, Threshold
from ...report.drawings.moment import Tank
from ...report.startup import salt_to_raise
from ...season.filter_start import (
    BANDED,
    COLUMNS,
    DAYS,
    DRAWS,
    SALTS,
    band_of,
    computed,
    days_of,
    living,
    notes_of,
    warnings_of,
)
from ...season.start_course import FULL
from ...sizing.judging import ENOUGH, SHORT, TIGHT
from ...sizing.system import Sizing
from .course import Course, Series, all_fish, bar, headed, headed_figure
from .options import Option

QUICK_HOURS = 24.0
"""Hours of a step while a slider moves; the exact course follows when it is let go."""

OPTIONS = (
    Option("way", "How to start", "fishless",
           (("fishless", "without fish, on doses"), ("fish in", "with fish from the first day"))),
    Option("seed", "Bacteria brought in", "none",
           (("none", "none: new media, town water"), ("0.1 %", "a handful of old media (0.1 %)"),
            ("1 %", "a bag of ripe media (1 %)"), ("10 %", "a tenth of a ripe filter"))),
    Option("dose", "Each dose brings the water to", "3 mg/L",
           tuple((f"{n} mg/L", f"{n} mg/L ammonia nitrogen") for n in (1, 2, 3, 5))),
    Option("ammonia", "What is dosed", "ammonium chloride",
           (("ammonium chloride", "ammonium chloride"), ("ammonia water", "clear ammonia water"))),
    Option("base", "Baking soda", "yes",
           (("yes", "holds the alkalinity"), ("no", "none is given"))),
    Option("feed", "Feed for the first fish", "safe",
           (("safe", "what is safe, after doses"), ("plan", "a quarter, a tenth more each day"),
            ("full", "all of it at once"))),
    Option("below", "Show beneath", "safe_feed",
           (("safe_feed", "safe to feed"), ("bacteria", "bacteria"), ("alkalinity", "alkalinity"),
            ("nitrate", "nitrate"), ("ph", "pH"))),
)  # fmt: skip

LABELS = {
    "ammonia": "ammonia", "nitrite": "nitrite", "nitrate": "nitrate", "alkalinity": "alkalinity",
    "ph": "pH", "unionized": "un-ionised ammonia", "ammonia_bacteria": "ammonia bacteria",
    "nitrite_bacteria": "nitrite bacteria", "dose": "dose today", "base": "alkalinity added",
    "feed": "fed today", "safe_feed": "safe to feed",
}  # fmt: skip
TOLD = ("ammonia", "nitrite", "nitrate", "ph", "safe_feed", "feed", "dose")
WITHOUT_BAND = ("alkalinity",)
"""Numbers whose band would hide the line that one steers by."""


def course(sizing: Sizing, answers: dict[str, str], system: str, quick: bool) -> Course:
    """The start of a sizing's filter; without its band while a slider moves (``quick``)."""
    told = {"dose": answers["dose"], "seed": None if answers["seed"] == "none" else answers["seed"]}
    if answers["feed"] == "full":
        told |= {"feed_start": 1.0}
    by_safe = answers["feed"] == "safe"
    wanted = (answers["way"], answers["ammonia"], by_safe, answers["base"] == "yes", False)
    found, plan, _ = (
        computed(sizing, told, wanted, DAYS, 0, QUICK_HOURS) if quick else computed(sizing, told, wanted, DAYS, DRAWS)
    )  # fmt: skip
    day = np.arange(DAYS + 1.0)
    series = {}
    for name, kind in COLUMNS.items():
        values = living(found, name)
        low = high = None
        if not quick and name in BANDED and name not in WITHOUT_BAND:
            low, _, high = band_of(values)
        series[name] = Series(LABELS[name], kind.name, values[:, 0], low, high)
    last = int(min(found.deadly[0] - 1, DAYS)) if np.isfinite(found.deadly[0]) else DAYS
    fishless = plan.fishless
    below = {"bacteria": ("ammonia_bacteria", "nitrite_bacteria")}.get(
        answers["below"], (answers["below"],)
    )
    return Course(
        title="The start of the filter",
        axis="day of the start",
        times=day,
        moment=lambda time: f"day {time:.0f}",
        series=series,
        above=("ammonia", "nitrite"),
        below=below,
        headline=_headline(found, plan, sizing, system),
        tank=lambda place, units: _tank(found, sizing, place, last, fishless, units),
        told=TOLD,
        limits=_limits(sizing, plan),
        events=_events(found),
        warnings=warnings_of(found, plan, sizing, system),
        notes=notes_of(plan),
        last=max(last, 0),
        start=float(np.nanargmax(living(found, "nitrite")[:, 0])) / DAYS,
    )


def _limits(sizing: Sizing, plan) -> dict[str, list[Threshold]]:
    nitrite = doses.nitrite_limit(plan.chloride, plan.chloride_ratio)
    return {
        "nitrite": [Threshold(float(nitrite), "most nitrite for fish")],
        "safe_feed": [Threshold(float(sizing.stock.peak_feed), "all the feed of the biggest day", False, "enough")],
    }  # fmt: skip


def _events(found) -> list[Event]:
    """The first and the last of the days on which the draws are ready; never one date."""
    band = days_of(found.ready) if found.ready.size > 1 else {}
    return [
        Event(band[percent], words)
        for percent, words in ((5, "ready at the earliest"), (95, "ready in 95 of 100"))
        if band and math.isfinite(band[percent])
    ]


def _headline(found, plan, sizing: Sizing, system: str) -> list[dict]:
    heads = [
        _span("Ready for fish", found, found.ready, "test before you buy"),
        _span("Full feed", found, found.full, "within the limits"),
    ]
    for name, label in (("ammonia", "Ammonia, most"), ("nitrite", "Nitrite, most")):
        most = float(np.nanmax(living(found, name)[:, 0]))
        heads.append(headed_figure(label, most, "concentration", system, "as nitrogen"))
    as_salt = plan.equivalents == SALTS["ammonium chloride"]
    of = salt_to_raise if as_salt else doses.mass_to_raise
    salt = of(water_of(sizing), float(found["dose"][:, 0].sum()))
    words = "salt, for all the water" if as_salt else "as N, for all the water"
    heads.append(headed_figure("To dose", float(salt), "mass", system, words))
    return heads


def _span(label: str, found, days: np.ndarray, note: str) -> dict:
    """Days as a band; while a slider moves the line's own day is all there is, told as "about"."""
    if np.isfinite(found.deadly).all() and np.isinf(days).all():
        return headed(label, "no day", "", "they would be dead")
    if days.size == 1:
        day = f"≈ {days[0]:.0f}" if math.isfinite(days[0]) else f"{DAYS}+"
        return headed(label, day, "days", "let go for the band")
    band = days_of(days)
    first, last = (f"{band[p]:.0f}" if math.isfinite(band[p]) else f"{DAYS}+" for p in (5, 95))
    return headed(label, first if first == last else f"{first}–{last}", "days", note)


def _tank(found, sizing: Sizing, place: int, last: int, fishless: bool, system: str) -> Tank:
    """The tank on a day: whether its water is fit for fish, and how ripe the filter is."""
    safe, fed = (float(found[name][place, 0]) for name in ("safe_feed", "feed"))
    there = not fishless or place >= float(found.ready[0])
    share = safe / float(sizing.stock.peak_feed)
    state = "" if not there else ENOUGH if share >= FULL else TIGHT if safe > 0 else SHORT
    kind = KINDS["feed rate"]
    words = (
        f"feed up to {show(safe, kind, system, 2)}" if there and safe > 0 else
        "feed nothing today" if there else "no fish yet"
    )  # fmt: skip
    if place >= last and last < DAYS:
        state, words = SHORT, "a day later they would be dead"
    part = min(fed / float(sizing.stock.peak_feed), 1.0) if fishless else 1.0
    count = all_fish(sizing) * part if there else 0.0
    return Tank(count, float(sizing.design.goal.weight), state, words, (
        bar("Ammonia bacteria", float(found["ammonia_bacteria"][place, 0])),
        bar("Nitrite bacteria", float(found["nitrite_bacteria"][place, 0])),
        bar("Safe feed", share),
    ))  # fmt: skip
