"""What a page opens with: composed once by a server for all visitors, and carried in the page's HTML.

A browser that brings nothing of its own is answered with what was carried, so that its page is usable at
once; for its own width only what is drawn for a width is drawn again.
"""

from functools import cache

from ..report.drawings import scene
from . import blocks, pictures
from .aside import aside
from .session import DESK, Session

PHONE = 344.0
"""How wide a drawing is on most phones [px]."""
OF_WIDTH = ("sizing", "width", "narrow", "scale", "_parts", "_token")
"""Fields of a session that follow from its design and from how wide its page is."""


def first(session: Session) -> dict:
    """What a served page carries in its HTML, so that it is drawn before its socket is open."""
    return opening(session.page.name, session.system)


@cache
def opening(page: str, system: str) -> dict:
    """All that a page of the demonstration design opens with, so that nothing on it moves later."""
    session = Session(page, system)
    found = blocks.compose(session) | aside(session)
    session.width, session.narrow = PHONE, True
    drawn = blocks.moving(session)["picture"]
    return found | {"phone": pictures.height(drawn)}


@cache
def _fresh(page: str, system: str) -> dict:
    return _state(Session(page, system))


def preload(page: str, system: str) -> None:
    """Compose a page before the first visitor opens it."""
    opening(page, system)
    _fresh(page, system)


def _state(session: Session) -> dict:
    return {name: value for name, value in vars(session).items() if name not in OF_WIDTH}


def opened(session: Session) -> dict | None:
    """The blocks of a page that opens as it was carried; None where its browser brought something of its own.

    The page's own drawings are made anew for another width, except on pages whose other blocks hang on
    the width too.
    """
    page = session.page
    if _state(session) != _fresh(page.name, session.system):
        return None
    found = {name: block for name, block in first(session).items() if name != "phone"}
    found["frame"] = blocks.frame(session)
    if (session.width, session.narrow) != (DESK, False):
        if page.course or page.spread or page.choosing:
            return None
        found |= {"picture": pictures.stage(session), "close": pictures.close_up(session)}
    elif found.get("picture") and scene.SCALE in found["picture"]["svg"]:
        session.scale = scene.scale_of(found["picture"]["svg"])
    session.last_headline = found.get("headline", [])
    return found
