"""The front end's files as text."""

import functools
from pathlib import Path

FRONT = Path(__file__).parent / "front"
STYLES = ("style.css", "class.css")

SERVED = {"1_line.js", "8_link.js", "9_room.js"}
"""What only a served page has: its lines to the program and to the room."""


def _joined(paths: list[Path]) -> str:
    return "".join(path.read_text(encoding="utf-8") for path in paths)


@functools.cache
def script(served: bool) -> str:
    """The front end as one script: for a notebook as a module, for a served page as it stands."""
    paths = sorted(FRONT.glob("*.js"))
    if served:
        return "(() => {\n" + _joined(paths) + "window.rsStart = startServed;\n})();\n"
    return _joined([p for p in paths if p.name not in SERVED]) + "export default { render };\n"


@functools.cache
def style() -> str:
    """The look of the pages."""
    folder = Path(__file__).parent
    return "".join((folder / name).read_text(encoding="utf-8") for name in STYLES)
