"""Access from the local network: the address, the keys, and the instructions for the instructor."""

import ipaddress
import sys
from dataclasses import dataclass, field

import tornado.web

from ...core.choices import DesignError
from . import auth
from .access import local_host_names
from .network import NO_ROUTER, addresses, unknown_address
from .notice_page import notice_page
from .poster import poster, readable, terminal_code, wifi_text


@dataclass
class LanAccess:
    """How devices on the local network reach this server."""

    port: int
    base: str = "/"
    wifi: str = ""
    password: str = ""
    only: str = ""
    """The only address to listen on; empty for all of this machine's."""
    code: str = ""
    """A code that the instructor chose; empty to generate one."""
    keys: auth.RoomKeys = field(init=False)
    keys_kept: bool = field(init=False)
    """Whether the keys were kept from a server that was killed."""
    address: str = field(init=False)
    """The URL for phones."""

    def __post_init__(self):
        """Look up the network's addresses and load or generate the keys.

        Raises ``DesignError`` when there is no network, or an option cannot be met.
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
        self.keys, self.keys_kept = auth.load_keys(self.port, self.code)
        self.address = f"http://{self.only or mine[0]}:{self.port}{self.base}"

    @property
    def listens_on(self) -> list[str]:
        """Every address of this machine; or the chosen one, and loopback for the instructor."""
        if not self.only:
            return ["0.0.0.0"]
        return [str(ipaddress.ip_address(self.only)), "127.0.0.1"]

    def instructor_url(self, path: str = "") -> str:
        """A URL for this machine's browser, with the instructor's key."""
        return f"http://localhost:{self.port}{self.base}{path}?token={self.keys.instructor}"

    def instructions(self, color: bool | None = None, key: str = "") -> str:
        """What the terminal prints when the room opens; ``key`` opens its settings elsewhere."""
        color = sys.stdout.isatty() if color is None else color
        code = readable(self.keys.code)
        parts = ["The room is open."]
        if self.wifi:
            parts += [f"1. Join the Wi-Fi {self.wifi}:",
                      terminal_code(wifi_text(self.wifi, self.password), color)]  # fmt: skip
        parts += [
            f"{'2. Open' if self.wifi else 'Join the same Wi-Fi as this machine, then open'} the page:",
            terminal_code(f"{self.address}?token={code}", color),
            f"Or type: {self.address}\nand the code: {code}",
            f"Poster for the projector: {self.instructor_url('rsdesign/poster')}",
            f"Your own page: {self.instructor_url()}",
            f"Other addresses of this machine: {', '.join(self._other_addresses()) or 'none'}.",
            "Who reaches what:\n"
            "  Every device on the same network meets a page that asks for the code, and nothing else.\n"
            "  With the code: the workbooks. No files, no programs of a visitor's own, no list of\n"
            "  designs; nothing of a visitor is written on this machine. The line is not encrypted:\n"
            "  who shares the Wi-Fi could read along.\n"
            "  The poster: this machine alone. The room's settings: this machine, and whoever types\n"
            "  the instructor's key below.\n"
            f"  The internet: {self._internet_access()}",
            f"The wall for a projector: {self.instructor_url('wall')}",
            f"The room's settings, for the instructor: {self.instructor_url('room')}\n"
            f"The instructor's key, to open them at another machine: {key}",
        ]
        if self._address_is("link-local"):
            parts.insert(1, NO_ROUTER.format(interface="Take note", address=self._host()))
        if self.keys_kept:
            parts.append("The last server was killed: its code is kept, and everybody is still in.")
        parts.append("Ctrl-C ends the room, every program in it, and the code.")
        return "\n\n".join(parts)

    def _host(self) -> str:
        return self.address.partition("//")[2].partition(":")[0]

    def _address_is(self, kind: str) -> bool:
        return any(a.kind == kind for a in addresses() if a.address == self._host())

    def _internet_access(self) -> str:
        if self._address_is("public"):
            return (
                "the page that asks for the code. This address is public: use a router of your own."
            )
        return "nothing, unless your router passes it on."

    def _other_addresses(self) -> list[str]:
        host = self._host()
        found = [] if self.only else [a.address for a in addresses() if a.address != host]
        return found + sorted(local_host_names() - {"localhost"})


class PosterHandler(tornado.web.RequestHandler):
    """The poster for the projector, for the instructor on this machine alone."""

    def initialize(self, lan: LanAccess, router):
        """Keep the access data, and a function that gives the access router."""
        self.lan, self.router = lan, router

    def get(self):
        """The poster, or a refusal."""
        self.set_header("Cache-Control", "no-store")
        self.set_header("Content-Type", "text/html; charset=utf-8")
        if not self.request.rsdesign_instructor:
            self.set_status(403)
            self.finish(notice_page("Not here", "The poster is shown on the machine that serves the room,"
                                  " and nowhere else."))  # fmt: skip
            return
        lan = self.lan
        self.finish(poster(lan.address, lan.keys.code, lan.wifi, lan.password,
                           self.router().attempts.wrong))  # fmt: skip
