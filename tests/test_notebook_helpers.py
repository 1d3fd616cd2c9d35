"""What the cells of a notebook call: differences of designs, printed figures, exercises."""

import json

import pytest
from designs import demo
from test_published import ROWS, call

from rsdesign import differences, published, size, ureg
from rsdesign.core.choices import DesignError
from rsdesign.teaching.model import ExerciseError
from rsdesign.teaching.notebook import check, exercise


def test_differences_are_those_of_two_sizings():
    one, other = demo("family"), demo("family").with_(tank_depth="4 ft")
    frame = differences(one, other)
    assert "tank.depth" in frame.index
    assert "stock.fish" not in frame.index
    for path, unit in (("tank.depth", "ft"), ("tank.volume", "gal")):
        was, now = (size(d)[path].to(unit).magnitude for d in (one, other))
        row = frame.loc[path]
        assert (row.before, row.after, row.unit) == (pytest.approx(was), pytest.approx(now), unit)
        assert row.percent == pytest.approx(100 * (now - was) / was)
    assert differences(one, one).empty
    assert list(differences(one, size(one), ["tank.volume", "pump.model"]).index) == [
        "tank.volume", "pump.model",
    ]  # fmt: skip
    with pytest.raises(DesignError, match="not a figure"):
        differences(one, other, ["tank.volum"])


@pytest.mark.parametrize("row", ROWS[::7], ids=lambda row: row.id)
def test_printed_figures_stand_beside_ours(row):
    (found,) = published(row.id)
    ours = call(row.function, json.loads(row.arguments))
    assert found.apart == pytest.approx((ours - row.value) / row.value if row.value else 0.0)
    assert row.source.split("&")[0][:30] in found.check.source
    text = published(row.id)._repr_html_()
    assert "<table>" in text
    assert found.words in text


def test_printed_figures_are_found_by_relation_and_refused_by_a_wrong_name():
    assert len(published("pipes.pipes.friction_factor", "solids-S001")) > 3
    with pytest.raises(DesignError, match="neither a row"):
        published("solids-S999")


def test_an_answer_is_judged_as_the_exercises_judge_it():
    task = exercise("solids-area", "K7QP-4")
    (ask,) = task.problem.exercise.asks
    area = task.problem.answer(ask)
    feet = area / 0.3048**2
    for right in (f"{feet:.4f} ft²", area * ureg.m**2, (area * ureg.m**2).to("ft**2")):
        assert check(task, right).right
    assert check(task, area=f"{feet:.4f} ft²").right
    wrong = check(task, f"{60 * feet:.4f} ft²")
    assert not wrong.right
    assert "multiplied by 60" in repr(wrong)
    assert "Nothing is answered" in repr(check(task))
    assert "multiplied by 60" in wrong._repr_html_()
    with pytest.raises(ExerciseError, match="1 answers"):
        check(task, "1 ft²", "2 ft²")
    with pytest.raises(ExerciseError, match="not asked"):
        check(task, speed="1 ft/s")


def test_the_numbers_are_the_learners_own():
    texts = {repr(exercise("solids-area", f"CODE-{i}")) for i in range(12)}
    assert len(texts) > 4
    assert repr(exercise("solids-area", "CODE-1")) == repr(exercise("solids-area", "CODE-1"))
    task = exercise("biofilter-choose", "CODE-1")
    assert all(words in task._repr_html_() for words in ("A:", "B:"))
    assert task.hint(1)
