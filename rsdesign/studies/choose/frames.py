"""``rsdesign.choose``: what to buy as a pandas frame with its units in ``attrs``."""

from ...core.kinds import KINDS
from ...core.notebook import shown_in
from ...core.unit_table import DAY
from ...core.units import number, show
from ...design.model import Design
from ...sizing.system import Sizing
from .member import PARTS, Member
from .offers import offers
from .study import Choice, study

COLUMNS = {
    "cost": "money", "minutes": "minutes", "water": "daily flow", "labour": "minutes",
    "first_cost": "money",
}  # fmt: skip
"""Columns with a unit, and the kind of each; water and own work are those of a mean day."""
YEAR = 365.25
CHEAPEST, SURE = "cheapest", "sure"


def choose(
    design: Design | Sizing, prices=None, quotes: list[dict] | None = None, only: dict | None = None,
    system: str = "us", progress=None,
):  # fmt: skip
    """What to buy: the designs that no other one beats, from every combination of the parts for sale.

    Parameters:
        design: one ``Design`` (no arrays) or its ``Sizing``; fish, place and number of tanks stay.
        prices: a TOML file with your own prices and parts, written like ``data/offers.toml``.
        quotes: the same as rows, each with part, name, and price or life as text.
        only: by part, the names of the things to look at, such as ``{"tank": "pool with a liner"}``.
        system: "us", "metric" or "si".
        progress: called with the share that is done, from 0 to 1, and what is done now.
    Returns: the frame, a row for each design, the cheapest first: cost a year, minutes to act in the
        busiest hour, water and own work on a mean day, first cost, the chance to stand in draws, whether
        it costs the same as the cheapest within the doubt of prices, what it is picked for, and its parts.
        ``attrs``: units by column, fronts (rows by goal), ties, present, designs (by row), combined,
        sized, stood, judged, refused, unmended, prices.
    Raises: ``DesignError`` with one sentence.
    Source: ``equations.costs`` and ``size``; the catalogue's prices are invented or one's own.

    Example: ``choose(load("family")).loc["cheapest", "tank"]``.
    """
    return frame(study(design, offers(prices, quotes, only), progress), system)


def frame(found: Choice, system: str = "us"):
    """A choice as a pandas frame; see ``choose``."""
    import pandas as pd  # noqa: PLC0415  (only who asks for a frame needs it)

    members = found.members
    rows = [_row(found, one, system) for one in members]
    index = [row.pop("pick") or str(place + 1) for place, row in enumerate(rows)]
    made = pd.DataFrame(rows, index=pd.Index(index, name="design"), columns=columns())
    place = {id(one): k for k, one in enumerate(members)}
    at = {tuple(one.places.items()): k for k, one in enumerate(members)}
    made.attrs.update(
        units={name: unit_of(found, name, system) for name in made.columns},
        fronts={
            goal: [place.get(id(m), at[tuple(m.places.items())]) for m in line]
            for goal, line in found.fronts.items()
        },
        ties=[
            {"part": t.part, "of": t.name, "other": t.other, "more": t.more, "doubt": t.doubt}
            for t in found.ties
        ],
        present={
            "cost": found.present.goals["cost"], "chance": found.present.chance,
            "minutes": found.present.goals["minutes"] / 60.0, "short": list(found.present.short),
        },
        designs=[one.design for one in members],
        combined=found.combined, sized=found.sized, stood=found.stood, judged=found.judged,
        refused=found.refused, unmended=list(found.unmended), prices=found.shop.for_sale.note,
    )  # fmt: skip
    return made


def columns() -> list[str]:
    """The columns of the frame, in order."""
    return [*COLUMNS, "chance", "same_cost", *PARTS]


def plain_goals(one: Member) -> dict[str, float]:
    """The goals of a design in the plain units of the columns."""
    return {
        "cost": one.goals["cost"],
        "minutes": one.goals["minutes"],
        "water": one.goals["water"] / (YEAR * DAY),
        "labour": one.goals["labour"] / YEAR,
        "first_cost": one.goals["investment"],
    }


def unit_of(found: Choice, name: str, system: str) -> str:
    """The unit of a column."""
    if name not in COLUMNS:
        return ""
    if COLUMNS[name] == "money":
        return found.sizing.design.prices.currency
    return shown_in(1.0, KINDS[COLUMNS[name]], system)[1]


def _row(found: Choice, one: Member, system: str) -> dict:
    row: dict = {"pick": pick_of(found, one)}
    for name, value in plain_goals(one).items():
        row[name] = (
            value if COLUMNS[name] == "money" else shown_in(value, KINDS[COLUMNS[name]], system)[0]
        )
    row |= {"chance": one.chance, "same_cost": found.same_as_cheapest(one)}
    return row | {part: part_words(one, part, system) for part in PARTS}


def pick_of(found: Choice, one: Member) -> str:
    """What a design is picked for: the cheapest, the sure one, or nothing."""
    for name, picked in ((CHEAPEST, found.cheapest), (SURE, found.sure)):
        if picked is not None and picked.places == one.places:
            return name
    return ""


def part_words(one: Member, part: str, system: str) -> str:
    """A part of a design in words, with its size.

    Parameters:
        one: the design.
        part: "tank", "settler", "filter", "air", "pump", "pipe", "backup" or "lid".
        system: "us", "metric" or "si".
    """
    s, name = one.sizing, one.offers[part].name

    def said(value, kind: str) -> str:
        return show(float(value), KINDS[kind], "us" if system == "us" else "metric", 3)

    if part == "tank":
        return f"{name}, {said(s.tank.width, 'length')} across, {said(s.tank.depth, 'length')} deep"
    if part == "settler":
        return (
            name if s.design.solids.settler == "none" else f"{name}, {said(s.solids.area, 'area')}"
        )
    if part == "filter":
        return f"{name}, {said(s.filter.media_volume, 'media volume')}"
    if part == "air":
        spare = f" and {number(float(s.air.spare))} spare" if s.air.spare else ""
        return f"{_own(one, part)}{number(float(s.air.count))} × {s.air.device}{spare}"
    if part == "pump":
        return f"{_own(one, part)}{number(float(s.pump.count))} × {s.pump.model}"
    return name


def _own(one: Member, part: str) -> str:
    """The name of a thing of the person's own; the size says enough of those on the list."""
    return f"{one.offers[part].name}: " if one.offers[part].own else ""
