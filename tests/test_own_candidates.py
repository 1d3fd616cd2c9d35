"""A grower's own candidate on the cost page: what is typed, what is refused, where it is kept."""

import pytest

from rsdesign.core.choices import DesignError
from rsdesign.pages import blocks
from rsdesign.pages.own_candidates import MAX_OWN, kept, read_candidate
from rsdesign.pages.session import Session
from rsdesign.studies import compare

VAT = {"name": "Used milk vat", "cost": "$150", "life": "4", "power": "", "daily_time": "2,5"}


def added(session: Session, **texts) -> dict:
    session.handle({"do": "add_candidate", "part": "tank", **VAT, **texts})
    return block(session)


def block(session: Session) -> dict:
    return next(b for b in blocks.compose(session)["own"] if b["form"] == "candidates")


def test_an_own_candidate_stands_in_the_table_with_its_cost_a_year():
    session = Session("cost")
    before = block(session)["rows"]
    found = added(session)
    assert found["wrong"] == ""
    assert len(found["rows"]) == len(before) + 1
    row = next(r for r in found["rows"] if r[0] == "Used milk vat (yours)")
    assert row[3:] == ["$150", "4 years", "2.5 min", "0 W"]
    vat = compare.Candidate("Used milk vat", 150.0, 4.0, daily_time=150.0)
    other = compare.candidates("tank")[0]
    cost = next(c for c in compare.compare(session.sizing, (vat, other)) if c.candidate == vat)
    assert row[1:3] == [f"${cost.yearly:,.0f}", f"${cost.yearly_unpaid:,.0f}"]
    assert [r for r in found["rows"] if "(yours)" not in r[0]] == before
    assert any("Used milk vat" in words for words in found["cross"])


@pytest.mark.parametrize(
    ("texts", "told"),
    [
        ({"name": "  "}, "Name: give your candidate a name"),
        ({"name": "n" * 41}, "Name: "),
        ({"name": "Polyethylene tank"}, "Name: there is a 'Polyethylene tank' already"),
        ({"cost": ""}, "Price: not given yet. Write a number from 0 to"),
        ({"cost": "cheap"}, "Price: 'cheap' does not start with a number"),
        ({"cost": "-5"}, "Price: '-5' will not do. Write a number from 0 to"),
        ({"cost": "1,50,0"}, "Price: '1,50,0' has points, commas or gaps in odd places"),
        ({"cost": "nan"}, "Price: "),
        ({"cost": "9e99"}, "Price: '9e99' will not do."),
        ({"life": "0"}, "Life, years: '0' will not do. Write a number from 0.1 year to 100 year."),
        ({"life": ""}, "Life, years: not given yet."),
        ({"life": "5 lb"}, "Life, years: 'lb' is not a unit of years"),
        ({"power": "-1"}, "Watts: '-1' will not do."),
        ({"power": "__import__('os')"}, "Watts: "),
        ({"daily_time": "2000"}, "Own minutes a day: '2000' will not do."),
    ],
)
def test_what_will_not_do_is_said_in_a_sentence_and_nothing_is_added(texts, told):
    session = Session("cost")
    found = added(session, **texts)
    assert told in found["wrong"]
    assert found["wrong"].endswith((".", "?"))
    assert found["own"] == []
    assert session.notice == ""
    assert added(session)["wrong"] == "", "the next good one is taken"


def test_units_may_be_typed_and_commas_mark_decimals():
    made = read_candidate(
        {
            "name": "Pump",
            "cost": "99,50",
            "life": "78 week",
            "power": "0.06 kW",
            "daily_time": "30 s",
        }
    )
    assert made.cost == 99.5
    assert made.life == pytest.approx(78 * 7 / 365.25)
    assert made.power == pytest.approx(60.0)
    assert made.daily_time == pytest.approx(30.0)


def test_they_belong_to_their_part_and_can_be_taken_away():
    session = Session("cost")
    for place in range(MAX_OWN):
        found = added(session, name=f"vat {place}")
    assert found["full"]
    assert "take one away" in added(session, name="one more")["wrong"]
    session.handle({"do": "answer", "name": "part", "text": "pump"})
    assert block(session)["own"] == []
    session.handle({"do": "drop_candidate", "part": "tank", "name": "vat 1"})
    session.handle({"do": "answer", "name": "part", "text": "tank"})
    assert block(session)["own"] == ["vat 0", "vat 2"]
    for nowhere in ("nowhere", ["tank"], None, "x" * 5000):
        session.handle({"do": "drop_candidate", "part": nowhere, "name": None})
        assert "has no candidates; there are tank" in session.notice
        assert len(session.notice) < 200
    assert block(session)["own"] == ["vat 0", "vat 2"]
    assert set(session.own) == {"tank"}, "no part is made up"


def test_a_browser_keeps_them_and_the_link_does_not():
    session = Session("cost")
    token = session.token
    added(session)
    assert session.token == token, "the link's words stay as they are"
    remembered = blocks.frame(session)["own"]
    other = Session("cost")
    other.handle({"do": "open", "token": token, "own": remembered})
    assert block(other)["own"] == ["Used milk vat"]
    assert blocks.frame(other)["own"] == remembered


@pytest.mark.parametrize(
    "odd", [None, 3, [], {"tank": 3}, {"tank": [3, None, {"name": "x"}]}, {"yacht": [VAT]},
            {"tank": [VAT | {"cost": {"a": 1}}]}, {"tank": [VAT | {"life": "1e999"}]}],
    ids=str,
)  # fmt: skip
def test_what_a_browser_remembers_wrongly_is_dropped(odd):
    assert kept(odd) == {}
    session = Session("cost")
    session.handle({"do": "open", "own": odd})
    assert session.notice == ""
    assert block(session)["own"] == []


def test_a_part_that_has_none_is_said():
    session = Session("cost")
    session.handle({"do": "add_candidate", **VAT, "part": "yacht"})
    assert session.own_wrong.startswith("'yacht' has no candidates; there are tank")


def test_reading_raises_one_sentence():
    with pytest.raises(DesignError, match=r"^Name: "):
        read_candidate({})
