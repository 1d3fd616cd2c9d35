"""The instructor's page: a class, the bank, papers to print, and marks of what comes back.

The page is served on this machine alone (``loopback``).  The key of the class lives in this
session and in the instructor's own browser or file; it is part of one block, ``keep``, and of no
other, and of a file that the instructor asks for.
"""

import csv
import io

from ...core.choices import DesignError
from ...teaching import sheets
from ...teaching.bank import exercise
from ...teaching.classbook import ClassBook, class_of, class_text, new_class
from ...teaching.classtable import marks_csv
from ...teaching.exercises import ticket
from ...teaching.marking import KINDS, RUBRIC, FolderMarks, mark_items
from ...teaching.model import FORMS, TOPICS, ExerciseError
from ...teaching.papergrid import cells, grid
from ...teaching.sets import set_plan
from ...teaching.submissions import LARGEST, Submission, Work
from ...teaching.variants import Problem, learner_key, problem
from . import results
from .class_session import (
    ClassSession,
    attempt_log,
    class_at_hand,
    room_for_more,
    text_of,
    typed_answers,
)
from .lists import INSTRUCTOR

MOST_FILES = 2000
FROM_ROOM = "room "
"""How the names of what the room's tray holds begin."""
LONGEST_CELL = 60
TRIAL = "TRIAL"
"""The code under which an instructor tries an exercise; no card carries it."""


