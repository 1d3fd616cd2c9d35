"""What the parts that one owns can carry, in words: for a terminal, a page, a paper and as JSON."""

import math
from dataclasses import dataclass

from ..core.kinds import KINDS, Number
from ..core.units import number, show
from ..design.model import FIELDS
from ..sizing.margins import Part
from ..studies.limits import MAIN, Bearing, Limits
from .tables import cell, heading, json_text, section, table_lines, title, value_text
from .text import CAUTIONS

NAMES = {"tank": "tank", "pump": "pump", "filter": "filter", "air": "air machine"}
"""The main parts as a person calls them."""

ALONE = {
    "tank": "Your tank has room for {fish}.",
    "pump": "Your pump moves enough water for {fish}.",
    "filter": "Your filter media are enough for {fish}.",
    "air": "Your air machine gives enough air for {fish}.",
}
"""What one given part carries."""

NOTHING = {
    "tank": "No tank, no fish.",
    "pump": "No pump, no fish: nothing moves the water.",
    "filter": "No filter media, no fish: nothing takes the ammonia out.",
    "air": "No air machine, no fish: they use up the oxygen in minutes.",
    "water": "No new water, no fish.",
}
"""What is said where a part is not there at all."""

NEEDED = {
    "tank": "{amount} of water",
    "pump": "a flow of {amount}",
    "filter": "{amount} of media surface",
    "air": "{amount} of air",
}
"""How much there must be of a part that the design does not give."""


@dataclass(frozen=True, slots=True)
class Answer:
    """The answer in words: ``sure`` is the headline, never a capacity while a part is missing."""

    sure: str
    more: tuple[str, ...]

    @property
    def text(self) -> str:
        """All of it in one line."""
        return " ".join(words for words in (self.sure, *self.more) if words)


def listed(names: list[str] | tuple[str, ...]) -> str:
    """Names in a row.

    >>> listed(["pump"]), listed(["pump", "filter", "air"])
    ('pump', 'pump, filter and air')
    """
    return " and ".join(part for part in (", ".join(names[:-1]), names[-1]) if part)


def told_words(told: tuple[str, ...], untold: tuple[str, ...], lifted: bool = False) -> str:
    """Which of the main parts the design gives and which it does not, in one line."""
    names = NAMES | ({"pump": "airlift"} if lifted else {})
    parts = [f"Told: {listed([names[n] for n in told])}"] if told else []
    if untold:
        parts.append(f"not told: {listed([names[n] for n in untold])}" if told else
                     "Nothing is told yet that you own")  # fmt: skip
    return " · ".join(parts)


def told_parts(parts: tuple[Part, ...], no_pump: bool) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """The main parts that the design gives, and those that it does not."""
    owned = {p.name for p in parts if p.owned} | ({"pump"} if no_pump else set())
    return tuple(n for n in MAIN if n in owned), tuple(n for n in MAIN if n not in owned)


def answer(found: Limits, system: str) -> Answer:
    """What the given parts carry, what is missing, and what would have to be there."""
    first = found.first
    if first is None:
        return Answer("", ("Tell us one thing that you own, and we say what it can carry.",))
    names = _names(found)
    missing = [names[n] for n in found.untold]
    not_told = f"Not told: {listed(missing)}." if missing else ""
    if found.none:
        words = [NOTHING[b.part] for b in found.tied if b.feed <= 0 and b.part in NOTHING]
        return Answer(" ".join(words) or "What you own carries no fish.",
                      (not_told,) if not_told else ())  # fmt: skip
    if found.complete:
        return Answer(_capacity(found, first, system), ())
    sure = f"No answer yet. {not_told}"
    more = [_told(found, first, system), f"Until you own {listed([_a(name) for name in missing])},"
            " it carries no fish."]  # fmt: skip
    needs = _needs(found, system)
    return Answer(sure, tuple(words for words in (*more, needs) if words))


def still_to_buy(found: Limits) -> str:
    """Which parts are not given yet, and that they are sized for the goal."""
    names = _names(found)
    return f"Not yet yours: {listed([names[n] for n in found.untold])}. All parts are sized here for this goal."


def _names(found: Limits) -> dict[str, str]:
    lifted = found.sizing.design.pump.kind == "airlift"
    return NAMES | ({"pump": "airlift"} if lifted else {})


def _a(name: str) -> str:
    return f"an {name}" if name[0] in "aeiou" else f"a {name}"


def fish_words(found: Limits, bearing: Bearing, system: str) -> str:
    """The fish of a batch that a part carries, and how heavy each is."""
    weight = value_text(found.sizing.design.goal.weight, FIELDS["goal.weight"].kind, system)
    if not math.isfinite(bearing.fish):
        return f"any number of fish of {weight}"
    if bearing.fish < 1:
        return f"less than one fish of {weight}"
    return f"about {number(bearing.fish, 2)} fish of {weight}"


