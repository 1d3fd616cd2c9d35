"""The access router: every request and every socket passes it before any handler.

It asks, in this order: is this server meant (``Host``), does the request come from a page of this
server (``Origin``), and, in a room, does it carry the room's cookie?  A visitor without the cookie gets
the page that asks for the code, whatever was requested.
"""

import html
import ipaddress
import re
import socket
from http.cookies import CookieError, SimpleCookie
from urllib.parse import parse_qsl, urlencode, urlsplit

import tornado.web
from tornado.routing import Router

from ..server.loopback import is_local
from . import auth
from .notice_page import PAGE

SAFE_PATH = re.compile(r"/(?!/)[A-Za-z0-9_./%~-]*")
"""A path of this server that no browser reads as another site's address."""
LOCAL_VISITOR = "local"
"""The visitor's name where only this machine can connect."""
MAX_BODY = 65_536
"""Bytes of a request's body; only the code form sends one."""
UNKNOWN_HOST = (
    "This server does not go by that name. Open it by the address that stands on the"
    " poster. (Whoever runs it can add a name with --name.)"
)
OTHER_ORIGIN = "A page of another site asked for this; only this server's own pages may."


def host_of(netloc: str) -> str:
    """The name or address in a ``Host`` header, without its port.

    >>> host_of("192.168.8.2:8866"), host_of("[::1]:8866"), host_of("Localhost")
    ('192.168.8.2', '::1', 'localhost')
    """
    if netloc.startswith("["):
        return netloc[1:].partition("]")[0].lower()
    return netloc.partition(":")[0].lower().rstrip(".")


def same_origin(origin: str, host: str) -> bool:
    """Whether an ``Origin`` header names this server; False where it cannot be read.

    >>> same_origin("http://Fish.local:8866", "fish.local:8866"), same_origin("http://[", "[")
    (True, False)
    """
    try:
        return urlsplit(origin.lower()).netloc == host.lower()
    except ValueError:
        return False


def local_host_names() -> set[str]:
    """Names by which a network may know this machine."""
    name = socket.gethostname().lower()
    return {"localhost", name, f"{name.partition('.')[0]}.local"} - {""}


class AccessRouter(Router):
    """Routes a permitted request to ``pages``, any other to the code form or a refusal.

    ``keys`` is None where only this machine can connect.  It sets ``request.rsdesign_visitor``, a
    visitor's name for as long as the room lasts, and ``request.rsdesign_instructor``, True for the
    instructor at this machine.
    """

    def __init__(self, pages, base: str, port: int, keys=None, host_names=(), log=print):
        self.pages, self.base, self.keys, self.log = pages, base, keys, log
        self.attempts = auth.AttemptLimiter()
        self.cookie = f"rsdesign-room-{port}"
        self.host_names = {n.lower() for n in host_names}
        self.host_names |= local_host_names() if keys else {"localhost"}
        self.login = tornado.web.Application(
            [(r".*", CodeForm, {"router": self})], log_function=lambda handler: None
        )

    def find_handler(self, request, **kwargs):
        """The delegate that answers this request."""
        why = self._refusal(request)
        if why:
            return self.login.get_handler_delegate(request, Refusal, {"why": why})
        if self.keys is None:
            request.rsdesign_visitor, request.rsdesign_instructor = LOCAL_VISITOR, True
            return self.pages.find_handler(request, **kwargs)
        visitor = self.visitor(request)
        token = dict(parse_qsl(request.query, max_num_fields=None)).get("token")
        if visitor is None or token is not None:
            return self.login.find_handler(request, **kwargs)
        name, role = visitor
        request.rsdesign_visitor = name
        request.rsdesign_instructor = role == auth.INSTRUCTOR and self.is_local(request)
        return self.pages.find_handler(request, **kwargs)

    def visitor(self, request) -> tuple[str, str] | None:
        """Name and role from this room's cookie; None without a valid one."""
        try:
            cookies = SimpleCookie(request.headers.get("Cookie", ""))
        except CookieError:
            return None
        cookie = cookies.get(self.cookie)
        return self.keys.read(cookie.value) if cookie else None

    def is_local(self, request) -> bool:
        """Whether the request comes from this machine's own browser."""
        return is_local(request)

    def _refusal(self, request) -> str:
        """Why a request is refused, whoever sent it; empty when it is not."""
        host = host_of(request.headers.get("Host", ""))
        if not self._is_known(host):
            return UNKNOWN_HOST
        origins = request.headers.get_list("Origin")
        for origin in origins + request.headers.get_list("Sec-WebSocket-Origin"):
            if not same_origin(origin, request.headers["Host"]):
                return OTHER_ORIGIN
        return ""

    def _is_known(self, host: str) -> bool:
        try:
            address = ipaddress.ip_address(host)
        except ValueError:
            return host in self.host_names
        # A site that rebinds its own name to this machine sends that name, never an address.
        return True if self.keys else address.is_loopback or host in self.host_names


