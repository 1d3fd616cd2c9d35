"""Ten thousand broken design files: each is refused in one sentence, quickly, with exit code 2."""

import gc
import os
import random
import re
import subprocess
import sys
import time

import pytest

from rsdesign.__main__ import main
from rsdesign.core import tables
from rsdesign.core.choices import span
from rsdesign.design.model import FIELDS

NUMBERS = [f for f in FIELDS.values() if f.choice.low is not None]
WORDS = [f for f in FIELDS.values() if f.choice.options is not None]
GOOD = (tables.data_folder() / "designs" / "family.toml").read_text(encoding="utf-8")
WHOLE = bool(os.environ.get("RSDESIGN_WHOLE"))
"""All ten thousand files and a hundred processes; the suite takes a hundred files of each way of
breaking, and one process of each, to stay short."""
IN_PROCESS, AS_PROCESS = (10_000, 100) if WHOLE else (1_000, 11)


def one_field(entry, cell: str) -> str:
    """A design that is good but for one field."""
    goal = "" if entry.section == "goal" else '[goal]\nharvest = "480 lb/year"\n'
    return f"{goal}[{entry.section}]\n{entry.name} = {cell}\n"


def unknown_key(rng, entry):
    name = entry.name[:-1] + rng.choice("xqz")
    goal = "" if entry.section == "goal" else '[goal]\nharvest = "480 lb/year"\n'
    return f"{goal}[{entry.section}]\n{name} = 1\n", name


def wrong_unit(rng, entry):
    wrong = rng.choice(["furlong", "stone", "mph", "gpmm", "kelvins", "mg", "£", "lb/lb", "m/m/m"])
    return one_field(entry, f'"{rng.randint(1, 9)} {wrong}"'), entry.path


def not_a_number(rng, entry):
    cell = rng.choice(
        [
            "nan",
            "inf",
            "-inf",
            '"nan"',
            '"inf m"',
            '"lots"',
            '""',
            '" "',
            "[1, 2]",
            "{ a = 1 }",
            "true",
            "1979-05-27",
            '"1e999 ft"',
            '"--3 ft"',
            '"0x10 ft"',
        ]
    )
    return one_field(entry, cell), entry.path


def far_out(rng, entry):
    unit = entry.kind.shown(rng.choice(["us", "metric"])).label
    value = rng.choice(["-1e9", "-99999999", "1e15", "9" * 30, "-1e300", "1e300"])
    return one_field(entry, f'"{value} {unit}"'), entry.path


def decimal_comma(rng, entry):
    unit = entry.kind.shown("us").label
    value = f"{rng.randint(0, 9)},{rng.randint(0, 99):02d}"
    cell = rng.choice([f'"{value},5 {unit}"', value])  # two commas; a bare comma is no TOML
    return one_field(entry, cell), entry.name


def no_unit(rng, entry):
    if not entry.kind.plain.label:
        return far_out(rng, entry)
    return one_field(
        entry, rng.choice([str(rng.randint(1, 90)), f'"{rng.randint(1, 90)}"'])
    ), entry.path


def wrong_word(rng, entry):
    entry = rng.choice(WORDS)
    return one_field(
        entry, f'"{rng.choice(["goldfish", "Tilapia ", "?!", "x" * 5000])}"'
    ), entry.path


def truncated(rng, entry):
    cut = GOOD[: rng.randint(len("# An invented"), len(GOOD) - 2)]
    return cut + "\n" + rng.choice(['"', "[", "= =", "[[[", 'a = "', "\\", "depth = 3 ft"]), None


def binary(rng, entry):
    return bytes(rng.randrange(256) for _ in range(rng.randint(1, 400))) + b"\xff\xfe\x00", None


def hostile(rng, entry):
    cell = rng.choice(
        [
            "\"__import__('os')\"",
            '"2**99999 ft"',
            '"9' + "9" * 4000 + ' ft"',
            '"1 ft * 3"',
            '"(1+1) m"',
            '"1 ft; rm"',
            "[" * 500 + "]" * 500,
        ]
    )
    return one_field(entry, cell), None


BREAKS = (
    unknown_key,
    wrong_unit,
    not_a_number,
    far_out,
    decimal_comma,
    no_unit,
    wrong_word,
    truncated,
    binary,
    hostile,
)


