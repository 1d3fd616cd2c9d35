"""One person's work: the design, undo and redo, units, guesses, pins; and what they ask for.

No widgets here.  A view (Jupyter, a test, a script) hands over messages as plain dictionaries and
shows the blocks that ``blocks.compose`` makes of the session.  Whatever is wrong becomes a
sentence in ``notice``; the last good results stay, marked as stale.
"""

import functools
import logging

from ..core.choices import DesignError
from ..core.tables import data_folder
from ..core.units import SYSTEMS, clipped
from ..design.file import load, read_design, update_text
from ..design.link import design_of, token_of
from ..design.model import FIELDS, Design, value_of, with_values
from ..design.possible import INSTEAD, NO_PUMP
from ..sizing.system import Sizing, size
from . import own_candidates
from .controls import read, value_at_position
from .requests import Requests
from .room.visitor import FOLLOWED, Visitor, in_room
from .series import SERIES, page_named
from .server.validation import act_of, check_words, path_of, pins_of

MOST_STEPS = 200
"""Changes that can be undone."""
MOST_PINS = 4
DEMOS = {"family": "A family's tank", "school": "A school farm", "commercial": "A small unit"}
"""The demo designs by file name, with the words on their doors."""

SORRY = (
    "Something went wrong inside, and this change was not taken. Your design is kept: undo, or"
    " reload the page."
)

_log = logging.getLogger("rsdesign.pages")


@functools.cache
def demo(name: str) -> Design:
    """A demo design; they are read once."""
    return load(data_folder() / "designs" / f"{name}.toml")


