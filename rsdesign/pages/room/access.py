"""The one way in: every request and every socket passes here before anything else sees it.

Three questions, in this order: is this server meant (``Host``), does the page that asks come from
this server (``Origin``), and, in a room, has the visitor come in by the door (cookie)?  Who has
not sees the page with the one box, whatever was asked for.
"""

import html
import ipaddress
import re
import socket
from http.cookies import CookieError, SimpleCookie
from urllib.parse import parse_qsl, urlencode, urlsplit

import tornado.web
from tornado.routing import Router

from ..server.loopback import here
from . import auth as door
from .notice_page import PAGE

SAFE = re.compile(r"/(?!/)[A-Za-z0-9_./%~-]*")
"""An address of this server: nothing that a browser could take for another."""
ALONE = "here"
"""The visitor's name where only this machine listens."""
LONGEST_BODY = 65_536
"""Bytes of a request's body; only the box of the door sends one."""


def host_of(netloc: str) -> str:
    """The name or address in a ``Host`` header, without its port.

    >>> host_of("192.168.8.2:8866"), host_of("[::1]:8866"), host_of("Localhost")
    ('192.168.8.2', '::1', 'localhost')
    """
    if netloc.startswith("["):
        return netloc[1:].partition("]")[0].lower()
    return netloc.partition(":")[0].lower().rstrip(".")


def same_place(origin: str, host: str) -> bool:
    """Whether a page of this server asks; an ``Origin`` that cannot be read is a stranger's.

    >>> same_place("http://Fish.local:8866", "fish.local:8866"), same_place("http://[", "[")
    (True, False)
    """
    try:
        return urlsplit(origin.lower()).netloc == host.lower()
    except ValueError:
        return False


def own_names() -> set[str]:
    """Names by which a network may know this machine."""
    name = socket.gethostname().lower()
    return {"localhost", name, f"{name.partition('.')[0]}.local"} - {""}


class Gate(Router):
    """Hands a request to the pages when it may pass, else to the door.

    ``keys`` is None where only this machine listens.  ``request.rsdesign_visitor`` names the
    visitor for the length of a room; ``request.rsdesign_instructor`` is True for the one who
    started the server, on the machine itself.
    """

    def __init__(self, pages, base: str, port: int, keys=None, names=(), say=print):
        self.pages, self.base, self.keys, self.say = pages, base, keys, say
        self.tries = door.Tries()
        self.cookie = f"rsdesign-room-{port}"
        self.names = {n.lower() for n in names} | (own_names() if keys else {"localhost"})
        self.door = tornado.web.Application(
            [(r".*", Door, {"gate": self})], log_function=lambda handler: None
        )

    def find_handler(self, request, **kwargs):
        """The delegate that answers this request."""
        why = self._stranger(request)
        if why:
            return self.door.get_handler_delegate(request, Refused, {"why": why})
        if self.keys is None:
            request.rsdesign_visitor, request.rsdesign_instructor = ALONE, True
            return self.pages.find_handler(request, **kwargs)
        who = self.visitor(request)
        token = dict(parse_qsl(request.query, max_num_fields=None)).get("token")
        if who is None or token is not None:
            return self.door.find_handler(request, **kwargs)
        request.rsdesign_visitor = who[0]
        request.rsdesign_instructor = who[1] == door.INSTRUCTOR and self.at_home(request)
        return self.pages.find_handler(request, **kwargs)

    def visitor(self, request) -> tuple[str, str] | None:
        """Name and role of one who carries this room's cookie."""
        try:
            jar = SimpleCookie(request.headers.get("Cookie", ""))
        except CookieError:
            return None
        kept = jar.get(self.cookie)
        return self.keys.read(kept.value) if kept else None

    def at_home(self, request) -> bool:
        """Whether this is the machine's own browser, by an address of the machine itself."""
        return here(request)

    def _stranger(self, request) -> str:
        """Why a request is refused before anybody asks who sent it; empty when it is not."""
        host = host_of(request.headers.get("Host", ""))
        if not self._known(host):
            return (
                "This server does not go by that name. Open it by the address that stands on the"
                " poster. (Whoever runs it can add a name with --name.)"
            )
        for origin in request.headers.get_list("Origin") + request.headers.get_list(
            "Sec-WebSocket-Origin"
        ):
            if not same_place(origin, request.headers["Host"]):
                return "A page of another site asked for this; only this server's own pages may."
        return ""

    def _known(self, host: str) -> bool:
        try:
            address = ipaddress.ip_address(host)
        except ValueError:
            return host in self.names
        # Another site's page can only come here by a name that it made point here.
        return True if self.keys else address.is_loopback or host in self.names


