"""Costs as text for a terminal and as plain data; nothing is computed here."""

from dataclasses import asdict, fields

from ..core.kinds import KINDS, Unit
from ..core.units import number, show
from ..design.model import FIELDS
from ..equations.costs.budget import FIXED, LABELS, RECEIPTS, VARIABLE
from ..sizing.system import Sizing
from ..studies.cashflow import cash_flow, reconcile
from ..studies.compare import Candidate, Compared, compare, crossings
from ..studies.enterprise import Enterprise
from ..studies.heat.yearly import extras, full_year, year_of
from ..studies.stress import break_evens, movers, stressed
from .tables import heading, json_text, plain, row_of, section, table_lines, title, value_text
from .year_words import first_line

AXIS = {"wage": ("wage", "wage"), "electricity": ("electricity", "price of energy"),
        "rate": ("interest", "fraction"), "life": ("life of the first", "years")}  # fmt: skip
BUDGET = (
    (RECEIPTS, "receipts", "Receipts"),
    (VARIABLE, "variable", "Variable costs"),
    ((), "above_variable", "Income above variable cost"),
    (FIXED, "fixed", "Fixed costs"),
    ((), "net", "Net return, own hours paid"),
    ((), "net_unpaid", "Net return, own hours unpaid"),
)
"""The order that extension uses: lines, then what they add up to."""
NOTICE = (
    "Prices are invented until you replace them: put your quotes under [prices] in the design.",
    "A teaching estimate, not financial advice: ask a lender and an accountant.",
)


def money(value, currency: str = "$") -> str:
    """A sum of money to the unit.

    >>> money(-1234.4)
    '-$1,234'
    """
    sign = "-" if round(float(value)) < 0 else ""
    return f"{sign}{currency}{abs(float(value)):,.0f}"


def cents(value, currency: str = "$") -> str:
    """A price to the cent.

    >>> cents(5.126)
    '$5.13'
    """
    sign = "-" if float(value) < 0 else ""
    return f"{sign}{currency}{abs(float(value)):,.2f}"


def per_weight(value, system: str, currency: str) -> str:
    """A cost for each weight of fish, in the unit shown."""
    unit = KINDS["price of mass"].shown(system)
    return f"{cents(float(value) / unit.factor, currency)} {unit.label}"


def price_unit(name: str, system: str) -> Unit:
    """The unit in which a price of the list is shown."""
    return (FIELDS[f"prices.{name}"].kind or KINDS["money"]).shown(system)


def cost_text(sizing: Sizing, system: str) -> str:
    """Budget, break-evens, purchases, work, cash and stress, as tables.

    Parameters:
        sizing: what ``size`` gives, of one design.
        system: "us" or "metric", the units in which figures are shown.
    Returns: the text.

    Example: ``cost_text(sizing, "us")``.
    """
    found = full_year(sizing)
    mark = sizing.design.prices.currency
    from .building.sums import sums_of  # noqa: PLC0415  (it says money as this module does)

    lines = [title(sizing.design), "", *summary(found, system), sums_of(sizing), ""]
    lines += _budget(found, mark)
    lines += _things(found, mark)
    lines += _work(found)
    lines += _cash(found, mark)
    lines += _stress(sizing, system, mark, extras(sizing))
    return "\n".join([*lines, "", *NOTICE])


def summary(found: Enterprise, system: str) -> list[str]:
    """What the year rests on, the two answers, own hours paid and unpaid, and figures to check by."""
    b, mark = found.budget, found.sizing.design.prices.currency
    energy = found.energy_for_each / 3.6e6
    unit = KINDS["price of mass"].shown(system)
    each = energy if system == "metric" else energy * 0.45359237
    return [
        first_line(found.sizing, system),
        f"A {'pound' if system == 'us' else 'kilogram'} of fish costs {per_weight(b.cost_of_each, system, mark)} with own hours"
        f" paid, {per_weight(b.cost_of_each_unpaid, system, mark)} with own hours unpaid.",
        f"Left over in a full year: {money(b.net, mark)} paid, {money(b.net_unpaid, mark)} unpaid;"
        f" an hour of own work earns {cents(float(b.wage_earned) * 3600, mark)}.",
        f"First cost {money(found.investment, mark)}; {number(found.minutes_a_day / 60, 2)} minutes of"
        f" work a day; {number(each, 2)} kWh {unit.label} of fish sold or eaten.",
    ]


def _budget(found: Enterprise, mark: str) -> list[str]:
    b = found.budget
    rows = [("line", "in a full year")]
    for names, total, words in BUDGET:
        rows += [(f"  {LABELS[n]}", money(getattr(b, n), mark)) for n in names]
        rows.append((words, money(getattr(b, total), mark)))
    return section("Budget of a full year", rows)


def _things(found: Enterprise, mark: str) -> list[str]:
    rows = [("part", "first cost", "life", "a year, with interest", "a year, straight line")]
    rows += [
        (
            i.label,
            money(i.cost, mark),
            f"{number(i.life)} years",
            money(i.annual, mark),
            money(i.straight, mark),
        )
        for i in found.items
    ]
    return section("What is bought, each at its own life", rows)


def _work(found: Enterprise) -> list[str]:
    rows = [("task", "times a year", "hours a year")]
    rows += [(w.label, number(w.times * w.count), number(w.time / 3600)) for w in found.work]
    rows.append(("in all", "", number(found.budget.time / 3600)))
    return section("Work", rows)


