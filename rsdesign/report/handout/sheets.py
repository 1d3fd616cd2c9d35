"""Sheets of a workbook in one look: headings stay in view, what may be changed stands on grey."""

import math

from openpyxl import Workbook
from openpyxl.styles import Alignment, Font, PatternFill
from openpyxl.utils import get_column_letter

GREY = PatternFill("solid", fgColor="DDDDDD")
BOLD, TITLE = Font(bold=True), Font(bold=True, size=14)
WRAP = Alignment(wrap_text=True, vertical="top")
LINE, ROOM = 15.0, 3.0
"""Height of a line in points; letters left free beside the last word of a line."""
LONGEST = 30_000
"""Letters of one cell; a spreadsheet takes 32,767."""


def clean(words: str) -> str:
    """Words without signs that a file of XML cannot hold."""
    return "".join(c if c.isprintable() else " " for c in words).strip()[:LONGEST]


class Sheet:
    """One sheet, filled row by row."""

    def __init__(self, sheet, currency: str):
        self._sheet = sheet
        mark = clean(currency).replace('"', "")[:8]
        self._money = {
            cents: f'"{mark}"#,##0{dot};-"{mark}"#,##0{dot}'
            for cents, dot in ((True, ".00"), (False, ""))
        }
        self.next = 1

    @staticmethod
    def letter(place: int) -> str:
        """The letter of a column, 1 for A."""
        return get_column_letter(place)

    def title(self, words: str) -> None:
        """A large first line."""
        self.put(f"A{self.next}", words)
        self._sheet[f"A{self.next}"].font = TITLE
        self.next += 1

    def head(self, *words: str) -> None:
        """Headings of columns."""
        at = self.row(*words, strong=True)
        for cell in self._sheet[at]:
            cell.alignment = WRAP
        self._sheet.row_dimensions[at].height = LINE * max(
            math.ceil(len(text) / max(1.0, self._wide(place) - ROOM))
            for place, text in enumerate(words, 1)
        )
        if at == 1:
            self._sheet.freeze_panes = "B2"
            self._sheet.print_title_rows = "1:1"

    def _wide(self, place: int) -> float:
        """Letters that stand beside each other in a column."""
        return float(self._sheet.column_dimensions[self.letter(place)].width)

    def blank(self) -> None:
        """An empty row."""
        self.next += 1

    def row(self, *values, strong: bool = False) -> int:
        """Values from the first column on; gives the number of the row."""
        at = self.next
        for place, value in enumerate(values, 1):
            if value is not None and value != "":
                cell = self.put(f"{self.letter(place)}{at}", value)
                if strong:
                    cell.font = BOLD
        self.next += 1
        return at

    def line(self, words: str) -> None:
        """Words that run on over the empty cells beside them."""
        self.put(f"A{self.next}", words).alignment = Alignment(wrap_text=False, vertical="top")
        self.next += 1

    def put(self, where: str, value):
        """A number or words; words never become a formula."""
        cell = self._sheet[where]
        cell.value = value
        if isinstance(value, str):
            cell.data_type = "s"
            cell.alignment = WRAP
        elif isinstance(value, float):
            cell.number_format = "General" if value == round(value) else "#,##0.0##"
            if value and abs(value) < 0.1:
                cell.number_format = "0.00E+00" if abs(value) < 1e-4 else "0.0####"
        return cell

    def formula(self, where: str, live: str, as_money: bool = False, strong: bool = False) -> None:
        """A live formula."""
        cell = self._sheet[where]
        cell.value = live
        cell.number_format = self._money[False] if as_money else "0.00"
        if strong:
            cell.font = BOLD

    def hundredths(self, *where: str) -> None:
        """Cells shown to two places: no test and no scale tells more."""
        for place in where:
            self._sheet[place].number_format = "#,##0.00"

    def money(self, *where: str, cents: bool = False) -> None:
        """Cells shown as money."""
        for place in where:
            self._sheet[place].number_format = self._money[cents]

    def yours(self, *where: str) -> None:
        """Cells that a grower may change."""
        for place in where:
            self._sheet[place].fill = GREY


class Book:
    """A workbook."""

    def __init__(self, currency: str):
        self._book = Workbook()
        self._book.remove(self._book.active)
        self._currency = currency

    def sheet(self, name: str, *widths: int, wide: bool = False) -> Sheet:
        """A new sheet with columns so wide."""
        made = self._book.create_sheet(name)
        for place, width in enumerate(widths, 1):
            made.column_dimensions[get_column_letter(place)].width = width
        made.page_setup.orientation = "landscape" if wide else "portrait"
        made.page_setup.fitToWidth, made.page_setup.fitToHeight = 1, 0
        made.sheet_properties.pageSetUpPr.fitToPage = True
        return Sheet(made, self._currency)

    def save(self, file, title: str) -> None:
        """Write it to an open file."""
        self._book.properties.title = title[:200]
        self._book.properties.creator = "rsdesign"
        self._book.properties.language = "en"
        self._book.save(file)