class Plain(tornado.web.RequestHandler):
    """A small page of ours for one who has not come in."""

    def set_default_headers(self):
        """Nothing is kept, framed or passed on."""
        self.set_header("Server", "rsdesign")
        self.set_header("Cache-Control", "no-store")
        self.set_header("X-Content-Type-Options", "nosniff")
        self.set_header("Referrer-Policy", "same-origin")  # with none, a form has no Origin
        self.set_header(
            "Content-Security-Policy",
            "default-src 'none'; style-src 'unsafe-inline'; img-src data:; form-action 'self';"
            " frame-ancestors 'none'; base-uri 'none'",
        )

    def check_xsrf_cookie(self):
        """The one form asks for a code: whoever has it needs no forging."""

    def page(self, status: int, title: str, body: str) -> None:
        """Answer with a page."""
        self.set_status(status)
        self.finish(PAGE.format(title=html.escape(title), body=body))

    def write_error(self, status_code, **kwargs):
        """A sentence, never a traceback."""
        self.page(status_code, "Not taken", "<p>That could not be read. Go back and try again.</p>")


class Refused(Plain):
    """One sentence for whoever may not even see the door."""

    def initialize(self, why):
        """Keep the sentence."""
        self.why = why

    def prepare(self):
        """Whatever was asked for."""
        self.page(403, "Not here", f"<p>{html.escape(self.why)}</p>")


class Door(Plain):
    """The one box; and the way past it for a right code."""

    def initialize(self, gate):
        """Keep the gate."""
        self.gate = gate

    def prepare(self):
        """Only looking and typing are possible here; a socket gets the same page, as a refusal."""
        if self.request.method not in ("GET", "HEAD", "POST") or "Upgrade" in self.request.headers:
            self.ask(403)

    def get(self):
        """A code in the address, or the box."""
        token = self.get_query_argument("token", None)
        if token is None:
            self.ask(403)
        elif self.gate.visitor(self.request) and not self.gate.keys.role(token):
            self.redirect(self.target(), status=303)  # one who is in already
        else:
            self.judge(token)

    head = get

    def post(self):
        """The code that was typed."""
        self.judge(self.get_body_argument("token", ""))

    def target(self) -> str:
        """The address asked for, without the code; the start where it is not one of ours."""
        path = self.request.path
        if not SAFE.fullmatch(path):
            path = self.gate.base
        rest = [(k, v) for k, v in parse_qsl(self.request.query) if k != "token"]
        return f"{path}?{urlencode(rest)}" if rest else path

    def judge(self, token: str) -> None:
        """Let in, or say why not."""
        gate, address = self.gate, self.request.remote_ip or ""
        wait = gate.tries.wait(address)
        if wait:
            seconds = int(wait) + 1
            self.set_header("Retry-After", str(seconds))
            self.ask(429, f"Too many wrong codes came from this device. Wait {seconds} seconds, then"
                          " try again.")  # fmt: skip
            return
        role = gate.keys.role(token)
        if role == door.INSTRUCTOR and not gate.at_home(self.request):
            role = None
        if role is None:
            wrong = gate.tries.fail(address)
            if wrong in (1, 5) or wrong % 20 == 0:
                gate.say(f"Wrong codes so far: {wrong}, the last one from {address}.")
            self.ask(
                403, "That is not the code of this room. Look at the poster and type it again."
            )
            return
        gate.tries.right(address)
        self.set_cookie(
            gate.cookie, gate.keys.cookie(role), path=gate.base, httponly=True, samesite="Lax",
            max_age=door.LASTS, secure=self.request.protocol == "https",
        )  # fmt: skip
        self.redirect(self.target(), status=303)

    def ask(self, status: int, complaint: str = "") -> None:
        """The page with the one box."""
        wrong = f'<p role="alert" id="wrong">{html.escape(complaint)}</p>' if complaint else ""
        action = html.escape(self.target(), quote=True)
        self.page(status, "Workbooks for a fish system", BOX.format(wrong=wrong, action=action))


BOX = """<p>You have found the room's machine. One more step.</p>{wrong}
<form method="post" action="{action}"><label for="code">Code on the poster</label>
<input id="code" name="token" type="text" autocomplete="off" autocapitalize="none" autocorrect="off" spellcheck="false" maxlength="60" required autofocus>
<button type="submit">Come in</button></form>
<p>No internet is needed, and no account. Nothing that you do here is written on the room's machine.</p>
<p>Does this page come back after the right code? Then allow cookies for this address.</p>"""
