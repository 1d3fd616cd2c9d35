"""What a person writes to begin: so much fish a year, so many fish, or a tank of a size.

``150 lb a year``, ``70 kg``, ``200 fish``, ``a tank of 6 ft 6 in by 3 ft``, ``2 m x 1 m``.  A text is
read where it can mean one thing only; else one sentence says what to write.
"""

import re

from ..core.choices import DesignError
from ..core.kinds import KINDS, UnitError
from ..core.typed_numbers import number_at, tidied
from ..core.unit_words import STUFF, unit_named
from ..core.units import clipped, parse
from ..design.model import FIELDS
from .controls import allowed, read

LONGEST = 100
"""Characters that are read."""
EXAMPLES = {
    "us": "'150 lb a year', '200 fish' or 'a tank of 6 ft 6 in by 3 ft'",
    "metric": "'70 kg a year', '200 fish' or 'a tank of 2 m by 1 m'",
}
SIZES = {"us": "'6 ft 6 in by 3 ft'", "metric": "'2 m by 1 m'"}

_WISH = re.compile(
    r"^(?:(?:i|we)(?:'d| would)? (?:want|have|need|like|own|plan)(?: to \w+)?\s+)?"
    r"(?:(?:about|around|some|~)\s*(?=\d))?", re.I,
)  # fmt: skip
_TANKS = re.compile(
    r"^(?:(?P<count>an?|one|two|three|four|five|six|\d+)\s+)?(?:round\s+|fish\s+)?tanks?\b"
    r"(?:\s+(?:of|is|are|with|each))*\s*:?\s*", re.I,
)  # fmt: skip
_COUNTS = {"a": 1, "an": 1, "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6}
_BY = re.compile(
    r"\s*(?:\bby\b|(?<![a-z])x(?![a-z])|[×*]|(?<=wide),|(?<=deep),|(?<=long),|(?<=across),)\s*",
    re.I,
)
_FISH = re.compile(
    r"^(?P<count>[\d.,' ]+?)\s*(?:fish(?:es)?|tilapias?|peces|animals)\b(?P<rest>.*)$", re.I
)
_ROLES = {
    "depth": ("deep", "depth", "high", "of water"),
    "width": ("across", "wide", "width", "diameter"),
    "length": ("long", "length"),
}
_ROLE = re.compile(
    r"\b(?:in|of|water|the)?\s*\b(" + "|".join(w for ws in _ROLES.values() for w in ws) + r")\b",
    re.I,
)


def plan_of(text: str, system: str) -> dict:
    """The choices that a text names, by their paths, in plain numbers.

    A bare number is in the unit shown, or in the unit written beside it.  Raises ``DesignError`` with
    one sentence for a text that names none.

    >>> plan_of("200 fish", "us"), sorted(plan_of("2 m x 1 m", "us"))
    ({'goal.fish': 200.0}, ['tank.depth', 'tank.width'])
    """
    shown = clipped(text)
    words = _WISH.sub("", tidied(text[: 4 * LONGEST])).strip().rstrip(".!?;")
    words = re.sub(r"\s+each$", "", words)
    if len(text) > LONGEST:
        raise DesignError(f"{shown} is too long. Write {EXAMPLES[system]}.")
    tanks = _TANKS.match(words)
    count = tanks["count"] if tanks else None
    rest = words[tanks.end() :] if tanks else words
    parts = _BY.split(rest)
    if len(parts) > 1 or tanks:
        return _tank(parts, count, shown, system)
    return _goal(words, shown, system)


# --- so much fish -------------------------------------------------------------------------------


def _goal(words: str, shown: str, system: str) -> dict:
    fish = _FISH.match(words)
    if fish and not fish["rest"].strip(" ."):
        return {"goal.fish": read(fish["count"], FIELDS["goal.fish"], system)}
    try:
        rest = number_at(words).rest
    except UnitError:
        raise DesignError(f"{shown} was not understood. Write {EXAMPLES[system]}.") from None
    if not rest:
        raise DesignError(f"{shown}: of what? Write {EXAMPLES[system]}.")
    if unit_named(rest, KINDS["length"]):
        raise DesignError(f"{shown} is one size. Write two: across by depth, like {SIZES[system]}.")
    if unit_named(rest, KINDS["volume"]):
        raise DesignError(
            f"{shown} is a volume. Write the tank as across by depth, like {SIZES[system]}."
        )
    entry = FIELDS["goal.harvest"]
    mass = _mass(words)
    if mass is not None:
        return {"goal.harvest": read(f"{mass:.12g} kg/year", entry, system)}
    if unit_named(rest, entry.kind) is None:
        raise DesignError(
            f"{shown} was not understood. Write {EXAMPLES[system]};"
            f" {allowed(entry, system)} can be computed."
        )
    return {"goal.harvest": read(words, entry, system)}


def _mass(words: str) -> float | None:
    """A weight without a time, which is meant for a year [kg]; None where it is something else."""
    try:
        return parse(STUFF.sub("", words), KINDS["mass"])
    except UnitError:
        return None


# --- a tank -------------------------------------------------------------------------------------


def _tank(parts: list[str], count: str | None, shown: str, system: str) -> dict:
    if len(parts) not in (2, 3) or not all(parts):
        raise DesignError(
            f"{shown} is no size of a tank. Write across by depth, like {SIZES[system]}."
        )
    found = {}
    for role, text in zip(_roles(parts, shown, system), _with_units(parts), strict=True):
        found[f"tank.{role}"] = read(text, FIELDS[f"tank.{role}"], system)
    if len(found) == 2 and found["tank.depth"] > found["tank.width"]:
        raise DesignError(
            f"{shown} is deeper than it is wide. Write across by depth, like {SIZES[system]}."
        )
    if len(found) == 3:
        short, long = sorted((found["tank.width"], found["tank.length"]))
        found |= {"tank.width": short, "tank.length": long}
    if count is not None:
        number = str(_COUNTS.get(count.lower(), count))
        found["tank.count"] = read(number, FIELDS["tank.count"], system)
    return found


def _roles(parts: list[str], shown: str, system: str) -> list[str]:
    """What each size is: by its word, such as "deep", else by its place."""
    places = ["width", "depth"] if len(parts) == 2 else ["length", "width", "depth"]
    said = [_role(part) for part in parts]
    left = [role for role in places if role not in said]
    roles = [role or (left.pop(0) if left else "") for role in said]
    if sorted(roles) != sorted(places):
        raise DesignError(f"{shown} is not clear. Write across by depth, like {SIZES[system]}.")
    return roles


def _role(part: str) -> str:
    match = _ROLE.search(part)
    word = match[1].lower() if match else ""
    return next((role for role, words in _ROLES.items() if word in words), "")


def _with_units(parts: list[str]) -> list[str]:
    """The sizes without their words; one without a unit takes that of the nearest size after or before it."""
    texts = [_ROLE.sub("", part).strip() for part in parts]
    units = [_unit(text) for text in texts]
    found = []
    for place, text in enumerate(texts):
        near = [u for u in (*units[place + 1 :], *reversed(units[:place])) if u]
        found.append(f"{text} {near[0]}" if not units[place] and near else text)
    return found


def _unit(text: str) -> str:
    """The first unit of a size, "" where it has none."""
    try:
        rest = number_at(text, KINDS["length"]).rest
    except UnitError:
        return "?"
    match = re.match(r"[^\d]+", rest)
    return match[0].strip(" ,-") if match else ""
