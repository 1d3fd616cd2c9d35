"""What a spread tells, as pandas frames with their units in ``attrs``."""

import numpy as np

from ...core.kinds import KINDS
from ...core.notebook import shown_in
from ...design.model import FIELDS, value_of
from ...design.prices import prices_of
from ...sizing.taken import shown_value
from .inputs import UncertainInput
from .shares import Shares, shares
from .study import BANDS, COST, Spread

PRICE = KINDS["price of mass"]


def _frame(rows: list[dict], units: dict[str, str], **about):
    import pandas as pd  # noqa: PLC0415  (only who asks for a frame needs it)

    found = pd.DataFrame(rows)
    found.attrs.update(units={name: units.get(name, "") for name in found.columns}, **about)
    return found


def checks(found: Spread, system: str = "us"):
    """Every check of which a chance is told, the least likely to stand first.

    Parameters:
        found: what ``spread`` gives.
        system: "us", "metric" or "si".
    Returns: a frame: name, part, words, whether and by what margin it stands as planned, the chance that it
        stands, and its margin at the 5, 50 and 95 % of draws (empty where it is no ratio).
        ``attrs``: all_stand, kept_stand, draws, seed.
    """
    rows = []
    for one in found.judged:
        margins = found.outcomes.margins.get(one.name)
        band = (np.nan,) * 3 if margins is None else np.quantile(margins, BANDS)
        rows.append({
            "name": one.name, "part": one.part, "check": one.label, "stands_as_planned": one.stands,
            "margin_as_planned": one.margin if one.ratio else np.nan,
            "chance": found.chance(one.name),
            "margin_5": band[0], "margin_50": band[1], "margin_95": band[2],
        })  # fmt: skip
    rows.sort(key=lambda row: (row["chance"], row["stands_as_planned"]))
    return _frame(rows, {}, all_stand=found.all_stand, kept_stand=found.kept_stand,
                  draws=found.draws, seed=found.seed)  # fmt: skip


def inputs(found: Spread, system: str = "us"):
    """Every input: its value in the design, the range of nine draws in ten, and where the range comes from.

    Parameters:
        found: what ``spread`` gives.
        system: "us", "metric" or "si".
    Returns: a frame, a row for each input by its path; units stand in its column ``unit``, too.
    """
    rows = []
    for row in found.rows:
        value, kind = value_in_design(found, row)
        low, high = np.quantile(found.drawn[row.path], (BANDS[0], BANDS[2]))
        ends = [moved(row, value, by) for by in (low, high)]
        shown = [shown_in(x, kind, system) for x in (value, *sorted(ends))]
        rows.append({
            "path": row.path, "input": row.label, "value": shown[0][0], "low": shown[1][0],
            "high": shown[2][0], "unit": shown[0][1], "distribution": row.distribution,
            "known": row.path in found.known, "measure": row.measure, "source": row.source,
            "basis": row.basis,
        })  # fmt: skip
    return _frame(rows, {})


def value_in_design(found: Spread, row: UncertainInput):
    """The value of an input in the design, plain, and its kind; 1 for a quantity that is no choice."""
    sizing = found.sizing
    if row.path in FIELDS:
        section, _, name = row.path.partition(".")
        value = value_of(sizing.design, row.path)
        if value is None and section == "prices":
            value = prices_of(sizing.design)[name].value
        elif value is None:
            value = shown_value(sizing, row.path)
        return float(value), FIELDS[row.path].measure
    if row.path.startswith("loads."):
        return float(sizing.loads.faecal_share), KINDS["fraction"]
    return 1.0, KINDS["ratio"]


def moved(row: UncertainInput, value: float, by):
    """The value of an input after a draw, or a row of them."""
    if row.way == "difference":
        return value + by
    return 1.0 - (1.0 - value) * by if row.way == "rest" else value * by


def measure_first(found: Spread, result: str = "margin", system: str = "us"):
    """What narrows a result most once it is measured, the most first.

    Parameters:
        found: what ``spread`` gives.
        result: "margin" (the tightest check that stands as planned), "cost", or a check by its name.
        system: "us", "metric" or "si".
    Returns: a frame: input, narrows (share of the variance that goes once it is known, on average),
        chance_low and chance_high (that all which stand as planned keep standing, if its true value lies
        in its lowest and its highest third), correlation of ranks, and how to measure it.
    """
    return _frame(measure_rows(found, result), {}, result=result)


