"""Kept designs beside the present one: a drawing each, only what differs, choices first."""

import json
import re

import pytest
from designs import random_design

from rsdesign.design.link import design_of, token_of
from rsdesign.design.model import with_values
from rsdesign.pages.comparison import comparison
from rsdesign.pages.jupyter.page_channel import PageChannel
from rsdesign.pages.session import MAX_PINS, Session


def kept(*names: str, page: str = "whole", system: str = "us") -> Session:
    """A page with demo designs kept, the last of which is the present one."""
    session = Session(page, system)
    for name in names:
        session.handle({"do": "demo", "name": name})
        session.handle({"do": "pin", "name": name})
    assert not session.notice
    return session


def test_with_nothing_kept_there_is_only_the_present_design():
    found = comparison(Session("whole"))
    assert [c["name"] for c in found["columns"]] == ["This design"]
    assert found["rows"] == []
    assert not found["same"]
    assert not found["full"]


def test_four_are_kept_beside_the_present_one_on_any_page():
    session = Session("fish")
    for place in range(MAX_PINS):
        session.handle({"do": "set", "path": "goal.fish", "text": str(100 + 60 * place)})
        session.handle({"do": "pin", "name": f"plan {place}"})
    session.handle({"do": "set", "path": "goal.fish", "text": "400"})
    found = comparison(session)
    json.dumps(found, allow_nan=False)
    assert [c["name"] for c in found["columns"]] == [
        "This design", "plan 0", "plan 1", "plan 2", "plan 3"]  # fmt: skip
    assert [c["index"] for c in found["columns"]] == [None, 0, 1, 2, 3]
    assert found["full"]
    first = found["rows"][0]
    assert (first["label"], first["kind"]) == ("Fish harvested from each batch", "choice")
    assert first["cells"] == ["400", "100 (−75 %)", "160 (−60 %)", "220 (−45 %)", "280 (−30 %)"]


def test_every_design_has_a_drawing_of_its_own():
    found = comparison(kept("family", "school", "commercial"))
    drawings = [c["svg"] for c in found["columns"]]
    assert all(svg.startswith("<svg") for svg in drawings)
    assert drawings[1] != drawings[2] != drawings[3]
    scales = {re.search(r'data-px-per-m="([\d.]+)"', svg)[1] for svg in drawings}
    assert len(scales) == 1, "all to one scale"


def test_names_inside_two_drawings_of_one_page_do_not_meet():
    found = comparison(kept("family", "family"))
    ids = [set(re.findall(r'\bid="([^"]+)"', c["svg"])) for c in found["columns"]]
    assert ids[0]
    assert not ids[0] & ids[1]
    assert not ids[1] & ids[2]


@pytest.mark.parametrize("system", ["us", "metric"])
def test_only_what_differs_is_shown_and_choices_come_first(system):
    found = comparison(kept("family", "school", system=system))
    kinds = [row["kind"] for row in found["rows"]]
    assert kinds == sorted(kinds)
    assert set(kinds) == {"choice", "figure"}
    for row in found["rows"]:
        assert len(row["cells"]) == 3
        assert len(set(row["cells"])) > 1, row
    cells = [tuple(row["cells"]) for row in found["rows"]]
    assert len(cells) == len(set(cells)), "nothing is told twice"


def test_a_choice_that_the_sizing_took_says_so():
    session = kept("family")
    session.handle({"do": "not_known", "path": "tank.width"})
    row = next(r for r in comparison(session)["rows"] if r["label"] == "Distance across")
    assert row["cells"][0].endswith(", we chose")
    assert row["cells"][1].startswith("10 ft")
    assert "we chose" not in row["cells"][1]


def test_a_design_beside_itself_is_the_same():
    found = comparison(kept("family"))
    assert found["same"]
    assert found["rows"] == []


def test_a_kept_design_that_cannot_be_computed_keeps_its_place_and_can_be_taken_away():
    session = kept("family", "school")
    design = with_values(design_of(session.pins[0][1]), {"stock.interval": 0.0011})
    session.pins = [("broken", token_of(design)), *session.pins]
    found = comparison(session)
    broken, family = found["columns"][1:3]
    assert (broken["name"], broken["index"], broken["svg"]) == ("broken", 0, "")
    assert broken["wrong"]
    assert (family["name"], family["index"]) == ("family", 1)
    assert all(row["cells"][1] == "" for row in found["rows"])
    session.handle({"do": "unpin", "index": broken["index"]})
    assert [name for name, _ in session.pins] == ["family", "school"]


def test_opening_a_kept_design_makes_it_the_present_one_as_one_step():
    session = kept("family", "school")
    before = session.design
    session.handle({"do": "open_pin", "index": 0})
    assert not session.notice
    assert session.design != before
    columns = comparison(session)["columns"]
    assert [c["name"] for c in columns] == ["This design", "family", "school"]
    assert all(row["cells"][0] == row["cells"][1] for row in comparison(session)["rows"])
    session.handle({"do": "undo"})
    assert session.design is before


@pytest.mark.parametrize("seed", range(8))
def test_designs_of_any_kind_stand_side_by_side(seed):
    session = kept("family")
    session.handle({"do": "open", "token": token_of(random_design(seed))})
    assert not session.notice
    found = comparison(session)
    assert found["rows"]
    json.dumps(found, allow_nan=False)


def test_the_first_is_what_the_others_are_measured_by():
    session = kept("family")
    session.handle({"do": "set", "path": "goal.fish", "text": "100"})
    row = next(r for r in comparison(session)["rows"] if r["label"] == "Feed on the biggest day")
    assert row["kind"] == "figure"
    assert row["cells"][1].endswith(" (+100 %)")


def test_figures_do_not_wait_for_the_kept_designs_and_the_last_one_removed_is_gone():
    sent = []
    channel = PageChannel(Session("fish"), lambda content, buffers: sent.append(content))
    channel.receive({"n": 1, "message": {"do": "open"}})
    channel.receive({"n": 2, "message": {"do": "pin", "name": "a"}})
    del sent[:]
    channel.receive({"n": 3, "message": {"do": "set", "path": "goal.fish", "text": "150"}})
    first, then = sent
    assert "figures" in first["blocks"]
    assert "compare" not in first["blocks"]
    assert then["blocks"]["compare"]["rows"]
    del sent[:]
    channel.receive({"n": 4, "message": {"do": "unpin", "index": 0}})
    assert len(sent[-1]["blocks"]["compare"]["columns"]) == 1
