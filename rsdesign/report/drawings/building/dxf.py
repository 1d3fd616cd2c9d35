"""A sheet for CAD: DXF R2010 in real units, a layer for each purpose, dimensions as dimensions."""

import io

from ....core.choices import DesignError
from .marks import LAYERS, Circle, Dimension, Ground, Path, Words
from .paper import Page
from .svg import ends

UNITS = {"us": (1, 0.0254), "metric": (4, 0.001)}
"""Number of a unit in the head of a DXF file (inch, millimeter), and that unit [m]."""
COLOURS = {"tanks": 7, "water": 4, "pipes": 5, "air": 6, "machines": 30, "ground": 33, "levels": 3,
           "dimensions": 8, "text": 7, "sheet": 9}  # fmt: skip
"""Numbers of colours that every CAD program knows, by layer."""
ALIGN = {"start": "LEFT", "middle": "CENTER", "end": "RIGHT"}
CAPITAL = 0.72
"""Height of a capital over the size of its letters, which a DXF file asks for; from memory."""


def dxf(page: Page, system: str = "us") -> bytes:
    """The bytes of a DXF file of one sheet, in inches or millimeters as built.

    Parameters:
        page: a sheet of ``sheets.pages``.
        system: "us" for inches, "metric" for millimeters.
    Returns: the file.  The origin of the sheet's drawing lies at 0, 0; every line is as long as what it
        stands for, and letters are as high as their scale asks for.
    Raises: ``DesignError`` where the package ezdxf is missing.
    """
    return _Writer(page, system).made()


class _Writer:
    def __init__(self, page: Page, system: str):
        try:
            import ezdxf  # noqa: PLC0415  (only when a DXF is asked for)
        except ImportError:
            raise DesignError(
                "A DXF drawing needs the package ezdxf; install rsdesign again, or ask for svg or pdf."
            ) from None
        self.page = page
        number, unit = UNITS[system]
        self.factor = 0.001 * page.scale / unit if page.scale_words else 0.001 / unit
        self.file = ezdxf.new("R2010", setup=True)
        self.file.units = number
        self.file.header["$MEASUREMENT"] = 0 if system == "us" else 1
        for name in LAYERS:
            self.file.layers.add(name, color=COLOURS[name])
        self.space = self.file.modelspace()
        self._style()

    def _style(self) -> None:
        style = self.file.dimstyles.duplicate_entry("EZDXF", "building")
        k = self.factor
        style.dxf.dimtxt, style.dxf.dimtsz, style.dxf.dimexe = 2.6 * CAPITAL * k, 0.9 * k, 1.2 * k
        style.dxf.dimexo, style.dxf.dimgap, style.dxf.dimtad = 1.2 * k, 0.6 * k, 1
        style.dxf.dimclrt = style.dxf.dimclrd = style.dxf.dimclre = 256  # as the layer
        style.dxf.dimtxsty = "OpenSans"

    def made(self) -> bytes:
        """The file."""
        for item in self.page.items:
            self._add(item)
        text = io.StringIO()
        self.file.write(text)
        return text.getvalue().encode(self.file.output_encoding, errors="dxfreplace")

    def at(self, x: float, y: float) -> tuple[float, float]:
        """A point of the paper in real units."""
        ox, oy = self.page.origin
        return (x - ox) * self.factor, (oy - y) * self.factor

    def _add(self, item) -> None:
        if isinstance(item, Path):
            self._path(item)
        elif isinstance(item, Circle):
            self.space.add_circle(self.at(item.x, item.y), item.r * self.factor, self._look(item))
        elif isinstance(item, Words):
            self._words(item, item.layer)
        elif not isinstance(item, Ground):  # a program for drawings moves labels itself
            self._dimension(item)

    def _look(self, item) -> dict:
        dash = getattr(item, "dash", "")
        return {
            "layer": item.layer,
            **({"linetype": "DASHED", "ltscale": self.factor} if dash else {}),
        }

    def _path(self, item: Path) -> None:
        from ezdxf.math import offset_vertices_2d  # noqa: PLC0415

        if not item.stroke and not item.fill:
            return
        points = [self.at(*p) for p in item.points]
        self.space.add_lwpolyline(points, close=item.closed, dxfattribs=self._look(item))
        if item.casing and len(points) > 1:  # the middle of a pipe, and its two edges
            for half in (-item.casing / 2, item.casing / 2):
                edge = offset_vertices_2d(points, half * self.factor)
                self.space.add_lwpolyline(list(edge), dxfattribs={"layer": item.layer})

    def _words(self, item: Words, layer: str) -> None:
        from ezdxf.enums import TextEntityAlignment  # noqa: PLC0415

        look = {"layer": layer, "height": item.size * CAPITAL * self.factor, "style": "OpenSans"}
        made = self.space.add_text(item.words, dxfattribs=look)
        made.set_placement(self.at(item.x, item.y), align=TextEntityAlignment[ALIGN[item.anchor]])

    def _dimension(self, item: Dimension) -> None:
        first, _ = ends(item)
        across = item.way == "x"
        made = self.space.add_linear_dim(
            base=self.at(*first), p1=self.at(*item.start), p2=self.at(*item.end),
            angle=0 if across else 90, text=item.words, text_rotation=0, dimstyle="building",
            location=self.at(item.middle[0], item.middle[1] - 0.9), dxfattribs={"layer": "dimensions"},
        )  # fmt: skip
        made.render()
