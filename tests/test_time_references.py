"""Check values of time that SciPy or NumPy gave: computed anew, they come out the same."""

import inspect
from pathlib import Path

import pytest
from reference import time_by_scipy as again

VALUES = again.computed()
LEVELS = ("start-012", "start-014", "start-017", "start-019", "start-022", "start-024", "start-027",
          "start-029")  # fmt: skip


@pytest.mark.parametrize("name", VALUES)
def test_it_comes_out_the_same(name):
    now, kept, tolerance = VALUES[name]
    kind = {"rel": tolerance} if tolerance > 0.0 else {"abs": -tolerance}
    assert now == pytest.approx(kept, **kind)


@pytest.mark.parametrize("name", LEVELS)
def test_a_peak_comes_out_to_six_figures(name):
    now, kept, _ = VALUES[name]
    assert now == pytest.approx(kept, rel=2e-6)


def test_a_day_comes_out_to_the_hundredths_that_are_kept():
    runs = [name for name in VALUES if name.startswith("start-") and name not in LEVELS]
    days = [name for name in runs if name not in ("start-031", "start-158")]
    assert len(days) == 7
    for name in days:
        now, kept, _ = VALUES[name]
        assert now == pytest.approx(kept, abs=0.01)


def test_every_row_that_names_scipy_or_numpy_is_among_them():
    for name in ("startup.csv", "season_growth.csv", "feeding_day.csv"):
        for row in again.table(Path(again.__file__).with_name(name)):
            if any(tool in row["source"].lower() for tool in ("scipy", "numpy")):
                assert row["id"] in VALUES


def test_nothing_of_this_package_computes_them():
    imports = [line for line in inspect.getsource(again).splitlines() if "import" in line.split()]
    assert len(imports) > 5
    assert not any("rsdesign" in line for line in imports)


@pytest.mark.parametrize("method", ["LSODA", "Radau", "BDF"])
def test_the_outside_solver_is_itself_right_on_a_stiff_problem(method):
    """Robertson 1966, whose answer is known: a check of the tool, not of this package's steps."""
    assert again.robertson(method, 1e-9) == pytest.approx(again.ROBERTSON, rel=1e-5)


@pytest.mark.parametrize("name", ["log.csv", "chance.csv"])
def test_every_row_of_logs_and_chances_is_asked_by_a_test(name):
    """By its name with a function that compares, or by the loop over rows that follow each other."""
    tests = Path(__file__).parent
    files = ("test_log.py", "test_tuning.py", "test_spread.py", "test_choose.py")
    text = "".join((tests / file).read_text(encoding="utf-8") for file in files)
    rows = [row["id"] for row in again.table(tests / "reference" / name)]
    by_number = {f"chance-{k}" for k in (128, 129, 130, 134, 135, 136)}
    assert by_number <= set(rows) or name == "log.csv"
    assert [row for row in rows if f'"{row}"' not in text and row not in by_number] == []
