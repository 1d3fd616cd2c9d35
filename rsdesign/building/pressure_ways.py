"""Ways of the pressure side: risers of the pumps, the main or header, the branches."""

import math

from .space import (
    BESIDE,
    IN,
    Site,
    Way,
    copies,
    end_piece,
    pump_outlet,
    reach,
    reach_aside,
    straight,
)


def pressure_ways(site: Site):
    """Every pipe from the sump to the tanks."""
    main, riser = site.run("main"), site.layout.run("riser") or site.layout.run("airlift")
    top, pumps = site.top(), site.pumps()
    if riser:
        for x, y in pumps:
            yield Way(riser, ((x, y, site.sump.floor + pump_outlet(riser)), (x, y, top)))
    line = beside(site, pumps[0][1], top)
    down = next(
        (leg.length for leg in (site.layout.run("branch") or main).legs if leg.way == "down"), 0.0
    )
    for k, d in enumerate(copies(main.count, 2.0 * main.inside)):
        yield _main(site, k, (line, d), top, down)
    yield from _branches(site, top, down)


def _main(site: Site, k: int, lines: tuple[float, float], top: float, down: float) -> Way:
    """The main, or one of several side by side: over the pumps, along, and down into the only tank."""
    main, pumps, tank = site.run("main"), site.pumps(), site.tank
    (tx, ty), (line, d) = site.tanks[0], lines
    x, y = pumps[min(k, len(pumps) - 1)]
    high, low = pumps[0][1], pumps[-1][1]
    if main.legs[0].way == "up":
        start = [(x, y, site.sump.floor + pump_outlet(main)), (x, y, top)]
    elif line <= low:  # from the pump that is farthest from the line, past all others
        start = [(x, high, top)]
    else:
        start, line = [(x, low, top)], max(line, high)
    run_y, head_y = line + d, (site.header_y if site.many else line) + d
    turn = tx - tank.length / 2 - BESIDE
    points = [*start, (x, run_y, top), (turn, run_y, top), (turn, head_y, top)]
    if site.many:
        at = [px + site.aside_main(j) for j, (px, _) in enumerate(site.tanks)]
        mine = [px for j, px in enumerate(at) if site.line_of(j, main.count) == k]
        last = max(mine or at) + branch_shift(site)
        points.append((last + end_piece(main), head_y, top))
    else:
        if abs(head_y - ty) > 0.35 * tank.across:
            aside = min(0.3 * tank.across, abs(head_y - ty) - 2 * BESIDE)
            head_y = ty + math.copysign(max(aside, 0.0), head_y - ty)
            points.append((turn, head_y, top))
        over = tx - reach(tank, head_y - ty, IN)
        points += [(over, head_y, top), (over, head_y, top - down)]
    return Way(main, straight(points), None if site.many else 0)


def branch_shift(site: Site) -> float:
    """From the middle of a tank to its branch, along the row [m]."""
    return 0.35 * site.tank.length / 2


def _branches(site: Site, top: float, down: float):
    run = site.layout.run("branch")
    if run is None:
        return
    lines = copies(site.run("main").count, 2.0 * site.run("main").inside)
    for k, (x, y) in enumerate(site.tanks):
        turn = site.toward((x, y), site.header_y)
        shift = branch_shift(site) + site.aside_main(k)
        over = y + turn * reach_aside(site.tank, shift, IN)
        start = (x + shift, site.header_y + lines[site.line_of(k, len(lines))], top)
        yield Way(run, (start, (x + shift, over, top), (x + shift, over, top - down)), k)


def beside(site: Site, y: float, top: float) -> float:
    """The line along which the pressure pipe runs to the tanks: past every vessel that is as high."""
    tall = [v for v in site.layout.vessels if v.name not in ("tank", "sump") and v.rim > top - 0.05]
    middle = site.places["sump"][0][1]
    aside = [abs(py - middle) + v.across / 2 for v in tall for _, py in site.places[v.name]]
    wanted = site.header_y if site.many else y
    if not aside or abs(wanted - middle) > max(aside):
        return wanted
    return middle + max(aside) + BESIDE
