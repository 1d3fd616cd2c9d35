"""Ways of the pipes that carry water by gravity: drains, links between vessels, bypass and sludge."""

import math

from .graph import Vessel
from .holes import BESIDE_DRAIN, PAST, SLUDGE_ASIDE
from .pressure_ways import pressure_ways
from .rules import pipe_part, rule
from .run_down import AWAY
from .space import (
    BESIDE,
    HAND,
    IN,
    Site,
    Spot,
    Way,
    beside_tank,
    clear_beside,
    clear_of,
    copies,
    into_tee,
    pitch,
    reach,
    straight,
)

SHORT_RISE = 0.2
"""Less rise than two elbows and a piece of pipe take; from memory [m]."""
WALL_EDGE = 0.12
"""From the corner of a box to the middle of a hole in its end; from memory [m]."""


def water_ways(site: Site) -> list[Way]:
    """Every pipe that carries water."""
    found = [
        *_standpipes(site),
        *_ties(site),
        *_centres(site),
        *_vents(site),
        *_drains(site),
        *_bypass(site),
        *_sludge(site),
        *_overflow(site),
    ]
    for run in site.layout.runs:
        if run.source in site.places and run.name == f"{run.source} to {run.target}":
            found += _links(site, run)
    return [*found, *pressure_ways(site)]


def _standpipes(site: Site):
    run = site.run("standpipe")
    for k in range(site.tank.count):
        for x, y in site.standpipes(k):
            yield Way(run, ((x, y, site.tank.floor), (x, y, run.end)), k)


def _ties(site: Site):
    """From every standpipe that has no drain of its own to the one beside it."""
    run, deep = site.layout.run("standpipe tie"), -site.trench
    if run is None:
        return
    drained = 1 if site.many else site.run("drain").count
    for k in range(site.tank.count):
        at = site.standpipes(k)
        for (x, y), (bx, by) in zip(at[drained:], at[drained - 1 :], strict=False):
            yield Way(run, ((x, y, site.tank.floor), (x, y, deep), (bx, by, deep)), k)


def _centres(site: Site):
    """From the middle of the floor to a valve outside the wall, then into the drain of the tank."""
    run, deep, tank = site.run("centre drain"), -site.trench, site.tank
    top, apart, into = run.end + run.inside / 2, pitch(run), into_tee(run)
    for k, (x, y) in enumerate(site.tanks):
        start: tuple[Spot, ...] = ((x, y, tank.floor), (x, y, deep))
        at = site.standpipes(k)
        if site.many:
            clear = clear_beside(run)
            out = tank.across / 2 + max(
                clear, min(rule("pit side"), site.way / 2 - max(apart, into))
            )
            y_out = y + site.toward((x, y), site.drain_y) * out
            over = (
                x + site.centre_aside() + site.second(k)
            )  # away from the standpipe, into the common drain
            line = (
                site.drain_y
                + copies(site.run("drain").count, site.apart())[
                    site.line_of(k, site.run("drain").count)
                ]
            )
            yield Way(run, straight((*start, (x, y_out, deep), (x, y_out, top), (over, y_out, top),
                                     (over, y_out, deep), (over, line, deep))), k)  # fmt: skip
        else:
            low = min(y_at for _, y_at in at)
            aside, x_out = low - max(BESIDE, apart + into), x - tank.length / 2
            x_out -= beside_tank(run, site.run("drain"), site.run("standpipe"))
            x_out = min(x_out, at[0][0] - pitch(site.run("drain")))
            yield Way(
                run,
                straight(
                    (
                        *start,
                        (x, aside, deep),
                        (x_out, aside, deep),
                        (x_out, aside, top),
                        (x_out, aside + apart, top),
                        (x_out, aside + apart, deep),
                        (x_out, low, deep),
                    )
                ),
                k,
            )


