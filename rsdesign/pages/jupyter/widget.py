"""One widget for a whole page, for JupyterLab: it receives actions and sends the blocks that changed."""

import anywidget
import traitlets

from ..opening import open_page
from .front_files import notebook_module, style
from .page_channel import PageChannel


class PageView(anywidget.AnyWidget):
    """A page of the series.  Everything it shows comes from its ``session``."""

    _esm = notebook_module()
    _css = style()
    page = traitlets.Unicode().tag(sync=True)

    def __init__(self, page: str, system: str = "us"):
        self.session, view = open_page(page, system)
        self.channel = PageChannel(self.session, self._send_content, view)
        super().__init__(page=page)
        self.on_msg(self._receive)

    def _send_content(self, content: dict, buffers) -> None:
        self.send(content, buffers=buffers)

    def _receive(self, widget, content, buffers) -> None:
        self.channel.receive(content)
