"""The package at a prompt and in a notebook: units in, quantities and tables out, Tab completes."""

import html
import inspect
import re
import subprocess
import sys

import numpy as np
import pytest
from designs import demo

import rsdesign
from rsdesign import Design, size, sweep, ureg, with_values
from rsdesign.core.choices import DesignError
from rsdesign.core.kinds import UnitError
from rsdesign.core.notebook import LINES, table
from rsdesign.design.model import FIELDS, WORDS

FEET = 3 * 0.3048
GPM = ureg.gallon / ureg.minute


@pytest.fixture(scope="module")
def family():
    return size(demo("family"))


# --- values with units ---------------------------------------------------------------------


@pytest.mark.parametrize("depth", ["3 ft", "36 in", "914.4 mm", 3 * ureg.ft, 36 * ureg.inch, FEET])
def test_a_choice_takes_text_quantities_and_plain_numbers(depth):
    for design in (
        with_values(Design(), {"tank.depth": depth}),
        with_values(Design(), **{"tank.depth": depth}),
        Design().with_(tank_depth=depth),
    ):
        assert design.tank.depth == pytest.approx(FEET, rel=1e-15)
        assert type(design.tank.depth) is float


def test_text_and_the_same_quantity_make_equal_designs():
    for path, text, quantity in (
        ("tank_depth", "3 ft", 3 * ureg.ft),
        ("goal_harvest", "480 lb/year", 480 * ureg.pound / ureg.year),
        ("site_water_temperature", "80 °F", ureg.Quantity(80, "degF")),
        ("keep_oxygen", "5 mg/L", 5 * ureg.mg / ureg.liter),
        ("filter_removal", "60 %", 60 * ureg.percent),
    ):
        assert Design().with_(**{path: text}) == Design().with_(**{path: quantity}), path


def test_words_and_none_stay_as_they_are():
    design = Design().with_(name="3 ft", tank_shape="rectangle", tank_width=None)
    assert (design.name, design.tank.shape, design.tank.width) == ("3 ft", "rectangle", None)


@pytest.mark.parametrize(
    "depths",
    [["2 ft", "3 ft"], ("2 ft", 3 * ureg.ft), [2, 3] * ureg.ft, np.array([2, 3]) * 0.3048],
    ids=["texts", "mixed", "quantity of an array", "plain array"],
)
def test_a_choice_takes_a_row_of_values(depths):
    design = Design().with_(goal_fish=180.0, tank_depth=depths)
    assert design.tank.depth == pytest.approx(np.array([2, 3]) * 0.3048)
    assert np.shape(size(design).pump.head) == (2,)


@pytest.mark.parametrize(
    ("path", "value", "said"),
    [
        ("tank.depth", "3", "has no unit"),
        ("tank.depth", "3 kg", "'kg' is not a unit of length"),
        ("tank.depth", "deep", "does not start with a number"),
        ("tank.depth", 3 * ureg.kg, "kilogram is not a unit of that"),
        ("tank.depth", ["2 ft", "3 kg"], "'kg' is not a unit of length"),
        ("site.water_temperature", ureg.Quantity(5, "delta_degF"), "difference of temperatures"),
        ("prices.feed", 3 * ureg.ft, "foot"),
    ],
)
def test_a_wrong_unit_is_one_sentence_with_field_and_range(path, value, said):
    with pytest.raises(DesignError) as wrong:
        with_values(Design(), {path: value})
    text = str(wrong.value)
    assert text.startswith(path)
    assert said in text
    assert "allowed is" in text
    assert "\n" not in text


def test_a_value_out_of_range_is_refused_by_the_sizing():
    with pytest.raises(DesignError, match=r"tank.depth.*30 ft.*outside"):
        size(Design().with_(goal_fish=100.0, tank_depth="30 ft"))


def test_an_unknown_choice_names_the_nearest():
    with pytest.raises(DesignError, match=r"Did you mean tank\.depth"):
        with_values(Design(), {"tank.dpeth": 1.0})
    with pytest.raises(DesignError, match="Did you mean tank_depth"):
        Design().with_(tank_dpeth=1.0)


def test_every_choice_has_one_word():
    assert len(WORDS) == len(FIELDS)
    assert list(inspect.signature(Design().with_).parameters) == list(WORDS)


# --- equality ------------------------------------------------------------------------------


