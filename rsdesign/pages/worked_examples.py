"""A worked example with fading on each page: all steps shown, the last blank, the last two, your own.

Each stage has other numbers, computed by the steps of an exercise of the bank.  What a learner typed
comes back as one short text (``Session.answers``), so this block keeps no state.  A blank step does not
contain its number until the learner finds it, or asks for it after an attempt.
"""

import functools
import json
import re

from ..core.kinds import UnitError
from ..core.units import from_plain
from ..teaching.answers import read
from ..teaching.bank import exercise
from ..teaching.cases import close
from ..teaching.checking import check
from ..teaching.hints import expert_path, hint, way
from ..teaching.misconceptions import not_yet
from ..teaching.model import Ask
from ..teaching.steps import kinds_of
from ..teaching.variants import Problem, learner_key, problem
from ..teaching.wording import reveals

PLACE = "faded-"
"""Prefix of a page's name: the key under which a session keeps what was typed."""

EXAMPLES = {
    "start": "whole-chain",
    "have": "flow-ammonia",
    "fish": "feed-batch",
    "solids": "solids-day",
    "biofilter": "biofilter-volume",
    "air": "air-demand",
    "pump": "pump-speed",
    "heat": "heat-warmup",
    "outage": "power-battery",
    "cost": "costs-break-even",
    "whole": "whole-chain",
    "startup": "startup-dose",
    "day": "day-outage",
    "season": "season-degree-days",
    "choose": "choice-tie",
    "log": "log-kit",
    "spread": "odds-average",
    "lists": "biofilter-alkalinity",
}
"""The exercise of each page's example."""

STAGES = ("A worked example", "The last step is yours", "The last two steps are yours",
          "Your own problem")  # fmt: skip
OWN = len(STAGES) - 1
NEAR = 0.02
"""Relative tolerance of an earlier step: rounding to three figures stays well within it."""
LONGEST = 40
_LETTER = re.compile(r"^[a-h]\) ")
_KEY = "worked examples for everybody"


@functools.cache
def stage_problem(page: str, stage: int) -> Problem:
    """The problem of one stage; no two stages of a page have the same numbers.

    Skips numbers where a shown step happens to look like the answer to a blank one.
    """
    found = exercise(EXAMPLES[page])
    before = {stage_problem(page, earlier).case.index for earlier in range(stage)}
    for turn in range(200):
        code = f"{page}-{stage}-{turn}".upper()
        one = problem(found, code, learner_key(_KEY, code))
        if one.case.index not in before and not _coincides(one, stage):
            return one
    return one


def _asked(steps: list[dict], stage: int) -> list[dict]:
    """The steps that a stage leaves blank."""
    return steps[-1:] if stage == OWN else steps[len(steps) - stage :]


def _coincides(one: Problem, stage: int) -> bool:
    """Whether something that is shown looks like the answer to a blank step."""
    steps = way(one)
    asked = _asked(steps, stage)
    hidden = []
    for step in asked:
        ask = ask_of(one, step["name"])
        hidden.append(from_plain(one.case.truth[ask.name], ask.kind.unit(ask.unit)))
    shown = [step for step in steps if step not in asked] if stage != OWN else []
    texts = [one.text, hint(one, 2), *(s["given"] for s in asked[:1] if stage != OWN)]
    texts += [f"{s['given']} {s['value']}" for s in shown]
    return any(reveals(text, hidden) for text in texts)


def read_state(text: str) -> tuple[int, dict[str, str], list[str]]:
    """Stage, what was typed for each step, and the steps to reveal; none of them from malformed text."""
    try:
        kept = json.loads(text)
        stage = kept["stage"] if kept["stage"] in range(len(STAGES)) else 0
        typed = {str(k): str(v)[:LONGEST] for k, v in kept["typed"].items()}
        return int(stage), typed, [str(name) for name in kept["shown"]]
    except (ValueError, KeyError, TypeError, AttributeError, RecursionError):
        return 0, {}, []


@functools.lru_cache(maxsize=200)
def example(page: str, text: str = "") -> dict | None:
    """The block of a page; ``text`` is its state as sent by the front end."""
    if page not in EXAMPLES:
        return None
    stage, typed, seen = read_state(text)
    one = stage_problem(page, stage)
    steps = way(one)
    blanks = {step["name"] for step in _asked(steps, stage)}
    if stage == OWN:
        steps = steps[-1:]
    shown, waiting = [], False
    for step in steps:
        line = _line(one, step, step["name"] in blanks, typed, seen, waiting, stage == OWN)
        waiting = waiting or line["blank"]
        shown.append(line)
    done = not waiting
    return {
        "title": one.exercise.title,
        "stage": stage,
        "stages": list(STAGES),
        "question": one.text,
        "caution": one.exercise.caution,
        "steps": shown,
        "relation": hint(one, 2),
        "done": done,
        "expert": expert_path(one) if done and stage == OWN else [],
    }


def _line(one: Problem, step: dict, blank: bool, typed, seen, waiting: bool, own: bool) -> dict:
    """One step: shown, blank, or waiting for the one before."""
    name = step["name"]
    line = {"name": name, "title": step["title"], "given": "", "value": "", "blank": blank,
            "waits": waiting, "words": "", "typed": "", "unit": "", "ask": "", "may_show": False}  # fmt: skip
    if waiting:
        return line
    line["given"] = "" if own else step["given"]
    line["title"] = "Your answer" if own else step["title"]
    if not blank:
        return line | {"value": step["value"]}
    ask = ask_of(one, name)
    line |= {"unit": ask.unit, "ask": _LETTER.sub("", one.ask_text(ask)) if ask.text else ""}
    text = typed.get(name, "").strip()
    if text:
        right, words = judged(one, ask, text)
        line |= {"typed": text, "words": words, "blank": not right, "may_show": not right}
        if right:
            return line | {"value": step["value"], "may_show": False}
    if text and name in seen:
        return line | {"value": step["value"], "blank": False, "may_show": False,
                       "words": "Shown. Read it, then try the next one."}  # fmt: skip
    return line


def ask_of(one: Problem, name: str) -> Ask:
    """The question of a step: the exercise's own, or the number of an earlier step."""
    known = next((ask for ask in one.exercise.numbers if ask.name == name), None)
    if known is not None:
        return known
    kind = kinds_of(one.exercise)[name]
    unit = kind.shown("us").label
    return Ask(name, "number", "", kind, unit, (), NEAR, 0.0, "", 0.0, 0.0, "", "", None, "", None)


def judged(one: Problem, ask: Ask, text: str) -> tuple[bool, str]:
    """Whether an answer is right, and the feedback: a known slip by its name."""
    if ask in one.exercise.numbers:
        found = next(c for c in check(one, {ask.name: text}).checked if c.ask == ask.name)
        return found.right, found.words
    try:
        reading = read(text, ask)
    except UnitError as wrong:
        return False, str(wrong)
    truth = one.case.truth[ask.name]
    if close(ask, reading.value, truth):
        return True, "Right."
    return False, not_yet(reading.words, reading.value, truth, hint(one, 1))
