"""A growing season as text for a terminal and as JSON; nothing is computed here."""

import math

from ..core.cautions import cautions_on, told_at
from ..core.units import number
from ..design.model import Design
from ..equations.costs.budget import LABELS
from .cost import money
from .tables import heading, json_text, plain, table_lines, title

WEEK = 7
SHOWN = ("date", "water_temperature", "fish", "weight", "weight_slow", "weight_fast", "feed", "ammonia",
         "nitrite", "nitrate", "alkalinity", "oxygen", "cash")  # fmt: skip


def season_text(frame, design: Design, stocking, harvest, order=()) -> str:
    """A season as tables for a terminal: week by week, what it costs, when to stock and harvest.

    Parameters:
        frame: what ``rsdesign.season.growout`` gives.
        design: the design of the season.
        stocking: what ``best_stocking_day`` gives.
        harvest: what ``harvest_day`` gives.
        order: sentences of ``order_words``, where a season ends the batch.
    Returns: the text.

    Example: ``season_text(growout(d), d, best_stocking_day(d), harvest_day(d))``.
    """
    about = frame.attrs
    lines = [title(design), "", answer(frame)]
    lines += [*heading("When to stock and harvest"), *when_words(frame, stocking, harvest, order)]
    lines += [
        *heading("What happens"),
        *(f"Day {e['day']}: {e['event']}." for e in about["events"]),
    ]
    if about["warnings"]:
        lines += [*heading("What to look out for")]
        lines += [
            f"From day {w['day']}, on {w['days']} days: {w['warning']}." for w in about["warnings"]
        ]
    lines += [*heading("Week by week"), *table_lines(_weeks(frame))]
    currency = about["units"]["cash"]
    lines += [*heading("Money until the last day shown, own hours and equipment left out")]
    lines += [
        f"{LABELS.get(name, name)}: {money(value, currency)}"
        for name, value in about["money"].items() if value
    ]  # fmt: skip
    lines += [*heading("How to read this"), *about["notes"]]
    lines += [*heading("Take care"), *told_at("season")]
    return "\n".join([*lines, "", "A teaching estimate. Your own tests and weighings decide."])


def season_json(frame) -> str:
    """A season as JSON text: every day, events, warnings, money, cautions.

    Parameters:
        frame: what ``rsdesign.season.growout`` gives.
    Returns: the text.

    Example: ``season_json(growout(design))``.
    """
    about = {name: frame.attrs[name] for name in
             ("units", "events", "warnings", "notes", "growth", "money", "balances", "dead")}  # fmt: skip
    about["cautions"] = cautions_on("season")
    days = {name: [_finite(v) for v in frame[name].tolist()] for name in frame.columns}
    return json_text(plain({**about, "days": days}))


def _finite(value):
    return None if isinstance(value, float) and not math.isfinite(value) else value


def answer(frame) -> str:
    """What the last day leaves, or that the fish would be dead, in one sentence."""
    units, last = frame.attrs["units"], frame.iloc[-1]
    if frame.attrs["dead"] is not None:
        return f"The fish would be dead on day {frame.attrs['dead']}: {frame.attrs['events'][-1]['event']}."
    sold = float(frame["harvested"].sum())
    harvest = f"{number(sold, 3)} {units['harvested']} harvested; " if sold else ""
    left = float(last["fish"])
    without = ", without what the fish in the water will bring" if left else ""
    return (
        f"After {len(frame)} days{'' if sold else ', before the harvest'}: {harvest}{number(left, 3)} fish of"
        f" {number(float(last['weight']), 3)} {units['weight']} in the water; money"
        f" {money(last['cash'], units['cash'])}{without}."
    )


def when_words(frame, stocking, harvest, order=()) -> list[str]:
    """When to stock and when to harvest, each with its reason, a sentence or two.

    ``order``: where a season ends the batch, its sentences stand for the days to size, which count on fish that
    live through the winter.
    """
    best, about = stocking.attrs["best"], harvest.attrs
    if order:
        earns = (
            f" From day {about['best']} on, one more day earns less than a mean day: harvest from then on."
            if about["best"] < len(frame)
            else ""
        )
        return [*order[:-1], order[-1] + earns]
    row = stocking[stocking["start"] == best["day"]].iloc[0]
    days = ", ".join(
        f"{word} {row[f'days_{word}']:.0f}"
        if math.isfinite(row[f"days_{word}"])
        else f"{word} never"
        for word in ("slow", "middle", "fast")
    )
    planned = (
        "not within the days looked at" if about["planned"] is None else f"day {about['planned']}"
    )
    return [
        f"This plan stocks on {frame['date'].iloc[0]}. To come to size soonest, stock about {best['date']}:"
        f" {stocking.attrs['why']}. Days to size from then: {days}.",
        f"Harvest for the most money on day {about['best']}, at {number(about['weight'], 3)} {about['units']['weight']}:"
        f" {about['why']}. The weight of the design is met: {planned}.",
    ]


def _weeks(frame) -> list[tuple[str, ...]]:
    units = frame.attrs["units"]
    heads = tuple(f"{n.replace('_', ' ')}{', ' + units[n] if units[n] else ''}" for n in SHOWN)
    rows = [("day", *heads)]
    for place in [*range(0, len(frame) - 1, WEEK), len(frame) - 1]:
        row = frame.iloc[place]
        cells = (row[n] if isinstance(row[n], str) else number(float(row[n]), 3) for n in SHOWN)
        rows.append((str(int(row["day"])), *cells))
    return rows
