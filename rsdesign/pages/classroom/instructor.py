"""The instructor's page: a class, the exercise bank, papers to print, and marking.

The page is served to this machine alone (``server.loopback``).  The key of the class is in this session
and in the instructor's own browser or file; it is sent in one block, ``keep``, and in a file that the
instructor asks for.
"""

from ...core.choices import DesignError
from ...teaching.bank import exercise
from ...teaching.classbook import ClassBook, class_of, class_text, new_class
from ...teaching.gradebook import items_csv, marks_csv, wide_csv
from ...teaching.marking import KINDS, RUBRIC, FolderMarks, mark_items
from ...teaching.model import FORMS, TOPICS
from ...teaching.papergrid import cells, grid
from ...teaching.regrade import NONE, changes, read_fixes
from ...teaching.sets import set_plan
from ...teaching.submissions import LARGEST, Submission, Work
from ...teaching.variants import Problem, learner_key, problem
from . import results
from .class_session import (
    ClassSession,
    attempt_log,
    check_attempts_left,
    local_class,
    text_of,
    typed_answers,
)
from .lists import INSTRUCTOR
from .papers import made

MAX_FILES = 2000
FROM_ROOM = "room "
"""Prefix of the names of files from the room's submission box."""
MAX_CELL = 60
TRIAL = "TRIAL"
"""The code under which an instructor tries an exercise; no learner has it."""


