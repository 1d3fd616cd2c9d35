"""Design files: read, rewritten with comments and units kept, refused in one sentence."""

import os
import tomllib

import pytest
from designs import DEMOS, demo, random_design
from hypothesis import given, settings
from hypothesis import strategies as st

from rsdesign import Design, load, save, size
from rsdesign.core import tables
from rsdesign.core.choices import DesignError
from rsdesign.design.file import read_design, update_text, write_new
from rsdesign.design.model import FIELDS, value_of, with_values
from rsdesign.design.starter import _of_system, starter


def same(a, b) -> list[str]:
    return [p for p in FIELDS if value_of(a, p) != value_of(b, p)]


@given(st.integers(0, 10**6), st.sampled_from(["us", "metric"]))
@settings(max_examples=60, deadline=None)
def test_a_design_comes_back_bit_for_bit(seed, system):
    design = random_design(seed)
    assert same(read_design(update_text("", design, system)), design) == []


@pytest.mark.parametrize("name", DEMOS)
def test_an_unchanged_file_stays_as_it_is(name):
    text = (tables.data_folder() / "designs" / f"{name}.toml").read_text(encoding="utf-8")
    assert update_text(text, demo(name)) == text


def test_another_design_is_opened_where_there_is_no_file(tmp_path):
    path = tmp_path / "my_design.toml"
    assert load(path, otherwise="family") == demo("family")
    save(demo("school"), path)
    assert load(path, otherwise="family") == demo("school")
    path.write_text("[goal", encoding="utf-8")
    with pytest.raises(DesignError, match="cannot be read"):
        load(path, otherwise="family")


def test_a_changed_value_keeps_its_unit_and_the_comments(tmp_path):
    path = tmp_path / "mine.toml"
    path.write_text(
        '# mine\n[goal]\nfish = 100 # many\nweight = "500 g"  # each\n', encoding="utf-8"
    )
    save(with_values(load(path), {"goal.weight": 0.6}), path)
    text = path.read_text(encoding="utf-8")
    assert 'weight = "600 g"  # each' in text
    assert "# mine" in text
    assert "# many" in text


def test_saving_twice_changes_nothing(tmp_path):
    path = tmp_path / "mine.toml"
    save(demo("school"), path, "metric")
    once = path.read_bytes()
    save(load(path), path, "metric")
    assert path.read_bytes() == once
    assert not list(tmp_path.glob(".*"))


@pytest.mark.parametrize("system", ["us", "metric"])
def test_the_starter_is_a_design(system, tmp_path):
    path = tmp_path / "new.toml"
    write_new(path, starter(system))
    assert size(load(path)).stock.peak_feed > 0
    with pytest.raises(DesignError, match="there already"):
        write_new(path, "x")
    everything = path.read_text(encoding="utf-8").replace("\n# ", "\n#")
    for entry in FIELDS.values():
        if not entry.section:
            continue
        assert f"#{entry.name} = " in everything or f"\n{entry.name} = " in everything, entry.path


@pytest.mark.parametrize("system", ["us", "metric"])
def test_every_line_of_the_starter_may_be_taken(system):
    """With the # taken away from every choice, the file still reads as the defaults."""
    lines = []
    for line in starter(system).splitlines():
        name = line[2:].split(" = ")[0] if line.startswith("# ") and " = " in line else ""
        lines.append(line[2:] if name in {f.name for f in FIELDS.values()} else line)
    design = read_design("\n".join(line for line in lines if not line.startswith("fish =")))
    start = with_values(Design(), {"goal.harvest": design.goal.harvest, "name": design.name})
    for path in same(design, start):
        # Where the default has no round number in these units, a typed one stands for it: 4 digits.
        assert value_of(design, path) == pytest.approx(value_of(start, path), rel=5e-4), path
        assert not _of_system(
            FIELDS[path].choice.written.partition(" ")[2], FIELDS[path].kind, system
        ) or (value_of(design, path) == pytest.approx(value_of(start, path), rel=1e-12)), path