class InstructorSession(ClassSession):
    """One instructor's class."""

    page = INSTRUCTOR

    def __init__(self):
        super().__init__()
        self.book: ClassBook | None = None
        self.set = "ninety-minutes"
        self.wanted: dict = {}
        """The filter of the bank."""
        self.shown = ""
        self.trial: Problem | None = None
        self.tried = Work()
        self.known: dict = {}
        self.grid: dict[str, dict[str, str]] = {}
        self.rubric: dict[str, dict[str, float]] = {}
        self.items: list[tuple[str, str]] = []
        self.late: set[str] = set()
        self.marks: FolderMarks | None = None

    def blocks(self) -> dict:
        """Every block of the page."""
        return results.blocks(self)

    # --- the class -------------------------------------------------------------------------------

    def _do_open(self, message: dict) -> None:
        """The first message: what this browser kept; what is odd in it is dropped with a word."""
        kept = message.get("kept")
        if not isinstance(kept, dict) or not isinstance(kept.get("class"), str):
            return
        self.book = class_of(kept["class"], "What this browser kept")
        self._choose(text_of(kept, "set") or self.set)
        for code, row in _tables(kept.get("grid")):
            for column, text in row.items():
                self._cell(code, column, str(text))
        for code, row in _tables(kept.get("rubric")):
            for name, points in row.items():
                self._rubric(code, name, points)

    def _do_make(self, message: dict) -> None:
        """A class of so many fresh codes, saved as a file at once: without it nothing is marked."""
        count = text_of(message, "count", 6)
        if not count.isdecimal():
            raise DesignError("Say how many learners there are, as a whole number.")
        self._take(new_class(int(count)))
        self._do_save_class(message)

    def _do_load_class(self, message: dict) -> None:
        text = message.get("text")
        if not isinstance(text, str):
            raise DesignError("That file could not be read as text.")
        self._take(class_of(text))

    def _take(self, book: ClassBook) -> None:
        self.book = book
        self.grid, self.rubric, self.items, self.late = {}, {}, [], set()
        self.marks = None

    def _do_save_class(self, message: dict) -> None:
        book = self._class()
        self.reply = {"file": "class.toml", "text": class_text(book), "type": "text/plain"}

    def _do_forget(self, message: dict) -> None:
        """Take the class off this browser, for a machine that is shared."""
        self._take(None)

    def _class(self) -> ClassBook:
        if self.book is None:
            raise DesignError("Make a class first, or open the file of one.")
        return self.book

    # --- the bank --------------------------------------------------------------------------------

    def _do_filter(self, message: dict) -> None:
        wanted: dict = {}
        for name, known in (("topic", TOPICS), ("form", FORMS)):
            if text_of(message, name) in known:
                wanted[name] = text_of(message, name)
        for name in ("minutes", "level"):
            text = text_of(message, name, 6).replace(",", ".")
            try:
                if text:
                    wanted[name] = float(text)
            except ValueError:
                raise DesignError(f"Write {name} as a number, such as 5.") from None
        if message.get("paper") is True:
            wanted["paper"] = True
        self.wanted = wanted

    def _do_preview(self, message: dict) -> None:
        """Three variants side by side, with key and hints."""
        self.shown = exercise(text_of(message, "name", 60)).id
        self.trial = None

    def _do_try(self, message: dict) -> None:
        """The same exercise as a learner has it."""
        found = exercise(text_of(message, "name", 60))
        key = learner_key(self.book.key if self.book else "preview", TRIAL)
        self.shown, self.tried = "", Work()
        self.trial = problem(found, TRIAL, key)

    def _do_check(self, message: dict) -> None:
        if self.trial is None:
            raise DesignError("Choose an exercise to try first.")
        typed = typed_answers(self.trial, message.get("typed"))
        if not any(typed.values()):
            raise DesignError("Type an answer first.")
        room_for_more(self.tried)
        blank = Submission("", "", "", TRIAL, "", 0, {self.trial.name: self.tried})
        self.tried = blank.with_attempt(self.trial.name, typed).work[self.trial.name]

    def _do_hint(self, message: dict) -> None:
        if self.trial is None or not self.tried.attempts:
            raise DesignError("Try first; a hint comes after an attempt.")
        blank = Submission("", "", "", TRIAL, "", 0, {self.trial.name: self.tried})
        self.tried = blank.with_hint(self.trial.name, self.tried.hints + 1).work[self.trial.name]

    def _do_close(self, message: dict) -> None:
        """Put away the variants or the trial."""
        self.shown, self.trial, self.tried = "", None, Work()

    # --- papers ----------------------------------------------------------------------------------

    def _do_set(self, message: dict) -> None:
        self._choose(text_of(message, "name", 60))

    def _choose(self, name: str) -> None:
        chosen = set_plan(name).name
        if chosen != self.set:
            self.set, self.grid = chosen, {}

    def _do_papers(self, message: dict) -> None:
        """Sheets, cards and grid, and the key apart, to open and to print."""
        book, plan = self._class(), set_plan(self.set)
        made = {
            "sheets": ("sheets.html", "Sheets", lambda: sheets.sheets(plan.name, book.codes, book.key)),
            "cards": ("cards.html", "Code cards", lambda: sheets.cards(book.codes, plan.title)),
            "key": ("key-for-the-instructor.html", "Key", lambda: sheets.key(plan.name, book.codes, book.key)),
            "grid": ("grid.csv", "Grid for answers on paper", lambda: grid(plan, book.codes)),
            "tickets": ("tickets.csv", "Tickets for work at home", lambda: _tickets(book)),
        }  # fmt: skip
        which = text_of(message, "which", 20)
        if which not in made:
            raise DesignError(f"There are {', '.join(made)} to print.")
        name, title, text = made[which]
        kind = "text/html" if name.endswith(".html") else "text/csv"
        self.reply = {"paper": which, "file": name, "title": title, "type": kind, "text": text()}

    # --- marking ---------------------------------------------------------------------------------

    def _do_add(self, message: dict) -> None:
        """Files that were handed in: names and texts; a file that is too large comes without one."""
        self._class()
        files = message.get("files")
        if not isinstance(files, list):
            raise DesignError("No files came with that.")
        for about in files:
            name = text_of(about, "name", 120) if isinstance(about, dict) else ""
            text = about.get("text") if isinstance(about, dict) else None
            if not name or len(self.items) >= MOST_FILES:
                continue
            if not name.lower().endswith(KINDS):
                name = f"{name}.json"  # it is then read as one, and refused with its reason
            text = text if isinstance(text, str) else " " * (LARGEST + 1)
            self._put(name, text, message.get("late") is True)
        if message.get("more") is not True:
            self._mark()

    def _do_paste(self, message: dict) -> None:
        """Short texts, one a line; each is marked by itself."""
        self._class()
        text = text_of(message, "text", 400_000)
        if not text:
            raise DesignError("Paste a short text first; it starts with RSX1:.")
        count = sum(name.startswith("pasted") for name, _ in self.items)
        self._put(f"pasted {count + 1}.txt", text, message.get("late") is True)
        self._mark()

    def _put(self, name: str, text: str, late: bool) -> None:
        if (name, text) in self.items and name.startswith(FROM_ROOM):
            return  # taken from the room before: what came in time does not become late
        self.items = [item for item in self.items if item[0] != name] + [(name, text)]
        self.late = self.late - {name} | ({name} if late else set())

    def _do_clear(self, message: dict) -> None:
        """Put away the files that were added; the typed grid stays."""
        self.items, self.late, self.marks = [], set(), None

    def _do_mark(self, message: dict) -> None:
        self._class()
        self._mark()

    def _mark(self) -> None:
        book, items = self.book, list(self.items)
        if any(self.grid.values()):
            items.append(("typed here.csv", grid(set_plan(self.set), book.codes, self.grid)))
        if not items:
            raise DesignError(
                "There is nothing to mark yet: add files, paste texts or type answers."
            )
        known = class_at_hand()
        counted = attempt_log().read if known is not None and known.key == book.key else None
        self.marks = mark_items(items, book.key, book.codes, self.rubric, self.late, counted)

    def _do_cell(self, message: dict) -> None:
        """One answer from paper."""
        self._cell(
            text_of(message, "code", 30), text_of(message, "column"), text_of(message, "text")
        )

    def _cell(self, code: str, column: str, text: str) -> None:
        columns = {f"{name}:{ask}" for name, ask in cells(set_plan(self.set))}
        if code not in self._class().codes or column not in columns:
            raise DesignError("That box is not of this class and set; reload the page.")
        row = {k: v for k, v in self.grid.get(code, {}).items() if k != column}
        if text.strip():
            row[column] = text.strip()[:LONGEST_CELL]
        self.grid = {**self.grid, code: row}

    def _do_rubric(self, message: dict) -> None:
        """Points for a reason that was read."""
        self._rubric(
            text_of(message, "code", 30), text_of(message, "exercise", 60), message.get("points")
        )
        if self.marks is not None:
            self._mark()

    def _rubric(self, code: str, name: str, points) -> None:
        if code not in self._class().codes or not name:
            raise DesignError("That reason is not of this class; reload the page.")
        row = {k: v for k, v in self.rubric.get(code, {}).items() if k != name}
        if points is not None and points != "":
            if points not in range(RUBRIC + 1) or isinstance(points, bool):
                raise DesignError(f"A reason brings 0 to {RUBRIC}.")
            row[name] = points
        self.rubric = {**self.rubric, code: row}

    def _do_csv(self, message: dict) -> None:
        """The marks as a file."""
        if self.marks is None:
            raise DesignError("Mark something first.")
        self.reply = {"file": "marks.csv", "text": marks_csv(self.marks), "type": "text/csv"}


def _tickets(book: ClassBook) -> str:
    """A line for each learner: the code, and the ticket that opens this learner's problems only."""
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(["code", "ticket"])
    for code in book.codes:
        try:
            writer.writerow([code, ticket(book.key, code)])
        except ExerciseError as wrong:
            raise DesignError(str(wrong)) from None
    return text.getvalue()


def _tables(value):
    """Pairs of code and row of what a browser kept, where it has that shape."""
    for code, row in value.items() if isinstance(value, dict) else ():
        if isinstance(row, dict):
            yield str(code), row
