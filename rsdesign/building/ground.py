"""What is said of pits beside tanks, and how the fall from tank to sump adds up."""

import math

from .graph import Layout, Vessel
from .levels import Levels, drops
from .problems import Phrase, phrase
from .rules import rule


def near_pits(layout: Layout) -> tuple[tuple[Vessel, float], ...]:
    """Vessels whose pit is deeper than its edge is far from a tank, and how far that is [m]."""
    found = []
    for v in (v for v in layout.vessels if v.name != "tank" and v.pit > rule("least pit")):
        away = min(
            _apart(layout, v, at, tank)
            for at in layout.places[v.name]
            for tank in layout.places["tank"]
        )
        if away < v.pit + rule("pit bed"):
            found.append((v, away))
    return tuple(found)


def _apart(layout: Layout, v: Vessel, at, place) -> float:
    """From the edge of what is dug to the wall of a tank [m]; as if both were boxes."""
    tank = layout.vessel("tank")
    assert tank is not None
    (long, wide), (x, y), (tx, ty) = v.dug_size, at, place
    along = abs(x - tx) - (long + tank.length) / 2
    aside = abs(y - ty) - (wide + tank.across) / 2
    return math.hypot(max(along, 0.0), max(aside, 0.0))


def said_of_pits(layout: Layout) -> list[Phrase]:
    """A sentence for each pit that could undermine a tank."""
    return [
        phrase(f"The pit of the {v.label} is {{deep}} deep and ends {{away}} from a tank. A full tank presses on its side:"
               " ask the structural engineer before you dig.",
               deep=(v.pit + rule("pit bed"), "tape"), away=(away, "tape"))
        for v, away in near_pits(layout)
    ]  # fmt: skip


def falls(layout: Layout, at: Levels) -> tuple[float, float, float]:
    """Fall from tank to sump [m]: in the pipes, inside the vessels, and free into the sump."""
    names = [v.name for v in layout.vessels if v.name not in ("tank", "sump")]
    way = [r.fall for r in layout.runs if r.name in ("drain", f"{r.source} to {r.target}")]
    inside = math.fsum(drops(layout.sizing).get(name, 0.0) for name in names)
    pipes = math.fsum(way)
    return pipes, inside, at.into["tank"] - at.into["sump"] - pipes - inside


def said_of_falls(layout: Layout, at: Levels) -> list[Phrase]:
    """How the fall from tank to sump adds up."""
    pipes, inside, free = falls(layout, at)
    words = "From tank to sump the water falls {all}: {pipes} along the pipes, {inside} through mats, screens and beds"
    words += ", and {free} freely into the sump." if free > 0.001 else "."
    return [phrase(words, all=(pipes + inside + free, "tape"), pipes=(pipes, "tape"), inside=(inside, "tape"),
                   free=(free, "tape"))]  # fmt: skip
