"""The start page's first block: the place, then so much fish or a tank of a size, or an example that works.

What is typed sets its choices as one step to undo.  The answer is one sentence, with the one check that
is to be mended first.
"""

import math

from ..core.choices import DesignError
from ..core.kinds import KINDS
from ..core.units import show
from ..design.model import FIELDS, Design, value_of
from ..sizing.system import Sizing, size
from ..studies.cures import is_green
from ..studies.fishyear import YEAR
from ..studies.heat.yearly import NONE, full_year, weathered
from ..studies.limits import STAND_IN, limits
from .controls import with_value
from .demos import DEMOS, demo
from .mending import key_of, title_of, words_of
from .typed_plan import plan_of

PLACE = "climate.weather"
NEAR = 0.98
"""Share of the harvest that is wanted from which it counts as reached."""
LONGEST = 200
"""Characters of a refused text that are kept."""


class WayIn:
    """The part of a session that begins from what a person wants or has; it uses the session's fields."""

    room_of_tank: Design | None = None
    """A design whose goal was set to what its tank has room for."""
    way_in_refused: tuple[str, str, Design | None] = ("", "", None)
    """The text that was refused, why, and the design that it would have changed."""

    def _do_way_in(self, message: dict) -> None:
        """So much fish, or a tank of a size, as typed: its choices as one step to undo."""
        text, units = str(message.get("text") or ""), message.get("units")
        self.way_in_refused = ("", "", None)
        if not text.strip():
            return
        try:
            found = plan_of(text, units if units in ("us", "metric") else self.system)
            design, has_room = planned(self.design, found)
        except DesignError as wrong:
            self.way_in_refused = (text[:LONGEST], str(wrong), self.design)
            return
        for path in found:
            self.refused.pop(path, None)
        if design != self.design:
            self._apply(design)
        self.room_of_tank = self.design if has_room else None


def planned(design: Design, found: dict) -> tuple[Design, bool]:
    """The design with what was typed, and whether its goal is what the tank has room for.

    A tank sets the goal to the fish that it has room for.  Raises ``DesignError`` where the design
    cannot be computed, or the tank holds no fish of that size.
    """
    for path, value in found.items():
        design = with_value(design, path, value)
    if "tank.width" not in found:
        size(design)
        return design, False
    if "tank.length" in found:
        design = with_value(design, "tank.shape", "rectangle")
    elif design.tank.shape == "rectangle":
        design = with_value(with_value(design, "tank.shape", "round"), "tank.length", None)
    if design.tank.count is None:
        design = with_value(design, "tank.count", 1.0)
    design = with_value(design, "goal.fish", STAND_IN)  # a huge goal is too far to search from
    room = next((b for b in limits(design, planned=False).bearings if b.part == "tank"), None)
    if room is None or not 1 <= room.fish < math.inf:
        raise DesignError("That tank has no room for a fish of this size. Write a larger tank.")
    design = with_value(design, "goal.fish", float(math.floor(room.fish)))
    size(design)
    return design, True


def way_in(session) -> dict:
    """Where to begin, what came of it in one sentence, and what to mend first."""
    text, wrong, of = session.way_in_refused
    if of is not session.design:  # something else was done since
        text = wrong = ""
    metric = session.system == "metric"
    found = {
        "form": "way_in",
        "title": "Begin here",
        "place": _place(session),
        "box": {
            "label": "Fish a year, or your tank",
            "text": text,
            "wrong": wrong,
            "example": "70 kg a year" if metric else "150 lb a year",
            "or": "2 m by 1 m" if metric else "6 ft 6 in by 3 ft",
            "units": session.system,
        },
        "demos": [{"name": name, "title": title, "words": demo(name).note}
                  for name, title in DEMOS.items()],
        "answer": "",
        "fix": None,
        "mend": None,
    }  # fmt: skip
    if session.sizing is None:
        return found
    worst = next((c for c in session.all_checks() if not is_green(c)), None)
    if worst is not None:
        found["mend"] = {"key": key_of(worst), "title": title_of(worst), "words": words_of(worst),
                         "word": worst.word}  # fmt: skip
    return found | _answer(session)


def _place(session) -> dict:
    entry = FIELDS[PLACE]
    now = value_of(session.design, PLACE)
    names = entry.choice.options()
    return {
        "path": PLACE,
        "label": "Your place",
        "value": now or "",
        "options": [{"value": name, "label": name[0].upper() + name[1:]} for name in names],
        "words": "" if now else "Choose one: its weather sets the harvest.",
    }


def _answer(session) -> dict:
    """What the design gives in a full year, in one sentence; what would give all that is wanted."""
    sizing, system = session.sizing, session.system
    room = session.room_of_tank
    fish = show(sizing.stock.fish, KINDS["animals"], system)
    if weathered(sizing).basis == NONE:
        return {"answer": "Without a heater these fish do not grow here."}
    year = full_year(sizing).harvest
    given = show(year, KINDS["mass"], system)
    if room is not None and room is session.design:
        return {"answer": f"Your tank has room for {fish} fish: {given} in a full year."}
    wanted = sizing.design.goal.harvest
    if wanted is None or year >= NEAR * wanted * YEAR:
        return {"answer": f"{fish} fish in a batch give {given} in a full year."}
    asked = show(wanted * YEAR, KINDS["mass"], system)
    return {
        "answer": f"This weather gives {given} of the {asked} you want.",
        "fix": _enough(sizing, float(wanted) * YEAR, asked),
    }


def _enough(sizing: Sizing, wanted: float, asked: str) -> dict | None:
    """So many fish in a batch that a full year gives what is wanted [kg]; None where none do."""
    fish = float(sizing.stock.fish)
    for _ in range(2):
        year = float(full_year(sizing).harvest)
        if not year > 0:
            return None
        fish = math.ceil(fish * wanted / year - 1e-6)
        try:
            sizing = size(with_value(sizing.design, "goal.fish", float(fish)))
        except DesignError:
            return None
    if float(full_year(sizing).harvest) < NEAR * wanted:
        return None
    return {"fish": str(fish), "words": f"{fish:,} fish in a batch give {asked} a year.",
            "button": f"Plan for {fish:,} fish"}  # fmt: skip
