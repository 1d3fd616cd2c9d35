"""Vessels of the side section, cut open: wall, water, what lies in it and how it stands."""

from .composition import Scene
from .fish_shapes import SIDE, box_places, fish_length, fish_shape
from .hatch import MEDIA
from .places import CONE, Place, one, whole

SLICE = 0.3
"""Fish shown in the section are those of a slice of the tank so thick [m]."""
MOST_FISH = 60
"""Fish drawn in one tank of the section."""
DROPS = 5
"""Air hoses drawn in one tank; the stones are counted in the plan."""


def vessel(scene: Scene, x: float, place: Place, inside: str | None = None, full: float = 0.0):
    """One vessel cut open: water, what lies in it, how it stands, its wall and its water level."""
    sheet, wide = scene.sheet, place.wide * scene.scale
    rim, level, floor = scene.y(place.rim), scene.y(place.level), scene.y(place.floor)
    sheet.rect(x, rim, wide, floor - rim, "paper", None)
    sheet.block(x, rim, x + wide, floor)
    if place.level > place.floor and full >= 0.0:
        sheet.rect(x, level, wide, floor - level, "water", None)
    if inside:
        top = floor - (floor - level) * abs(full)
        sheet.rect(x, top, wide, floor - top, scene.pattern(inside), None)
    shade = scene.hatch(place.part)
    if shade:
        sheet.rect(x, level, wide, floor - level, shade, None)
    use, width, dash = scene.outline(place.part)
    sheet.line((x, rim), (x, floor), (x + wide, floor), (x + wide, rim), stroke=use, width=width,
               dash=dash)  # fmt: skip


def _surface(scene: Scene, x: float, place: Place) -> None:
    y, wide = scene.y(place.level), place.wide * scene.scale
    scene.sheet.line((x, y), (x + wide, y), stroke="line-water", width=1.2)
    if wide > 16:
        scene.level_mark(x + wide * 0.8, y)


def tank(scene: Scene, place: Place) -> None:
    """The tanks: fish of a slice, stones on their hoses, the surface."""
    sizing = scene.sizing
    shape = fish_shape(sizing.design.stock.species)
    long = fish_length(one(sizing.design.goal.weight), shape)
    each = one(sizing.stock.fish) * one(sizing.stock.cohorts) / place.count
    shown = min(int(each * SLICE / place.deep + 0.5), MOST_FISH)
    for x in scene.edges(place):
        vessel(scene, x, place)
        wide, pad = place.wide * scene.scale, long * scene.scale / 2
        tall = place.level * scene.scale - 2 * pad
        spots = box_places(x + pad, scene.y(place.level) + pad, max(wide - 2 * pad, 1.0),
                           max(tall, 1.0), shown)  # fmt: skip
        tall_fish = long * shape.deep * scene.scale
        scene.fish(spots, SIDE, long * scene.scale, tall_fish, 0.4)
        _stones(scene, x, place)
        _surface(scene, x, place)
        if place.cut:
            cut_mark(scene, x + wide / 2, scene.y(place.rim) - 4, scene.y(0) + 4)


def cut_mark(scene: Scene, x: float, top: float, bottom: float) -> None:
    """Two lines that say: drawn shorter than it is."""
    mid = (top + bottom) / 2
    for at in (x - 3, x + 3):
        d = f"M{at:.1f} {top:.1f}V{mid - 6:.1f}l-5 3l10 6l-5 3V{bottom:.1f}"
        scene.sheet.path(d, None, "ink", 1)


