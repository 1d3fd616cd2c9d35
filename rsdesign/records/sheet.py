"""The lines and cells of a log as they were written: text or a spreadsheet, kept whole.

Nothing is understood here, so nothing can be lost here: every cell is kept as text, and ``text``
writes all of them again.
"""

import csv
import datetime
import io
import re
import zipfile
from dataclasses import dataclass
from pathlib import Path

from ..core.choices import DesignError
from ..core.typed_numbers import clipped

LARGEST = 2_000_000
"""Bytes of a file that is read; ten years of tests are a tenth of it."""
MOST_LINES = 20_000
MOST_OPENED = 50_000_000
"""Bytes of a spreadsheet file once it is unpacked."""
LONGEST_NOTE = 40
"""Lines that one cell in quotation marks may run over."""


@dataclass(frozen=True, slots=True)
class Line:
    """One line: the number at which it starts, its cells, and whether a quotation mark is left open."""

    number: int
    cells: tuple[str, ...]
    open_quote: bool = False


@dataclass(frozen=True, slots=True)
class Sheet:
    """All lines of a log in the order of the file, and what parts their cells."""

    lines: tuple[Line, ...] = ()
    mark: str = ","
    remarks: tuple[str, ...] = ()

    def text(self) -> str:
        """Every cell as comma-separated text, or with the mark that the file had.

        >>> sheet_of_text("date;pH\\n2027-04-15;7,2\\n").text()
        'date;pH\\n2027-04-15;7,2\\n'
        """
        out = io.StringIO()
        writer = csv.writer(out, delimiter=self.mark, lineterminator="\n")
        for line in self.lines:
            if any(line.cells):
                writer.writerow(line.cells)
            else:
                out.write(self.mark * max(0, len(line.cells) - 1) + "\n")
        return out.getvalue()


def sheet_of_text(text: str) -> Sheet:
    """The lines and cells of a text.

    Parameters:
        text: values apart by commas, semicolons or tabs; any text.
    Returns: the ``Sheet``; lines count from 1.
    """
    physical = re.split(r"\r\n|\n|\r", text.removeprefix("\ufeff"))
    if physical and not physical[-1]:
        physical.pop()
    if len(physical) > MOST_LINES:
        raise DesignError(
            f"The log has {len(physical):,} lines; at most {MOST_LINES:,} are read. Part it by years."
        )
    mark = _mark(physical)
    lines, at = [], 0
    while at < len(physical):
        taken, is_open = _joined(physical, at)
        cells = _cells("\n".join(physical[at : at + taken]), mark, is_open)
        lines.append(Line(at + 1, cells, is_open))
        at += taken
    return Sheet(tuple(lines), mark)


def _mark(physical: list[str]) -> str:
    """What parts the cells: the mark that most of the first lines have, semicolons before commas."""
    head = [line for line in physical if line.strip() and not line.startswith("#")][:30]
    for mark in (";", "\t"):
        if sum(mark in line for line in head) * 2 > len(head):
            return mark
    return ","


def _joined(physical: list[str], at: int) -> tuple[int, bool]:
    """How many lines of a file make one line of the log, and whether a quotation mark stays open."""
    if physical[at].count('"') % 2 == 0:
        return 1, False
    for more in range(1, min(LONGEST_NOTE, len(physical) - at)):
        following = physical[at + more]
        if following.count('"') % 2:
            return more + 1, False
        if re.match(r'\s*"?\d{1,4}[-./]\d', following):
            break  # the next day starts, so the mark was never closed
    return 1, True


def _cells(line: str, mark: str, is_open: bool) -> tuple[str, ...]:
    if is_open:
        return tuple(line.split(mark))
    try:
        return tuple(next(csv.reader(io.StringIO(line, newline=""), delimiter=mark), ()))
    except (csv.Error, StopIteration):
        return tuple(line.split(mark))


