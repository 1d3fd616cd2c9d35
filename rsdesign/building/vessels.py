"""The vessels of a layout: inside sizes, levels and heights over the finished floor."""

import math

from ..sizing.system import Sizing
from .graph import Vessel
from .levels import Levels, bed_shape, stands_in_sump
from .rules import nominal, pipe_part, rule, single, stock_wall
from .run_down import least_rise, lip_depth, overflow_size

BOXES = ("IBC tote", "media bag")
"""Owned filter vessels that are boxes; the others are round."""


def vessels(s: Sizing, at: Levels, names: tuple[str, ...], need: float = 0.0) -> tuple[Vessel, ...]:
    """Every vessel in the way of the water, holes not drilled yet.

    ``need``: room that the sump has to have over its water, where that is more than the sizing counts [m³].
    """
    found = [_tank(s, at)]
    found += [MADE[name](s, at) for name in names if name != "sump"]
    return (*found, _sump(s, at, stands_in_sump(s, names), need))


def _tank(s: Sizing, at: Levels) -> Vessel:
    t, shape = s.tank, s.design.tank.shape
    width = single(t.width, "the tank")
    long = single(t.length, "the tank") if shape == "rectangle" else width
    depth = single(t.depth, "the tank")
    return Vessel(
        "tank", "tank", "fish tank", int(single(s.stock.tanks, "the tanks")),
        "box" if shape == "rectangle" else shape, width, long, depth, at.into["tank"], 0.0,
        stock_wall(single(t.wall, "the wall")), volume=single(t.volume_each, "the tank"),
    )  # fmt: skip


def _settler(s: Sizing, at: Levels) -> Vessel:
    kind, area = s.design.solids.settler, single(s.solids.area, "the settler")
    depth, level = float(s.design.solids.depth), at.into["settler"]
    cone, steep = 0.0, False
    if kind == "basin":
        across = math.sqrt(area / rule("basin sides"))
        long, shape = rule("basin sides") * across, "box"
    else:
        across = long = single(s.solids.across, "the settler")
        shape = "round"
        steep = across <= rule("cone widest") + 1e-9
        cone = across / 2 * (rule("cone slope") if steep else rule("floor slope"))
    floor = level - depth
    part = pipe_part(nominal(rule("sludge pipe")))
    under = part.lay + 2.0 * float(part.socket) + float(part.outside_diameter) / 2 if steep else 0.0
    return Vessel(
        "settler", kind, f"{'box' if kind == 'basin' else kind} settler", 1, shape, across, long, depth,
        level, floor, floor + stock_wall(depth + rule("free wall")), cone,
        volume=area * (depth + cone / 3), under=under,
    )  # fmt: skip


def outlet_depth(at: Levels, name: str) -> float:
    """Depth of water under which a hole, an elbow turned up and its lip fit [m]."""
    deep = 0.0
    for link in (one for one in at.links if one.source == name):
        size = nominal(link.inside)
        lip = lip_depth(link) + least_rise(size)
        edge = float(pipe_part(size).bulkhead_hole) / 2 + rule("wall under a hole")
        deep = max(deep, at.into[name] - at.out[name] + lip + edge)
    return deep


def _screen(s: Sizing, at: Levels) -> Vessel:
    level, deep = at.into["screen"], max(rule("mat depth"), outlet_depth(at, "screen"))
    flow = single(s.pump.flow, "the flow")
    wide = max(flow / rule("mat speed") / rule("mat depth"), rule("sump least"))
    floor = level - deep
    return Vessel(
        "screen", s.design.solids.second, "box of the second screen", 1,
        "box", wide, rule("mat length"), deep, level, floor,
        floor + stock_wall(deep + rule("free wall")), volume=wide * rule("mat length") * deep,
    )  # fmt: skip


def _filter(s: Sizing, at: Levels) -> Vessel:
    f, kind = s.filter, s.design.filter
    count = int(single(f.vessels, "the filter"))
    depth, section = single(f.depth, "the filter"), single(f.cross_section, "the filter") / count
    box = kind.vessel in BOXES
    side = math.sqrt(section) if box else single(f.across, "the filter")
    shape = "box" if box else "round"
    if kind.type == "trickling":
        top = at.into["filter"] - rule("drip pan")
        grate = top - depth
        return Vessel(
            "filter", kind.type, "trickling filter", count, shape, side, side, depth, top, grate,
            at.into["filter"] + 0.5 * rule("free wall"), inlet=at.into["filter"], stands_in="sump",
        )  # fmt: skip
    level = at.into["filter"]
    floor = level - depth
    rim = floor + stock_wall(depth + rule("free wall"))
    return Vessel("filter", kind.type, f"{kind.type} filter", count, shape, side, side, depth, level,
                  floor, rim, volume=section * depth)  # fmt: skip


def _plants(s: Sizing, at: Levels) -> Vessel:
    area = float(s.design.filter.plants)
    count, wide, long = bed_shape(area)
    level, deep = at.into["plants"], max(rule("bed depth"), outlet_depth(at, "plants"))
    floor = level - deep
    return Vessel(
        "plants", s.design.filter.plant_bed, f"plant bed ({s.design.filter.plant_bed})", count, "box",
        wide, long, deep, level, floor, level + rule("bed free"),
        volume=area / count * deep,
    )  # fmt: skip


def _sump(s: Sizing, at: Levels, under_tower: bool, need: float) -> Vessel:
    level, water = at.into["sump"], rule("sump water")
    if s.design.pump.kind == "airlift":
        water = max(water, single(s.tank.depth, "the tank"))  # the airlift's pipe stands so deep
    told = s.design.pump.sump_spare
    room = max(single(s.pump.drain_down, "the sump"), need) if told is None else float(told)
    floor_area = max(room / rule("sump rise"), rule("sump least") ** 2)
    side = math.sqrt(floor_area)
    if under_tower:
        side = max(side, math.sqrt(single(s.filter.cross_section, "the filter") / 0.75))
    if s.design.filter.vessel == "media bag":
        side = max(side, math.sqrt(single(s.filter.cross_section, "the filter")))
    floor = level - water
    part = pipe_part(nominal(overflow_size()))
    edge = overflow_size() / 2 + float(part.bulkhead_hole) / 2 + rule("wall under a hole")
    rim = floor + stock_wall(water + rule("sump rise") + max(rule("sump free"), edge))
    return Vessel("sump", "sump", "sump", 1, "box", side, side, water, level, floor, rim,
                  volume=side * side * water)  # fmt: skip


MADE = {"settler": _settler, "screen": _screen, "filter": _filter, "plants": _plants}
