"""The layout graph: what stands where, what joins it, what drives it.  Plain data.

Heights are over one datum, the finished floor by the tanks [m].  Lengths are in metres, flows in
m³/s, powers in watts.
"""

import math
from dataclasses import dataclass

from ..sizing.system import Sizing
from .problems import Problem
from .rules import inside_of, rule


@dataclass(frozen=True, slots=True)
class Hole:
    """A hole to drill, in each vessel of its kind.

    ``size`` is the nominal pipe, ``diameter`` what is drilled [m], ``height`` its middle over the datum
    [m], ``count`` how many in one vessel, ``fitting`` what goes in.
    """

    purpose: str
    size: str
    diameter: float
    height: float
    side: str
    fitting: str = "bulkhead fitting"
    count: int = 1


@dataclass(frozen=True, slots=True)
class Vessel:
    """A vessel, or ``count`` alike.

    ``across`` is a round one's diameter, or the width of a box whose ``length`` goes with the water [m];
    both are inside.  ``wall`` is its height over its floor, ``cone`` how far a cone goes below the floor.
    ``level`` is the water at full flow, or the top of a bed that water trickles through.
    """

    name: str
    kind: str
    label: str
    count: int
    shape: str
    across: float
    length: float
    depth: float
    level: float
    floor: float
    rim: float
    cone: float = 0.0
    holes: tuple[Hole, ...] = ()
    inlet: float | None = None
    """Where water comes in above the level, as into a drip pan [m]."""
    stands_in: str = ""
    """The vessel in which it stands on legs, such as a tower in the sump."""
    under: float = 0.0
    """Room under its lowest point for a pipe that leaves there [m]."""
    volume: float = 0.0
    """Water in one at full flow [m³]."""
    note: str = ""
    around: float = 0.0
    """Room between it and the wall of its pit where a wide pipe rises there; 0 for that of the rule [m]."""

    @property
    def area(self) -> float:
        """Area of its water in plan [m²]: a box, or round."""
        return self.across * self.length if self.shape == "box" else math.pi / 4 * self.across**2

    @property
    def wall(self) -> float:
        """Height of its wall [m]."""
        return self.rim - self.floor

    @property
    def lowest(self) -> float:
        """Its lowest point over the datum [m]."""
        return self.floor - self.cone

    @property
    def pit(self) -> float:
        """Depth of its pit under the finished floor, without the sand [m]; 0 where it needs none."""
        return 0.0 if self.stands_in else max(0.0, self.under - self.lowest)

    @property
    def pit_size(self) -> tuple[float, float]:
        """Length and width of its pit between its walls, with the room around it [m]."""
        side = 2.0 * self.pit_room
        return self.length + side, self.across + side

    @property
    def pit_room(self) -> float:
        """Room between it and the side of its pit [m]."""
        return max(self.around, rule("pit side"))

    @property
    def lined(self) -> bool:
        """Whether blocks hold the earth of its pit."""
        return self.pit > rule("pit wall")

    @property
    def side(self) -> float:
        """From its wall to the outside of the wall of its pit [m]; 0 where it needs none."""
        block = rule("block wide") if self.lined else 0.0
        return self.pit_room + block if self.pit > rule("least pit") else 0.0

    @property
    def dug_size(self) -> tuple[float, float]:
        """Length and width of what is dug for one, its block walls with it [m]."""
        return self.length + 2.0 * self.side, self.across + 2.0 * self.side

    @property
    def steep(self) -> bool:
        """Whether it ends in a cone that has to be held up."""
        return self.cone > 0.0 and not self.nearly_flat

    @property
    def nearly_flat(self) -> bool:
        """Whether its floor falls to the middle so little that it is swept there."""
        return 0.0 < self.cone < 0.25 * self.across

    @property
    def stand(self) -> float:
        """Height of the stand on the finished floor that holds it up [m]; 0 where it needs none."""
        return 0.0 if self.stands_in else max(0.0, self.lowest)


