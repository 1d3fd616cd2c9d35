"""Slips that any sum can hold, at every exercise with a number; and no word on size alone."""

import pytest

from rsdesign.core.units import from_plain
from rsdesign.teaching import generic_slips
from rsdesign.teaching.bank import bank, exercise
from rsdesign.teaching.cases import close
from rsdesign.teaching.checking import check
from rsdesign.teaching.generic_slips import GENERIC, UPSIDE_DOWN, WRONG_SIDE
from rsdesign.teaching.variants import learner_key, problem

WITH = [e for e in bank().values() if e.numbers]


def own(name, learner="A1"):
    return problem(exercise(name), learner, learner_key("k", learner))


def answered(found, ask, number):
    """What is said where all before is right and this number is typed."""
    typed = {}
    for one in found.exercise.asks:
        if one.form != "number":
            typed[one.name] = found.answer(one)
            continue
        unit = one.kind.unit(one.unit)
        value = number if one is ask else from_plain(found.answer(one), unit)
        typed[one.name] = f"{value:.6g} {unit.label}"
    return next(c for c in check(found, typed).checked if c.ask == ask.name)


def number_of(found, ask):
    return from_plain(found.answer(ask), ask.kind.unit(ask.unit))


def test_the_bucket_of_the_report():
    """5 gal in 22 s: 22 ÷ 5 is the division upside down, which no list of the exercise holds."""
    found = own("flow-bucket")
    assert "5 gal" in found.text
    assert "22 s" in found.text
    said = answered(found, found.exercise.asks[0], 4.4)
    assert said.mistake == UPSIDE_DOWN
    assert "upside down" in said.words
    said = answered(found, found.exercise.asks[0], 5 * 22 * 60)
    assert said.mistake == WRONG_SIDE
    assert "22 s" in said.words


@pytest.mark.parametrize(
    ("factor", "name"), [(46 / 14, "nitrite"), (18 / 14, "ammonium"), (62 / 14, "nitrate")]
)
def test_the_whole_ion_for_its_nitrogen(factor, name):
    """At an exercise on nitrogen whose own list does not hold it."""
    found = own("biofilter-volume")
    ask = found.exercise.numbers[0]
    for times in (factor, 1 / factor):
        said = answered(found, ask, number_of(found, ask) * times)
        assert said.mistake == generic_slips.ION
        assert name in said.words


@pytest.mark.parametrize("e", WITH, ids=[e.id for e in WITH])
def test_a_number_on_the_wrong_side_is_told(e):
    """Whatever divides is multiplied by instead, at each number of each exercise."""
    found = own(e.id)
    for ask in e.numbers:
        if ask.kind.family in generic_slips.AFFINE:
            continue
        truth = number_of(found, ask)
        earlier = {a.name: found.answer(a) for a in e.numbers[: e.numbers.index(ask)]}
        for one in generic_slips._inputs(found.case, ask, earlier):
            wrong = truth * one.numbers[0] ** (-2 * one.power)
            if abs(wrong / truth - 1) <= 2 * ask.tolerance:
                continue
            said = answered(found, ask, wrong)
            assert not said.right
            assert said.mistake, (ask.name, one.words, said.words)


def test_powers_are_found_from_the_steps():
    """Volume of a round tank: the square of the width, once the depth, and never the wall."""
    found = own("tank-round")
    powers = generic_slips._powers(found.exercise, found.case.index, "volume", frozenset())
    assert dict(powers) == {"across": 2, "depth": 1}
    found = own("power-battery")
    powers = generic_slips._powers(
        found.exercise, found.case.index, "battery", frozenset({"energy"})
    )
    assert dict(powers) == {"usable": -1, "energy": 1}


@pytest.mark.parametrize("e", WITH, ids=[e.id for e in WITH])
def test_size_is_never_said_alone(e):
    """A number that fits no slip brings the idea of the exercise with it."""
    found = own(e.id)
    idea = found.case.fill(e.principle)
    for ask in e.numbers:
        for times in (1.0771, 0.9137, 1.6173, 0.0379):
            value = number_of(found, ask) * times
            said = answered(found, ask, value)
            if close(ask, times, 1.0):
                continue
            assert not said.right
            if not said.mistake:
                assert idea in said.words
            assert said.words not in ("Your number is too small.", "Your number is too large.")


def test_each_slip_has_words_for_all():
    assert all(len(words) > 30 for words in GENERIC.values())
