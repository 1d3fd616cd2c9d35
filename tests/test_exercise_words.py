"""What exercises and their feedback say: title, question and key mean the same."""

import itertools
from types import SimpleNamespace

import pytest

from rsdesign.teaching import classtable
from rsdesign.teaching.bank import exercise
from rsdesign.teaching.cases import case, fault
from rsdesign.teaching.checking import check
from rsdesign.teaching.classbook import ClassBook, with_check
from rsdesign.teaching.drawing_numbers import status
from rsdesign.teaching.exercises import exercise_set, page
from rsdesign.teaching.hints import expert_path, shown_answer
from rsdesign.teaching.marking import mark_items
from rsdesign.teaching.papergrid import grid
from rsdesign.teaching.sets import set_plan
from rsdesign.teaching.variants import learner_key, problem

KEY = "an invented class key"


def own(name, learner="A1"):
    return problem(exercise(name), learner, learner_key(KEY, learner))


def sound(e):
    return [i for i in range(e.combinations) if not fault(e, i)]


def test_what_leaves_the_most_minutes_is_ranked_by_minutes_left():
    """Title, question and key agree: first is what leaves the most, last the alarm that rings too late."""
    e = exercise("power-rank")
    assert "most minutes" in e.title
    assert "the most minutes first" in e.question
    assert len(sound(e)) >= 8
    orders = set()
    for index in sound(e):
        found = case(e, index)
        order = found.value(e.ask("order"))
        minutes = [found.options[place]["time"] for place in order]
        assert minutes == sorted(minutes, reverse=True)
        assert "alarm" in found.option(order[-1])
        assert minutes[-1] < found.truth["time"], "it leaves less than no change at all"
        orders.add(order)
    assert len(orders) > 1, "not always the same order"


def test_who_ranks_the_size_of_a_change_is_told_so():
    found = own("power-rank")
    minutes = {
        letter: found.case.options[found.order["ABCD".index(letter)]]["time"] for letter in "ABCD"
    }
    by_effect = "".join(
        sorted(minutes, key=lambda x: -abs(minutes[x] / found.case.truth["time"] - 1))
    )
    assert "ranked how much each change does" in check(found, {"order": by_effect}).words


def test_a_wrong_order_says_which_place_to_look_at_and_not_that_it_is_right():
    found = own("tank-rank")
    (ask,) = found.exercise.asks
    right, said = found.answer(ask), []
    for order in map("".join, itertools.permutations(right)):
        told = check(found, {ask.name: order}).checked[0]
        if told.mistake == "letters in another order":
            place = next(i for i, (a, b) in enumerate(zip(order, right, strict=True)) if a != b)
            assert f"Look first at place {place + 1} of your order" in told.words
            assert f"{order[place]} does not belong there" in told.words
            said.append(order)
    assert len(said) > 10


def test_no_internal_name_stands_in_tomorrows_first_five_minutes():
    book = ClassBook(KEY, tuple(with_check(b) for b in ("K7QP", "M3TT", "W9XZ")))
    plan, typed = set_plan("three-hours"), {}
    for code in book.codes:
        found = exercise_set(plan.name, code, book.key).problem("tank-rank")
        right = found.answer(found.exercise.asks[0])
        for order in (right[0] + right[2] + right[1] + right[3:], right[1] + right[0] + right[2:]):
            said = check(found, {found.exercise.asks[0].name: order}).checked[0]
            if said.mistake == "letters in another order":
                typed[code] = {f"tank-rank:{found.exercise.asks[0].name}": order}
    assert typed
    marks = mark_items([("g.csv", grid(plan, book.codes, typed))], book.key, book.codes).marks
    (line, *_) = classtable.first_five_minutes(marks)
    assert line.startswith("What makes a tank larger?, letters in another order")


@pytest.mark.parametrize(("rule", "value", "words"), [
    ("first below", 3.0, "is below the limit, but an earlier one is too"),
    ("first below", 5.0, "is above the limit, and one below it is asked for"),
    ("last above", 5.0, "is above the limit, but a later one is too"),
    ("first above", 3.0, "is below the limit, and one above it is asked for"),
])  # fmt: skip
def test_a_wrong_pick_is_told_on_which_side_of_the_limit_it_lies(rule, value, words):
    ask = SimpleNamespace(rule=rule)
    assert status(ask, value, 4.0, 0.0, float("inf")) == words
    found = own("air-log")
    first = check(found, {"day": "A"}).checked[0]
    assert first.words.startswith("A is above the limit, and one below it is asked for. Read down")


def test_a_difference_of_temperatures_is_in_celsius_and_fahrenheit():
    found = own("heat-warmup")
    rise = found.exercise.ask("rise")
    text = shown_answer(found, rise)
    assert text.count("°C") == text.count("°F") == 1
    assert " K" not in " ".join(expert_path(found)[-3:])
    assert page(found)["asks"][0]["units"] == ["°C"]
    assert check(found, {"rise": text}).checked[0].right
    assert "in °C" in check(found, {"rise": "16 °F"}).checked[0].words


def test_the_questions_say_what_is_rounded_and_what_a_price_is_for():
    assert "round up" in exercise("feed-cohorts").question
    e = exercise("costs-break-even")
    texts = [
        e.question,
        *(a.text for a in e.asks),
        e.relation,
        e.worked,
        *(s.words for s in e.misconceptions),
    ]
    assert not any("unit" in text for text in texts)
    assert "has not begun" in e.ask("stop").text
