"""How sure a design is, as text for a terminal and as JSON; the numbers come from the study."""

import math

import numpy as np

from ..core.cautions import cautions_on, told_at
from ..core.kinds import KINDS
from ..core.units import number, show
from ..studies.costfigures import shown_cost
from ..studies.spread.outcomes import NEAR
from ..studies.spread.study import BANDS, COST, MARGIN, Spread
from .tables import heading, json_text, plain, table_lines, title

MOST = 10
"""Rows of a table of inputs in the text."""
CHANCE_ONLY = (
    "A chance here is one of this model with these ranges. It is no warranty, and it says nothing of what the"
    " model leaves out: disease, theft, mistakes."
)
NEARLY_KEPT = (
    f"A check that is short by less than {100 * NEAR:.0f} % in a draw counts as kept: nobody measures flow, volume or"
    " weight closer than that on a farm. This is a judgement, not a published figure."
)
NOT_BY_CHANCE = "What must work when the power fails is not judged by chance: plan for the short end, and test it."


def percent(share: float) -> str:
    """A chance in whole percent, never 0 or 100 where some draws fall the other way.

    >>> percent(0.997), percent(0.0004), percent(1.0), percent(0.18)
    ('over 99 %', 'under 1 %', '100 %', '18 %')
    """
    if 0.0 < share < 0.01:
        return "under 1 %"
    if 0.99 < share < 1.0:
        return "over 99 %"
    return f"{100 * share:.0f} %"


def cost_quantiles(found: Spread) -> list[float] | None:
    """The cost of fish that 5, 50 and 95 of 100 draws stay below [money/kg]; None where many have no cost."""
    costs = found.result(COST)
    if np.count_nonzero(~np.isfinite(costs)) > 0.01 * costs.size:
        return None
    ordered = np.sort(np.where(np.isfinite(costs), costs, np.inf))
    return [float(ordered[min(int(share * costs.size), costs.size - 1)]) for share in BANDS]


def cost_band(found: Spread, system: str) -> tuple[str, str, str] | None:
    """The same three sums in words."""
    ends = cost_quantiles(found)
    if ends is None:
        return None
    said = [
        " ".join(shown_cost(x, KINDS["price of mass"], system, found.sizing.design.prices.currency))
        for x in ends
    ]
    return said[0], said[1], said[2]


def minutes_band(found: Spread, system: str) -> tuple[str, str, str]:
    """Minutes to act in the busiest hour: the short end, the middle, the long end."""
    low, middle, high = (
        show(float(x), KINDS["minutes"], system) for x in np.quantile(found.outcomes.minutes, BANDS)
    )
    return low, middle, high


def answer(found: Spread, system: str) -> list[str]:
    """How sure it is, in a few sentences."""
    lines = [f"All checks stand in {percent(found.all_stand)} of {found.draws:,} draws."]
    if found.failing:
        many = len(found.failing)
        lines.append(
            ("One check falls short as planned already" if many == 1 else f"{many} checks fall short as planned already")
            + f": mend that first. All others stand in {percent(found.kept_stand)}."
        )  # fmt: skip
    band = cost_band(found, system)
    lines.append(
        "In some draws there is no fish to sell, so no band of the cost is given."
        if band is None
        else f"Fish cost {band[0]} to {band[2]}, in the middle {band[1]}, in nine draws of ten."
    )
    return lines


def spread_text(found: Spread, system: str = "us") -> str:
    """How sure a design is, as tables for a terminal.

    Parameters:
        found: what ``rsdesign.spread`` gives.
        system: "us" or "metric".
    Returns: the text.

    Example: ``spread_text(rsdesign.spread(design))``.
    """
    checks = found.checks(system)
    lines = [title(found.sizing.design), "", *answer(found, system)]
    rows = [("chance", "check", "as planned", "nine draws of ten")]
    moved = checks[(checks.chance < 1.0) | ~checks.stands_as_planned]
    for row in moved.itertuples():
        rows.append((percent(row.chance), row.check, "stands" if row.stands_as_planned else "short",
                     _of_need(row.margin_5, row.margin_95)))  # fmt: skip
    lines += [*heading("Checks, the least likely to stand first"), *table_lines(rows)]
    lines.append(f"The other {len(checks) - len(moved)} checks stand in every draw.")
    low, middle, high = minutes_band(found, system)
    lines += [*heading("When the power fails"), f"Minutes to act in the busiest hour: {low} to {high}, in the"
              f" middle {middle}.", NOT_BY_CHANCE]  # fmt: skip
    lines += [*heading("Measure this first"), *_measured(found, system)]
    lines += [*heading("What fish cost, one input at a time"), *_tornado(found, system)]
    lines += [*heading("How to read this"), CHANCE_ONLY, *known_words(found)]
    lines += [*heading("Take care"), *told_at("spread")]
    return "\n".join([*lines, "", "A teaching estimate. Your own measurements decide."])


