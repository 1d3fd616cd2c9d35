"""By gravity: from each tank to the first vessel, between vessels, past the settler, and the sludge.

The level legs here only choose sizes; ``measured`` puts in those that the pipes have in space.
"""

import math
from dataclasses import replace

from ..equations.pipes import drain_size, pipes
from ..sizing.system import Sizing
from .graph import Fitted, Leg, Run, Vessel
from .levels import Levels, Link, warmest
from .plumbing import along, gravity_head, sizes_from
from .rules import nominal, opener, pipe_part, rule, single, stocked_size
from .run_down import lip_depth
from .space import bushing

SHORT = {"plants": "plant beds", "screen": "second screen"}
"""Vessels by a short name, where it is not their own."""


def drains(s: Sizing, found: dict[str, Vessel], first: str, least: float = 0.0) -> list[Run]:
    """Standpipes, centre drains and the drain to the first vessel.

    ``least``: the least inside diameter of the drain of one tank of several [m].
    """
    tank, after = found["tank"], found[first]
    inside, count = single(s.pump.drain_pipe, "the drain"), int(single(s.pump.drains, "the drain"))
    end = _drain_end(after)
    up, side = end + rule("trench"), rule("walkway") / 2 if tank.count > 1 else 0.0
    shortest = rule("gap") + after.across / 2 + along(tank)
    told = float(s.design.pump.drain_length)
    level = max(told - rule("trench") - max(up, 0.0) - side, shortest)
    legs = [Leg("level", level), Leg("up", up) if up >= 0 else Leg("down", -up)]
    size, flow = nominal(inside), single(s.pump.flow, "the flow")
    fits = [Fitted("elbow", size, 1, f"up into the {after.label}"),
            Fitted(opener(inside), size, 1, "to open the drain and rod it out")]  # fmt: skip
    if tank.count == 1:
        legs.insert(0, Leg("down", rule("trench")))
        fits += [Fitted("elbow", size, 1, "under the standpipe"), *_foot(s, size)]
    else:
        fits.append(Fitted("clean-out", size, 1, "at the far end of the drain"))
    fall = single(s.pump.drain_fall, "the fall")
    main = _gravity(s, "drain", "drain to the first vessel", ("tank", first), inside, count,
                    flow / count, (tank.level, after.inlet or after.level), legs, fits, fall,
                    "small enough to keep waste moving, wide enough for its fall",
                    entrance=1.0 if tank.count == 1 else 0.0)  # fmt: skip
    if after.inlet is None:
        main = replace(main, fittings=(*main.fittings, *_end(after, size)))
    runs = [main] if tank.count == 1 else [_branch(s, tank, main, side, least), main]
    stand = _standpipe(s, tank, count)
    centre = _centre(s, tank, main)
    return [stand, *_tie(tank, stand, runs[0], count), centre, _vent(tank, centre), *runs]


def trench(after: Vessel, drain: Run, others=()) -> float:
    """Depth of the drain under the finished floor [m]: deeper where it comes up through a nearly flat floor.

    ``others``: pipes that come down through the floor of the tank beside it.
    """
    need = clear_under(drain.pipe)
    depth = max(
        rule("trench"), need, *(clear_under(run.pipe) + bushing(run, "start") for run in others)
    )
    if after.nearly_flat and after.floor > -depth:
        return max(depth, need - after.lowest)
    short = need - (after.floor + depth)
    if after.kind not in ("radial", "swirl") and after.inlet is None and 0.0 < short < MORE_DEEP:
        return depth + short
    return depth


MORE_DEEP = 0.15
"""A drain lies so much deeper to come up through the floor of a box; from memory [m]."""


def clear_under(pipe: str) -> float:
    """From a floor to the middle of a pipe under it: half an elbow and a short piece [m]."""
    part = pipe_part(pipe)
    return part.lay + 2.0 * float(part.socket)


def _end(after: Vessel, size: str) -> list[Fitted]:
    return [Fitted("bulkhead", size, 1, f"into the {after.label}")]


