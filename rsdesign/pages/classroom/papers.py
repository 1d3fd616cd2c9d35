"""What an instructor makes of a set: papers to print, and packages for a course platform."""

import base64
import csv
import io

from ...core.choices import DesignError
from ...teaching import export, sheets
from ...teaching.classbook import ClassBook
from ...teaching.exercises import ticket
from ...teaching.papergrid import grid
from ...teaching.paperlength import needs_notes
from ...teaching.sets import SetPlan

PAPERS = {
    "sheets": ("sheets.html", "Sheets"),
    "cards": ("cards.html", "Code cards"),
    "key": ("key-for-the-instructor.html", "Key"),
    "grid": ("grid.csv", "Grid for answers on paper"),
    "tickets": ("tickets.csv", "Tickets for work at home"),
}
PACKAGES = {
    "qti": ("qti.zip", "Package of QTI 2.1", export.qti_package),
    "cartridge": ("cartridge.zip", "Common Cartridge", export.cartridge),
}


def made(which: str, book: ClassBook, plan: SetPlan) -> dict:
    """One paper or package as the reply of the page.  Raises ``DesignError`` for another name."""
    if which in PACKAGES:
        name, title, make = PACKAGES[which]
        data = base64.b64encode(make(plan.name, book.codes[:1], book.key)).decode()
        return {"paper": which, "file": f"{plan.name}-{name}", "title": title,
                "type": "application/zip", "text": "", "base64": data,
                "words": f"It has the numbers of {book.codes[0]}. {export.HOLDS_KEY}"}  # fmt: skip
    if which not in PAPERS:
        raise DesignError(f"There are {', '.join((*PAPERS, *PACKAGES))} to make.")
    name, title = PAPERS[which]
    kind = "text/html" if name.endswith(".html") else "text/csv"
    return {"paper": which, "file": name, "title": title, "type": kind,
            "text": _text(which, book, plan), "base64": "", "words": ""}  # fmt: skip


def _text(which: str, book: ClassBook, plan: SetPlan) -> str:
    if which == "sheets":
        return sheets.sheets(plan.name, book.codes, book.key, spare=needs_notes)
    if which == "cards":
        return sheets.cards(book.codes, plan.title)
    if which == "key":
        return sheets.key(plan.name, book.codes, book.key)
    return grid(plan, book.codes) if which == "grid" else _tickets(book)


def _tickets(book: ClassBook) -> str:
    """A line for each learner: the code, and the ticket for this learner's problems alone."""
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(["code", "ticket"])
    for code in book.codes:
        writer.writerow([code, ticket(book.key, code)])
    return text.getvalue()
