"""The start of a design's filter: how many days it takes, with its band, and what is safe to feed."""

from typing import Any

import numpy as np

from ..core.choices import DesignError
from ..core.kinds import KINDS, Kind
from ..core.notebook import shown_in, unit_in
from ..core.units import UnitError, number, parse, show
from ..design.model import Design, arrays_of
from ..equations.biofilter import doses
from ..sizing.system import Sizing, size
from .bacteria import draws as drawn
from .start_course import GONE, Course, Plan, Site, deadly_nitrite, run

WAYS = ("fishless", "fish in")
SALTS = {"ammonium chloride": 2.0, "ammonia water": 1.0}
"""What is dosed, with the equivalents of alkalinity that each mole of its nitrogen takes."""

DAYS, DRAWS = 90, 100
"""Days followed and draws of the band where nothing else is told."""
BANDED = ("ammonia", "nitrite", "nitrate", "alkalinity", "safe_feed")
PERCENT = (5, 50, 95)

COLUMNS: dict[str, Kind] = {
    "ammonia": KINDS["concentration"],
    "nitrite": KINDS["concentration"],
    "nitrate": KINDS["concentration"],
    "alkalinity": KINDS["concentration"],
    "ph": KINDS["pH"],
    "unionized": KINDS["concentration"],
    "ammonia_bacteria": KINDS["fraction"],
    "nitrite_bacteria": KINDS["fraction"],
    "dose": KINDS["concentration"],
    "base": KINDS["concentration"],
    "feed": KINDS["feed rate"],
    "safe_feed": KINDS["feed rate"],
}

RANGES: dict[str, tuple[str, str, str, str]] = {
    "dose": ("concentration", "0.5 mg/L", "10 mg/L", "ammonia nitrogen that a dose brings"),
    "seed": ("fraction", "0.0001 %", "100 %", "bacteria brought in, over those at rest"),
    "feed_start": ("fraction", "1 %", "100 %", "first day's feed, over the biggest feed day"),
    "feed_rise": ("fraction", "0 %", "100 %", "rise of the feed each day"),
    "temperature": ("temperature", "5 °C", "40 °C", "water temperature"),
    "chloride": ("concentration", "0 mg/L", "20000 mg/L", "chloride in the water"),
    "chloride_ratio": ("ratio", "3", "30", "chloride over nitrite, as ions"),
}
"""What may be told, as a kind, the lowest, the highest and the words for it."""

USUAL = {
    "dose": "3 mg/L", "seed": None, "feed_start": 0.25, "feed_rise": 0.10, "temperature": None,
    "chloride": None, "chloride_ratio": 10.0,
}  # fmt: skip
"""What is taken where nothing is told; None for what the design or the draws give."""