def test_designs_are_equal_by_their_values():
    assert demo("family") == demo("family")
    assert hash(demo("family")) == hash(demo("family"))
    assert demo("family") != demo("school")
    one = demo("family")
    for path, entry in FIELDS.items():
        if entry.choice.low is not None and entry.choice.sweep:
            assert with_values(one, {path: entry.choice.low * 0.5 + 1.2345e-7}) != one, path
    assert one != "family"
    assert Design(unknown=("tank.depth",)) != Design()


def test_designs_with_arrays_are_equal_by_every_value():
    row = Design().with_(tank_depth=[0.6, 0.9])
    assert row == Design().with_(tank_depth=[0.6, 0.9])
    assert row != Design().with_(tank_depth=[0.6, 0.8])
    assert row != Design().with_(tank_depth=0.6)
    with pytest.raises(TypeError):
        hash(row)


# --- results -------------------------------------------------------------------------------


def test_a_figure_is_a_quantity(family):
    volume = family["tank.volume"]
    assert volume.to("m**3").magnitude == family.tank.volume
    assert volume.to("gal").magnitude == pytest.approx(family.tank.volume / 231 / 0.0254**3)
    assert family["pump.pipe"].check("[length]")
    assert family["tank.depth"] == family.design["tank.depth"]
    assert family["solids.overflow_rate"].check("[length]/[time]")
    assert isinstance(family["pump.model"], str)
    assert family.design["prices.feed"] == family.design.prices.feed


def test_a_figure_that_is_not_there_is_one_sentence(family):
    with pytest.raises(KeyError, match=r"did you mean .tank\.volume"):
        family["tank.volum"]
    with pytest.raises(KeyError, match=r"did you mean .tank\.depth"):
        family.design["tank.dpth"]


@pytest.mark.parametrize("name", ["family", "school", "commercial"])
def test_the_plain_text_is_short(name):
    design = demo(name)
    many = design.with_(tank_depth=["2.5 ft", "3 ft"])
    for thing in (design, many, Design(), size(design), size(many)):
        text = repr(thing)
        assert 1 <= len(text.splitlines()) <= LINES
        assert max(map(len, text.splitlines())) < 200
        if isinstance(thing, rsdesign.Sizing):
            assert len(repr(thing.checks).splitlines()) <= LINES


def test_the_html_stands_alone_and_escapes_text():
    bad = "<script>alert(1)</script>"
    design = demo("family").with_(name=bad, site_place=bad)
    sizing = size(design)
    for thing in (design, sizing, sizing.checks, sizing.working("filter.required")):
        text = thing._repr_html_()
        assert "<table>" in text
        assert bad not in text
        links = set(re.findall(r"https?://[^\"' >]+", text))
        assert links <= {"http://www.w3.org/1998/Math/MathML"}  # a name, never fetched
        assert not re.search(r"<(script|img|link|iframe)|\b(src|href)=", text)
    assert "&lt;script&gt;" in design._repr_html_()
    assert table(["<b>"], [["<i>", 1.23456]]).count("&lt;") == 2


def test_the_html_of_a_sizing_holds_every_part_and_check(family):
    text = family._repr_html_()
    assert all(part.label in text for part in family.parts)
    assert text.count("<tr>") == 2 + len(family.parts) + len(family.checks)


def test_the_working_says_formula_numbers_and_source(family):
    steps = family.working("pump.head")
    text = steps._repr_html_()
    assert text.count("<math") == len(steps)
    assert steps[-1].value in text
    assert steps[-1].source.split(" ")[0] in text
    assert "steps before" in repr(family.working("filter.required"))
    assert family.working("stock.fish") == ()
    with pytest.raises(KeyError):
        family.working("pump.haed")


def test_the_table_of_a_sizing_is_a_frame_with_units_and_sources(family):
    frame = family.table()
    assert list(frame.columns) == ["part", "figure", "value", "unit", "source"]
    row = frame.loc["tank.volume"]
    assert row.unit == frame.attrs["units"]["tank.volume"] == "gal"
    assert row.value == pytest.approx(family["tank.volume"].to("gal").magnitude, rel=1e-12)
    assert frame.source.str.len().min() > 0
    assert family.table("metric").loc["tank.volume", "unit"] == "m³"
    assert family.table("si").loc["pump.flow", "value"] == family.pump.flow
    with pytest.raises(UnitError, match=r"choose .us., .metric. or .si"):
        family.table("imperial")
    with pytest.raises(DesignError, match=r"rsdesign\.sweep"):
        size(family.design.with_(tank_depth=["2 ft", "3 ft"])).table()