def _drain_end(after: Vessel) -> float:
    """Height at which the drain ends in the first vessel [m]."""
    if after.inlet is not None:
        return after.inlet
    if after.shape == "round" and after.kind in ("radial", "swirl"):
        return after.level - rule("inlet depth")
    return after.floor


def _foot(s: Sizing, size: str) -> list[Fitted]:
    stand = nominal(single(s.pump.standpipe, "the standpipe"))
    fits = [Fitted("tee", size, 1, "takes in the centre drain; the main flow goes straight on")]
    if stand != size:
        fits.append(Fitted("reducer", stand, 1, "from the standpipe to the drain", "start"))
    return fits


def _branch(s: Sizing, tank: Vessel, main: Run, side: float, least: float) -> Run:
    """The drain of one tank of several, wide enough for the fall that the common drain leaves."""
    flow = single(s.turning.flow, "the tank's flow")
    losses = s.tables.loss("entrance") + (1 + rule("tee turn")) * s.tables.loss("elbow")
    pump = s.design.pump
    start = drain_size.drain_diameter(
        flow, s.tables.pipe_sizes, drain_size.ANY_FALL, pump.drain_velocity,
        rule("trench") + side, pump.roughness, losses, warmest(s),
    )  # fmt: skip
    for inside in sizes_from(min(max(float(start), least), main.inside), main.inside):
        size = nominal(inside)
        fits = [Fitted("elbow", size, 1, "under the standpipe"), *_foot(s, size)[1:],
                Fitted("tee", main.pipe, 2, "into the common drain, one for the centre drain; a turn")]  # fmt: skip
        if size != main.pipe:
            fits.append(
                Fitted("reducer", main.pipe, 1, "from the branch to the common drain", "end")
            )
        made = _gravity(
            s, "drain branch", "drain of one tank", ("tank", "drain"), inside, tank.count, flow,
            (tank.level, main.end), (Leg("down", rule("trench")), Leg("level", side)), fits, main.fall,
            "one for each tank", 1 + rule("tee turn"),
        )  # fmt: skip
        if made.uses + main.uses <= main.fall:
            break
    return made


def _gravity(s: Sizing, name: str, label: str, ends: tuple[str, str], inside: float, count: int,
             flow: float, levels: tuple[float, float], legs, fits, fall: float, why: str,
             turns: float | None = None, entrance: float = 1.0) -> Run:  # fmt: skip
    """A gravity run with the fall that it uses; the entrance of a whole way is counted once."""
    if turns is None:
        turns = sum(f.count for f in fits if f.kind == "elbow")
    losses = entrance * s.tables.loss("entrance") + turns * s.tables.loss("elbow")
    losses += sum(f.count for f in fits if f.kind == "ball valve") * s.tables.loss("ball valve")
    length = sum(leg.length for leg in legs)
    uses = gravity_head(s, flow, inside, length, losses)
    return Run(
        name, label, ends[0], ends[1], nominal(inside), inside, count, flow, levels[0], levels[1],
        tuple(legs), tuple(fits), "gravity", fall, uses, float(losses), why,
    )  # fmt: skip


def _tie(tank: Vessel, stand: Run, drain: Run, drains_: int) -> list[Run]:
    """The pipe under each standpipe that has no drain of its own, to the one beside it."""
    more = stand.count - (tank.count if tank.count > 1 else drains_)
    if more <= 0:
        return []
    fits = [Fitted("elbow", stand.pipe, 1, "under the standpipe"),
            Fitted("tee", drain.pipe, 1, "into the drain under the standpipe beside it")]  # fmt: skip
    if drain.pipe != stand.pipe:
        fits.append(Fitted("reducer", drain.pipe, 1, "from the standpipe to the drain", "end"))
    legs = (Leg("down", rule("trench")), Leg("level", rule("sump least")))
    return [Run("standpipe tie", "pipe under another standpipe", "tank", "drain", stand.pipe, stand.inside,
                more, stand.flow, tank.level, stand.end, legs, tuple(fits), "standpipe",
                why="every standpipe runs into a drain")]  # fmt: skip


