"""A problem that was handed out stays what it was: other draws want another version of the exercise."""

import pytest
from make_draw_samples import drawn, rows

from rsdesign.teaching.bank import bank

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