class InstructorSession(ClassSession):
    """One instructor's class."""

    page = INSTRUCTOR

    def __init__(self):
        super().__init__()
        self.book: ClassBook | None = None
        self.set = "ninety-minutes"
        self.wanted: dict = {}
        """The filter of the exercise bank."""
        self.shown = ""
        self.trial: Problem | None = None
        self.tried = Work()
        self.known: dict = {}
        self.grid: dict[str, dict[str, str]] = {}
        self.rubric: dict[str, dict[str, float]] = {}
        self.items: list[tuple[str, str]] = []
        self.late: set[str] = set()
        self.marks: FolderMarks | None = None
        self.fixes = NONE
        """Corrections of the key, from a file."""
        self.changed: list[str] = []
        """Whose points the corrections changed."""

    def blocks(self) -> dict:
        """Every block of the page."""
        return results.blocks(self)

    # --- the class -------------------------------------------------------------------------------

    def _do_open(self, message: dict) -> None:
        """The first message: what this browser kept; an error in it becomes a notice."""
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
        """Make a class with new codes and save its file at once: nothing can be marked without it."""
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
        self.marks, self.fixes, self.changed = None, NONE, []

    def _do_save_class(self, message: dict) -> None:
        book = self._class()
        self.reply = {"file": "class.toml", "text": class_text(book), "type": "text/plain"}

    def _do_forget(self, message: dict) -> None:
        """Remove the class from this browser, for a shared machine."""
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
        """Show three variants side by side, with key and hints."""
        self.shown = exercise(text_of(message, "name", 60)).id
        self.trial = None

    def _do_try(self, message: dict) -> None:
        """Show the exercise as a learner gets it."""
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
        check_attempts_left(self.tried)
        blank = Submission("", "", "", TRIAL, "", 0, {self.trial.name: self.tried})
        self.tried = blank.with_attempt(self.trial.name, typed).work[self.trial.name]

    def _do_hint(self, message: dict) -> None:
        if self.trial is None or not self.tried.attempts:
            raise DesignError("Try first; a hint comes after an attempt.")
        blank = Submission("", "", "", TRIAL, "", 0, {self.trial.name: self.tried})
        self.tried = blank.with_hint(self.trial.name, self.tried.hints + 1).work[self.trial.name]

    def _do_close(self, message: dict) -> None:
        """Close the variants or the trial."""
        self.shown, self.trial, self.tried = "", None, Work()

    # --- papers ----------------------------------------------------------------------------------

    def _do_set(self, message: dict) -> None:
        self._choose(text_of(message, "name", 60))

    def _choose(self, name: str) -> None:
        chosen = set_plan(name).name
        if chosen != self.set:
            self.set, self.grid = chosen, {}

    def _do_papers(self, message: dict) -> None:
        """Make one of the papers to print, or a package for a course platform."""
        self.reply = made(text_of(message, "which", 20), self._class(), set_plan(self.set))

    # --- marking ---------------------------------------------------------------------------------

    def _do_add(self, message: dict) -> None:
        """Add submitted files by name and text; one that is too large comes without text."""
        self._class()
        files = message.get("files")
        if not isinstance(files, list):
            raise DesignError("No files came with that.")
        for about in files:
            name = text_of(about, "name", 120) if isinstance(about, dict) else ""
            text = about.get("text") if isinstance(about, dict) else None
            if not name or len(self.items) >= MAX_FILES:
                continue
            if not name.lower().endswith(KINDS):
                name = f"{name}.json"  # read as JSON, and refused with the reason
            text = text if isinstance(text, str) else " " * (LARGEST + 1)
            self._put(name, text, message.get("late") is True)
        if message.get("more") is not True:
            self._mark()

    def _do_paste(self, message: dict) -> None:
        """Add short texts, one a line; each is marked by itself."""
        self._class()
        text = text_of(message, "text", 400_000)
        if not text:
            raise DesignError("Paste a short text first; it starts with RSX1:.")
        count = sum(name.startswith("pasted") for name, _ in self.items)
        self._put(f"pasted {count + 1}.txt", text, message.get("late") is True)
        self._mark()

    def _put(self, name: str, text: str, late: bool) -> None:
        if (name, text) in self.items and name.startswith(FROM_ROOM):
            return  # taken from the room before: it keeps its time
        self.items = [item for item in self.items if item[0] != name] + [(name, text)]
        self.late = self.late - {name} | ({name} if late else set())

    def _do_clear(self, message: dict) -> None:
        """Remove the added files; the typed grid stays."""
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
        known = local_class()
        counted = attempt_log().read if known is not None and known.key == book.key else None
        given = (items, book.key, book.codes, self.rubric, self.late, counted)
        self.marks, self.changed = mark_items(*given, self.fixes), []
        if self.fixes:
            self.changed = changes(mark_items(*given).marks, self.marks.marks)

    def _do_fixes(self, message: dict) -> None:
        """Mark again with the corrections of a file; an empty text takes them away."""
        text = message.get("text")
        if not isinstance(text, str) or len(text) > LARGEST:
            raise DesignError("That file could not be read as text.")
        self._class()
        self.fixes = read_fixes(text)
        if self.marks is not None:
            self._mark()

    def _do_cell(self, message: dict) -> None:
        """Type one answer from paper."""
        self._cell(
            text_of(message, "code", 30), text_of(message, "column"), text_of(message, "text")
        )

    def _cell(self, code: str, column: str, text: str) -> None:
        columns = {f"{name}:{ask}" for name, ask in cells(set_plan(self.set))}
        if code not in self._class().codes or column not in columns:
            raise DesignError("That box is not of this class and set; reload the page.")
        row = {k: v for k, v in self.grid.get(code, {}).items() if k != column}
        if text.strip():
            row[column] = text.strip()[:MAX_CELL]
        self.grid = {**self.grid, code: row}

    def _do_rubric(self, message: dict) -> None:
        """Give points for a written reason."""
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
        """Save the marks as a file: each mark, a row a learner, or the statistics of the exercises."""
        if self.marks is None:
            raise DesignError("Mark something first.")
        made = {"": ("marks.csv", marks_csv), "gradebook": ("gradebook.csv", wide_csv),
                "items": ("exercises.csv", items_csv)}  # fmt: skip
        which = text_of(message, "which", 20)
        if which not in made:
            raise DesignError("There are marks, gradebook and items to save.")
        name, text = made[which]
        self.reply = {"file": name, "text": text(self.marks), "type": "text/csv"}


def _tables(value):
    """Pairs of code and row from what a browser kept; anything malformed is skipped."""
    for code, row in value.items() if isinstance(value, dict) else ():
        if isinstance(row, dict):
            yield str(code), row
