"""Mend first: the worst checks in words, what is proposed for one, and doing it as one step to undo."""

import json
import re

import pytest
from designs import random_design
from reading import grade

from rsdesign.design.link import token_of
from rsdesign.design.model import with_values
from rsdesign.pages import mending
from rsdesign.pages.mending import MOST_WORDS, YOURS, key_of, mend_block, title_of, words_of
from rsdesign.pages.series import SERIES
from rsdesign.pages.session import Session
from rsdesign.sizing.margins import checks
from rsdesign.studies.cures import is_green

DEMOS = ("family", "school", "commercial")


def opened(name: str = "family", page: str = "start", system: str = "us") -> Session:
    session = Session(page, system)
    session.handle({"do": "demo", "name": name})
    return session


def asked(session: Session, key: str) -> dict:
    session.handle({"do": "mend", "check": key})
    assert not session.notice, session.notice
    return next(row["open"] for row in mend_block(session)["worst"] if row["key"] == key)


@pytest.mark.parametrize("name", DEMOS)
def test_the_worst_are_the_first_in_the_one_order_of_checks(name):
    session = opened(name)
    found = [c for c in checks(session.sizing, "us") if not is_green(c)]
    block = mend_block(session)
    assert [row["key"] for row in block["worst"]] == [key_of(c) for c in found[:3]]
    assert block["count"] == len(checks(session.sizing, "us"))
    assert block["failed"] == sum(not bool(c.ok) for c in found)
    assert block["failed"] + block["tight"] == len(found)
    assert all(row["open"] is None for row in block["worst"])
    json.dumps(block, allow_nan=False)


def test_deadly_water_comes_first_on_every_page_and_no_setting_is_said_to_mend_it():
    for page in SERIES:
        session = opened("family", page.name)
        session.handle({"do": "set", "path": "site.warmest_water", "text": "106 °F"})
        block = mend_block(session)
        if page.owned:
            assert block is None
            continue
        first = block["worst"][0]
        assert (first["word"], first["state"]) == ("they die", "short")
        found = asked(session, first["key"])
        assert found["sentence"] == YOURS
        assert "Harvest before that week" in " ".join(found["advice"])
        assert found["options"] == []


def test_a_page_of_a_part_names_its_own_checks():
    session = opened("family", "solids")
    assert {key.partition(":")[0] for key in map(key_of, session.page_checks())} == {
        "settler", "fine waste", "drain"}  # fmt: skip
    assert mend_block(session)["count"] == len(session.page_checks())


@pytest.mark.parametrize("system", ["us", "metric"])
@pytest.mark.parametrize("seed", range(25))
def test_what_is_said_of_a_check_is_short_and_true(seed, system):
    session = Session("start", system)
    session.handle({"do": "open", "token": token_of(random_design(seed))})
    assert not session.notice
    for check in session.all_checks():
        if is_green(check):
            continue
        said = words_of(check)
        assert said
        assert len(said.split()) <= MOST_WORDS + 1, said
        for number in re.findall(r"\d[\d.,]*\d|\d", said):
            assert number in check.words, (said, check.words)
        assert len(title_of(check).split()) <= 9, title_of(check)


@pytest.mark.parametrize("name", DEMOS)
def test_what_is_proposed_is_done_as_one_step_and_mends_the_check(name):
    for row in mend_block(opened(name))["worst"]:
        session = opened(name)
        before = session.design
        found = asked(session, row["key"])
        for index in range(len(found["options"])):
            session.handle({"do": "mend", "check": row["key"]})
            session.handle({"do": "cure", "check": row["key"], "index": index})
            assert not session.notice
            same = {key_of(c): c for c in session.all_checks()}
            assert bool(same[row["key"]].ok)
            option = found["options"][index]
            failed = {title_of(c) for c in session.all_checks() if not bool(c.ok)}
            assert set(option["reddened"]) <= failed
            done = mend_block(session)["done"]
            assert done == f"Done. {option['label'].replace(', now ', ', was ')}"
            session.handle({"do": "undo"})
            assert session.design is before
            assert mend_block(session)["done"] == ""


