"""The composition of the scene: one scale, the place of every part on the sheet, the parts as links."""

import functools

from ...core import tables
from ...core.kinds import KINDS, Number
from ...core.units import show
from ...equations.pipes.tables import Pipe
from ...sizing.margins import FIT, percent, short_percent
from ...sizing.system import Sizing, figure_at, value_at
from .beside import BUCKET, PERSON, bucket, person
from .fish_shapes import school
from .hatch import GRADES, OUTLINES, UNKNOWN, short_name, state
from .labels import LabelledSheet
from .places import Place, System, arrangements, one
from .words import said, tape

LANE = 22.0
"""Room over each row of tanks for the pipe that brings the water back [px]."""
COMPANY = 1.0
"""Room for the person and the bucket at the right end [m]."""
NAMES = {
    "air": "Air", "tank": "Tank", "settler": "Settler", "screen": "Fine waste",
    "filter": "Filter", "plants": "Plants", "sump": "Pump", "filter air": "Air of the filter",
}  # fmt: skip
STATED = {
    "tank": ("tank.width", "tank.depth", "tank.volume_each"),
    "settler": ("solids.area", "solids.settler_flow"),
    "screen": ("solids.fines",),
    "filter": ("filter.media_volume", "filter.depth", "filter.area"),
    "sump": ("pump.flow", "pump.head"),
    "air": ("air.provided", "air.stones"),
    "filter air": ("bed.provided",),
    "plants": (), "new water": ("water.exchange", "water.supply"),
}  # fmt: skip
"""Figures that the title of a part tells."""


