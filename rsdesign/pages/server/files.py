"""Files that pages load from other installed packages."""

import functools
from importlib import resources


@functools.cache
def plotly_script() -> bytes:
    """plotly.js as the plotly package ships it."""
    return (resources.files("plotly") / "package_data" / "plotly.min.js").read_bytes()
