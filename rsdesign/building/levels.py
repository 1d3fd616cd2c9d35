"""Water levels from the tank down to the sump, and the gravity pipes that join them.

Tank, first vessel and sump stand where the sizing puts them: lift and fall are its figures.  What
lies between shares the fall that is left; each pipe takes what the sizing's own pipe relations say.
"""

import math
from dataclasses import dataclass, replace
from itertools import pairwise

from ..equations.pipes import drain_definitions, pipes
from ..sizing.system import Sizing
from .problems import Problem
from .rules import rule, single, stocked_size

INCH = 0.0254
SLOWER = (1.0, 0.8, 0.6, 0.45, 0.3)
"""Shares of the speed behind the settler that are tried where the fall is short."""


@dataclass(frozen=True, slots=True)
class Link:
    """A gravity pipe behind the first vessel: its size, how many, and the fall that it takes."""

    source: str
    target: str
    count: int
    inside: float
    length: float
    elbows: int
    losses: float
    flow: float
    uses: float
    fall: float = 0.0
    over: float = 0.0
    """What a pipe that ends over a drip pan needs beside what it uses: half its bore over the water [m]."""

    @property
    def needs(self) -> float:
        """The least fall [m]."""
        return self.uses + self.over


@dataclass(frozen=True, slots=True)
class Levels:
    """Water levels over the finished floor, by vessel: where it comes in, and where it leaves."""

    into: dict[str, float]
    out: dict[str, float]
    links: tuple[Link, ...]
    problems: tuple[Problem, ...]


def chain(s: Sizing) -> tuple[str, ...]:
    """The vessels behind the tank in the way of the water, the sump last."""
    d = s.design
    names = []
    if d.solids.settler != "none" and single(s.solids.area, "the settler") > 0.0:
        names.append("settler")
    if d.solids.second not in ("none", "plants"):
        names.append("screen")
    if single(s.filter.media_volume, "the media") > 0.0 and d.filter.vessel != "media bag":
        names.append("filter")
    if d.filter.plants > 0.0:  # before a tower, whose foot is low: a bed is worked at by hand
        names.insert(
            len(names) - (d.filter.type == "trickling" and names[-1:] == ["filter"]), "plants"
        )
    return (*names, "sump")


def drops(s: Sizing) -> dict[str, float]:
    """Fall inside each vessel, from where water comes in to where it leaves [m]."""
    found = {"screen": rule("screen loss"), "filter": rule("retaining screen")}
    if s.design.filter.type == "trickling":
        deep = single(s.filter.depth, "the filter")
        found["filter"] = rule("drip pan") + deep + rule("drip clear")
    return found


def stands_in_sump(s: Sizing, names: tuple[str, ...]) -> bool:
    """Whether a trickling bed drips straight into the sump in which it stands."""
    return s.design.filter.type == "trickling" and names[-2:-1] == ("filter",)


def levels(s: Sizing) -> Levels:
    """Every water level, and the pipes between the vessels."""
    names = chain(s)
    tank = single(s.tank.depth, "the tank")
    sump = tank - single(s.pump.tank_level, "the lift")
    first = sump + single(s.pump.settler_level, "the fall")
    into, out, problems = {"tank": tank}, {"tank": tank}, []
    if names == ("sump",):
        return Levels({**into, "sump": sump}, {**out, "sump": sump}, (), ())
    inside = drops(s)
    fixed = sum(inside.get(n, 0.0) for n in names[:-1])
    total = first - sump
    for share in SLOWER:
        links = _links(s, names, share)
        need = fixed + sum(link.needs for link in links)
        if need <= total + 1e-9:
            break
    else:
        links = _links(s, names, 1.0)
        need = fixed + sum(link.needs for link in links)
        problems.append(Problem(
            "From the first vessel behind the tank to the sump the water falls {fall}, and pipes and"
            " vessels on the way take {need}. Give the pump {more} more lift, or a lower bed.",
            (("fall", max(total, 0.0), "length"), ("need", need, "length"),
             ("more", need - total, "length")),
        ))  # fmt: skip
    links = _shared(links, total - fixed)
    falls = {link.target: link.fall for link in links}
    at = first
    for place, name in enumerate(names):
        if place:
            at -= falls.get(name, 0.0)
        into[name] = at
        at -= inside.get(name, 0.0)
        out[name] = at
    into["sump"] = out["sump"] = sump
    return Levels(into, out, links, tuple(problems))