class Scene:
    """A drawing in the making: where everything lies, in px, and what it is."""

    def __init__(
        self, sizing: Sizing, units: str, system: System, sheet: LabelledSheet, key: str,
        parts: tuple = (),
    ):  # fmt: skip
        self.sizing, self.units, self.system, self.sheet, self.key = (
            sizing, units, system, sheet, key,
        )  # fmt: skip
        self.parts = {part.name: part for part in parts or sizing.parts}
        self.states = {name: state(part) for name, part in self.parts.items()}
        self.titles: dict[str, str] = {}
        self.scale = 1.0
        self.lift_room = 0.0
        self.rows: list[list[tuple]] = []
        self.ground = self.low = self.middle = self.plan_bottom = 0.0
        self.narrow = sheet.width < 600
        self.links: dict[str, str] = {}
        self.focus = True
        """Whether links are met by the keyboard: those of the plan repeat those of the section."""

    # --- the room that words and gaps take ---

    @property
    def least_gap(self) -> float:
        """Least space from one part to the next [px]."""
        return 9.0 if self.narrow else 24.0

    @property
    def most_gap(self) -> float:
        """Most space from one part to the next [px]."""
        return 90.0

    def room_for_lift(self, view: str) -> float:
        """Room at the right of the sump for the lift and the new water [px]."""
        return 50.0 if self.narrow else 62.0 if view == "section" else 74.0

    # --- places ---

    def y(self, height: float) -> float:
        """A height over the floor [m] on the sheet."""
        return self.ground - height * self.scale

    def inner_gap(self) -> float:
        """Space between vessels that are alike."""
        return max(0.2 * self.scale, 6.0)

    def long(self, place: Place) -> float:
        """Extent of a place along the sheet [px]."""
        return place.columns * place.wide * self.scale + (place.columns - 1) * self.inner_gap()

    def broad(self, place: Place) -> float:
        """Extent of a place across the sheet in plan [px]."""
        gap = max(self.inner_gap(), LANE) if place.name == "tank" else self.inner_gap()
        return place.rows * place.deep * self.scale + (place.rows - 1) * gap

    def edges(self, place: Place) -> list[float]:
        """Left edges of the vessels of a place [px]."""
        step = place.wide * self.scale + self.inner_gap()
        return [place.x + k * step for k in range(place.columns)]

    def center(self, place: Place) -> float:
        """Middle of a place along the sheet [px]."""
        return place.x + self.long(place) / 2

    def row_centers(self, place: Place) -> list[float]:
        """Middles of the rows of a place in plan [px]."""
        deep = place.deep * self.scale
        first = self.middle - self.broad(place) / 2 + deep / 2
        gap = (self.broad(place) - deep * place.rows) / max(place.rows - 1, 1)
        return [first + k * (deep + gap) for k in range(place.rows)]

    def bore(self, diameter, least: float = 2.2) -> float:
        """A pipe as wide as its bore, and wide enough to be seen [px]."""
        return max(one(diameter) * self.scale, least)

    # --- words ---

    def length(self, meters: float) -> str:
        """A length as it is read off a tape."""
        return tape(meters, self.units)

    def said(self, path: str, figures: int = 3) -> str:
        """A figure with its unit; a length as it is read off a tape."""
        if figure_at(path).kind is KINDS["length"]:
            return self.length(one(value_at(self.sizing, path)))
        return said(self.sizing, path, self.units, figures)

    def pipe_words(self, diameter, count) -> str:
        """A pipe by its size in the trade, or its bore in millimeters."""
        name = trade_size(round(one(diameter), 6)) if self.units == "us" else ""
        size = (
            f"{name} pipe"
            if name
            else f"{show(one(diameter), KINDS['pipe diameter'], self.units)} bore"
        )
        many = int(one(count))
        return f"{many} × {size}" if many > 1 else size

    def state(self, part: str) -> str:
        """How a part stands."""
        return self.states.get(part, "")

    def share(self, part: str) -> str:
        """How a part stands, in the fewest words."""
        found, word = self.parts.get(part), self.state(part)
        if found is None:
            return ""
        if word in (FIT, UNKNOWN):
            return {FIT: "fits", UNKNOWN: UNKNOWN}[word]
        return short_percent(found.margin, found.form)

    def grade(self, part: str) -> str:
        """Color of the words of a part."""
        return GRADES[self.state(part)]

    # --- parts as links ---

    def begin(self, place_name: str, part: str, stage: str) -> None:
        """Opens a part: a link to its page where there is one, with its title and its state."""
        href = self.links.get(stage)
        self._link = bool(href)
        self.sheet.group(
            href=href, data_part=stage, data_name=place_name, data_state=self.state(part) or None,
            aria_label=self.title(place_name, part), role=None if href else "group",
            tabindex=None if self.focus or not href else -1,
        )  # fmt: skip

    def finish(self) -> None:
        """Closes a part."""
        self.sheet.end(self._link)

    def title(self, place_name: str, part: str) -> str:
        """One sentence on a part: how it stands and its sizes."""
        if place_name in self.titles:
            return self.titles[place_name]
        found = self.parts.get(part)
        name = NAMES.get(place_name, place_name.capitalize())
        stands = f" {self.state(part)}, {percent(found.margin, found.form)};" if found else ""
        sizes = ", ".join(self.said(path) for path in STATED.get(place_name, ()))
        place = self.system.places.get(place_name)
        many = f" {place.count} of them;" if place and place.count > 1 else ""
        self.titles[place_name] = f"{name}:{stands}{many} {sizes}".rstrip(" ;:") + "."
        return self.titles[place_name]

    # --- shapes ---

    def fish(self, spots, outline, long: Number, broad: Number, halo: float) -> None:
        """Fish at their spots, each (x, y, heading), so long and so broad [px]."""
        self.sheet.path(school(spots, outline, long, broad), "line-solids", "paper", halo)

    def level_mark(self, x: float, y: float) -> None:
        """The mark of a water level: a triangle on its point, two short lines below."""
        self.sheet.path(f"M{x - 5:.1f} {y - 8:.1f}h10l-5 8zM{x - 6:.1f} {y + 3:.1f}h12M{x - 3:.1f} {y + 6:.1f}h6",
                        "paper", "line-water", 1)  # fmt: skip

    # --- shapes in the state of their part ---

    def outline(self, part: str) -> tuple[str, float, str]:
        """Color, width and dash of a part's outline."""
        return OUTLINES[self.state(part)]

    def hatch(self, part: str) -> str | None:
        """The pattern of how a part stands."""
        word = self.state(part)
        return f"url(#{self.key}-{short_name(word)})" if word else None

    def pattern(self, name: str) -> str:
        """A pattern by its name."""
        return f"url(#{self.key}-{name})"


