"""The learner's page: a set, a code, one problem after another, and a file to hand in.

All work is kept in one sealed ``Submission``; feedback, hints and progress are derived from it, so a
page that is opened again continues where it was.
"""

import secrets
import time

from ...core.choices import DesignError
from ...teaching import fading, submissions
from ...teaching.classbook import ClassBook, new_class, well_written
from ...teaching.exercises import CLASS, COPY, ExerciseSet, exercise_set
from ...teaching.hints import HINTS
from ...teaching.marking import mark_one
from ...teaching.model import TOPICS, ExerciseError
from ...teaching.notebook import PRACTICE
from ...teaching.sets import set_plan, set_plans
from ...teaching.sheets import parts_of
from ...teaching.submissions import Submission, Work
from ...teaching.versions import holds, together
from . import faded
from .class_session import (
    ClassSession,
    attempt_log,
    check_attempts_left,
    checked,
    local_class,
    shown_problem,
    shown_work,
    state,
    text_of,
    typed_answers,
)
from .lists import EXERCISES

MAX_PAUSE = 30.0
"""Minutes on one problem that are counted at most: beyond them its learner was away."""

WORDS = {
    CLASS: "Checked here, and marked by your instructor.",
    COPY: "Checked here, marked later: your instructor marks what you hand in.",
    PRACTICE: "Practice. Answers are checked here, and nobody marks them.",
}


