"""Teams: one member drives, the others follow the same design live.

Pure logic: nothing is sent but through the ``send`` function of a connection.
"""

import hmac
import re
import secrets
import time
import unicodedata
from collections.abc import Callable
from dataclasses import dataclass, field

from ...core.choices import DesignError
from ...design.link import design_of
from .rate_limit import TokenBucket
from .text_input import isolate_direction, one_line

MAX_TEAMS = 40
MAX_MEMBERS = 12
"""Pages in one team."""
MAX_KEYS = 60
"""Member keys that a team remembers."""
MAX_NAME = 30
MEMBER_KEY = re.compile(r"[\w-]{16}")
CODE_LETTERS = "ABCDEFGHJKMNPQRTUVWXY346789"
"""Without the characters that are mistaken for one another when read aloud or off a projector."""
CODE_LENGTH = 5
CODE_BURST = 40
"""Codes without a name that a room takes at once, then one every two seconds: with forty teams among
27⁵ codes, guessing one takes about eight days."""
WRONG_CODE_BURST = 10
"""Wrong codes that a team takes at once, then one every ten seconds."""


@dataclass(eq=False)
class Connection:
    """One open page: how to send to it, and its team."""

    send: Callable[[str, object], None]
    address: str = ""
    key: str = ""
    """The member key, by which a page that reconnects is recognized."""
    team: "Team | None" = None
    watching: bool = False
    """Whether it shows the wall."""
    bucket: TokenBucket = field(default_factory=lambda: TokenBucket(60, 20.0))
    dropped: int = 0
    """Messages dropped for coming too fast."""

    def notify(self, sentence: str) -> None:
        """Show a sentence on the page."""
        self.send("notice", sentence)


@dataclass(eq=False)
class Team:
    """A team: its code, its members, the driver and the driver's design."""

    name: str
    code: str
    token: str = ""
    connections: list[Connection] = field(default_factory=list)
    keys: list[str] = field(default_factory=list)
    driver: Connection | None = None
    driver_key: str = ""
    since: float = 0.0
    attempts: TokenBucket = field(default_factory=lambda: TokenBucket(WRONG_CODE_BURST, 0.1))