@dataclass(frozen=True, slots=True)
class Fitted:
    """Fittings of one kind and size in one of the pipes of a run."""

    kind: str
    size: str
    count: int
    why: str
    at: str = ""
    """Of a reducer bushing: in the socket at the "start", the "end" or the "middle" of its pipe."""

    def sizes(self, pipe: str) -> str:
        """Its size, both sizes for what joins two, the wider one first, in a run of a pipe."""
        if self.kind != "reducer" or self.size == pipe:
            return self.size
        wide, narrow = sorted((self.size, pipe), key=inside_of, reverse=True)
        return f"{wide} by {narrow}"


@dataclass(frozen=True, slots=True)
class Leg:
    """A straight piece of a run, from turn to turn: ``way`` is "up", "down" or "level"."""

    way: str
    length: float


@dataclass(frozen=True, slots=True)
class Run:
    """A pipe from one vessel to the next, or ``count`` alike side by side.

    ``legs`` are those of the longest, ``pipes`` those of each where they are not alike.  ``start`` and
    ``end`` are the water levels that it joins; ``fall`` what there is between them where gravity drives it,
    ``uses`` what its water takes of it.  ``losses``: sum of its loss coefficients.  ``at_ends``: elbows with
    which it joins another pipe or ends, beside those between its legs; ``corner_tees``: corners at which a tee
    stands instead.  ``lip``: the mouth of an elbow turned up inside its source, which holds the water there [m].
    """

    name: str
    label: str
    source: str
    target: str
    pipe: str
    inside: float
    count: int
    flow: float
    start: float
    end: float
    legs: tuple[Leg, ...]
    fittings: tuple[Fitted, ...]
    kind: str = "gravity"
    fall: float = 0.0
    uses: float = 0.0
    losses: float = 0.0
    why: str = ""
    pipes: tuple[tuple[Leg, ...], ...] = ()
    at_ends: int = 0
    corner_tees: int = 0
    lip: float | None = None

    @property
    def bore(self) -> float:
        """Area of its bore [m²]."""
        return math.pi / 4 * self.inside**2

    @property
    def length(self) -> float:
        """Length of the longest pipe along its middle [m]."""
        return sum(leg.length for leg in self.legs)

    @property
    def each(self) -> tuple[tuple[Leg, ...], ...]:
        """The legs of every pipe."""
        return self.pipes or (self.legs,) * self.count

    @property
    def in_all(self) -> float:
        """Length of all pipes together [m]."""
        return sum(leg.length for legs in self.each for leg in legs)

    def counted(self, kind: str) -> int:
        """How many fittings of a kind one pipe holds."""
        return sum(f.count for f in self.fittings if f.kind == kind)


@dataclass(frozen=True, slots=True)
class Machine:
    """Machines alike: how many run, how many stand by, and what each has to do."""

    name: str
    kind: str
    label: str
    duty: str
    watts: float
    running: int
    spare: int
    serves: str
    why: str = ""


@dataclass(frozen=True, slots=True)
class Diffusers:
    """What makes the bubbles: the same in each vessel."""

    vessel: str
    kind: str
    label: str
    each: int
    vessels: int
    air: float
    depth: float
    why: str


@dataclass(frozen=True, slots=True, eq=False)
class Layout:
    """The whole layout of one design.

    ``places`` holds the middles of every vessel in plan; ``problems`` says what cannot be built as it stands,
    ``notes`` where it is longer or shorter than the design counts.
    """

    sizing: Sizing
    vessels: tuple[Vessel, ...]
    runs: tuple[Run, ...]
    machines: tuple[Machine, ...]
    diffusers: tuple[Diffusers, ...]
    places: dict[str, tuple[tuple[float, float], ...]]
    problems: tuple[Problem, ...] = ()
    notes: tuple[Problem, ...] = ()
    ways: tuple = ()
    """The ``Way`` of every pipe in space."""
    trench: float = 0.0
    """Depth of the middle of the drain under the finished floor [m]."""

    def vessel(self, name: str) -> Vessel | None:
        """A vessel by its name; None where there is none."""
        return next((v for v in self.vessels if v.name == name), None)

    def run(self, name: str) -> Run | None:
        """A run by its name; None where there is none."""
        return next((r for r in self.runs if r.name == name), None)

    @property
    def lowest(self) -> float:
        """The lowest point of all vessels [m]."""
        return min(v.lowest for v in self.vessels)
