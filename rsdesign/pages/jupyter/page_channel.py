"""The message handler of a page, whatever carries the messages.

The front end holds no state that counts: what it sends is parsed and checked, and no widget trait of it
is ever read, so a forged message can only ask for what a person could ask for.
"""

import logging

from .. import blocks
from ..session import SORRY

_log = logging.getLogger("rsdesign.pages")
_MISSING = object()
FULL_PAGE_ACTIONS = ("open", "page")
"""Actions that show another page, whose blocks are sent all at once."""


MOVES = ("slide", "drag")
"""Actions that come many times while a thumb or a grip is drawn."""


class PageChannel:
    """Passes messages to a session, and sends the blocks that changed since the last answer.

    ``session`` is anything that handles messages and has ``notice``, ``stale`` and ``full``.  ``send``
    takes a dictionary and buffers.  ``view`` composes the session's blocks, as ``pages.blocks`` does
    for a design: ``compose``, ``frame``, ``due_late``, ``moving`` and ``at_rest``, and ``late_blocks`` where
    that is ever true.
    """

    def __init__(self, session, send, view=blocks):
        self.session = session
        self._view = view
        self._send = send
        self._sent: dict = {}
        self._opened = False
        self._last_handled = ("", 0)
        """The front end that speaks, by its own random id, and the largest message number it has used."""

    def receive(self, content) -> None:
        """Handle a message from the front end: its number, and what a person did."""
        content = content if isinstance(content, dict) else {}
        message, number = content.get("message"), content.get("n")
        action = message.get("do") if isinstance(message, dict) else None
        if action == "plotly":
            self._send_plotly()
            return
        settled = action not in MOVES or bool(message.get("end"))
        ack = number if isinstance(number, int) else 0
        view, session = self._view, self.session
        if self._was_handled(content.get("page"), number):
            # The connection broke before the answer arrived, so the page lacks blocks sent before too.
            self._sent = {}
            changed = self.changed(lambda: view.compose(session, settled))
            self._send({"ack": ack, "blocks": changed}, None)
            return
        session.handle(message)
        if action == "aside":  # asked for once a move has been answered and the page is at rest
            self._send({"ack": ack, "blocks": self.changed(lambda: view.at_rest(session))}, None)
            return
        at_moment = getattr(view, "at_moment", None)
        if action == "moment" and at_moment is not None and not session.notice:
            self._send({"ack": ack, "blocks": self.changed(lambda: at_moment(session))}, None)
            return
        if action == "open":
            drawn = bool(message.get("drawn")) and not self._opened
            # The frame is always sent: with it a page writes its address.
            self._sent = {k: b for k, b in self._sent.items() if drawn and k != "frame"}
            self._opened = True
        if not settled and not view.due_late(session, settled):
            changed = self.changed(lambda: view.moving(session))
        elif action not in FULL_PAGE_ACTIONS and view.due_late(session, settled):
            # Figures and drawing first, slow blocks after.
            first = self.changed(lambda: view.compose(session, settled, False))
            self._send({"blocks": first}, None)
            changed = self.changed(lambda: view.late_blocks(session, settled))
        else:
            changed = self.changed(lambda: view.compose(session, settled))
        self._send({"ack": ack, "blocks": changed}, None)

    def first(self) -> dict:
        """The blocks that the page's HTML carries; a view without a design has none."""
        compose = getattr(self._view, "first", None)
        return self.changed(lambda: compose(self.session)) if compose else {}

    def push(self) -> None:
        """Send what changed without a message from the front end: the program changed the session."""
        self._send({"blocks": self.changed(lambda: self._view.compose(self.session, True))}, None)

    def _was_handled(self, page, number) -> bool:
        """Whether a message was handled before: after a broken connection a page repeats the unanswered.

        Message numbers rise.  A reloaded page counts from 1 under another id; one in a notebook has
        no id, and each of its messages is new.
        """
        if not isinstance(page, str) or not page or not isinstance(number, int):
            return False
        if page == self._last_handled[0] and number <= self._last_handled[1]:
            return True
        self._last_handled = (page, number)
        return False

    def changed(self, compose) -> dict:
        """The composed blocks that differ from those sent last."""
        try:
            found = compose()
        except Exception:  # the last good blocks stay on the page, with a sentence
            _log.exception("a page could not be composed")
            self.session.notice, self.session.stale = SORRY, True
            found = {"frame": self._view.frame(self.session)}
        changed = {name: b for name, b in found.items() if self._sent.get(name, _MISSING) != b}
        self._sent.update(changed)
        return changed

    def _send_plotly(self) -> None:
        """Send the chart library, for a notebook outside our own server."""
        from ..server.files import plotly_script  # noqa: PLC0415

        self._send({"plotly": True}, [plotly_script()])
