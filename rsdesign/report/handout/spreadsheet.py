"""A sizing as a spreadsheet: figures, parts, budget and cash, with live formulas where prices change.

Sums that money touches are formulas, so that a grower who puts in a quote sees the year follow;
figures of the sizing are numbers, because only rsdesign can size anew.
"""

import datetime
import io

import numpy as np

from ...core.kinds import KINDS
from ...core.units import from_plain, show
from ...design.model import FIELDS, value_of
from ...design.prices import prices_of
from ...equations.costs.budget import FIXED, LABELS, RECEIPTS, VARIABLE
from ...season.batch_order import day_that_suits
from ...sizing.system import Sizing, figures
from ...studies.cashflow import MONTHS, NOT_CASH, months, timing
from ...studies.enterprise import ITEMS, Enterprise
from ...studies.heat.yearly import full_year
from ..cost import price_unit
from ..order import moved_words
from ..text import TITLES
from .build_sheets import add_building
from .sheets import Book, Sheet, clean
from .time_sheets import add_time

SHARES = ("stocked", "fed", "harvested", "even")
RATE, SALVAGE = "Budget!$B$3", "Budget!$B$4"
"""The cells of the first two terms, below the title and the headings of the sheet."""
TERMS = ("rate", "salvage", "repairs", "insurance", "tied_up", "horizon")


def spreadsheet(sizing: Sizing, system: str = "us", date: datetime.date | None = None) -> bytes:
    """The bytes of a workbook: Read me, Sizing, Balance, Parts, Budget, Cash, Everything to buy,
    Cut list, Build, Start-up, Season, Days, Design."""
    found = full_year(sizing)
    book = Book(sizing.design.prices.currency)
    _read_me(book.sheet("Read me", 100), sizing, date)
    _sizing(book.sheet("Sizing", 16, 52, 16, 12, 26), sizing, system)
    _balance(book.sheet("Balance", 18, 14, 14, 14, 12, 12, 12), sizing, system)
    places = _parts(book.sheet("Parts", 18, 14, 12, 12, 14, 10, 14, 16), found, system)
    terms = _budget(book.sheet("Budget", 46, 16, 14, 14, 16), found, system, places)
    _cash(book.sheet("Cash", 14, wide=True), found, places, terms)
    add_building(book, sizing, system, places)
    add_time(book, sizing, system, day_that_suits(sizing, date))
    _design(book.sheet("Design", 28, 52, 30), sizing, system)
    made = io.BytesIO()
    book.save(made, clean(sizing.design.name) or "Your design")
    return made.getvalue()


def _read_me(sheet: Sheet, sizing: Sizing, date: datetime.date | None) -> None:
    sheet.title(clean(sizing.design.name) or "Your design")
    for words in (
        clean(sizing.design.note),
        moved_words(sizing, date),
        "Cells on grey are yours to change: prices, quantities, lives and terms. The budget and the"
        " cash follow at once.",
        "The sizes do not follow: change the design in the program, and make this file again.",
        "Prices are invented until you replace them with quotes.",
        "Everything to buy counts each piece. Type your price on grey, and the sums follow.",
        "Cash counts your own hours as unpaid. The budget shows both.",
        "A teaching estimate, not financial advice: ask a lender and an accountant.",
    ):
        if words:
            sheet.row(words)


def _sizing(sheet: Sheet, sizing: Sizing, system: str) -> None:
    """Every figure, in the units shown."""
    sheet.head("Stage", "Figure", "Value", "Unit", "Path")
    for figure, value in figures(sizing):
        cell, unit = "none" if value is None else value, ""
        if figure.kind is not None and not isinstance(cell, str):
            shown = figure.kind.shown(system)
            cell, unit = from_plain(float(value), shown), shown.label
            cell = cell if np.isfinite(cell) else "no answer"
        sheet.row(TITLES[figure.stage], figure.label, cell, unit, figure.path)


def _balance(sheet: Sheet, sizing: Sizing, system: str) -> None:
    """Needed and given of every part; the margin is a formula."""
    sheet.head("Part", "Needed", "Given", "Rule of thumb", "Unit", "Margin", "Word")
    for p in sizing.parts:
        unit = p.kind.shown(system)
        cells = [
            "" if v is None else from_plain(float(v), unit) if np.isfinite(v) else "no answer"
            for v in (p.required, p.provided, p.rule)
        ]
        at, margin = sheet.next, float(p.margin)
        live = f"=B{at}/C{at}" if p.form == "at most" else f"=C{at}/B{at}"
        numbers = all(isinstance(c, float) for c in cells[:2]) and 0 < margin < np.inf
        sheet.row(p.label, *cells, unit.label, None, p.word)
        if numbers:
            sheet.formula(f"F{at}", live)
        else:
            sheet.put(f"F{at}", "no answer" if not np.isfinite(margin) else margin)