def _standpipe(s: Sizing, tank: Vessel, drains_: int) -> Run:
    """The standpipes that keep the level, in each tank at least one, and one for each drain of a single tank."""
    count = max(tank.count, int(single(s.pump.standpipes, "the standpipe")))
    if tank.count == 1:
        count = max(count, drains_)
    each = math.ceil(count / tank.count - 1e-9)
    inside = single(s.pump.standpipe, "the standpipe")
    mouth = tank.level - float(s.design.pump.standpipe_head)
    size = nominal(inside)
    return Run(
        "standpipe", "overflow standpipe", "tank", "drain", size, inside, each * tank.count,
        single(s.pump.flow, "the flow") / (each * tank.count), tank.level, mouth,
        (Leg("up", mouth),), (
            Fitted("bulkhead", size, 1, "in the floor of the tank, near the wall"),
            Fitted("standpipe screen", size, 1, "keeps fish out; wipe it each day"),
        ), "standpipe", float(s.design.pump.standpipe_head), float(s.design.pump.standpipe_head), 0.0,
        "its mouth keeps the level, and it takes the flow with its screen half blocked",
    )  # fmt: skip


def _centre(s: Sizing, tank: Vessel, drain: Run) -> Run:
    """The centre drain of each tank: a share of the flow, by its valve outside the wall.

    Outside the tank it rises to a lip as high as the mouth of the overflow, so that it cannot empty the tank.
    """
    fall = float(s.design.pump.standpipe_head)
    high = tank.level - fall + rule("trench")
    flow = single(s.turning.drain_flow, "the centre drain")
    wanted = max(
        float(pipes.diameter_for_velocity(flow, s.design.pump.drain_velocity)), rule("sludge pipe")
    )
    legs = (Leg("down", rule("trench")), Leg("level", tank.across / 2 + rule("pit side")),
            Leg("up", high), Leg("down", high))  # fmt: skip
    # up to its lip the water of the tank drives it; behind the lip it falls by itself
    long, losses = (
        sum(leg.length for leg in legs[:3]) + 2.0 * rule("gap"),
        5.0 * s.tables.loss("elbow"),
    )
    for inside in sizes_from(min(stocked_size(wanted), drain.inside), drain.inside):
        if gravity_head(s, flow, inside, long, losses) <= 0.5 * fall:
            break
    size = nominal(inside)
    fits = [
        Fitted("bulkhead", size, 1, "in the middle of the floor"),
        Fitted("drain screen", size, 1, "keeps fish out, lets waste through"),
        Fitted("elbow", size, 1, "under the floor, up outside the tank, and down behind the lip"),
        Fitted(
            "tee", size, 1, "at the top of the rise; its end stays open, so that nothing siphons"
        ),
        Fitted(
            "ball valve",
            size,
            1,
            "at the foot of the rise: sets its share of the flow; opened wide, it flushes, and the lip holds the tank",
        ),
    ]
    if size != drain.pipe:
        fits.append(
            Fitted("reducer", drain.pipe, 1, "from the centre drain to the tee in the drain", "end")
        )
    made = _gravity(s, "centre drain", "centre drain", ("tank", "drain"), inside, tank.count, flow,
                    (tank.level, tank.level - fall), legs, fits, fall,
                    "draws the waste that turns to the middle", 1 + rule("tee turn"))  # fmt: skip
    return replace(made, corner_tees=1)


def _vent(tank: Vessel, centre: Run) -> Run:
    """The open pipe on the tee at the top of a centre drain, higher than the rim of the tank."""
    start = centre.end + centre.inside / 2
    top = max(tank.rim, start + clear_under(centre.pipe))
    return Run("centre drain vent", "vent of the centre drain", "centre drain", "open air", centre.pipe, centre.inside,
               centre.count, 0.0, tank.level, top, (Leg("up", top - start),), (), "standpipe",
               why="open on top, and as high as the rim: nothing siphons, and nothing spills")  # fmt: skip


