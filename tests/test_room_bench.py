"""The judge of a measured room judges: each of its checks can fail, and says what it saw."""

import doctest
import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent / "bench"))
import room as bench
import room_faults
import room_table
from room_clients import Learner, moved, words_of
from room_table import Row, p95, slope

from rsdesign.design.link import token_of
from rsdesign.pages.session import demo

FAMILY = token_of(demo("family"))


@pytest.mark.parametrize("module", [room_table, room_faults])
def test_its_examples_hold(module):
    found = doctest.testmod(module)
    assert found.attempted
    assert not found.failed


def test_a_bar_is_missed_by_too_much_and_by_nothing_measured():
    assert not Row("a", 12.0, "s", 12).missed
    assert not Row("a", 1e9, "s").missed
    assert Row("a", 12.1, "s", 12).missed
    assert Row("a", p95([]), "ms", 150).missed
    assert Row("a", slope([(1, 5.0)]), "MB/min", 1).missed
    assert "**missed**" in str(Row("a", 13, "s", 12))


def test_one_missed_bar_is_an_error(monkeypatch, capsys):
    async def run(args, parts):
        return [Row("fine", 1, "s", 2), Row("late", 3, "s", 2), Row("said", 9)]

    monkeypatch.setattr(bench, "measured", run)
    monkeypatch.setattr(bench, "LAN", "192.0.2.1")
    monkeypatch.setattr(bench, "CHROMIUM", "chromium")
    monkeypatch.setattr(sys, "argv", ["room.py"])
    assert bench.main() == 1
    assert "1 of 2 bars missed\n  late: 3 s, bar 2" in capsys.readouterr().out


def test_another_design_counts_as_lost_and_a_move_under_way_does_not():
    one = Learner(None, 1)
    move = {"do": "slide", "path": "tank.depth", "at": 0.7, "end": True}
    after = moved("fish", FAMILY, move)
    assert after not in ("", FAMILY)
    one.page = next(p for p in bench.SERIES if p.name == "fish")
    one.frame = {"token": FAMILY}
    one.same(FAMILY, "x")
    one.frame = {"token": after}
    one.same(FAMILY, "x", move)
    assert one.lost == []
    one.same(FAMILY, "x")
    one.same(FAMILY, "x", {**move, "at": 0.3})
    one.frame = {}
    one.same(FAMILY, "x", move)
    assert len(one.lost) == 3


def test_what_a_refusal_says_is_read_from_page_and_answer():
    assert words_of('{"refused": "No more today."}') == "No more today."
    assert words_of("<h1>Stop</h1><p>Wait a <b>little</b>.</p><p id=x>Then go.</p>").split() == (
        ["Wait", "a", "little", ".", "Then", "go."]
    )
    assert words_of("Forbidden") == ""