class StandaloneHandler(tornado.web.RequestHandler):
    """A small page for a visitor without access to anything else."""

    def set_default_headers(self):
        """Nothing is cached, framed or passed on."""
        self.set_header("Server", "rsdesign")
        self.set_header("Cache-Control", "no-store")
        self.set_header("X-Content-Type-Options", "nosniff")
        self.set_header("Referrer-Policy", "same-origin")  # with none, a form sends no Origin
        self.set_header(
            "Content-Security-Policy",
            "default-src 'none'; style-src 'unsafe-inline'; img-src data:; form-action 'self';"
            " frame-ancestors 'none'; base-uri 'none'",
        )

    def check_xsrf_cookie(self):
        """No check: the only form asks for the code, and whoever has that needs no forgery."""

    def page(self, status: int, title: str, body: str) -> None:
        """Answer with a page."""
        self.set_status(status)
        self.finish(PAGE.format(title=html.escape(title), body=body))

    def write_error(self, status_code, **kwargs):
        """A sentence, never a traceback."""
        self.page(status_code, "Not taken", "<p>That could not be read. Go back and try again.</p>")


class Refusal(StandaloneHandler):
    """One sentence for a request that may not even see the code form."""

    def initialize(self, why):
        """Keep the sentence."""
        self.why = why

    def prepare(self):
        """Refuse every method alike."""
        self.page(403, "Not here", f"<p>{html.escape(self.why)}</p>")


class CodeForm(StandaloneHandler):
    """The form that asks for the room's code; a right code sets the cookie."""

    def initialize(self, router):
        """Keep the access router."""
        self.router = router

    def prepare(self):
        """Allow viewing and submitting alone; a socket gets the form too, as a refusal."""
        if self.request.method not in ("GET", "HEAD", "POST") or "Upgrade" in self.request.headers:
            self.show_form(403)

    def get(self):
        """Take a code from the address, or show the form."""
        token = self.get_query_argument("token", None)
        if token is None:
            self.show_form(403)
        elif self.router.visitor(self.request) and not self.router.keys.role(token):
            self.redirect(self.target(), status=303)  # an old code, from a visitor who has access
        else:
            self.check_code(token)

    head = get

    def post(self):
        """Take the code that was typed."""
        self.check_code(self.get_body_argument("token", ""))

    def target(self) -> str:
        """The requested address without the code; the root where it is not a path of this server."""
        path = self.request.path
        if not SAFE_PATH.fullmatch(path):
            path = self.router.base
        rest = [(k, v) for k, v in parse_qsl(self.request.query) if k != "token"]
        return f"{path}?{urlencode(rest)}" if rest else path

    def check_code(self, token: str) -> None:
        """Set the cookie for a right code; show the form again, with a reason, for a wrong one."""
        router, address = self.router, self.request.remote_ip or ""
        wait = router.attempts.wait(address)
        if wait:
            seconds = int(wait) + 1
            self.set_header("Retry-After", str(seconds))
            self.show_form(429, f"Too many wrong codes came from this device. Wait {seconds} seconds, then"
                                " try again.")  # fmt: skip
            return
        role = router.keys.role(token)
        if role == auth.INSTRUCTOR and not router.is_local(self.request):
            role = None
        if role is None:
            wrong = router.attempts.record_failure(address)
            if wrong in (1, 5) or wrong % 20 == 0:
                router.log(f"Wrong codes so far: {wrong}, the last one from {address}.")
            self.show_form(
                403, "That is not the code of this room. Look at the poster and type it again."
            )
            return
        router.attempts.reset(address)
        self.set_cookie(
            router.cookie, router.keys.cookie(role), path=router.base, httponly=True, samesite="Lax",
            max_age=auth.LIFETIME, secure=self.request.protocol == "https",
        )  # fmt: skip
        self.redirect(self.target(), status=303)

    def show_form(self, status: int, error: str = "") -> None:
        """Answer with the form."""
        wrong = f'<p role="alert" id="wrong">{html.escape(error)}</p>' if error else ""
        action = html.escape(self.target(), quote=True)
        self.page(status, "Workbooks for a fish system", FORM.format(wrong=wrong, action=action))


FORM = """<p>You have found the room's machine. One more step.</p>{wrong}
<form method="post" action="{action}"><label for="code">Code on the poster</label>
<input id="code" name="token" type="text" autocomplete="off" autocapitalize="none" autocorrect="off" spellcheck="false" maxlength="60" required autofocus>
<button type="submit">Come in</button></form>
<p>No internet is needed, and no account. Nothing that you do here is written on the room's machine.</p>
<p>Does this page come back after the right code? Then allow cookies for this address.</p>"""
