"""What is written on the scene: how each part stands, dimensions that a builder cuts, levels, legend."""

from ...core.kinds import KINDS
from ...core.units import show
from .composition import NAMES, Scene
from .hatch import OUTLINES, short_name
from .labels import spread, wide
from .places import one

ORDER = ("air", "tank", "settler", "screen", "filter", "filter air", "plants", "sump")


def chip_rows(scene: Scene) -> list[list[tuple]]:
    """Names and shares of the parts, in one row or two: (center, width, name, share, part, place)."""
    found = []
    for name in ORDER:
        place = scene.system.places.get(name)
        if place is None or name == "filter air":
            continue
        words = NAMES[name] + (f" × {place.count}" if place.count > 1 else "")
        share = scene.share(place.part)
        if name == "plants":
            share = show(one(scene.sizing.design.filter.plants), KINDS["area"], scene.units)
        size = scene.sheet.size
        mark = 17.0 if place.part in scene.parts and not scene.narrow else 0.0
        long = max(wide(words, size, bold=True), wide(share, size, bold=True) + mark)
        found.append((scene.center(place), long, words, share, place.part, place))
    room = scene.sheet.width - 8
    if sum(chip[1] for chip in found) + 10 * len(found) <= room:
        return [found]
    return [found[::2], found[1::2]]


def chip_height(scene: Scene) -> float:
    """Height of one row of names."""
    return 2 * scene.sheet.size + 8


def chips(scene: Scene, rows: list[list[tuple]], top: float, view: str) -> None:
    """Draws the names, each with its hatch and share, and a thin line to its part."""
    sheet, size = scene.sheet, scene.sheet.size
    for k, row in enumerate(rows):
        y = top + k * chip_height(scene) + size
        centers = spread([c[0] for c in row], [c[1] for c in row], 4, sheet.width - 4, 10)
        for at, (center, _, words, share, part, place) in zip(centers, row, strict=True):
            foot = y + size + 6
            end = scene.y(place.rim) - 3
            if view == "plan":
                end = scene.middle - scene.broad(place) / 2 - 3
            if end > foot:
                sheet.line((at, foot), (at, foot + (end - foot) * 0.25), (center, end), stroke="soft",
                           width=0.7, dash="1 3")  # fmt: skip
            scene.begin(place.name, part, place.stage)
            sheet.write(at, y, words, "middle", bold=True)
            if share:
                _share(scene, at, y + size + 3, share, part)
            sheet.marks.extend(sheet.late)
            sheet.late.clear()
            scene.finish()


def _share(scene: Scene, at: float, y: float, share: str, part: str) -> None:
    """How a part stands, under its name, with its hatch where there is room."""
    bold = scene.state(part) == "short"
    if scene.narrow or not scene.state(part):
        scene.sheet.write(at, y, share, "middle", scene.grade(part), bold)
        return
    left = at - (wide(share, scene.sheet.size, bold) + 17) / 2
    swatch(scene, left, y - scene.sheet.size + 2, scene.state(part))
    scene.sheet.write(left + 17, y, share, "start", scene.grade(part), bold)


def swatch(scene: Scene, x: float, y: float, word: str) -> None:
    """A small field in the hatch of a state."""
    use, width, dash = OUTLINES[word]
    fill = f"url(#{scene.key}-{short_name(word)})"
    scene.sheet.rect(x, y, 13, 10, fill, use, min(width, 1.6), dash and "4 2")


def _across(scene: Scene, x1, x2, y, words: str) -> None:
    """A dimension from side to side with builder's ticks, its words over, under or beside it."""
    sheet = scene.sheet
    mid = (x1 + x2) / 2
    spots = [(mid, y + sheet.size + 2, "middle"), (x2 + 7, y + 4, "start"), (x1 - 7, y + 4, "end")]
    if scene.narrow:  # beside the line it could be that of the next part
        spots[1:] = [(mid, y + sheet.size * 2 + 4, "middle")]
    if sheet.put(spots, words):
        sheet.line((x1, y), (x2, y), width=0.8)
        _ticks(scene, ((x1, y), (x2, y)))


