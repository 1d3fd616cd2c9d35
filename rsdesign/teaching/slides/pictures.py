"""What a cell of a slide shows: a drawing of the pages, with the sentence that says what it shows."""

import importlib
from dataclasses import dataclass
from html import escape

from ...design.file import load
from ...report.drawings import scene
from ...report.drawings.look import plain
from ...sizing.system import Sizing, size

WIDTH = 720.0
"""Width at which a drawing is made [px]; a slide shows it larger, and with it its letters."""
WHOLE = "whole"


@dataclass(frozen=True)
class Picture:
    """A drawing in a notebook: SVG with its sentence below."""

    svg: str
    sentence: str = ""

    def _repr_html_(self) -> str:
        words = f"<figcaption>{escape(self.sentence)}</figcaption>" if self.sentence else ""
        return f"<figure>{plain(self.svg)}{words}</figure>"


def demo(name: str) -> Sizing:
    """The sizing of one of the invented designs: ``"family"``, ``"school"`` or ``"commercial"``."""
    return size(load(name))


def picture(name: str, sizing: Sizing, system: str = "us", width: float = WIDTH) -> Picture:
    """A drawing by its name, such as ``"tank.picture"``, or ``"whole"`` for the system to scale."""
    if name == WHOLE:
        return Picture(scene.drawing(sizing, system, width, "both"))
    module, _, function = name.partition(".")
    drawn = getattr(importlib.import_module(f"....report.drawings.{module}", __name__), function)
    made = drawn(sizing, system, width)
    return Picture(made.svg, made.sentence)
