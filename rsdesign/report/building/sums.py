"""The first cost of the budget beside what everything comes to when it is counted: one sentence for both."""

from ...sizing.system import Sizing
from ..cost import money
from .all_lists import Building, building_of

NAMED = 2
"""Lines of the difference that the sentence names, the largest first."""


def two_sums(found: Building, mark: str, named: int = NAMED) -> str:
    """Both sums, their difference, and the lines that make most of it.

    Parameters:
        found: what ``building`` gives.
        mark: the currency.
        named: how many lines to name; none where there is little room.
    Returns: a sentence.

    Example: ``two_sums(building(sizing), "$")``.
    """
    plan, total = found.bill.plan_total, found.bill.total
    lines = sorted(found.bill.differences(), key=lambda line: line[1] - line[2])[:named]
    most = ", ".join(f"{label[:1].lower()}{label[1:]} {money(listed - budget, mark)}"
                     for label, budget, listed, _ in lines if listed > budget)  # fmt: skip
    more = "more" if total >= plan else "less"
    words = (
        f"The budget's first cost is {money(plan, mark)}; counted by the piece, everything to buy comes to"
        f" {money(total, mark)}, {money(abs(total - plan), mark)} {more}"
    )
    return f"{words} (most of it {most})." if most else f"{words}."


def sums_of(sizing: Sizing, named: int = NAMED) -> str:
    """The same of a sizing with the prices of its design."""
    return two_sums(building_of(sizing), sizing.design.prices.currency, named)