def _cash(found: Enterprise, mark: str) -> list[str]:
    flow = cash_flow(found)
    rows = [
        ("period", "cash", "balance"),
        ("bought first", money(-flow.start, mark), money(-flow.start, mark)),
    ]
    rows += [
        (p, money(t, mark), money(b, mark))
        for p, t, b in zip(flow.periods, flow.total, flow.balance, strict=True)
    ]
    lines = section("Cash, own hours unpaid", rows)
    lines.append(f"Most money needed at once: {money(flow.deepest, mark)}.")
    differ = [r for r in reconcile(found, flow) if r.why]
    return lines + [f"{r.line}: {money(r.budget, mark)} in the budget; {r.why}." for r in differ]


def _stress(sizing: Sizing, system: str, mark: str, extra: dict) -> list[str]:
    rows = [("what happens", "left, hours paid", "left, hours unpaid")]
    rows += [
        (s.words, money(s.net, mark), money(s.net_unpaid, mark)) for s in stressed(sizing, **extra)
    ]
    lines = section("Bad turns", rows)
    rows = [("what it must be to pay for itself", "now", "must be")]
    for b in break_evens(sizing, **extra):
        kind = KINDS["mass"] if b.path == "stock.harvest" else FIELDS[b.path].kind
        rows.append(
            (
                b.words,
                value_text(b.now, kind, system),
                "nothing would do" if b.value is None else value_text(b.value, kind, system),
            )
        )
    lines += section("Break-even, one at a time", rows)
    rows = [("moved by a tenth", "a tenth less", "a tenth more")]
    rows += [(m.label, money(m.down, mark), money(m.up, mark)) for m in movers(sizing, **extra)]
    return [*lines, *section("What moves the net return most", rows)]


def cost_json(sizing: Sizing, system: str) -> str:
    """The cost of a design as JSON text, in plain units: money, kg, J, s.

    Parameters:
        sizing: what ``size`` gives, of one design.
        system: "us" or "metric", the units in which figures are shown.
    Returns: the text.

    Example: ``cost_json(sizing, "us")``.
    """
    found = full_year(sizing)
    b, flow, extra = found.budget, cash_flow(found), extras(sizing)
    names = ("receipts", "variable", "above_variable", "fixed", "costs", "costs_unpaid", "net",
             "net_unpaid", "cost_of_each", "cost_of_each_unpaid", "break_even", "break_even_unpaid",
             "wage_earned", "sold", "home", "time")  # fmt: skip
    result = {
        "currency": sizing.design.prices.currency,
        "lines": {n: float(getattr(b, n)) for n in LABELS},
        "totals": {n: plain(getattr(b, n)) for n in names},
        "investment": float(found.investment),
        "energy_for_each": plain(found.energy_for_each),
        "items": [
            {"name": i.name, "quantity": float(i.quantity), "cost": float(i.cost), "life": float(i.life),
             "annual": float(i.annual), "straight": float(i.straight)}
            for i in found.items
        ],
        "work": [{"task": w.label, "hours": float(w.time) / 3600} for w in found.work],
        "cash": {"periods": list(flow.periods), "total": flow.total.tolist(),
                 "balance": flow.balance.tolist(), "start": -flow.start},
        "stress": [{"what": s.words, "net": s.net, "net_unpaid": s.net_unpaid}
                   for s in stressed(sizing, **extra)],
        "break_even": [{"what": x.words, "now": x.now, "value": x.value}
                       for x in break_evens(sizing, **extra)],
        "movers": [{"path": m.path, "down": m.down, "up": m.up} for m in movers(sizing, **extra)],
        "own_prices": list(found.own_prices),
        "year": row_of(year_of(sizing), system),
        "words": first_line(sizing, system),
    }  # fmt: skip
    return json_text(result)


def compare_text(sizing: Sizing, part: str, found: tuple[Candidate, ...], system: str) -> str:
    """Candidates side by side, and where two of them cost the same."""
    mark = sizing.design.prices.currency
    rows = [("candidate", "first cost", "life", "equipment", "power", "own hours", "uses up",
             "a year, hours paid", "hours unpaid", "of fish, paid")]  # fmt: skip
    for c in compare(sizing, found):
        rows.append((
            c.candidate.name, money(c.candidate.cost, mark), f"{number(c.candidate.life)} years",
            money(c.equipment, mark), money(c.power, mark), money(c.labour, mark),
            money(c.candidate.consumables, mark), money(c.yearly, mark), money(c.yearly_unpaid, mark),
            per_weight(c.each, system, mark),
        ))  # fmt: skip
    lines = [
        f"{part.capitalize()}: candidates by cost a year, cheapest first",
        "",
        *table_lines(rows),
    ]
    lines += heading("Where two cost the same a year, one thing varied")
    for x in crossings(sizing, found):
        if x.value is None:
            continue
        words, kind = AXIS[x.axis]
        lines.append(f"{x.first} and {x.second}: {words} {show(x.value, KINDS[kind], system)}"
                     f" (now {show(x.now, KINDS[kind], system)})")  # fmt: skip
    return "\n".join([*lines, "", *NOTICE])


def compare_json(sizing: Sizing, parts: dict[str, tuple[Candidate, ...]]) -> str:
    """The candidates of each part as JSON text, in plain units."""
    return json_text(
        [
            {
                "part": part,
                "candidates": [_compared(row) for row in compare(sizing, found)],
                "crossings": [asdict(x) for x in crossings(sizing, found)],
            }
            for part, found in parts.items()
        ]
    )


def _compared(row: Compared) -> dict:
    thing = row.candidate
    values = {f.name: plain(getattr(row, f.name)) for f in fields(row) if f.name != "candidate"}
    return {"name": thing.name, "cost": thing.cost, "life": thing.life, **values}