def _stones(scene: Scene, x: float, place: Place) -> None:
    """Air hoses from the header over the tank, each with its stone and bubbles."""
    sizing, sheet = scene.sizing, scene.sheet
    count = min(whole(sizing.air.stones) // place.count, DROPS)
    if one(sizing.air.stones) <= 0 or count < 1:
        return
    wide = place.wide * scene.scale
    head, foot = scene.y(place.rim) - 5, scene.y(place.level - one(sizing.air.stone_depth))
    spots = [x + wide * (k + 0.5) / count for k in range(count)]
    sheet.path(f"M{x:.1f} {head:.1f}H{x + wide:.1f}" + "".join(f"M{a:.1f} {head:.1f}V{foot:.1f}" for a in spots),
               None, "line-air", 1.4)  # fmt: skip
    size = max(0.05 * scene.scale, 3.0)
    sheet.path("".join(f"M{a - size:.1f} {foot:.1f}h{2 * size:.1f}v{size:.1f}h{-2 * size:.1f}z" for a in spots),
               "soft", None)  # fmt: skip
    surface = scene.y(place.level)
    bubbles = [
        (a + (3, -3, 1)[k], foot - (foot - surface) * (k + 1) / 4) for a in spots for k in range(3)
    ]
    sheet.dots(bubbles, 1.1, "line-water")


def settler(scene: Scene, place: Place) -> None:
    """The settler with its cone or its baffles, and the sludge that it caught."""
    sheet, x, wide = scene.sheet, place.x, place.wide * scene.scale
    rim, level, floor = scene.y(place.rim), scene.y(place.level), scene.y(place.floor)
    box = place.shape == "box"
    knee = floor if box else floor - min((floor - level) * CONE, wide * 0.45)
    foot = wide / 2 if box else max(wide * 0.06, 2.0)
    mid = x + wide / 2
    low = [(x + wide, knee), (mid + foot, floor), (mid - foot, floor), (x, knee)]
    sheet.poly([(x, rim), (x + wide, rim), *low], "paper", None)
    sheet.block(x, rim, x + wide, floor)
    wet = [(x, level), (x + wide, level), *low]
    sheet.poly(wet, "water", None)
    thick = min(max((floor - knee) * 0.35, 4.0), floor - level)
    reach = foot + (wide / 2 - foot) * (thick / (floor - knee) if floor > knee else 0.0)
    sheet.poly(
        [(mid - reach, floor - thick), (mid + reach, floor - thick), *low[1:3]],
        "sludge",
        "line-solids",
        1,
    )
    shade = scene.hatch(place.part)
    if shade:
        sheet.poly(wet, shade, None)
    use, width, dash = scene.outline(place.part)
    sheet.line((x, rim), *low[::-1], (x + wide, rim), stroke=use, width=width, dash=dash)
    if place.shape == "radial":  # a hood around the inlet sends the water down
        for side in (-1, 1):
            a = mid + side * wide * 0.16
            sheet.line((a, level - 4), (a, level + (floor - level) * 0.35), stroke="ink", width=1)
    elif box:
        for at, top, end in ((0.15, -4, 0.6), (0.88, -4, 0.3)):
            sheet.line((x + wide * at, level + top), (x + wide * at, level + (floor - level) * end),
                       stroke="ink", width=1)  # fmt: skip
    _surface(scene, x, place)


def screen(scene: Scene, place: Place) -> None:
    """The second screen."""
    second = scene.sizing.design.solids.second
    vessel(scene, place.x, place, "stones" if second == "media" else "mat", 0.8)
    _surface(scene, place.x, place)


def filter_vessels(scene: Scene, place: Place) -> None:
    """The filter, filled with its media as far as they reach."""
    kind = scene.sizing.design.filter.type
    fill = one(scene.sizing.filter.media_volume) / max(one(scene.sizing.filter.vessel), 1e-9)
    trickling = kind == "trickling"
    share = {"moving bed": 1.0, "trickling": -1.0}.get(kind, min(fill, 1.0) * 0.85)
    for x in scene.edges(place):
        vessel(scene, x, place, MEDIA[kind], share)
        if trickling:
            _spray(scene, x, place)
        else:
            _surface(scene, x, place)


def _spray(scene: Scene, x: float, place: Place) -> None:
    wide, top = place.wide * scene.scale, scene.y(place.rim)
    drops = "".join(f"M{x + wide * k / 6:.1f} {top - 5:.1f}v9" for k in range(1, 6))
    scene.sheet.line((x + 2, top - 6), (x + wide - 2, top - 6), stroke="line-water", width=2)
    scene.sheet.path(drops, None, "line-water", 1.2, "2 2")
    scene.sheet.rect(x, scene.y(place.floor), wide, 3, "water", "ink", 0.8)
    if place.floor > 0.05:  # it stands on legs
        for at in (x + 2, x + wide - 2):
            scene.sheet.line((at, scene.y(place.floor) + 3), (at, scene.ground), width=1.4)


def plant_beds(scene: Scene, place: Place) -> None:
    """The plant beds on the water."""
    x, wide = place.x, place.wide * scene.scale
    vessel(scene, x, place)
    level = scene.y(place.level)
    step = max(0.22 * scene.scale, 9.0)
    count = max(int(wide / step), 1)
    tall = max(0.22 * scene.scale, 8.0)
    leaves = "".join(
        f"M{x + (k + 0.5) * wide / count:.1f} {level - 2:.1f}v{-tall * 0.5:.1f}q{-tall * 0.5:.1f} 0 {-tall * 0.5:.1f} {-tall * 0.5:.1f}"
        f"q{tall * 0.5:.1f} 0 {tall * 0.5:.1f} {tall * 0.5:.1f}q0 {-tall * 0.5:.1f} {tall * 0.5:.1f} {-tall * 0.5:.1f}q0 {tall * 0.5:.1f} {-tall * 0.5:.1f} {tall * 0.5:.1f}"
        for k in range(count)
    )
    scene.sheet.path(leaves, "plants", "line-filter", 1)
    scene.sheet.rect(x + 1, level - 3, wide - 2, 4, "plants", "line-filter", 0.8)
    if place.floor > 0.05:
        for at in (x + 2, x + wide - 2):
            scene.sheet.line((at, scene.y(place.floor)), (at, scene.ground), width=1.4)
    if place.cut:
        cut_mark(scene, x + wide / 2, level - tall - 4, scene.y(place.floor) + 3)


def sump(scene: Scene, place: Place) -> None:
    """The sump with the pump or the airlift, and how far it rises when the pump stops."""
    sheet, x, wide = scene.sheet, place.x, place.wide * scene.scale
    vessel(scene, x, place)
    rise = scene.y(place.rim - 0.05)
    sheet.line((x, rise), (x + wide, rise), stroke="line-water", width=0.8, dash="4 3")
    _surface(scene, x, place)
    mid, floor = x + wide * 0.4, scene.y(place.floor)
    if scene.sizing.design.pump.kind == "airlift":
        pipe = scene.bore(scene.sizing.design.pump.airlift_pipe, 5.0)
        top = scene.y(run_height(scene))
        sheet.rect(mid - pipe / 2, top, pipe, floor - 4 - top, "water", "line-water", 1.4)
        spots = [(mid + (1.5, -1.5)[k % 2], top + (floor - 8 - top) * k / 9) for k in range(1, 10)]
        sheet.dots(spots, 1.1, "line-water")
        tank = scene.system.places["tank"]
        head = scene.y(tank.rim) - 5
        end = scene.edges(tank)[-1] + tank.wide * scene.scale
        sheet.line((end, head), (mid + pipe, head), (mid + pipe, floor - 6), (mid + 1, floor - 6),
                   stroke="line-air", width=1.4)  # fmt: skip
        return
    size = min(max(0.22 * scene.scale, 7.0), wide * 0.5)
    sheet.rect(mid - size / 2, floor - size * 0.8 - 2, size, size * 0.8, "ink", None)


def run_height(scene: Scene) -> float:
    """Height of the return pipe: over all rims, but an airlift only lifts to the tank's water."""
    if scene.sizing.design.pump.kind == "airlift":
        return scene.system.tank_level + 0.03
    return scene.system.run