def startup(
    design: Design | Sizing, way: str = "fishless", *, ammonia: str = "ammonium chloride",
    dose="3 mg/L", seed=None, feed_start=0.25, feed_rise=0.10, by_safe_feed: bool = True,
    days: int = DAYS, temperature=None, chloride=None, chloride_ratio=10.0,
    hold_alkalinity: bool = True, count_poison: bool = False, draws: int = DRAWS, system: str = "us",
):  # fmt: skip
    """The start of the filter, a row for each day, each main number with its band.

    Parameters:
        design: one ``Design``, or its ``Sizing``; the filter starts in its water.
        way: "fishless" (ammonia is dosed until the filter is ripe, then fish come) or "fish in"
            (fish are fed from the first day).
        ammonia: "ammonium chloride" or "ammonia water".
        dose: ammonia nitrogen to which a dose brings the water, 0.5 to 10 mg/L.
        seed: bacteria at the start over those of the ripe filter; None draws 0.0001 to 0.01 %, new
            media and town water; "1 %" is a hundredth of ripe media.
        feed_start: feed of the first day with fish, over the biggest feed day, 1 to 100 %.
        feed_rise: rise of the feed from day to day, 0 to 100 %.
        by_safe_feed: whether to give no more than is safe on each day.
        days: time to follow [days], 7 to 365.
        temperature: of the water; None takes the coldest for which the filter is sized.
        chloride: in the water; None takes the source's.  Salt raises it.
        chloride_ratio: chloride over nitrite that fish need, both as ions, 3 to 30.
        hold_alkalinity: whether baking soda holds the alkalinity that the design keeps.
        count_poison: whether un-ionised ammonia slows the nitrite bacteria.
        draws: number of draws from the published ranges [-] that make the band, 20 to 2000.
        system: "us", "metric" or "si", the units of the frame.
    Returns: a pandas frame; units in ``attrs["units"]``, days in ``attrs["ready"]`` and
        ``attrs["full_feed"]`` (5, 50 and 95 %; infinite where not within the days), sentences in
        ``attrs["warnings"]``.  From the day on which fish would die there are no numbers.
    Raises: ``DesignError`` with one sentence for a value that will not do.
    Source: ``data/ripening.csv``; equations of ``equations.biofilter``.

    Example:
        >>> from rsdesign.design.model import Design
        >>> found = startup(Design().with_(goal_fish=180), days=60, draws=20)
        >>> len(found), found.attrs["units"]["ammonia"]
        (61, 'mg/L')
    """
    told = {"dose": dose, "seed": seed, "feed_start": feed_start, "feed_rise": feed_rise,
            "temperature": temperature, "chloride": chloride, "chloride_ratio": chloride_ratio}  # fmt: skip
    wanted = (way, ammonia, by_safe_feed, hold_alkalinity, count_poison)
    return _started(design, told, wanted, days, draws, system)


def _started(design, told: dict, wanted: tuple, days: int, draws: int, system: str):
    """The frame of a start, from what was told."""
    unit_in(None, system)
    _whole("draws", draws, 20, 2000)
    return _frame(*computed(design, told, wanted, days, draws), system)


def computed(
    design, told: dict, wanted: tuple, days: int, draws: int = 0, hours: float = 4.0
) -> tuple[Course, Plan, Sizing]:
    """The start of ``startup`` as arrays, its plan and the sizing that it starts from.

    Parameters:
        design: one ``Design`` or its ``Sizing``.
        told: what may be told, by the names of ``RANGES``; what is left out is as in ``startup``.
        wanted: way, ammonia, by_safe_feed, hold_alkalinity and count_poison, as in ``startup``.
        days: time to follow [days], 7 to 365.
        draws: draws that make the band; 0 follows the values alone.
        hours: of one step.
    Returns: the course, whose first column is drawn with the values, the plan, and the sizing.
    Raises: ``DesignError`` with one sentence.
    """
    sizing = design if isinstance(design, Sizing) else size(design)
    if arrays_of(sizing.design):
        raise DesignError("A start is followed for one design at a time: give no lists of values.")
    given = {name: _told(name, told.get(name, usual)) for name, usual in USUAL.items()}
    _whole("days", days, 7, 365)
    way, ammonia, by_safe_feed, hold_alkalinity, count_poison = wanted
    own = (sizing.filter.temperature, sizing.design.source.chloride)
    warm, salt = (
        float(mine if given[name] is None else given[name])
        for name, mine in zip(("temperature", "chloride"), own, strict=True)
    )
    plan = Plan(
        fishless=_one_of("way", way, WAYS) == "fishless",
        equivalents=SALTS[_one_of("ammonia", ammonia, tuple(SALTS))],
        dose=given["dose"], feed_start=given["feed_start"], feed_rise=given["feed_rise"],
        by_safe_feed=bool(by_safe_feed) and way == "fishless", days=days, hours=hours,
        temperature=warm, chloride=salt, chloride_ratio=given["chloride_ratio"],
        hold_alkalinity=bool(hold_alkalinity), count_poison=bool(count_poison),
    )  # fmt: skip
    numbers = drawn(draws)
    if given["seed"] is not None:
        numbers["seed"] = np.full(len(numbers["seed"]), given["seed"])
    with np.errstate(all="ignore"):
        return run(Site.of(sizing, warm), plan, numbers), plan, sizing