def links(s: Sizing, at: Levels, found: dict[str, Vessel]) -> list[Run]:
    """The pipes between vessels, straight through both walls."""
    runs = []
    for link in at.links:
        size = nominal(link.inside)
        low = at.out[link.source] - link.fall
        drop = _drop(at.out[link.source], link, found[link.target])
        legs = [Leg("level", link.length - drop)]
        ends = [Fitted("bulkhead", size, 1, f"out of the {found[link.source].label}")]
        if drop > 0.0:
            legs.append(Leg("down", drop))
        if link.elbows:
            where = (
                "where the pipe turns"
                if drop == 0.0
                else f"down into the {found[link.target].label}"
            )
            ends.append(Fitted("elbow", size, link.elbows, where))
        lip = None
        if found[link.target].inlet is None:
            lip = at.out[link.source] - lip_depth(link)
            up = f"turned up inside the {found[link.source].label}: its lip holds the water when the pump stops"
            ends.append(Fitted("elbow", size, 1, up))
        if link.target != "sump" and found[link.target].inlet is None:
            ends.append(Fitted("bulkhead", size, 1, f"into the {found[link.target].label}"))
        if link.target == "filter" and s.design.filter.type != "trickling":
            ends.append(Fitted("media screen", size, 1, "no media drift back out of the filter"))
        if link.source == "filter" and s.design.filter.type != "trickling":
            ends.append(Fitted("media screen", size, 1, "keeps the media in the filter"))
        ends.append(
            Fitted(opener(link.inside), size, 1, "between two walls, so that a vessel comes out")
        )
        runs.append(Run(
            f"{link.source} to {link.target}",
            f"{SHORT.get(link.source, link.source)} to {SHORT.get(link.target, link.target)}", link.source, link.target, size,
            link.inside, link.count, link.flow, at.out[link.source], low, tuple(legs), tuple(ends),
            "gravity", link.fall, link.uses, link.losses, "wide, so that it takes little fall",
            lip=lip,
        ))  # fmt: skip
    return runs


FREE_FALL = 0.2
"""Water that would fall further into a drip pan is led down by an elbow; from memory [m]."""


def over_pan(start: float, inside: float, inlet: float) -> float:
    """Middle of a pipe that feeds a drip pan: a bore under the water, and not under the water of the pan."""
    return max(inlet, start - inside)


def _drop(start: float, link: Link, target: Vessel) -> float:
    """How far a link goes down at its end [m]; 0 where it ends in a wall or over a pan."""
    if target.inlet is None:
        return (
            max(rule("sump rise"), clear_under(nominal(link.inside)))
            if target.name == "sump"
            else 0.0
        )
    fall = over_pan(start, link.inside, target.inlet) - target.inlet
    return fall - 0.5 * link.inside if fall > FREE_FALL else 0.0


def bypass(s: Sizing, found: dict[str, Vessel], at: Levels, names: tuple[str, ...]) -> list[Run]:
    """What does not go through the settler, past it to the next vessel."""
    share = float(s.design.solids.share)
    if names[0] != "settler" or share >= 1.0 - 1e-9:
        return []
    inside, target = single(s.pump.drain_pipe, "the drain"), names[1]
    size, flow = nominal(inside), (1.0 - share) * single(s.pump.flow, "the flow")
    fits = [Fitted("tee", size, 1, "off the drain, before the settler"),
            Fitted("ball valve", size, 1, "sets the share that passes the settler"),
            Fitted("elbow", size, 1, f"up into the {found[target].label}"),
            Fitted(opener(inside), size, 1, "to open it and rod it out")]  # fmt: skip
    lip = None
    end = at.into[target]
    if found[target].inlet is None:
        end = lip = settler_lip(at)
        fits += [*_end(found[target], size),
                 Fitted("elbow", size, 1, "turned up inside: its lip holds the settler's water")]  # fmt: skip
    legs = (Leg("level", rule("bypass way")), Leg("up", end + rule("trench")))
    fall = at.into["tank"] - end
    made = _gravity(s, "bypass", "past the settler", ("drain", target), inside, 1, flow,
                    (at.into["tank"], end), legs, fits, fall,
                    "the share that the design leads past the settler", 1 + rule("tee turn"))  # fmt: skip
    return [replace(made, lip=lip)]


def settler_lip(at: Levels) -> float:
    """The lip of the settler's outlet [m]."""
    link = next(one for one in at.links if one.source == "settler")
    return at.out["settler"] - lip_depth(link)
