"""A day of feeding as text for a terminal, as JSON and as a table in a file; nothing is computed here."""

from ..core.cautions import cautions_on, told_at
from ..core.units import number
from ..season.feeding import COLUMNS
from ..season.meal_times import clock
from ..sizing.system import Sizing
from . import tables
from .outage_words import SIGNS
from .ranges import minutes_to_act

WORDS = {
    "water_temperature": "Warmest water", "fish_oxygen_use": "Most oxygen that the fish of the fullest tank use",
    "oxygen": "Lowest oxygen", "ammonia": "Most total ammonia, as nitrogen",
    "carbon_dioxide": "Most carbon dioxide", "ph": "Lowest pH",
    "unionized_ammonia": "Most un-ionised ammonia, as nitrogen",
    "minutes_to_act": "Fewest minutes to act, likely",
    "minutes_short": "Fewest minutes to act, short end", "minutes_long": "Fewest minutes to act, long end",
}  # fmt: skip
"""What the worst of each column is."""

ORDER = ("minutes_to_act", "minutes_short", "minutes_long", "oxygen", "unionized_ammonia", "ammonia",
         "carbon_dioxide", "ph", "fish_oxygen_use", "water_temperature")  # fmt: skip
"""The worst hours, the one that kills first on top."""

HEAD = {
    "feed": "Feed", "fish_oxygen_use": "Fish use", "oxygen": "Oxygen", "ammonia": "Ammonia",
    "unionized_ammonia": "Un-ionised", "carbon_dioxide": "CO2", "ph": "pH",
    "minutes_to_act": "To act",
}  # fmt: skip
"""Columns of the table in the text, in short words."""


def feeding_text(sizing: Sizing, frame) -> str:
    """The worst hours first, when not to risk an outage, then the day hour by hour.

    Parameters:
        sizing: of the design.
        frame: what ``rsdesign.season.feeding_day`` gives of it.
    Returns: the text.

    Example: ``feeding_text(sizing, feeding_day(sizing))``.
    """
    about, units = frame.attrs, frame.attrs["units"]
    lines = [tables.title(sizing.design), "", answer(frame)]
    lines += [f"- {words}" for words in about["warnings"]]
    rows = [(WORDS[name], _said(about["worst"][name]["value"], units[name]),
             _clock(about["worst"][name]["hour"])) for name in ORDER]  # fmt: skip
    lines += tables.section("The worst hour of each", [("", "", "at"), *rows])
    lines += tables.heading("When not to risk an outage")
    lines += [outage_words(sizing, frame)]
    lines += [f"What these fish bear: {', '.join(_limits(about['thresholds'], units))}."]
    heads = ("Hour", *(f"{words} {units[name]}".rstrip() for name, words in HEAD.items()))
    hours = [(clock(hour), *(_cell(row[name]) for name in HEAD)) for hour, row in frame.iterrows()]
    lines += tables.section("Hour by hour", [heads, *hours])
    lines += tables.heading("What this counts on")
    lines += [f"- {words}" for words in (*about["notes"], SIGNS)]
    lines += [*tables.heading("Take care"), *told_at("day")]
    return "\n".join([*lines, "", "A teaching estimate, not engineering design."])


LIMITS = {
    "oxygen": "oxygen", "ammonia": "total ammonia", "unionized_ammonia": "un-ionised ammonia",
    "carbon_dioxide": "carbon dioxide", "keep": "to keep", "alarm": "alarm at",
    "stress": "distress below", "deadly": "deadly below", "most": "at most",
}  # fmt: skip
"""Words of the thresholds."""


def _limits(thresholds: dict, units: dict) -> list[str]:
    """Each threshold in words."""
    return [
        f"{LIMITS[name]} {LIMITS[word]} {_said(value, units[name])}"
        for name, of in thresholds.items()
        for word, value in of.items()
    ]


def answer(frame) -> str:
    """One sentence: the meals, the lowest oxygen and when."""
    about = frame.attrs
    low = about["worst"]["oxygen"]
    meals = about["meals"]
    told = f"meals at {', '.join(meals)}" if len(meals) <= 6 else f"{len(meals)} meals"
    return (
        f"With {told}, oxygen in the fullest tank is lowest at {_clock(low['hour'])},"
        f" {_said(low['value'], about['units']['oxygen'])}, where the mean of the day is"
        f" {_said(about['mean']['oxygen'], about['units']['oxygen'])}."
    )


def outage_words(sizing: Sizing, frame) -> str:
    """When an outage leaves least time and when it leaves most, beside the number of the sizing."""
    worst, best = frame.attrs["worst_start"], frame.attrs["best_start"]
    return (
        f"When the air stops at {clock(worst['hour'])}, fish are in distress after"
        f" {number(worst['minutes'], 2)} minutes; at {clock(best['hour'])} after"
        f" {number(best['minutes'], 2)}. Plan work on air and power for the hours around"
        f" {clock(best['hour'])}. The sizing counts on {minutes_to_act(sizing, frame.attrs['system'])},"
        f" for a busiest hour {number(float(sizing.design.wastes.hour_factor))} times the mean; these meals"
        f" make it {number(frame.attrs['peak_over_mean'])} times."
    )


def feeding_json(frame) -> str:
    """The day as JSON text.

    Parameters:
        frame: what ``rsdesign.season.feeding_day`` gives.
    Returns: the text.

    Example: ``feeding_json(feeding_day(sizing))``.
    """
    found = dict(frame.attrs)
    found["cautions"] = cautions_on("day")
    found["hours"] = [
        {"hour": float(hour), **{name: tables.plain(row[name]) for name in COLUMNS}}
        for hour, row in frame.iterrows()
    ]
    return tables.json_text(found)


def feeding_csv(frame) -> str:
    """The day as a table for a spreadsheet, a unit in each heading.

    Parameters:
        frame: what ``rsdesign.season.feeding_day`` gives.
    Returns: the text.

    Example: ``feeding_csv(feeding_day(sizing))``.
    """
    return tables.csv_text(frame, tuple(COLUMNS))


def _said(value, unit: str) -> str:
    if value is None:
        return "not known"
    return f"{number(value)} {unit}".rstrip()


def _cell(value) -> str:
    return "not known" if value != value else number(value)  # noqa: PLR0124


def _clock(hour) -> str:
    return "" if hour is None else clock(hour)
