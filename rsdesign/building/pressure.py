"""From the sump to each tank: risers, the main, the branches; as many turns as the sizing counts."""

from ..equations.pipes import pipes
from ..sizing.system import Sizing
from .graph import Fitted, Leg, Run, Vessel
from .plan import way_to_tanks
from .plumbing import along, head, sizes_from
from .rules import nominal, opener, rule, single, stocked_size


def pressure(s: Sizing, found: dict[str, Vessel], least: float = 0.0) -> list[Run]:
    """The pressure side: runs from the pump to each tank, their level legs as long as the design counts.

    ``least``: the least inside diameter of a branch [m].
    """
    tank, sump = found["tank"], found["sump"]
    many, pumps = tank.count, int(single(s.pump.count, "the pump"))
    lifted = s.design.pump.kind == "airlift"
    top = max(v.rim for v in found.values() if v.name != "filter") + rule("pipe height")
    top = max(top, tank.rim + rule("pipe height"))
    if lifted:
        top = tank.level
    rise = top - sump.floor - (0.0 if lifted else rule("pump outlet"))
    drop = top - (tank.level - (0.0 if lifted else rule("inlet depth")))
    shortest = way_to_tanks(found) + (along(tank) + tank.length / 2 if many > 1 else 0.0)
    side = rule("walkway") / 2 + tank.across / 4 if many > 1 else 0.0
    level = max(float(s.design.pump.length) - rise - drop - side, shortest)
    parts = _Pressure(s, tank, sump, pumps, lifted, least)
    return parts.runs((rise, level, side, drop), pumps > 1)


class _Pressure:
    """The runs of one pressure side."""

    def __init__(self, s: Sizing, tank: Vessel, sump: Vessel, pumps: int, lifted: bool,
                 least: float):  # fmt: skip
        self.s, self.tank, self.sump = s, tank, sump
        self.pumps, self.lifted, self.least = pumps, lifted, least
        self.flow = single(s.pump.flow, "the flow")
        self.pipes = int(single(s.pump.pipes, "the pipe"))
        self.inside = single(s.pump.pipe, "the pipe")
        self.many = tank.count

    def runs(self, sizes, apart: bool) -> list[Run]:
        """The runs for heights and lengths: the rise, the level main, the side branch, the drop."""
        rise, level, side, drop = sizes
        found = []
        legs = [Leg("level", level)]
        main = []
        if apart or self.lifted:
            found.append(self._riser(rise))
            if not self.lifted:
                main.append(
                    Fitted("plug", nominal(self.inside), 1, "closes the tee over the last pump")
                )
        else:
            legs.insert(0, Leg("up", rise))
            main += [*self._at_pump(self.inside),
                     Fitted("elbow", nominal(self.inside), 1, "at the top of the riser")]  # fmt: skip
        if self.many == 1:
            legs.append(Leg("down", drop))
            main += self._at_tank(self.inside)
        else:
            main.append(
                Fitted("plug", nominal(self.inside), 1, "at the end of the header, to flush it")
            )
        found.append(self._run("main", "pressure pipe" if self.many == 1 else "header to the tanks",
                               self.inside, self.pipes, self.flow / self.pipes, legs, main,
                               1 if self.many == 1 else 0))  # fmt: skip
        if self.many > 1:
            found.append(self._branch(side, drop, found))
        return found

    def _at_pump(self, inside: float) -> list[Fitted]:
        if self.lifted:
            return []
        size = nominal(inside)
        return [
            Fitted(opener(inside), size, 1, "so that the pump comes out without a saw"),
            Fitted("adapter", size, 1, "from the outlet of the pump to the pipe"),
            Fitted("check valve", size, 1, "the pipe stays full, and a pump that stands is not run back"),
        ]  # fmt: skip

    def _at_tank(self, inside: float) -> list[Fitted]:
        size = nominal(inside)
        valve = [] if self.lifted else [Fitted("ball valve", size, 1, "sets the flow of the tank")]
        return [*valve, Fitted("elbow", size, 1, "over the wall, down into the tank"),
                Fitted("elbow", size, 1, "along the wall, so that the water turns")]  # fmt: skip

    def _riser(self, rise: float) -> Run:
        each = self.flow / self.pumps
        if self.lifted:
            inside = float(self.s.design.pump.airlift_pipe)
            return self._run("airlift", "airlift", inside, self.pumps, each, [Leg("up", rise)], [
                Fitted("tee", nominal(inside), 1, "lets the air go and leads the water on"),
            ])  # fmt: skip
        inside = self._size(each)
        fits = [
            *self._at_pump(inside),
            Fitted("tee", nominal(inside), 1, "joins the pumps; a turn"),
        ]
        if nominal(inside) != nominal(self.inside):
            fits.append(
                Fitted("reducer", nominal(self.inside), 1, "from the riser to the main", "end")
            )
        return self._run(
            "riser", "riser of one pump", inside, self.pumps, each, [Leg("up", rise)], fits
        )

    def _size(self, flow: float) -> float:
        wanted = pipes.diameter_for_velocity(flow, self.s.design.pump.velocity)
        return min(stocked_size(float(wanted)), self.inside)

    def _branch(self, side: float, drop: float, others: list[Run]) -> Run:
        """The branch of one tank: the smallest with which the way loses no more than is counted."""
        flow = max(self.flow / self.many, single(self.s.turning.flow, "the tank's flow"))
        for inside in sizes_from(max(self._size(flow), self.least), self.inside):
            size = nominal(inside)
            fits = [
                Fitted("tee", nominal(self.inside), 1, "off the header; a turn"),
                *self._at_tank(inside),
            ]
            if size != nominal(self.inside):
                fits.append(
                    Fitted(
                        "reducer", nominal(self.inside), 1, "from the header to the branch", "start"
                    )
                )
            made = self._run("branch", "branch to one tank", inside, self.many, flow,
                             [Leg("level", side), Leg("down", drop)], fits, 1)  # fmt: skip
            if self.way_head([*others, made]) <= single(self.s.pump.friction, "the pipe"):
                break
        return made

    def _run(self, name, label, inside, count, flow, legs, fits, at_ends=0) -> Run:
        fits = tuple(f for f in fits if f.count > 0)
        return Run(
            name, label, "sump", "tank", nominal(inside), inside, count, flow, self.sump.level,
            self.tank.level, tuple(x for x in legs if x.length > 0), fits, "pressure",
            why="as wide as the flow needs at the speed chosen", at_ends=at_ends,
        )  # fmt: skip

    def way_head(self, runs: list[Run]) -> float:
        """Head lost on the way of the water to one tank, the exit counted [m]."""
        last = runs[-1]
        return sum(
            head(self.s, r.flow, r.inside, r.length,
                 losses_of(self.s, r) + (self.s.tables.loss("exit") if r is last else 0.0))
            for r in runs
        )  # fmt: skip


def losses_of(s: Sizing, run: Run) -> float:
    """Loss coefficients of one pipe: elbows, tees that turn it, valves; unions and plugs count none."""
    turns = run.counted("elbow") + rule("tee turn") * run.counted("tee")
    return float(
        turns * s.tables.loss("elbow")
        + run.counted("ball valve") * s.tables.loss("ball valve")
        + run.counted("check valve") * s.tables.loss("check valve")
    )


def way_turns(runs) -> int:
    """Turns on the way from a pump to a tank: elbows, and tees that turn the water."""
    way = [r for r in runs if r.name in ("riser", "main", "branch")]
    return sum(r.counted("elbow") + r.counted("tee") for r in way)
