"""A problem that was handed out stays what it was: other draws want another version of the exercise."""

import pytest
from make_draw_samples import drawn, rows

from rsdesign.teaching.bank import bank
from rsdesign.teaching.cases import close
from rsdesign.teaching.exercises import exercise_set
from rsdesign.teaching.sets import set_plans
from rsdesign.teaching.variants import learner_key, problem

CURRENT = {(e.id, str(e.version)): e for e in bank().values()}
# Rows of older versions tell what was; nobody draws from them any more.
ROWS = [row for row in rows() if (row["exercise"], row["version"]) in CURRENT]


@pytest.mark.parametrize("row", ROWS, ids=lambda row: f"{row['exercise']} {row['learner']}")
def test_what_is_drawn_does_not_change_within_a_version(row):
    exercise = CURRENT[row["exercise"], row["version"]]
    assert drawn(exercise, row["learner"]) == row, (
        "learners' sheets of this version are out: give the exercise a new version in its file, then run"
        " tests/make_draw_samples.py"
    )


def test_every_exercise_is_held_to_its_draws():
    held = {(row["exercise"], row["version"]) for row in ROWS}
    assert held == set(CURRENT), "run tests/make_draw_samples.py"


AFTER = sorted({e.id for plan in set_plans().values() for e, turn in plan.turns if turn == "after"})


def question(found) -> tuple:
    return found.text, found.lines, sorted(words for _, words in found.options)


@pytest.mark.parametrize("name", AFTER)
def test_a_question_after_is_never_the_one_before(name):
    """Two hundred codes here; 2,500 were walked once by hand for every exercise, with none alike."""
    exercise = bank()[name]
    for n in range(200):
        learner = f"L{n}"
        key = learner_key("an invented class key", learner)
        before, itself, after = (
            problem(exercise, learner, key, turn) for turn in ("before", "", "after")
        )
        assert question(after) not in (question(before), question(itself)), learner
        for ask in exercise.numbers:
            if len(exercise.numbers) == 1:
                assert not close(ask, after.answer(ask), before.answer(ask)), learner


def test_a_set_gives_the_questions_that_an_exercise_gives_alone():
    for name in set_plans():
        found = exercise_set(name, "K7QP-W", "an invented class key")
        key = learner_key("an invented class key", "K7QP-W")
        for one in found.problems:
            assert one.text == problem(one.exercise, "K7QP-W", key, one.turn).text
