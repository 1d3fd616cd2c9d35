"""Words in which people write units, in English and Spanish, and the label each of them means.

``spellings`` gives the ways in which a typed unit may be looked up in the closed lists of
``unitlist``: as typed, with its words turned into labels, and in other cases.
"""

import functools
import re
import unicodedata

from .kinds import Kind, Unit, UnitError

WORDS = (
    # longer ones first: what is left of a phrase is read by the rows below it
    (r"\b(?:imperial|imp\.?|u\.?k\.?|british) ?gal(?:lon)?s?\b\.?|\bgalon(?:es)? imperial(?:es)?\b", "imp gal"),
    (r"\b(?:u\.?s\.?|american|liquid) (?=gal)", ""),
    (r"\b(galon(?:es)?) (?:americanos?|estadounidenses?|liquidos?)\b", r"\1"),
    (r"\b(?:cubic|cu\.?) ?(?:meters?|metres?|m)\b|\bmetros? cubicos?\b|\bcbm\b", "m³"),
    (r"\b(?:cubic|cu\.?) ?(?:feet|foot|ft)\b|\bpies? cubicos?\b", "ft³"),
    (r"\b(?:square|sq\.?) ?(?:meters?|metres?|m)\b|\bmetros? cuadrados?\b", "m²"),
    (r"\b(?:square|sq\.?) ?(?:feet|foot|ft)\b|\bpies? cuadrados?\b", "ft²"),
    (r"\b(?:square|sq\.?) ?(?:inch(?:es)?|in)\b|\bpulgadas? cuadradas?\b", "in²"),
    (r"\b(m|ft|in|cm)\^?2\b", r"\1²"), (r"\b(m|ft|in|cm)\^?3\b", r"\1³"),
    (r"\b(?:degrees?|deg\.?|grados?)\s*(?:fahrenheit|f)\b", "°F"),
    (r"\b(?:degrees?|deg\.?|grados?)\s*(?:celsius|centigrade|centigrados?|c)\b", "°C"),
    (r"\bfahrenheit\b", "°F"), (r"\b(?:celsius|centigrade|centigrados?)\b", "°C"),
    (r"\bkilowatt[ -]?hours?\b|\bkilovatios?[ -]hora\b", "kWh"),
    (r"\bwatt[ -]?hours?\b|\bvatios?[ -]hora\b", "Wh"),
    (r"\bhorsepower\b|\bcaballos? de fuerza\b", "hp"),
    (r"\bpercent\b|\bper ?cent\b|\bpor ?ciento\b", "%"),
    (r"\bppm\b|\bparts per million\b|\bpartes por millon\b", "mg/L"),
    # volume
    (r"\bgall?[oe]n(?:es|s)?\b|\bgalls?\b|\bgals\b", "gal"),
    (r"\blit(?:er|re)s?\b|\blitros?\b|\bltrs?\b|\blts\b", "L"),
    (r"\bmillilit(?:er|re)s?\b|\bmililitros?\b", "mL"),
    # mass
    (r"\bmilligrams?\b|\bmiligramos?\b", "mg"),
    (r"\bkilograms?\b|\bkilogrammes?\b|\bkilogramos?\b|\bkilos?\b|\bkgs\b", "kg"),
    (r"\bgrams?\b|\bgrammes?\b|\bgramos?\b|\bgr\b|\bgms?\b", "g"),
    (r"\bpounds?\b|\blibras?\b|\blbs\b|\blb\b", "lb"), (r"\bounces?\b|\bonzas?\b", "oz"),
    (r"\btonnes?\b|\bmetric tons?\b|\btoneladas?\b", "t"),
    # length and area
    (r"\bcentimet(?:er|re)s?\b|\bcentimetros?\b", "cm"), (r"\bmillimet(?:er|re)s?\b|\bmilimetros?\b", "mm"),
    (r"\bmet(?:er|re)s?\b|\bmetros?\b", "m"), (r"\bfeet\b|\bfoot\b|\bpies?\b", "ft"),
    (r"\binch(?:es)?\b|\bpulgadas?\b", "in"), (r"\bhectares?\b|\bhectareas?\b", "ha"),
    # time
    (r"\bseconds?\b|\bsegundos?\b|\bsecs?\b|\bseg\b", "s"), (r"\bminutes?\b|\bminutos?\b|\bmins\b", "min"),
    (r"\bhours?\b|\bhoras?\b|\bhrs?\b", "h"), (r"\bdays?\b|\bdias?\b", "day"),
    (r"\bweeks?\b|\bsemanas?\b", "week"), (r"\byears?\b|\banos?\b|\byrs?\b", "year"),
    # power, money
    (r"\bkilowatts?\b|\bkilovatios?\b", "kW"), (r"\bwatts?\b|\bvatios?\b", "W"),
    (r"\bdollars?\b|\bdolar(?:es)?\b|\busd\b|[$€]", ""),
)  # fmt: skip
"""Patterns of lower-case words without accents, and the label they mean."""

