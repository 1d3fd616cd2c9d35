"""Two towers for a weight of fish, own hours paid and unpaid, and the cash over the years."""

from ...core.kinds import KINDS
from ...equations.costs.budget import LABELS, RECEIPTS
from ...sizing.system import Sizing
from ...studies.cashflow import cash_flow
from ...studies.heat.yearly import full_year
from ..cost import money, per_weight
from .fitted import FittedSheet
from .look import Chart, Drawing, axis, layout, line

LAYERS = (
    ("feed", ("feed", "fingerlings"), "sand"),
    ("power", ("electricity", "heating"), "air"),
    ("water", ("water", "dechlorinator", "discharge", "base"), "water"),
    ("parts", ("equipment", "repairs", "insurance"), "sludge"),
    ("other", ("test_kits", "ice", "supplies", "operating_interest", "permit"), "plants"),
    ("own hours", ("labour",), "short-fill"),
)
"""Costs in layers, from the ground up; own hours on top, so that both towers compare."""


def towers(sizing: Sizing, system: str, width: float = 636.0) -> Drawing:
    """What fish costs by weight, in layers, beside the price it fetches."""
    found = full_year(sizing)
    b, mark = found.budget, sizing.design.prices.currency
    weight = float(b.sold + b.home)
    price = float(b.receipts) / weight
    top, floor = 50.0, 322.0
    most = max(float(b.cost_of_each), price) * 1.08
    sheet = FittedSheet(width, (480, 380), "What fish costs by weight")
    for x, unpaid in ((96, False), (250, True)):
        y = floor
        for name, lines, use in LAYERS:
            if unpaid and name == "own hours":
                continue
            tall = sum(float(getattr(b, n)) for n in lines) / weight / most * (floor - top)
            sheet.rect(x, y - tall, 110, tall, use, "ink", 1)
            if tall >= 19:
                sheet.text(x + 55, y - tall / 2 + 6, name, "middle")
            y -= tall
        each = b.cost_of_each_unpaid if unpaid else b.cost_of_each
        sheet.text(x + 55, y - 8, per_weight(each, system, mark).split(" ")[0], "middle", bold=True)
        sheet.text(x + 55, floor + 24, "hours unpaid" if unpaid else "hours paid", "middle")
    y = floor - price / most * (floor - top)
    sheet.line((70, y), (470, y), stroke="line-filter", width=3, dash="8 5")
    sheet.text(376, y - 8, "it fetches")
    sheet.text(376, y + 22, per_weight(price, system, mark).split(" ")[0])
    sheet.line((60, floor), (400, floor), width=2)
    unit = KINDS["price of mass"].shown(system).label
    sheet.text(240, 374, f"cost, {mark} {unit} of fish", "middle", use="soft")
    sentence = (
        f"Fish cost {per_weight(b.cost_of_each, system, mark)} with own hours paid and"
        f" {per_weight(b.cost_of_each_unpaid, system, mark)} with own hours unpaid, and fetch"
        f" {per_weight(price, system, mark)}."
    )
    rows = [(LABELS[n], money(getattr(b, n), mark)) for n in LABELS if n not in RECEIPTS]
    rows += [("Receipts", money(b.receipts, mark)), ("Net return, own hours paid", money(b.net, mark)),
             ("Net return, own hours unpaid", money(b.net_unpaid, mark))]  # fmt: skip
    return Drawing(sheet.svg(sentence), sentence, (("Line", "In a full year"), rows))


def cash_chart(sizing: Sizing, system: str) -> Chart:
    """The balance from the first purchase on, own hours unpaid."""
    found = full_year(sizing)
    flow, mark = cash_flow(found), sizing.design.prices.currency
    years = (
        [0.0] + [(m + 1) / 12 for m in range(24)] + [float(p.split()[1]) for p in flow.periods[24:]]
    )
    balance = [-flow.start, *flow.balance.tolist()]
    figure = {
        "data": [*line(years, balance, "balance", 0)],
        "layout": layout(axis("Years from the first purchase"), axis(f"Money, {mark}"),
                         shapes=[{"type": "line", "xref": "paper", "x0": 0, "x1": 1, "y0": 0, "y1": 0,
                                  "line": {"color": "var(--rs-ink)", "width": 1}}]),
    }  # fmt: skip
    end = "ahead" if balance[-1] >= 0 else "behind"
    sentence = (
        f"Before the fish pay, {money(flow.deepest, mark)} are needed at once; after"
        f" {years[-1]:.0f} years the cash is {money(abs(balance[-1]), mark)} {end}, own hours unpaid."
    )
    rows = [("start", money(-flow.start, mark))] + [
        (p, money(x, mark)) for p, x in zip(flow.periods, flow.balance, strict=True)
    ]
    return Chart(figure, sentence, (("Period", "Balance"), rows))