def test_a_proposal_is_forgotten_when_the_design_changes():
    session = opened("commercial")
    key = mend_block(session)["worst"][0]["key"]
    assert asked(session, key)["options"]
    session.handle({"do": "set", "path": "tank.depth", "text": "4.1 ft"})
    assert all(row["open"] is None for row in mend_block(session)["worst"])
    changed = session.design
    session.handle({"do": "cure", "check": key, "index": 0})
    assert session.notice.startswith("That was proposed for another design.")
    assert session.design is changed
    session.handle({"do": "undo"})
    assert all(row["open"] is None for row in mend_block(session)["worst"]), "and stays so"


def test_not_now_closes_what_was_proposed():
    session = opened("commercial")
    key = mend_block(session)["worst"][0]["key"]
    asked(session, key)
    session.handle({"do": "put_off"})
    assert all(row["open"] is None for row in mend_block(session)["worst"])


@pytest.mark.parametrize("index", [None, -1, 99, True, "0", 1.0])
def test_a_way_that_was_not_proposed_is_refused_in_a_sentence(index):
    session = opened("commercial")
    key = mend_block(session)["worst"][0]["key"]
    asked(session, key)
    before = session.design
    session.handle({"do": "cure", "check": key, "index": index})
    assert session.notice == "That way is not among those proposed. Press 'Mend it' again."
    assert session.design is before


@pytest.mark.parametrize("key", [None, 7, "", "moon: cheese", "x" * 5000, ["a"], {}])
def test_a_check_that_is_not_there_is_refused_in_a_sentence(key):
    session = opened()
    session.handle({"do": "mend", "check": key})
    assert session.notice.endswith("is not a check of this design.")
    assert len(session.notice) < 100
    session.handle({"do": "cure", "check": key})
    assert session.notice.startswith("That was proposed for another design.")


def test_a_check_that_holds_needs_no_mending():
    session = opened()
    good = next(c for c in session.all_checks() if is_green(c))
    session.handle({"do": "mend", "check": key_of(good)})
    assert session.notice.endswith("needs no mending.")


def test_one_asked_for_in_the_list_of_all_checks_is_shown_with_its_proposal():
    session = opened("family")
    far = [c for c in session.all_checks() if not is_green(c)][5]
    assert asked(session, key_of(far))["sentence"]
    rows = mend_block(session)["worst"]
    assert len(rows) == 3
    assert rows[-1]["key"] == key_of(far)


def test_who_follows_a_driver_mends_nothing():
    session = opened("commercial")
    key = mend_block(session)["worst"][0]["key"]
    session.handle({"do": "follow", "on": True, "token": session.token})
    session.handle({"do": "mend", "check": key})
    assert "drive" in session.notice


def test_a_design_that_cannot_be_computed_is_not_mended():
    session = opened("commercial")
    key = mend_block(session)["worst"][0]["key"]
    session.design = with_values(session.design, {"stock.interval": 0.001})
    session._compute()
    assert session.stale
    session.handle({"do": "mend", "check": key})
    assert session.notice.startswith("This design cannot be computed.")


def test_costs_say_that_prices_are_invented_until_some_are_the_growers_own():
    session = opened("commercial")
    key = mend_block(session)["worst"][0]["key"]
    found = asked(session, key)
    assert found["cost_year"].startswith(("It costs about $", "It saves about $"))
    assert found["cost_first"].startswith("First it costs about $")
    assert found["note"].startswith("Prices are invented")
    session.handle({"do": "set", "path": "prices.electricity", "text": "0.2"})
    assert not session.notice
    assert asked(session, key)["note"] == ""


def test_what_is_said_reads_easily():
    words = []
    for name in DEMOS:
        session = opened(name)
        for row in mend_block(session)["worst"]:
            found = asked(session, row["key"])
            words += [found["sentence"], *found["advice"], *found["side"]]
    assert grade(" ".join(words)) <= 8


def test_nothing_is_worked_out_until_somebody_asks(monkeypatch):
    session = opened()
    monkeypatch.setattr(mending, "mend", lambda *_: pytest.fail("nobody asked"))
    judged = []
    monkeypatch.setattr(mending.margins, "checks", lambda *about: judged.append(about) or ())
    for depth in ("2.9", "2.8", "3", "3.1", "3.2"):
        session.handle({"do": "set", "path": "tank.depth", "text": depth})
        mend_block(session)
        mend_block(session)
    assert session.proposal is None
    assert len(judged) == 5, "each sizing is judged once"
