"""The sludge pipe of the settler, and how a bucket comes under its mouth."""

import math

from ..sizing.system import Sizing
from .graph import Fitted, Layout, Leg, Run, Vessel
from .levels import INCH
from .problems import Phrase, Problem, phrase
from .rules import inside_of, nominal, opener, pipe_part, rule


def sludge(s: Sizing, found: dict[str, Vessel]) -> tuple[list[Run], list[Problem]]:
    """The sludge pipe of the settler: from its lowest point up to a valve over a bucket."""
    settler = found.get("settler")
    if settler is None:
        return [], []
    inside = rule("sludge pipe")
    size = nominal(inside)
    wanted = (
        rule("bucket height") + rule("bucket room") + float(pipe_part(size).outside_diameter) / 2
    )
    most = INCH * math.floor((settler.level - rule("sludge head")) / INCH + 1e-9)
    valve = max(rule("sludge height"), min(INCH * math.ceil(wanted / INCH), most))
    high = settler.level - valve
    problems = []
    if high < rule("sludge head") - 1e-9:
        problems.append(Problem(
            "The water of the settler stands only {high} over the sludge valve, less than {need}: draw"
            " the sludge with a hose as a siphon, or with a hand pump.",
            (("high", max(high, 0.0), "length"), ("need", rule("sludge head"), "length")),
        ))  # fmt: skip
    rise = valve - settler.lowest
    way = settler.across / 2 + rule("sludge run")
    legs = (Leg("level", way), Leg("up" if rise > 0 else "down", abs(rise)))
    fits = (Fitted("bulkhead", size, 1, "at the lowest point of the settler"),
            Fitted("elbow", size, 2, "under the settler, up to the valve, and out over a bucket"),
            Fitted("ball valve", size, 1, "opened once a day until the water runs clear"),
            Fitted(opener(inside), size, 1, "to open the pipe and rod it out"))  # fmt: skip
    run = Run("sludge", "sludge pipe", "settler", "bucket", size, inside_of(size), 1, 0.0, settler.level, valve,
              legs, fits, "sludge", high, 0.0, 0.0, "the water in the settler pushes the sludge up")  # fmt: skip
    return [run], problems


def said_of_sludge(layout: Layout) -> list[Phrase]:
    """How the bucket comes under the mouth of the sludge pipe, and where the sludge goes."""
    way = next((w for w in layout.ways if w.run.name == "sludge"), None)
    if way is None:
        return []
    mouth = way.points[-1][2]
    under = mouth - float(pipe_part(way.run.pipe).outside_diameter) / 2 - rule("bucket room")
    deep = rule("bucket height") - under
    words = "The sludge pipe ends {mouth} over the finished floor, and a bucket is {tall} high"
    words += (
        ": stand it in a hole {deep} deep, lined, with a cover that bears a person."
        if deep > 0.0
        else ", so it stands on the floor."
    )
    words += " Sludge goes on compost or on soil away from wells, as your local rules allow."
    return [phrase(words, mouth=(mouth, "tape"), tall=(rule("bucket height"), "tape"),
                   deep=(max(deep, 0.0), "tape"))]  # fmt: skip
