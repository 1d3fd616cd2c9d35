"""Words for units as people write them, and the unit of the closed lists that each means.

One table for the pages, the files and the exercises.  The closed lists with their factors are in
``unitlist``; here stand plurals, long words, other spellings and other cases.
"""

import functools
import re

from .kinds import Kind, Unit, UnitError

WORDS = (
    (r"\bcubic (meters?|metres?)\b", "m³"), (r"\bcubic (feet|foot)\b", "ft³"),
    (r"\bsquare (meters?|metres?)\b", "m²"), (r"\bsquare (feet|foot)\b", "ft²"),
    (r"\b(?:sq\.?|square) ?(ft|feet)\b", "ft²"), (r"\b(?:cu\.?|cubic) ?(ft|feet)\b", "ft³"),
    (r"\bsq\.? ?m\b", "m²"), (r"\bcu\.? ?m\b|\bcbm\b", "m³"),
    (r"\b(m|ft|in|cm)\^?2\b", r"\1²"), (r"\b(m|ft|in|cm)\^?3\b", r"\1³"),
    (r"\bdegrees?\s*(fahrenheit|f)\b", "°F"), (r"\bdegrees?\s*(celsius|centigrade|c)\b", "°C"),
    (r"\bdeg\.?\s*f\b", "°F"), (r"\bdeg\.?\s*c\b", "°C"), (r"\bfahrenheit\b", "°F"),
    (r"\bcelsius\b", "°C"), (r"\bu\.?s\.? gal", "gal"),
    (r"\bgalons?\b|\bgallon?s?\b|\bgalls?\b", "gal"),
    (r"\bkgs\b|\bkilos?\b", "kg"), (r"\blbs\b|\bpounds?\b|\blb\b", "lb"), (r"\bgrams?\b|\bgr\b", "g"),
    (r"\blit(?:er|re)s?\b|\bltrs?\b", "L"), (r"\bfeet\b|\bfoot\b", "ft"),
    (r"\binch(?:es)?\b", "in"), (r"\bminutes?\b|\bmins\b", "min"), (r"\bhours?\b|\bhrs?\b", "h"),
    (r"\bdays?\b", "day"), (r"\bweeks?\b", "week"), (r"\byears?\b|\byrs?\b", "year"),
    (r"\bseconds?\b|\bsecs?\b", "s"), (r"\bmilligrams?\b", "mg"), (r"\bkilograms?\b", "kg"),
    (r"\bmet(?:er|re)s?\b", "m"), (r"\bwatts?\b", "W"), (r"\bkilowatts?\b", "kW"),
    (r"\bhorsepower\b", "hp"), (r"\bpercent\b|\bper ?cent\b", "%"),
    (r"\bdollars?\b|\busd\b|[$€]", ""), (r"\bppm\b", "mg/L"),
)  # fmt: skip
"""Ways in which units are written, and the label they mean."""


@functools.lru_cache(maxsize=8192)
def unit_named(label: str, kind: Kind) -> Unit | None:
    """The unit that a typed label means, or None.

    >>> from rsdesign.kinds import KINDS
    >>> unit_named("gallons per minute", KINDS["flow"]).label
    'gal/min'
    """
    for text in spellings(label):
        if label.strip() and not text and not kind.family.startswith("money"):
            continue  # "5 dollars" is no ratio
        try:
            return kind.unit(text)
        except UnitError:
            continue
    if kind.family == "temperature difference":
        bare = label.strip().lower().replace("°", "").replace(" apart", "")
        known = {"c": "K", "f": "°F apart", "k": "K"}
        for text in (bare, *spellings(label)):
            plain = text.lower().replace("°", "").strip()
            if plain in known:
                return kind.unit(known[plain])
    return None


def spellings(label: str):
    """A label as typed, then with words turned into labels, then in other cases."""
    label = label.strip().rstrip(".").strip()
    yield label
    text = label.lower()
    for pattern, meant in WORDS:
        text = re.sub(pattern, meant, text)
    text = re.sub(r"\s+(?:per|a|an|each)\s+", "/", text)
    text = re.sub(r"\s*(?:/|\bper\b)\s*", "/", text)
    text = re.sub(r"(?<=[\w²³])\.(?=/|$|\s)", "", text).strip()
    text = re.sub(r"/d$|/d(?=\))", "/day", text)
    text = re.sub(r"\bmg/l\b", "mg/L", text)
    text = re.sub(r"\bl\b", "L", text)
    yield text
    grouped = re.fullmatch(r"(\w+)/(m²|ft²)[/ ·]+(\w+)", text)
    if grouped:
        yield f"{grouped[1]}/({grouped[2]} {grouped[3]})"
    yield from (label.lower(), label.upper(), label.capitalize())
    cased = {"w": "W", "kw": "kW", "kwh": "kWh", "kpa": "kPa", "pa": "Pa", "btu/h": "Btu/h",
             "btu/hr": "Btu/h", "f": "°F", "c": "°C", "k": "K", "btu": "Btu"}  # fmt: skip
    if text in cased:
        yield cased[text]