class LearnerSession(ClassSession):
    """One learner at one set."""

    page = EXERCISES

    def __init__(self, clock=time.monotonic):
        super().__init__()
        self.found: ExerciseSet | None = None
        self.mode = PRACTICE
        self.ticket = ""
        self.work: Submission | None = None
        self.current = ""
        self._clock = clock
        self._since = clock()
        self._known: dict = {}
        self._progress: dict[str, faded.Progress] = {}

    # --- begin, leave, reopen --------------------------------------------------------------------

    def _do_open(self, message: dict) -> None:
        """The first message of a page: what the browser kept."""
        kept = message.get("kept")
        if not isinstance(kept, dict) or not kept.get("set"):
            return
        try:
            self._do_begin(kept)
        except DesignError:
            self._do_leave(kept)  # blank work must not replace what is kept
            raise

    def _do_begin(self, message: dict) -> None:
        """Begin a set with a code; ``file`` is earlier work that the browser kept."""
        self._begin(*(text_of(message, name) for name in ("set", "code", "ticket")))
        self._progress = faded.kept(message.get("faded"))
        if isinstance(message.get("file"), str):
            self._load(message["file"])

    def _begin(self, name: str, code: str, ticket: str) -> None:
        first, _, rest = ticket.partition(" ")
        if rest.strip():  # code and ticket in one line, as in the instructor's list
            code, ticket = first, rest.strip()
        book = local_class()
        if ticket:
            if not code:
                raise DesignError("Type the code from your card too, beside the ticket.")
            found, mode = exercise_set(name, code, ticket=ticket), COPY
        elif book is not None:
            found, mode = exercise_set(name, _of_class(code, book), book.key), CLASS
        else:
            code = code or new_class(1).codes[0]
            found, mode = exercise_set(name, code, PRACTICE), PRACTICE
        self.found, self.mode, self.ticket = found, mode, ticket
        self.work = submissions.blank(found, time.time())
        self._sync_attempts()
        self._show(found.problems[0].name)

    def _do_leave(self, message: dict) -> None:
        """Forget the learner, for a shared device."""
        self.found = self.work = None
        self.current = self.ticket = ""
        self._known.clear()
        self._progress = {}

    def _do_load(self, message: dict) -> None:
        """Load work from a file that this page saved."""
        if self.found is None:
            raise DesignError("Choose the set and type your code first; then open the file.")
        text = message.get("text")
        if not isinstance(text, str):
            raise DesignError("That file could not be read as text.")
        before = self.work
        self._load(text)
        if before.saved and holds(before, self.work):
            raise DesignError(
                "That file is older than the work on this page, or the same: nothing new came of it."
            )

    def _load(self, text: str) -> None:
        work = submissions.read_own(text, self.found)
        self.work = together([self.work, work]) if self.work.saved else work
        self._sync_attempts()
        ahead = [p.name for p in self.found.problems if self._state(p) == "new"]
        self._show(ahead[0] if ahead else self.found.problems[0].name)

    def _sync_attempts(self) -> None:
        """On a server with a class, count attempts by code and set, whatever the browser keeps."""
        log = attempt_log()
        if self.mode == CLASS and log is not None:
            self.work = log.catch_up(self.found, self.work)

    # --- working ---------------------------------------------------------------------------------

    def _show(self, name: str) -> None:
        self.current, self._since = name, self._clock()

    def _require_set(self) -> None:
        if self.found is None:
            raise DesignError("Choose a set and type your code first.")

    def _do_go(self, message: dict) -> None:
        """Show a problem."""
        self._require_set()
        self._show(self.found.problem(text_of(message, "name", 60)).name)

    def _do_check(self, message: dict) -> None:
        """Check an attempt."""
        self._require_set()
        problem = self.found.problem(self.current)
        typed = typed_answers(problem, message.get("typed"))
        if not any(typed.values()):
            raise DesignError("Type an answer first.")
        self._sync_attempts()  # another device may have used attempts
        check_attempts_left(self._done(problem.name))
        minutes = min((self._clock() - self._since) / 60, MAX_PAUSE)
        self._since = self._clock()
        self.work = self.work.with_attempt(problem.name, typed, minutes)
        self._sync_attempts()

    def _do_hint(self, message: dict) -> None:
        """Show the next hint; the first comes after an attempt."""
        self._require_set()
        problem = self.found.problem(self.current)
        now = self._shown(problem)
        if problem.turn == "before":
            raise DesignError("These questions go without hints; a guess is fine.")
        if not now["attempts"]:
            raise DesignError("Try first; a hint comes after an attempt.")
        level = min(len(now["hints"]) + 1, HINTS)
        self.work = self.work.with_hint(problem.name, level)

    def _do_fade(self, message: dict) -> None:
        """Go on in the worked example of a problem; nothing of it counts."""
        self._require_set()
        problem = self.found.problem(self.current)
        now = self._progress.get(problem.name, faded.Progress())
        moved = faded.moved(now, problem, message)
        self._progress = {**self._progress, problem.name: moved}

    def _do_reason(self, message: dict) -> None:
        """Keep the learner's reason, for the instructor to read."""
        self._require_set()
        problem = self.found.problem(self.current)
        if not self.found.rules.reason or problem.turn:
            raise DesignError("No reason is asked for here.")
        self.work = self.work.with_reason(problem.name, text_of(message, "text", 1000))

    # --- handing in ------------------------------------------------------------------------------

    def _do_save(self, message: dict) -> None:
        """Save the sealed file, to keep or to hand in."""
        self._require_set()
        name = f"{self.found.learner}_{self.found.name}.json"
        self.reply = {"file": name, "text": self._file(), "type": "application/json"}

    def _do_hand_in(self, message: dict) -> None:
        """Give the work as a short text and as a QR code."""
        self._require_set()
        if self.mode == PRACTICE:
            raise DesignError("This is practice: there is nobody to hand it in to.")
        short = submissions.short_text(self.work, self.found)
        self.reply = {"short": short, "qr": "", "words": ""}
        try:
            self.reply["qr"] = submissions.qr_code(short)
        except ExerciseError as wrong:
            self.reply["words"] = str(wrong)

    def _file(self) -> str:
        return submissions.write(self.work, self.found)

    # --- blocks ----------------------------------------------------------------------------------

    def _done(self, name: str) -> Work:
        return self.work.work.get(name, Work())

    def _state(self, problem) -> str:
        said = checked(problem, self._done(problem.name), self._known)
        return state(said, problem.turn == "before")

    def _shown(self, problem) -> dict:
        work, rules = self._done(problem.name), self.found.rules
        shown = shown_work(problem, work, self._known, attempts=rules.attempts)
        shown["wants_reason"] = bool(rules.reason) and not problem.turn
        shown["points"] = ""
        if self.mode == CLASS and not problem.turn and shown["attempts"]:
            mark = mark_one(problem, work, rules)
            shown["points"] = f"{mark.points:g} of {mark.out_of:g} points so far"
        return shown

    def blocks(self) -> dict:
        """The available sets; in a set also its problems and the current one."""
        found = {"start": self._start(), "set": None, "problem": None, "work": None, "faded": None,
                 "keep": None}  # fmt: skip
        if self.found is None:
            return found
        problem = self.found.problem(self.current)
        return found | {
            "set": self._set(),
            "problem": shown_problem(problem),
            "work": self._shown(problem),
            "faded": faded.block(problem, self._progress.get(problem.name, faded.Progress()),
                                 problem.name in fading.faded(self.found.plan)),
            "keep": {"set": self.found.name, "code": self.found.learner, "ticket": self.ticket,
                     "file": self._file(),
                     "faded": {name: p.plain() for name, p in self._progress.items()}},
        }  # fmt: skip

    def _start(self) -> dict:
        plans = set_plans().values()
        return {
            "begun": self.found is not None,
            "at_hand": local_class() is not None,
            "sets": [{"name": p.name, "title": p.title, "minutes": p.minutes} for p in plans],
            "topics": [{"name": t, "title": set_plan(t).title} for t in TOPICS],
        }

    def _set(self) -> dict:
        states = {p.name: self._state(p) for p in self.found.problems}
        done = sum(word in ("right", "kept") for word in states.values())
        names = list(states)
        at = names.index(self.current)
        return {
            "title": self.found.title,
            "code": self.found.learner,
            "mode": WORDS[self.mode],
            "hands_in": self.mode != PRACTICE,
            "rules": list(self.found.rules.words),
            "done": done,
            "of": len(states),
            "parts": [
                {"title": title,
                 "problems": [{"name": p.name, "title": p.exercise.title, "state": states[p.name],
                               "here": p.name == self.current} for p in problems]}
                for title, problems in parts_of(self.found)
            ],
            "before": names[at - 1] if at else "",
            "next": names[at + 1] if at + 1 < len(names) else "",
        }  # fmt: skip


def _of_class(code: str, book: ClassBook) -> str:
    """A code of the class; the error says where a letter must be wrong."""
    if not code:
        raise DesignError("Type the code from your card.")
    wanted = code.upper().replace(" ", "-")
    if "-" not in wanted and len(wanted) == 5:
        wanted = f"{wanted[:4]}-{wanted[4]}"
    if not any(secrets.compare_digest(wanted.encode(), known.encode()) for known in book.codes):
        hint = "" if well_written(wanted) else " One of its letters is wrong."
        raise DesignError(f"{wanted[:30]} is not a code of this class.{hint} Look at your card.")
    return wanted
