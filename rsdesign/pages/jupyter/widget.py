"""One widget for a whole page, for JupyterLab: it hears what a person did and sends what changed."""

import anywidget
import traitlets

from ..opening import opened
from .front_files import script, style
from .talk import Talk


class PageView(anywidget.AnyWidget):
    """A page of the series.  Everything it shows comes from its ``session``."""

    _esm = script(False)
    _css = style()
    page = traitlets.Unicode().tag(sync=True)

    def __init__(self, page: str, system: str = "us"):
        self.session, view = opened(page, system)
        self.talk = Talk(self.session, self._tell, view)
        super().__init__(page=page)
        self.on_msg(self._hear)

    def _tell(self, content: dict, buffers) -> None:
        self.send(content, buffers=buffers)

    def _hear(self, widget, content, buffers) -> None:
        self.talk.hear(content)
