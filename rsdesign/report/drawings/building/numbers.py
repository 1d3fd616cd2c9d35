"""Marks that every sheet shares: P for pipes, V for what opens or shuts one, H for holes."""

from dataclasses import dataclass

from ....building.graph import Fitted, Hole, Layout, Run, Vessel

OPENERS = ("ball valve", "check valve", "union", "flexible coupling", "clean-out", "air valve")
"""Fittings that are needed to set, to shut or to clean a pipe."""


@dataclass(frozen=True, slots=True, eq=False)
class Numbers:
    """The marks of one layout, in its order."""

    runs: dict[str, str]
    fittings: tuple[tuple[str, Run, Fitted], ...]
    holes: tuple[tuple[str, Vessel, Hole], ...]

    def of(self, run: Run) -> str:
        """The mark of a run."""
        return self.runs[run.name]

    def fitted(self, run: Run) -> list[tuple[str, Fitted]]:
        """The marks of what opens or shuts a run."""
        return [(mark, fitting) for mark, other, fitting in self.fittings if other is run]

    def drilled(self, vessel: Vessel) -> list[tuple[str, Hole]]:
        """The marks of the holes of a vessel."""
        return [(mark, hole) for mark, other, hole in self.holes if other is vessel]


def numbers(layout: Layout) -> Numbers:
    """The marks of a layout.

    Parameters:
        layout: what ``building.layout`` gives.
    Returns: P1, P2 ... for its runs, V1 ... for valves and unions, H1 ... for holes.
    """
    opening = [(r, f) for r in layout.runs for f in r.fittings if f.kind in OPENERS]
    holes = [(v, h) for v in layout.vessels for h in v.holes]
    return Numbers(
        {r.name: f"P{k}" for k, r in enumerate(layout.runs, 1)},
        tuple((f"V{k}", r, f) for k, (r, f) in enumerate(opening, 1)),
        tuple((f"H{k}", v, h) for k, (v, h) in enumerate(holes, 1)),
    )
