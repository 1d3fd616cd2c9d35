"""What people type into a box: units in words of two languages, small sums, slips of the keyboard."""

import ast
import contextlib
import random
import re
from pathlib import Path

import pytest

from rsdesign.core import unit_words as unitwords
from rsdesign.core.kinds import FAMILIES, KINDS, UnitError
from rsdesign.core.units import from_plain
from rsdesign.pages.classroom import class_session
from rsdesign.teaching import typed_sums
from rsdesign.teaching.answers import unit_named
from rsdesign.teaching.bank import bank, exercise
from rsdesign.teaching.checking import check
from rsdesign.teaching.marking import mark_one
from rsdesign.teaching.sets import set_plan
from rsdesign.teaching.submissions import Work
from rsdesign.teaching.typed_sums import read_number, sum_end
from rsdesign.teaching.variants import learner_key, problem

KEY = "an invented class key"


def own(name: str, learner: str = "A1"):
    return problem(exercise(name), learner, learner_key(KEY, learner))


def gallons(found) -> float:
    (ask,) = found.exercise.asks
    return from_plain(found.answer(ask), ask.kind.unit("gal"))


def one(found, text: str):
    (ask,) = found.exercise.asks
    return check(found, {ask.name: text}).checked[0]


# --- units ------------------------------------------------------------------------------------

SPANISH = [
    ("galones", "volume", "gal"), ("galón", "volume", "gal"), ("Galones de agua", "volume", "gal"),
    ("litros", "volume", "L"), ("mililitros", "volume", "mL"), ("metros cúbicos", "volume", "m³"),
    ("pies cúbicos", "volume", "ft³"), ("libras", "mass", "lb"), ("kilos", "mass", "kg"),
    ("kilogramos", "mass", "kg"), ("gramos", "mass", "g"), ("onzas", "mass", "oz"), ("toneladas", "mass", "t"),
    ("horas", "time", "h"), ("minutos", "time", "min"), ("segundos", "time", "s"), ("dias", "time", "day"),
    ("días", "days", "day"), ("semanas", "weeks", "week"), ("años", "years", "year"),
    ("pies", "length", "ft"), ("pulgadas", "length", "in"), ("metros", "length", "m"),
    ("centímetros", "length", "cm"), ("milímetros", "length", "mm"), ("pies cuadrados", "area", "ft²"),
    ("metros cuadrados", "area", "m²"), ("grados Fahrenheit", "temperature", "°F"),
    ("grados centígrados", "temperature", "°C"), ("grados C", "temperature", "°C"),
    ("galones por minuto", "flow", "gal/min"), ("litros por minuto", "flow", "L/min"),
    ("libras de alimento al día", "feed rate", "lb/day"), ("kilos por día", "feed rate", "kg/day"),
    ("gramos por hora", "oxygen rate", "g/h"), ("vatios", "power", "W"), ("kilovatios", "power", "kW"),
    ("kilovatios-hora", "energy", "kWh"), ("por ciento", "fraction", "%"),
    ("partes por millón", "concentration", "mg/L"),
]  # fmt: skip
ENGLISH = [
    ("gallons of water", "volume", "gal"), ("US gallons", "volume", "gal"), ("gals", "volume", "gal"),
    ("imperial gallons", "volume", "imp gal"), ("UK gallon", "volume", "imp gal"),
    ("pounds of feed a day", "feed rate", "lb/day"), ("grams of oxygen per hour", "oxygen rate", "g/h"),
    ("feet of head", "head", "ft"), ("watt hours", "energy", "Wh"), ("cubic feet", "volume", "ft³"),
    ("sq ft", "area", "ft²"), ("ounces", "mass", "oz"), ("ppm", "concentration", "mg/L"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "kind", "label"), SPANISH + ENGLISH)
def test_words_for_units_are_read_in_english_and_spanish(text, kind, label):
    for written in (text, text.upper(), f"  {text}. "):
        found = unit_named(written, KINDS[kind])
        assert found is not None, written
        assert found.label == label, written


def test_every_word_means_a_label_of_the_closed_lists():
    known = {label for units in FAMILIES.values() for u in units for label in (u.label, *u.aliases)}
    for pattern, label in unitwords.WORDS:
        re.compile(pattern)
        assert label in known | {"", r"\1", r"\1²", r"\1³"}, pattern


