"""The block of a worked example that fades, before a learner's own problem of a set.

A step that is left out does not hold its number until the learner finds it, or asks for it after an
attempt.  Nothing here is counted or handed in; the browser keeps how far a learner came.
"""

from dataclasses import dataclass, field, replace

from ...core.choices import DesignError
from ...teaching import fading, solutions
from ...teaching.fading import STAGES, stages
from ...teaching.variants import Problem

LONGEST = 40
MOST_STEPS = 12
OTHER_REASON = "Read the sum once more: another reason says more about this step."
SHOWN = "Shown. Read it, then go on."


@dataclass(frozen=True, slots=True)
class Progress:
    """How far a learner came at one problem: stage, typed results, steps shown, reasons chosen."""

    stage: int = 0
    typed: dict[int, str] = field(default_factory=dict)
    shown: tuple[int, ...] = ()
    reasons: dict[int, int] = field(default_factory=dict)

    def plain(self) -> dict:
        """As the browser keeps it."""
        return {
            "stage": self.stage,
            "typed": {str(k): v for k, v in self.typed.items()},
            "shown": list(self.shown),
            "reasons": {str(k): v for k, v in self.reasons.items()},
        }


def kept(value) -> dict[str, Progress]:
    """Progress by problem from what a browser kept; anything malformed is left out."""
    found = {}
    for name, table in value.items() if isinstance(value, dict) else ():
        try:
            found[str(name)[:60]] = Progress(
                int(table["stage"]) if table["stage"] in range(len(STAGES)) else 0,
                {int(k): str(v)[:LONGEST] for k, v in table["typed"].items()},
                tuple(int(place) for place in table["shown"])[:MOST_STEPS],
                {int(k): int(v) for k, v in table["reasons"].items()},
            )
        except (KeyError, TypeError, ValueError, AttributeError):
            continue
    return found


def moved(now: Progress, problem: Problem, message: dict) -> Progress:
    """Progress after a message: another stage, a typed result, a step to show or a reason chosen."""
    if "stage" in message:
        if message["stage"] not in range(len(stages(problem.exercise))):
            raise DesignError("That stage is not there; reload the page.")
        return Progress(stage=int(message["stage"]))
    place = message.get("place")
    if not isinstance(place, int) or place not in range(len(problem.exercise.solution)):
        raise DesignError("That step is not there; reload the page.")
    if isinstance(message.get("text"), str):
        return replace(now, typed={**now.typed, place: message["text"][:LONGEST].strip()})
    if isinstance(message.get("reason"), int):
        return replace(now, reasons={**now.reasons, place: message["reason"]})
    if not now.typed.get(place):
        raise DesignError("Try the step first; then it can be shown.")
    return replace(now, shown=(*now.shown, place))


def block(problem: Problem, now: Progress, first: bool) -> dict | None:
    """The worked example of a problem as plain data; None where there is none.

    ``first``: the exercise is the first of its topic in the set, so the page opens it by itself.
    """
    e = problem.exercise
    words = stages(e)
    if problem.turn or not words:
        return None
    own = now.stage >= len(words) - 1
    found = {"name": problem.name, "first": first, "stage": now.stage, "stages": list(words),
             "question": "", "asks": [], "caution": "", "steps": [], "done": own}  # fmt: skip
    if own:
        return found
    case = fading.stage_case(problem, now.stage)
    if case is None:
        return None
    whole = solutions.lines(case)
    left, steps, waits = min(now.stage, len(whole)), [], False
    for place, line in enumerate(whole):
        step = _step(problem, case, now, place, place >= len(whole) - left, waits)
        waits = waits or step["blank"]
        steps.append(step | ({} if step["blank"] or step["waits"] else {"sum": line.sum}))
    done = not waits and all(step["why"]["right"] for step in steps)
    return found | {"question": case.fill(e.question),
                    "asks": [case.fill(ask.text) for ask in e.asks if ask.text], "caution": e.caution, "steps": steps,
                    "done": done}  # fmt: skip


def _step(problem: Problem, case, now: Progress, place: int, left_out: bool, waits: bool) -> dict:
    """One step: shown, left out, or waiting for the one before."""
    worked = problem.exercise.solution[place]
    step = {"place": place, "sum": "", "blank": left_out, "waits": waits, "unit": worked.unit,
            "typed": "", "words": "", "may_show": False, "why": None}  # fmt: skip
    if waits:
        return step
    text = now.typed.get(place, "")
    if left_out and text:
        said = fading.judge(case, place, text)
        seen = place in now.shown and not said.right
        step |= {"typed": text, "blank": not (said.right or seen), "may_show": not said.right,
                 "words": SHOWN if seen else said.words}  # fmt: skip
    if not step["blank"]:
        step["may_show"] = False
        step["why"] = _why(problem, place, now.reasons.get(place))
    return step


def _why(problem: Problem, place: int, chosen: int | None) -> dict:
    """The prompt at a step: which reason is behind it."""
    options = fading.reasons(problem, place)
    picked = options[chosen] if chosen is not None and chosen in range(len(options)) else ""
    right = picked == problem.exercise.solution[place].why
    words = "" if not picked else "Yes, that is the reason." if right else OTHER_REASON
    return {
        "options": options,
        "chosen": chosen if picked else None,
        "right": right,
        "words": words,
    }
