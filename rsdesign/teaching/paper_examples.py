"""Worked examples on paper: one with all steps, one with the last step left out, before a problem."""

from html import escape

from . import solutions
from .cases import Case
from .exercises import ExerciseSet
from .fading import faded, stage_case, stages
from .variants import Problem

WHY = "Why this step?"


def has_example(found: ExerciseSet, problem: Problem) -> bool:
    """Whether a problem of a set begins with a worked example."""
    return not problem.turn and problem.exercise.id in faded(found.plan)


def example_lines(problem: Problem) -> list[tuple[str, bool]]:
    """The lines of both examples, each with whether its reason is asked for beside it.

    The numbers are others than the learner's own, and no line holds the learner's own answer.
    """
    found: list[tuple[str, bool]] = []
    for stage in range(min(2, len(stages(problem.exercise)) - 1)):
        case = stage_case(problem, stage)
        if case is not None:
            found.append((f"{stages(problem.exercise)[stage]}. {case.fill(problem.exercise.question)}",
                          False))  # fmt: skip
            found += [(text, True) for text in _sums(case, stage)]
    return found


def _sums(case: Case, left_out: int) -> list[str]:
    """The sums of a case; of those left out only a line to write on."""
    whole = solutions.lines(case)
    shown = [line.sum for line in whole[: len(whole) - left_out]]
    left = whole[len(whole) - left_out :]
    blank = [f"{'_' * 24} = {'_' * 8} {line.worked.unit}".rstrip() for line in left]
    return shown + blank


def example_html(problem: Problem) -> str:
    """Both examples as a box of HTML."""
    rows = []
    for text, asks in example_lines(problem):
        why = f"<br><span class='small'>{WHY} {'_' * 34}</span>" if asks else ""
        rows.append(f"<p{' class=sum' if asks else ''}>{escape(text)}{why}</p>")
    return f"<div class='example'>{''.join(rows)}</div>" if rows else ""
