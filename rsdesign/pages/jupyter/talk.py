"""What a page says and hears, whatever carries the messages.

The front end keeps no truth: whatever it sends is read as text and checked, and nothing that it
could set is ever read, so a forged message can only ask for what a person could ask for.
"""

import logging

from .. import blocks
from ..session import SORRY

_log = logging.getLogger("rsdesign.pages")
_NEVER = object()
WHOLE = ("open", "page")
"""What shows another page, which comes whole."""


class Talk:
    """A session with the blocks that were last sent; ``send`` takes a dictionary and buffers.

    ``session`` is anything that handles messages and has ``notice``, ``stale`` and ``full``;
    ``view`` has ``compose`` and ``frame`` for it, ``due_late`` and, where that is ever true, ``late_blocks``, as ``pages.blocks`` has for a design.
    """

    def __init__(self, session, send, view=blocks):
        self.session = session
        self._view = view
        self._send = send
        self._sent: dict = {}
        self._done = ("", 0)
        """The page that speaks, by the word that it gave itself, and the largest number it has used."""

    def hear(self, content) -> None:
        """A message from the front end: its number, and what a person did."""
        content = content if isinstance(content, dict) else {}
        message, number = content.get("message"), content.get("n")
        act = message.get("do") if isinstance(message, dict) else None
        if act == "plotly":
            self._send_plotly()
            return
        settled = act != "slide" or bool(message.get("end"))
        ack = number if isinstance(number, int) else 0
        if self._again(content.get("page"), number):
            # Its answer went into a line that broke, and with it blocks that the page has never seen.
            self._sent = {}
            changed = self.changed(lambda: self._view.compose(self.session, settled))
            self._send({"ack": ack, "blocks": changed}, None)
            return
        self.session.handle(message)
        if act == "open":
            self._sent = {}
        view, session = self._view, self.session
        if act not in WHOLE and view.due_late(session, settled):  # figures and drawing first
            self._send(
                {"blocks": self.changed(lambda: view.compose(session, settled, False))}, None
            )
            changed = self.changed(lambda: view.late_blocks(session, settled))
        else:
            changed = self.changed(lambda: view.compose(session, settled))
        self._send({"ack": ack, "blocks": changed}, None)

    def _again(self, page, number) -> bool:
        """Whether this was done already: after its line broke a page says again what was not answered.

        Its numbers rise. A page loaded anew counts from 1 and gives itself another word; one in a
        notebook gives none, and whatever it says is new.
        """
        if not isinstance(page, str) or not page or not isinstance(number, int):
            return False
        if page == self._done[0] and number <= self._done[1]:
            return True
        self._done = (page, number)
        return False

    def changed(self, compose) -> dict:
        """The composed blocks that differ from what was last sent."""
        try:
            found = compose()
        except Exception:  # the last good blocks stay on the page, with a sentence
            _log.exception("a page could not be composed")
            self.session.notice, self.session.stale = SORRY, True
            found = {"frame": self._view.frame(self.session)}
        changed = {name: b for name, b in found.items() if self._sent.get(name, _NEVER) != b}
        self._sent.update(changed)
        return changed

    def _send_plotly(self) -> None:
        """The chart library, for a notebook that no server of ours serves."""
        from ..server.files import plotly_script  # noqa: PLC0415

        self._send({"plotly": True}, [plotly_script()])
