"""The demo designs: invented places that a page can start from."""

import functools

from ..core.folders import data_folder
from ..design.file import load
from ..design.model import Design

DEMOS = {"family": "A family's tank", "school": "A school farm", "commercial": "A small unit"}
"""The demo designs by file name, with their titles on the start page."""


@functools.cache
def demo(name: str) -> Design:
    """A demo design; each file is read once."""
    return load(data_folder() / "designs" / f"{name}.toml")
