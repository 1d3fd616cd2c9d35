"""The plan view: the same parts from above on the same scale, flows as wide as they are big."""

from itertools import pairwise

from .composition import LANE, Scene
from .fish_shapes import ABOVE, box_places, fish_length, fish_shape, round_places
from .hatch import MEDIA
from .look import colour
from .places import Place, cut_square, octagon, one, whole
from .vessels import cut_mark

MOST_FISH = 240
"""Fish drawn in the plan of all tanks together."""
MOST_STONES = 48
"""Stones drawn in one tank."""
BAND = 6.0
"""Width of the whole flow [px]; other flows are as much narrower as they are smaller."""


def overhead(scene: Scene) -> None:
    """Everything of the plan view."""
    places = scene.system.places
    _returns(scene)
    for place in places.values():
        scene.begin(place.name, place.part, place.stage)
        DRAWN.get(place.name, _boxes)(scene, place)
        scene.finish()
    _flows(scene)


def band(scene: Scene, flow, least: float = 1.0) -> float:
    """Width of a flow [px]."""
    system = max(one(scene.sizing.pump.flow), 1e-9)
    most = BAND * (0.7 if scene.narrow else 1.0)
    return min(max(most * one(flow) / system, least), 1.5 * most)


def floor_plan(scene: Scene, place: Place, x: float, y: float, fill, use="ink", width=1.6, dash=""):
    """The outline of one vessel from above, its middle at a point."""
    sheet, s = scene.sheet, scene.scale
    half, long = place.deep * s / 2, place.wide * s / 2
    if place.shape in ("round", "radial", "swirl"):
        sheet.circle(x, y, half, fill, use, width, dash)
    elif place.shape in ("octagon", "cut square"):
        corners = (octagon if place.shape == "octagon" else cut_square)(x, y, half)
        d = "M" + "L".join(f"{a:.1f} {b:.1f}" for a, b in corners) + "Z"
        sheet.path(d, fill, use, width, dash)
    else:
        sheet.rect(x - long, y - half, 2 * long, 2 * half, fill, use, width, dash)


def _state(scene: Scene, place: Place, x: float, y: float) -> None:
    long, half = place.wide * scene.scale / 2, place.deep * scene.scale / 2
    scene.sheet.block(x - long, y - half, x + long, y + half)
    shade = scene.hatch(place.part)
    floor_plan(scene, place, x, y, shade, *scene.outline(place.part))


def _each(scene: Scene, place: Place):
    """Middles of the vessels of a place, no more than there are."""
    found = [
        (x + place.wide * scene.scale / 2, y)
        for y in scene.row_centers(place)
        for x in scene.edges(place)
    ]
    return found[: place.count]


def _tanks(scene: Scene, place: Place) -> None:
    half = place.deep * scene.scale / 2
    name = f"{scene.key}-tank"
    _inside(scene, place, name)
    for k, (x, y) in enumerate(_each(scene, place)):
        floor_plan(scene, place, x, y, "water", None)
        _state(scene, place, x, y)
        turn = f" rotate({47 * k})" if k and place.shape == "round" else ""
        scene.sheet.marks.append(
            f'<use href="#{name}" transform="translate({x:.1f} {y:.1f}){turn}"/>'
        )
        if place.cut:
            cut_mark(scene, x, y - half - 4, y + half + 4)


def _inside(scene: Scene, place: Place, name: str) -> None:
    """Fish, stones and drain of one tank around its middle, defined once for all tanks."""
    sizing, sheet = scene.sizing, scene.sheet
    shape = fish_shape(sizing.design.stock.species)
    long = fish_length(one(sizing.design.goal.weight), shape) * scene.scale
    half, shown = place.deep * scene.scale / 2, fish_shown(scene, place)
    if place.shape == "rectangle":
        wide = max(place.wide * scene.scale - long, 1.0)
        at = box_places(-wide / 2, -half * 0.85, wide, half * 1.7, shown)
    else:
        at = round_places(0.0, 0.0, max(half - long * 0.4, 1.0), shown)
    sheet.marks.append("<defs>")
    sheet.group(id=name)
    scene.fish(at, ABOVE, long, long * shape.broad, 0.3)
    _stones(scene, place, 0.0, 0.0)
    bore = scene.bore(sizing.pump.drain_pipe, 5.0)
    sheet.circle(0.0, 0.0, max(bore / 2, 3.0), "paper", "ink", 1.2)
    sheet.end()
    sheet.marks.append("</defs>")