def _told(name: str, value) -> Any:
    """A value as told, in the plain unit of its kind, within its range."""
    kind_name, low, high, words = RANGES[name]
    kind = KINDS[kind_name]
    if value is None and name in ("seed", "temperature", "chloride"):
        return None
    try:
        found = parse(value, kind) if isinstance(value, str) else float(value)
    except UnitError as wrong:
        why = str(wrong).partition(". ")[0].removesuffix(".")  # the range says how to write it
        raise DesignError(f"{name} ({words}): {why}; give a value from {low} to {high}.") from None
    except (TypeError, ValueError):
        found = np.nan
    if not parse(low, kind) <= found <= parse(high, kind):
        raise DesignError(
            f"{name} ({words}) is {str(value)[:40]!r}; give a value from {low} to {high}."
        )
    return found


def _whole(name: str, value, low: int, high: int) -> None:
    if isinstance(value, bool) or not isinstance(value, int) or not low <= value <= high:
        raise DesignError(f"{name} is {value!r}; give a whole number from {low} to {high}.")


def _one_of(name: str, value, names: tuple[str, ...]) -> str:
    if value not in names:
        raise DesignError(f"{name} is {str(value)[:40]!r}; choose {' or '.join(map(repr, names))}.")
    return value


# --- the frame -----------------------------------------------------------------------------


def _frame(course: Course, plan: Plan, sizing: Sizing, system: str):
    import pandas as pd  # noqa: PLC0415  (only who asks for a frame needs it)

    day = np.arange(plan.days + 1.0)
    columns, units = {}, {}
    for name, kind in COLUMNS.items():
        values = living(course, name)
        columns[name], units[name] = shown_in(values[:, 0], kind, system)
        if name in BANDED:
            for percent, row in zip(PERCENT, band_of(values), strict=True):
                shown = shown_in(row, kind, system)
                columns[f"{name}_{percent}"], units[f"{name}_{percent}"] = shown
    columns["dead_share"], units["dead_share"] = shown_in(
        (day[:, None] >= course.deadly).mean(axis=1), KINDS["fraction"], system
    )
    frame = pd.DataFrame(columns, index=pd.Index(day.astype(int), name="day"))
    frame.attrs.update(
        units=units,
        system=system,
        ready=days_of(course.ready),
        full_feed=days_of(course.full),
        deadly=float(course.deadly[0]),
        dosed=float(course["dose"][:, 0].sum()),
        base=float(course["base"][:, 0].sum()),
        warnings=warnings_of(course, plan, sizing, system),
        notes=notes_of(plan),
    )
    return frame


def living(course: Course, name: str) -> np.ndarray:
    """A number of each day and draw, none from the day on which fish would be dead."""
    values = course[name]
    return np.where(np.arange(len(values))[:, None] >= course.deadly, np.nan, values)


def band_of(values: np.ndarray) -> np.ndarray:
    """The 5th, 50th and 95th of a hundred draws on each day, those whose fish live.

    It ends with the first column, which is drawn with the values themselves.
    """
    alive = np.isfinite(values).any(axis=1)
    found = np.full((3, len(values)), np.nan)
    if alive.any():
        there = values[alive, 1:]
        # where none has died the plain function says the same, a hundred times as fast
        of = np.percentile if np.isfinite(there).all() else np.nanpercentile
        found[:, alive] = of(there, PERCENT, axis=1)
    return np.where(np.isfinite(values[:, 0]), found, np.nan)


