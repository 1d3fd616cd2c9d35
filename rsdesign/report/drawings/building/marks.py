"""Marks on a sheet of paper as plain data, in millimeters, for SVG and for CAD alike."""

from dataclasses import dataclass

TEXT, HEAD, TITLE = 2.6, 3.2, 4.6
"""Letters on paper [mm]: 2.6 mm are 7.4 points."""
LINE = 1.3
"""From line to line over the height of the letters."""
PAPERS = {"letter": (279.4, 215.9), "a4": (297.0, 210.0)}
"""Width and height of a sheet that lies on its side [mm]."""
LAYERS = (
    "tanks",
    "water",
    "pipes",
    "air",
    "machines",
    "ground",
    "levels",
    "dimensions",
    "text",
    "sheet",
)
"""Layers by purpose, in this order from the bottom up."""
HAIR, THIN, MEDIUM, THICK = 0.13, 0.18, 0.3, 0.5
"""Widths of lines: hatching, dimensions, edges behind, what is cut [mm]."""

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Path:
    """A line through points [mm], or a closed shape; ``casing`` draws it as a pipe that wide [mm]."""

    points: tuple[Point, ...]
    layer: str
    width: float = THIN
    closed: bool = False
    dash: str = ""
    fill: str | None = None
    stroke: str | None = "ink"
    casing: float = 0.0
    inner: str = "paper"
    about: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class Circle:
    """A circle [mm]."""

    x: float
    y: float
    r: float
    layer: str
    width: float = THIN
    dash: str = ""
    fill: str | None = None
    stroke: str | None = "ink"
    about: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class Words:
    """One line of text whose baseline begins, centers or ends at a point [mm]."""

    x: float
    y: float
    words: str
    layer: str = "text"
    size: float = TEXT
    anchor: str = "start"
    bold: bool = False
    about: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class Dimension:
    """A dimension between two points, its line at ``at``; ``way`` is "x" or "y"; the words' middle."""

    start: Point
    end: Point
    at: float
    way: str
    words: str
    middle: Point
    about: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class Ground:
    """Plain paper under a label, over the lines of its layer and of those below [mm]."""

    box: tuple[float, float, float, float]
    layer: str


Item = Path | Circle | Words | Dimension | Ground


def about(**marks) -> tuple[tuple[str, str], ...]:
    """What a mark stands for, as ``data-`` attributes."""
    return tuple((f"data-{k.replace('_', '-')}", str(v)) for k, v in marks.items())
