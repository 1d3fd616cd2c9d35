"""One widget for a whole page: it hears what a person did and sends the blocks that changed.

The front end keeps no truth: whatever it sends is read as text and checked, and no trait of this
widget is ever read, so a forged message can only ask for what a person could ask for.
"""

import functools
import logging
from pathlib import Path

import anywidget

from .. import blocks
from ..session import SORRY, Session

FRONT = Path(__file__).parent / "front"
STYLE = Path(__file__).parent / "style.css"

_log = logging.getLogger("rsdesign.pages")


@functools.cache
def script(served: bool) -> str:
    """The front end as one script: for a notebook as a module, for a served page as it stands."""
    parts = [path.read_text(encoding="utf-8") for path in sorted(FRONT.glob("*.js"))]
    if served:
        return "(() => {\n" + "".join(parts) + "window.rsStart = startServed;\n})();\n"
    return "".join(parts[:-1]) + "export default { render };\n"


@functools.cache
def style() -> str:
    """The look of the pages."""
    return STYLE.read_text(encoding="utf-8")


class PageView(anywidget.AnyWidget):
    """A page of the series.  Everything it shows comes from its ``session``."""

    def __init__(self, page: str, system: str = "us", in_notebook: bool = True):
        self.session = Session(page, system)
        self._sent: dict = {}
        about = {"_esm": script(False), "_css": style()} if in_notebook else {"_esm": _NOTHING}
        super().__init__(**about)
        self.on_msg(self._hear)

    def _hear(self, widget, content, buffers) -> None:
        """A message from the front end: its number, and what a person did."""
        content = content if isinstance(content, dict) else {}
        message, number = content.get("message"), content.get("n")
        if isinstance(message, dict) and message.get("do") == "plotly":
            self._send_plotly()
            return
        settled = not (isinstance(message, dict) and message.get("do") == "slide"
                       and not message.get("end"))  # fmt: skip
        self.session.handle(message)
        whole = isinstance(message, dict) and message.get("do") == "open"
        changed = self.changed(whole, settled)
        self.send({"ack": number if isinstance(number, int) else 0, "blocks": changed})

    def changed(self, whole: bool = False, settled: bool = True) -> dict:
        """The blocks that differ from what was last sent; all of them when asked for the whole."""
        try:
            found = blocks.compose(self.session, settled)
        except Exception:  # the last good blocks stay on the page, with a sentence
            _log.exception("a page could not be composed")
            self.session.notice, self.session.stale = SORRY, True
            found = {"frame": blocks.frame(self.session)}
        if whole:
            self._sent = {}
        changed = {name: b for name, b in found.items() if self._sent.get(name, _NEVER) != b}
        self._sent.update(changed)
        return changed

    def _send_plotly(self) -> None:
        """The chart library, for a notebook that no server of ours serves."""
        from ..serve_files import plotly_script  # noqa: PLC0415

        self.send({"plotly": True}, buffers=[plotly_script()])


_NEVER = object()
_NOTHING = "export default { render() {} };"
