"""What a log tuned, as text for a terminal and as JSON; nothing is computed here."""

from ..core.cautions import cautions_on
from ..core.units import number, show
from ..records.tuning import Tuned, TunedNumber
from .ranges import banded
from .tables import heading, json_text, plain, table_lines

WEEK = 7
SHOWN = {"tan": "ammonia", "nitrate": "nitrate"}
"""Courses of the short table, and what they are called."""
PLACE = "log"
"""The cautions of a log stand at this place."""
CARE = {
    "no feed": "Healthy fish of 20 g and more bear three days without feed (common practice); never starve fry. Feed"
               " again slowly.",
    "salt": "Salt stays in the water: dissolve it first, add it over two days, and keep the old water off the garden."
            " Ask your extension office what your fish and plants bear.",
}  # fmt: skip
"""What to mind beside a test, by a word in it."""


def tuned_text(tuned: Tuned, system: str = "us") -> str:
    """What a log tuned, as tables for a terminal: numbers, what is not decidable, before and after.

    Parameters:
        tuned: what ``rsdesign.tune`` gives.
        system: "us" or "metric".
    Returns: the text.

    Example: ``tuned_text(tune(read_log(text), design))``.
    """
    lines = [*heading("Your log and your design"), *table_lines(numbers_table(tuned, system))]
    lines += [*heading("What the log decides")]
    for one in tuned.parameters:
        lines += [f"{_first(one.words)}: {one.why}"]
        if one.decides:
            lines += [f"  What would decide it: {one.decides}"]
    lines += [*heading("Before and after, 5 to 95 %"), *table_lines(_weeks(tuned, system))]
    lines += [*heading("In your design"), *tuned.carried()]
    lines += [*heading("How to read the tuned numbers"), *reading(tuned)]
    return "\n".join(lines)


def tuned_json(tuned: Tuned, system: str = "us") -> str:
    """What a log tuned, as JSON text: numbers, verdicts, courses before and after, what a design takes over.

    Parameters:
        tuned: what ``rsdesign.tune`` gives.
        system: "us", "metric" or "si", the units of numbers and courses.
    Returns: the text.

    Example: ``tuned_json(tune(read_log(text), design))``.
    """
    return json_text(tuned_plain(tuned, system))


def tuned_plain(tuned: Tuned, system: str = "us") -> dict:
    """The same as plain values, to put beside other things of a log."""
    table, frame = tuned.table(system), tuned.courses(system)
    return {
        "numbers": {str(name): plain(dict(row)) for name, row in table.iterrows()},
        "condition": float(tuned.condition),
        "bootstrap": {name: list(pair) for name, pair in tuned.bootstrap.items()},
        "carried": list(tuned.carried()),
        "notes": reading(tuned),
        "units": frame.attrs["units"],
        "courses": {name: plain(frame[name].to_numpy()) for name in frame.columns},
        "cautions": cautions_on(PLACE),
    }


def reading(tuned: Tuned) -> list[str]:
    """What the numbers mean and rest on, a sentence each."""
    return [
        "A band is to hold nine truths of ten, as far as the model is true. The band of a number that is not decidable"
        " rests on what was known before, not on your log: your system may lie outside it.",
        "The filter factor is the rate of your filter over that of the design: 0.5 is half as fast.",
        *tuned.notes,
        *(words for mark, words in CARE.items() if any(mark in d for d in tuned.decides.values())),
    ]


def _first(words: str) -> str:
    return words[0].upper() + words[1:]


def _said(one: TunedNumber, values, system: str) -> str:
    low, middle, high = (show(v, one.kind, system) for v in values)
    return banded(middle, low, high)


def numbers_table(tuned: Tuned, system: str) -> list[tuple[str, ...]]:
    """Every tuned number before and after with its band, and whether the log decides it."""
    rows: list[tuple[str, ...]] = [("number", "before", "by your log", "decided")]
    for one in tuned.parameters:
        after = _said(one, (one.low, one.value, one.high), system) if one.decidable else "as before"
        rows.append(
            (one.words, _said(one, one.prior, system), after, "yes" if one.decidable else "no")
        )
    return rows


def _weeks(tuned: Tuned, system: str) -> list[tuple[str, ...]]:
    frame = tuned.courses(system)
    units = frame.attrs["units"]
    names = [name for name in SHOWN if name in tuned.task.tests.by_name]
    heads = [f"{SHOWN[name]}, {units[f'{name}_after_50']}, {when}" for name in names
             for when in ("before", "after")]  # fmt: skip
    rows = [("date", *heads)]
    last = len(frame) - 1
    for place in [*range(0, last, WEEK), last]:
        row = frame.iloc[place]
        cells = [
            banded(*(number(float(row[f"{name}_{when}_{share}"]), 2) for share in (50, 5, 95)))
            for name in names for when in ("before", "after")
        ]  # fmt: skip
        rows.append((str(row["date"]), *cells))
    return rows
