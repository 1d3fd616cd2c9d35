"""A Plotly figure that a kernel shows without loading Plotly's renderers.

Those import the whole of nbformat and jsonschema, which takes a learner's first plot about two
seconds longer (measured on two slow cores).  Any other place, or a renderer that somebody chose, is
left to Plotly.
"""

import json
import os
import sys

import plotly.graph_objects as go

MIMETYPE = "application/vnd.plotly.v1+json"
"""What JupyterLab and Voila draw as a figure."""


class Figure(go.Figure):
    """A figure of this package; in all else one of Plotly's."""

    def _ipython_display_(self):
        shell = _plain_kernel()
        if shell is None:
            return super()._ipython_display_()
        return shell.display_pub.publish({MIMETYPE: json.loads(self.to_json())})


def _plain_kernel():
    """The shell of a Jupyter kernel in which nobody chose or loaded a renderer of Plotly's, or ``None``."""
    chosen = "PLOTLY_RENDERER" in os.environ or "plotly.io._renderers" in sys.modules
    shell = getattr(sys.modules.get("IPython"), "get_ipython", lambda: None)()
    return shell if type(shell).__module__.startswith("ipykernel.") and not chosen else None