def known_words(found: Spread) -> list[str]:
    """What was held fixed, and how the draws were made, in sentences."""
    lines = [
        f"{found.draws:,} draws of {len(found.varying)} inputs at once, seed {found.seed}. Every part stays as it"
        " is built.",
        NEARLY_KEPT,
    ]
    named = [row.label for row in found.rows if row.path in found.known]
    if named:
        lines.append(f"Measured, so held fixed: {', '.join(named).lower()}.")
    return lines


def _of_need(low: float, high: float) -> str:
    if not math.isfinite(low):
        return ""
    return f"{100 * low:.0f} to {100 * high:.0f} % of need"


def _measured(found: Spread, system: str) -> list[str]:
    frame = found.measure_first(MARGIN, system)
    rows = [("narrows", "input", "chance if it is low, high", "how to measure it")]
    for row in frame[frame.measure != ""].head(MOST).itertuples():
        if row.narrows >= 0.005:
            rows.append((percent(row.narrows), row.input,
                         f"{percent(row.chance_low)}, {percent(row.chance_high)}", row.measure))  # fmt: skip
    words = "Narrows: the share of the variance of the tightest check that goes, on average, once this is known."
    return [*table_lines(rows), words] if len(rows) > 1 else ["No input moves the tightest check."]


def _tornado(found: Spread, system: str) -> list[str]:
    frame = found.tornado(COST, system)
    unit = frame.attrs["units"]["at_10"]
    rows = [("low tenth", "high tenth", f"input ({unit})")]
    rows += [
        (number(row.at_10), number(row.at_90), row.input) for row in frame.head(MOST).itertuples()
    ]
    together = "One at a time hides what two do together: total_shares of rsdesign.spread shows it."
    return [
        *table_lines(rows),
        f"As planned: {number(frame.attrs['as_planned'])} {unit}. {together}",
    ]


def spread_json(found: Spread, system: str = "us") -> str:
    """How sure a design is, as JSON text: chances, band of the cost, inputs, what to measure, cautions.

    Parameters:
        found: what ``rsdesign.spread`` gives.
        system: "us" or "metric".
    Returns: the text.

    Example: ``spread_json(rsdesign.spread(design))``.
    """
    costs = found.result(COST)
    there = costs[np.isfinite(costs)]
    frames = {
        "checks": found.checks(system), "inputs": found.inputs(system),
        "measure_first": found.measure_first(MARGIN, system), "tornado": found.tornado(COST, system),
    }  # fmt: skip
    return json_text(plain({
        "draws": found.draws, "seed": found.seed, "known": list(found.known),
        "all_stand": found.all_stand, "kept_stand": found.kept_stand,
        "failing_as_planned": [one.label for one in found.failing],
        "cost": {"quantiles": list(BANDS), "si": [float(x) for x in np.quantile(there, BANDS)] if there.size else [],
                 "draws_without": int(costs.size - there.size), "text": cost_band(found, system)},
        "minutes_to_act": {"quantiles": list(BANDS), "text": minutes_band(found, system)},
        "read": [CHANCE_ONLY, NOT_BY_CHANCE, *known_words(found)],
        "cautions": cautions_on("spread"),
        **{name: _records(frame) for name, frame in frames.items()},
        "units": {name: frame.attrs["units"] for name, frame in frames.items()},
    }))  # fmt: skip


def _records(frame) -> list[dict]:
    return [
        {
            name: None if isinstance(v, float) and not math.isfinite(v) else v
            for name, v in row.items()
        }
        for row in frame.to_dict("records")
    ]