def _parts(sheet: Sheet, found: Enterprise, system: str) -> dict[str, str]:
    """What is bought; gives the cells that other sheets read."""
    prices = prices_of(found.sizing.design)
    sheet.head("Part", "Quantity", "Unit", "Unit price", "First cost", "Life, years",
               "Worth at the end", "A year, with interest")  # fmt: skip
    first = sheet.next
    there = {item.name for item in found.items}
    rows = [row for row in ITEMS if row[0] in there]
    for item, (_, price, label, *_) in zip(found.items, rows, strict=True):
        unit = price_unit(price, system)
        at = sheet.next
        sheet.row(label, float(item.quantity) * unit.factor, unit.label.removeprefix("per "),
                  float(prices[price].value) / unit.factor, None, float(item.life))  # fmt: skip
        sheet.yours(f"B{at}", f"D{at}", f"F{at}")
        sheet.formula(f"E{at}", f"=B{at}*D{at}", True)
        sheet.formula(f"G{at}", f"=E{at}*{SALVAGE}", True)
        sheet.formula(
            f"H{at}",
            f"=IF({RATE}=0,(E{at}-G{at})/F{at},(E{at}-G{at})*{RATE}*(1+{RATE})^F{at}"
            f"/((1+{RATE})^F{at}-1)+G{at}*{RATE})",
            True,
        )
        sheet.money(f"D{at}", cents=True)
    last = sheet.next - 1
    at = sheet.row("In all", strong=True)
    for column in "EGH":
        sheet.formula(f"{column}{at}", f"=SUM({column}{first}:{column}{last})", True, strong=True)
    priced = {price: first + k for k, (_, price, *_) in enumerate(rows)}
    return {**{f"price of {price}": f"Parts!$D${row}" for price, row in priced.items()},
            **{f"first cost of {name}": f"Parts!$E${first + k}" for k, (name, *_) in enumerate(rows)},
            "cost": f"Parts!$E${at}", "yearly": f"Parts!$H${at}",
            **{name: f"Parts!${c}${first}:${c}${last}"
               for name, c in (("costs", "E"), ("ends", "G"), ("lives", "F"))}}  # fmt: skip


def _from_terms(name: str, places: dict, where: dict, cells: dict) -> str:
    """The formula of a line that follows from the first cost and the terms of the money."""
    if name == "equipment":
        return f"={places['yearly']}"
    if name == "operating_interest":
        spent = "+".join(cells[n] for n in VARIABLE if n in cells and n != "labour")
        return f"=({spent})*{where['rate']}*{where['tied_up']}/365.25/2"
    return f"={places['cost']}*{where[name]}"


def _budget(sheet: Sheet, found: Enterprise, system: str, places: dict) -> dict[str, str]:
    """Terms on top, then the budget; gives the cell of each line."""
    terms, prices = found.sizing.design.terms, prices_of(found.sizing.design)
    sheet.title("A full year")
    sheet.head("Terms", "Value")
    where = {}
    for name in TERMS:
        at = sheet.row(FIELDS[f"terms.{name}"].choice.label, float(getattr(terms, name)))
        where[name] = f"$B${at}"
        if name != "horizon":
            sheet.yours(f"B{at}")
    sheet.blank()
    sheet.head("Line", "Quantity", "Unit", "Price", "In a year")
    cells: dict[str, str] = {}

    def one(name: str) -> None:
        at = sheet.next
        if name in found.amounts:
            much, price = found.amounts[name]
            unit = price_unit(price, system)
            sheet.row(LABELS[name], float(much) * unit.factor, unit.label.removeprefix("per "),
                      float(prices[price].value) / unit.factor)  # fmt: skip
            sheet.yours(f"B{at}", f"D{at}")
            sheet.money(f"D{at}", cents=True)
            live = f"=B{at}*D{at}"
        else:
            sheet.row(LABELS[name])
            live = _from_terms(name, places, where, cells)
        sheet.formula(f"E{at}", live, True)
        cells[name] = f"$E${at}"

    def total(name: str, words: str, live: str) -> None:
        at = sheet.row(words, strong=True)
        sheet.formula(f"E{at}", live, True, strong=True)
        cells[name] = f"$E${at}"

    def group(names, name: str, words: str) -> None:
        for line in names:
            one(line)
        total(name, words, "=" + "+".join(cells[n] for n in names))

    group(RECEIPTS, "receipts", "Receipts")
    group(VARIABLE, "variable", "Variable costs")
    total("above_variable", "Income above variable cost",
          f"={cells['receipts']}-{cells['variable']}")  # fmt: skip
    group(FIXED, "fixed", "Fixed costs")
    total("net", "Net return, own hours paid", f"={cells['above_variable']}-{cells['fixed']}")
    total("net_unpaid", "Net return, own hours unpaid", f"={cells['net']}+{cells['labour']}")
    fish, unit = _weight(cells), KINDS["price of mass"].shown(system).label
    hours = cells["labour"].replace("E", "B")
    for name, words, live in (
        ("cost_of_each", f"Cost {unit} of fish, own hours paid",
         f"=({cells['variable']}+{cells['fixed']})/({fish})"),
        ("cost_of_each_unpaid", f"Cost {unit} of fish, own hours unpaid",
         f"=({cells['variable']}+{cells['fixed']}-{cells['labour']})/({fish})"),
        ("wage_earned", "What an hour of own work earns", f"={cells['net_unpaid']}/{hours}"),
    ):  # fmt: skip
        total(name, words, live)
        sheet.money(cells[name].replace("$", ""), cents=True)
    return {name: f"Budget!{cell}" for name, cell in {**where, **cells}.items()}