def _upright(scene: Scene, x, y1, y2, words: str, offered=("end", "start"), clear=False):
    """A dimension from top to bottom."""
    sheet = scene.sheet
    mid = (y1 + y2) / 2 + sheet.size * 0.35
    sides = {"start": x + 6, "end": x - 6}
    spots = [(sides[a], mid, a) for a in offered]
    lines = words.count("\n")
    spots = [(a, y - lines * sheet.size / 2, way) for a, y, way in spots]
    low = max(y1, y2) + sheet.size + 3
    spots += [
        (x, low, "middle"),
        (x + 6, low, "end"),
        (x - 6, low, "start"),
        (x + 6, low, "start"),
        (x, min(y1, y2) - 5 - lines * 14, "middle"),
    ]
    if sheet.put(spots, words, clear=clear):
        sheet.line((x, y1), (x, y2), width=0.8)
        _ticks(scene, ((x, y1), (x, y2)))


def _ticks(scene: Scene, points) -> None:
    d = "".join(f"M{x - 4:.1f} {y + 4:.1f}l8-8" for x, y in points)
    scene.sheet.path(d, None, "ink", 1.4)


def section_words(scene: Scene) -> None:
    """Depths, lift, fall, flow and pipes of the section."""
    places, sheet = scene.system.places, scene.sheet
    tank, sump = places["tank"], places["sump"]
    right = scene.edges(tank)[-1] + tank.wide * scene.scale
    x = scene.edges(tank)[0] + tank.wide * scene.scale * 0.3
    _upright(
        scene, x, scene.y(tank.level), scene.ground, scene.length(tank.level), ("start", "end")
    )
    _flow(scene, right, sump)
    at = sump.x + scene.long(sump) + 9
    sheet.line((sump.x + scene.long(sump), scene.y(sump.level)), (at + 5, scene.y(sump.level)), stroke="soft",
               width=0.7)  # fmt: skip
    sheet.line(
        (right, scene.y(tank.level)),
        (at + 5, scene.y(tank.level)),
        stroke="soft",
        width=0.7,
        dash="1 3",
    )
    lift = scene.length(one(scene.sizing.design.pump.lift))
    if scene.narrow:
        lift = lift.replace(" ft ", " ft\n")
    _upright(scene, at, scene.y(tank.level), scene.y(sump.level), f"lift\n{lift}", ("start", "end"))
    _under(scene, tank, right)
    for name in ("filter", "settler"):
        place = places.get(name)
        if place and not scene.narrow:
            depth = place.level - place.floor
            words = scene.length(depth) + (
                " of bed"
                if scene.sizing.design.filter.type == "trickling" and name == "filter"
                else ""
            )
            x = place.x + scene.long(place) + 8
            _upright(
                scene, x, scene.y(place.level), scene.y(place.floor), words, ("start",), clear=True
            )
    if scene.system.lifted:
        bed = places["filter"]
        sheet.put([(bed.x, scene.y(bed.rim) - 12 - k * 14, "start") for k in range(4)]
                  + [(bed.x, scene.y(bed.floor) + 16 + k * 14, "start") for k in range(4)],
                  "bed higher than the fall", "short")  # fmt: skip


def _flow(scene: Scene, right: float, sump) -> None:
    pump = scene.sizing.pump
    y = scene.y(
        scene.system.run
        if scene.sizing.design.pump.kind != "airlift"
        else scene.system.tank_level + 0.03
    )
    flow, pipe = scene.said("pump.flow"), scene.pipe_words(pump.pipe, pump.pipes)
    words = f"{flow}, {pipe}"
    spots = [
        ((right + sump.x) / 2 + shift, y + up, "middle")
        for up in (-7, 17, -22)
        for shift in (0, 40, -40, 90, -90)
    ]
    if not scene.sheet.put(spots, words, "line-water", bold=True):
        scene.sheet.put(spots, flow, "line-water", bold=True)


def _under(scene: Scene, tank, right: float) -> None:
    """The drain, named under the ground."""
    pump = scene.sizing.pump
    depth = scene.ground + max(0.12 * scene.scale, 7.0)
    pipe = scene.pipe_words(pump.drain_pipe, pump.drains)
    fall = scene.length(one(pump.drain_fall))
    stands = f"Drain, {scene.share('drain')}"
    words = [f"{stands}: {pipe}, falls {fall}", f"{stands}: {pipe}", stands]
    if scene.state("overflow") in ("short", "tight"):
        words.insert(0, f"{words[0]}; overflow {scene.share('overflow')}")
    left = scene.edges(tank)[0]
    low = scene.sheet.size
    spots = [
        (max(left + shift, 6), depth + low + down, "start")
        for down in (4, low + 4)
        for shift in (0, 30, 60)
    ]
    nearest = list(scene.system.places.values())[2]
    limit = nearest.x if nearest.floor < -0.1 else scene.sheet.width
    for text in words[1 if scene.narrow else 0 :]:
        fits = [spot for spot in spots if spot[0] + wide(text, scene.sheet.size) < limit - 2]
        if scene.sheet.put(fits, text, scene.grade("drain"), scene.state("drain") == "short"):
            return