def measure_rows(found: Spread, result: str) -> list[dict]:
    """The rows of ``measure_first``, the input that narrows most first."""
    known, thirds = found.known_shares(result), found.chances_by_third()
    together = found.correlations(result)
    rows: list[dict] = [
        {"path": row.path, "input": row.label, "narrows": known[k], "chance_low": thirds[k][0],
         "chance_high": thirds[k][-1], "correlation": together[k], "measure": row.measure}
        for k, row in enumerate(found.rows)
    ]  # fmt: skip
    return sorted(rows, key=lambda row: -row["narrows"])


def _result_unit(found: Spread, result: str, system: str):
    """A function that turns a plain result into the number shown, and its unit."""
    if result != COST:
        return (lambda x: x), ""
    unit = shown_in(1.0, PRICE, system)[1]
    return (
        lambda x: shown_in(x, PRICE, system)[0]
    ), f"{found.sizing.design.prices.currency} {unit}"


def tornado(found: Spread, result: str = COST, system: str = "us"):
    """A result with one input at a time at its low and its high tenth, the widest first.

    All others stay as the design says, so what two inputs do together is not seen here: see ``total_shares``.

    Parameters:
        found: what ``spread`` gives.
        result: "cost", "margin", or a check by its name.
        system: "us", "metric" or "si".
    Returns: a frame: input, at_10, at_90 and width; ``attrs``: as_planned, and units.
    """
    shown, unit = _result_unit(found, result, system)
    ends = found.one_at_a_time(result)
    rows: list[dict] = [
        {"path": row.path, "input": row.label, "at_10": float(shown(ends[k][0])),
         "at_90": float(shown(ends[k][1])), "width": abs(float(shown(ends[k][1]) - shown(ends[k][0])))}
        for k, row in enumerate(found.rows)
        if k in found.varying
    ]  # fmt: skip
    rows.sort(key=lambda row: -row["width"])
    units = dict.fromkeys(("at_10", "at_90", "width"), unit)
    return _frame(rows, units, result=result, as_planned=float(shown(found.as_planned(result))))


def total_shares(found: Spread, result: str = "margin", n: int = 1024):
    """First and total share of each input in the variance of a result (Sobol 1993), the largest first.

    Parameters:
        found: what ``spread`` gives.
        result: "margin", "cost", or a check by its name; never a yes or no.
        n: pairs of draws, a power of two from 64 to 65,536; n times (inputs + 2) designs are sized.
    Returns: a frame: input, when_known (share that goes once it alone is known), total (share that stays while
        it alone is unknown), and together, the difference: what it does only with others.
        ``attrs``: result, n, runs, variance.
    Raises: ``DesignError`` for a yes or no, for a result without a number in some draw, and for a wrong n.
    """
    table, got, runs = share_rows(found, result, n)
    return _frame(table, {}, result=result, n=n, runs=runs, variance=got.variance)


def share_rows(found: Spread, result: str, n: int) -> tuple[list[dict], Shares, int]:
    """The rows of ``total_shares``, the largest total first, the shares themselves, and the designs sized."""
    rows = [found.rows[k] for k in found.varying]
    middle = np.full(len(found.rows), 0.5)

    def run(uniform: np.ndarray) -> np.ndarray:
        whole = np.tile(middle, (len(uniform), 1))
        whole[:, list(found.varying)] = uniform
        return found.result(result, found.run(whole))

    got = shares(run, len(rows), n, found.seed)
    table: list[dict] = [
        {"path": row.path, "input": row.label, "when_known": got.when_known[k], "total": got.left[k],
         "together": got.left[k] - got.when_known[k]}
        for k, row in enumerate(rows)
    ]  # fmt: skip
    return sorted(table, key=lambda row: -row["total"]), got, n * (len(rows) + 2)


def each_draw(found: Spread, system: str = "us"):
    """Every draw: the inputs by their paths, the cost, the tightest margin, and whether all keep standing.

    Parameters:
        found: what ``spread`` gives.
        system: "us", "metric" or "si".
    Returns: a frame, a row for each draw.
    """
    import pandas as pd  # noqa: PLC0415

    columns, units = {}, {}
    for row in found.rows:
        value, kind = value_in_design(found, row)
        columns[row.path], units[row.path] = shown_in(
            moved(row, value, found.drawn[row.path]), kind, system
        )
    shown, unit = _result_unit(found, COST, system)
    columns["cost"], units["cost"] = shown(found.result(COST)), unit
    columns["margin"], units["margin"] = found.result("margin"), ""
    columns["all_keep_standing"], units["all_keep_standing"] = found.keeping, ""
    frame = pd.DataFrame(columns)
    frame.attrs.update(units=units, draws=found.draws, seed=found.seed)
    return frame
