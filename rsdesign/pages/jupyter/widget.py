"""One widget for a whole page, for JupyterLab: it receives actions and sends the blocks that changed.

A page of the series is tied to its notebook: ``design`` and ``sizing`` follow the sliders, and a
design that is set moves them.
"""

import os

import anywidget
import traitlets

from ...core.choices import DesignError
from ...design.file import save
from ...design.model import Design, arrays_of
from ..opening import open_page
from .front_files import notebook_module, style
from .page_channel import PageChannel

MY_DESIGN = "my_design.toml"
"""The file beside the notebooks in which a design goes from one to the next."""


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


class DesignView(PageView):
    """A page with a design, which other cells read, set and observe.

    ``design`` is the design that the page shows and ``sizing`` what it was sized to, both traits:
    ``view.observe(act, "sizing")`` calls ``act`` after each change on the page.  A design that is
    set moves the sliders, as one step to undo; ``DesignError`` says why one cannot be shown.  While
    a change on the page cannot be computed, both stay at the last design that could.
    """

    design = traitlets.Instance(Design)
    sizing = traitlets.Any(read_only=True)

    def __init__(self, page: str, system: str = "us"):
        super().__init__(page, system)
        # Whoever reaches a notebook that stock Voila shows must not write files.
        if "voila" not in os.environ.get("SERVER_SOFTWARE", "").lower():
            self.session.keep = lambda design: save(design, MY_DESIGN)
        self.design = self.session.sizing.design

    @traitlets.validate("design")
    def _take(self, proposal) -> Design:
        """Show a design that a cell sets; one that came from the page is there already."""
        if proposal.value != self.session.sizing.design:
            if arrays_of(proposal.value):
                raise DesignError(
                    "A page shows one design, not a row of them; rsdesign.sweep takes a row."
                )
            self.session.take(proposal.value)
            self.channel.push()
        return self.session.sizing.design

    @traitlets.observe("design")
    def _size(self, change) -> None:
        """The sizing of the design: set before any other observer of the design is called."""
        self.set_trait("sizing", self.session.sizing)

    def _receive(self, widget, content, buffers) -> None:
        super()._receive(widget, content, buffers)
        self.design = self.session.sizing.design
