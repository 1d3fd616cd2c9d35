"""The foot of the scene: the scale bar, what the hatches mean, what is not to scale; the scene in a sentence."""

import textwrap

from ...sizing.worst_first import worst_part
from .annotations import swatch
from .beside import PERSON
from .composition import Scene
from .hatch import STATES
from .labels import wide
from .overhead import fish_shown
from .places import one

NICE = (0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0)
FOOT = 0.3048  # units of the source


def foot(scene: Scene, top: float) -> None:
    """The scale bar, what the hatches mean, and what is not to scale."""
    sheet, size = scene.sheet, scene.sheet.size
    base = top + size + 4
    _bar(scene, base)
    x = 8.0
    drawn = {p.part for p in scene.system.places.values()} | {"drain", "overflow", "water"}
    words = [w for w in STATES if any(scene.state(p) == w for p in drawn)]
    for word in words:
        long = 18 + wide(word, size)
        if x + long > sheet.width - (80 if scene.narrow else 140):  # the scale bar stands there
            x, base = 8.0, base + size + 5
        swatch(scene, x, base - 10, word)
        sheet.write(x + 18, base, word)
        x += long + 14
    tank = scene.system.places["tank"]
    each = one(scene.sizing.stock.fish) * one(scene.sizing.stock.cohorts) / tank.count
    mark = each / fish_shown(scene, tank)
    fish = "each mark one fish" if mark < 1.5 else f"each mark {mark:.0f} fish"
    notes = f"Fish at their size at harvest; in the plan {fish}. Not to scale: {taken(scene)}."
    room = int((sheet.width - 16 - (0 if scene.narrow else 130)) / (0.58 * size))
    for k, line in enumerate(textwrap.wrap(notes, room)):
        sheet.write(8, base + (k + 1) * (size + 4) + 4, line, use="soft")


def taken(scene: Scene) -> str:
    """What is drawn in a size that the sizing does not know."""
    screen = ", second screen" if "screen" in scene.system.places else ""
    return f"air machines{screen}, sump, runs of pipe"


def _bar_length(scene: Scene) -> tuple[float, str]:
    """The longest round length that has room: in meters, and in words."""
    foot = scene.units == "us"
    unit, name = (FOOT, "ft") if foot else (1.0, "m")
    room = 70 if scene.narrow else 110
    sizes = [n for n in NICE if n >= 1.0 or not foot]
    fitting = [n for n in sizes if n * unit * scene.scale <= room]
    length = fitting[-1] if fitting else sizes[0]
    return length * unit, f"{length:g} {name}"


def _bar(scene: Scene, base: float) -> None:
    meters, label = _bar_length(scene)
    long = meters * scene.scale
    right = scene.sheet.width - 10
    y = base + 10
    sheet = scene.sheet
    sheet.line((right - long, y), (right, y), width=1.4)
    sheet.path("".join(f"M{right - long * k / 4:.1f} {y:.1f}v-5" for k in range(5)), None, "ink", 1)
    sheet.write(right, y - 8, label, "end")
    if long > wide(label, sheet.size) + 16:
        sheet.write(right - long, y - 8, "0", "start")


def sentence(scene: Scene) -> str:
    """What the drawing shows, in words."""
    tank = scene.system.places["tank"]
    worst = worst_part(tuple(scene.parts.values()))
    many = f"{tank.count} tanks" if tank.count > 1 else "One tank"
    lifted = (
        " The bed of the filter is higher than the fall from settler to sump: it needs a lift of its own."
        if scene.system.lifted
        else ""
    )
    return (
        f"{many} {scene.said('tank.width')} across with {scene.said('tank.depth')} of water;"
        f" {scene.said('pump.flow')} flows. Look first at: {worst.label.lower()},"
        f" {scene.state(worst.name)}. A person of {scene.length(PERSON)} stands beside for scale.{lifted}"
    )