def _links(s: Sizing, names: tuple[str, ...], share: float) -> tuple[Link, ...]:
    """The pipes from vessel to vessel, slow enough for a share of the usual speed."""
    pairs = list(pairwise(names))
    if stands_in_sump(s, names):
        pairs = pairs[:-1]
    return tuple(_link(s, a, b, share) for a, b in pairs)


def side_by_side(s: Sizing, name: str) -> int:
    """How many vessels of a name stand side by side."""
    if name == "filter":
        return int(single(s.filter.vessels, "the filter"))
    return bed_shape(float(s.design.filter.plants))[0] if name == "plants" else 1


def bed_shape(area: float) -> tuple[int, float, float]:
    """Plant beds for an area [m²]: how many, the width and the length of each [m]."""
    wide = min(rule("bed width"), math.sqrt(area))
    count = math.ceil(area / wide / rule("bed longest") - 1e-9)
    return count, wide, area / wide / count


def _link(s: Sizing, source: str, target: str, share: float) -> Link:
    many = max(side_by_side(s, source), side_by_side(s, target))
    flow = single(s.pump.flow, "the flow") / many
    if source == "settler" and s.design.solids.share < 1.0:
        flow *= float(s.design.solids.share)
    wanted = pipes.diameter_for_velocity(flow, share * rule("after settler"))
    inside = stocked_size(float(wanted))
    pan = target == "filter" and s.design.filter.type == "trickling"
    elbows = 1 if target == "sump" else 0
    if _jogs(s, source, target):
        elbows += 2  # from the line of one to the line of the other
    turns = elbows + (0 if pan else 1)  # the outlet is turned up inside the source
    losses = s.tables.loss("entrance") + turns * s.tables.loss("elbow")
    wide = max(_wide(s, source), _wide(s, target))
    length = rule("gap") + (many - 1) / 2 * (wide + rule("gap")) if elbows > 1 else rule("gap")
    length += rule("sump rise") if target == "sump" else 0.0
    friction = pipes.head_loss(flow, inside, length, s.design.pump.roughness, losses, warmest(s))
    uses = drain_definitions.drain_head(friction, pipes.velocity(flow, inside))
    return Link(source, target, many, inside, float(length), elbows, float(losses), float(flow),
                float(uses), over=inside / 2 if pan else 0.0)  # fmt: skip


def _jogs(s: Sizing, source: str, target: str) -> bool:
    """Whether the outermost of several vessels side by side stand beyond the wall of the one that they join."""
    counts = {name: side_by_side(s, name) for name in (source, target)}
    if counts[source] == counts[target]:
        return False
    several = max(counts, key=counts.__getitem__)
    one = min(counts, key=counts.__getitem__)
    wide = _wide(s, several)
    edge = (counts[several] - 1) / 2 * (wide + rule("gap")) - 0.35 * wide
    return counts[one] > 1 or edge > 0.35 * _wide(s, one)


def _wide(s: Sizing, name: str) -> float:
    """How wide one of several vessels side by side is [m]."""
    if name == "filter":
        return single(s.filter.across, "the filter")
    return bed_shape(float(s.design.filter.plants))[1] if name == "plants" else 0.0


def _shared(links: tuple[Link, ...], room: float) -> tuple[Link, ...]:
    """Each pipe's fall in whole inches, the rest at the last one; alike where there is no room for inches."""
    if not links:
        return links
    whole = [INCH * math.ceil(link.needs / INCH - 1e-9) for link in links]
    needs = [link.needs for link in links]
    spare = max(0.0, room - sum(needs)) / len(needs)
    falls = whole if sum(whole) <= room else [need + spare for need in needs]
    falls[-1] += max(0.0, room - sum(falls))
    return tuple(replace(link, fall=fall) for link, fall in zip(links, falls, strict=True))


def warmest(s: Sizing) -> float:
    """The water at which the sizing computes its pipes [°C]."""
    site = s.design.site
    return float(site.water_temperature if site.warmest_water is None else site.warmest_water)
