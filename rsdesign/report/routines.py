"""What people do by the design: before the fish come, daily, weekly, when it goes wrong, harvest.

Words for the wall, each step a pair (when or what, what to do); pages and hand-outs show them.
"""

import datetime
from dataclasses import dataclass

from ..building.rules import rule
from ..building.steps import weeks_of_building
from ..core import tables
from ..core.kinds import KINDS, Days
from ..core.tables import SourcedRow
from ..core.units import show
from ..season.batch_order import order_of
from ..sizing.system import Sizing
from . import ranges as bands
from . import standing_filter
from .building.all_lists import building_of, water_of
from .keep_words import alkalinity_words, ripe_words
from .plan import FIRST_WEEKS, first_feed

WEEK = 7
"""Days of a week."""
HARVEST_FAST_DAYS = 1
"""Days without feed before fish are moved or taken: one to two, common practice."""


@dataclass(frozen=True, slots=True)
class LeadTime(SourcedRow):
    """How long something takes that somebody else does."""

    name: str
    label: str
    time: Days


def lead_weeks() -> dict[str, int]:
    """Weeks of lead time by name."""
    return {row.name: round(float(row.time) / WEEK) for row in tables.read("lead_times", LeadTime)}


def _when(date, days: int, words: str) -> str:
    """A date counted from stocking, or the count in words."""
    return words if date is None else (date + datetime.timedelta(days=days)).strftime("%Y-%m-%d")


def before(sizing: Sizing, system: str, date) -> list[list[str]]:
    """Counted back from the day of stocking: order, dig, wire, fill, ripen."""
    lead, building = lead_weeks(), building_of(sizing)
    build = weeks_of_building(building.steps)
    start = lead["filter"] + lead["fingerlings"]  # fish are ordered once the filter is ripe
    fill = start + lead["tests"]
    dig = fill + build
    order = dig + lead["order"]
    fish = sizing.design.stock.species.replace("_", " ")
    dug = any(step.row.name == "dig" for step in building.steps)
    told = [
        (order + lead["permit"],
         f"Ask the fish and wildlife agency for the permit for {fish}. Ask whom you may buy from. Ask about water,"
         " power and building rules."),
        (order,
         "Permit in writing? Order vessels, machines and pipe that is seldom in stock: they take about"
         f" {lead['order']} weeks (from memory: ask the seller). Book the electrician for"
         f" {fill + lead['electrician']} weeks before the fish."),
        (dig,
         f"Is all of it there? {'Call 811, mark out and dig' if dug else 'Mark out'}, then build step by step: about"
         f" {_weeks(build)} of {rule('work week'):.0f} days of {rule('work day') / 3600:.0f} hours."),
        (fill + lead["electrician"],
         "Have a licensed electrician wire and check outlets, ground-fault protection and every circuit."),
        (fill,
         f"Fill tanks, settler, filter and sump: about {show(water_of(sizing), KINDS['volume'], system)} in all."
         f" {_treat(sizing)} Look for leaks for a day. Try the overflow with the drain shut."),
        (start,
         "Start the filter: dose ammonia, keep alkalinity up, test ammonia and nitrite each day. Many filters take"
         f" longer than {lead['filter']} weeks: then all later days move."),
        (lead["fingerlings"],
         f"Is the filter ripe? A day after a dose {ripe_words(system)}. Then order {show(sizing.stock.to_stock, KINDS['animals'])} fingerlings of"
         f" {show(sizing.design.stock.stocking_weight, KINDS['fish weight'], system)}"
         f" from a hatchery that can show they are healthy. Buy feed for the first {FIRST_WEEKS} weeks:"
         f" {feed_words(sizing, system)}. If not ripe, wait."),
    ]  # fmt: skip
    return [[_when(date, -WEEK * weeks, f"{weeks} weeks before"), words] for weeks, words in told] + [
        [_when(date, -2, "2 days before"),
         f"Test once more, a day after a dose: {ripe_words(system)}. If not, wait."],
        [_when(date, 0, "the day itself"),
         "Float the bags, let their water and yours come to the same warmth, and feed nothing till"
         " tomorrow."],
    ]  # fmt: skip


def feed_words(sizing: Sizing, system: str) -> str:
    """The first feed to buy: how much, of what."""
    much = show(first_feed(sizing), KINDS["mass"], system, 2)
    protein = show(sizing.design.stock.protein, KINDS["fraction"], system)
    return f"about {much} with {protein} protein, in pellets no wider than half the fish's mouth"


def _weeks(many: int) -> str:
    return "1 week" if many == 1 else f"{many} weeks"


def _treat(sizing: Sizing) -> str:
    return {
        "none": "Your source adds no chlorine; let the air run a day.",
        "chlorine": "Treat all of it for chlorine and test that it is gone.",
        "chloramine": "Treat all of it for chloramine and test that chlorine and ammonia are gone.",
    }[sizing.design.source.disinfectant]


def daily(sizing: Sizing, system: str) -> list[list[str]]:
    """What is done every day."""
    s, d = sizing, sizing.design
    each = show(s.solids.sludge_each_time, KINDS["small volume"], system, 2)
    hours = show(d.solids.drain_interval, KINDS["hours"], system, 2)
    soda = bands.baking_soda(s, system)
    new = show(s.water.exchange, KINDS["daily flow"], system).replace("/day", "")
    treated = (
        "" if d.source.disinfectant == "none" else " Treat it in a barrel first, by the label."
    )
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
        ["New water", f"About {new} a day at the biggest feed, by hand and into the sump.{treated} Stay with the hose."],
        ["Write down", "Water warmth, feed, dead fish, anything odd."],
    ]  # fmt: skip


def weekly(sizing: Sizing, system: str) -> list[list[str]]:
    """What is done every week."""
    kind = KINDS["concentration"]
    limit = show(sizing.gas.ammonia_limit, kind, system, 2)
    return [
        ["Test", f"Ammonia (at most {limit}), nitrite, nitrate and pH. Alkalinity: {alkalinity_words(sizing, system)}."],
        ["Clean", "Rinse the second screen with tank water, power off."],
        ["Look", "Everything in the filter moves or trickles as it should; no cord hangs into water."],
    ]  # fmt: skip


def monthly() -> list[list[str]]:
    """What is done every month, as the table of tasks counts it."""
    return [
        ["Try", "Press the test button of each ground-fault outlet, with dry hands. In daylight pull the"
         " plug: the alarm and the backup air have to come."],
        ["Clean", "Pump, its screen and float, and the stones, power off."],
        ["Weigh", "Net ten fish from each tank, weigh them together, and set the feed of the next weeks."],
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


def restart(sizing: Sizing) -> list[list[str]]:
    """The order in which things start again."""
    return [list(step) for step in standing_filter.restart_steps(sizing).items()]


def harvest(sizing: Sizing, date) -> list[list[str]]:
    """From the last feed to the cooler."""
    days = order_of(sizing, date).days_on(date)
    fast = HARVEST_FAST_DAYS
    return [
        [_when(date, days - 14, f"day {days - 14}"), "Tell the buyer or the kitchen. Order ice: as"
         " much weight of ice as of fish."],
        [_when(date, days - fast, f"day {days - fast}"), "Feed for the last time in the morning:"
         " fish travel and keep better empty."],
        [_when(date, days, f"day {days}"), "Harvest in the cool of the morning. One firm blow on"
         " the head, cut the gills at once, then into ice water."],
        ["Before you sell", "Ask the health department what selling needs: a license, a scale, a"
         " clean place."],
    ]  # fmt: skip
