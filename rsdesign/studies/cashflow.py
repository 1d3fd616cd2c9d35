"""Cash: month by month for two years, then year by year; what is bought again, when."""

from dataclasses import dataclass

import numpy as np

from ..equations.costs.budget import LABELS, RECEIPTS
from .enterprise import Enterprise

MONTHS = 24
DAYS_IN_MONTH = 365.25 / 12.0
AT_STOCKING = ("fingerlings",)
AT_HARVEST = ("sales", "home_use", "ice")
WITH_FEED = ("feed", "base")
NOT_CASH = ("equipment", "operating_interest", "labour")
"""Capital recovery is paid as purchases; interest stands in the balance; own hours are no cash."""


@dataclass(frozen=True, slots=True, eq=False)
class CashFlow:
    """Cash by line and period: months 1 to 24, then years 3 and on; purchases first at month 0.

    ``lines`` hold money in, positive, and out, negative; ``start`` is what is bought before the
    first month; ``balance`` runs from minus that.
    """

    periods: tuple[str, ...]
    lines: dict[str, np.ndarray]
    start: float
    total: np.ndarray
    balance: np.ndarray

    @property
    def deepest(self) -> float:
        """Most money needed before the fish pay it back."""
        return float(-min(self.balance.min(), -self.start))

    def table(self):
        """The lines as a pandas table: a row each, a column for each period."""
        import pandas  # noqa: PLC0415  (only when a table is asked for)

        rows = {LABELS.get(k, k): v for k, v in self.lines.items()}
        return pandas.DataFrame(rows, index=list(self.periods)).T


def timing(name: str) -> str:
    """Which of the shares of ``months`` a line of the budget follows."""
    if name in AT_STOCKING:
        return "stocked"
    if name in AT_HARVEST:
        return "harvested"
    return "fed" if name in WITH_FEED else "even"


def months(found: Enterprise, count: int = MONTHS) -> dict[str, np.ndarray]:
    """Shares of a full year's line that fall in each month from the first stocking."""
    season = found.allowed
    days = found.sizing.stock.cycle if season is None else season.cycle
    cycle = float(days) / DAYS_IN_MONTH
    stocked, harvested, fed = (np.zeros(count) for _ in range(3))
    each = 1.0 / float(found.batches)
    for time in _stockings(found, count):
        stocked[int(time)] += each
        end = time + cycle
        if end < count:
            harvested[min(int(end), count - 1)] += each
        span = np.clip(
            np.minimum(np.arange(count) + 1, end) - np.maximum(np.arange(count), time), 0, 1
        )
        middle = np.clip(np.arange(count) + 0.5 - time, 0, cycle) / cycle
        weight = span * (0.2 + middle)  # feed rises with the fish; shares only, they add up to one
        whole = _whole_weight(time, cycle)
        fed += each * weight / whole
    return {"stocked": stocked, "harvested": harvested, "fed": fed,
            "even": np.full(count, 1.0 / 12.0)}  # fmt: skip


def _stockings(found: Enterprise, count: int) -> list[float]:
    """Months at which batches are stocked: evenly through the years, or in each warm season."""
    season = found.allowed
    if season is not None and season.starts:
        years = range(-(-count // 12))
        whole = [12.0 * year + day / DAYS_IN_MONTH for year in years for day in season.starts]
        return [time for time in whole if time < count]
    gap, times, time = 12.0 / float(found.batches), [], 0.0
    while time < count:
        times.append(time)
        time += gap
    return times


def _whole_weight(time: float, cycle: float) -> float:
    """The sum of a batch's monthly weights, those beyond the months shown counted too."""
    months = np.arange(int(time), int(time + cycle) + 2)
    span = np.clip(np.minimum(months + 1, time + cycle) - np.maximum(months, time), 0, 1)
    middle = np.clip(months + 0.5 - time, 0, cycle) / cycle
    return float((span * (0.2 + middle)).sum())


def cash_flow(found: Enterprise, paid_labour: bool = False) -> CashFlow:
    """The cash of one design over the years looked ahead; own hours only where they are paid."""
    years = int(found.sizing.design.terms.horizon)
    shares = months(found)
    lines: dict[str, np.ndarray] = {}
    for name in LABELS:
        if name in NOT_CASH and not (name == "labour" and paid_labour):
            continue
        amount = float(getattr(found.budget, name))
        sign = 1.0 if name in RECEIPTS else -1.0
        later = np.full(max(years - 2, 0), amount)
        lines[name] = sign * np.concatenate([amount * shares[timing(name)], later])
    lines["bought again"] = -_again(found, years)
    total = np.sum(list(lines.values()), axis=0)
    start = float(found.investment)
    periods = tuple(f"month {m + 1}" for m in range(MONTHS)) + tuple(
        f"year {y}" for y in range(3, years + 1)
    )
    return CashFlow(periods, lines, start, total, np.cumsum(total) - start)


def _again(found: Enterprise, years: int) -> np.ndarray:
    """Parts bought again at the end of each life, less what the old one is worth."""
    periods = np.zeros(MONTHS + max(years - 2, 0))
    for item in found.items:
        life = float(item.life)
        time = life
        while time < years - 1e-9:
            place = int(time * 12) if time < MONTHS / 12 else MONTHS + int(time) - 2
            periods[min(place, periods.size - 1)] += float(item.cost) - float(item.salvage)
            time += life
    return periods


@dataclass(frozen=True, slots=True)
class Reconciled:
    """One line of the budget beside its cash in a full year, and why they differ where they do."""

    line: str
    budget: float
    cash: float
    why: str


WHY = {
    "equipment": "the budget spreads each price over its life with interest; cash is paid when it is bought",
    "operating_interest": "a cost of money, paid only where it is borrowed",
    "labour": "own hours are a cost, not cash",
}


def reconcile(found: Enterprise, flow: CashFlow) -> list[Reconciled]:
    """Every line of the budget against the cash of the last year looked ahead, a full one."""
    rows = []
    for name, label in LABELS.items():
        amount = float(getattr(found.budget, name))
        cash = abs(float(flow.lines[name][-1])) if name in flow.lines else 0.0
        rows.append(Reconciled(label, amount, cash, "" if name in flow.lines else WHY[name]))
    return rows
