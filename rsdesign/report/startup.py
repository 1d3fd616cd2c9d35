"""The start of a filter as text for a terminal and as JSON; nothing is computed here."""

import math

import numpy as np

from ..core.cautions import cautions_on, told_at
from ..core.kinds import KINDS, to_plain
from ..core.units import number, show
from ..design.model import Design
from ..equations.biofilter import doses
from .tables import heading, json_text, plain, table_lines, title

SHOWN = 14
"""Days between the rows of the calendar."""


def startup_text(frame, design: Design, volume: float) -> str:
    """A start as tables for a terminal: when, what is safe to feed, what to dose, what to fear.

    Parameters:
        frame: what ``rsdesign.season.startup`` gives.
        design: the design that is started.
        volume: all the water [m³], as ``report.building.all_lists.water_of`` gives it.
    Returns: the text.

    Example: ``startup_text(startup(design), design, water_of(size(design)))``.
    """
    lines = [title(design), "", answer(frame), ""]
    lines += [f"- {words}" for words in frame.attrs["warnings"]]
    lines += [*heading("Calendar"), *table_lines(_calendar(frame))]
    lines += [*heading("To buy"), *_to_buy(frame, volume)]
    lines += [*heading("How to read this"), *frame.attrs["notes"]]
    lines += [*heading("Take care"), *told_at("startup")]
    return "\n".join([*lines, "", "A teaching estimate. Your own tests decide."])


def startup_json(frame) -> str:
    """A start as JSON text: every day, the days of the band, warnings, cautions.

    Parameters:
        frame: what ``rsdesign.season.startup`` gives.
    Returns: the text.

    Example: ``startup_json(startup(design))``.
    """
    about = {name: frame.attrs[name] for name in ("units", "warnings", "notes")}
    for name in ("ready", "full_feed"):
        about[name] = {str(k): plain(v) for k, v in frame.attrs[name].items()}
    about["deadly"] = plain(frame.attrs["deadly"])
    about["cautions"] = cautions_on("startup")
    days = {"day": [int(d) for d in frame.index]}
    days |= {name: plain(frame[name].to_numpy()) for name in frame.columns}
    return json_text({**about, "days": days})


def answer(frame) -> str:
    """When the filter is ready for fish and for the full feed, as bands, in one line."""
    ready, full = frame.attrs["ready"], frame.attrs["full_feed"]
    return f"Ready for fish: {_span(ready, frame)}. Full feed: {_span(full, frame)}."


def _span(days: dict, frame) -> str:
    """Days as a band, never as one date."""
    last = int(frame.index[-1])
    if not math.isfinite(days[5]):
        return f"not within {last} days"
    if not math.isfinite(days[95]):
        middle = f", half of all by day {days[50]:.0f}" if math.isfinite(days[50]) else ""
        return f"day {days[5]:.0f} at the earliest{middle}, and perhaps not within {last} days"
    return f"day {days[5]:.0f} to {days[95]:.0f}, half of all by day {days[50]:.0f}"


def _calendar(frame) -> list[tuple[str, ...]]:
    units = frame.attrs["units"]
    names = {
        "ammonia": "ammonia",
        "nitrite": "nitrite",
        "alkalinity": "alkalinity",
        "dose": "dose",
        "safe_feed": "safe to feed",
        "feed": "feed",
    }
    found = [("day", *(f"{words}, {units[name]}" for name, words in names.items()))]
    marks = {0, int(frame.index[-1]), *range(0, len(frame), SHOWN)}
    for key in ("ready", "full_feed"):
        if math.isfinite(frame.attrs[key]["value"]):
            marks.add(int(frame.attrs[key]["value"]))
    for day in sorted(marks):
        cells = []
        for name in names:
            value = frame[name].iloc[day]
            words = short(value)
            if f"{name}_5" in frame and np.isfinite(value):
                low, high = frame[f"{name}_5"].iloc[day], frame[f"{name}_95"].iloc[day]
                words += f" ({short(low)} to {short(high)})"
            cells.append(words)
        found.append((str(day), *cells))
    return found


def short(value) -> str:
    """A number of the calendar: a dash where there is none, 0 below a hundredth."""
    if not np.isfinite(value):
        return "-"
    return number(float(value) if abs(value) >= 0.01 else 0.0, 2)


def doses_of(frame, volume: float) -> tuple[np.ndarray, np.ndarray]:
    """Ammonium chloride and baking soda of each day [kg], in the run of the values themselves.

    Parameters:
        frame: what ``rsdesign.season.startup`` gives.
        volume: all the water [m³].
    Returns: both as arrays, a number for each day.

    Example: ``doses_of(startup(design), 5.2)``.
    """
    dose, base = (
        to_plain(frame[name].to_numpy(), KINDS["concentration"].unit(frame.attrs["units"][name]))
        for name in ("dose", "base")
    )
    return salt_to_raise(volume, dose), doses.baking_soda_to_raise(volume, base)


def salt_to_raise(volume: float, rise):
    """Ammonium chloride [kg] that raises ammonia nitrogen [kg/m³] in a volume of water [m³]."""
    return doses.ammonium_chloride(doses.mass_to_raise(volume, rise))


def _to_buy(frame, volume: float) -> list[str]:
    mass, system = KINDS["mass"], frame.attrs["system"]
    dosed, base = frame.attrs["dosed"], frame.attrs["base"]
    found = [f"For all the water, about {show(volume, KINDS['volume'], system)}:"]
    if dosed > 0:
        salt = salt_to_raise(volume, dosed)
        found.append(
            f"Ammonia nitrogen in all: {show(doses.mass_to_raise(volume, dosed), mass, system, 2)}; as"
            f" ammonium chloride {show(salt, mass, system, 2)}."
        )
    if base > 0:
        soda = doses.baking_soda_to_raise(volume, base)
        found.append(f"Baking soda in all: {show(soda, mass, system, 2)}.")
    return [*found, "Test kits for ammonia, nitrite, nitrate, pH and alkalinity."]