class Teams:
    """Every team of a room."""

    def __init__(self, clock: Callable = time.monotonic):
        self._clock = clock
        self._by_name: dict[str, Team] = {}
        self._code_lookups = TokenBucket(CODE_BURST, 0.5, clock=clock)

    def __iter__(self):
        return iter(self._by_name.values())

    def join(self, connection: Connection, message: dict) -> Team:
        """Join a team by its code, or start one and drive it.

        The code keeps a team's design to the team.  After a restart of the server a team comes
        back under its old name and code, with its last driver.
        """
        code, key = code_of(message.get("code")), message.get("key")
        if code and not one_line(message.get("name")):
            name = self._name_of_code(code)
        else:
            name = name_of(message.get("name"))
        team = self._by_name.get(name.casefold())
        is_new = team is None
        wants_to_drive = bool(message.get("drove")) or (is_new and not code)
        # Read before anything changes, else a team would exist under a code that nobody was shown.
        has_design = wants_to_drive and message.get("token")
        token = read_token(message["token"]) if has_design else ""
        if is_new:
            team = self._start(name, code, may_restart=bool(message.get("again")))
        else:
            self._check_access(team, code, key)
        self._make_place(team, key)
        self.leave(connection)
        was_member = self._add(team, connection, key)
        drove_last = was_member and key == team.driver_key
        is_first = wants_to_drive and (is_new or not team.driver_key)
        if (drove_last and team.driver is None) or is_first:
            self._set_driver(team, connection)
            if token and not drove_last:
                team.token = token
        self._send_state(team)
        return team

    @staticmethod
    def _check_access(team: Team, code: str, key) -> None:
        """Raise ``DesignError`` unless the code is the team's or the key is a member's."""
        if key and key in team.keys:
            return
        if not team.attempts.take():
            raise DesignError(
                f"Too many wrong codes for team {team.name}; wait a minute, then try again."
            )
        if code != team.code:
            raise DesignError(
                f"There is a team {team.name} already. Type its team code, which its driver"
                " sees, or take another name."
                if not code
                else f"That is not the code of team {team.name}; ask its driver for it."
            )
        team.attempts = TokenBucket(WRONG_CODE_BURST, 0.1)

    @staticmethod
    def _add(team: Team, connection: Connection, key) -> bool:
        """Add a connection under its old member key or a new one; whether the key was known."""
        is_key = isinstance(key, str)
        known = is_key and key in team.keys
        # After a restart a page may join twice, before and after it reloads: keep its key both times.
        keep = known or (is_key and MEMBER_KEY.fullmatch(key))
        connection.key = key if keep else secrets.token_urlsafe(12)
        team.keys = [*team.keys, *([] if known else [connection.key])][-MAX_KEYS:]
        connection.team = team
        team.connections.append(connection)
        return known

    def _name_of_code(self, code: str) -> str:
        """The name of the team with this code; the whole room shares one limit of attempts."""
        if not self._code_lookups.take():
            raise DesignError("Too many wrong codes in this room; type the team's name too.")
        found = next((team for team in self if hmac.compare_digest(team.code, code)), None)
        if found is None:
            raise DesignError(
                f"No team has the code {code}. Ask the driver for it; to start a team, type a name and"
                " leave the code empty."
            )
        return found.name

    def _start(self, name: str, code: str, may_restart: bool) -> Team:
        """A new team; with a code only where a page brings its team back after a restart."""
        if code and not may_restart:
            raise DesignError(
                f"There is no team {name}. Ask its driver how it is written, or leave the code"
                " empty to start a team of that name."
            )
        if len(self._by_name) >= MAX_TEAMS:  # replace the team longest without a page
            empty = sorted((t for t in self if not t.connections), key=lambda t: t.since)
            if not empty:
                raise DesignError(
                    f"There are {MAX_TEAMS} teams already, which is all a room can hold; join one."
                )
            del self._by_name[empty[0].name.casefold()]
        made = code or "".join(secrets.choice(CODE_LETTERS) for _ in range(CODE_LENGTH))
        team = self._by_name[name.casefold()] = Team(name, made, since=self._clock())
        return team

    def _make_place(self, team: Team, key) -> None:
        """Remove the old connection of a page that reconnects; refuse where the team is full."""
        for old in [c for c in team.connections if key and c.key == key]:
            self.leave(old, "This team is open in another window here, so this one left it.")
        if len(team.connections) >= MAX_MEMBERS:
            raise DesignError(f"Team {team.name} is full: {MAX_MEMBERS} pages have it open.")

    def leave(self, connection: Connection, why: str = "", lost: bool = False) -> None:
        """Leave the team; ``lost`` when the connection dropped and the page may come back."""
        team, connection.team = connection.team, None
        if team is None:
            return
        team.connections.remove(connection)
        team.since = self._clock()
        if team.driver is connection:
            team.driver = None
            if not lost and not why:
                team.driver_key = ""
        if not lost:
            connection.send("team", None)
            if why:
                connection.notify(why)
        self._send_state(team)

    def drive(self, connection: Connection) -> None:
        """Make this member the driver; the last one who asks drives, and the previous one is told."""
        team = _team(connection)
        before = team.driver
        if before is connection:
            return
        self._set_driver(team, connection)
        self._send_state(team)
        if before is not None:
            before.notify("Another of your team drives now. You follow.")
        connection.notify("You drive now. The others follow you.")

    @staticmethod
    def _set_driver(team: Team, connection: Connection) -> None:
        team.driver, team.driver_key = connection, connection.key

    def design(self, connection: Connection, token) -> None:
        """Take the driver's design; refuse anyone else's and send them the team's."""
        team = _team(connection)
        if team.driver is not connection:
            connection.send("team", self.state(connection))
            raise DesignError(
                "Another of your team drives now, so your change was not passed on. Press 'I drive"
                " now' to take over."
            )
        if token == team.token:
            return
        team.token = read_token(token)
        self._send_state(team, but=connection)

    def end(self, empty_only: bool = True, name: str = "") -> int:
        """End one team by its name, or the teams that nobody has open, or all; returns how many."""
        if name:
            ended = [t for t in self if t.name.casefold() == name.casefold()]
        else:
            ended = [t for t in self if not (empty_only and t.connections)]
        for team in ended:
            for connection in list(team.connections):
                self.leave(
                    connection, "The instructor ended this team. Your design stays with you."
                )
            del self._by_name[team.name.casefold()]
        return len(ended)

    def state(self, connection: Connection) -> dict | None:
        """What a member may know of its team."""
        team = connection.team
        if team is None:
            return None
        return {
            "name": team.name,
            "code": team.code,
            "key": connection.key,
            "driving": team.driver is connection,
            "driver": team.driver is not None,
            "members": len(team.connections),
            "token": team.token,
        }

    def _send_state(self, team: Team, but: Connection | None = None) -> None:
        for connection in team.connections:
            if connection is not but:
                connection.send("team", self.state(connection))


def _team(connection: Connection) -> Team:
    if connection.team is None:
        raise DesignError("You are in no team; type a team name first.")
    return connection.team


def read_token(token) -> str:
    """A design's link token, checked to hold a design.  Raises ``DesignError``."""
    if not isinstance(token, str):
        raise DesignError("That is not a design; reload the page.")
    design_of(token)
    return token


def name_of(text) -> str:
    """A team's name, as it is shown.  Raises ``DesignError``.

    >>> name_of("  Blue   team ")
    'Blue team'
    """
    name = unicodedata.normalize("NFC", one_line(text))  # phones type the same letter in two ways
    if not name:
        raise DesignError("A team needs a name: a word or two.")
    if len(name) > MAX_NAME:
        raise DesignError(f"A team's name has at most {MAX_NAME} characters.")
    return isolate_direction(name)


def code_of(text) -> str:
    """A team's code in capitals; empty where none was typed.  Raises ``DesignError``."""
    code = one_line(text).upper().replace(" ", "")
    if code and not re.fullmatch(f"[{CODE_LETTERS}]{{{CODE_LENGTH}}}", code):
        raise DesignError(
            f"A team code has {CODE_LENGTH} letters or digits, such as"
            f" {CODE_LETTERS[:CODE_LENGTH]}; ask the driver."
        )
    return code
