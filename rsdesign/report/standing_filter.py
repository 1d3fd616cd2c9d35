"""What keeps a filter alive that no water runs through, by its kind, and the order in which all starts again.

The filters laid out here have no drain of their own: their water is taken out with a hose. Common practice.
"""

from ..sizing.system import Sizing

EMPTY = "siphon its water out with a hose"
"""How a filter without a drain is emptied."""


def stands_in_air(sizing: Sizing) -> bool:
    """Whether the media of the filter hang in air, as in a trickling bed: no water stands around them."""
    return sizing.design.filter.type == "trickling"


def has_own_air(sizing: Sizing) -> bool:
    """Whether a machine of its own gives air to the filter."""
    return float(sizing.bed.count) > 0.0


def breath_label(sizing: Sizing) -> str:
    """What the time until the standing filter has no oxygen counts."""
    if has_own_air(sizing):
        return "Until the filter has no oxygen, its air off"
    return "Until the filter has no oxygen"


def first_act(sizing: Sizing) -> str:
    """What is done for the filter when its water stands."""
    if stands_in_air(sizing):
        return "No feed. Keep the bed wet: pour a bucket of tank water over it every quarter of an hour."
    if has_own_air(sizing):
        return "No feed. See that the filter still bubbles."
    if sizing.design.filter.vessel == "media bag":
        return "No feed. Put an air stone into the sump, under the bags of media."
    return "No feed. Put an air stone into the filter."


def later(sizing: Sizing) -> str:
    """What is done where it goes on standing."""
    if stands_in_air(sizing):
        return "Go on wetting the bed until the pump runs: a bed that dries out has to ripen anew."
    if sizing.design.filter.vessel == "media bag":
        return "If it will not run in an hour, lift the bags out and keep them wet in air."
    kept = f"{EMPTY}: its living film stays wet in air."
    return (
        f"If that air stops for an hour too, {kept}"
        if has_own_air(sizing)
        else f"If it will not run in an hour, {kept}"
    )


def stale_water(sizing: Sizing) -> str:
    """What is done with water that stood in the filter without air; "" where none stands in it."""
    if stands_in_air(sizing) or sizing.design.filter.vessel == "media bag":
        return ""
    return f"Filter stood without air? First {EMPTY}, not to the fish."


def has_heater(sizing: Sizing) -> bool:
    """Whether the design is heated; others have no heater to see to."""
    return sizing.design.climate.heated == "yes"


def restart_steps(sizing: Sizing) -> dict[str, str]:
    """What is done to each part when a system starts again after a stop, in its order."""
    told = {
        "Air": "Air first.",
        "Filter": stale_water(sizing),
        "Pump": "Then the pump, one motor at a time, and watch the levels.",
        "Heater": "Heater last, once water covers it." if has_heater(sizing) else "",
        "Feed": "No feed for 12 to 24 hours. Test ammonia and nitrite before the next meal.",
    }
    return {part: words for part, words in told.items() if words}


def restart_order(sizing: Sizing) -> tuple[str, ...]:
    """The sentences of ``restart_steps``, as a card has them."""
    return tuple(restart_steps(sizing).values())
