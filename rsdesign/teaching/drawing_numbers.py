"""Which letter is right, or in which order the letters stand: rules over numbers of the package."""

import itertools

from .model import Ask

APART = 0.05
"""Numbers that decide stand at least this share apart, so that rounding cannot turn them."""

APART_ORDER = 0.10
"""The same between neighbours in an order."""


def pick(rule: str, values: list[float], limit: float, costs: list[float], budget: float):
    """The place of the right option, or None where none is or where it is too close to call."""
    if rule in ("largest", "smallest"):
        return _extreme(rule, values)
    if rule.startswith(("first ", "last ")):
        return _at_limit(rule, values, limit)
    if rule in ("largest within", "smallest within"):
        inside = [i for i, cost in enumerate(costs) if cost <= budget]
        if len(inside) < 2 or len(inside) == len(values):
            return None  # money has to matter
        best = _extreme(rule.removesuffix(" within"), [values[i] for i in inside])
        return None if best is None else inside[best]
    return _cheapest(rule, values, limit, costs, budget)


def _extreme(rule: str, values: list[float]):
    ranked = sorted(range(len(values)), key=values.__getitem__, reverse=rule == "largest")
    first, second = values[ranked[0]], values[ranked[1]]
    return ranked[0] if _apart(first, second, APART) else None


def _at_limit(rule: str, values: list[float], limit: float):
    if not all(_apart(v, limit, APART) for v in values):
        return None
    past = [i for i, v in enumerate(values) if (v > limit) == rule.endswith("above")]
    if not past or len(past) == len(values):
        return None
    return past[0] if rule.startswith("first") else past[-1]


def _cheapest(rule: str, values, limit: float, costs, budget: float):
    if not all(_apart(v, limit, APART) for v in values):
        return None
    good = [
        i
        for i, v in enumerate(values)
        if (v > limit) == (rule == "cheapest at least") and costs[i] <= budget
    ]
    if not good or len(good) == len(values):
        return None
    good.sort(key=costs.__getitem__)
    if len(good) > 1 and costs[good[0]] == costs[good[1]]:
        return None
    return good[0]


def order(rule: str, values: list[float], base: float):
    """The places in order, or None where two are too close to call."""
    size = [abs(v / base - 1.0) for v in values] if rule == "by effect" else list(values)
    ranked = sorted(range(len(size)), key=size.__getitem__, reverse=rule != "smallest first")
    for one, other in itertools.pairwise(ranked):
        if not _apart(size[one], size[other], APART_ORDER):
            return None
    return tuple(ranked)


def _apart(one: float, other: float, share: float) -> bool:
    return abs(one - other) >= share * max(abs(one), abs(other))


def status(ask: Ask, value: float, limit: float, cost: float, budget: float) -> str:
    """Words on a wrong pick that every choice of its rule has in common."""
    if cost > budget:
        return "costs more than the money there is"
    if ask.rule == "cheapest at least" and value < limit:
        return "gives less than is needed"
    if ask.rule == "cheapest at most" and value > limit:
        return "goes above the limit"
    if ask.rule.startswith(("first ", "last ")):
        return _on_which_side(ask.rule, value, limit)
    return WRONG_PICK[ask.rule]


def _on_which_side(rule: str, value: float, limit: float) -> str:
    """For the first or the last one past a limit: its side of the limit, or that another comes."""
    which, side = rule.split()
    where = "above" if value > limit else "below"
    if where != side:
        return f"is {where} the limit, and one {side} it is asked for"
    then = "an earlier one is too" if which == "first" else "a later one is too"
    return f"is {side} the limit, but {then}"


WRONG_PICK = {
    "largest": "is not the largest",
    "smallest": "is not the smallest",
    "cheapest at least": "would do, but another one does the job for less",
    "cheapest at most": "would do, but another one does the job for less",
    "largest within": "fits the money, but another one inside the budget gives more",
    "smallest within": "fits the money, but another one inside the budget needs less",
}
"""What is said of a wrong letter under each rule."""
