"""The message handler of a page, whatever carries the messages.

The front end holds no state that counts: what it sends is parsed and checked, and no widget trait of it
is ever read, so a forged message can only ask for what a person could ask for.
"""

import logging

from .. import blocks, carried
from ..session import SORRY
from .drawing_edits import edited

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
    for a design: ``compose``, ``frame``, ``due_late``, ``moving``, ``beside`` and ``details``, and ``late_blocks``
    where that is ever true.
    """

    def __init__(self, session, send, view=blocks):
        self.session = session
        self._view = view
        self._send = send
        self._sent: dict = {}
        self._opened = False
        self._takes_edits = False
        """Whether the front end keeps its drawings, so that what changed of one is enough."""
        self._at_rest = False
        """Whether nothing was done since the page had everything."""
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
        if self._was_handled(content.get("page"), number) or action == "whole":
            # The connection broke before the answer arrived, so the page lacks blocks sent before too.
            self._sent, self._at_rest = {}, False
            changed = self.changed(lambda: view.compose(session, settled))
            self._send({"ack": ack, "blocks": changed}, None)
            return
        session.handle(message)
        if action == "aside":  # asked for once a move has been answered and the page is at rest
            self._answer_aside(ack)
            return
        self._at_rest = False
        at_moment = getattr(view, "at_moment", None)
        if action == "moment" and at_moment is not None and not session.notice:
            self._send({"ack": ack, "blocks": self.changed(lambda: at_moment(session))}, None)
            return
        if action == "study" and session.page.choosing:  # asked again and again while it runs
            self._answer_study(ack)
            return
        if action == "open":
            drawn = bool(message.get("drawn")) and not self._opened
            # The frame is always sent: with it a page writes its address.
            self._sent = {k: b for k, b in self._sent.items() if drawn and k != "frame"}
            self._opened = True
            self._takes_edits = self._takes_edits or message.get("edits") is True
            if drawn and view is blocks:
                self._answer_opened(ack)
                return
        self._answer(ack, settled, action in FULL_PAGE_ACTIONS)

    def _answer(self, ack: int, settled: bool, whole: bool) -> None:
        """What changed: figures and drawing first, slow blocks after; a ``whole`` page at once."""
        view, session = self._view, self.session
        if not settled:
            changed = self.changed(lambda: view.moving(session))
            if view.due_late(session, settled):
                self._send({"blocks": changed}, None)
                changed = self.changed(lambda: view.late_blocks(session, settled))
        elif not whole and view.due_late(session, settled):
            first = self.changed(lambda: view.compose(session, settled, False))
            self._send({"blocks": first}, None)
            changed = self.changed(lambda: view.late_blocks(session, settled))
        else:
            changed = self.changed(lambda: view.compose(session, settled))
        self._send({"ack": ack, "blocks": changed}, None)

    def _answer_aside(self, ack: int) -> None:
        """What a page asks for at rest: what stands beside the choices is seen, so it goes first."""
        view, session, found = self._view, self.session, {}
        if not self._at_rest:
            beside = self.changed(lambda: view.beside(session))
            if beside:
                self._send({"blocks": beside}, None)
            found = self.changed(lambda: view.details(session, False))
        self._at_rest = True
        self._send({"ack": ack, "blocks": found}, None)

    def _answer_opened(self, ack: int) -> None:
        """What a page that was drawn from its HTML lacks: little where its browser brought nothing."""
        session, as_carried = self.session, True

        def compose() -> dict:
            nonlocal as_carried
            found = carried.opened(session)
            as_carried = found is not None
            return blocks.compose(session) if found is None else found

        changed = self.changed(compose)
        self._at_rest = as_carried
        self._send({"ack": ack, "blocks": changed}, None)

    def _answer_study(self, ack: int) -> None:
        """How far a study is, each time, changed or not: the page asks again once it has heard."""
        of, session = self._view.choosing, self.session
        found = self.changed(lambda: {"frame": self._view.frame(session)} | of.answered(session))
        blocks = {"study": of.progress(session)} | found
        self._send({"ack": ack, "blocks": blocks, "quiet": True}, None)

    def first(self) -> dict:
        """The blocks that the page's HTML carries; a view without a design has none."""
        return self.changed(lambda: carried.first(self.session)) if self._view is blocks else {}

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
        before = self._sent if self._takes_edits else {}
        edits = {name: edited(before.get(name), block) for name, block in changed.items()}
        self._sent.update(changed)
        return edits

    def _send_plotly(self) -> None:
        """Send the chart library, for a notebook outside our own server."""
        from ..server.files import plotly_script  # noqa: PLC0415

        self._send({"plotly": True}, [plotly_script()])
