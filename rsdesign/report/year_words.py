"""What a year rests on, in sentences: who keeps the water warm, what that gives, and the hottest week."""

from ..core.kinds import KINDS, Number
from ..core.units import number, show
from ..sizing.system import Sizing
from ..studies.fishyear import YEAR
from ..studies.heat.season import Season
from ..studies.heat.yearly import (
    HEATED,
    NONE,
    NOT_KNOWN,
    UNSETTLED,
    WARM_BY_ITSELF,
    Year,
    hotter_than_counted,
    weathered,
    year_of,
)
from .heat_words import day_words


def first_line(sizing: Sizing, system: str = "us") -> str:
    """What the harvest and the cost of a year rest on; it stands before the figures, never in a fold."""
    found, year = weathered(sizing), year_of(sizing)
    held = _t(sizing.design.site.water_temperature, system)
    gives = f"about {_lb(year, system)} of fish in {number(year.batches)} {_batches(year)}"
    if found.basis == NOT_KNOWN:
        heater = (
            "You chose a heater. What it takes is not known"
            if sizing.design.climate.heated == "yes"
            else "What that takes in heat is not known"
        )
        return (
            f"The weather of your place is not told. All figures of a year take the water as {held} all"
            f" year: {gives}. {heater}, and it is not in the cost. Choose the weather of your place."
        )
    if found.basis == UNSETTLED:
        return (
            f"The water does not settle in this weather: look at the watts of the pump, the tank's depth"
            f" and its covers. The figures of a year take the water as {held} all year: {gives}, and no"
            " heat is bought."
        )
    if found.basis == WARM_BY_ITSELF:
        return f"You say that the water stays at {held} all year by itself: {gives}. No heat is bought."
    heat = show(year.heating, KINDS["energy"], system)
    if found.basis == HEATED:
        return f"A heater holds {held} all year: {gives}, for {heat} of heat a year."
    if found.basis == NONE or found.season is None:
        return (
            f"Without a heater the water never suits these fish here: no harvest. The figures of a year"
            f" are those with a heater that holds {held}: {gives}, for {heat} of heat a year."
        )
    return _unheated(sizing, year, found.season, gives, system)


def _unheated(sizing: Sizing, year: Year, season: Season, gives: str, system: str) -> str:
    found, wanted = weathered(sizing), sizing.design.goal.weight
    days = number(season.growing_days)
    when = (
        "on every day of the year"
        if season.season_days >= 365
        else f"on {days} days, from {day_words(season.first_day)} to {day_words(season.last_day)}"
    )
    words = f"Not heated, the water suits these fish {when}: {gives} a year."
    kind = KINDS["fish weight"]
    if year.weight < wanted * (1 - 1e-9):
        words += (
            f" They come to {show(year.weight, kind, system)} and not to the"
            f" {show(wanted, kind, system)} wanted."
        )
    if not found.winter:
        words += " Those left in the tank die in winter: harvest them before."
    if not found.summer:
        words += " The hottest day kills them: shade the tank, or do not keep them here."
    warm = show(sizing.stock.harvest, KINDS["harvest rate"], system)
    goal = sizing.design.goal
    if goal.harvest is not None:
        fish = goal.harvest * YEAR / float(year.batches * year.weight)
        words += (
            f" To harvest {show(goal.harvest, KINDS['harvest rate'], system)} so, keep"
            f" {show(fish, KINDS['animals'], system)} fish in a batch."
        )
    return (
        f"{words} Kept at {_t(sizing.design.site.water_temperature, system)} all year it would be"
        f" {warm}, but the heat for that must be bought."
    )


def hottest_line(sizing: Sizing, system: str = "us") -> str:
    """The one value for the hottest week, chosen or taken, beside what the weather brings."""
    site, found = sizing.design.site, weathered(sizing)
    counted = _t(sizing.air.temperature, system)
    said = (
        "you told it"
        if site.warmest_water is not None
        else "taken, as warm as the water in which they grow"
    )
    words = f"Water in the hottest week: the design counts on {counted} ({said})."
    if found.hottest is None:
        return words
    brings = _t(found.hottest, system)
    if hotter_than_counted(sizing) is None:
        return f"{words} The weather brings at most {brings}."
    return (
        f"{words} The weather brings {brings} in the hottest hour of a hot day. Take {brings} into the"
        " design, or shade the tank: warmer water holds less oxygen, and more of its ammonia is"
        " poison."
    )


def taken_text(sizing: Sizing, system: str = "us") -> str:
    """The hottest water as it would be typed into the design; nothing where there is no gap."""
    hottest = hotter_than_counted(sizing)
    return "" if hottest is None else _t(hottest, system)


def lines(sizing: Sizing, system: str = "us") -> list[str]:
    """Both sentences, in order."""
    return [first_line(sizing, system), hottest_line(sizing, system)]


def _t(value: Number, system: str) -> str:
    return show(value, KINDS["temperature"], system)


def _lb(year: Year, system: str) -> str:
    return show(year.harvest, KINDS["mass"], system)


def _batches(year: Year) -> str:
    return "batch" if abs(float(year.batches) - 1.0) < 1e-6 else "batches"
