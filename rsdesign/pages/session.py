"""The state of one person's page: the design, undo and redo, units, guesses, pins; and its actions.

No widgets here.  A view (Jupyter, a test, a script) passes messages as plain dictionaries and shows the
blocks that ``blocks.compose`` makes of the session.  An error becomes a sentence in ``notice``; the last
good results stay, marked as stale.
"""

import logging

from ..core.choices import DesignError
from ..core.units import SYSTEMS, clipped
from ..design.file import read_design, update_text
from ..design.link import design_of, token_of
from ..design.model import FIELDS, Design, value_of, with_values
from ..design.possible import NO_PUMP
from ..sizing.system import Sizing, size
from . import own_candidates
from .buying import Choosing
from .controls import read, with_value
from .courses.actions import Courses
from .demos import DEMOS, demo
from .measuring import Measuring
from .mending import Mending
from .moves import Moves
from .requests import Requests
from .room.member import FOLLOWED, RoomMember, in_room
from .series import SERIES, page_named
from .server.validation import check_words, handler_of, path_of, pins_of
from .water_logs import WaterLogs
from .way_in import WayIn

MAX_UNDO = 200
"""Changes that can be undone."""
MAX_PINS = 4
DESK = 636.0
"""How wide the drawing of the first screen is in a window of 1,280 px [px]."""
LEAST_WIDTH, MOST_WIDTH = 280, 900
"""Widths for which a drawing is made [px]."""
SORRY = (
    "Something went wrong inside, and this change was not taken. Your design is kept: undo, or"
    " reload the page."
)

_log = logging.getLogger("rsdesign.pages")


