"""What the failures mean, in sentences: a box for each with first acts and the order to restart."""

import numpy as np

from ..core.kinds import KINDS
from ..core.units import number, show
from ..sizing.margins import Check
from ..studies.outage.study import OutageStudy, Times
from ..studies.outage.tank import HEADLINE, LEVELS
from . import ranges as bands
from . import standing_filter

LEVEL_WORDS = {"alarm": "the alarm", "stress": "fish in distress", "deadly": "fish dying"}

DRIVER = (
    "The range comes from how much the fish breathe: 0.30 to 0.65 of the feed's weight in a day."
    " At its long end still water takes up oxygen too. The use is held as it is at the start."
)

SIGNS = (
    "Without an oxygen meter: fish that stop eating or gather at the inlet have little left; fish"
    " that gasp at the surface have minutes. Do not wait for that: start the air first."
)


def span(times: Times) -> str:
    """A time as a likely value and its range."""
    likely, short, long = clock(times.likely), clock(times.short), clock(times.long)
    if short.split()[-1] == long.split()[-1]:
        short = short.split()[0]
    return f"{likely} ({short} to {long})"


def clock(seconds) -> str:
    """A time in minutes, hours from two hours on, or never.

    >>> clock(840.0), clock(9000.0), clock(float("inf"))
    ('14 min', '2.5 h', 'never')
    """
    worst = float(np.min(seconds))
    if not np.isfinite(worst):
        return "never"
    kind = KINDS["minutes"] if worst < 7200 else KINDS["hours"]
    return show(worst, kind, "us", 2)


def answer(study: OutageStudy, system: str = "us") -> str:
    """One sentence: how long, in the busiest hour; and today, where the design says how it stands."""
    s, level, kind = study.sizing, study.sizing.design.keep.stress_oxygen, KINDS["concentration"]
    words = (
        f"When the air stops, the fullest tank falls from {show(s.standby.start, kind, system, 2)}"
        f" to {show(level, kind, system, 2)} in {bands.minutes_to_act(s, system)}: the busiest hour"
        " of the biggest feed day, in the hottest week."
    )
    if float(s.standby.start) <= float(level):
        words = (
            f"The fish are in distress before anything stops: this air holds"
            f" {show(s.standby.start, kind, system, 2)} in the busiest hour, and the line is"
            f" {show(level, kind, system, 2)}. There are no minutes to act. Mend the air first."
        )
    return f"{words} As it stands today: {span(_today(study))}." if differs(study) else words


def _today(study: OutageStudy) -> Times:
    return study.time(HEADLINE, "stress", today=True)


def differs(study: OutageStudy) -> bool:
    """Whether the design says how the tank stands today."""
    times = (study.time(HEADLINE, "stress"), _today(study))
    return abs(float(times[0].likely) - float(times[1].likely)) > 1.0  # seconds


def what_counts(study: OutageStudy, system: str = "us") -> str:
    """What the number counts, and that it is the same everywhere."""
    s, kind = study.sizing, KINDS["concentration"]
    keep, start = float(s.design.keep.oxygen), float(s.standby.start)
    words = (
        "This is the number that the sizing, the pages and the hand-out give. It starts from the"
        f" {show(start, kind, system, 2)} that is held in the busiest hour, and it counts the share of"
        " oxygen that the filter takes while the pump runs."
    )
    if start < keep * (1.0 - 1e-9):
        words += (
            f" The air falls short of the {show(keep, kind, system, 2)} you want to keep, so there is"
            " less time than a full tank would give."
        )
    return words


def other_times(study: OutageStudy, system: str = "us") -> list[list[str]]:
    """Every other time of these two failures, each by its name."""
    s, kind = study.sizing, KINDS["minutes"]
    rows = [
        ["Until the alarm, busiest hour", span(study.time(HEADLINE, "alarm"))],
        ["Until fish die, busiest hour", span(study.time(HEADLINE, "deadly"))],
        ["Until distress, pump off too, filter left out", span(study.time("all power", "stress"))],
        ["Until distress, on the mean hour", show(float(s.standby.minutes_mean), kind, system, 2)],
    ]
    if differs(study):
        rows += [
            [
                f"Until {LEVEL_WORDS[n]}, as it stands today",
                span(study.time(HEADLINE, n, today=True)),
            ]
            for n in LEVELS
        ]
    return rows


def boxes(study: OutageStudy, system: str = "us") -> list[dict]:
    """One box for each failure: what stops, how long, what to do first, then, and after."""
    return [
        _all_power(study, system),
        _air_only(study, system),
        _pump_only(study, system),
        _leak(study, system),
        _heat_wave(study, system),
    ]


def _box(title: str, stops: str, times: list, first: str, then: list, restart) -> dict:
    return {
        "title": title,
        "stops": stops,
        "times": [list(t) for t in times],
        "first": first,
        "then": list(then),
        "restart": list(restart),
    }


def _levels(study: OutageStudy, system: str) -> list[tuple[str, str]]:
    """The times of both failures: those with the pump running, since they are the shorter."""
    found = [(f"Until {LEVEL_WORDS[n]}", span(study.time(HEADLINE, n))) for n in LEVELS]
    headline = bands.minutes_to_act(study.sizing, system)
    return [(until, headline if until.endswith(LEVEL_WORDS["stress"]) else time)
            for until, time in found]  # fmt: skip


def _start(study: OutageStudy) -> str:
    return {
        "none": "Stir air in by any means: buckets, a battery pump, a hose of treated water.",
        "by hand": f"Start the backup by hand: {study.kind.by_hand}.",
        "by itself": f"See that the backup runs. If not: {study.kind.by_hand}.",
    }[study.sizing.design.safety.backup]