def test_a_sweep_is_a_frame_that_equals_single_sizings():
    rates = ["1 gpm/ft²", "1.5 gpm/ft²", 2 * GPM / ureg.ft**2]
    design = demo("family")
    frame = sweep(design, "solids.overflow_rate", rates, figures=["solids.area", "pump.model"])
    assert list(frame.index) == pytest.approx([1.0, 1.5, 2.0])
    assert frame.attrs["units"] == {
        "solids.area": "ft²", "pump.model": "", "solids.overflow_rate": "gpm/ft²",
    }  # fmt: skip
    for rate, area in zip(rates, frame["solids.area"], strict=True):
        alone = size(with_values(design, {"solids.overflow_rate": rate}))
        assert area == pytest.approx(alone["solids.area"].to("ft**2").magnitude, rel=1e-9)
    moved = sweep(design, "solids.overflow_rate", rates, system="metric")
    assert "solids.captured" in moved
    assert "stock.fish" not in moved
    assert (moved.nunique(dropna=False) > 1).all()


def test_a_sweep_of_the_goal_leaves_the_other_way_to_say_it():
    assert len(sweep(demo("family"), "goal.harvest", ["100 lb/year", "200 lb/year"])) == 2


@pytest.mark.parametrize(
    ("path", "values", "figures", "said"),
    [
        ("tank.shape", ["round"], None, "is not a choice that can be swept"),
        ("tank.depth", ["2 ft", "300 ft"], None, "300 ft"),
        ("tank.depth", ["2 ft", "3 kg"], None, "'kg' is not a unit of length"),
        ("tank.depth", [], None, "at least one"),
        ("tank.depth", ["2 ft"], ["tank.volum"], "not a figure"),
    ],
)
def test_a_sweep_that_cannot_be_is_one_sentence(path, values, figures, said):
    with pytest.raises(DesignError, match=re.escape(said)):
        sweep(demo("family"), path, values, figures)


def test_a_hand_out_is_one_call(family, tmp_path):
    path = rsdesign.handout(family, tmp_path / "out.html")
    assert family.design.name in html.unescape(path.read_text(encoding="utf-8"))
    with pytest.raises(DesignError, match=r"\.pdf"):
        rsdesign.handout(family, tmp_path / "out.doc")


def test_studies_take_what_their_help_says(family):
    assert rsdesign.limits(family.design.with_(pump_flow="20 gpm")).bearings
    assert rsdesign.compare(family, rsdesign.candidates("tank"))
    assert rsdesign.outage(family.design).times
    assert rsdesign.makeup(family, rsdesign.heat(family)).yearly_makeup > 0


def test_formulas_take_and_give_quantities():
    found = rsdesign.equations.solids.surface_area(24 * GPM, 2 * GPM / ureg.ft**2)
    assert found.to("ft**2").magnitude == pytest.approx(12.0)


# --- the names -----------------------------------------------------------------------------

COMPLETES = (
    ("rsdesign.equations.", "pipes"),
    ("rsdesign.equations.pipes.fr", "friction_factor"),
    ("rsdesign.equations.water.oxygen.sat", "saturation"),
    ("d.with_(tank_d", "tank_depth="),
    ("d.ta", "tank"),
)
AT_THE_TOP = (("rsdesign.", "with_values"), ("rsdesign.", "sweep"), ("rsdesign.li", "limits"))
"""Asked last: some completers open every name of a list to tell its type."""


@pytest.mark.parametrize("jedi", [False, True])
def test_tab_completes_without_opening_heavy_packages(jedi):
    code = f"""
import sys, rsdesign
from IPython.core.interactiveshell import InteractiveShell
from IPython.core.completer import provisionalcompleter
before = set(sys.modules)
shell = InteractiveShell.instance()
shell.user_ns |= dict(rsdesign=rsdesign, d=rsdesign.Design())
shell.Completer.use_jedi = {jedi}
def complete(rows):
    with provisionalcompleter():
        for text, wanted in rows:
            found = [c.text.lstrip(".") for c in shell.Completer.completions(text, len(text))]
            assert wanted in found, (text, found[:40])
complete({COMPLETES!r})
opened = {{"pint", "pandas", "plotly", "scipy"}} & (set(sys.modules) - before)
complete({AT_THE_TOP!r})
print(sorted(opened))
"""
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, encoding="utf-8",
                          check=False)  # fmt: skip
    assert done.returncode == 0, done.stderr[-2000:]
    assert done.stdout.strip().endswith("[]")