class Session(Visitor, Requests):
    """Everything a page knows of one person; ``handle`` takes what they did."""

    def __init__(self, page: str = "start", system: str = "us"):
        self.page = page_named(page)
        self.system = system
        self.start = demo("family")
        self.design = self.start
        self.sizing: Sizing | None = None
        self.notice = ""
        self.refused: dict[str, dict] = {}
        """What was typed and could not be taken, by choice: the text and the sentence."""
        self.stale = False
        self.full = False
        self.guesses: dict[str, str] = {}
        self.open: list[str] = []
        """The figures whose working is open."""
        self.pins: list[tuple[str, str]] = []
        self.sweep: dict[str, tuple[str, str, str]] = {}
        self.answers: dict[str, object] = {}
        """What further blocks keep, such as the budget."""
        self.own: dict[str, list[dict]] = {}
        """Candidates of one's own, by part, as they were typed."""
        self.own_wrong = ""
        self.year_words: tuple = ((), [])
        """What a page said last of the year, and for which page and units."""
        self.reply: dict = {}
        """What was asked for once: a file to save, a QR code."""
        self._past: list[tuple[Design, Design]] = []
        self._future: list[tuple[Design, Design]] = []
        """Designs to go back or on to, each with the one from which its changes are told."""
        self._held = ""
        self._parts = None
        self._token: tuple = (None, "")
        self._compute()

    # --- what a view asks ------------------------------------------------------------------

    @property
    def can_undo(self) -> bool:
        """Whether there is a change to take back."""
        return bool(self._past)

    @property
    def can_redo(self) -> bool:
        """Whether there is a change to bring back."""
        return bool(self._future)

    @property
    def token(self) -> str:
        """The link token of the last design that could be computed."""
        if self.sizing is None:
            return ""
        design, known = self._token
        if design is not self.sizing.design and self._held in (
            "",
            FOLLOWED,
        ):  # a drag is written when it ends
            known = token_of(self.sizing.design)
            self._token = (self.sizing.design, known)
        return known

    def handle(self, message) -> None:
        """Do what a message asks; every complaint becomes ``notice``."""
        self.reply = {}
        try:
            act = act_of(self, message, "That is too much text for a design; nothing was changed.")
            self.notice = ""
            act(message)
        except DesignError as wrong:
            self.notice = str(wrong)
        except Exception:  # a person must never be left with a silent wrong page
            _log.exception("a page could not do what was asked")
            self.notice = SORRY
            self.stale = True

    # --- changes to the design --------------------------------------------------------------

    def _put(self, design: Design, held: str = "") -> None:
        """Take a changed design; ``held`` names a drag, whose moves undo as one."""
        self._drives(held == FOLLOWED)
        if not held or held != self._held:
            self._past = [*self._past[-MOST_STEPS + 1 :], (self.design, self.start)]
        self._held = held
        self._future = []
        self.design = design
        self._compute()

    @property
    def parts(self) -> tuple:
        """The parts of the sizing, judged once."""
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

    def _change(self, path: str, value, held: str = "") -> None:
        self.refused.pop(path, None)
        same = value_of(self.design, path) == value and path not in self.design.unknown
        if same and not (path in NO_PUMP and self.design.pump.none):
            return
        self._put(_set(self.design, path, value), held)

    def _do_set(self, message: dict) -> None:
        """A typed number or word."""
        path, text = path_of(message), str(message.get("text", ""))
        # The units in which it was typed, which may have changed since.
        units = message.get("units")
        try:
            if path in NO_PUMP and text.strip().lower() == "none":
                self._put(with_values(self.design, {"pump.none": True, **dict.fromkeys(NO_PUMP)}))
                self.refused.pop(path, None)
                return
            self._change(path, self._read(path, text, units if units in SYSTEMS else self.system))
        except DesignError as wrong:
            self.refused[path] = {"text": text[:200], "why": str(wrong)}
            self._tell_refused(self.page)

    def _tell_refused(self, page) -> None:
        """Say at the top what was refused and has no box on a page that would say so."""
        shown = () if page is None else page.controls if self.full else page.short
        away = self.refused.keys() - {control.path for control in shown}
        self.notice = " ".join(f"Not taken: {self.refused[path]['why']}" for path in sorted(away))

    def _let_go(self) -> None:
        """Forget what was refused, but not without a word."""
        self._tell_refused(None)
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

    def _do_slide(self, message: dict) -> None:
        """A slider moved; the moves of one drag undo together."""
        path, at = path_of(message), message.get("at")
        if isinstance(at, bool) or not isinstance(at, (int, float)) or not 0 <= at <= 1:
            raise DesignError("A slider stands between its ends; nothing was changed.")
        control = self.page.control(path)
        value = value_at_position(control, at, self.system)
        self._change(path, value, path)  # the last move belongs to the same drag
        if message.get("end"):
            self._held = ""

    def _do_not_known(self, message: dict) -> None:
        """ "I do not know": the sizing chooses, and says what."""
        path = path_of(message)
        if not FIELDS[path].optional or path in INSTEAD:
            raise DesignError(f"{FIELDS[path].choice.label} must be given.")
        self._change(path, None)

    def _do_reset(self, message: dict) -> None:
        """One choice back to where it started."""
        path = path_of(message)
        self.refused.pop(path, None)
        paths = (path, *INSTEAD.get(path, ()), *(("pump.none",) if path in NO_PUMP else ()))
        start = {p: value_of(self.start, p) for p in paths}
        if any(value_of(self.design, p) != v for p, v in start.items()):
            self._put(with_values(self.design, start))

    def _do_reset_all(self, message: dict) -> None:
        self.refused.clear()
        if self.design is not self.start:
            self._put(self.start)

    def _do_undo(self, message: dict) -> None:
        self._drives()
        if not self._past:
            raise DesignError("There is nothing to undo.")
        self._future.append((self.design, self.start))
        self._takes(*self._past.pop())
        self._settle()

    def _do_redo(self, message: dict) -> None:
        self._drives()
        if not self._future:
            raise DesignError("There is nothing to redo.")
        self._past.append((self.design, self.start))
        self._takes(*self._future.pop())
        self._settle()

    def _takes(self, design: Design, start: Design) -> None:
        self.design, self.start = design, in_room(start, self.room)

    def _settle(self) -> None:
        self.refused.clear()
        self._held = ""
        self._compute()

    # --- whole designs ----------------------------------------------------------------------

    def _do_open(self, message: dict) -> None:
        """The first message of a page: the link's token, and what the browser remembers."""
        self._look(message)
        token = message.get("token") or ""
        self._enter(message.get("room"), bool(token))
        if token:
            self._open(design_of(str(token)))

    def _open(self, design: Design) -> None:
        """Another design altogether, which can be undone."""
        check_words(design)
        size(design)  # refuse before anything changes
        self._let_go()
        self._put(design)

    def _look(self, message: dict) -> None:
        """Which page, units, depth, guesses and pins a browser asks for; what is odd is dropped."""
        if message.get("page") in [page.name for page in SERIES]:
            self.page = page_named(message["page"])
        if message.get("units") in SYSTEMS:
            self.system = message["units"]
        if isinstance(message.get("full"), bool):
            self.full = message["full"]
        if isinstance(message.get("guesses"), dict):
            known = {k: v for k, v in message["guesses"].items() if isinstance(v, str)}
            self.guesses = {k[:40]: v[:40] for k, v in list(known.items())[:40]}
        if "own" in message:
            self.own = own_candidates.kept(message["own"])
        self.pins = pins_of(message.get("pins"), self.pins, MOST_PINS)

    def _do_page(self, message: dict) -> None:
        """Turn to another page; the design comes along."""
        self.page = page_named(str(message.get("page")))
        self.open, self._held = [], ""
        self._tell_refused(self.page)

    def _do_units(self, message: dict) -> None:
        if message.get("units") not in SYSTEMS:
            raise DesignError("Choose US units or metric.")
        self.system = message["units"]
        self._let_go()

    def _do_depth(self, message: dict) -> None:
        self.full = bool(message.get("full"))
        self._tell_refused(self.page)

    def _do_demo(self, message: dict) -> None:
        name = str(message.get("name"))
        if name not in DEMOS:
            raise DesignError(f"There is no demo named {clipped(name)}.")
        self._drives()
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
        if len(self.pins) >= MOST_PINS:
            raise DesignError(f"{MOST_PINS} designs are kept already; take one away first.")
        name = str(message.get("name") or "").strip()[:60] or f"Design {len(self.pins) + 1}"
        self.pins = [*self.pins, (name, self.token)]

    def _do_unpin(self, message: dict) -> None:
        self.pins = [p for i, p in enumerate(self.pins) if i != message.get("index")]

    def _do_open_pin(self, message: dict) -> None:
        index = message.get("index")
        if not isinstance(index, int) or not 0 <= index < len(self.pins):
            raise DesignError("That design is no longer kept.")
        self._open(design_of(self.pins[index][1]))


def _set(design: Design, path: str, value) -> Design:
    """A changed copy; a choice that is given is no longer marked as not known."""
    changed = with_values(design, {path: value, **dict.fromkeys(INSTEAD.get(path, ()))})
    if path in NO_PUMP:
        changed = with_values(changed, {"pump.none": False})
    if path in changed.unknown:
        kept = tuple(p for p in changed.unknown if p != path)
        changed = with_values(Design(unknown=kept), {p: value_of(changed, p) for p in FIELDS})
    return changed
