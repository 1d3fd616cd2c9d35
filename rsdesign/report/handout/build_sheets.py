"""The sheets of a workbook for who builds: what is bought with live sums, cuts, holes, circuits, steps."""

from ...building.row import GROUPS, ORDER
from ...core.units import from_plain
from ...design.prices import prices_of
from ...sizing.system import Sizing
from ..building import rows
from ..building.all_lists import Building, building_of
from ..cost import price_unit
from .sheets import Book, Sheet

BILL = "Everything to buy"
"""The sheet of what is bought."""


def add_building(book: Book, sizing: Sizing, system: str, places: dict[str, str]) -> None:
    """The sheets Everything to buy, Cut list and Build; ``places``: cells of the sheet Parts by name."""
    found = building_of(sizing)
    _bill(book.sheet(BILL, 34, 34, 10, 8, 12, 12, 12, 14, 34, 34, 10, wide=True), found, system,
          places)  # fmt: skip
    _lists(
        book.sheet("Cut list", 40, 14, 14, 12, 50, 14, wide=True), rows.cut_list(found.cuts, system)
    )
    layout = found.layout
    _lists(
        book.sheet("Build", 32, 44, 14, 14, 22, 30, 12, 24, wide=True),
        [rows.vessels(layout, system), rows.runs(layout, system), rows.holes(layout, system),
         rows.circuit_list(found), rows.weight_list(found, system), rows.step_list(found),
         rows.tool_list(found)],
    )  # fmt: skip


def _bill(sheet: Sheet, found: Building, system: str, places: dict[str, str]) -> None:
    """A row for each purchase: the price used is yours where you give one, and the sums follow.

    A price that the budget knows follows its cell on the sheet Parts, so that both say the same.
    """
    prices = prices_of(found.layout.sizing.design)
    sheet.head("Part", "Size", "How many", "Unit", "Listed price", "Your price", "Price used", "Cost", "For",
               "Why", "Budget line")  # fmt: skip
    sums = []
    for group in ORDER:
        listed = [row for row in found.bill.rows if row.group == group]
        if not listed:
            continue
        sheet.row(GROUPS[group], strong=True)
        first = sheet.next
        for row in listed:
            unit = row.unit(system)
            at = sheet.row(row.label, row.size.said(system), float(from_plain(row.count, unit)),
                           unit.label or "each", row.price * unit.factor, None, None, None, row.used,
                           " ".join((row.why, row.note.said(system))).strip(), row.budget)  # fmt: skip
            known = float(prices[row.listed].value) if row.listed else 0.0
            if known > 0.0:
                shown = known / price_unit(row.listed, system).factor
                share = float(row.price * unit.factor / shown)
                sheet.formula(f"E{at}", f"={share!r}*{places['price of ' + row.listed]}", True)
            sheet.yours(f"C{at}", f"F{at}")
            sheet.formula(f"G{at}", f'=IF(F{at}="",E{at},F{at})', True)
            sheet.formula(f"H{at}", f"=C{at}*G{at}", True)
            sheet.money(f"E{at}", f"F{at}", f"G{at}", f"H{at}", cents=True)
        at = sheet.row(f"{GROUPS[group]}, together", strong=True)
        sheet.formula(f"H{at}", f"=SUM(H{first}:H{at - 1})", True, strong=True)
        sums.append(f"H{at}")
    at = sheet.row("In all", strong=True)
    sheet.formula(f"H{at}", "=" + "+".join(sums), True, strong=True)
    sheet.blank()
    _compared(sheet, found, at, places)


def _compared(sheet: Sheet, found: Building, last: int, places: dict[str, str]) -> None:
    """The list beside the first cost of the budget, by the budget's lines."""
    sheet.row("First cost of the budget, and this list", strong=True)
    sheet.row("Part", "Why they differ", None, None, "Budget", None, None, "This list", strong=True)
    first = sheet.next
    names = [*found.bill.planned, ""]
    for name, (label, plan, _, why) in zip(names, found.bill.differences(), strict=True):
        at = sheet.row(label, why, None, None, None if name else float(plan))
        if name:
            sheet.formula(f"E{at}", f"={places['first cost of ' + name]}", True)
        chosen = f'"{name}"' if name else '""'
        live = f"=SUMIF(K2:K{last},{chosen},H2:H{last})"
        if not name:  # SUMIF takes no empty text: all that was bought, less what has a line
            live = f"=H{last}-SUM(H{first}:H{at - 1})"
        sheet.formula(f"H{at}", live, True)
        sheet.money(f"E{at}", f"H{at}", cents=True)
    at = sheet.row("In all", strong=True)
    for column in "EH":
        sheet.formula(f"{column}{at}", f"=SUM({column}{first}:{column}{at - 1})", True, strong=True)


def _lists(sheet: Sheet, lists: list[rows.Listed]) -> None:
    for listed in lists:
        sheet.row(listed.caption, strong=True)
        sheet.row(*listed.headings, strong=True)
        for line in listed.rows:
            sheet.row(*line)
        sheet.blank()
