"""The stick holds what each system needs, and notices what it lacks (the download itself: tests/bench)."""

import importlib.util
import zipfile
from pathlib import Path

import pytest

SCRIPT = Path(__file__).resolve().parents[1] / "docs" / "deployment" / "usb_stick.py"


@pytest.fixture(scope="module")
def stick():
    spec = importlib.util.spec_from_file_location("usb_stick", SCRIPT)
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def wheel(folder: Path, name: str, *needs: str) -> None:
    with zipfile.ZipFile(folder / f"{name}-1.0-py3-none-any.whl", "w") as packed:
        lines = ["Metadata-Version: 2.1", f"Name: {name}", "Version: 1.0"]
        packed.writestr(f"{name}-1.0.dist-info/METADATA",
                        "\n".join(lines + [f"Requires-Dist: {n}" for n in needs]))  # fmt: skip


def lacking(stick, folder, system):
    place = {"python_version": "3.12", "implementation_name": "cpython"}
    return stick.missing(folder, {**stick.SYSTEMS[system][1], **place})


def test_what_only_one_system_needs_is_missed_there_alone(stick, tmp_path):
    wheel(tmp_path, "rsdesign", "shell>=2", 'lint; extra == "test"', 'old; python_version < "3.8"')
    wheel(
        tmp_path, "shell", 'colours; sys_platform == "win32"', 'bell; platform_system == "Darwin"'
    )
    assert lacking(stick, tmp_path, "windows") == ["colours"]
    assert lacking(stick, tmp_path, "macos-arm") == ["bell"]
    assert lacking(stick, tmp_path, "linux") == []


def test_an_extra_that_a_wheel_asks_for_is_followed(stick, tmp_path):
    wheel(tmp_path, "rsdesign", "schema[formats]")
    wheel(tmp_path, "schema", 'checks>=3; extra == "formats"', 'paint; extra == "colour"')
    assert lacking(stick, tmp_path, "linux") == ["checks>=3"]


def test_names_are_compared_as_pip_does(stick, tmp_path):
    wheel(tmp_path, "rsdesign", "Some.Thing")
    wheel(tmp_path, "some_thing")
    assert lacking(stick, tmp_path, "linux") == []


def test_the_paper_on_the_stick_names_every_system(stick):
    words = stick.WORDS.format(python="3.12", systems="")
    for system in stick.SYSTEMS:
        assert system in words.lower()
    assert words.count("--no-index") == 3
