"""A study of what to buy in a thread beside the page, and the actions of its page.

The study takes seconds, so it runs in a thread of its own, a chunk at a time; the page asks how far it
is.  A design or a price that changes stops it, and the page asks for a new one once it is at rest.
"""

import json
import logging
import threading
from typing import Any

from ..core.choices import DesignError
from ..core.units import clipped
from ..design.model import FIELDS, Design
from ..studies.choose.frames import CHEAPEST, SURE, pick_of
from ..studies.choose.member import Member
from ..studies.choose.offers import PRICE, Offers, offers
from ..studies.choose.search import Cancelled
from ..studies.choose.study import Choice, study
from .spec import Page

_log = logging.getLogger("rsdesign.pages")
QUOTES = "quotes"
"""Where a browser keeps the prices that a person was quoted, beside the own candidates."""
MAX_QUOTES = 40
MAX_FINISHED = 4
"""Studies that came to their end and are kept: undo and the prices of before need not be worked out again."""
WAITING, RUNNING, DONE, STOPPED, FAILED = "waiting", "running", "done", "stopped", "failed"
SORRY = "Something went wrong inside. Change something, or reload the page."


class Job:
    """One study in a thread of its own."""

    def __init__(self, key: tuple, sizing, for_sale: Offers):
        self.key, self.share, self.words, self.wrong = key, 0.0, "", ""
        self.found: Choice | None = None
        self._stop = threading.Event()
        self._thread = threading.Thread(target=self._run, args=(sizing, for_sale), daemon=True)
        self._thread.start()

    def _run(self, sizing, for_sale: Offers) -> None:
        try:
            self.found = study(sizing, for_sale, self._told, self._stop.is_set)
        except Cancelled:
            return
        except DesignError as wrong:
            self.wrong = str(wrong)
        except Exception:  # the page says so; the thread must not end without a word
            _log.exception("what to buy could not be worked out")
            self.wrong = SORRY

    def _told(self, share: float, words: str) -> None:
        self.share, self.words = share, words

    def stop(self) -> None:
        """Ends the study at its next chunk."""
        self._stop.set()

    def wait(self, seconds: float) -> None:
        """Waits for the study to end, so long at most."""
        self._thread.join(seconds)

    @property
    def state(self) -> str:
        """Whether it runs, is done, was stopped, or failed."""
        if self.found is not None:
            return DONE
        if self.wrong:
            return FAILED
        return STOPPED if self._stop.is_set() else RUNNING


class Choosing:
    """The part of a session that chooses what to buy; it uses the session's fields."""

    page: Page
    design: Design
    sizing: Any
    system: str
    answers: dict
    own: dict
    own_wrong: str
    job: Job | None = None
    """The study of what to buy that runs, or ran last."""
    chosen: Choice | None = None
    """The last one that came to its end, and may be of the design before."""
    finished: tuple[Job, ...] = ()
    """Studies that came to their end, the newest first."""

    def _do_study(self, message: dict) -> None:
        """Start the study for the present design, or hear how far it is."""
        key, again = study_key(self), message.get("again")
        self._hear()
        if self.job is not None and self.job.key == key and not again:
            return
        if self.job is not None:
            self.job.stop()
        kept = next((job for job in self.finished if job.key == key), None)
        if kept is not None and not again:
            self.job, self.chosen = kept, kept.found
            return
        for_sale = offers(quotes=self.own.get(QUOTES) or None)
        self.job = Job(key, self.sizing, for_sale)

    def _hear(self) -> None:
        """Keep what the study has found, even where another one is wanted by now."""
        job = self.job
        if job is not None and job.found is not None:
            self.chosen = job.found
            others = tuple(one for one in self.finished if one.key != job.key)
            self.finished = (job, *others)[:MAX_FINISHED]

    def _do_stop_study(self, message: dict) -> None:
        if self.job is not None:
            self.job.stop()

    def _do_buy(self, message: dict) -> None:
        """Put the parts of the picked design into the design, as one step to undo."""
        if self.chosen is None:
            raise DesignError("Nothing has been worked out yet; nothing was changed.")
        one = picked(self, self.chosen)
        if one is None:
            raise DesignError("No design stands, so there are no parts to take.")
        self.take(one.design)  # type: ignore[attr-defined]

    def _do_quote(self, message: dict) -> None:
        """Keep a price that the person was quoted; it stays in the browser."""
        self.own_wrong = ""
        try:
            row = quote_of(message)
            kept = [
                r
                for r in self.own.get(QUOTES, [])
                if (r["part"], r["name"]) != (row["part"], row["name"])
            ]
            if len(kept) >= MAX_QUOTES:
                raise DesignError(f"{MAX_QUOTES} quotes are kept; take one away first.")
            self.own = {**self.own, QUOTES: [*kept, row]}
        except DesignError as wrong:
            self.own_wrong = str(wrong)

    def _do_drop_quote(self, message: dict) -> None:
        self.own_wrong = ""
        gone = (message.get("part"), message.get("name"))
        rows = [r for r in self.own.get(QUOTES, []) if (r["part"], r["name"]) != gone]
        self.own = {**self.own, QUOTES: rows}


def quote_of(message: dict) -> dict:
    """A quote as it was typed.  Raises ``DesignError`` with one sentence."""
    part, name = str(message.get("part")), str(message.get("name"))[:60]
    if part not in PRICE or name not in {o.name for o in offers().part(part)}:
        raise DesignError(f"{clipped(name)} is not on the list.")
    row = {
        "part": part,
        "name": name,
        "price": str(message.get("price") or "").strip().lstrip("$€£ ")[:40],
    }
    if not row["price"]:
        raise DesignError("Price: write what you were quoted, such as " + sample(part) + ".")
    if row["price"].replace(".", "", 1).isdecimal():
        row["price"] = f"{row['price']} {usual_unit(part)}".strip()
    offers(quotes=[row])
    return row


def usual_unit(part: str) -> str:
    """The unit in which the price of a part is usually told; none for a sum of money."""
    return FIELDS[PRICE[part][0]].measure.shown("us").label


def sample(part: str) -> str:
    """How a price of a part is written."""
    return f"2.50 {usual_unit(part)}".strip()


def quotes_kept(rows) -> list[dict]:
    """The quotes that a browser remembers, checked as if just typed; invalid ones are dropped."""
    found: dict[tuple, dict] = {}
    for row in rows[:MAX_QUOTES] if isinstance(rows, list) else ():
        try:
            one = quote_of(row if isinstance(row, dict) else {})
        except DesignError:
            continue
        found[one["part"], one["name"]] = one
    return list(found.values())


def study_key(session) -> tuple:
    """What a study is of: another design or another quote asks for a new one."""
    return (session.sizing.design, json.dumps(session.own.get(QUOTES, [])))


def picks(found: Choice) -> list[tuple[str, str, Member]]:
    """What can be picked: the cheapest, the sure one, then the members of the fronts; a value, words, the design."""
    rows = []
    for place, one in enumerate(found.members):
        words = {CHEAPEST: "the cheapest", SURE: "stands in 9 of 10 draws"}.get(pick_of(found, one))
        rows.append(
            (
                pick_of(found, one) or str(place),
                words or f"{one.goals['minutes'] / 60:.0f} minutes",
                one,
            )
        )
    return rows


def picked(session, found: Choice) -> Member | None:
    """The design whose parts are shown; the cheapest where none is picked."""
    asked, rows = str(session.answers.get("choose.pick", CHEAPEST)), picks(found)
    return next((one for value, _, one in rows if value == asked), rows[0][2] if rows else None)
