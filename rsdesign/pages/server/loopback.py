"""Serves the instructor's page to this machine alone; a request from elsewhere is refused.

The key of a class must not cross a network.  Two conditions hold together: the connection comes from
this machine, and the ``Host`` header names it, so that neither a phone in the room nor another site's
page that resolves to this machine gets through.
"""

import ipaddress
from urllib.parse import unquote

import tornado.web
from tornado.routing import Matcher, Rule

from ..classroom.lists import INSTRUCTOR
from ..room.notice_page import notice_page

ONLY_HERE = (
    "The instructor's page opens only on the machine that runs it, at http://localhost."
    " Learners use the page Exercises."
)
_PROXY_HEADERS = ("X-Forwarded-For", "X-Real-Ip", "Forwarded", "Via")


def is_loopback(address: str) -> bool:
    """Whether an address or host name is this machine itself."""
    try:
        found = ipaddress.ip_address(address.partition("%")[0])
    except ValueError:
        return address.lower() == "localhost"
    return (getattr(found, "ipv4_mapped", None) or found).is_loopback


def is_local(request) -> bool:
    """Whether a request comes from this machine and was addressed to it by a loopback name."""
    if any(header in request.headers for header in _PROXY_HEADERS):
        return False  # behind a proxy the true origin is only claimed
    return is_loopback(request.remote_ip or "") and is_loopback(
        (request.host_name or "").strip("[]")
    )


class RemoteInstructorRequest(Matcher):
    """Matches a request for the instructor's page that does not come from this machine."""

    def match(self, request):
        """An empty match where the request is to be refused, else None."""
        path = unquote(request.path).lower()
        return {} if INSTRUCTOR.file in path and not is_local(request) else None


class RefuseRemote(tornado.web.RequestHandler):
    """Answers 403 with one sentence."""

    def prepare(self):
        """Refuse every method alike."""
        self.set_status(403)
        self.finish(notice_page("Not here", ONLY_HERE))


def loopback_rule() -> Rule:
    """The routing rule to put before every page handler."""
    return Rule(RemoteInstructorRequest(), RefuseRemote)
