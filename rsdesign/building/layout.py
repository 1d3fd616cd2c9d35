"""``layout(sizing)``: every vessel, pipe and machine of one design as plain data."""

from dataclasses import replace

from ..core.choices import DesignError
from ..sizing.system import Sizing
from .air_ways import air_ways
from .cuts import tight
from .drainage import bypass, drains, links, trench
from .graph import Layout, Run, Vessel
from .ground import said_of_falls, said_of_pits
from .holes import drilled
from .levels import INCH, chain, levels
from .machines import air_runs, diffusers, machines
from .measured import differences, drain_short, measured, pressure_short
from .overflow import overflow
from .plan import places
from .plumbing import sizes_from
from .pressure import pressure
from .problems import Problem, phrase
from .rules import rule
from .run_down import rest, sump_need
from .sludge import said_of_sludge, sludge
from .space import Site, aisle, beside_first, rise_room
from .vessels import vessels
from .walls import with_walls
from .water_ways import water_ways

ROUNDS = 8
"""Times that pipes and gaps may grow; what is short then is said as a problem."""
MOST_GAP = 1.8
"""The widest gap that is made for the fittings of a pipe; from memory [m]."""


def layout(sizing: Sizing) -> Layout:
    """The layout of a sizing.

    Parameters:
        sizing: what ``size`` gives, of one design.
    Returns: the ``Layout``: vessels with levels and holes, runs with fittings, machines, diffusers, and
        what cannot be built as it stands.
    Raises: ``DesignError`` for many designs.

    >>> from rsdesign import Design, size
    >>> layout(size(Design().with_(goal_fish=180))).vessel("tank").floor
    0.0
    """
    if getattr(sizing.pump.flow, "ndim", 0):
        raise DesignError(
            "A layout is of one design, and this sizing holds many. Take one of them."
        )
    wider: dict[str, float] = {}
    found = _built(sizing, wider)
    for _ in range(ROUNDS):
        grown = _grown(found, wider)
        if grown == wider:
            break
        wider = grown
        found = _built(sizing, wider)
    return found


def _built(sizing: Sizing, wider: dict[str, float]) -> Layout:
    """The layout with branches at least as wide as ``wider`` says by the name of their run [m], and gaps.

    A gap stands under the name of the vessel behind it.
    """
    at, names = levels(sizing), chain(sizing)
    found = {v.name: v for v in vessels(sizing, at, names, wider.get("sump room", 0.0))}
    mud, dry = sludge(sizing, found)
    bubbles = diffusers(sizing, found)
    down = drains(sizing, found, names[0], wider.get("drain branch", 0.0))
    runs = [*down, *bypass(sizing, found, at, names), *links(sizing, at, found), *mud, *overflow(found),
            *pressure(sizing, found, wider.get("branch", 0.0)), *air_runs(sizing, found, bubbles)]  # fmt: skip
    found[names[0]] = replace(found[names[0]], around=beside_first(down[-1]))
    under = {r.name: r for r in down if r.name != "standpipe"}
    deep = trench(found[names[0]], under["drain"], under.values())
    draft = Layout(sizing, drilled(sizing, found, runs, deep), tuple(runs), machines(sizing), bubbles,
                   places(found, wider, rise_room(down, found["tank"]), aisle(down)), trench=deep)  # fmt: skip
    site = Site(draft)
    ways = [with_walls(site, way) for way in (*water_ways(site), *air_ways(site))]
    runs, ways = measured(sizing, runs, ways)
    wrong, notes = differences(sizing, runs)
    made = replace(draft, runs=tuple(runs), ways=tuple(ways), notes=tuple(notes))
    short, told = rest(made)
    made = replace(
        made,
        notes=(*notes, *told, *said_of_falls(made, at), *said_of_pits(made), *said_of_sludge(made)),
    )
    wrong = [*wrong, *short]
    return replace(
        made,
        problems=(
            *at.problems,
            *dry,
            *_split(found[names[0]]),
            *_crowded(site),
            *wrong,
            *_tight(made),
        ),
    )


def _split(first: Vessel) -> list[Problem]:
    """A drain that would have to be shared among vessels side by side."""
    if first.count == 1:
        return []
    return [phrase("The drain ends in one vessel, and this design has {many} of these first, each {across} across"
                   f" ({first.label}). Put a settler or a second screen before them, so that the water is shared.",
                   many=(float(first.count), "count"), across=(first.across, "tape"))]  # fmt: skip


def _crowded(site: Site) -> list[Problem]:
    """Standpipes of one tank that do not stand inside its wall."""
    tank, (x, y) = site.tank, site.tanks[0]
    spots, edge = site.standpipes(0), site.hole("standpipe")
    outside = [abs(b - y) + edge - tank.across / 2 for _, b in spots]
    outside += [abs(a - x) + edge - tank.length / 2 for a, _ in spots]
    if max(outside) <= 0.0:
        return []
    return [phrase("One tank has {many} standpipes side by side, and they need {more} more room than it is wide."
                   " Choose a wider standpipe, or a wider tank.",
                   many=(float(len(spots)), "count"), more=(2.0 * max(outside), "tape"))]  # fmt: skip


def _tight(found: Layout) -> list[Problem]:
    """Runs whose fittings need more room than there is."""
    return [
        phrase(f"The fittings of one pipe, {run.label}, need {{more}} more than there is: set what it joins so"
               " much further apart.", more=(more, "tape"))
        for run in found.runs if (more := tight(found, run)) > 0.0
    ]  # fmt: skip


def _grown(found: Layout, wider: dict[str, float]) -> dict[str, float]:
    """The next size of the branches whose way loses more than there is; the same where that helps no more."""
    grown = dict(wider)
    for name, main, short in (
        ("branch", "main", pressure_short),
        ("drain branch", "drain", drain_short),
    ):
        branch, trunk = found.run(name), found.run(main)
        if branch and trunk and branch.inside < trunk.inside * (1.0 - 1e-9) and short(found):
            grown[name] = sizes_from(branch.inside, trunk.inside)[1]
    need = sump_need(found)
    if need > wider.get("sump room", 0.0):
        grown["sump room"] = need
    for run in found.runs:
        more = tight(found, run)
        if more > 0.0 and run.target in found.places and _in_gap(run):
            gap = max(wider.get(run.target, 0.0), rule("gap")) + max(more, INCH)
            grown[run.target] = min(gap, MOST_GAP)
    return grown


def _in_gap(run: Run) -> bool:
    """Whether a run lies in the gap in front of the vessel that it feeds."""
    return run.name in ("drain", f"{run.source} to {run.target}")
