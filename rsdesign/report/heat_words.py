"""What a heat study means, in sentences: three answers to a season, and what to look at."""

import numpy as np

from ..core.kinds import KINDS, Number
from ..core.units import number, show
from ..design.weather import LENGTH, MONTHS, weather_of
from ..equations.fish.species import species
from ..equations.heat.tables import tank_cover
from ..studies.heat.study import RULE_DEPTH, HeatStudy
from ..studies.heat.yearly import NEAR

NOTABLE = 0.2
"""Degrees worth a sentence."""

CAUTIONS = (
    "Heaters near water: a licensed electrician, ground-fault protection, a switch that cuts the"
    " heater when the water is low, and a guard so that no fish or hand touches it.",
    "A burner needs fresh air and a flue: its fumes kill in a closed greenhouse or shed.",
    "People overheat before fish do: on a hot day work early, in shade, with water, never alone in"
    " a greenhouse.",
    "Before snow, wind or a greenhouse frame, ask your building office; before a well or a drain,"
    " your water agency.",
)


def _t(value: Number, system: str) -> str:
    return show(value, KINDS["temperature"], system)


def _apart(value: Number, system: str) -> str:
    text = show(value, KINDS["temperature difference"], system)
    return text.removesuffix(" apart")


def day_words(day: Number) -> str:
    """A day of the year as people say it.

    >>> day_words(67)
    '8 March'
    """
    ends = np.cumsum(LENGTH.astype(int))
    month = int(np.searchsorted(ends, int(day)))
    return f"{int(day) - int(ends[month] - int(LENGTH[month]))} {MONTHS[month]}"


def answers(study: HeatStudy, system: str = "us") -> tuple[str, str, str]:
    """One warm-season batch, heated water, a cooler fish in winter: what each gives."""
    return _one_batch(study, system), _heated(study, system), _cooler(study, system)


def _one_batch(study: HeatStudy, system: str) -> str:
    kept, goal = study.season, study.sizing.design.goal
    if not kept.season_days:
        return f"One warm-season batch: none; the water never suits {kept.species}."
    end = show(kept.end_weight, KINDS["fish weight"], system)
    wanted = show(goal.weight, KINDS["fish weight"], system)
    days = number(kept.season_days)
    when = (
        "all year round"
        if kept.season_days >= 365
        else f"from {day_words(kept.first_day)} to {day_words(kept.last_day)}"
    )
    start = show(study.sizing.design.stock.stocking_weight, KINDS["fish weight"], system)
    head = f"One warm-season batch: {days} days in a row, {when}, take a fish from {start} to"
    if kept.days_to_harvest is None:
        return f"{head} {end}, short of the {wanted} wanted. Buy larger fingerlings, or heat."
    return f"{head} the {wanted} wanted in {number(kept.days_to_harvest)} days."


def _heated(study: HeatStudy, system: str) -> str:
    held = study.heating
    energy = show(held.yearly_heating_energy, KINDS["energy"], system)
    each = show(held.energy_per_fish, KINDS["energy per fish"], system)
    heater = show(held.heater, KINDS["power"], system)
    return (
        f"Heated to {_t(held.set_point, system)} all year: {energy} a year,"
        f" {each} of fish, and a heater of {heater}."
    )


def _cooler(study: HeatStudy, system: str) -> str:
    if not study.cooler:
        return "A cooler fish in winter: no days are left over for one."
    best = study.cooler[0]
    label = species(best.species).label
    start = show(study.sizing.design.stock.stocking_weight, KINDS["fish weight"], system)
    end = show(best.end_weight, KINDS["fish weight"], system)
    return (
        f"A cooler fish in winter: {label}, {number(best.season_days)} days from"
        f" {day_words(best.first_day)}, grows from {start} to {end}. Ask for its permit."
    )


def findings(study: HeatStudy, system: str = "us") -> tuple[str, ...]:
    """What to look at, the gravest first."""
    return tuple(
        words
        for group in (_dangers, _sizing_temperatures, _lids, _depth, _water, _doubts)
        for words in group(study, system)
    )


def _dangers(study: HeatStudy, system: str):
    fish, hot, cold = study.sizing.tables.species, study.course("hot"), study.course("cold")
    if hot.hottest >= fish.lethal_high:
        yield (
            f"Deadly: the hot day reaches {_t(hot.hottest, system)}; {fish.label} die near"
            f" {_t(fish.lethal_high, system)}. Shade and open water first."
        )
    elif hot.hottest > fish.feeding_high:
        yield (
            f"Hot: the hot day reaches {_t(hot.hottest, system)}, above the"
            f" {_t(fish.feeding_high, system)} at which {fish.label} stop eating. Do not feed then;"
            " oxygen is least and ammonia bites most."
        )
    if cold.coldest <= 0.0:
        yield f"Ice: the cold day would reach {_t(cold.coldest, system)}; ice is not computed here."
    if cold.coldest <= fish.lethal_low:
        yield (
            f"Deadly: the cold day reaches {_t(cold.coldest, system)}; {fish.label} die near"
            f" {_t(fish.lethal_low, system)}. Harvest before winter, or heat."
        )
    elif cold.coldest < fish.feeding_low:
        yield (
            f"Cold: the cold day reaches {_t(cold.coldest, system)}, below the"
            f" {_t(fish.feeding_low, system)} at which {fish.label} stop eating."
        )