def _all_power(study: OutageStudy, system: str) -> dict:
    return _box(
        "All power is off",
        "Air and pump stop together. The fish use up what is in the tank. A filter that stands still"
        " takes none of it, so there may be a little more time: do not count on it.",
        _levels(study, system),
        _start(study),
        [
            "No feed. Call for help.",
            "A generator stands outdoors, 20 ft from doors and windows.",
            "Switch off every motor at its switch, so that they do not all start at once.",
        ],
        standing_filter.restart_order(study.sizing),
    )


def _air_only(study: OutageStudy, system: str) -> dict:
    return _box(
        "The air stops, the pump runs",
        "The pump brings the filter's hunger for oxygen back to the tank."
        if float(np.max(study.peak.filter)) > 0 else
        "The filter has air of its own and takes nothing from the tank.",
        _levels(study, system),
        _start(study),
        [
            "No feed. Look at plug, breaker, ground-fault outlet, then the air machine.",
            "Let the return fall from a height: it brings some air.",
            "The second air machine belongs on the other breaker.",
        ],
        restart=("Air on.", "No feed for 12 hours.", "Test oxygen each half hour, then ammonia."),
    )  # fmt: skip


def _pump_only(study: OutageStudy, system: str) -> dict:
    o, s = study.others, study.sizing
    held = show(o.still_oxygen, KINDS["concentration"], system, 2)
    filter_ = {
        True: "No water stands in the filter: its bed dries out.",
        False: "The filter stands still and uses up its oxygen.",
    }[standing_filter.stands_in_air(s)]
    if standing_filter.has_own_air(s):
        filter_ = "The filter stands still and lives by its own air."
    times = [("Until ammonia is too high, fed", clock(o.ammonia))]
    if not standing_filter.stands_in_air(s):
        times.insert(0, (standing_filter.breath_label(s), clock(o.filter_breath)))
    return _box(
        "The pump stops, the air runs",
        f"The fish have air ({held} held). {filter_}",
        times,
        standing_filter.first_act(s),
        [
            "Look at plug, float switch and screen, power off while hands are in the water.",
            standing_filter.later(s),
            "Test ammonia every two hours; change treated water if it climbs.",
        ],
        restart=tuple(filter(None, (
            standing_filter.stale_water(s),
            "Pump on, and watch the levels.",
            "Half feed for two days: the filter has lost some of its life.",
        ))),
    )  # fmt: skip


def _leak(study: OutageStudy, system: str) -> dict:
    o = study.others
    leak = show(o.leak, KINDS["flow"], system, 2)
    return _box(
        "Water runs out: a leak or a siphon",
        f"If all the pump gives to the tank ({leak}) runs out, half the water is gone in the time"
        " below, and the fish stand twice as close.",
        [("Until half the water is gone", clock(o.half_empty))],
        "Stop the pump. Lift the pipe end that sucks, or plug the drain.",
        [
            "Keep the air on: check that the stones still lie under water.",
            "Top up with treated water within 5 °F (3 °C) of the tank.",
            "If the level cannot be held, move fish to a treated tub with air.",
        ],
        restart=(
            "Mend and fill, with treated water.",
            "Pump on with the level switch tested.",
            "No feed for 12 hours.",
        ),
    )


def _heat_wave(study: OutageStudy, system: str) -> dict:
    o, s, kind = study.others, study.sizing, KINDS["concentration"]
    hot = show(o.hot_water, KINDS["temperature"], system, 2)
    fed, unfed = (show(x, kind, system, 2) for x in (o.hot_fed, o.hot_unfed))
    return _box(
        "Heat wave",
        f"At {hot} the air holds {fed} in the busiest hour and {unfed} with fish not fed.",
        [],
        "Stop feeding in the hot hours; feed little at dawn or not at all.",
        [
            "Shade the tank; take lids off at dawn, so that the water can cool itself."
            if s.design.climate.cover != "none"
            else "Shade the tank; let the wind at the water: it cools itself.",
            "Run every air machine there is.",
            "Add cool, treated water a little at a time; test un-ionised ammonia at 5 pm.",
        ],
        restart=("Feed again when the afternoon's oxygen is back over what you keep.",),
    )


def checks(study: OutageStudy) -> tuple[Check, ...]:
    """Is there a backup in time, does anyone come in time, was it tried."""
    safety = study.sizing.design.safety
    first, distress = (study.time(HEADLINE, level) for level in ("alarm", "stress"))
    kind = KINDS["minutes"]
    start, answer_ = float(np.max(study.needs.starts_after)), float(np.max(safety.answer))

    def check(ok, words, limit):
        return Check("power", "yes/no", ok, 1.0 if ok else 0.0, "yes" if ok else "no", words, limit,
                     "outage study")  # fmt: skip

    in_time = start <= float(np.min(first.short))
    works = (
        "There is no backup."
        if safety.backup == "none"
        else f"The backup works after {clock(start)}; the alarm level may come in"
        f" {clock(first.short)}."
    )
    share = float(np.max(study.needs.share))
    return (
        check(in_time, works + ("" if in_time else " Have air that starts by itself."),
              show(first.short, kind, "us", 2)),
        check(answer_ <= float(np.min(distress.short)),
              f"Someone stands at the tank after {clock(answer_)}; fish may be in distress after"
              f" {clock(distress.short)}.", show(distress.short, kind, "us", 2)),
        check(bool(safety.tried), "The backup was tried under load this month."
              if safety.tried else "The backup was not tried under load this month: try it.", "a month"),
        check(share <= 1.0, f"The alarm level needs {number(100 * share, 2)} % of the everyday air."
              if share <= 1.0 else "Even all the everyday air cannot hold the alarm level.", "100 %"),
    )  # fmt: skip