@functools.cache
def trade_size(inside: float) -> str:
    """The nominal size of a pipe of the table by its bore [m]; nothing where there is none.

    >>> trade_size(0.05204)
    '2 in'
    """
    rows = [row for row in tables.read("pipes", Pipe) if row.label.startswith("sch40")]
    nearest = min(rows, key=lambda row: abs(row.inside_diameter - inside))
    return nearest.name if abs(nearest.inside_diameter - inside) < 0.02 * inside else ""


def fit(scene: Scene, wide: float, tall_section: float, tall_all: float, view: str) -> None:
    """Chooses the scale and sets every place along the sheet; ``tall_`` is room for heights [px]."""
    tank = scene.system.places["tank"]
    best = 0.0
    scene.lift_room = scene.room_for_lift(view)
    for rows, columns in arrangements(tank, scene.narrow):
        tank.rows, tank.columns = rows, columns
        scale = _scale(scene, wide, tall_section, tall_all, view)
        if (
            scale > 1.1 * best
        ):  # more columns, seen in the section, unless they cost a tenth of the scale
            best, kept = scale, (rows, columns)
    scene.scale = best
    tank.rows, tank.columns = kept
    _along(scene, wide)


def _scale(scene: Scene, wide: float, tall_section: float, tall_all: float, view: str) -> float:
    """The largest scale at which everything is on the sheet [px/m]."""
    system, places = scene.system, list(scene.system.places.values())
    margin = 8.0 if scene.narrow else 12.0
    lanes = LANE * (places[1].rows - 1) if view != "section" else 0.0
    gaps = (
        scene.lift_room
        + (len(places) - 1) * scene.least_gap
        + sum(6.0 * (p.columns - 1) for p in places)
        + 2 * margin
    )
    long = sum(p.wide * p.columns + 0.2 * (p.columns - 1) for p in places) + COMPANY
    section = system.top - system.bottom
    broad = max(p.deep * p.rows for p in places)
    tall = {"section": section, "plan": broad, "both": section + broad}[view]
    scale = min((wide - gaps) / long, (tall_all - lanes) / tall, 400.0)
    return min(scale, tall_section / section) if view != "plan" else scale


def _along(scene: Scene, wide: float) -> None:
    """Sets the places along the sheet, with equal gaps."""
    places = list(scene.system.places.values())
    margin = 8.0 if scene.narrow else 12.0
    used = sum(scene.long(p) for p in places) + COMPANY * scene.scale + scene.lift_room
    between = len(places) - 1
    gap = min((wide - 2 * margin - used) / between, scene.most_gap)
    x = margin + max(0.0, (wide - 2 * margin - used - gap * between) / 2)
    for place in places:
        place.x = x
        x += scene.long(place) + gap


def company(scene: Scene) -> None:
    """The person and the bucket for scale, at the right end."""
    s, floor = scene.scale, scene.ground
    x = scene.sheet.width - (COMPANY - 0.35) * s - (6.0 if scene.narrow else 10.0)
    tall = PERSON * s
    sheet = scene.sheet
    sheet.group(aria_label=f"A person of {scene.length(PERSON)} and a five-gallon bucket, for scale.",
                role="img")  # fmt: skip
    person(sheet, x, floor, s)
    left = x + 0.3 * s
    bucket(sheet, left, floor, s)
    sheet.end()
    sheet.keep(x - 0.22 * s, floor - tall, left + BUCKET[0] * s, floor)