def fish_shown(scene: Scene, place: Place) -> int:
    """Fish drawn in each tank of the plan."""
    each = int(one(scene.sizing.stock.fish) * one(scene.sizing.stock.cohorts) / place.count + 0.5)
    drawn = min(place.count, place.rows * place.columns)
    return max(1, min(each, MOST_FISH // drawn))


def _stones(scene: Scene, place: Place, x: float, y: float) -> None:
    count = whole(scene.sizing.air.stones) // place.count if one(scene.sizing.air.stones) > 0 else 0
    shown = min(count, MOST_STONES)
    if not shown:
        return
    half, r = place.deep * scene.scale / 2, max(0.04 * scene.scale, 1.5)
    if place.shape == "rectangle":
        spots = box_places(x - place.wide * scene.scale / 2 + 4, y - half + 4,
                           place.wide * scene.scale - 8, 2 * half - 8, shown)  # fmt: skip
        scene.sheet.dots([(a, b) for a, b, _ in spots], r, "line-air")
    else:  # a ring of dots along the wall: a circle dashed so many times
        ring = f'<circle cx="{x:.1f}" cy="{y:.1f}" r="{half * 0.92:.1f}" pathLength="{shown}"'
        style = f"fill:none;stroke:{colour('line-air')};stroke-width:{2 * r:.1f}"
        scene.sheet.marks.append(
            f'{ring} stroke-dasharray="0 1" stroke-linecap="round" style="{style}"/>'
        )


def _settler(scene: Scene, place: Place) -> None:
    x, y = scene.center(place), scene.middle
    floor_plan(scene, place, x, y, "water", None)
    _state(scene, place, x, y)
    half = place.deep * scene.scale / 2
    sheet = scene.sheet
    if place.shape == "radial":
        sheet.circle(x, y, half * 0.32, None, "ink", 1)
    elif place.shape == "swirl":
        sheet.path(f"M{x:.1f} {y - half * 0.75:.1f}a{half * 0.75:.1f} {half * 0.75:.1f} 0 1 1 {-half * 0.7:.1f} {half * 0.5:.1f}",
                   None, "line-water", 1.4)  # fmt: skip
    else:
        for at in (-0.35, 0.38):
            a = x + at * place.wide * scene.scale
            sheet.line((a, y - half), (a, y + half), width=1)


def _filled(scene: Scene, place: Place, inside: str) -> None:
    for x, y in _each(scene, place):
        floor_plan(scene, place, x, y, "water", None)
        floor_plan(scene, place, x, y, scene.pattern(inside), None)
        _state(scene, place, x, y)


def _filter(scene: Scene, place: Place) -> None:
    _filled(scene, place, MEDIA[scene.sizing.design.filter.type])


def _screen(scene: Scene, place: Place) -> None:
    _filled(scene, place, "stones" if scene.sizing.design.solids.second == "media" else "mat")


def _plants(scene: Scene, place: Place) -> None:
    _filled(scene, place, "plants")
    if place.cut:
        half = place.deep * scene.scale / 2
        cut_mark(scene, scene.center(place), scene.middle - half - 4, scene.middle + half + 4)


def _sump(scene: Scene, place: Place) -> None:
    x, y = scene.center(place), scene.middle
    floor_plan(scene, place, x, y, "water", None)
    _state(scene, place, x, y)
    up = place.x + place.wide * scene.scale * 0.4
    r = max(0.09 * scene.scale, 4.0)
    scene.sheet.circle(
        up, y, r, "paper" if scene.sizing.design.pump.kind == "airlift" else "ink", "ink", 1.4
    )


def _boxes(scene: Scene, place: Place) -> None:
    """Air machines: those that run are full, spare ones are dashed."""
    spots = _each(scene, place)
    if place.name == "filter air":  # beside the pipe that leaves the filter
        up = place.deep * scene.scale / 2 + BAND + 6
        spots = [(x, y + up) for x, y in spots]
    running = one(scene.sizing.bed.count if place.name == "filter air" else scene.sizing.air.count)
    still = len(spots) - min(int(running + 0.5), len(spots)) if place.count == len(spots) else 0
    for k, (x, y) in enumerate(spots):
        if k >= len(spots) - still:
            floor_plan(scene, place, x, y, "paper", "ink", 1.2, "3 3")
        else:
            floor_plan(scene, place, x, y, "air", None)
            _state(scene, place, x, y)
    _air_line(scene, place, spots)


def _air_line(scene: Scene, place: Place, spots) -> None:
    if not spots:
        return
    towards = scene.system.places["filter" if place.name == "filter air" else "tank"]
    x, y = spots[0]
    if place.name == "filter air":
        mid = scene.center(towards)
        inside = scene.middle + scene.broad(towards) * 0.25
        scene.sheet.line((x, y), (mid, y), (mid, inside), stroke="line-air", width=1.8)
    elif one(scene.sizing.air.stones) > 0:
        for row in scene.row_centers(towards):
            scene.sheet.line((x, y), (x, row), (towards.x + 3, row), stroke="line-air", width=1.8)


def _flows(scene: Scene) -> None:
    """From vessel to vessel along the middle; under the floor dashed."""
    names = ("settler", "screen", "filter", "plants", "sump")
    chain = [scene.system.places[n] for n in names if n in scene.system.places]
    tank = scene.system.places["tank"]
    width = band(scene, scene.sizing.pump.flow)
    first = chain[0]
    into = scene.center(first) if first.shape in ("radial", "swirl") else first.x + 6
    rows, edges = scene.row_centers(tank), scene.edges(tank)
    half = tank.wide * scene.scale / 2
    downs = "".join(
        f"M{x + half:.1f} {r:.1f}V{scene.middle:.1f}" for x in edges for r in rows if len(rows) > 1
    )
    start = edges[0] + half
    scene.begin("drain", "drain", "pump")
    use = "short" if scene.state("drain") == "short" else "line-solids"
    scene.sheet.path(
        f"{downs}M{start:.1f} {scene.middle:.1f}H{into - 8:.1f}", None, use, width * 0.7, "6 4"
    )
    scene.sheet.arrow(into - 10, scene.middle, into, scene.middle, use, width * 0.7, 9)
    scene.finish()
    for place, other in pairwise(chain):
        right, left = place.x + scene.long(place), other.x
        head = min(9.0, (left - right) * 0.8)
        scene.sheet.arrow(
            right, scene.middle, left, scene.middle, "line-water", min(width, 8), head
        )


def _returns(scene: Scene) -> None:
    """From the pump back to every tank: along the top, then a branch over each row."""
    tank, sump = scene.system.places["tank"], scene.system.places["sump"]
    rows, edges = scene.row_centers(tank), scene.edges(tank)
    half, long, sheet = tank.deep * scene.scale / 2, tank.wide * scene.scale, scene.sheet
    flow = band(scene, scene.sizing.pump.flow)
    up = sump.x + sump.wide * scene.scale * 0.4
    lanes = [row - half - LANE / 2 for row in rows]
    side = tank.x - (5 if scene.narrow else 10)
    scene.begin("return pipe", "pump", "pump")
    far = tank.x + long * 0.3 if len(rows) == 1 else side
    sheet.line((up, scene.middle), (up, lanes[0]), (far, lanes[0]), stroke="line-water", width=flow)
    sheet.block(far, lanes[0] - flow / 2, up + flow / 2, lanes[0] + flow / 2)
    sheet.block(up - flow / 2, lanes[0], up + flow / 2, scene.middle)
    share = max(flow / len(rows), 1.6)
    for k, (row, lane) in enumerate(zip(rows, lanes, strict=True)):
        if k:
            sheet.line((side, lanes[k - 1]), (side, lane), (edges[-1] + long * 0.3, lane), stroke="line-water",
                       width=max(flow * (len(rows) - k) / len(rows), 1.6))  # fmt: skip
        sheet.block(side - 3, lanes[0], side + 3, lane)
        sheet.block(min(side, far), lane - 3, edges[-1] + long * 0.3, lane + 3)
        for x in edges[: tank.count - k * len(edges)]:
            a = x + long * 0.3
            sheet.arrow(
                a, lane, a, row - half * 0.65, "line-water", max(share / len(edges), 1.6), 7
            )
    scene.finish()


DRAWN = {
    "tank": _tanks, "settler": _settler, "screen": _screen, "filter": _filter, "plants": _plants,
    "sump": _sump,
}  # fmt: skip