def test_words_change_no_label_of_the_closed_lists():
    """A unit that is typed as the package writes it stays what it is."""
    kinds = {kind.family: kind for kind in reversed(KINDS.values())}
    for family, units in FAMILIES.items():
        for unit in units:
            assert unit_named(unit.label, kinds[family]) == unit, (family, unit.label)


def test_an_imperial_gallon_is_not_a_us_gallon():
    found = own("units-rule-volume")
    size = gallons(found)
    assert one(found, f"{size * 3.785411784 / 4.54609:.1f} imperial gallons").right
    taken = one(found, f"{size:.0f} imperial gallons")
    assert taken.number
    assert not taken.right
    assert taken.words == "The number is right in gal, but you wrote imp gal."


def test_words_in_an_answer_are_read_and_no_bad_unit_is_suggested():
    found = own("units-rule-volume")
    size = gallons(found)
    for unit in ("gallons of water", "galones", "galones de agua"):
        assert one(found, f"{size:.0f} {unit}").right
    assert one(found, f"{size * 3.785411784:.0f} litros").right
    litres = one(found, f"{size:.0f} litros")
    assert litres.words == "The number is right in gal, but you wrote L."


SLIPS = ["galz", "gqllons", "gallos", "litrs", "furlongs", "??", "L/", "galones y", "gal gal"]


@pytest.mark.parametrize("mistake", SLIPS)
def test_a_typing_slip_in_a_unit_costs_no_attempt_and_tells_nothing_of_the_number(mistake):
    """The words are the same for a right number and a wrong one: no free look at the answer."""
    found = own("units-rule-volume")
    size = gallons(found)
    right, wrong = one(found, f"{size:.0f} {mistake}"), one(found, f"{2.7 * size:.0f} {mistake}")
    assert right.words == wrong.words
    assert right.words.endswith("This costs no attempt.")
    assert "Did you mean" not in right.words
    for said in (right, wrong):
        assert not said.counted
        assert (said.number, said.share, said.mistake) == (False, 0.0, "")
    work = Work(({"volume": f"{size:.0f} {mistake}"},) * 3 + ({"volume": f"{size:.0f} gal"},))
    row = mark_one(found, work, set_plan("three-hours").rules)
    assert row.attempts == 1
    assert row.right


def test_degrees_without_a_scale_are_asked_about():
    found = next(
        problem(e, "A1", learner_key(KEY, "A1")) for e in bank().values()
        if any(a.kind.family == "temperature difference" for a in e.numbers)
    )  # fmt: skip
    ask = next(a for a in found.exercise.numbers if a.kind.family == "temperature difference")
    for word in ("grados", "degrees", "°"):
        said = next(c for c in check(found, {ask.name: f"12 {word}"}).checked if c.ask == ask.name)
        assert "Degrees of which scale" in said.words
        assert not said.counted


def test_a_box_that_cannot_be_read_holds_back_what_is_said_of_the_others():
    found = own("power-battery")
    first, second = found.exercise.asks
    good = f"{from_plain(found.answer(first), first.kind.unit('Wh')):.0f} Wh"
    bad = f"{3.3 * from_plain(found.answer(first), first.kind.unit('Wh')):.0f} Wh"
    words = []
    for text in (good, bad):
        said = check(found, {first.name: text, second.name: "500 Whz"})
        assert not said.counted
        words.append(said.checked[0].words.replace(text, "X"))
        assert said.checked[0].share == 0.0
    assert words == ["We read X. It is checked when every box can be read."] * 2
    assert check(found, {first.name: good}).counted, "a box that is left empty is no slip"


# --- sums -------------------------------------------------------------------------------------

SUMS = [
    ("3.1/7.43", 3.1 / 7.43, ""), ("=1+1", 2, ""), ("2*3.5 gal", 7, "gal"), ("3,1/7,43", 3.1 / 7.43, ""),
    ("2 x 3.5 gal", 7, "gal"), ("2×3.5 L/min", 7, "L/min"), ("10 ÷ 4", 2.5, ""), ("(2+3)*4 gal", 20, "gal"),
    ("2*(3+4)", 14, ""), ("10-3-2 h", 5, "h"), ("1.5e3/3 W", 500, "W"), ("1,500/3", 500, ""),
    ("1.500,5*2", 3001, ""), ("10 000 / 4 gal", 2500, "gal"), ("6 1/2 in", 6.5, "in"), ("-5+2", -3, ""),
    ("2 x 100 gal", 200, "gal"), ("3.1/7.43 = 0.417 lb", 0.417, "lb"), ("= 3 × 4 ft²", 12, "ft²"),
    ("1.5 x 10^3 W", 1500, "W"), ("2−1.5 m", 0.5, "m"), ("8/2/2", 2, ""), ("$1000/4", 250, ""),
]  # fmt: skip


