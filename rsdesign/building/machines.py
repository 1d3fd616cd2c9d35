"""Machines by duty, and the air pipes with what makes the bubbles."""

import math

from ..equations.air import aeration
from ..sizing.system import Sizing
from .graph import Diffusers, Fitted, Leg, Machine, Run, Vessel
from .plumbing import along, columns
from .rules import nominal, opener, pipe_part, rule, single, stocked_size


def machines(s: Sizing) -> tuple[Machine, ...]:
    """Every machine that draws power, the spares beside them."""
    found = []
    a, b, p = s.air, s.bed, s.pump
    running, spare = int(single(a.count, "the air")), int(single(a.spare, "the air"))
    if running + spare:
        found.append(Machine(
            "air machine", "air", str(a.device),
            "air for the tanks" + (" and the airlifts" if single(a.to_airlifts, "air") > 0 else ""),
            single(a.plate_watts, "the air") / (running + spare), running, spare, "tank",
            "so many that one may fail",
        ))  # fmt: skip
    if single(b.count, "the filter's air") > 0:
        many = int(b.count)
        found.append(Machine("filter air machine", "air", str(b.device), "air that rolls the media",
                             single(b.wire_power, "the filter's air") / many, many, 0, "filter",
                             "its water is not as deep as the tank's"))  # fmt: skip
    if s.design.pump.kind != "airlift":
        many = int(single(p.count, "the pump"))
        found.append(Machine("pump", "pump", str(p.model), "lifts the water from the sump to the tanks",
                             single(p.plate_watts, "the pump") / many, many, int(rule("spare pump")),
                             "sump", "a stopped pump is changed within minutes"))  # fmt: skip
    return tuple(found)


def diffusers(s: Sizing, found: dict[str, Vessel]) -> tuple[Diffusers, ...]:
    """Stones, or discs where stones would be too many; drilled pipes under a moving bed."""
    tank, made = found["tank"], []
    used = single(s.air.used, "the air")
    stones = math.ceil(single(s.air.stones, "the stones") / tank.count - 1e-9)
    if used > 0 and stones > 0:
        deep = single(s.air.stone_depth, "the stones")
        if s.design.air.diffuser == "fine stone" and stones > rule("stones each"):
            each = math.ceil(used / tank.count / rule("disc air") - 1e-9)
            made.append(Diffusers("tank", "disc", "disc of rubber membrane, 9 in across", each, tank.count, used,
                                  deep, "in place of so many stones; they catch at least as much oxygen"))  # fmt: skip
        else:
            label = "fine stone" if s.design.air.diffuser == "fine stone" else "drilled pipe"
            made.append(Diffusers("tank", label, label, stones, tank.count, used, deep,
                                  "as many as spread the air that is used"))  # fmt: skip
    bed = found.get("filter")
    if bed is not None and single(s.bed.required, "the filter's air") > 0:
        air = single(s.bed.required, "the filter's air")
        holes = math.ceil(air / bed.count / rule("hole air") - 1e-9)
        made.append(Diffusers("filter", "drilled hole", "drilled hole of 1/8 in", holes, bed.count, air,
                              bed.depth, "bubbles under the whole floor roll the media"))  # fmt: skip
    return tuple(made)


def one_row(tank: Vessel) -> bool:
    """Whether the tanks stand in one row, so that the air pipe ends at the last one."""
    return columns(tank.count) == tank.count


def shelf_height(v: Vessel) -> float:
    """Top of the shelf on which the air machines of a vessel stand: over its water [m]."""
    return max(0.0, v.level + rule("shelf over water"))


def outlet_height(v: Vessel) -> float:
    """Outlets of the air machines of a vessel over the datum [m], where their pipes begin."""
    return shelf_height(v) + rule("machine outlet")


def upright(inside: float, fittings: int) -> float:
    """Least length of an upright air pipe for its fittings in line [m]: a piece of two sockets around each."""
    part = pipe_part(nominal(inside))
    need = (2 * fittings + 1) * part.lay + 2 * (fittings + 1) * float(part.socket) + 0.001
    return max(rule("air high"), need)


def _riser_inside(s: Sizing, many: int, main: float) -> float:
    each = max(single(s.air.device_flow, "the air"), 1e-9)
    return _sized(s, each, main) if many > 1 else main


def laterals(bed: Vessel) -> tuple[int, float]:
    """Drilled pipes under one moving bed: how many, and the length of each [m]."""
    many = max(1, math.floor(bed.across / rule("lateral gap") + 1e-9))
    return many, 0.85 * bed.across if bed.shape == "round" else bed.length


def air_runs(s: Sizing, found: dict[str, Vessel], bubbles: tuple[Diffusers, ...]) -> list[Run]:
    """Air pipe to the tanks, a manifold with a valve for each drop, and the pipe to the filter."""
    runs, tank = [], found["tank"]
    in_all = single(s.air.in_all, "the air")
    for d in bubbles:
        if d.vessel == "tank":
            runs += _tank_air(s, tank, d, in_all)
        else:
            runs += _filter_air(s, found["filter"], d)
    return runs


def _sized(s: Sizing, flow: float, most: float) -> float:
    wanted = aeration.line_diameter_for(flow, s.design.air.line_velocity)
    return min(stocked_size(float(wanted)), most)


