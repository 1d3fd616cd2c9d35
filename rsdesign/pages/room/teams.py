"""Teams: one drives, the others follow the same design live.  Pure logic; nothing is sent here but
through the ``tell`` of a seat."""

import hmac
import re
import secrets
import time
import unicodedata
from collections.abc import Callable
from dataclasses import dataclass, field

from ...core.choices import DesignError
from ...design.link import design_of
from .rate_limit import Bucket
from .text_input import apart, plain

MOST_TEAMS = 40
MOST_SEATS = 12
"""Pages in one team."""
MOST_KEYS = 60
LONGEST_NAME = 30
KEY = re.compile(r"[\w-]{16}")
LETTERS = "ABCDEFGHJKMNPQRTUVWXY346789"
"""No letter that is taken for another when it is read aloud or off a projector."""
CODE = 5
GUESSES = 40
"""Codes without a name that a room takes at once, then one every two seconds: with forty teams among the
27⁵ codes a guesser needs about eight days to meet one."""
TRIES = 10
"""Wrong codes that a team takes at once, then one every ten seconds."""


@dataclass(eq=False)
class Seat:
    """One open page: how it is told something, and where it sits."""

    tell: Callable[[str, object], None]
    address: str = ""
    key: str = ""
    team: "Team | None" = None
    watching: bool = False
    bucket: Bucket = field(default_factory=lambda: Bucket(60, 20.0))
    wrong: int = 0


@dataclass(eq=False)
class Team:
    """A team: its code, who sits in it, who drives, and the driver's design."""

    name: str
    code: str
    token: str = ""
    seats: list[Seat] = field(default_factory=list)
    keys: list[str] = field(default_factory=list)
    driver: Seat | None = None
    driver_key: str = ""
    since: float = 0.0
    tries: Bucket = field(default_factory=lambda: Bucket(TRIES, 0.1))