def _feed(value: Number, system: str, figures: int = 3) -> str:
    return show(value, KINDS["feed rate"], system, figures)


def _capacity(found: Limits, first: Bearing, system: str) -> str:
    if not math.isfinite(first.feed):
        return "What you own sets no limit."
    what = listed([words.lower() for words in found.ties])
    feed = _feed(first.feed, system, 2).replace("/day", " a day")
    return f"It can feed {feed}, {fish_words(found, first, system)}. The limit is {what}."


def _told(found: Limits, first: Bearing, system: str) -> str:
    fish = fish_words(found, first, system)
    if len(found.told) == 1:
        return ALONE[found.told[0]].format(fish=fish)
    names = [_names(found)[n] for n in found.told]
    limit = listed([b.words.lower() for b in found.tied if b.part != "water"])
    return f"Your {listed(names)} can carry {fish}. The limit among them is {limit}."


def _needs(found: Limits, system: str) -> str:
    if not found.needs or not all(math.isfinite(float(p.required)) for p in found.needs):
        return ""
    amounts = [
        NEEDED[p.name].format(amount=value_text(p.required, p.kind, system)) for p in found.needs
    ]
    return f"For that many fish there must be {listed(amounts)}."


def limits_text(found: Limits, system: str) -> str:
    """What limits, and what to buy next, for a terminal.

    Parameters:
        found: what ``rsdesign.limits`` gives.
        system: "us" or "metric", the units in which figures are shown.
    Returns: the text.

    Example: ``limits_text(found, "us")``.
    """
    lines = [title(found.sizing.design), ""]
    said = answer(found, system)
    lines += [words for words in (said.sure, *said.more) if words]
    if found.planned:
        feed = value_text(found.sizing.stock.peak_feed, KINDS["feed rate"], system)
        lines.append(f"The plan in the file feeds {feed}.")
    if found.told:
        rows = [("part", "feed a day", "fish in a batch")]
        rows += [(b.words, feed_words(b, system), count_words(b)) for b in shown_bearings(found)]
        lines += section("What each told part can carry, smallest first", rows)
    if found.chosen:
        lines.append(f"Not told, so sized to fit and never the limit: {', '.join(found.chosen)}.")
    if found.complete:
        lines += heading("Buy next, most feed for the money first (invented prices)")
        lines += _buys(found, system)
    if found.assumed:
        lines += heading("What you left open, and what was taken")
        lines += [f"- {sentence}" for sentence in found.assumed]
    return "\n".join([*lines, "", *CAUTIONS])


def shown_bearings(found: Limits) -> tuple[Bearing, ...]:
    """What is listed: new water, which everybody has, only beside a whole system."""
    return found.bearings if found.complete else found.main if found.told else ()


def feed_words(bearing: Bearing, system: str) -> str:
    """The feed of a part in words."""
    return "any" if not math.isfinite(bearing.feed) else _feed(bearing.feed, system)


def count_words(bearing: Bearing) -> str:
    """The fish of a part in words."""
    return "any" if not math.isfinite(bearing.fish) else number(bearing.fish)


def _buys(found: Limits, system: str) -> list[str]:
    if not found.buys:
        return ["Nothing in the price table adds feed within the budget."]
    rows = [("what", "how many", "money", "feed gained", "for 100 of money", "then the limit is")]
    rows += [
        (b.purchase.label, str(b.count), number(b.cost), _feed(b.gain, system),
         _feed(100 * b.gain_for_money, system), b.then)
        for b in found.buys
    ]  # fmt: skip
    return table_lines(rows)


def limits_json(found: Limits, system: str) -> str:
    """What limits, as JSON text.

    Parameters:
        found: what ``rsdesign.limits`` gives.
        system: "us" or "metric", the units in which figures are shown.
    Returns: the text.

    Example: ``limits_json(found, "us")``.
    """
    feed, said = KINDS["feed rate"], answer(found, system)
    result = {
        "answer": said.sure,
        "words": list(said.more),
        "complete": found.complete,
        "told": list(found.told),
        "not_told": list(found.untold),
        "bearings": [
            {"part": b.part, "words": b.words, "feed": cell(b.feed, feed, system),
             "fish": b.fish if math.isfinite(b.fish) else None}
            for b in found.bearings
        ],
        "first": list(found.ties) if found.first else [],
        "chosen": list(found.chosen),
        "needs": {p.name: cell(float(p.required), p.kind, system) for p in found.needs},
        "buys": [
            {"purchase": b.purchase.name, "count": b.count, "cost": b.cost,
             "gain": cell(b.gain, feed, system),
             "gain_for_money": cell(b.gain_for_money, feed, system), "then": b.then}
            for b in found.buys
        ],
        "assumed": list(found.assumed),
    }  # fmt: skip
    return json_text(result)