@pytest.mark.parametrize("system", ["us", "metric"])
def test_the_starter_writes_numbers_as_people_type_them(system):
    for line in starter(system).splitlines():
        name, _, text = line.lstrip("# ").partition(" = ")
        if name in {f.name for f in FIELDS.values()} and any(c.isdigit() for c in text):
            number = text.strip('"').split(" ")[0]
            assert len(number.replace(".", "").strip("-0")) <= 6, line
    us = starter("us")
    for typed in ('"82.4 °F"', '"32 in"', '"3 ft"', '"0.1 mm"', '"50 ft"'):
        assert f" = {typed}" in us
    assert ' = "50 g"' in starter("metric")
    assert " kPa" not in us
    assert "m/s" not in us.replace("mm/s", "")


def test_not_known_is_left_to_the_sizing():
    design = read_design(
        '[goal]\nfish = 100\n[source]\nalkalinity = "not known"\n[tank]\nwidth = "?"\n'
    )
    assert design.tank.width is None
    assert "source.alkalinity" in design.unknown
    from rsdesign.sizing.assumptions import assumptions

    assert any("Alkalinity: not known" in s for s in assumptions(size(design)))


@pytest.mark.parametrize(("text", "words"), [
    ("", "say how much fish you want"),
    ("[goal]\nfish = 10\nharvest = '1 lb/day'", "both given"),
    ("[gaol]\nfish = 10", "Did you mean goal"),
    ("[goal]\nfish = 10\n[tank]\ndepht = '3 ft'", "Did you mean depth"),
    ("goal = 3", r"write it as a heading, \[goal\]"),
    ("[goal]\nfish = 10\n[tank]\ndepth = 3", "without a unit"),
    ("[goal]\nfish = 10\n[tank]\ndepth = 0,9", "tank.depth"),
    ("[goal]\nfish = 10\n[tank]\ndepth = '0,9,1 m'", "commas"),
    ("[goal]\nfish = 10\n[tank]\ndepth = '90 ft'", "15 ft"),
    ("[goal]\nfish = 10\n[tank]\ndepth = nan", "without a unit|not a number"),
    ("[goal]\nfish = 10\n[tank]\ncount = 1.5", "whole number"),
    ("[goal]\nfish = true", "not a number"),
    ("[goal]\nfish = 10\n[stock]\nspecies = 'shark'", "choose one of"),
    ("[goal]\nfish = 10\n[stock]\nprotein = 32", "0.15|15%"),
    ("[goal]\nfish = 10\n[stock]\nstocking_weight = '2 lb'", "not below goal.weight"),
    ("[goal]\nfish = 10\n[tank]\nshape = 'rectangle'\nwidth = '4 ft'", "belong together"),
    ("[goal]\nfish = 10\n[site]\nwater_temperature = '60 °F'", "do not grow below"),
    ("[goal]\nfish = 10\n[keep]\noxygen = '8 mg/L'", "holds hardly more"),
    ("[goal]\nfish = 10\n[source]\nnitrate = '200 mg/L'", "cannot thin"),
    ("[goal]\nfish = 10\n[safety]\ntwo_circuits = 'yes'", "true or false"),
])  # fmt: skip
def test_what_is_wrong_is_said(text, words):
    with pytest.raises(DesignError, match=words) as wrong:
        read_design(text)
    assert "\n" not in str(wrong.value)


def test_a_file_that_is_too_large_or_not_text(tmp_path):
    path = tmp_path / "big.toml"
    path.write_bytes(b"# " + b"x" * 300_000)
    with pytest.raises(DesignError, match="bytes"):
        load(path)
    path.write_bytes(b"\xff\xfe\x00a")
    with pytest.raises(DesignError, match="not a text file"):
        load(path)


def test_a_path_that_cannot_be_written(tmp_path):
    with pytest.raises(DesignError, match="cannot be written"):
        save(demo("family"), tmp_path / "no" / "such" / "folder.toml")
    assert os.listdir(tmp_path) == []


def test_demo_designs_are_marked_invented():
    for path in (tables.data_folder() / "designs").glob("*.toml"):
        text = path.read_text(encoding="utf-8")
        assert "invented" in text.splitlines()[0], path
        assert "Invented" in tomllib.loads(text)["note"], path
