"""Where every pipe of a layout runs, in space: the corners that give drawing, cuts and heads their lengths.

x runs with the places of the layout, y across, z up from the datum [m].
"""

import math
from dataclasses import dataclass

from .graph import Layout, Leg, Run, Vessel
from .machines import shelf_height
from .plumbing import columns
from .rules import pipe_part, rule

Spot = tuple[float, float, float]
HAND = 0.0762
"""From the wall of a tank to the edge of a fitting in its floor: 3 in, room for a hand; common practice [m]."""
HEADER = 0.2
"""From the line of the drain to that of the header over it, towards the tanks; from memory [m]."""
IN = 0.15
"""How far a pipe that goes over a wall reaches inside it; from memory [m]."""
ON = 1e-6
"""A point so little beside a piece lies on it [m]."""
BESIDE = 0.3
"""From a vessel to a pipe that passes it; from memory [m]."""


@dataclass(frozen=True, slots=True, eq=False)
class Way:
    """One pipe of a run: its corners, and the tank that it belongs to, if to one."""

    run: Run
    points: tuple[Spot, ...]
    tank: int | None = None
    walls: tuple[Spot, ...] = ()
    """Where bulkhead fittings part it on its way: in the plane of the wall or the floor is their stop."""

    @property
    def legs(self) -> tuple[float, ...]:
        """Lengths from corner to corner [m]."""
        return tuple(math.dist(a, b) for a, b in zip(self.points, self.points[1:], strict=False))

    @property
    def length(self) -> float:
        """Length along its middle [m]."""
        return sum(self.legs)

    @property
    def measured(self) -> tuple[Leg, ...]:
        """Its legs from corner to corner, each with the way it goes; a sloping hose by what it does most."""
        pairs = zip(self.points, self.points[1:], strict=False)
        return tuple(Leg(_heading(a, b), math.dist(a, b)) for a, b in pairs)


def _heading(a: Spot, b: Spot) -> str:
    rise = b[2] - a[2]
    if abs(rise) < 1e-6 or abs(rise) < abs(b[0] - a[0]) + abs(b[1] - a[1]):
        return "level"
    return "up" if rise > 0 else "down"


def straight(points) -> tuple[Spot, ...]:
    """Corners without those that fall together or lie on a straight line."""
    found: list[Spot] = []
    for p in points:
        if found and math.dist(found[-1], p) < 1e-6:
            continue
        if len(found) > 1 and _in_line(found[-2], found[-1], p):
            found.pop()
        found.append(p)
    return tuple(found)


def _in_line(a: Spot, b: Spot, c: Spot) -> bool:
    return math.dist(a, b) + math.dist(b, c) - math.dist(a, c) < 1e-9


def reach(v: Vessel, aside: float, inset: float = 0.0) -> float:
    """From the middle of a vessel to its wall, along x, at a distance to the side [m]."""
    if v.shape == "box":
        return v.length / 2 - inset
    r = v.across / 2 - inset
    return math.sqrt(max(r * r - aside * aside, 0.0))


def reach_aside(v: Vessel, along: float, inset: float = 0.0) -> float:
    """From the middle of a vessel to its wall, along y, at a distance along x [m]."""
    if v.shape == "box":
        return v.across / 2 - inset
    r = v.across / 2 - inset
    return math.sqrt(max(r * r - along * along, 0.0))


def copies(count: int, apart: float) -> list[float]:
    """Offsets of pipes side by side [m]."""
    return [(k - (count - 1) / 2) * apart for k in range(count)]


def pitch(run: Run) -> float:
    """From one pipe to the next that a turn joins it to: two fittings and a piece of two sockets [m]."""
    part = pipe_part(run.pipe)
    return 2.0 * (part.lay + float(part.socket)) + 0.001


def bushing(run: Run, at: str) -> float:
    """What a reducer bushing at an end of a pipe takes off it [m]: it fills the socket of the wider fitting."""
    wider = next((f.size for f in run.fittings if f.kind == "reducer" and f.at == at), run.pipe)
    return max(0.0, float(pipe_part(wider).socket) - float(pipe_part(run.pipe).socket))


def joint(run: Run, at: str) -> float:
    """From the middle of the tee that a pipe joins to the end of that pipe [m], with its bushing where it has one."""
    wider = next((f.size for f in run.fittings if f.kind == "reducer" and f.at == at), run.pipe)
    return pipe_part(wider).lay + bushing(run, at)


def into_tee(run: Run) -> float:
    """From a turn of a pipe to the middle of the tee at its end [m]: a fitting, a piece of two sockets, the tee."""
    return end_piece(run) + joint(run, "end")