class Session(RoomMember, Requests, Moves, Mending, WayIn, Courses, WaterLogs, Measuring, Choosing):
    """The state of one person's page; ``handle`` takes each action."""

    def __init__(self, page: str = "start", system: str = "us"):
        self.page = page_named(page)
        self.system = system
        self.start = demo("family")
        self.design = self.start
        self.sizing: Sizing | None = None
        self.before: Sizing | None = None
        """The sizing before the last move: all moves of one drag are one."""
        self.last_headline: list[dict] = []
        self.scale: float | None = None
        """Pixels of the drawing for each meter."""
        self.width = DESK
        """Pixels for the drawing of the first screen."""
        self.narrow = False
        """Whether the page is as narrow as a phone."""
        self.notice = ""
        self.refused: dict[str, dict] = {}
        """Typed values that were refused, by choice: the text and the sentence."""
        self.stale = False
        self.full = False
        self.guesses: dict[str, str] = {}
        self.open: list[str] = []
        """The figures whose working is open."""
        self.pins: list[tuple[str, str]] = []
        self.sweep: dict[str, tuple[str, str, str]] = {}
        self.answers: dict[str, object] = {}
        """State of further blocks, such as the budget."""
        self.own: dict[str, list[dict]] = {}
        """The person's own candidates by part, as typed."""
        self.own_wrong = ""
        self.year_words: tuple = ((), [])
        """The last words on the year, and the page and units they are for."""
        self.spreads, self.measured = {}, ()
        self.courses, self.beside, self.moments, self.course_wrong = {}, {}, {}, ""
        self.log_text, self.log_is_sample = "", False
        self.tuned, self._log = (), ("", None)
        self.reply: dict = {}
        """The answer to a single request: a file to save, a QR code."""
        self._past: list[tuple[Design, Design]] = []
        self._future: list[tuple[Design, Design]] = []
        """Designs to undo or redo to, each with the design its changes are counted from."""
        self._drag = ""
        self._parts = None
        self._token: tuple = (None, "")
        self._compute()

    # --- what a view reads -----------------------------------------------------------------

    @property
    def can_undo(self) -> bool:
        """Whether there is a change to undo."""
        return bool(self._past)

    @property
    def can_redo(self) -> bool:
        """Whether there is a change to redo."""
        return bool(self._future)

    @property
    def token(self) -> str:
        """The link token of the last design that could be computed."""
        if self.sizing is None:
            return ""
        design, known = self._token
        is_settled = self._drag in ("", FOLLOWED)  # the token changes when a drag ends
        if design is not self.sizing.design and is_settled:
            known = token_of(self.sizing.design)
            self._token = (self.sizing.design, known)
        return known

    def handle(self, message) -> None:
        """Do what a message asks; an error becomes ``notice``."""
        self.reply = {}
        try:
            action = handler_of(
                self, message, "That is too much text for a design; nothing was changed."
            )
            self.notice = ""
            action(message)
        except DesignError as wrong:
            self.notice = str(wrong)
        except Exception:  # a page must never be wrong without a word
            _log.exception("a page could not do what was asked")
            self.notice = SORRY
            self.stale = True

    # --- changes to the design --------------------------------------------------------------

    def _apply(self, design: Design, drag: str = "") -> None:
        """Take a changed design; ``drag`` names the drag it belongs to, whose moves undo as one."""
        self._check_may_change(drag == FOLLOWED)
        if not drag or drag != self._drag:
            self._past = [*self._past[-MAX_UNDO + 1 :], (self.design, self.start)]
            self.before = self.sizing
        self._drag = drag
        self._future = []
        self.design = design
        self._compute()

    @property
    def parts(self) -> tuple:
        """The margins of the sizing's parts, computed once."""
        if self._parts is None:
            self._parts = self.sizing.parts
        return self._parts

    def _compute(self) -> None:
        try:
            self.sizing = size(self.design)
            self._parts = None
            self.stale = False
        except DesignError as wrong:
            self.stale = True
            self.notice = str(wrong)

    def _change(self, path: str, value, drag: str = "") -> None:
        self.refused.pop(path, None)
        same = value_of(self.design, path) == value and path not in self.design.unknown
        if same and not (path in NO_PUMP and self.design.pump.none):
            return
        self._apply(with_value(self.design, path, value), drag)

    def _do_set(self, message: dict) -> None:
        """A typed number or word."""
        path, text = path_of(message), str(message.get("text", ""))
        # It may have been typed before the units were switched.
        units = message.get("units")
        try:
            if path in NO_PUMP and text.strip().lower() == "none":
                self._apply(with_values(self.design, {"pump.none": True, **dict.fromkeys(NO_PUMP)}))
                self.refused.pop(path, None)
                return
            self._change(path, self._read(path, text, units if units in SYSTEMS else self.system))
        except DesignError as wrong:
            self.refused[path] = {"text": text[:200], "why": str(wrong)}
            self._report_refused(self.page)

    def _report_refused(self, page) -> None:
        """Report at the top what was refused and has no box on the page to report it."""
        shown = () if page is None else page.controls if self.full else page.short
        away = self.refused.keys() - {control.path for control in shown}
        self.notice = " ".join(f"Not taken: {self.refused[path]['why']}" for path in sorted(away))

    def _drop_refused(self) -> None:
        """Forget refused values, with a notice."""
        self._report_refused(None)
        self.refused.clear()

    def _read(self, path: str, text: str, system: str):
        entry = FIELDS[path]
        if isinstance(entry.choice.default, bool):
            return text == "yes"
        if entry.choice.low is None:
            if text == "" and entry.optional:
                return None
            names = entry.choice.options() if entry.choice.options else None
            if names is not None and text not in names:
                raise DesignError(f"{entry.choice.label}: choose one of {', '.join(names)}.")
            return text[:200]
        return read(text, entry, system)

    def _do_undo(self, message: dict) -> None:
        self._check_may_change()
        if not self._past:
            raise DesignError("There is nothing to undo.")
        self._future.append((self.design, self.start))
        self._restore(*self._past.pop())
        self._recompute()

    def _do_redo(self, message: dict) -> None:
        self._check_may_change()
        if not self._future:
            raise DesignError("There is nothing to redo.")
        self._past.append((self.design, self.start))
        self._restore(*self._future.pop())
        self._recompute()

    def _restore(self, design: Design, start: Design) -> None:
        self.design, self.start = design, in_room(start, self.room)

    def _recompute(self) -> None:
        self.before = self.sizing
        self.refused.clear()
        self._drag = ""
        self._compute()

    # --- whole designs ----------------------------------------------------------------------

    def _do_open(self, message: dict) -> None:
        """The first message of a page: the link's token and what the browser remembers."""
        self._read_preferences(message)
        token = message.get("token") or ""
        self._enter(message.get("room"), bool(token))
        if token:
            self._open(design_of(str(token)))

    def take(self, design: Design) -> None:
        """Show another design, as one step to undo.  Raises ``DesignError`` where that cannot be."""
        self.notice = ""
        self._open(design)

    def _open(self, design: Design) -> None:
        """Replace the whole design, as one step to undo."""
        check_words(design)
        size(design)  # refuse before anything changes
        self._drop_refused()
        self._apply(design)
        self.before = None

    def _read_preferences(self, message: dict) -> None:
        """Page, units, depth, guesses and pins of a browser; malformed ones are dropped."""
        if message.get("page") in [page.name for page in SERIES]:
            self.page = page_named(message["page"])
        if message.get("units") in SYSTEMS:
            self.system = message["units"]
        self._read_width(message)
        if isinstance(message.get("full"), bool):
            self.full = message["full"]
        if isinstance(message.get("guesses"), dict):
            known = {k: v for k, v in message["guesses"].items() if isinstance(v, str)}
            self.guesses = {k[:40]: v[:40] for k, v in list(known.items())[:40]}
        if "own" in message:
            self.own = own_candidates.kept(message["own"])
        self.pins = pins_of(message.get("pins"), self.pins, MAX_PINS)

    def _do_page(self, message: dict) -> None:
        """Show another page with the same design."""
        self.page = page_named(str(message.get("page")))
        self.open, self._drag, self.before = [], "", None
        self._report_refused(self.page)

    def _do_units(self, message: dict) -> None:
        if message.get("units") not in SYSTEMS:
            raise DesignError("Choose US units or metric.")
        self.system = message["units"]
        self._drop_refused()

    def _do_width(self, message: dict) -> None:
        """The page became wider or narrower: its drawing is made for the place that it has."""
        self._read_width(message)

    def _read_width(self, message: dict) -> None:
        width = message.get("width")
        if isinstance(width, int) and not isinstance(width, bool) and width > 0:
            self.width = float(min(max(width, LEAST_WIDTH), MOST_WIDTH))
        self.narrow, self.scale = bool(message.get("narrow")), None

    def _do_aside(self, message: dict) -> None:
        """Nothing changes: the page asks for what stands beside the choices."""

    def _do_depth(self, message: dict) -> None:
        self.full = bool(message.get("full"))
        self._report_refused(self.page)

    def _do_demo(self, message: dict) -> None:
        name = str(message.get("name"))
        if name not in DEMOS:
            raise DesignError(f"There is no demo named {clipped(name)}.")
        self._check_may_change()
        opened = in_room(demo(name), self.room)
        self._open(opened)
        self.start = opened

    def _do_save(self, message: dict) -> None:
        """The design as a file's text, for the browser to keep."""
        self.reply = {"file": "design.toml", "text": update_text("", self.design, self.system)}

    def _do_load(self, message: dict) -> None:
        text = message.get("text")
        if not isinstance(text, str):
            raise DesignError("The file is not a text file; a design file is TOML in UTF-8.")
        self._open(read_design(text, "The file"))

    def _do_pin(self, message: dict) -> None:
        if len(self.pins) >= MAX_PINS:
            raise DesignError(f"{MAX_PINS} designs are kept already; take one away first.")
        name = str(message.get("name") or "").strip()[:60] or f"Design {len(self.pins) + 1}"
        self.pins = [*self.pins, (name, self.token)]

    def _do_unpin(self, message: dict) -> None:
        self.pins = [p for i, p in enumerate(self.pins) if i != message.get("index")]

    def _do_open_pin(self, message: dict) -> None:
        index = message.get("index")
        if not isinstance(index, int) or not 0 <= index < len(self.pins):
            raise DesignError("That design is no longer kept.")
        self._open(design_of(self.pins[index][1]))
