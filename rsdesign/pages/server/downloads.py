"""The hand-out as a download: the reply to a page that asks for it."""

import base64

from ...core.choices import DesignError
from ...report.handout import files
from ...report.handout.booklets import WHOLE, booklet_named, usual
from ...sizing.system import Sizing


def handout(sizing: Sizing | None, system: str, message: dict) -> dict:
    """The file in the format and on the paper that a message names; ``DesignError`` where it cannot be."""
    form, paper = message.get("format"), message.get("paper", "letter")
    if form not in files.FORMATS or paper not in ("letter", "a4"):
        raise DesignError("Choose PDF, HTML or a spreadsheet, on letter or A4 paper.")
    booklet = booklet_named(message.get("booklet") or usual(form))
    if sizing is None:
        raise DesignError("There is no design to hand out yet.")
    content = files.make(sizing, form, system, paper, booklet=booklet.name)
    return {
        "file": f"{'handout' if booklet is WHOLE else booklet.name}.{form}",
        "base64": base64.b64encode(content).decode(),
        "type": files.KINDS_OF_FILE[form],
    }
