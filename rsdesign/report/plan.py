"""The stocking plan of a sizing, week by week, as text for a terminal."""

from ..core.kinds import KINDS
from ..core.unit_table import DAY
from ..core.units import number, show
from ..equations.fish.plan import Plan
from ..equations.fish.stocking import plan
from ..sizing.system import Sizing
from .tables import table_lines, title

COLUMNS = ("number", "weight", "biomass", "feed")


def plan_of(sizing: Sizing) -> Plan:
    """The plan of one sizing, from its design and the temperature its growth follows."""
    choice, species = sizing.design.stock, sizing.tables.species
    coefficient = choice.growth_coefficient
    return plan(
        float(sizing.stock.fish),
        choice.stocking_weight,
        sizing.design.goal.weight,
        None if choice.interval is None else choice.interval / 7.0,
        temperature=sizing.stock.growing_temperature,
        growth_coefficient=species.growth_coefficient if coefficient is None else coefficient,
        base_temperature=species.base_temperature,
        survival=choice.survival,
        feed_conversion=choice.feed_conversion,
        tanks=float(sizing.stock.tanks),
    )


FIRST_WEEKS = 4
"""Weeks for which feed is bought before the fish come: common practice."""


def first_feed(sizing: Sizing) -> float:
    """Feed of one batch in its first weeks at most, by the plan [kg]."""
    found = plan_of(sizing)
    return float(found.feed[0, :FIRST_WEEKS].sum()) * 7.0 * DAY


def plan_text(sizing: Sizing, system: str) -> str:
    """Numbers, mean weight, weight and feed of every batch, and in total, for each week.

    Parameters:
        sizing: what ``size`` gives, of one design.
        system: "us" or "metric", the units in which figures are shown.
    Returns: the text.

    Example: ``plan_text(sizing, "us")``.
    """
    found = plan_of(sizing)
    kinds = (KINDS["animals"], KINDS["fish weight"], KINDS["mass"], KINDS["feed rate"])
    rows: list[tuple[str, ...]] = [("week", "batch", "fish", "mean weight", "weight", "feed a day")]
    for place, week in enumerate(found.week):
        for batch in range(found.number.shape[0]):
            if found.number[batch, place] > 0:
                cells = [getattr(found, name)[batch, place] for name in COLUMNS]
                shown = [show(c, k, system) for c, k in zip(cells, kinds, strict=True)]
                rows.append((number(week), str(batch + 1), *shown))
        total = show(found.biomass[:, place].sum(), kinds[2], system)
        rows.append((number(week), "all", "", "", total,
                     show(found.feed[:, place].sum(), kinds[3], system)))  # fmt: skip
    head = [
        title(sizing.design),
        "",
        f"Buy {show(found.to_stock, kinds[0], system)} fingerlings for each batch,"
        f" {show(found.fingerlings_per_year, kinds[0], system)} a year. First sale"
        f" {number(found.first_sale)} days after stocking.",
        f"Feed: {show(found.peak_feed, kinds[3], system)} on the biggest day,"
        f" {show(found.mean_feed, kinds[3], system)} on a mean day;"
        f" {show(found.peak_tank_feed, kinds[3], system)} in the fullest tank.",
        "Every week is looked at on its last day, and a batch on the day before it is harvested.",
        "",
    ]
    return "\n".join([*head, *table_lines(rows)])
