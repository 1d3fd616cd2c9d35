"""A hand-out as bytes, and as a file written whole or not at all."""

import datetime
from pathlib import Path

from ...core.choices import DesignError
from ...core.units import clipped
from ...design.file import write_whole
from ...sizing.system import Sizing
from .booklets import booklet_named, usual
from .document import compose

FORMATS = ("pdf", "html", "xlsx")
KINDS_OF_FILE = {
    "pdf": "application/pdf",
    "html": "text/html",
    "xlsx": "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
}
"""What a browser calls each format."""


def make(
    sizing: Sizing,
    form: str,
    system: str = "us",
    paper: str = "letter",
    date: datetime.date | None = None,
    booklet: str = "",
) -> bytes:
    """The bytes of a hand-out in a format of ``FORMATS``.  Raises ``DesignError``.

    ``booklet``: a name of ``booklets.NAMES``, else what is usual for the format; a spreadsheet has all.
    """
    chosen = booklet_named(booklet or usual(form))
    if form == "xlsx":
        from .spreadsheet import spreadsheet  # noqa: PLC0415  (each format loads what it needs)

        return spreadsheet(sizing, system, date)
    document = compose(sizing, system, date, chosen.name)
    if form == "html":
        from .html import html  # noqa: PLC0415

        return html(document).encode()
    from .pdf import pdf  # noqa: PLC0415

    return pdf(document, paper)


def format_of(path: Path) -> str:
    """The format that a file's name asks for.  Raises ``DesignError`` with those there are."""
    form = path.suffix.lower().lstrip(".")
    if form not in FORMATS:
        raise DesignError(
            f"{clipped(path.name)} does not say what to make: end the name in"
            f" {', '.join('.' + f for f in FORMATS[:-1])} or .{FORMATS[-1]}."
        )
    return form


def check_path(path: Path) -> str:
    """The format that a path asks for; ``DesignError`` where no file can stand there."""
    form, shown = format_of(path), clipped(path, 200)
    try:
        if path.is_dir():
            raise DesignError(f"{shown} is a folder; name a file inside it.")
        if not path.parent.is_dir():
            folder = clipped(path.parent, 200)
            raise DesignError(f"{shown} cannot be written: there is no folder {folder}.")
    except OSError as wrong:
        raise DesignError(f"{shown} cannot be written: {wrong.strerror}.") from None
    return form


def write(path: Path, content: bytes) -> None:
    """Write a hand-out beside its path and rename it; a file that is there is replaced.

    Raises ``DesignError`` with one sentence, and leaves no half-written file.
    """
    try:
        write_whole(path, content)
    except (OSError, ValueError) as wrong:
        reason = getattr(wrong, "strerror", None) or str(wrong)
        raise DesignError(f"{clipped(path, 200)} cannot be written: {reason}.") from None


def handout(
    sizing: Sizing, path, system: str = "us", paper: str = "letter", booklet: str = ""
) -> Path:
    """Write the hand-out of a sizing: a PDF, a page in HTML or a spreadsheet, by the file's name.

    Parameters:
        sizing: what ``size`` gives, of one design.
        path: the file, ending in ``.pdf``, ``.html`` or ``.xlsx``; one that is there is replaced.
        system: "us" or "metric", the units in which figures are shown.
        paper: "letter" or "a4".
        booklet: "plan", "build", "cards", "working" or "all"; left out, a PDF is the plan and a page
            in HTML has all. A spreadsheet always has all.
    Returns: the path written.
    Raises: ``DesignError`` with one sentence where it cannot be made or written.

    Example: ``handout(size(load("family")), "family.pdf")``.
    """
    path = Path(path)
    write(path, make(sizing, check_path(path), system, paper, booklet=booklet))
    return path
