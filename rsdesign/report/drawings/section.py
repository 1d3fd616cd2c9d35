"""The side section: parts in the way of the water on their floor, pipes as wide as their bore."""

from itertools import pairwise

from . import vessels
from .composition import Scene
from .places import Place, one


def section(scene: Scene) -> None:
    """Everything of the side section, from the earth up."""
    _earth(scene)
    _drain(scene)
    _between(scene)
    for place in scene.system.places.values():
        scene.begin(place.name, place.part, place.stage)
        DRAWN[place.name](scene, place)
        scene.finish()
    _overflow(scene)
    _return_pipe(scene)


def _earth(scene: Scene) -> None:
    sheet, s = scene.sheet, scene
    sheet.rect(0, s.ground, sheet.width, s.low - s.ground, s.pattern("earth"), None)
    sheet.line((0, s.ground), (sheet.width, s.ground), stroke="ink", width=1)


def _air(scene: Scene, place: Place) -> None:
    _machines(scene, place, one(scene.sizing.air.count) <= 0)
    tank = scene.system.places["tank"]
    head = scene.y(tank.rim) - 5
    mid = place.x + place.wide * scene.scale / 2
    if one(scene.sizing.air.stones) > 0:
        last = scene.edges(tank)[-1]
        scene.sheet.line(
            (mid, scene.y(place.rim)), (mid, head), (last, head), stroke="line-air", width=2
        )


def _machines(scene: Scene, place: Place, still: bool) -> None:
    wide, rim = place.wide * scene.scale, scene.y(place.rim)
    use, width, dash = scene.outline(place.part)
    fill = scene.hatch(place.part) or "air"
    scene.sheet.rect(place.x, rim, wide, scene.ground - rim, "paper" if still else "air", None)
    scene.sheet.rect(place.x, rim, wide, scene.ground - rim, None if still else fill, use, width,
                     "3 3" if still else dash)  # fmt: skip
    r = min(wide, scene.ground - rim) * 0.28
    scene.sheet.circle(place.x + wide / 2, (rim + scene.ground) / 2, r, "paper", "ink", 1)


def _filter_air(scene: Scene, place: Place) -> None:
    _machines(scene, place, False)
    bed = scene.system.places["filter"]
    mid, foot = place.x + place.wide * scene.scale / 2, scene.y(bed.floor) - 3
    over = scene.y(bed.rim) - 5
    for x in scene.edges(bed):
        right = x + bed.wide * scene.scale
        scene.sheet.line((mid, scene.y(place.rim)), (mid, over), (right - 4, over), (right - 4, foot),
                         (x + 4, foot), stroke="line-air", width=1.4)  # fmt: skip


def _return_pipe(scene: Scene) -> None:
    sump, tank = scene.system.places["sump"], scene.system.places["tank"]
    scene.begin("return pipe", "pump", "pump")
    width = scene.bore(scene.sizing.pump.pipe)
    up = sump.x + sump.wide * scene.scale * 0.4
    top = scene.y(vessels.run_height(scene))
    lifted = scene.sizing.design.pump.kind == "airlift"
    inlets = [x + tank.wide * scene.scale * 0.16 for x in scene.edges(tank)]
    foot = scene.y(sump.floor) - 4
    scene.sheet.line((up, foot), (up, top), (inlets[0], top), stroke="line-water", width=width,
                     dash="7 4" if lifted else "")  # fmt: skip
    scene.sheet.block(inlets[0], top - width / 2 - 2, up, top + width / 2 + 2)
    scene.sheet.block(up - width / 2 - 2, top, up + width / 2 + 2, foot)
    for x in inlets:
        scene.sheet.arrow(x, top, x, scene.y(tank.level) - 1, "line-water", width, max(7.0, width))
    scene.finish()


def _drain(scene: Scene) -> None:
    places = scene.system.places
    tank = places["tank"]
    after = list(places.values())[2]
    scene.begin("drain", "drain", "pump")
    depth = scene.ground + max(0.12 * scene.scale, 7.0)
    mids = [x + tank.wide * scene.scale / 2 for x in scene.edges(tank)]
    centered = after.shape in ("radial", "swirl")
    into = after.x + after.wide * scene.scale * (0.5 if centered else 0.08)
    top = min(scene.y(after.level) + 5, depth)
    width = scene.bore(scene.sizing.pump.drain_pipe)
    use, _, dash = scene.outline("drain")
    use = use if dash else "line-solids"
    places_down = "".join(f"M{x:.1f} {scene.ground:.1f}V{depth:.1f}" for x in mids)
    scene.sheet.block(mids[0], scene.ground, into, depth + width / 2)
    scene.sheet.path(f"{places_down}M{mids[0]:.1f} {depth:.1f}H{into:.1f}V{top:.1f}", None, use, width,
                     dash)  # fmt: skip
    scene.finish()


def _overflow(scene: Scene) -> None:
    """The standpipe that keeps the level, its mouth so far under the water as it needs."""
    tank = scene.system.places["tank"]
    scene.begin("overflow", "overflow", "pump")
    width = scene.bore(scene.sizing.pump.standpipe, 3.0)
    mouth = scene.y(tank.level - one(scene.sizing.design.pump.standpipe_head))
    use, _, dash = scene.outline("overflow")
    for x in scene.edges(tank):
        at = x + tank.wide * scene.scale * 0.92
        scene.sheet.rect(
            at - width / 2, mouth, width, scene.ground - mouth, "paper", use, 1.2, dash and "3 2"
        )
    scene.finish()


def _between(scene: Scene) -> None:
    """Pipes from vessel to vessel, by gravity."""
    chain = [scene.system.places[n] for n in ("settler", "screen", "filter", "plants", "sump")
             if n in scene.system.places]  # fmt: skip
    width = scene.bore(scene.sizing.pump.drain_pipe)
    for one_place, other in pairwise(chain):
        right, left = one_place.x + scene.long(one_place), other.x
        trickles = scene.sizing.design.filter.type == "trickling"
        start = (
            one_place.floor + 0.02 if one_place.name == "filter" and trickles else one_place.level
        )
        out = scene.y(start) + 3
        into = scene.y(other.level) + 3
        if other.name == "filter" and trickles:
            into, left = scene.y(other.rim) - 6, left + 2
        mid = (right + left) / 2
        scene.sheet.block(right, min(out, into), left, max(out, into))
        scene.sheet.line((right - 2, out), (mid, out), (mid, into), (left + 2, into), stroke="line-water",
                         width=width)  # fmt: skip


DRAWN = {
    "tank": vessels.tank, "settler": vessels.settler, "screen": vessels.screen,
    "filter": vessels.filter_vessels, "plants": vessels.plant_beds, "sump": vessels.sump,
    "air": _air, "filter air": _filter_air,
}  # fmt: skip
