"""The hand-out as an answer to a page: a file that the browser keeps."""

import base64

from ...core.choices import DesignError
from ...report.handout import files
from ...sizing.system import Sizing


def handout(sizing: Sizing | None, system: str, message: dict) -> dict:
    """The file of a message's format and paper; ``DesignError`` with a sentence where none is."""
    form, paper = message.get("format"), message.get("paper", "letter")
    if form not in files.FORMATS or paper not in ("letter", "a4"):
        raise DesignError("Choose PDF, HTML or a spreadsheet, on letter or A4 paper.")
    if sizing is None:
        raise DesignError("There is no design to hand out yet.")
    content = files.make(sizing, form, system, paper)
    return {
        "file": f"handout.{form}",
        "base64": base64.b64encode(content).decode(),
        "type": files.KINDS_OF_FILE[form],
    }