def broken(number: int):
    """The n-th broken file: its content and what the sentence must name, if anything."""
    rng = random.Random(number)
    content, named = BREAKS[number % len(BREAKS)](rng, rng.choice(NUMBERS))
    return content if isinstance(content, bytes) else content.encode("utf-8", "replace"), named


def is_one_sentence(text: str) -> bool:
    return text.startswith("rsdesign: ") and text.count("\n") == 1 and len(text) < 1200


def test_ten_thousand_bad_files(tmp_path, capsys):
    path = tmp_path / "bad.toml"
    slow = 0.0
    path.write_bytes(broken(0)[0])
    main(["size", str(path)])  # what the first one loads is measured elsewhere
    capsys.readouterr()
    # What the answer takes: not what a busy machine adds, nor other threads of a process that ran
    # other tests before, nor the collection of what those left.
    gc.collect()
    gc.freeze()
    for number in range(IN_PROCESS):
        content, named = broken(number)
        path.write_bytes(content)
        start = time.thread_time()
        code = main(["size", str(path)])
        slow = max(slow, time.thread_time() - start)
        out, error = capsys.readouterr()
        assert code == 2, (number, content[:200], out[:200])
        assert is_one_sentence(error), (number, error)
        assert "Traceback" not in error
        assert out == ""
        if named:
            assert named in error, (number, named, error)
    gc.unfreeze()
    assert slow < 1.0


@pytest.mark.parametrize("entry", NUMBERS, ids=lambda entry: entry.path)
def test_range_is_said(entry, tmp_path, capsys):
    path = tmp_path / "bad.toml"
    path.write_text(one_field(entry, f'"1e15 {entry.kind.shown("us").label}"'), encoding="utf-8")
    assert main(["size", str(path)]) == 2
    error = capsys.readouterr().err
    assert entry.path in error
    assert span(entry) in error
    assert re.search(r"outside|allowed", error)


def test_a_hundred_as_processes(tmp_path):
    env = {**os.environ, "PYTHONIOENCODING": ""}
    for number in range(AS_PROCESS):
        path = tmp_path / f"{number}.toml"
        path.write_bytes(broken(number * 97)[0] if number else b"# x\n" + b"a" * 5_000_000)
        before = os.times()
        done = subprocess.run(
            [sys.executable, "-m", "rsdesign", "size", str(path)],
            capture_output=True,
            encoding="utf-8",
            env=env,
            timeout=20,
            check=False,
        )
        assert done.returncode == 2, (number, done.stdout[:200], done.stderr[:500])
        assert is_one_sentence(done.stderr), done.stderr
        after = os.times()  # processor time of the one that just ended
        took = sum(after[2:4]) - sum(before[2:4])
        assert took < 1.0 or number < 2


@pytest.mark.parametrize(
    "argv",
    [
        [],
        ["sise", "x"],
        ["size"],
        ["size", "nowhere.toml"],
        ["size", "."],
        ["size", "x\0y"],
        ["new", "/"],
        ["size", "a", "--units", "imperial"],
        ["limits", "a", "--budget", "nan"],
    ],
)
def test_bad_commands(argv, capsys, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    assert main(argv) == 2
    assert is_one_sentence(capsys.readouterr().err)


@pytest.mark.parametrize(("typed", "said"), [
    (("serve", "--port", "banana"), "--port: 'banana' is not a whole number from 1 to 65535."),
    (("serve", "--port", "0"), "--port: '0' is not a whole number from 1 to 65535."),
    (("serve", "--pool", "41"), "--pool: '41' is not a whole number from 0 to 40."),
    (("serve", "--most", "0"), "--most: '0' is not a whole number from 1 to 1000."),
    (("exercises", "codes", "two", "-o", "x"), "N: 'two' is not a whole number."),
    (("exercises", "list", "--minutes", "x"), "--minutes: 'x' is not a number."),
])  # fmt: skip
def test_an_argument_that_is_no_number_is_named_with_its_range(typed, said, capsys):
    assert main(list(typed)) == 2
    assert f"rsdesign: {said}" in capsys.readouterr().err