class Teams:
    """Every team of a room."""

    def __init__(self, clock: Callable = time.monotonic):
        self._clock = clock
        self._by_name: dict[str, Team] = {}
        self._guesses = Bucket(GUESSES, 0.5, clock=clock)

    def __iter__(self):
        return iter(self._by_name.values())

    def join(self, seat: Seat, asked: dict) -> Team:
        """Sit down in a team, or start one: whoever starts it drives.  To join, its code is enough.

        The code keeps a team's design to the team.  After the server was started anew a team
        comes back under its old name and code, with whoever drove it.
        """
        code, key = code_of(asked.get("code")), asked.get("key")
        if code and not plain(asked.get("name")):
            name = self._named_by(code)
        else:
            name = name_of(asked.get("name"))
        team = self._by_name.get(name.casefold())
        fresh = team is None
        brings = bool(asked.get("drove")) or (fresh and not code)
        # Read before anything changes: a team must not stand behind a code that nobody was told.
        token = read_token(asked["token"]) if brings and asked.get("token") else ""
        if fresh:
            if code and not asked.get("again"):
                raise DesignError(
                    f"There is no team {name}. Ask its driver how it is written, or leave the code"
                    " empty to start a team of that name."
                )
            team = self._start(name, code)
        elif not (key and key in team.keys):
            if not team.tries.take():
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
            team.tries = Bucket(TRIES, 0.1)
        self._make_place(team, key)
        self.leave(seat)
        known = isinstance(key, str) and key in team.keys
        # After a restart a page may come twice, before and after it loads anew: its key names it both times.
        own = known or (isinstance(key, str) and KEY.fullmatch(key))
        seat.key = key if own else secrets.token_urlsafe(12)
        team.keys = [*team.keys, *([] if known else [seat.key])][-MOST_KEYS:]
        seat.team = team
        team.seats.append(seat)
        mine = known and key == team.driver_key
        first = brings and (fresh or not team.driver_key)
        if (mine and team.driver is None) or first:
            self._set_driver(team, seat)
            if token and not mine:
                team.token = token
        self._tell(team)
        return team

    def _named_by(self, code: str) -> str:
        """The name of the team with this code; guessing is slowed for the whole room."""
        if not self._guesses.take():
            raise DesignError("Too many wrong codes in this room; type the team's name too.")
        found = next((team for team in self if hmac.compare_digest(team.code, code)), None)
        if found is None:
            raise DesignError(
                f"No team has the code {code}. Ask the driver for it; to start a team, type a name and"
                " leave the code empty."
            )
        return found.name

    def _start(self, name: str, code: str) -> Team:
        if len(self._by_name) >= MOST_TEAMS:  # the one longest without a page gives way
            empty = sorted((t for t in self if not t.seats), key=lambda t: t.since)
            if not empty:
                raise DesignError(
                    f"There are {MOST_TEAMS} teams already, which is all a room can hold; join one."
                )
            del self._by_name[empty[0].name.casefold()]
        made = code or "".join(secrets.choice(LETTERS) for _ in range(CODE))
        team = self._by_name[name.casefold()] = Team(name, made, since=self._clock())
        return team

    def _make_place(self, team: Team, key) -> None:
        """The same page once more (a phone that woke) takes the place of its old self."""
        for old in [s for s in team.seats if key and s.key == key]:
            self.leave(old, "This team is open in another window here, so this one left it.")
        if len(team.seats) >= MOST_SEATS:
            raise DesignError(f"Team {team.name} is full: {MOST_SEATS} pages have it open.")

    def leave(self, seat: Seat, why: str = "", gone: bool = False) -> None:
        """Stand up; ``gone`` when the line was lost and the page may come back."""
        team, seat.team = seat.team, None
        if team is None:
            return
        team.seats.remove(seat)
        team.since = self._clock()
        if team.driver is seat:
            team.driver = None
            if not gone and not why:
                team.driver_key = ""
        if not gone:
            seat.tell("team", None)
            if why:
                seat.tell("told", why)
        self._tell(team)

    def drive(self, seat: Seat) -> None:
        """The wheel to this seat; the last one who asks has it, and the one before is told."""
        team = _team(seat)
        before = team.driver
        if before is seat:
            return
        self._set_driver(team, seat)
        self._tell(team)
        if before is not None:
            before.tell("told", "Another of your team drives now. You follow.")
        seat.tell("told", "You drive now. The others follow you.")

    @staticmethod
    def _set_driver(team: Team, seat: Seat) -> None:
        team.driver, team.driver_key = seat, seat.key

    def design(self, seat: Seat, token) -> None:
        """The driver's design; from anyone else it is refused, and they are shown the team's."""
        team = _team(seat)
        if team.driver is not seat:
            seat.tell("team", self.state(seat))
            raise DesignError(
                "Another of your team drives now, so your change was not passed on. Press 'I drive"
                " now' to take over."
            )
        if token == team.token:
            return
        team.token = read_token(token)
        self._tell(team, but=seat)

    def end(self, empty_only: bool = True, name: str = "") -> int:
        """End one team by its name, or the teams that nobody has open, or all; how many."""
        if name:
            ended = [t for t in self if t.name.casefold() == name.casefold()]
        else:
            ended = [t for t in self if not (empty_only and t.seats)]
        for team in ended:
            for seat in list(team.seats):
                self.leave(seat, "The instructor ended this team. Your design stays with you.")
            del self._by_name[team.name.casefold()]
        return len(ended)

    def state(self, seat: Seat) -> dict | None:
        """What a seat may know of its team."""
        team = seat.team
        if team is None:
            return None
        return {
            "name": team.name,
            "code": team.code,
            "key": seat.key,
            "driving": team.driver is seat,
            "driver": team.driver is not None,
            "here": len(team.seats),
            "token": team.token,
        }

    def _tell(self, team: Team, but: Seat | None = None) -> None:
        for seat in team.seats:
            if seat is not but:
                seat.tell("team", self.state(seat))


def _team(seat: Seat) -> Team:
    if seat.team is None:
        raise DesignError("You are in no team; type a team name first.")
    return seat.team


def read_token(token) -> str:
    """A design's link token, found to be one.  Raises ``DesignError``."""
    if not isinstance(token, str):
        raise DesignError("That is not a design; reload the page.")
    design_of(token)
    return token


def name_of(text) -> str:
    """A team's name, as it is shown.  Raises ``DesignError``.

    >>> name_of("  Blue   team ")
    'Blue team'
    """
    name = unicodedata.normalize("NFC", plain(text))  # so that phones agree on what was typed
    if not name:
        raise DesignError("A team needs a name: a word or two.")
    if len(name) > LONGEST_NAME:
        raise DesignError(f"A team's name has at most {LONGEST_NAME} characters.")
    return apart(name)


def code_of(text) -> str:
    """A team's code in capitals, or nothing.  Raises ``DesignError``."""
    code = plain(text).upper().replace(" ", "")
    if code and not re.fullmatch(f"[{LETTERS}]{{{CODE}}}", code):
        raise DesignError(
            f"A team code has {CODE} letters or digits, such as {LETTERS[:CODE]}; ask the driver."
        )
    return code
