"""A day of feeding as a course: oxygen through the day, and the minutes to act by the hour of an outage."""

import math

import numpy as np

from ...core.choices import DesignError
from ...core.kinds import KINDS
from ...core.units import show
from ...report.drawings.course_chart import Event, Threshold
from ...report.drawings.moment import Tank
from ...season.daily_cycle import hours_of
from ...season.feeding import COLUMNS, NOTES, day_of, plain_columns, warnings_of
from ...season.meal_search import best_meals
from ...season.meal_times import clock
from ...sizing.judging import ENOUGH, SHORT, TIGHT
from ...sizing.system import Sizing
from .course import Course, Series, all_fish, bar, headed, headed_figure
from .options import Option

EVERY_QUARTER = ", ".join(clock(6 + k / 4) for k in range(48))
"""What a belt feeder gives from six to six: a little each quarter of an hour."""
MEALS = (
    ("8:00, 12:00, 16:00", "three meals by day"),
    ("8:00", "one big meal at 8"),
    ("17:00", "one big meal at 17"),
    ("8:00, 16:00", "two meals"),
    ("0:00, 4:00, 8:00, 12:00, 16:00, 20:00", "six, day and night"),
    ("feeder", "a feeder, little by little"),
    ("best", "the best three, worked out"),
    ("own", "my own hours"),
)
OPTIONS = (
    Option("meals", "Meals", MEALS[0][0], MEALS),
    Option("hours", "My own hours", "", hint="such as 8:00, 12:30, 17:00"),
    Option("below", "Show beneath", "minutes_to_act",
           (("minutes_to_act", "minutes to act"), ("unionized_ammonia", "un-ionised ammonia"),
            ("ammonia", "ammonia"), ("carbon_dioxide", "carbon dioxide"), ("ph", "pH"),
            ("fish_oxygen_use", "what the fish breathe"))),
)  # fmt: skip
LABELS = {
    "oxygen": "oxygen, fullest tank", "ammonia": "ammonia", "carbon_dioxide": "carbon dioxide", "ph": "pH",
    "unionized_ammonia": "un-ionised ammonia", "minutes_to_act": "minutes to act",
    "fish_oxygen_use": "oxygen that the fish use",
}  # fmt: skip
TOLD = ("oxygen", "minutes_to_act", "unionized_ammonia", "ammonia", "carbon_dioxide", "ph")


def course(sizing: Sizing, answers: dict[str, str], system: str, quick: bool) -> Course:
    """The biggest feed day of a sizing; the same while a slider moves, but for the best meals."""
    meals = _meals(sizing, answers, quick)
    day, hours, shares = day_of(sizing, meals)
    found = plain_columns(day, hours, shares)
    keep, safety = sizing.design.keep, sizing.design.safety
    closed = {name: np.append(v, v[0]) for name, v in found.items()}
    series = {name: Series(LABELS[name], COLUMNS[name], closed[name]) for name in LABELS}
    series["minutes_to_act"] = Series(
        LABELS["minutes_to_act"], "minutes", closed["minutes_to_act"], closed["minutes_short"],
        closed["minutes_long"],
    )  # fmt: skip
    times = np.append(hours_of(), 24.0)
    return Course(
        title="A day of feeding",
        axis="hour of the day",
        times=times,
        moment=clock,
        series=series,
        above=("oxygen",),
        below=(answers["below"],),
        headline=_headline(found, times, day, system),
        tank=lambda place, units: _tank(sizing, closed, place, units),
        told=TOLD,
        limits={
            "oxygen": [
                Threshold(float(keep.oxygen), "to keep", False, "tight"),
                Threshold(float(keep.stress_oxygen), "distress", bad_above=False),
                Threshold(float(safety.deadly_oxygen), "deadly", bad_above=False),
            ],
            "unionized_ammonia": [Threshold(float(keep.unionized_ammonia), "most for these fish")],
            "ammonia": [Threshold(float(keep.total_ammonia), "most to keep")],
            "carbon_dioxide": [Threshold(float(keep.carbon_dioxide), "most to keep")],
        },
        events=[Event(h, "meal") for h in hours] if len(hours) <= 12 else [Event(hours[0], "fed from here on")],
        ticks=[(h, f"{h}:00") for h in range(0, 25, 4)],
        warnings=warnings_of(day),
        notes=NOTES,
        last=len(times) - 1,
        start=float(np.argmin(found["oxygen"])) / (len(times) - 1),
    )  # fmt: skip


def _meals(sizing: Sizing, answers: dict[str, str], quick: bool):
    """The hours of the meals that were picked or typed."""
    picked = answers["meals"]
    if picked == "feeder":
        return EVERY_QUARTER
    if picked == "best":
        return MEALS[0][0] if quick else list(best_meals(sizing, 3))
    if picked == "own":
        if not answers["hours"]:
            raise DesignError("Write your own hours in the box, such as 8:00, 12:30, 17:00.")
        return answers["hours"]
    return picked


def _headline(found: dict, times, day, system: str) -> list[dict]:
    def at(name: str, worst) -> str:
        return f"at {clock(float(times[int(worst(found[name]))]))}"

    least, most = np.argmin, np.nanargmax
    minutes, oxygen = found["minutes_to_act"], found["oxygen"]
    heads = [
        headed_figure("Lowest oxygen", float(oxygen.min()), "concentration", system, at("oxygen", least)),
        headed_figure("Minutes to act", float(minutes.min()), "minutes", system,
                      f"outage {at('minutes_to_act', least)}"),
        headed_figure("At the best hour", float(minutes.max()), "minutes", system,
                      at("minutes_to_act", np.argmax)),
        headed("Busiest hour", f"{float(day.fish.max() / day.fish.mean()):.2f}", "×", "the mean hour"),
    ]  # fmt: skip
    poison = found["unionized_ammonia"]
    if np.isfinite(poison).all():
        heads.append(headed_figure("Un-ionised NH₃-N", float(poison.max()), "concentration", system,
                                   at("unionized_ammonia", most)))  # fmt: skip
    else:
        heads.append(headed("Un-ionised NH₃-N", "no answer", "", "the filter cannot follow"))
    return heads


def _tank(sizing: Sizing, closed: dict, place: int, system: str) -> Tank:
    """The fullest tank at an hour: whether its oxygen will do, and the time that an outage would leave."""
    keep = sizing.design.keep
    oxygen = float(closed["oxygen"][place])
    state = (
        SHORT if oxygen < float(keep.stress_oxygen) else TIGHT if oxygen < float(keep.oxygen) * 0.999
        else ENOUGH
    )  # fmt: skip
    minutes = float(closed["minutes_to_act"][place])
    left = show(minutes, KINDS["minutes"], system, 2) if math.isfinite(minutes) else "a whole day"
    most = float(closed["fish_oxygen_use"].max())
    return Tank(all_fish(sizing), float(sizing.design.goal.weight), state, f"{left} if the air stops now", (
        bar("Oxygen, of full", oxygen / float(sizing.air.saturation)),
        bar("Breath, of the most", float(closed["fish_oxygen_use"][place]) / most),
    ))  # fmt: skip
