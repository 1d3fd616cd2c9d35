"""The command line: tables, JSON, working, limits, a new file; UTF-8 when redirected."""

import json
import os
import subprocess
import sys

import pytest
from designs import DEMOS, demo

from rsdesign import size
from rsdesign.__main__ import main
from rsdesign.core import tables
from rsdesign.core.units import number
from rsdesign.sizing.margins import word
from rsdesign.sizing.system import STAGES, figures


def path(name: str) -> str:
    return str(tables.data_folder() / "designs" / f"{name}.toml")


def out(capsys, *argv) -> str:
    assert main(list(argv)) == 0
    return capsys.readouterr().out


@pytest.mark.parametrize("name", DEMOS)
@pytest.mark.parametrize("system", ["us", "metric"])
def test_json_holds_every_figure(name, system, capsys):
    found = json.loads(out(capsys, "size", path(name), "--json", "--units", system))
    sizing = size(demo(name))
    for figure, value in figures(sizing):
        cell = found[figure.stage][figure.name]
        assert set(cell) == {"value", "unit", "si"}
        if isinstance(value, float):
            assert cell["si"] == pytest.approx(value, rel=1e-12, nan_ok=True) or cell["si"] is None
    assert list(found)[: len(STAGES)] == list(STAGES)
    assert set(found["parts"]["filter"]) >= {"required", "provided", "rule", "margin"}
    for check in found["checks"]:
        assert set(check) >= {"part", "ok", "words", "source"}
        assert check["source"]
        assert check["words"].endswith(".")


@pytest.mark.parametrize("system", ["us", "metric"])
def test_tables_show_what_json_says(system, capsys):
    text = out(capsys, "size", path("family"), "--figures", "--units", system)
    found = json.loads(out(capsys, "size", path("family"), "--json", "--units", system))
    for name in ("peak_feed", "fish", "to_stock"):
        cell = found["stock"][name]
        assert f"{number(cell['value'])} {cell['unit']}".strip() in text
    for part in found["parts"].values():
        assert part["word"] in ("short", "tight", "enough", "sized to fit")


def test_units_are_always_shown(capsys):
    us = out(capsys, "size", path("school"))
    metric = out(capsys, "size", path("school"), "--units", "metric")
    assert " gal" in us
    assert " m³" in metric
    assert " gal" not in metric.split("Checks")[0]


def test_checks_come_worst_first(capsys):
    for name in DEMOS:
        checks = size(demo(name)).checks
        severity = [check.severity for check in checks]
        assert severity == sorted(severity)


@pytest.mark.parametrize(("margin", "expected"), [
    (0.99, "short"), (1.0, "tight"), (1 - 1e-10, "tight"), (1.2, "tight"), (1.21, "enough"),
    (float("inf"), "enough"), (float("nan"), "short"), (0.0, "short"),
])  # fmt: skip
def test_words(margin, expected):
    assert word(margin) == expected


def test_working_ends_with_the_card(capsys):
    text = out(capsys, "size", path("family"), "--working", "filter")
    assert "By hand" in text
    assert "Computed:" in text


def test_unknown_part_is_refused(capsys):
    assert main(["size", path("family"), "--working", "gearbox"]) == 2
    assert "filter" in capsys.readouterr().err


def test_limits_as_text_and_json(capsys):
    text = out(capsys, "limits", path("family"), "--budget", "700")
    assert "Tank room" in text
    found = json.loads(out(capsys, "limits", path("family"), "--json"))
    assert found["bearings"][0]["part"] == "tank"
    assert not found["complete"]
    assert found["not_told"] == ["pump", "filter", "air"]
    assert set(found["needs"]) == {"pump", "filter", "air"}


def test_limits_of_a_tank_alone_answers_without_a_goal(tmp_path, capsys):
    file = tmp_path / "tank.toml"
    file.write_text('[tank]\nwidth = "6.5 ft"\ndepth = "3 ft"\n', encoding="utf-8")
    text = out(capsys, "limits", str(file))
    assert "Your tank has room for about 150 fish of 1.25 lb." in text
    assert "Not told: pump, filter and air machine." in text
    assert "The plan in the file" not in text
    assert main(["size", str(file)]) == 2, "only what is owned can do without a goal"
    assert "how much fish" in capsys.readouterr().err


def test_limits_says_no_pump_no_fish(tmp_path, capsys):
    file = tmp_path / "tank.toml"
    file.write_text('[tank]\nwidth = "6.5 ft"\n[pump]\nnone = true\n', encoding="utf-8")
    assert "No pump, no fish" in out(capsys, "limits", str(file))
    file.write_text('[pump]\nnone = true\nflow = "9 gpm"\n', encoding="utf-8")
    assert main(["limits", str(file)]) == 2
    assert "there is no pump" in capsys.readouterr().err


def test_new_then_size(tmp_path, capsys):
    file = tmp_path / "mine.toml"
    out(capsys, "new", str(file), "--units", "metric")
    assert "eat" in out(capsys, "size", str(file))
    assert main(["new", str(file)]) == 2


def test_output_is_utf8_when_redirected():
    env = {k: v for k, v in os.environ.items() if not k.startswith(("LC_", "LANG", "PYTHON"))}
    done = subprocess.run([sys.executable, "-m", "rsdesign", "size", path("school")],
                          capture_output=True, env={**env, "LC_ALL": "C"}, check=True)  # fmt: skip
    assert "m³" in done.stdout.decode("utf-8")


def test_help_is_for_a_grower(capsys):
    assert main(["--help"]) == 0
    text = capsys.readouterr().out
    for word_ in ("size", "limits", "heat", "new", "electrician"):
        assert word_ in text


def test_the_plan_week_by_week(capsys):
    for name in DEMOS:
        text = out(capsys, "size", path(name), "--plan")
        assert "First sale" in text
        assert "fingerlings" in text
    weeks = [line for line in text.splitlines() if line.split("  ")[0].strip().isdigit()]
    assert len(weeks) > 60


@pytest.mark.parametrize("water", ["tap", "chloramine tap", "well", "rain"])
def test_new_with_a_source_water(tmp_path, capsys, water):
    file = tmp_path / "mine.toml"
    out(capsys, "new", str(file), "--water", water)
    found = json.loads(out(capsys, "size", str(file), "--json"))
    treated = [c for c in found["checks"] if "chloramine" in c["words"]]
    assert treated[0]["ok"] is (water in ("well", "rain"))
    assert main(["new", str(tmp_path / "x.toml"), "--water", "lemonade"]) == 2


def test_airlifts_move_water_at_a_low_lift_only(tmp_path, capsys):
    file = tmp_path / "air.toml"
    good = '[goal]\nfish = 60\n[pump]\nkind = "airlift"\nlift = "1 in"\n[solids]\nshare = 1.0\n'
    file.write_text(good, encoding="utf-8")
    found = json.loads(out(capsys, "size", str(file), "--json"))
    assert found["pump"]["model"]["value"] == "airlifts"
    assert found["parts"]["pump"]["margin"] >= 1
    file.write_text(good.replace("1 in", "5 ft"), encoding="utf-8")
    found = json.loads(out(capsys, "size", str(file), "--json"))
    assert found["parts"]["pump"]["margin"] < 1
    assert any("Lift of the airlift" in c["words"] and not c["ok"] for c in found["checks"])


def test_a_folder_in_place_of_a_file_is_said_once(tmp_path, capsys):
    assert main(["size", str(tmp_path)]) == 2
    said = capsys.readouterr().err
    assert said.count("is a folder") == 1
    assert "cannot be read" not in said