def _weight(cells: dict[str, str]) -> str:
    """The cells of fish sold and fish eaten, by weight."""
    return "+".join(cells[name].replace("E", "B") for name in RECEIPTS)


def _cash(sheet: Sheet, found: Enterprise, places: dict, cells: dict) -> None:
    """Month by month for two years, then by year; shares of each line are numbers, money is live."""
    years = int(found.sizing.design.terms.horizon)
    lines = [name for name in LABELS if name not in NOT_CASH]
    sheet.head("Period", "From, years", "To, years", "Share stocked", "Share fed",
               "Share harvested", "Share of the year", *(LABELS[n] for n in lines),
               "Bought again", "Cash", "Balance")  # fmt: skip
    share = months(found)
    again, cash, balance = (sheet.letter(8 + len(lines) + i) for i in range(3))
    at = sheet.row("bought first")
    sheet.formula(f"{cash}{at}", f"=-{places['cost']}", True)
    sheet.formula(f"{balance}{at}", f"={cash}{at}", True)
    first = at
    worth = f"({places['costs']}-{places['ends']})"
    for place in range(MONTHS + max(years - 2, 0)):
        month = place < MONTHS
        start = place / 12 if month else float(place - MONTHS + 2)
        end = (place + 1) / 12 if month else start + 1
        words = f"month {place + 1}" if month else f"year {int(end)}"
        at = sheet.row(
            words, start, end, *(float(share[k][place]) if month else 1.0 for k in SHARES)
        )
        for i, name in enumerate(lines):
            sign = "" if name in RECEIPTS else "-"
            column = "DEFG"[SHARES.index(timing(name))]
            sheet.formula(f"{sheet.letter(8 + i)}{at}", f"={sign}{column}{at}*{cells[name]}", True)
        lives = places["lives"]
        before = f"ROUNDUP(B{at}/{lives}-1E-9,0)" if place else "1"  # the first lot is bought at 0
        sheet.formula(
            f"{again}{at}", f"=-SUMPRODUCT({worth}*(ROUNDUP(C{at}/{lives}-1E-9,0)-{before}))", True
        )
        sheet.formula(f"{cash}{at}", f"=SUM(H{at}:{again}{at})", True)
        sheet.formula(f"{balance}{at}", f"={balance}{at - 1}+{cash}{at}", True)
    last = sheet.next - 1
    at = sheet.row("Most money needed at once", strong=True)
    sheet.formula(f"{balance}{at}", f"=-MIN({balance}{first}:{balance}{last})", True, strong=True)


def _design(sheet: Sheet, sizing: Sizing, system: str) -> None:
    """Every choice with its value as shown; the exact design is the text of the other formats."""
    sheet.head("Choice", "Words", "Value")
    for path, entry in FIELDS.items():
        value = value_of(sizing.design, path)
        if value is None:
            words = "from the price list" if entry.section == "prices" else "left to the sizing"
        elif isinstance(value, bool):
            words = "yes" if value else "no"
        else:
            words = value if entry.kind is None else show(value, entry.kind, system)
        sheet.row(path, entry.choice.label, clean(str(words)))