def days_of(found: np.ndarray) -> dict:
    """The value's day, and the band of the draws; infinite where not within the days."""
    ordered = np.sort(found[1:])
    places = [min(int(np.ceil(p / 100 * len(ordered))), len(ordered)) - 1 for p in PERCENT]
    band = {p: float(ordered[place]) for p, place in zip(PERCENT, places, strict=True)}
    return {"value": float(found[0]), **band}


def warnings_of(course: Course, plan: Plan, sizing: Sizing, system: str) -> list[str]:
    """What to look at, most urgent first."""
    level, found = KINDS["concentration"], []
    if np.isfinite(course.deadly[0]):
        found.append(
            f"Deadly from day {course.deadly[0]:.0f}: the fish would be dead, and the lines are drawn"
            " no further. Start without fish, or with far less feed."
        )
    elif np.isfinite(course.deadly).any():
        share = number(100.0 * np.isfinite(course.deadly[1:]).mean(), 2)
        found.append(f"In {share} % of the draws fish would die. Feed less, or start without fish.")
    alkalinity, ph, poison, nitrites = (
        living(course, name)[:, 0] for name in ("alkalinity", "ph", "unionized", "nitrite")
    )
    eaten = np.argmax(alkalinity < 0.2 * sizing.design.keep.alkalinity)
    if eaten:
        found.append(
            f"The alkalinity is eaten by day {eaten}, the pH falls to {number(np.nanmin(ph), 2)} and the"
            " bacteria all but stop. Add baking soda before it falls that far."
        )
    if np.nanmax(poison) > 1e-4:
        day = int(np.argmax(poison > 1e-4))
        found.append(
            f"From day {day} un-ionised ammonia is over {show(1e-4, level, system, 1)}, where it"
            " starts to slow nitrite bacteria. Smaller doses or a lower pH help."
        )
    nitrite = np.nanmax(nitrites)
    limit = doses.nitrite_limit(plan.chloride, plan.chloride_ratio)
    if nitrite > limit:
        found.append(
            f"Nitrite reaches {show(nitrite, level, system, 2)} as nitrogen; beside"
            f" {show(plan.chloride, level, system, 2)} of chloride fish bear"
            f" {show(limit, level, system, 2)}, and"
            f" {show(deadly_nitrite(plan.chloride), level, system, 2)} has killed half of them."
            f" {_salt(nitrite, plan, sizing, system)}"
        )
    return found


SALTED = {"us": "100 gal", "metric": "1000 L", "si": "1 m³"}
"""The volume of water for which salt is told: the layout, which knows all the water, stands above this."""


def _salt(nitrite: float, plan: Plan, sizing: Sizing, system: str) -> str:
    """Salt that would keep so much nitrite out of fish."""
    needed = doses.chloride_needed(nitrite, plan.chloride_ratio)
    each = parse(SALTED[system], KINDS["volume"])
    more = doses.mass_to_raise(each, max(0.0, needed - plan.chloride))
    return (
        f"With fish in the water, {show(doses.salt_for_chloride(more), KINDS['mass'], system, 2)} of"
        f" salt for each {SALTED[system]} of all the water would bring the chloride to"
        f" {show(needed, KINDS['concentration'], system, 2)}."
    )


def notes_of(plan: Plan) -> list[str]:
    """How to read the frame."""
    ready = (
        f"Ready: a day after a dose both ammonia and nitrite are below {number(GONE * 1e3, 1)} mg/L."
        if plan.fishless
        else "Ready: the biggest day's feed is safe, and both levels are within their limits."
    )
    return [
        ready,
        "Ammonia, nitrite and nitrate are as nitrogen; a kit may read the ion: nitrite × 3.28,"
        " nitrate × 4.43.",
        "The band holds 90 of 100 draws from published ranges. No print gives the seed: its value is"
        " fitted to published weeks.",
        "Weights are for all the water: tanks, settler, filter and sump as laid out. Take the chlorine out of"
        " all of it.",
        "Test each day. The tests decide, not this calendar.",
    ]
