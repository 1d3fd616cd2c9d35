"""A session's actions that move choices: sliders, grips of the drawing, "I do not know", reset."""

import math

from ..core.choices import DesignError
from ..design.model import FIELDS, value_of, with_values
from ..design.possible import INSTEAD, NO_PUMP
from .controls import position_of, value_at_position
from .server.validation import path_of

GRIPS = ("tank.depth", "tank.width")
"""The choices that a grip of the drawing moves."""


class Moves:
    """The part of a session that moves choices; it uses the session's fields."""

    def _do_slide(self, message: dict) -> None:
        """A slider moved; the moves of one drag undo as one step."""
        path, at = path_of(message), message.get("at")
        if isinstance(at, bool) or not isinstance(at, (int, float)) or not 0 <= at <= 1:
            raise DesignError("A slider stands between its ends; nothing was changed.")
        control = self.page.control(path)
        value = value_at_position(control, at, self.system)
        self._change(path, value, path)  # the last move belongs to the same drag
        if message.get("end"):
            self._drag = ""

    def _do_drag(self, message: dict) -> None:
        """A grip of the drawing moved: a length in meters, kept in the range of its choice."""
        path, meters = path_of(message), message.get("meters")
        if path not in GRIPS:
            raise DesignError(f"{FIELDS[path].choice.label} cannot be dragged in the drawing.")
        if (
            isinstance(meters, bool)
            or not isinstance(meters, (int, float))
            or not math.isfinite(meters)
        ):
            raise DesignError("A grip stands at a length; nothing was changed.")
        control = self.page.control(path)
        value = value_at_position(control, position_of(control, float(meters)), self.system)
        self._change(path, value, path)
        if message.get("end"):
            self._drag = ""

    def _do_not_known(self, message: dict) -> None:
        """ "I do not know": the sizing chooses a value and shows it."""
        path = path_of(message)
        if not FIELDS[path].optional or path in INSTEAD:
            raise DesignError(f"{FIELDS[path].choice.label} must be given.")
        self._change(path, None)

    def _do_reset(self, message: dict) -> None:
        """Reset one choice to its starting value."""
        path = path_of(message)
        self.refused.pop(path, None)
        paths = (path, *INSTEAD.get(path, ()), *(("pump.none",) if path in NO_PUMP else ()))
        start = {p: value_of(self.start, p) for p in paths}
        if any(value_of(self.design, p) != v for p, v in start.items()):
            self._apply(with_values(self.design, start))

    def _do_reset_all(self, message: dict) -> None:
        self.refused.clear()
        if self.design is not self.start:
            self._apply(self.start)