def _tank_air(s: Sizing, tank: Vessel, d: Diffusers, in_all: float) -> list[Run]:
    lines, main = int(single(s.air.lines, "the air")), single(s.air.line_diameter, "the air")
    size = nominal(main)
    told = float(s.design.air.line_length)
    many = int(single(s.air.count, "the air") + single(s.air.spare, "the air"))
    high = outlet_height(tank) + upright(_riser_inside(s, many, main), 2)
    level = max(told - high, rule("gap") + along(tank))
    found = [_air_riser(s, many, high, main, outlet_height(tank))]
    fits = [Fitted("elbow", size, 1, "along the tanks")]
    if many > 1:
        fits.append(Fitted("plug", size, 1, "closes the tee over the last machine"))
    if tank.count > 1:
        fits.append(Fitted("tee", size, tank.count - 1, "to each tank but the last"))
    found.append(Run("air main", "air pipe to the tanks", "air riser", "tank", size, main, lines,
                     in_all / lines, 0.0, tank.level, (Leg("level", level),), tuple(fits), "air",
                     why="as wide as the air needs at the speed chosen", at_ends=1 if one_row(tank) else 0))  # fmt: skip
    found.append(_relief(s, tank, main, lines, in_all / lines))
    each = d.air / tank.count
    inside = _sized(s, each, main)
    small = "1/2 in"
    valves = Fitted("air valve", small, d.each, f"one for each {d.kind}, to share the air")
    way = min(tank.across, 1.5 * tank.across)
    found.append(Run("air manifold", "air manifold of one tank", "air main", "tank", nominal(inside), inside,
                     tank.count, each, 0.0, tank.level, (Leg("level", way),),
                     (valves, Fitted("plug", nominal(inside), 1, "at its end")), "air",
                     why="over the rim, higher than the water"))  # fmt: skip
    drop = rule("air drop") + (tank.rim - tank.level) + d.depth + tank.across / 4
    found.append(Run("air drop", f"air hose to one {d.kind}", "air manifold", "tank", small, 0.0154,
                     d.each * tank.count, each / d.each, 0.0, tank.level, (Leg("down", drop),), (), "hose",
                     why="weighted, so that it stays down"))  # fmt: skip
    return found


def _relief(s: Sizing, tank: Vessel, main: float, lines: int, flow: float) -> Run:
    """A branch off each air pipe with a valve and an open end: spare air goes out there."""
    size = nominal(main)
    fits = (Fitted("tee", size, 1, "off the air pipe"),
            Fitted("ball valve", size, 1, "lets spare air out; a blower is never throttled"))  # fmt: skip
    return Run("air relief", "outlet of spare air", "air main", "open air", size, main, lines, flow, 0.0,
               tank.level, (Leg("up", upright(main, 1)),), fits, "air",
               why="shut, it gives all air to the tanks; no valve stands in the pipe to the tanks")  # fmt: skip


def _air_riser(s: Sizing, many: int, high: float, main: float, outlet: float) -> Run:
    """The pipe up from each air machine, spares too, each with its check valve."""
    each = max(single(s.air.device_flow, "the air"), 1e-9)
    inside = _riser_inside(s, many, main)
    size = nominal(inside)
    fits = [Fitted("check valve", size, 1, "keeps water and the others' air out of a machine that stands"),
            Fitted(opener(inside), size, 1, "so that a machine comes out"),
            Fitted("adapter", size, 1, "from the outlet of the machine to the pipe"),
            *([Fitted("tee", size, 1, "into the air pipe")] if many > 1 else [])]  # fmt: skip
    return Run("air riser", "pipe up from one air machine", "air machine", "air main", size, inside,
               max(many, 1), each, 0.0, 0.0, (Leg("up", high - outlet),), tuple(fits), "air",
               why="one for each machine, the spare too", at_ends=0 if many > 1 else 1)  # fmt: skip


def _filter_air(s: Sizing, bed: Vessel, d: Diffusers) -> list[Run]:
    given = single(s.bed.provided, "the filter's air")
    inside = _sized(s, given, s.tables.widest_pipe)
    size = nominal(inside)
    high = max(bed.rim + rule("air high"), outlet_height(bed) + upright(inside, 2))
    legs = (Leg("up", high - outlet_height(bed)), Leg("level", rule("filter air way")))
    fits = [Fitted("elbow", size, 2, "up from the machine, along, and down into the filter"),
            Fitted("check valve", size, 1, "keeps the water out of the machine when the air stops"),
            Fitted(opener(inside), size, 1, "so that the machine comes out"),
            Fitted("adapter", size, 1, "from the outlet of the machine to the pipe")]  # fmt: skip
    if bed.count > 1:
        fits.append(Fitted("tee", size, bed.count - 1, "to each filter but the last"))
    main = Run("filter air main", "air pipe to the filter", "filter air machine", "filter", size, inside, 1,
               given, 0.0, bed.level, legs, tuple(fits), "air",
               why="as wide as the air needs at the speed chosen", at_ends=1)  # fmt: skip
    many, long = laterals(bed)
    each = _sized(s, d.air / bed.count / many, inside)
    drop = Run("filter air drop", "air pipe down into the filter", "filter air main", "filter", size, inside,
               bed.count, given / bed.count, 0.0, bed.level, (Leg("down", high - bed.floor),),
               (Fitted("plug", size, 1, "at its end"),), "air", why="one for each vessel")  # fmt: skip
    fits = [Fitted("cross", size, 1, "on the pipe that feeds them"),
            Fitted("plug", nominal(each), 2, "at both ends")]  # fmt: skip
    if nominal(each) != size:
        fits.append(Fitted("reducer", size, 2, "from the cross to the drilled pipe", "middle"))
    grid = Run("filter air lateral", "drilled pipe under the media", "filter air drop", "filter", nominal(each),
               each, many * bed.count, d.air / bed.count / many, 0.0, bed.level, (Leg("level", long),),
               tuple(fits), "air", why=f"{math.ceil(d.each / many)} holes of 1/8 in each, holes down")  # fmt: skip
    return [main, drop, grid]
