"""A whole design: every choice, as nested frozen dataclasses; nothing computed.

A field left ``None`` means "not known: let the sizing choose", and the sizing says what it took.
Numbers are plain (SI, see ``kinds``); any field marked for sweeping may be an array, and then
``size`` computes as many designs in one call.
"""

import dataclasses
import functools

from .choices import DesignError, choice, fields_of, problem
from .sections.goal import Goal, Keep, Site, Source, Stock, Wastes
from .sections.system import Air, Filter, Pump, Safety, Solids, Tank
from .sections.words import section


@section()
class Design:
    """A whole design: every choice, nothing computed."""

    name: str = choice("", label="Name", source="the user")
    note: str = choice("", label="Note", source="the user")
    site: Site = dataclasses.field(default_factory=Site)
    source: Source = dataclasses.field(default_factory=Source)
    goal: Goal = dataclasses.field(default_factory=Goal)
    stock: Stock = dataclasses.field(default_factory=Stock)
    wastes: Wastes = dataclasses.field(default_factory=Wastes)
    keep: Keep = dataclasses.field(default_factory=Keep)
    tank: Tank = dataclasses.field(default_factory=Tank)
    solids: Solids = dataclasses.field(default_factory=Solids)
    filter: Filter = dataclasses.field(default_factory=Filter)
    air: Air = dataclasses.field(default_factory=Air)
    pump: Pump = dataclasses.field(default_factory=Pump)
    safety: Safety = dataclasses.field(default_factory=Safety)
    unknown: tuple[str, ...] = ()


FIELDS = fields_of(Design)


def value_of(design: Design, path: str):
    """The value of a choice by its dotted path."""
    return functools.reduce(getattr, path.split("."), design)


def with_values(design: Design, values: dict | None = None, /, **more) -> Design:
    """A changed copy: ``with_values(design, {"tank.depth": 1.2})``.

    Raises ``DesignError`` for a path that is not a choice.
    """
    changes: dict[str, dict] = {}
    for path, value in {**(values or {}), **more}.items():
        if path not in FIELDS:
            raise DesignError(f"{path!r} is not a choice of a design.")
        part, _, name = path.rpartition(".")
        changes.setdefault(part, {})[name] = value
    parts = {
        part: dataclasses.replace(getattr(design, part), **inner)
        for part, inner in changes.items()
        if part
    }
    return dataclasses.replace(design, **parts, **changes.get("", {}))


def problems(design: Design) -> list[str]:
    """Every sentence on what is wrong with a design; empty when it can be computed."""
    found = []
    for path, entry in FIELDS.items():
        wrong = problem(entry, value_of(design, path))
        if wrong:
            found.append(wrong)
    return found or impossible(design)


def impossible(design: Design) -> list[str]:
    """Combinations that cannot be, though each value alone is allowed."""
    goal, stock, tank = design.goal, design.stock, design.tank
    found = []
    if goal.harvest is None and goal.fish is None:
        found.append("goal.harvest or goal.fish must be given: say how much fish you want.")
    if goal.harvest is not None and goal.fish is not None:
        found.append("goal.harvest and goal.fish are both given; keep the one you mean.")
    if (stock.stocking_weight >= goal.weight) is True:
        found.append(
            "stock.stocking_weight is not below goal.weight: fish are stocked to grow;"
            " choose a smaller size at stocking or a larger one at harvest."
        )
    if tank.shape == "rectangle" and (tank.width is None) != (tank.length is None):
        found.append("tank.width and tank.length belong together for a box: give both or neither.")
    return found


def check(design: Design) -> None:
    """Raise ``DesignError`` with the first sentence on what is wrong, if anything is."""
    found = problems(design)
    if found:
        raise DesignError(found[0])
