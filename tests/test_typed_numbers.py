"""What people type for a number: fractions, feet and inches, thousands, commas; and nonsense."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rsdesign.core import units
from rsdesign.core.choices import DesignError
from rsdesign.core.kinds import FAMILIES, KINDS, UnitError
from rsdesign.design.file import read_design
from rsdesign.design.model import FIELDS
from rsdesign.pages.controls import allowed, read
from rsdesign.pages.session import Session

FT, IN, LB = 0.3048, 0.0254, 0.45359237

WRITTEN = [
    ("6 1/2 ft", 6.5 * FT), ("6-1/2 ft", 6.5 * FT), ("6½ ft", 6.5 * FT), ("½ ft", 0.5 * FT),
    ("6 ½ ft", 6.5 * FT), ("1/4 in", 0.25 * IN), ("-1/2 ft", -0.5 * FT), ("6 1/2in", 6.5 * IN),
    ("6'6\"", 6.5 * FT), ("6' 6\"", 6.5 * FT), ("6'-6\"", 6.5 * FT), ("6'6", 6.5 * FT),
    ("6’ 6”", 6.5 * FT), ("6′6″", 6.5 * FT), ("6'6''", 6.5 * FT), ("6'", 6 * FT), ('78"', 6.5 * FT),
    ("6 ft 6 in", 6.5 * FT), ("6ft6in", 6.5 * FT), ("6 feet, 6 inches", 6.5 * FT),
    ("6 feet and 6 inches", 6.5 * FT), ("6 ft. 6 in.", 6.5 * FT), ("-6 ft 6 in", -6.5 * FT),
    ("6 ft 6 1/2 in", 6 * FT + 6.5 * IN), ("6' 6½\"", 6 * FT + 6.5 * IN), ("4 1/2 in", 4.5 * IN),
    ("1,000 ft", 1000 * FT), ("1,000.5 ft", 1000.5 * FT), ("1 000 ft", 1000 * FT),
    ("1\u202f000 ft", 1000 * FT), ("12,345,678 mm", 12345.678), ("1.440,0 mm", 1.44),
    ("1.234.567 mm", 1234.567), ("1,5 ft", 1.5 * FT), ("0,500 ft", 0.5 * FT), ("1,50 ft", 1.5 * FT),
    ("1.500 ft", 1.5 * FT), (".5 ft", 0.5 * FT), ("5. ft", 5 * FT), ("1 000,5 mm", 1.0005),
    ("1e3 mm", 1.0), ("1.5 x 10^3 mm", 1.5), ("2 meters", 2.0), ("+3 FEET", 3 * FT),
]  # fmt: skip


@pytest.mark.parametrize(("text", "plain"), WRITTEN)
def test_what_a_grower_types_for_a_length_is_read(text, plain):
    assert units.parse(text, KINDS["length"]) == pytest.approx(plain, rel=1e-12)


@pytest.mark.parametrize(("text", "kind", "plain"), [
    ("3 lb 4 oz", "mass", 3.25 * LB), ("1 h 30 min", "time", 5400.0), ("30 C", "temperature", 30.0),
    ("86F", "temperature", 30.0), ("1,500", "count", 1500.0),
    ("$1,500", "money", 1500.0), ("99,50", "money", 99.5), ("5/1000 gal", "price of water", 5 / 3.785411784),
    ("600 per 1000 gal", "price of water", 600 / 3.785411784), ("12 1/h", "transfer coefficient", 12 / 3600),
    ("1'000 gal", "volume", 3.785411784), ("40 pounds a week", "feed rate", 40 * LB / 604800),
    ("1,440 gallons", "volume", 1440 * 0.003785411784),
])  # fmt: skip
def test_what_a_grower_types_for_other_things_is_read(text, kind, plain):
    assert units.parse(text, KINDS[kind]) == pytest.approx(plain, rel=1e-12)


@pytest.mark.parametrize(("text", "told"), [
    ("6 ft 14 in", "write less than 12 in"), ("6.5 ft 3 in", "in one unit"), ("6 ft 6", "write in"),
    ("6 5/4 ft", "a fraction that is none"), ("1/0 ft", "a fraction that is none"),
    ("1/2/3 ft", "'/2/3 ft' is not a unit"), ("1,00,5 ft", "write it like 1550.5"),
    ("1.5.2 ft", "odd places"), ("5, ft", "odd places"), ("0,500,000 ft", "odd places"),
    ("2-3 ft", "not a unit"), ("2 x 100 ft", "not a unit"), ("6 ft 6 lb", "write in"), ("3 1 ft", "not a unit"),
    ("1e999 ft", "finite"), ("--5 ft", "start with a number"),
])  # fmt: skip
def test_what_can_mean_nothing_or_two_things_is_asked_back(text, told):
    with pytest.raises(UnitError) as wrong:
        units.parse(text, KINDS["length"])
    assert told in str(wrong.value)
    assert "\n" not in str(wrong.value)


@pytest.mark.parametrize(("text", "system", "box"), [
    ("6'6\"", "us", "6.5"), ("6 1/2", "us", "6.5"), ("6 ft 6 in", "metric", "1.9812"),
    ("78 in", "us", "6.5"), ("1,50", "metric", "1.5"),
])  # fmt: skip
def test_the_box_then_shows_the_value_in_the_unit_of_the_page(text, system, box):
    from rsdesign.pages.blocks import choices

    session = Session("fish", system)
    session.handle({"do": "set", "path": "tank.width", "text": text})
    field = next(c for c in choices(session) if c["path"] == "tank.width")
    assert field["wrong"] == ""
    assert field["text"] == box


def test_a_temperature_in_the_other_scale_stands_in_the_scale_of_the_page():
    from rsdesign.pages.blocks import choices

    session, path = Session("start", "us"), "site.warmest_water"
    session.handle({"do": "set", "path": path, "text": "30 C"})
    field = next(c for c in choices(session) if c["path"] == path)
    assert (field["wrong"], field["text"], field["unit"]) == ("", "86", "°F")


@pytest.mark.parametrize(("text", "said"), [("1e9", "1,000,000,000 ft"), ("1e15", "far too large"),
                                            ("1e300", "far too large")])  # fmt: skip
def test_a_number_far_out_is_refused_with_a_number_that_can_be_read(text, said):
    with pytest.raises(DesignError) as wrong:
        read(text, FIELDS["tank.width"], "us")
    assert said in str(wrong.value)
    assert "e+" not in str(wrong.value)


NUMBERS = [f for f in FIELDS.values() if f.kind is not None and f.choice.low is not None]


@pytest.mark.parametrize("system", units.SYSTEMS)
@pytest.mark.parametrize("text", ["4 1/0", "abc", "3 furlong", "1,00,5", "1e99", "-1e9", ""])
def test_a_refusal_names_field_value_and_range_in_the_units_of_the_page(text, system):
    for entry in NUMBERS:
        try:
            read(text, entry, system)
        except DesignError as wrong:
            words = str(wrong)
        else:
            assert text == "", (entry.path, text)
            continue
        assert words.startswith(entry.choice.label), words
        assert allowed(entry, system) in words, words
        assert "\n" not in words
        if text in ("4 1/0", "abc", "1,00,5"):
            assert f"'{text}'" in words, words


def test_a_file_reads_what_the_page_reads():
    said = {"6 ft 6 in": 6.5 * FT, "6 1/2 ft": 6.5 * FT, "1,980.5 mm": 1.9805, "1,98 m": 1.98}
    for text, plain in said.items():
        design = read_design(f"[goal]\nfish = 10\n[tank]\nwidth = '{text}'\n", "The file")
        assert design.tank.width == pytest.approx(plain, rel=1e-12)


def test_the_command_reads_a_sum_of_money_as_the_page_does():
    from rsdesign.commands.parser import money
    from rsdesign.pages.own_blocks import _budget

    for text in ("1,500", "$1500", "1 500", "1500.00"):
        assert money(text) == _budget(text) == 1500.0


SHOWABLE = [k for k in KINDS.values() if k.name not in ("count", "animals")]  # shown whole


@given(st.floats(1e-4, 1e9), st.sampled_from(SHOWABLE), st.sampled_from(units.SYSTEMS))
def test_what_is_shown_reads_back_as_the_same(value, kind, system):
    unit = kind.shown(system)
    once = units.parse(units.show(units.to_plain(value, unit), kind, system, 17), kind)
    assert once == pytest.approx(units.to_plain(value, unit), rel=1e-12, abs=1e-12)
    shown = units.show(once, kind, system)
    assert units.show(units.parse(shown, kind), kind, system) == shown, "shown to three figures"


@given(st.integers(0, 10**14))
def test_a_count_is_shown_and_read_back(value):
    text = units.number(value, 16)
    assert units.parse(text, KINDS["count"]) == value


@given(st.integers(0, 99), st.integers(0, 11), st.sampled_from([0, 1, 2, 3, 4, 5, 6, 7]),
       st.sampled_from(["{f}' {i}{s}\"", "{f} ft {i}{s} in", "{f}'-{i}{s}\"", "{f} feet {i}{s} inches"]))  # fmt: skip
def test_feet_inches_and_eighths_are_exact(feet, inches, eighths, form):
    text = form.format(f=feet, i=inches, s=f" {eighths}/8" if eighths else "")
    assert units.parse(text, KINDS["length"]) == pytest.approx(
        feet * FT + (inches + eighths / 8) * IN, rel=1e-12
    )


LABELS = sorted(
    {label for row in FAMILIES.values() for u in row for label in (u.label, *u.aliases)}
)
PIECES = st.sampled_from([*"0123456789.,'\"/-+ ½¼⅓⁄xe()^%$€°²³·×", "1,000", "6 1/2", " ft ", " in ", "10^",
                          "1e99", "\u00a0", "\x00", "٣", "nan", "inf", "−", *LABELS])  # fmt: skip


@given(st.lists(PIECES, max_size=12).map("".join) | st.text(max_size=90),
       st.sampled_from(list(KINDS.values())), st.sampled_from(units.SYSTEMS))  # fmt: skip
def test_nonsense_is_a_number_or_the_one_error(text, kind, system):
    try:
        value = units.parse(text, kind, kind.shown(system))
    except UnitError as wrong:
        said = str(wrong)
        good = said and "\n" not in said and len(said) < 400
    else:
        good = isinstance(value, float) and math.isfinite(value)
    assert good


@given(st.text(max_size=300))
def test_nothing_typed_into_a_page_raises_anything_but_a_sentence(text):
    for path in ("tank.width", "goal.fish", "prices.feed"):
        said = ""
        try:
            read(text, FIELDS[path], "us")
        except DesignError as wrong:
            said = str(wrong)
        assert "\n" not in said