def pump_outlet(run: Run) -> float:
    """From the floor of the sump to the start of the pipe of a pump [m]; an airlift starts at the floor."""
    return 0.0 if run.name == "airlift" else rule("pump outlet")


def end_piece(run: Run) -> float:
    """From the middle of a tee to the end of the pipe behind it: half a tee and a piece of two sockets [m]."""
    part = pipe_part(run.pipe)
    return part.lay + 2.0 * float(part.socket) + 0.001


def clear_of(run: Run) -> float:
    """From a wall to the middle of a pipe that rises beside it: half an elbow and a piece of two sockets [m]."""
    return max(IN, end_piece(run))


def on_piece(p: Spot, a: Spot, b: Spot) -> bool:
    """Whether a point lies on a straight piece, its ends counted."""
    return math.dist(a, p) + math.dist(p, b) - math.dist(a, b) < ON


def beside_tank(centre: Run, drain: Run, standpipe: Run) -> float:
    """From the wall of the only tank to the middle of the rise of its centre drain [m]: a hand on both sides.

    Its tee in the drain has room beside the elbow under the standpipe.
    """
    hand = HAND + float(pipe_part(centre.pipe).outside_diameter) / 2
    inset = HAND + float(pipe_part(standpipe.pipe).bulkhead_hole) / 2
    return max(hand, pitch(drain) - inset)


def beside_first(drain: Run) -> float:
    """Room between the first vessel and the wall of its pit for a drain that rises there [m]."""
    return clear_of(drain) + float(pipe_part(drain.pipe).outside_diameter) / 2 + HAND


def aisle(runs) -> float:
    """Room between two rows of tanks for the rises of their centre drains beside the common drain [m]."""
    centre = next(run for run in runs if run.name == "centre drain")
    return 2.0 * (max(pitch(centre), into_tee(centre)) + clear_beside(centre))


def clear_beside(run: Run) -> float:
    """From a wall to the middle of a pipe that just clears it [m]."""
    return float(pipe_part(run.pipe).outside_diameter) / 2 + 0.01


def rise_room(runs, tank: Vessel) -> float:
    """Room beside the only tank for the rise of its centre drain [m]; of several, it rises beside the common drain."""
    if tank.count > 1:
        return 0.0
    named = {run.name: run for run in runs}
    centre = named["centre drain"]
    out = beside_tank(centre, named["drain"], named["standpipe"])
    return out + float(pipe_part(centre.pipe).outside_diameter) / 2 + HAND


