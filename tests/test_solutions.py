"""Solutions line by line: every sum worked out again with a pencil's arithmetic, in every unit."""

import math
import re

import pytest

from rsdesign.core.kinds import FAMILIES
from rsdesign.core.units import from_plain
from rsdesign.teaching import solutions
from rsdesign.teaching.bank import bank
from rsdesign.teaching.bank_file import read_exercise
from rsdesign.teaching.cases import case, fault
from rsdesign.teaching.hints import expert_path
from rsdesign.teaching.model import ExerciseError
from rsdesign.teaching.variants import learner_key, problem
from rsdesign.teaching.wording import numbers_in

WITH = [e for e in bank().values() if e.numbers]
NEAR = 0.006
"""Sums hold four figures and factors of three or four, such as 7.48 gal/ft³."""

BRACKETED = [u.label for units in FAMILIES.values() for u in units if "(" in u.label]
TOKEN = re.compile(r"\d[\d,]*\.?\d*|[×÷+\-()^√∛²³]|ln")


def worked_out(text: str) -> float:
    """What a sum gives: units are taken off, and what is left is plain arithmetic."""
    for label in BRACKETED:
        text = text.replace(f" {label}", "")
    text = re.sub(r"([\d.,]+) ?%(/\w+)?", r"(\1 ÷ 100)", text)
    text = re.sub(r"(?<=[\d)]) (per )?[A-Za-z°µ][\w°µ/·²³]*", "", text)
    tokens = TOKEN.findall(text.replace(", rounded up", ""))
    value, rest = _sum(tokens)
    assert not rest, (text, rest)
    return value


def _sum(tokens):
    value, tokens = _product(tokens)
    while tokens and tokens[0] in "+-":
        sign, (more, tokens) = tokens[0], _product(tokens[1:])
        value = value + more if sign == "+" else value - more
    return value, tokens


def _product(tokens):
    value, tokens = _power(tokens)
    while tokens and tokens[0] in "×÷":
        sign, (more, tokens) = tokens[0], _power(tokens[1:])
        value = value * more if sign == "×" else value / more
    return value, tokens


def _power(tokens):
    value, tokens = _atom(tokens)
    while tokens and tokens[0] in "^²³":
        if tokens[0] == "^":
            more, tokens = _atom(tokens[1:])
            value = value**more
        else:
            value, tokens = value ** (2 if tokens[0] == "²" else 3), tokens[1:]
    return value, tokens


DOES = {"-": lambda x: -x, "√": math.sqrt, "∛": math.cbrt, "ln": math.log}


def _atom(tokens):
    first, tokens = tokens[0], tokens[1:]
    if first in DOES:
        value, tokens = _atom(tokens)
        return DOES[first](value), tokens
    if first == "(":
        value, tokens = _sum(tokens)
        assert tokens[0] == ")"
        return value, tokens[1:]
    return float(first.replace(",", "")), tokens


def test_the_pencil_works_out_what_it_should():
    """The check can fail: these sums are worked out by hand."""
    assert worked_out("2 ft × (3 ft - 1 ft)² ÷ 50% - 1") == 15
    assert worked_out("∛(27 g) + ln(1) + √(16 m²) + 10^-2 years") == pytest.approx(7.01)
    assert worked_out("60 g/day ÷ 0.3 g/(m² day) × 4 %/m") == pytest.approx(8)


@pytest.mark.parametrize("e", WITH, ids=[e.id for e in WITH])
def test_every_sum_gives_what_it_says(e):
    """Over combinations from all over the list; what is read off a page is left out."""
    assert e.solution, "an exercise with a number has its solution written out"
    assert e.solution[-1].gives == e.numbers[-1].name or e.form in ("read a log", "season")
    places = [i for i in range(e.combinations) if not fault(e, i)]
    for index in places[:: max(1, len(places) // 6)]:
        found = case(e, index)
        for line in solutions.lines(found):
            result = numbers_in(line.result)[0]
            if not line.worked.look:
                value = worked_out(line.before)
                value = math.ceil(value) if "rounded up" in line.before else value
                unit = 0.01 if "%" in line.result else 1.0
                assert value == pytest.approx(result * unit, rel=NEAR), line.sum
        for ask in e.numbers:
            last = [line for line in solutions.lines(found) if line.worked.gives == ask.name][-1]
            unit = ask.kind.unit(last.worked.unit) if last.worked.unit else ask.kind.plain
            right = from_plain(found.truth[ask.name], unit)
            assert numbers_in(last.result)[0] == pytest.approx(right, rel=1e-3), last.sum


@pytest.mark.parametrize("e", WITH, ids=[e.id for e in WITH])
def test_a_sum_has_its_units_and_a_step_its_reason(e):
    found = problem(e, "A1", learner_key("k", "A1"))
    shown = solutions.lines(found.case)
    for line in shown:
        kind = found.exercise and solutions.kinds_of(e)[line.worked.gives]
        if kind is not None and kind.plain.label:
            assert re.search(r"[A-Za-z%°]", line.result), line.sum
            assert re.search(r"\d ?(%|[a-zA-Z°])", line.before), line.sum
        assert 20 < len(line.worked.why) < 110, line.worked.why
        assert line.worked.why.endswith(".")
    whys = [line.worked.why for line in shown]
    assert len(set(whys)) == len(whys), "two steps share their reason"
    path = expert_path(found)
    assert all(any(line.sum in words for words in path) for line in shown)


def test_few_lines_are_read_off_a_page():
    looked = [e.id for e in WITH if any(line.look for line in e.solution)]
    assert looked == ["solids-velocity", "whole-feed"]


RAW = {
    "id": "x", "form": "one step", "title": "T", "level": 1, "minutes": 3, "objective": "o",
    "question": "q", "draw": {"volume": {"kind": "volume", "from": ["3 gal", "4 gal"]}},
    "ask": [{"name": "volume", "unit": "L", "tolerance": 0.02, "why": "w", "low": "1 L", "high": "99 L"}],
    "hint": {"principle": "p", "relation": "r", "worked": "w"},
}  # fmt: skip


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("{volume:gal} × 3.785", "has to end in"),
        ("3 = {other:L}", "has to end in"),
        ("3 = {volume:kg}", "kg"),
    ],
)
def test_a_line_that_cannot_be_is_one_sentence(line, words):
    with pytest.raises(ExerciseError, match=words):
        read_exercise({**RAW, "solution": [{"sum": line, "why": "because"}]}, "units")


def test_a_solution_has_to_come_to_all_that_is_asked():
    with pytest.raises(ExerciseError, match="does not come to volume"):
        read_exercise(
            {**RAW, "draw": {**RAW["draw"], "time": {"kind": "time", "from": ["2 s", "3 s"]}},
             "solution": [{"sum": "3 s = {time:s}", "why": "because"}]}, "units")  # fmt: skip