def sheet_of_file(path) -> Sheet:
    """The lines and cells of a text file or of the first sheet of a spreadsheet (.xlsx).

    Raises ``DesignError`` with one sentence for a file that is not there or far too large.
    """
    path = Path(path)
    try:
        if path.is_dir():
            raise DesignError(f"{clipped(path, 200)} is a folder; name the file of the log in it.")
        if path.stat().st_size > LARGEST:
            raise DesignError(f"{clipped(path, 200)} holds {path.stat().st_size:,} bytes, too many for a log of water"
                              " tests; save the sheet of the log alone.")  # fmt: skip
        content = path.read_bytes()
    except FileNotFoundError:
        raise DesignError(
            f"{clipped(path, 200)} is not there; look at the name and the folder."
        ) from None
    except OSError as error:
        raise DesignError(
            f"{clipped(path, 200)} cannot be read: {error.strerror or error}."
        ) from None
    return sheet_of_bytes(content)


def sheet_of_bytes(content: bytes) -> Sheet:
    """The lines and cells of the content of a file, a spreadsheet or a text of any coding."""
    if content[:4] == b"PK\x03\x04":
        return _spreadsheet(content)
    if content[:8] == b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1":
        raise DesignError("The file is a spreadsheet of an old kind; save it as .xlsx or as CSV.")
    for coding, said in (("utf-8-sig", ""), ("utf-16", ""), ("cp1252", "as Western European")):
        if coding == "utf-16" and content[:2] not in (b"\xff\xfe", b"\xfe\xff"):
            continue
        try:
            text = content.decode(coding)
        except UnicodeDecodeError:
            continue
        sheet = sheet_of_text(text)
        remark = (
            f"The file is not in UTF-8, so it was read {said}; look at accents and degree signs."
        )
        return Sheet(sheet.lines, sheet.mark, (remark,)) if said else sheet
    sheet = sheet_of_text(content.decode("latin-1"))
    return Sheet(
        sheet.lines, sheet.mark, ("The file is not in UTF-8; look at accents and degree signs.",)
    )


def _spreadsheet(content: bytes) -> Sheet:
    import openpyxl  # noqa: PLC0415  (only a spreadsheet needs it)

    try:
        packed = zipfile.ZipFile(io.BytesIO(content))
        if sum(one.file_size for one in packed.infolist()) > MOST_OPENED:
            raise DesignError(
                "The spreadsheet is far too large for a log of water tests; save the log alone."
            )
        book = openpyxl.load_workbook(io.BytesIO(content), read_only=True, data_only=True)
        rows = [tuple(map(_cell_text, row)) for row in _first_rows(book)]
    except DesignError:
        raise
    except Exception as wrong:  # a damaged file raises what its parts happen to raise
        raise DesignError(f"The spreadsheet cannot be opened ({type(wrong).__name__}); save it again as .xlsx or as"
                          " CSV.") from None  # fmt: skip
    while rows and not any(rows[-1]):
        rows.pop()
    width = max((n for row in rows for n, cell in enumerate(row, 1) if cell), default=0)
    lines = tuple(Line(n, row[:width]) for n, row in enumerate(rows, 1))
    more = book.sheetnames[1:]
    remark = (
        (f"The spreadsheet has {len(more) + 1} sheets; only the first is read.",) if more else ()
    )
    return Sheet(lines, ",", remark)


def _first_rows(book):
    for place, row in enumerate(book.worksheets[0].iter_rows(values_only=True)):
        if place >= MOST_LINES:
            raise DesignError(
                f"The spreadsheet has more than {MOST_LINES:,} lines; part it by years."
            )
        yield row


def _cell_text(value) -> str:
    """A cell of a spreadsheet as it would be typed."""
    if value is None:
        return ""
    if isinstance(value, datetime.datetime):
        return (
            value.date().isoformat()
            if value.time() == datetime.time()
            else value.isoformat(" ", "minutes")
        )
    if isinstance(value, datetime.time):
        return value.isoformat("minutes")
    if isinstance(value, float):
        return format(value, ".15g")
    return re.sub(r"\r\n?", "\n", str(value))
