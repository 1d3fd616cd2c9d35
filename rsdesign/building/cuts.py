"""The cut list: pieces of pipe by run, and how they come out of stock lengths."""

import math
from dataclasses import dataclass

from .graph import Layout, Run
from .rules import pipe_part
from .stations import NEVER_CUT, ends, pieces_of

KERF = 0.003
"""Width of a saw cut [m]."""


@dataclass(frozen=True, slots=True)
class Piece:
    """Pieces of one length for one run: ``count`` of them in all [m]."""

    run: str
    label: str
    pipe: str
    length: float
    count: int
    mark: str = ""
    """Mark of its run on the drawings."""


@dataclass(frozen=True, slots=True)
class Stock:
    """One stock length and what is cut from it: the pieces [m] with their runs, and what is left."""

    pipe: str
    length: float
    pieces: tuple[tuple[float, str], ...]
    left: float


@dataclass(frozen=True, slots=True)
class Cuts:
    """All pieces, the stock lengths they come from, and couplings where a piece is longer than stock."""

    pieces: tuple[Piece, ...]
    stock: tuple[Stock, ...]
    couplings: dict[str, int]

    def lengths(self) -> dict[str, int]:
        """Stock lengths to buy, by nominal size."""
        found: dict[str, int] = {}
        for one in self.stock:
            found[one.pipe] = found.get(one.pipe, 0) + 1
        return found

    def left(self, pipe: str) -> float:
        """What is left over of a size [m]."""
        return sum(one.left for one in self.stock if one.pipe == pipe)


def tight(layout: Layout, run: Run) -> float:
    """By how much the pieces and fittings of a run are longer than its worst pipe [m]; 0 where they fit."""
    if run.kind in NEVER_CUT:
        return 0.0
    joins = ends(layout)
    worst = max(pieces_of(way, joins)[1] for way in layout.ways if way.run is run)
    return worst if worst > 0.005 else 0.0


def whole(length: float, stock: float, socket: float) -> list[float]:
    """A piece as stock lengths joined by couplings, the last one cut.

    >>> whole(7.0, 3.0, 0.05)
    [3.0, 3.0, 1.0]
    """
    if length <= stock:
        return [length]
    full = math.floor((length - 1e-9) / stock)
    rest = length - full * stock
    return [stock] * full + ([max(rest, 2 * socket)] if rest > 1e-6 else [])


def cuts(layout: Layout) -> Cuts:
    """Every piece of pipe, and the stock lengths from which they come, longest piece first."""
    pieces: list[Piece] = []
    couplings: dict[str, int] = {}
    joins = ends(layout)
    for place, run in enumerate(layout.runs, 1):
        if run.kind in NEVER_CUT:
            continue
        part = pipe_part(run.pipe)
        lengths: dict[float, int] = {}
        ways = [way for way in layout.ways if way.run is run]
        for leg in (piece for way in ways for piece in pieces_of(way, joins)[0]):
            parts = whole(leg, float(part.stock_length), float(part.socket))
            couplings[run.pipe] = couplings.get(run.pipe, 0) + len(parts) - 1
            for length in parts:
                key = round(length, 4)
                lengths[key] = lengths.get(key, 0) + 1
        pieces += [Piece(run.name, run.label, run.pipe, length, many, f"P{place}")
                   for length, many in sorted(lengths.items(), reverse=True)]  # fmt: skip
    stock = []
    for pipe in sorted({p.pipe for p in pieces}, key=lambda n: pipe_part(n).outside_diameter):
        stock += first_fit(pipe, [p for p in pieces if p.pipe == pipe])
    return Cuts(tuple(pieces), tuple(stock), {k: n for k, n in couplings.items() if n})


def first_fit(pipe: str, pieces: list[Piece]) -> list[Stock]:
    """Stock lengths for pieces: longest first, each into the first length with room (Johnson 1973)."""
    long = float(pipe_part(pipe).stock_length)
    every = sorted(((p.length, p.run) for p in pieces for _ in range(p.count)), reverse=True)
    bins: list[list[tuple[float, str]]] = []
    room: list[float] = []
    for length, run in every:
        place = next((k for k, left in enumerate(room) if left >= length - 1e-9), None)
        if place is None:
            bins.append([])
            room.append(long)
            place = len(bins) - 1
        bins[place].append((length, run))
        room[place] -= length + KERF
    return [Stock(pipe, long, tuple(b), max(0.0, r)) for b, r in zip(bins, room, strict=True)]
