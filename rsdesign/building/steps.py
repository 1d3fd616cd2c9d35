"""Steps of building with their time and people, and the tools: counted from the layout."""

import math
from dataclasses import dataclass

from ..core import tables
from ..core.kinds import Minutes, Ratio
from ..core.tables import SourcedRow
from .backup_power import has_battery
from .circuits import circuits
from .cuts import cuts
from .graph import Layout
from .ground import near_pits
from .guards import fence_length
from .parts_flow import BURIED, joints
from .parts_rest import bags
from .rules import rule


@dataclass(frozen=True, slots=True)
class StepRow(SourcedRow):
    """A step of building: the time for each of what it counts, and how many people."""

    name: str
    label: str
    each: str
    minutes: Minutes
    people: Ratio
    what: str
    done: str
    caution: str
    when: str


@dataclass(frozen=True, slots=True)
class Tool(SourcedRow):
    """A tool to build with."""

    name: str
    label: str
    why: str
    when: str


@dataclass(frozen=True, slots=True)
class Step:
    """One step of this layout: its row, how many of what it counts, and its time [s]."""

    row: StepRow
    count: float
    time: float

    @property
    def work(self) -> float:
        """Time of all people together [s]."""
        return self.time * float(self.row.people)


def dug(layout: Layout) -> float:
    """What is dug out: pits with room around, and the trench of the drain [m³]."""
    pits = sum(
        v.count * math.prod(v.dug_size) * (v.pit + rule("pit bed"))
        for v in layout.vessels if v.pit > rule("least pit")
    )  # fmt: skip
    buried = [r for r in layout.runs if r.name in BURIED]
    trench = sum(
        leg.length for r in buried for legs in r.each for leg in legs if leg.way == "level"
    )
    dug_for = pits + trench * rule("trench wide") * 2 * layout.trench
    for way in (w for w in layout.ways if w.run.name == "sludge"):
        deep = max(0.0, -min(p[2] for p in way.points))
        level = sum(leg.length for leg in way.measured if leg.way == "level")
        dug_for += level * rule("trench wide") * deep
    return dug_for


def counts(layout: Layout) -> dict[str, float]:
    """How many there are of each thing that a step counts."""
    tank = layout.vessel("tank")
    assert tank is not None
    pieces = cuts(layout).pieces
    return {
        "design": 1.0,
        "tank": float(tank.count),
        "vessel": float(sum(v.count for v in layout.vessels)),
        "pit": dug(layout),
        "hole": float(sum(h.count * v.count for v in layout.vessels for h in v.holes)),
        "buried joint": float(joints(layout, BURIED)),
        "joint": float(joints(layout) - joints(layout, BURIED)),
        "buried piece": float(sum(p.count for p in pieces if p.run in BURIED)),
        "piece": float(sum(p.count for p in pieces if p.run not in BURIED)),
        "machine": float(sum(m.running + m.spare for m in layout.machines)),
        "circuit": float(len(circuits(layout))),
        "bag": float(bags(layout)),
        "fence": fence_length(layout),
    }


def has(layout: Layout, when: str) -> bool:
    """Whether a condition of a step or a tool holds."""
    pit = any(v.pit > rule("least pit") for v in layout.vessels)
    backup = layout.sizing.design.safety.backup != "none"
    air = backup and layout.sizing.design.safety.backup_kind == "battery air"
    return {
        "": True,
        "pit": pit,
        "near pit": bool(near_pits(layout)),
        "battery": has_battery(layout.sizing),
        "backup air": air,
    }[when]


def steps(layout: Layout) -> tuple[Step, ...]:
    """The steps in their order, each with its time; what is not needed is left out."""
    many = counts(layout)
    rows = tables.read("build_steps", StepRow)
    return tuple(
        Step(row, many[row.each], many[row.each] * float(row.minutes))
        for row in rows if has(layout, row.when) and many[row.each] > 0
    )  # fmt: skip


AFTER = ("ask", "engineer", "fill", "leak", "wet", "media", "ripen")
"""Steps that stand in the calendar on days of their own, not among the weeks of building."""


def weeks_of_building(found: tuple[Step, ...]) -> int:
    """Whole weeks from the first line marked out to the last wire, at the hours of a work day and its days a week."""
    hours = sum(step.time for step in found if step.row.name not in AFTER)
    return math.ceil(math.ceil(hours / rule("work day") - 1e-9) / rule("work week") - 1e-9)


def tools(layout: Layout) -> tuple[Tool, ...]:
    """The tools that the layout asks for."""
    return tuple(t for t in tables.read("build_tools", Tool) if has(layout, t.when))
