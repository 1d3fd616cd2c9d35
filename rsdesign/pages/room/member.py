"""A page as a member of a room: it starts from the room's values and may follow a team's design.

Every page kernel imports this module, so it knows nothing of servers.
"""

import math
from collections.abc import Mapping
from types import MappingProxyType

from ...core.choices import DesignError, problem
from ...core.json_input import number
from ...design.link import design_of
from ...design.model import FIELDS, Design, value_of, with_values
from ...design.possible import impossible
from ...sizing.system import size
from ..server.validation import check_words

ROOM_PATHS = tuple(
    path
    for path in FIELDS
    if path.partition(".")[0] in ("prices", "site") or path == "climate.weather"
)
"""The choices that an instructor may set for a whole room."""
FOLLOWED = "followed design"
"""Marks the changes that come from a followed team, which undo as one."""
FOLLOWING = (
    "You follow your team's driver, so this was not changed. Press 'I drive now' to change the"
    " design."
)


def room_values(values) -> dict:
    """The valid ones among a room's values; anything else is dropped.

    >>> room_values({"site.elevation": 300.0, "tank.depth": 1.0, "prices.wage": "x"})
    {'site.elevation': 300.0}
    """
    if not isinstance(values, dict):
        return {}
    found = {}
    for path in ROOM_PATHS:
        value = number(values.get(path))
        if value is not None and problem(FIELDS[path], value) is None:
            found[path] = value
    return found


def in_room(design: Design, values: dict) -> Design:
    """A design with the room's values; unchanged where they do not fit it."""
    try:
        changed = with_values(design, values)
    except DesignError:
        return design
    return design if impossible(changed) else changed


class RoomMember:
    """The part of a session that belongs to a room: the room's values, and following a team."""

    room: Mapping = MappingProxyType({})
    """The room's values, from which designs start; replaced, never changed in place."""
    following = False

    def _enter(self, values, own: bool) -> None:
        """Take the room's values; unless the page has its own design (``own``), it starts from them."""
        if not values:
            return
        self.room = room_values(values)
        self.start = in_room(self.start, self.room)
        if not own and not self.can_undo:
            self.design = self.start
            self._compute()

    @property
    def room_differs(self) -> bool:
        """Whether this design differs from a value that the room sets."""
        return any(not _same(value_of(self.design, p), value) for p, value in self.room.items())

    def _do_enter(self, message: dict) -> None:
        """Take the room's values for a page with its own design; empty ones withdraw them.

        A page that started without them, because its room answered ``late``, starts from them
        as long as nothing was changed on it.
        """
        self.room = MappingProxyType({})
        self._enter(message.get("room"), own=message.get("late") is not True)

    def _do_use_room(self, message: dict) -> None:
        """Put the room's values into this design, as one step to undo."""
        if not self.room_differs:
            return
        changed = in_room(self.design, self.room)
        if changed is self.design:
            raise DesignError(
                "The room's values do not go together with this design; nothing was changed."
            )
        self._apply(changed)

    def _check_may_change(self, followed: bool = False) -> None:
        if self.following and not followed:
            raise DesignError(FOLLOWING)

    def _do_follow(self, message: dict) -> None:
        """Show the design of the team's driver; all that is followed undoes as one step."""
        if message.get("on") is not True:
            self.following, self._drag = False, ""
            return
        design = design_of(str(message.get("token") or ""))
        check_words(design)
        size(design)
        self.following = True
        self._drop_refused()
        self._apply(design, FOLLOWED)


def _same(mine, theirs) -> bool:
    """Whether two values are equal to the precision that a link keeps."""
    if isinstance(mine, float) and isinstance(theirs, float):
        return math.isclose(mine, theirs, rel_tol=1e-6)
    return mine == theirs