STUFF = re.compile(
    r"\s*\b(?:of|de)? ?\b(?:water|feed|food|fish|oxygen|air|ammonia|media|gravel|solids|base|head"
    r"|agua|alimento|comida|peces|oxigeno|aire|amoniaco)\b"
)
"""What is measured, said beside its unit: "gallons of water", "libras de alimento"."""

_PER = re.compile(r"\s+(?:per|por|each|cada|a la|al|an|a)\s+|\s*(?:/|\bper\b|\bpor\b)\s*")
_DEGREES = re.compile(r"(?:degrees?|degs?\.?|grados?|°)")
_CASED = {"w": "W", "kw": "kW", "wh": "Wh", "kwh": "kWh", "kpa": "kPa", "pa": "Pa", "btu/h": "Btu/h",
          "btu/hr": "Btu/h", "f": "°F", "c": "°C", "k": "K", "btu": "Btu", "l": "L", "ml": "mL"}  # fmt: skip


def plain(text: str) -> str:
    """Lower case, accents and double spaces gone.

    >>> plain("  Galones por DÍA ")
    'galones por dia'
    """
    apart = unicodedata.normalize("NFD", text.replace("º", "°").lower())
    bare = "".join(c for c in apart if not unicodedata.combining(c))
    return re.sub(r"\s+", " ", bare).strip()


def labelled(text: str) -> str:
    """A typed unit with its words turned into labels.

    >>> labelled("libras de alimento al día"), labelled("gallons of water")
    ('lb/day', 'gal')
    """
    found = STUFF.sub("", plain(text))
    for pattern, label in WORDS:
        found = re.sub(pattern, label, found)
    found = _PER.sub("/", found.strip())
    found = re.sub(r"(?<=[\w²³])\.(?=/|$|\s)", "", found).strip()
    found = re.sub(r"/d$|/d(?=\))", "/day", found)
    found = re.sub(r"\bmg/l\b", "mg/L", found)
    return re.sub(r"\bl\b", "L", found)


@functools.lru_cache(maxsize=8192)
def unit_named(label: str, kind: Kind) -> Unit | None:
    """The unit that a typed label means, or None.

    >>> from rsdesign.core.kinds import KINDS
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
    """A unit as typed, then with its words turned into labels, then in other cases."""
    label = label.strip().rstrip(".").strip()
    yield label
    text = labelled(label)
    yield text
    grouped = re.fullmatch(r"(\w+)/(m²|ft²)[/ ·]+(\w+)", text)
    if grouped:
        yield f"{grouped[1]}/({grouped[2]} {grouped[3]})"
    yield from (label.lower(), label.upper(), label.capitalize())
    if text.lower() in _CASED:
        yield _CASED[text.lower()]


def degrees_alone(label: str) -> bool:
    """Whether somebody wrote degrees and not of which scale.

    >>> degrees_alone("grados"), degrees_alone("°F")
    (True, False)
    """
    return bool(_DEGREES.fullmatch(plain(label)))