def _vents(site: Site):
    """Up from the tee at the top of each centre drain."""
    run = site.run("centre drain vent")
    for way in _centres(site):
        x, y, z = max(way.points, key=lambda p: p[2])
        yield Way(run, ((x, y, z), (x, y, run.end)), way.tank)


def _overflow(site: Site):
    """From the far wall of the sump away from the tanks, level."""
    run, (x, y) = site.run("overflow"), site.places["sump"][0]
    hole = next(h for h in site.sump.holes if h.side == AWAY)
    wall = x - site.sump.length / 2
    yield Way(run, ((wall, y, hole.height), (wall - rule("overflow way"), y, hole.height)))


def _drains(site: Site):
    run, branch, deep = site.run("drain"), site.layout.run("drain branch"), -site.trench
    first = site.first
    place = site.places[first.name][0]
    lines = copies(run.count, site.apart())
    for k in range(run.count):
        d = lines[k] if site.many else site.standpipes(0)[k][1] - place[1]
        if site.many:
            mine = [w for w in _centres(site) if site.line_of(w.tank or 0, run.count) == k]
            last = max(w.points[-1][0] for w in mine or _centres(site))
            y, turn = site.drain_y + d, place[0] + first.length / 2 + _past_pit(first, run)
            turn += math.copysign(
                d, d * (place[1] - site.drain_y)
            )  # several turn one inside the other
            start: tuple[Spot, ...] = (
                (last + clear_of(run), y, deep),
                (turn, y, deep),
                (turn, place[1] + d, deep),
            )
        else:
            x, y = site.standpipes(0)[k]
            start = ((x, y, site.tank.floor), (x, y, deep))
        into = drain_into(site, first, place, place[1] + d)
        yield Way(run, straight((*start, *into)), None if site.many else 0)
    if branch:
        for k in range(site.tank.count):
            x, y = site.standpipes(k)[0]
            line = site.drain_y + lines[site.line_of(k, run.count)]
            yield Way(branch, ((x, y, site.tank.floor), (x, y, deep), (x, line, deep)), k)


def _past_pit(v: Vessel, run) -> float:
    """From a vessel to the middle of a pipe that passes it outside the wall of its pit [m]."""
    return max(2.0 * BESIDE, v.side + float(pipe_part(run.pipe).outside_diameter) / 2 + HAND)


def drain_into(site: Site, v: Vessel, place, y: float):
    """The end of the drain: to the hole in the first vessel, and up inside it."""
    deep, run = -site.trench, site.run("drain")
    wall = place[0] + reach(v, y - place[1])
    hole = next(h for h in v.holes if h.purpose == "drain from the tank")
    beside = wall + clear_of(run)
    if hole.side == "floor, in the middle":
        return (place[0], y, deep), (place[0], y, v.level - rule("inlet depth"))
    if hole.side.startswith("floor"):
        return (wall - IN, y, deep), (wall - IN, y, hole.height)
    up = ((beside, y, deep), (beside, y, hole.height))
    if v.inlet is not None:
        return (*up, (wall - IN, y, hole.height))
    if v.kind in ("radial", "swirl"):
        return (*up, (place[0], y, hole.height), (place[0], y, v.level - rule("inlet depth")))
    return (*up, (wall, y, hole.height))