def plan_words(scene: Scene) -> None:
    """Distances across, new water, sludge, how many."""
    places = scene.system.places
    # The sump is a picture: no sizing gives its width.
    for name in ("tank", "settler", "filter", "plants"):
        place = places.get(name)
        if place is None or (scene.narrow and name == "plants"):
            continue
        y = scene.middle + scene.broad(place) / 2
        wide_px = place.wide * scene.scale
        x = scene.edges(place)[0]
        length = one(scene.sizing.tank.length) if name == "tank" and place.cut else place.wide
        if not (place.cut and name == "plants"):
            _across(scene, x, x + wide_px, y + 10, scene.length(length))
    tank = places["tank"]
    if tank.shape == "rectangle":
        y = scene.row_centers(tank)[0]
        half = tank.deep * scene.scale / 2
        _upright(
            scene,
            scene.edges(tank)[0] + 12,
            y - half,
            y + half,
            scene.length(tank.deep),
            ("start",),
        )
    _drawn(scene, tank, "tanks")
    _drawn(scene, places.get("filter"), "vessels")
    _spare(scene)
    _sludge(scene)
    _new_water(scene)


def _drawn(scene: Scene, place, what: str) -> None:
    """Says how many are drawn, where there are more."""
    if place is None or place.count <= place.rows * place.columns:
        return
    low = scene.middle + scene.broad(place) / 2
    spots = [(scene.center(place) + shift, low + down, "middle") for down in (38, 24, 52, 66)
             for shift in (0, 60, 120, -60)]  # fmt: skip
    words = f"{place.count} {what}, {place.rows * place.columns} drawn"
    scene.sheet.put(spots, words, bold=True)


def _spare(scene: Scene) -> None:
    place, spare = scene.system.places["air"], int(one(scene.sizing.air.spare))
    if spare and place.count <= place.rows:
        low = scene.middle + scene.broad(place) / 2 + scene.sheet.size + 2
        scene.sheet.put(
            [(scene.center(place), low, "middle"), (place.x, low, "start")], "spare", clear=True
        )


def _sludge(scene: Scene) -> None:
    settler = scene.system.places.get("settler")
    if settler is None:
        return
    x, y = scene.center(settler), scene.middle + scene.broad(settler) / 2
    words = f"sludge {scene.said('solids.sludge', 2)}"
    top = y + (28 if not scene.narrow else 24)
    end = top + 14
    spots = [(x, end + 13, "middle"), (x + 8, end, "start"), (x - 8, end, "end")]
    if scene.sheet.put(spots, words, clear=scene.narrow):
        scene.sheet.arrow(x, top, x, end, "line-solids", 1.5, 8)


def _new_water(scene: Scene) -> None:
    sump = scene.system.places["sump"]
    x = sump.x + scene.long(sump)
    y = scene.middle - scene.broad(sump) / 4
    words = f"new water\n{scene.said('water.exchange', 2)}"
    if scene.narrow:
        words = words.replace(" gal", "\ngal").replace(" L", "\nL").replace(" m³", "\nm³")
    up = y - (words.count("\n") + 0.2) * (scene.sheet.size + 2) - 6
    spots = [(x + 26, y - 3, "start"), (x + 8, up, "start"), (scene.sheet.width - 4, up, "end"),
             (scene.sheet.width - 4, y + 24, "end")]  # fmt: skip
    bad = scene.state("water") in ("short", "tight")
    use = scene.grade("water") if bad else "ink"
    if scene.sheet.put(spots, words, use, bold=scene.state("water") == "short"):
        scene.begin("new water", "water", "water")
        scene.sheet.arrow(x + 22, y, x - 4, y, "line-water", 1.5, 8)
        scene.finish()


def projections(scene: Scene) -> None:
    """Thin lines from every vessel of the section to the same vessel of the plan."""
    for name in ("tank", "settler", "filter"):
        place = scene.system.places.get(name)
        if place is None:
            continue
        low = scene.middle
        for x in (place.x, place.x + scene.long(place)):
            scene.sheet.line(
                (x, scene.y(min(place.floor, 0))), (x, low), stroke="soft", width=0.6, dash="1 4"
            )
