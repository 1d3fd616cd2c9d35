"""The whole system as a small picture without words, to one scale with others beside it."""

from collections.abc import Sequence
from html import escape

from ...core.kinds import Number
from ...sizing.system import Sizing
from .composition import LANE, Scene, company, fit
from .hatch import patterns
from .labels import LabelledSheet
from .legend import sentence
from .overhead import overhead
from .places import one, system_places
from .section import section
from .sheet import short

TALL_SECTION, TALL = 0.5, 1.1
"""Most height of the section, and of section and plan, over the width of the picture."""
SIZE = 12.0
KEY = "rss"
SPACE = 6.0
"""Over and under what is drawn [px]."""


class SmallScene(Scene):
    """A scene without words: parts stand close, and have neither titles nor links."""

    @property
    def least_gap(self) -> float:
        """Least space from one part to the next [px]."""
        return 5.0

    @property
    def most_gap(self) -> float:
        """Most space from one part to the next [px]."""
        return 12.0

    def room_for_lift(self, view: str) -> float:
        """Room at the right of the sump [px]."""
        return 10.0

    def fish(self, spots, outline, long: Number, broad: Number, halo: float) -> None:
        """Each fish as a dot."""
        self.sheet.dots(
            [(x, y) for x, y, _ in spots], min(max(one(long) / 6, 0.5), 1.3), "line-solids"
        )

    def level_mark(self, x: float, y: float) -> None:
        """Nothing: there is no room for the mark of a water level."""

    def begin(self, place_name: str, part: str, stage: str) -> None:
        """Opens a part."""
        self.sheet.group(data_name=place_name, data_state=self.state(part) or None)

    def finish(self) -> None:
        """Closes a part."""
        self.sheet.end()


def common_scale(sizings: Sequence[Sizing], width: float = 220.0) -> float:
    """The largest scale at which each of several systems fits into a picture so wide [px/m]."""
    return min(_fitted(sizing, width, None, KEY).scale for sizing in sizings)


def thumbnail(
    sizing: Sizing, width: float = 220.0, scale: float | None = None, key: str = KEY
) -> str:
    """A system to scale as SVG text without words: its section, and its plan below.

    ``width`` in px; ``scale`` [px/m], that of others beside it, from ``common_scale``; a smaller one is
    used where the system needs it.  A part that is short is hatched and dashed.  ``key`` sets the names
    of the patterns apart from those of another drawing on the page.
    """
    scene = _fitted(sizing, width, scale, key)
    return _svg(scene, *_heights(scene))


def thumbnails(sizings: Sequence[Sizing], width: float = 220.0, key: str = KEY) -> list[str]:
    """Several systems on one common scale, their floors and the middles of their plans at one height."""
    scale = common_scale(sizings, width)
    scenes = [_fitted(s, width, scale, f"{key}{k}") for k, s in enumerate(sizings)]
    rooms = [max(room) for room in zip(*map(_heights, scenes), strict=True)]
    return [_svg(scene, *rooms) for scene in scenes]


def _fitted(sizing: Sizing, width: float, scale: float | None, key: str) -> SmallScene:
    """A scene with its scale and its places along the sheet."""
    sheet = LabelledSheet(width, 10000.0, "The whole system to scale, small", SIZE)
    scene = SmallScene(sizing, "us", system_places(sizing), sheet, key)
    fit(scene, width, TALL_SECTION * width, TALL * width, "both")
    if scale is not None and scale < scene.scale:
        system = scene.system
        fit(scene, width, scale * (system.top - system.bottom), 1e9, "both")
    return scene


def _heights(scene: Scene) -> tuple[float, float, float]:
    """Room over the floor, under it, and half the plan [px]."""
    broad = max(scene.broad(place) for place in scene.system.places.values())
    under = max(-scene.system.bottom * scene.scale, 10.0)
    return scene.system.top * scene.scale + SPACE, under + SPACE, broad / 2


def _svg(scene: Scene, over: float, under: float, half: float) -> str:
    """The picture with its floor so far from its top, and its plan under it."""
    scene.ground = over
    scene.low = scene.ground + under - SPACE
    scene.middle = scene.ground + under + LANE + half
    section(scene)
    company(scene)
    overhead(scene)
    sheet = scene.sheet
    height = scene.middle + half + SPACE
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {short(sheet.width)} {short(height)}"'
        f' role="img" aria-label="{escape(sheet.title)}. {escape(sentence(scene))}"'
        f' data-px-per-m="{scene.scale:.4g}">{patterns(scene.key)}{"".join(sheet.marks)}</svg>'
    )
