"""A sheet of paper in millimeters, and labels on it that keep apart."""

import itertools
import math
from dataclasses import dataclass, field

import numpy as np

from ..labels import wide
from .boxes import (
    CLEAR,
    Box,
    boxes_of,
    crosses,
    leader,
    meets,
    overlapped,
    ring_of_spots,
    segments_cross,
    text_box,
)
from .marks import HAIR, LINE, TEXT, THIN, Circle, Item, Path, Point, Words, about

STEP, CHUNK = 2.5, 5
"""From ring to ring of places that a label tries [mm]; rings that are tried at once."""
FOREIGN = 40.0
"""How far a name goes to stay out of what another name stands for [mm]."""


@dataclass(slots=True, eq=False)
class Page:
    """One sheet: size, scale, where the origin of the drawing lies on it, and its marks."""

    width: float
    height: float
    title: str
    scale: float = 1.0
    scale_words: str = ""
    origin: Point = (0.0, 0.0)
    room: Box = (0.0, 0.0, 0.0, 0.0)
    """Where labels may lie [mm]."""
    items: list[Item] = field(default_factory=list)
    taken: list[Box] = field(default_factory=list)
    """Boxes of labels, that no other may meet."""
    blocks: list[Box] = field(default_factory=list)
    """Boxes that labels had better not lie on."""
    zones: list[tuple[str, Box]] = field(default_factory=list)
    """What lies where, so that no name stands in another's place: a name and its box."""
    leaders: list[tuple[Point, Point]] = field(default_factory=list)
    sentence: str = ""
    table: tuple = ((), [])

    def at(self, x: float, y: float) -> Point:
        """A point of the drawing [m], y upward, on the paper [mm]."""
        k = 1000.0 / self.scale
        return self.origin[0] + x * k, self.origin[1] - y * k

    def mm(self, meters: float) -> float:
        """A length of the drawing on the paper [mm]."""
        return meters * 1000.0 / self.scale

    def path(self, points, layer: str, width: float = THIN, solid: bool = True, **more) -> None:
        """A line through points of the drawing [m]; labels had better not lie on a ``solid`` one."""
        found = tuple(self.at(*p) for p in points)
        self.items.append(Path(found, layer, width, **more))
        if solid:
            self.keep_off(found, more.get("closed", False), more.get("casing", width))

    def circle(self, x: float, y: float, r: float, layer: str, width: float = THIN, **more) -> None:
        """A circle of the drawing [m]."""
        px, py = self.at(x, y)
        self.items.append(Circle(px, py, self.mm(r), layer, width, **more))
        many = 24 if self.mm(r) > 4.0 else 6
        turn = [2 * math.pi * k / many for k in range(many + 1)]
        rim = [(px + self.mm(r) * math.cos(a), py + self.mm(r) * math.sin(a)) for a in turn]
        self.keep_off(rim, False, width)

    def keep_off(self, points, closed: bool, width: float) -> None:
        """Keeps labels off a line on the paper as long as they find room elsewhere."""
        points = [*points, points[0]] if closed else list(points)
        half = width / 2 + 0.2
        for (x1, y1), (x2, y2) in itertools.pairwise(points):
            many = max(1, int(math.hypot(x2 - x1, y2 - y1) / 2.0)) if x1 != x2 and y1 != y2 else 1
            for k in range(many):
                ax, bx = x1 + (x2 - x1) * k / many, x1 + (x2 - x1) * (k + 1) / many
                ay, by = y1 + (y2 - y1) * k / many, y1 + (y2 - y1) * (k + 1) / many
                self.blocks.append((min(ax, bx) - half, min(ay, by) - half,
                                    max(ax, bx) + half, max(ay, by) + half))  # fmt: skip

    def write(
        self,
        x: float,
        y: float,
        words: str,
        size: float = TEXT,
        anchor: str = "start",
        bold: bool = False,
        layer: str = "text",
        **marks,
    ) -> Box:
        """A label just here on the paper [mm]; gives its box."""
        self.items.append(Words(x, y, words, layer, size, anchor, bold, about(**marks)))
        box = text_box(x, y, words, size, anchor, bold)
        self.taken.append(box)
        return box

    def free(self, box: Box) -> bool:
        """Whether a box lies in the room for labels, and on no other label or leader."""
        left, top, right, low = box
        if left < self.room[0] or top < self.room[1] or right > self.room[2] or low > self.room[3]:
            return False
        if any(meets(box, other) for other in self.taken):
            return False
        return not any(crosses(*line, box) for line in self.leaders)

    def tag(
        self,
        anchor: Point,
        lines: tuple[str, ...],
        layer: str = "text",
        bold: bool = False,
        ring: bool = False,
        far: float = 90.0,
        weight: float = 16.0,
        others=(),
        owner: str = "",
        **marks,
    ) -> bool:
        """A label with a leader to a point on the paper, as near as it finds room.  False where none is.

        ``weight``: how far it goes to keep off the lines of the drawing [mm]; ``others``: points that
        would do as well; ``owner``: what it names, so that it stays out of the zones of others.
        """
        size = TEXT
        long = max(wide(words, size, bold) for words in lines) + (1.6 if ring else 0.0)
        tall = len(lines) * size * LINE + (0.5 if ring else 0.0)
        anchors = [anchor, *others]
        size_ = (long, tall)
        found = [s for a in anchors if (s := self._spot(a, size_, far, weight, owner))]
        found = found or [
            s for a in anchors if (s := self._spot(a, size_, 3 * far, weight, owner, False))
        ]
        if not found:
            return False
        _, anchor, (left, top) = min(found)
        box = (left, top, left + long, top + tall)
        self._lead(anchor, box)
        if ring:
            corners = ((box[0], box[1]), (box[2], box[1]), (box[2], box[3]), (box[0], box[3]))
            self.items.append(Path(corners, layer, THIN, closed=True, fill="paper"))
            top += 0.1
        for k, words in enumerate(lines):
            self.items.append(Words((left + box[2]) / 2, top + (0.25 if ring else 0.0) + size * (LINE * k + 1.0),
                                    words, layer, size, "middle", bold, about(**marks)))  # fmt: skip
        self.taken.append(box)
        return True

    def _spot(self, anchor: Point, size: tuple[float, float], far: float, weight: float, owner: str,
              strict: bool = True) -> tuple[float, Point, Point] | None:  # fmt: skip
        """The best free place for a box: its cost, the point and the corner; near, and off the lines.

        ``strict``: its leader runs through no other label.
        """
        best, found = math.inf, None
        zones = boxes_of([box for name, box in self.zones if owner and name != owner])
        blocks, taken = boxes_of(self.blocks), boxes_of(self.taken)
        for near in range(0, int(far / STEP), CHUNK):
            if 1.0 + STEP * near >= best:
                break
            spots = np.concatenate(
                [ring_of_spots(anchor, 1.0 + STEP * k, *size) for k in range(near, near + CHUNK)]
            )
            spots = spots[self._allowed(spots, taken)]
            if not len(spots):
                continue
            costs = spots[:, 4] + weight * overlapped(blocks, spots[:, :4])
            costs += FOREIGN * (overlapped(zones, spots[:, :4]) > 0)
            for k in np.argsort(costs, kind="stable"):
                if costs[k] >= best:
                    break
                left, top, right, low = (float(v) for v in spots[k, :4])
                box = (left, top, right, low)
                line = leader(anchor, box)
                if any(crosses(*other, box) for other in self.leaders):
                    continue
                if strict and line and any(crosses(*line, other) for other in self.taken):
                    continue
                cost = float(costs[k]) + 0.4 * self._over(line)
                if cost < best:
                    best, found = cost, (box[0], box[1])
        return (best, anchor, found) if found else None

    def _allowed(self, spots: np.ndarray, taken: np.ndarray) -> np.ndarray:
        """Which boxes lie in the room and on no label."""
        left, top, right, low = self.room
        inside = (
            (spots[:, 0] >= left)
            & (spots[:, 1] >= top)
            & (spots[:, 2] <= right)
            & (spots[:, 3] <= low)
        )
        if not len(taken):
            return inside
        a, b = spots[:, None, :], taken[None, :, :]
        meet = ((a[..., 0] < b[..., 2] + CLEAR) & (b[..., 0] < a[..., 2] + CLEAR)
                & (a[..., 1] < b[..., 3] + CLEAR / 2) & (b[..., 1] < a[..., 3] + CLEAR / 2))  # fmt: skip
        return inside & ~meet.any(axis=1)

    def _over(self, line) -> float:
        """How many other leaders a leader would cross."""
        return 30.0 * sum(segments_cross(line, other) for other in self.leaders) if line else 0.0

    def _lead(self, anchor: Point, box: Box) -> None:
        line = leader(anchor, box)
        if line is None:
            return
        self.leaders.append(line)
        self.items.append(Path(line, "text", HAIR))
        self.items.append(Circle(*anchor, 0.35, "text", HAIR, fill="ink"))