class Site:
    """Places of a layout, and the lines along which pipes run."""

    def __init__(self, layout: Layout):
        self.layout = layout
        self.tank, self.sump = self.vessel("tank"), self.vessel("sump")
        self.places = dict(layout.places)
        self.over_sump = any(v.stands_in == "sump" for v in layout.vessels)
        self.tanks = self.places["tank"]
        ys = sorted({y for _, y in self.tanks})
        self.rows, self.middle = len(ys), (ys[0] + ys[-1]) / 2
        self.many = self.tank.count > 1
        self.trench = layout.trench
        self.way = max(rule("walkway"), aisle(layout.runs))
        aside = self.tank.across / 2 + self.way / 2
        lined = self.many and self.rows == 1
        drain = layout.run("drain")
        spare = (drain.count - 1) / 2 * self.apart() if lined and drain else 0.0
        self.drain_y = self.middle - (
            aside + spare if lined else 0.0
        )  # the near one of several at ``aside``
        self.header_y = self.drain_y + (HEADER if lined else 0.0)
        self.air_y = self.middle + (0.25 if self.rows > 1 else self.tank.across / 2 + 0.1)
        self.first = layout.vessels[1]

    def vessel(self, name: str) -> Vessel:
        """A vessel that is there."""
        return next(v for v in self.layout.vessels if v.name == name)

    def run(self, name: str) -> Run:
        """A run that is there."""
        return next(r for r in self.layout.runs if r.name == name)

    def aside(self) -> float:
        """Half of the widest line of vessels behind the tanks [m]."""
        return max(
            abs(y - self.middle) + v.across / 2
            for v in self.layout.vessels if v.name != "tank" for _, y in self.places[v.name]
        )  # fmt: skip

    def toward(self, at, line: float) -> float:
        """The side of a tank on which a line runs: 1 or -1."""
        return 1.0 if line > at[1] + 1e-9 else -1.0

    def hole(self, name: str) -> float:
        """Half the hole of a pipe's fitting [m]."""
        run = self.layout.run(name)
        return float(pipe_part(run.pipe).bulkhead_hole) / 2 if run else 0.05

    def standpipes(self, k: int) -> list[tuple[float, float]]:
        """Where the standpipes of a tank stand in plan [m]."""
        run, tank = self.run("standpipe"), self.tank
        x, y = self.tanks[k]
        inset = self.hole("standpipe") + HAND
        offsets = copies(max(1, run.count // tank.count), self.apart())
        if not self.many:
            return [(x - reach(tank, d, inset), y + d) for d in offsets]
        turn = self.toward((x, y), self.drain_y)
        shift = self.second(k) - self.shift()
        return [(x + shift + d, y + turn * reach_aside(tank, shift + d, inset)) for d in offsets]

    def second(self, k: int) -> float:
        """How far the drains of a tank of the second row stand aside, so that four tees have room [m]."""
        if k < self.columns():
            return 0.0
        need, between = pitch(self.run("drain")), self.shift() + self.centre_aside()
        return need if between >= 2.0 * need else between + need

    def centre_aside(self) -> float:
        """From the middle of a tank of several to where its centre drain meets the common drain, along the row [m].

        The tee of its standpipe stands ``shift`` to the other side, and two tees of a wide drain need room.
        """
        return max(pitch(self.run("centre drain")), pitch(self.run("drain")) - self.shift())

    def line_of(self, k: int, count: int) -> int:
        """Which of several common pipes side by side a tank is joined to, so that no branch crosses another pipe.

        They are counted by rising y.  Each of two rows has the pipe on its side; along one row the near pipe serves
        the tanks next to the vessels and ends there, the far one those behind.
        """
        if self.rows == 2 and count == 2:
            return k // self.columns()
        here = (k % self.columns()) * count // self.columns()
        return count - 1 - here if self.rows == 1 else here

    def shift(self) -> float:
        """From the middle of a tank of several to its standpipe, along the row [m]."""
        return min(max(0.2 * self.tank.length / 2, BESIDE), 0.3 * self.tank.length)

    def aside_main(self, k: int) -> float:
        """How far the branch of a tank of the second row stands aside on the header [m]."""
        return pitch(self.run("main")) if k >= self.columns() else 0.0

    def apart(self) -> float:
        """From one standpipe of a tank to the next, and from one drain to the next [m]."""
        part = pipe_part(self.run("standpipe").pipe)
        holes = 2 * max(self.hole("standpipe"), self.hole("drain")) + HAND
        tie = self.layout.run("standpipe tie")
        return max(holes, 2 * (part.lay + float(part.socket)), into_tee(tie) if tie else 0.0)

    def top(self) -> float:
        """Height of the pressure pipe over the datum [m]."""
        for name in ("riser", "airlift", "main"):
            run = self.layout.run(name)
            if run and run.legs[0].way == "up":
                return self.sump.floor + pump_outlet(run) + run.legs[0].length
        return self.tank.rim + rule("pipe height")

    def pumps(self) -> list[tuple[float, float]]:
        """Where the pumps stand in the sump, at its corner towards the tanks [m]."""
        run = self.layout.run("riser") or self.layout.run("airlift") or self.run("main")
        x, y = self.places["sump"][0]
        side = self.sump.across
        edge = min(0.2, side / 4)
        apart = min(max(0.4, pitch(self.run("main"))), (side - 2 * edge) / max(1, run.count - 1))
        return [
            (x + self.sump.length / 2 - edge, y + side / 2 - edge - k * apart)
            for k in range(run.count)
        ]

    def air_height(self) -> float:
        """Height of the air pipe over the datum [m]."""
        return self.run("air riser").legs[0].length + self.shelf("tank") + rule("machine outlet")

    def shelf(self, name: str) -> float:
        """Top of the shelf of the air machines of a vessel over the datum [m]."""
        return shelf_height(self.vessel(name))

    def machines(self) -> list[tuple[float, float]]:
        """Where the air machines stand, the spares too, in a line away from the tanks [m]."""
        x, y = self._machine()
        run = self.layout.run("air riser")
        return [(x, y + 0.6 * k) for k in range(run.count if run else 1)]

    def _machine(self) -> tuple[float, float]:
        """Where the first air machine stands: beside the first tank, off the line of vessels [m]."""
        x, _ = self.tanks[0]
        if self.many and self.rows == 1:  # behind the tanks and the header
            return x - self.tank.length / 4, self.middle + self.tank.across / 2 + 0.9
        beside = self.middle + self.first.across / 2 + 0.7
        return x - self.tank.length / 2 - 0.3, max(
            beside, self.air_y + 0.3
        )  # all on one side of the air pipe

    def filter_machine(self) -> tuple[float, float]:
        """Where the machine of the filter's air stands: beside it, or beside the sump that holds its bag."""
        name = "filter" if "filter" in self.places else "sump"
        places = self.places[name]
        return places[0][0], min(y for _, y in places) - self.vessel(name).across / 2 - 0.8

    def columns(self) -> int:
        """Tanks in a row."""
        return columns(self.tank.count)
