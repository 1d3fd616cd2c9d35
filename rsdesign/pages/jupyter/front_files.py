"""The front end's files as text."""

import functools
from pathlib import Path

FRONT = Path(__file__).parent / "front"
STYLES = ("style.css", "class.css")


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
    folder = Path(__file__).parent
    return "".join((folder / name).read_text(encoding="utf-8") for name in STYLES)
