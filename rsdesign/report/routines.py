"""What people do by the design: before the fish come, daily, weekly, when it goes wrong, harvest.

Words for the wall, each step a pair (when or what, what to do); pages and hand-outs show them.
"""

import datetime

from ..core.kinds import KINDS
from ..core.units import show
from ..sizing.system import Sizing
from . import ranges as bands

FILTER_WEEKS = 8
"""Weeks a new filter is run before the fish come: four to eight, common practice."""
HARVEST_FAST_DAYS = 1
"""Days without feed before fish are moved or taken: one to two, common practice."""


def _when(date, days: int, words: str) -> str:
    """A date counted from stocking, or the count in words."""
    return words if date is None else (date + datetime.timedelta(days=days)).strftime("%Y-%m-%d")


def before(sizing: Sizing, system: str, date) -> list[list[str]]:
    """Counted back from the day of stocking."""
    s = sizing
    weeks = FILTER_WEEKS
    fish = sizing.design.stock.species.replace("_", " ")
    return [
        [_when(date, -7 * (weeks + 6), f"{weeks + 6} weeks before"),
         f"Ask the fish and wildlife agency for the permit for {fish}. Ask whom you may buy from."],
        [_when(date, -7 * (weeks + 2), f"{weeks + 2} weeks before"),
         "Have a licensed electrician check outlets, ground-fault protection and the two circuits."],
        [_when(date, -7 * (weeks + 1), f"{weeks + 1} weeks before"),
         f"Fill with {show(s.tank.volume, KINDS['volume'], system)}. Treat"
         f" {_treat(sizing)} Look for leaks for a day. Try the overflow with the drain shut."],
        [_when(date, -7 * weeks, f"{weeks} weeks before"),
         "Start the filter: dose ammonia, keep alkalinity up, test ammonia and nitrite each day. It may"
         " take longer: then all later days move."],
        [_when(date, -14, "2 weeks before"),
         f"Is the filter ripe? Then order {show(s.stock.to_stock, KINDS['animals'])} fingerlings of"
         f" {show(sizing.design.stock.stocking_weight, KINDS['fish weight'], system)}"
         " from a hatchery that can show they are healthy. Buy feed for a month. If not ripe, wait."],
        [_when(date, -2, "2 days before"),
         "Test once more: the filter clears a day's ammonia in a day, with no nitrite. If not, wait."],
        [_when(date, 0, "the day itself"),
         "Float the bags, let their water and yours come to the same warmth, and feed nothing till"
         " tomorrow."],
    ]  # fmt: skip


def _treat(sizing: Sizing) -> str:
    return {
        "none": "nothing for chlorine; let the air run a day.",
        "chlorine": "the chlorine and test that it is gone.",
        "chloramine": "the chloramine and test that chlorine and ammonia are gone.",
    }[sizing.design.source.disinfectant]


def daily(sizing: Sizing, system: str) -> list[list[str]]:
    """What is done every day."""
    s, d = sizing, sizing.design
    each = show(s.solids.sludge_each_time, KINDS["small volume"], system, 2)
    hours = show(d.solids.drain_interval, KINDS["hours"], system, 2)
    soda = bands.baking_soda(s, system)
    feed = show(s.stock.peak_feed, KINDS["feed rate"], system, 2).replace("/day", "")
    return [
        ["First thing", "Look before you feed: fish at the surface, or not coming, means no feed and"
         " an oxygen test."],
        ["Feed", f"Never more than they eat in a quarter of an hour; on the biggest day {feed} in"
         " two or more meals. Feed less when water is under or over their range."],
        ["Air and water", "All stones bubbling, pump running, water at its mark, nothing dripping on"
         " a cord."],
        ["Sludge", f"Drain the settler every {hours}: about {each} each time at the biggest feed."],
        ["Base", f"About {soda} of baking soda on the biggest feed day, as the alkalinity test asks, never all at once."],
        ["Write down", "Water warmth, feed, dead fish, anything odd."],
    ]  # fmt: skip


def weekly(sizing: Sizing, system: str) -> list[list[str]]:
    """What is done every week."""
    d = sizing.design
    kind = KINDS["concentration"]
    limit = show(sizing.gas.ammonia_limit, kind, system, 2)
    return [
        ["Test", f"Ammonia (at most {limit}), nitrite, pH, alkalinity (at least"
         f" {show(d.keep.alkalinity, kind, system, 2)}), nitrate."],
        ["Clean", "Rinse the second screen and the pump screen with tank water, power off."],
        ["Try", "Press the test button of the ground-fault outlet. Try the alarm and the backup air."],
        ["Weigh", "Net ten fish, weigh them together, and set next week's feed."],
    ]  # fmt: skip


def wrong(sizing: Sizing, system: str) -> list[list[str]]:
    """First acts; feed stops in every case."""
    s = sizing
    minutes = bands.minutes_to_act(s, system)
    return [
        ["Fish gasp at the surface", "No feed. More air at once. Then test oxygen and find what"
         " stopped."],
        ["Power is off", f"No feed. You have {minutes} in the busiest hour. Start the backup"
         " air; a generator stands outdoors."],
        ["Ammonia is high", "No feed for a day. Change a fifth of the water, treated. Look at the"
         " filter: flow, air, alkalinity."],
        ["pH falls", "Test alkalinity. Add baking soda a little at a time."],
        ["Fish die", "Take them out, count, keep one cold for a veterinarian. No medicine on a guess:"
         " these fish are food."],
        ["Water level falls", "Stop the pump if the sump runs dry. Look for a leak or a siphon before"
         " you fill."],
    ]  # fmt: skip


def restart() -> list[list[str]]:
    """The order in which things start again."""
    return [
        ["Air", "First of all."],
        [
            "Filter",
            "Let water that stood in a filter without air go to the drain, not to the fish.",
        ],
        ["Pump", "Start it then, and watch the levels."],
        ["Heater", "Last of all, once water covers it."],
        ["Feed", "None until oxygen is back for an hour and fish come up; half feed that day."],
    ]


def harvest(sizing: Sizing, date) -> list[list[str]]:
    """From the last feed to the cooler."""
    days = round(float(sizing.stock.cycle))
    fast = HARVEST_FAST_DAYS
    return [
        [_when(date, days - 14, f"day {days - 14}"), "Tell the buyer or the kitchen. Order ice: as"
         " much weight of ice as of fish."],
        [_when(date, days - fast, f"day {days - fast}"), "Last feed was yesterday: fish travel and"
         " keep better empty."],
        [_when(date, days, f"day {days}"), "Harvest in the cool of the morning. One firm blow on"
         " the head, cut the gills at once, then into ice water."],
        ["Before you sell", "Ask the health department what selling needs: a license, a scale, a"
         " clean place."],
    ]  # fmt: skip