def _sizing_temperatures(study: HeatStudy, system: str):
    site, kept = study.sizing.design.site, study.season
    if kept.growing_days < 365:
        yield (
            f"The design counts on {_t(site.water_temperature, system)}; without a heater the water"
            f" suits {kept.species} on {number(kept.growing_days)} days of the year."
        )
    counted, hottest = study.sizing.air.temperature, study.course("hot").hottest
    if hottest > counted + NEAR:
        yield (
            f"The hot day brings the water to {_t(hottest, system)}, the design counts on"
            f' {_t(counted, system)}: write warmest_water = "{_t(hottest, system)}" under [site],'
            " for oxygen and ammonia, or shade the tank."
        )


def _lids(study: HeatStudy, system: str):
    c = study.sizing.design.climate
    opened, cold_open = study.course("hot", "open water"), study.course("cold", "open water")
    if c.shelter != "indoors":
        lids = ["bubble sheet", "foam lid"]
        lids += [] if c.cover in ("none", *lids) else [c.cover]
        for lid in lids:
            yield from _lid_by_day(lid, study.course("hot", f"{lid} by day"), opened, system)
    half = study.course("hot", "half shade, open")
    if opened.hottest - half.hottest > NOTABLE:
        yield (
            f"Cloth that takes half the sun brings the hottest hour of open water to"
            f" {_t(half.hottest, system)}, {_apart(opened.hottest - half.hottest, system)} less."
        )
    by_night = study.course("cold", "foam lid by night")
    if by_night.coldest - cold_open.coldest > NOTABLE and c.shelter != "indoors":
        yield (
            f"A foam lid on cold nights keeps open water"
            f" {_apart(by_night.coldest - cold_open.coldest, system)} warmer on the cold day."
        )


def _lid_by_day(lid: str, by_day, opened, system: str):
    label = tank_cover(lid).label
    reached = (
        f"the hot day reaches {_t(by_day.hottest, system)}; open, {_t(opened.hottest, system)}"
    )
    if by_day.hottest > opened.hottest + NOTABLE:
        yield (
            f"A lid by day overheats: with {label} {reached}. Evaporation is the cooler: leave it"
            " open by day, and shade it."
        )
    elif by_day.hottest < opened.hottest - NOTABLE:
        yield (
            f"With {label} by day and open nights {reached}: it keeps the sun out, and the night"
            " cools. Air must still reach the water."
        )


def _depth(study: HeatStudy, system: str):
    depths = {d.depth: d for d in study.depths}
    rule, shallow, deep = depths[RULE_DEPTH], depths[min(depths)], depths[max(depths)]
    length = KINDS["length"]
    if rule.swing < NOTABLE:
        yield "Depth: the water hardly swings here, at whatever depth."
        return
    yield (
        f"Depth: the hot day swings {_apart(shallow.swing, system)} in"
        f" {show(shallow.depth, length, system)} of water, {_apart(rule.swing, system)} in"
        f" {show(rule.depth, length, system)} and {_apart(deep.swing, system)} in"
        f" {show(deep.depth, length, system)}. It falls steadily: the trade's"
        f" {show(RULE_DEPTH, length, system)} is no edge, only a place on that line."
    )


def _water(study: HeatStudy, system: str):
    hot = study.courses[0]
    names_, values = list(study.relations), np.array(list(study.relations.values()))
    flow, depth = KINDS["daily flow"], KINDS["evaporation depth"]
    low, high = values.min(), values.max()
    yield (
        f"Evaporation on the hot day: {show(hot.evaporation, flow, system)} with the air through the"
        f" water; {show(study.relations[study.relation], depth, system)} from the surface, and"
        f" {show(low, depth, system)} ({names_[int(values.argmin())]}) to"
        f" {show(high, depth, system)} ({names_[int(values.argmax())]}) by the published relations."
    )
    yield "What evaporates leaves its salts: the new water that drains them comes on top."


def _doubts(study: HeatStudy, system: str):
    if study.sizing.design.climate.weather is None and study.weather is weather_of(
        study.sizing.design.climate
    ):
        yield (
            f"Your place's weather is not told: this is {study.weather.name}, to show what heat does."
        )
    yield from study.weather.doubts
    apart = study.weather.elevation - float(study.sizing.design.site.elevation)
    if abs(apart) > 300.0:
        length = KINDS["elevation"]
        yield (
            f"The weather is from {show(study.weather.elevation, length, system)}, the site stands at"
            f" {show(study.sizing.design.site.elevation, length, system)}: each"
            f" {show(300.0, length, system)} are about {_apart(2.0, system)} of air."
        )
    if study.weather.invented:
        yield "The weather is invented: ask for your own station's twelve months and read them from a table."