@pytest.mark.parametrize(("text", "value", "rest"), SUMS)
def test_a_small_sum_is_worked_out(text, value, rest):
    number, _, after = read_number(text)
    assert number == pytest.approx(value, rel=1e-12)
    assert after == rest


@pytest.mark.parametrize("text", ["410 gal/day", "5 m³/h", "-1440", "1.440,0 gal", "5 ft 10 in", "35 %",
                                  "2 g/(m² day)", "12 lb/day", "3.5-", "7 kg/m³ ", "410 (1.55 m3)"])  # fmt: skip
def test_a_plain_number_and_its_unit_are_no_sum(text):
    assert sum_end(text) == 0
    assert read_number(text)[0] == pytest.approx(
        float(re.match(r"-?[\d.]+", text.replace(".440,0", "440"))[0])
    )


@pytest.mark.parametrize("text", [
    "1/0", "2**9", "2**9**9**9", "9^9^9", "1++*2", "()+1+1", "(1+2", "1+2)", "1e400*2", "1+" * 30 + "1",
    "(" * 30 + "1+1" + ")" * 30, "((((((((((1+1))))))))))))", "12-15 gal", "__import__('os')", "1+a",
    "1 if 1 else 2", "1+1;2", "0x10+1", "1_000+1", "1+1j", "[1]+[2]", "lambda: 1", "1+'2'", "1,2,3+4",
])  # fmt: skip
def test_a_sum_that_cannot_be_worked_out_is_a_sentence_and_no_attempt(text):
    found = own("units-rule-volume")
    with contextlib.suppress(
        UnitError
    ):  # or read up to where it is no sum any more, and refused there
        assert abs(read_number(text)[0]) < 1e6
    assert not one(found, f"{text}").right
    assert not check(found, {found.exercise.asks[0].name: f"{text} galz"}).counted


def test_nothing_is_evaluated_but_numbers_and_four_operations():
    """Every text of these characters either is a number or a sentence; no name is looked up."""
    rng = random.Random(7)
    for _ in range(4000):
        text = "".join(
            rng.choice("0123456789.,+-*/x×÷()^ =e'") for _ in range(rng.randrange(1, 24))
        )
        try:
            value, other, _ = read_number(text)
        except UnitError:
            continue
        assert abs(value) < float("inf")
        assert other is None or abs(other) < float("inf")
    source = ast.parse(Path(typed_sums.__file__).read_text(encoding="utf-8"))
    called = {
        n.func.id
        for n in ast.walk(source)
        if isinstance(n, ast.Call) and isinstance(n.func, ast.Name)
    }
    assert not called & {"eval", "exec", "compile", "getattr", "__import__"}


def test_a_sum_is_an_answer_and_goes_through_the_two_boxes():
    found = own("units-rule-volume")
    size = gallons(found)
    (ask,) = found.exercise.asks
    for number in (f"{size / 4:.4f}*4", f"={size - 100:.1f}+100", f"({size:.1f}+{size:.1f})/2",
                   f"2 x {size / 2:.2f}", f"{3 * size:.2f}/3 = {size:.0f}"):  # fmt: skip
        typed = class_session.typed_answers(found, {ask.name: {"number": number, "unit": "gal"}})
        assert typed == {ask.name: f"{number} gal"}
        assert check(found, typed).right, number
        boxes = class_session.split_unit(typed[ask.name])
        assert class_session.join_unit(boxes["number"], boxes["unit"]) == typed[ask.name]
    said = one(found, "1/0 gal")
    assert (
        said.words
        == "'1/0 gal' cannot be worked out here; write the result only. This costs no attempt."
    )
    assert not said.counted


def test_a_range_is_not_taken_for_a_difference():
    found = own("units-rule-volume")
    said = one(found, "1400-1500 gal")
    assert "looks like a range" in said.words
    assert not said.counted