def _bypass(site: Site):
    run = site.layout.run("bypass")
    if run is None:
        return
    settler, target = site.first, site.vessel(run.target)
    (x, y), (tx, ty) = site.places[settler.name][0], site.places[target.name][-1]
    beside = [v for v in site.layout.vessels if v.name in (settler.name, target.name)]
    hand = float(pipe_part(run.pipe).outside_diameter) / 2 + HAND  # clear of the walls of pits
    aside = max(
        py + v.across / 2 + max(BESIDE, v.side + hand)
        for v in beside for _, py in site.places[v.name]
    )  # fmt: skip
    drain = next(w for w in _drains(site))
    start = x + settler.length / 2 + _past_pit(settler, run)
    base = next(
        (
            p[1]
            for p in drain.points[::-1]
            if p[0] >= start - 1e-9 and abs(p[2] + site.trench) < 1e-9
        ),
        y,
    )
    hole = next(h for h in target.holes if h.purpose == PAST)
    end = ty + target.across / 2 - (IN if target.inlet is not None else 0.0)
    deep = -site.trench
    inside = end - clear_of(run)
    lip = () if run.lip is None else ((tx, inside, hole.height), (tx, inside, run.lip))
    yield Way(run, straight((
        (start, base, deep), (start, aside, deep), (tx, aside, deep), (tx, aside, hole.height),
        (tx, end, hole.height), *lip,
    )))  # fmt: skip


def _sludge(site: Site):
    """From the lowest point, or through the wall of a flat floor, to a valve over a bucket."""
    run = site.layout.run("sludge")
    if run is None:
        return
    settler = site.vessel("settler")
    x, y = site.places["settler"][0]
    out = y - settler.across / 2 - rule("sludge run")
    part = pipe_part(run.pipe)  # from an elbow through the valve to the mouth
    mouth = 3.0 * part.lay + 4.0 * float(part.socket) + 0.001
    hole = next(h for h in settler.holes if h.purpose == "sludge pipe")
    if hole.side.startswith("wall"):
        start = [(x, y - settler.across / 2, hole.height)]
        low = hole.height
    else:
        low = hole.height - part.lay - 2.0 * float(part.socket)
        x -= SLUDGE_ASIDE if hole.side == BESIDE_DRAIN else 0.0
        start = [(x, y, hole.height), (x, y, low)]
    end = run.end
    if abs(end - low) < SHORT_RISE and (len(start) == 1 or low > end):
        end = low  # too little for two elbows: straight out
    elif abs(end - low) < SHORT_RISE:
        low = end - SHORT_RISE
        start[-1] = (x, y, low)
    yield Way(run, straight((*start, (x, out, low), (x, out, end), (x, out - mouth, end))))


def _links(site: Site, run):
    source, target = site.vessel(run.source), site.vessel(run.target)
    high = next(h.height for h in source.holes if h.purpose == f"to the {target.label}")
    starts, stops = site.places[source.name], site.places[target.name]
    for k in range(run.count):
        (sx, sy), (tx, ty) = (
            starts[k * len(starts) // run.count],
            stops[k * len(stops) // run.count],
        )
        y1, y2 = _sides(source, sy, ty), _sides(target, ty, sy)
        part = pipe_part(run.pipe)
        if abs(_sides(target, ty, y1) - y1) < 1e-9:
            y2 = y1  # straight across
        elif abs(y1 - y2) < 2 * (part.lay + float(part.socket)):  # room for two elbows
            y1, y2 = sy, y2 if abs(sy - y2) > abs(y1 - y2) else ty
        out, into = sx - reach(source, y1 - sy), tx + reach(target, y2 - ty)
        middle = (out + into) / 2
        within = out + clear_of(run)
        turned = [] if run.lip is None else [(within, y1, run.lip), (within, y1, high)]
        points = [
            *turned,
            (out, y1, high),
            (middle, y1, high),
            (middle, y2, high),
            (into, y2, high),
        ]
        if run.counted("bulkhead") < 2:
            points += [(into - IN, y2, high), (into - IN, y2, high - drop_of(run))]
        yield Way(run, straight(points))


def drop_of(run) -> float:
    """How far a link goes down at its end [m]."""
    return run.legs[-1].length if run.legs[-1].way == "down" else 0.0


def _sides(v: Vessel, here: float, there: float) -> float:
    """Where across a vessel a pipe meets it: as near to a line as its wall lets it [m]."""
    most = v.across / 2 - WALL_EDGE if v.shape == "box" else 0.35 * v.across
    most = max(most, 0.0)
    return here + max(-most, min(most, there - here))
