"""What an open room is: where it listens, its keys, and what the instructor is told of it."""

import ipaddress
import sys
from dataclasses import dataclass, field

import tornado.web

from ...core.choices import DesignError
from . import auth as door
from .access import own_names
from .network import ALONE, addresses, unknown_address
from .notice_page import told_page
from .poster import poster, readable, terminal_code, wifi_text


@dataclass
class Room:
    """A room that is open to the local network."""

    port: int
    base: str = "/"
    wifi: str = ""
    password: str = ""
    only: str = ""
    """The one address to listen on; empty for all of this machine."""
    code: str = ""
    """A code of the instructor's own; empty to have one made."""
    keys: door.Keys = field(init=False)
    again: bool = field(init=False)
    """Whether these are the keys of a room whose server was killed."""
    address: str = field(init=False)
    """The address for the phones."""

    def __post_init__(self):
        """Look at the network, and make the keys.

        Raises ``DesignError`` when there is no network, or what was asked cannot be.
        """
        mine = [a.address for a in addresses()]
        if self.only and self.only not in mine:
            raise DesignError(unknown_address(self.only, addresses()))
        if len(self.wifi.encode()) > 32 or len(self.password) > 63:
            raise DesignError("A Wi-Fi has a name of 32 letters and a password of 63 at most.")
        if self.password and not self.wifi:
            raise DesignError("--wifi-password needs --wifi, the name of the network.")
        if self.password and len(self.password) < 8:
            raise DesignError("A Wi-Fi password has 8 letters at least.")
        if not mine:
            raise DesignError(
                "This machine is on no network, so no phone could reach it. Join the Wi-Fi of the"
                " phones first; 'rsdesign serve --lan --check' tells more."
            )
        self.keys, self.again = door.opened(self.port, self.code)
        self.address = f"http://{self.only or mine[0]}:{self.port}{self.base}"

    @property
    def listens_on(self) -> list[str]:
        """Every address of this machine; or the one asked for, and loopback for the instructor."""
        if not self.only:
            return ["0.0.0.0"]
        return [str(ipaddress.ip_address(self.only)), "127.0.0.1"]

    def home(self, path: str = "") -> str:
        """An address for the machine's own browser, with the instructor's key."""
        return f"http://localhost:{self.port}{self.base}{path}?token={self.keys.instructor}"

    def told(self, colour: bool | None = None, key: str = "") -> str:
        """What the instructor reads when the room opens; ``key`` is the one for another machine."""
        colour = sys.stdout.isatty() if colour is None else colour
        code = readable(self.keys.code)
        parts = ["The room is open."]
        if self.wifi:
            parts += [f"1. Join the Wi-Fi {self.wifi}:",
                      terminal_code(wifi_text(self.wifi, self.password), colour)]  # fmt: skip
        parts += [
            f"{'2. Open' if self.wifi else 'Join the same Wi-Fi as this machine, then open'} the page:",
            terminal_code(f"{self.address}?token={code}", colour),
            f"Or type: {self.address}\nand the code: {code}",
            f"Poster for the projector: {self.home('rsdesign/poster')}",
            f"Your own page: {self.home()}",
            f"Other addresses of this machine: {', '.join(self._others()) or 'none'}.",
            "Who reaches what:\n"
            "  Every device on the same network meets a page that asks for the code, and nothing else.\n"
            "  With the code: the workbooks. No files, no programs of a visitor's own, no list of\n"
            "  designs; nothing of a visitor is written on this machine. The line is not encrypted:\n"
            "  who shares the Wi-Fi could read along.\n"
            "  The poster: this machine alone. The room's settings: this machine, and whoever types\n"
            "  the instructor's key below.\n"
            f"  The internet: {self._outside()}",
            f"The wall for a projector: {self.home('wall')}",
            f"The room's settings, for the instructor: {self.home('room')}\n"
            f"The instructor's key, to open them at another machine: {key}",
        ]
        if self._kind("alone"):
            parts.insert(1, ALONE.format(interface="Take note", address=self._shown()))
        if self.again:
            parts.append("The last server was killed: its code is kept, and everybody is still in.")
        parts.append("Ctrl-C ends the room, every program in it, and the code.")
        return "\n\n".join(parts)

    def _shown(self) -> str:
        return self.address.partition("//")[2].partition(":")[0]

    def _kind(self, kind: str) -> bool:
        return any(a.kind == kind for a in addresses() if a.address == self._shown())

    def _outside(self) -> str:
        if self._kind("public"):
            return (
                "the page that asks for the code. This address is public: use a router of your own."
            )
        return "nothing, unless your router passes it on."

    def _others(self) -> list[str]:
        shown = self._shown()
        found = [] if self.only else [a.address for a in addresses() if a.address != shown]
        return found + sorted(own_names() - {"localhost"})


class Poster(tornado.web.RequestHandler):
    """The page for the projector; only the instructor on the machine itself sees it."""

    def initialize(self, room: Room, gate):
        """Keep the room and its gate."""
        self.room, self.gate = room, gate

    def get(self):
        """The poster, or a sentence."""
        self.set_header("Cache-Control", "no-store")
        self.set_header("Content-Type", "text/html; charset=utf-8")
        if not self.request.rsdesign_instructor:
            self.set_status(403)
            self.finish(told_page("Not here", "The poster is shown on the machine that serves the room,"
                                  " and nowhere else."))  # fmt: skip
            return
        about = self.room
        self.finish(poster(about.address, about.keys.code, about.wifi, about.password,
                           self.gate().tries.wrong))  # fmt: skip
