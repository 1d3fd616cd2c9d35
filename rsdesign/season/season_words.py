"""What a season says in words: what happens when, what to look out for, what the numbers rest on."""

import numpy as np

from ..core.kinds import KINDS
from ..core.units import show
from ..equations.biofilter import doses
from .crop import MIDDLE
from .deadly import WORDS
from .season_run import Season
from .what_ifs import Changes

SALT_RATIO = 10.0
"""Chloride over nitrite, as the ion, below which nitrite harms fish: 6 to 10 by extension, seen."""


def events_of(season: Season, change: Changes) -> list[dict]:
    """Stockings, harvests, what-ifs and deaths, each with its day from 1."""
    days = season.fish.number.shape[0]
    end = int(season.death.day[0])
    found = list(change.events)
    for day in np.flatnonzero(season.fish.fingerlings[:, 0] > 0.0):
        found.append((int(day) + 1, f"stock {season.fish.fingerlings[day, 0]:.0f} fingerlings"))
    for day in np.flatnonzero(season.fish.sold[:, 0] > 0.0):
        found.append((int(day) + 1, f"harvest {season.fish.sold[day, 0]:.0f} fish"))
    if end < days:
        found.append((end + 1, f"the fish would be dead: {list(WORDS.values())[int(season.death.cause[0])]};"
                               " nothing is drawn after this day"))  # fmt: skip
    return [{"day": day, "event": words} for day, words in sorted(found) if day <= end + 1]


def warnings_of(season: Season) -> list[dict]:
    """The first day of each thing that is not as it should be, until the fish would be dead."""
    keep, f = season.sizing.design.keep, season.fish
    days = f.number.shape[0]
    end = min(int(season.death.day[0]) + 1, days)
    there = f.number + f.sold > 0.0
    chloride = season.chloride
    signs = {
        "ammonia is above what the design keeps": season.levels.most_ammonia > 1.02 * keep.total_ammonia,
        "un-ionised ammonia is above what the design keeps": season.gases["unionized"] > keep.unionized_ammonia,
        "nitrite is above a tenth of the chloride; salt protects the fish": (
            doses.as_nitrite.__wrapped__(season.levels.most_nitrite) > chloride / SALT_RATIO
        ),
        "nitrate is above what the design keeps": season.levels.nitrate > 1.02 * keep.nitrate,
        "oxygen is below what the design keeps in the busiest hour": (
            season.gases["oxygen"] < keep.oxygen * 0.999
        ),
        "the source cannot give all the new water that is wanted": season.moved["short"] > 1e-12,
        "more water evaporates than the source can give, so the level falls": season.moved["lost"] > 1e-12,
        "the fish do not eat in this water": f.appetite <= 0.0,
        "feed is left over and rots; stop when they stop eating": f.feed > f.eaten * (1.0 + 1e-9),
    }  # fmt: skip
    found = []
    for words, sign in signs.items():
        at = np.flatnonzero((sign & there)[:end, 0])
        if at.size:
            found.append({"day": int(at[0]) + 1, "days": int(at.size), "warning": words})
    return sorted(found, key=lambda one: one["day"])


def notes_of(season: Season, about: dict, system: str) -> list[str]:
    """What the numbers rest on, in the units shown."""

    def degrees(value) -> str:
        return show(value, KINDS["temperature"], "metric" if system == "si" else system)

    kept = degrees(season.sizing.design.site.water_temperature)
    water = {
        "told": f"The water stays at {kept}: no weather is told, or it stays warm by itself.",
        "weather": "The water follows the mean weather of its months; no hot or cold spell is in it.",
        "heated": "A heater holds the water; the mean weather of the months decides what it costs.",
    }[season.water.basis]
    coefficient, base = about["coefficient"], about["base"]
    return [
        water,
        f"Growth: coefficient {coefficient[MIDDLE]:.2f} over {degrees(base[MIDDLE])}"
        f" ({about['line']}); slow {coefficient[0]:.2f} over {degrees(base[0])}, fast"
        f" {coefficient[2]:.2f} over {degrees(base[2])}. Published results differ by up to ten times;"
        " weigh your own fish.",
        "The filter is ripe for the feed of the first day when the fish come.",
        "Base is added every evening, so that alkalinity stays at what the design keeps.",
    ]
