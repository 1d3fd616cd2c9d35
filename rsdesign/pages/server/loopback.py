"""The instructor's page is for the machine it runs on: whoever asks from elsewhere is refused.

The key of a class must not cross a network.  Two things have to hold: the connection comes from this
machine, and the address that was typed names it, so that neither a phone in the room nor a page of
another host that points at this machine gets through.
"""

import ipaddress
from urllib.parse import unquote

import tornado.web
from tornado.routing import Matcher, Rule

from ..classroom.lists import INSTRUCTOR
from ..room.notice_page import told_page

SENTENCE = (
    "The instructor's page opens only on the machine that runs it, at http://localhost."
    " Learners use the page Exercises."
)
_THROUGH = ("X-Forwarded-For", "X-Real-Ip", "Forwarded", "Via")


def is_loopback(address: str) -> bool:
    """Whether an address or a name is this machine itself."""
    try:
        found = ipaddress.ip_address(address.partition("%")[0])
    except ValueError:
        return address.lower() == "localhost"
    return (getattr(found, "ipv4_mapped", None) or found).is_loopback


def here(request) -> bool:
    """Whether a request comes from this machine and is meant for it."""
    if any(header in request.headers for header in _THROUGH):
        return False  # it came through something else, and from where is only said
    return is_loopback(request.remote_ip or "") and is_loopback(
        (request.host_name or "").strip("[]")
    )


class FromElsewhere(Matcher):
    """Matches what asks for the instructor's page from elsewhere."""

    def match(self, request):
        """An empty match where the request is to be refused, else None."""
        asked = unquote(request.path).lower()
        return {} if INSTRUCTOR.file in asked and not here(request) else None


class Refused(tornado.web.RequestHandler):
    """Says why, in one sentence."""

    def prepare(self):
        """Every way of asking is refused alike."""
        self.set_status(403)
        self.finish(told_page("Not here", SENTENCE))


def rule() -> Rule:
    """The rule to put before every handler of pages."""
    return Rule(FromElsewhere(), Refused)
