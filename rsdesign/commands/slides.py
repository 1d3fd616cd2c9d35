"""The slides of the course, made for a projector."""

from ..core.choices import DesignError
from .parser import add_units, whole_number


def add(commands) -> None:
    """Add ``slides``."""
    slides = commands.add_parser("slides", help="make the slides of the five sessions")
    slides.add_argument(
        "folder", metavar="DIR", help="where they are written; it is made where it is not there"
    )
    one = "a session's number; give it again for more than one (all)"
    slides.add_argument(
        "--session", type=whole_number(1, 99), action="append", metavar="N", help=one
    )
    add_units(slides)
    slides.set_defaults(run=_slides)


def _slides(args) -> str:
    try:
        from ..teaching.slides.deck import write
    except ImportError as missing:
        raise DesignError(
            f"The slides need the package {missing.name}; install rsdesign again."
        ) from None
    written = [str(path) for path in write(args.folder, args.session, args.units)]
    return "\n".join([
        *written,
        "Open one in a browser: arrow keys turn the slides, N shows the notes, and each is printed on a page.",
    ])  # fmt: skip
