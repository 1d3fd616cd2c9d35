"""What to buy: the list, the fronts, the search against brute force, the year's cost, ties, and the command."""

import csv
import dataclasses
import itertools
import json
import time
import tomllib
from pathlib import Path

import numpy as np
import pytest

from rsdesign import choose, load, size
from rsdesign.__main__ import main
from rsdesign.core.cautions import cautions
from rsdesign.core.choices import DesignError
from rsdesign.core.tables import data_folder
from rsdesign.design.model import value_of, with_values
from rsdesign.equations.costs.annual import capital_recovery
from rsdesign.pages import blocks, buying, choosing
from rsdesign.pages.jupyter.page_channel import PageChannel
from rsdesign.pages.session import Session
from rsdesign.sizing.checks.rows import check_rows
from rsdesign.studies.choose import feasible, levels
from rsdesign.studies.choose.costed import HAND, ITSELF, year_of
from rsdesign.studies.choose.front import front
from rsdesign.studies.choose.member import doubt_between, member, places_at, tied
from rsdesign.studies.choose.money import cheapest_alike, goals
from rsdesign.studies.choose.offers import PRICE, SETS, Offers, offers
from rsdesign.studies.choose.search import GOALS, Cancelled, search
from rsdesign.studies.choose.sized import words
from rsdesign.studies.choose.study import study
from rsdesign.studies.enterprise import enterprise
from rsdesign.studies.heat.yearly import weathered

with (Path(__file__).parent / "reference" / "chance.csv").open(encoding="utf-8", newline="") as f:
    ROWS = {row["id"]: row for row in csv.DictReader(f)}


def expected(name: str):
    """What a row of the check values says, with its tolerance."""
    value, kind = ROWS[name]["tolerance"].split()
    return pytest.approx(float(ROWS[name]["expected"]), **{kind: float(value)})


FAMILY = str(data_folder() / "designs" / "family.toml")
FEW = {
    "tank": (
        ("pool with a liner", {"tank.width": 3.048, "tank.depth": 0.9144}),
        ("pool with a liner", {"tank.width": 3.6576, "tank.depth": 0.9144}),
        ("block tank with a liner", {"tank.width": 3.048, "tank.depth": 0.9144}),
        ("polyethylene tank", {"tank.width": 2.4384, "tank.depth": 0.8128}),
    ),
    "settler": (("centre-fed settler", {}), ("basin", {})),
    "filter": (("trickling filter of lava rock", {}), ("submerged bed of gravel", {})),
    "air": (
        ("diaphragm air pump", {"air.device": "diaphragm 200", "air.count": 4.0}),
        ("diaphragm air pump", {"air.device": "diaphragm 120", "air.count": 4.0}),
    ),
    "pump": (
        ("pond pump", {"pump.model": "pond 120 W", "pump.count": 1.0}),
        ("pond pump", {"pump.model": "pond 200 W", "pump.count": 1.0}),
    ),
    "pipe": (("1 in pipe", {}), ("2 in pipe", {})),
    "backup": (("oxygen bottle, opened by hand", {}), ("air pump with its own battery", {})),
    "lid": (("no lid", {}), ("foam boards", {})),
}
"""Things of each part, so few that every combination can be sized alone; of what is built to measure two sizes."""
TIMES = (1.0, 2.0)


def _few() -> Offers:
    whole, kept = offers(), {}
    for part, wanted in FEW.items():
        kept[part] = tuple(
            o
            for name, values in wanted
            for o in whole.part(part)
            if o.name == name
            and all(o.values[path] == pytest.approx(v) for path, v in values.items())
            and ((part == "filter" and o.times in TIMES) or o.times == 1.0)
        )
    return Offers(kept, whole.note, whole.doubt_source)


@pytest.fixture(scope="module")
def family():
    return size(load("family"))


@pytest.fixture(scope="module")
def few(family):
    return search(family, _few())


def _brute_force(sizing, for_sale, shop):
    """Every combination sized alone, through the very design that would be built; those that stand."""
    rows = []
    wet = [p for p in SETS if p not in ("backup", "lid")]
    for combined in itertools.product(*(range(len(for_sale.part(p))) for p in wet)):
        places = dict(zip(wet, combined, strict=True))
        one = member(sizing, shop, places | {"backup": 0, "lid": 0})
        for backup, lid in itertools.product(
            *(range(len(for_sale.part(p))) for p in ("backup", "lid"))
        ):
            every = places | {"backup": backup, "lid": lid}
            offers_ = {p: for_sale.part(p)[k] for p, k in every.items()}
            design = with_values(one.design, offers_["backup"].values | offers_["lid"].values)
            built = dataclasses.replace(one.sizing, design=design)
            if _stands(built):
                surface = float(built.tank.floor * built.stock.tanks)
                year = shop.year
                found = goals(
                    built,
                    year.heating[lid] * surface,
                    year.evaporation[lid] * surface,
                    year.allowed,
                )
                rows.append((every, {k: float(v) for k, v in found.items()}))
    return rows


def _stands(s) -> bool:
    if not all(part.margin >= 1 - 1e-9 for part in s.parts) or float(s.pump.pipes) != 1.0:
        return False
    if not all(np.all(feasible.stood(s, row)) for row in check_rows() if feasible.mended(row)):
        return False
    itself = s.design.safety.backup == ITSELF
    return itself or bool(s.standby.minutes_low >= s.design.safety.answer)


def test_the_pruned_search_finds_what_brute_force_finds(family, few):
    for_sale = _few()
    every = _brute_force(family, for_sale, few.shop)
    assert 20 < len(every) < for_sale.combinations / 2
    cost = np.array([found["cost"] for _, found in every])
    for name, more in GOALS.items():
        value = np.array([found[name] for _, found in every])
        rows = front(cost, value, more)
        best = few.best
        pruned = front(best.goals["cost"], best.goals[name], more)
        np.testing.assert_allclose(best.goals["cost"][pruned], cost[rows], rtol=1e-9)
        np.testing.assert_allclose(best.goals[name][pruned], value[rows], rtol=1e-9)
        for mine, theirs in zip(pruned, rows, strict=True):
            assert places_at(best, int(mine)) == every[int(theirs)][0]


def test_brute_force_refuses_for_every_reason_that_prunes(family, few):
    """The small list holds what fails alone, what fails together, and what is dearer and the same."""
    assert len(few.failed) >= 3
    assert len(cheapest_alike(family.design, _few().part("tank"))) < len(_few().part("tank"))


def test_what_the_search_reckons_is_the_budget_of_the_very_design(family, few):
    for row in np.linspace(0, len(few.best) - 1, 9).astype(int):
        one = member(family, few.shop, places_at(few.best, int(row)))
        for name, value in one.goals.items():
            assert value == pytest.approx(float(few.best.goals[name][row]), rel=1e-9)
        year, lid = few.shop.year, one.places["lid"]
        surface = float(one.sizing.tank.floor * one.sizing.stock.tanks)
        budget = enterprise(
            one.sizing, year.heating[lid] * surface, year.evaporation[lid] * surface, year.allowed
        )
        assert one.goals["cost"] == pytest.approx(float(budget.budget.costs), rel=1e-12)


def test_the_front_is_that_of_its_definition():
    rng = np.random.default_rng(3)
    for more in (False, True):
        for count in (1, 2, 50, 400):
            cost = rng.integers(0, 30, count).astype(float)
            goal = rng.integers(0, 30, count).astype(float)
            signed = -goal if more else goal
            beaten = [
                any(
                    cost[j] <= cost[i] and signed[j] <= signed[i] and (cost[j] < cost[i] or signed[j] < signed[i])
                    for j in range(count)
                )
                for i in range(count)
            ]  # fmt: skip
            wanted = {(cost[i], goal[i]) for i in range(count) if not beaten[i]}
            rows = front(cost, goal, more)
            assert {(cost[i], goal[i]) for i in rows} == wanted
            assert len(rows) == len(wanted)


def test_the_front_of_a_million_pairs_has_the_size_of_the_reference_row():
    """Row chance-143: default_rng(0).random((1000000, 2)) has a front of 20."""
    pairs = np.random.default_rng(0).random((1_000_000, 2))
    assert len(front(pairs[:, 0], pairs[:, 1])) == expected("chance-143")


def test_no_part_is_dominated_on_a_front(few):
    best = few.best
    for name, more in GOALS.items():
        rows = front(best.goals["cost"], best.goals[name], more)
        sign = -1.0 if more else 1.0
        assert np.all(np.diff(best.goals["cost"][rows]) > 0)
        assert np.all(np.diff(sign * best.goals[name][rows]) < 0)


def test_a_backup_by_hand_is_only_chosen_where_someone_is_there_in_time(family):
    for_sale = _few()
    slow = search(family, for_sale).best
    hand = [i for i, o in enumerate(for_sale.part("backup")) if o.values["safety.backup"] == HAND]
    assert not np.isin(slow.places["backup"], hand).any()
    quick = size(with_values(family.design, {"safety.answer": 60.0}))
    assert np.isin(search(quick, for_sale).best.places["backup"], hand).all()


def test_no_backup_is_not_for_sale(tmp_path):
    file = tmp_path / "mine.toml"
    file.write_text('[[backup]]\nname = "none"\n"safety.backup" = "none"\n', encoding="utf-8")
    with pytest.raises(DesignError, match="not for sale"):
        offers(file)


def test_a_search_can_be_stopped_and_tells_how_far_it_is(family):
    told = []
    search(family, _few(), lambda share, words: told.append(share))
    assert told[0] == 0.0
    assert told == sorted(told)
    assert told[-1] == 1.0
    with pytest.raises(Cancelled):
        search(family, _few(), cancelled=lambda: True)


def test_the_year_is_that_of_the_present_design(family):
    year = year_of(family, offers())
    none = [i for i, o in enumerate(offers().part("lid")) if words(o)["climate.cover"] == "none"]
    assert year.evaporation[none[0]] == year.evaporation.max()
    assert (year.evaporation > 0).all()
    surface = float(family.tank.floor * family.stock.tanks)
    assert year.evaporation[none[0]] * surface == pytest.approx(weathered(family).evaporation)


@pytest.fixture(scope="module")
def chosen(family):
    return study(family, _few())


def test_a_study_tells_the_cheapest_and_what_more_money_brings(chosen):
    assert chosen.cheapest.goals["cost"] == min(m.goals["cost"] for m in chosen.members)
    assert chosen.combined == _few().combinations
    if chosen.sure is not None:
        assert chosen.sure.chance >= 0.9
        assert chosen.sure.goals["cost"] >= chosen.cheapest.goals["cost"]
    minutes = chosen.fronts["minutes"]
    assert [m.goals["minutes"] for m in minutes] == sorted(m.goals["minutes"] for m in minutes)
    assert "Minutes to act in the busiest hour" in chosen.present.short
    assert any("chlorine" in words for words in chosen.unmended)


def test_a_tie_lies_within_the_doubt_and_a_quote_removes_it(family, few, chosen):
    for tie in chosen.ties:
        assert abs(tie.more) <= tie.doubt
    best = few.best
    one, other = (member(family, few.shop, places_at(best, int(k))) for k in (0, len(best) - 1))
    assert doubt_between(one, other) == doubt_between(other, one) > 0
    assert doubt_between(one, one) == 0.0
    assert tied(one, one)


def test_doubts_of_different_things_add_as_squares_and_of_one_thing_by_the_amount(family, few):
    best = few.best
    one = member(family, few.shop, places_at(best, 0))
    other = member(family, few.shop, places_at(best, len(best) - 1))
    total = 0.0
    for part in SETS:
        a, b = one.offers[part], other.offers[part]
        if a.name == b.name:
            total += (a.doubt * (one.years[part] - other.years[part])) ** 2
        else:
            total += (a.doubt * one.years[part]) ** 2 + (b.doubt * other.years[part]) ** 2
    assert doubt_between(one, other) == pytest.approx(total**0.5)


# --- the list ---------------------------------------------------------------------------------


def test_every_thing_on_the_list_can_be_told_to_a_design():
    for part, found in offers().parts.items():
        assert found, part
        for offer in found:
            design = with_values(load("family"), offer.values)
            for path, value in offer.values.items():
                assert value_of(design, path) == value


def test_own_prices_change_a_row_and_own_things_are_added(tmp_path):
    file = tmp_path / "mine.toml"
    file.write_text(
        '[[tank]]\nname = "Pool with a liner"\n"prices.tank" = "0.20 per gal"\n\n'
        '[[pump]]\nname = "used pond pump"\n"pump.model" = "pond 160 W"\n"prices.pump" = "0.30 per W"\n',
        encoding="utf-8",
    )
    mine, listed = offers(file), offers()
    pools = [o for o in mine.part("tank") if o.name == "pool with a liner"]
    assert len(mine.part("tank")) == len(listed.part("tank"))
    assert all(o.values["prices.tank"] == pytest.approx(0.2 * 264.172, rel=1e-4) for o in pools)
    assert {o.doubt for o in pools} == {0.0}
    assert len(mine.part("pump")) == len(listed.part("pump")) + 1
    quoted = offers(quotes=[{"part": "tank", "name": "pool with a liner", "price": "0.20 per gal"}])
    assert quoted.part("tank") == mine.part("tank")


@pytest.mark.parametrize(
    ("text", "words_"),
    [
        ("[[roof]]\nname = 'x'\n", "roof"),
        ("[[tank]]\n'tank.width' = '3 ft'\n", "name"),
        ("[[tank]]\nname = 'x'\n", "tank.width is missing"),
        ("[[tank]]\nname = 'x'\n'tank.width' = '3 furlongs'\n", "tank.width"),
        ("[[tank]]\nname = 'x'\n'tank.width' = '3000 ft'\n", "tank.width"),
        ("[[tank]]\nname = 'x'\n'tank.width' = '3 ft'\n'pump.lift' = '3 ft'\n", "pump.lift"),
        ("[[tank]]\nname = 'x'\n'tank.width' = '3 ft'\ntimes_need = 2\n", "times_need"),
        ("[[settler]]\nname = 'x'\n'solids.settler' = 'basin'\ntimes_need = 9\n", "times_need"),
        ("[[air]]\nname = 'x'\n'air.device' = 'no such'\n", "air.device"),
        ("[[tank]]\nname = 'x'\n'tank.width' = []\n", "0 sizes"),
        ("tank = 3\n", "table"),
        ("[[tank]\n", "cannot be read"),
        ("only = true\n", "no tank"),
        ("[[tank]]\nname = 'x'\n'tank.width' = '3 ft'\ndoubt = 'much'\n", "doubt"),
    ],
)
def test_a_wrong_list_gets_one_sentence(tmp_path, text, words_):
    file = tmp_path / "mine.toml"
    file.write_text(text, encoding="utf-8")
    with pytest.raises(DesignError, match=words_.replace(".", r"\.")):
        offers(file)


def test_a_list_can_be_narrowed_by_name():
    found = offers(only={"tank": "pool with a liner", "pump": ["pond pump", "circulator"]})
    assert {o.name for o in found.part("tank")} == {"pool with a liner"}
    assert {o.name for o in found.part("pump")} == {"pond pump", "circulator"}
    with pytest.raises(DesignError, match="not on the list"):
        offers(only={"tank": "bathtub"})
    with pytest.raises(DesignError, match="not a part"):
        offers(only={"roof": "tin"})


def test_capital_recovery_is_that_of_the_reference_row():
    """Row chance-144: 8 % over 10 years."""
    assert capital_recovery(0.08, 10.0) == expected("chance-144")


def test_the_list_says_that_its_prices_are_invented():
    table = tomllib.loads((data_folder() / "offers.toml").read_text(encoding="utf-8"))
    assert "invented" in table["note"]
    assert "from memory" in table["doubt_source"]
    for part in SETS:
        for row in table[part]:
            assert PRICE[part][0] in row or row.get("climate.cover") == "none"


def test_checks_that_nothing_for_sale_mends_are_told_and_not_counted(family):
    """What is called unmended must really not move: no figure of it differs between designs."""
    design = levels.opened(family)
    words_ = [
        {"filter.type": "bead", "filter.medium": "beads"},
        {"solids.settler": "basin"},
        {"tank.width": 5.0},
    ]
    others = [size(with_values(design, w)) for w in words_]
    for row in check_rows():
        if not feasible.mended(row) and row.form != "notice":
            first = np.all(feasible.stood(family, row))
            assert all(np.all(feasible.stood(s, row)) == first for s in others), row.label


def test_goals_are_those_of_the_budget(family):
    found = goals(family, 0.0, 0.0, None)
    assert found["cost"] == pytest.approx(enterprise(family).budget.costs)
    assert found["minutes"] == family.standby.minutes_peak


# --- the frame and the command ----------------------------------------------------------------


@pytest.fixture(scope="module")
def small_list(tmp_path_factory):
    """A file of a few things alone."""
    lines = ["only = true"]
    for part, found in _few().parts.items():
        for n, offer in enumerate(found):
            lines += [f"[[{part}]]", f'name = "{offer.name} {n}"']
            lines += [f'"{p}" = {json.dumps(v)}' for p, v in offer.values.items()]
            if offer.times != 1.0:
                lines.append(f"times_need = {offer.times}")
    file = tmp_path_factory.mktemp("list") / "few.toml"
    file.write_text("\n".join(lines), encoding="utf-8")
    return file


@pytest.fixture(scope="module")
def frame(family, small_list):
    return choose(family, small_list)


def test_the_frame_has_units_and_a_row_for_each_design(frame):
    assert frame.index[0] == "cheapest"
    assert frame.attrs["units"]["minutes"] == "min"
    assert frame.attrs["units"]["cost"] == "$"
    assert frame["cost"].is_monotonic_increasing
    assert set(frame.attrs["fronts"]) == set(GOALS)
    assert len(frame.attrs["designs"]) == len(frame)


def test_a_design_of_the_frame_is_what_it_says(frame):
    for (_, row), design in zip(frame.iterrows(), frame.attrs["designs"], strict=True):
        s = size(design)
        assert float(s.standby.minutes_peak) / 60.0 == pytest.approx(row["minutes"])
        assert all(part.margin >= 1 - 1e-9 for part in s.parts)


def test_command_text_json_and_files(capsys, tmp_path, small_list):
    table, saved = tmp_path / "all.csv", tmp_path / "new.toml"
    args = ["choose", FAMILY, "--prices", str(small_list)]
    assert main([*args, "--csv", str(table), "--save", f"cheapest:{saved}"]) == 0
    out = capsys.readouterr().out
    assert "The cheapest that stands costs" in out
    for name, row in cautions().items():
        assert (row["fact"] in out) == ("choose" in row["shown"]), name
    assert "choose" in cautions()["mains near water"]["shown"]
    assert table.read_text(encoding="utf-8").startswith("design,cost")
    assert main([*args, "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert found["rows"][0]["design"] == "cheapest"
    assert f"{found['rows'][0]['cost']:,.0f}" in out
    assert size(load(saved)).standby.minutes_peak / 60 == pytest.approx(found["rows"][0]["minutes"])


def test_command_writes_the_list_and_refuses_what_it_cannot_do(capsys, tmp_path, small_list):
    listed = tmp_path / "list.toml"
    assert main(["choose", FAMILY, "--list", str(listed)]) == 0
    assert offers(listed).combinations == offers().combinations
    capsys.readouterr()
    assert main(["choose", FAMILY, "--save", "cheapest"]) != 0
    assert "cheapest:new.toml" in capsys.readouterr().err
    assert (
        main(
            ["choose", FAMILY, "--prices", str(small_list), "--save", f"best:{tmp_path / 'x.toml'}"]
        )
        != 0
    )
    assert "no design 'best'" in capsys.readouterr().err


# --- the page -----------------------------------------------------------------------------------


@pytest.fixture
def page(monkeypatch):
    """A session at the page, whose studies look at the short list."""
    few = _few()
    monkeypatch.setattr(
        buying, "offers", lambda quotes=None: offers(quotes=quotes) if quotes else few
    )
    session = Session("choose")
    yield session
    if session.job is not None:
        session.job.stop()
        session.job.wait(60)


def _worked_out(session) -> dict:
    session.handle({"do": "study"})
    session.job.wait(120)
    session.handle({"do": "study"})
    assert not session.notice
    return choosing.answered(session)


def test_a_page_asks_shows_and_takes_the_parts(page):
    assert choosing.progress(page)["state"] == buying.WAITING
    first = blocks.compose(page)
    assert first["study"]["state"] == buying.WAITING
    assert first["own"][0]["form"] == "buy"
    assert not first["own"][0]["ready"]
    found = _worked_out(page)
    assert found["study"]["state"] == buying.DONE
    block = found["own"][0]
    assert [row[0] for row in block["rows"]] == [part.capitalize() for part in SETS]
    cost = found["headline"][1]["value"]
    assert block["picks"][0]["label"].startswith(cost)
    chosen = page.chosen.cheapest
    assert f"{chosen.goals['cost']:,.0f}" in cost
    before = page.design
    page.handle({"do": "buy"})
    assert page.design == chosen.design
    assert float(page.sizing.standby.minutes_peak) == pytest.approx(chosen.goals["minutes"])
    assert choosing.progress(page)["state"] == buying.WAITING  # of another design
    page.handle({"do": "undo"})
    assert page.design == before


def test_a_moved_slider_stops_the_study_and_the_next_is_of_the_new_design(page):
    page.handle({"do": "study"})
    job = page.job
    page.handle({"do": "set", "path": "prices.electricity", "text": "0.30"})
    assert blocks.moving(page)["study"]["state"] == buying.WAITING
    job.wait(60)
    assert job.state == buying.STOPPED
    assert job.found is None
    assert _worked_out(page)["study"]["state"] == buying.DONE
    assert page.chosen.sizing.design.prices.electricity == page.design.prices.electricity


def test_a_study_is_stopped_by_hand_and_started_again(page):
    page.handle({"do": "study"})
    page.handle({"do": "stop_study"})
    page.job.wait(60)
    assert choosing.progress(page)["state"] == buying.STOPPED
    page.handle({"do": "study"})  # the page asks how far it is: that starts nothing
    assert choosing.progress(page)["state"] == buying.STOPPED
    page.handle({"do": "study", "again": True})
    page.job.wait(120)
    assert choosing.progress(page)["state"] == buying.DONE


def test_what_was_worked_out_is_not_lost_when_a_choice_moves_and_comes_back(page):
    found = _worked_out(page)["study"]
    first = page.chosen
    page.handle({"do": "set", "path": "prices.electricity", "text": "0.30"})
    moved = blocks.moving(page)
    assert moved["headline"][1]["value"] != "…", "what was found last stays in sight"
    page.handle({"do": "study"})
    page.handle({"do": "undo"})
    page.handle({"do": "study"})
    assert page.chosen is first
    assert choosing.progress(page) == found
    page.handle({"do": "study", "again": True})  # who asks for it anew gets it anew
    assert page.job.found is not first


def test_what_ended_unheard_is_not_lost(page):
    page.handle({"do": "study"})
    page.job.wait(120)
    first = page.job.found
    page.handle({"do": "set", "path": "prices.electricity", "text": "0.30"})
    page.handle({"do": "study"})
    assert page.chosen is first


def test_the_page_stays_usable_while_the_whole_list_is_looked_at():
    """A move is answered, the study says how far it is, and a move of the design stops it.

    Both run in one program, which takes turns between them: a move waits for a few turns at most.
    """
    session = Session("choose")
    blocks.compose(session)
    places = itertools.cycle(np.linspace(0.1, 0.9, 9))

    def move() -> float:
        start = time.perf_counter()
        session.handle({"do": "slide", "path": "prices.electricity", "at": float(next(places))})
        assert blocks.moving(session)["choices"]
        return time.perf_counter() - start

    at_rest, meanwhile, shares = [move() for _ in range(20)], [], []
    for _ in range(5):
        session.handle({"do": "study"})
        job = session.job
        while job.state == buying.RUNNING and job.share < 0.01:
            time.sleep(0.02)
        shares.append(choosing.progress(session)["share"])
        assert choosing.progress(session)["state"] == buying.RUNNING
        meanwhile.append(move())
        assert choosing.progress(session)["state"] == buying.WAITING
        job.wait(60)
        assert job.state == buying.STOPPED
    assert np.median(meanwhile) < 15 * np.median(at_rest), (meanwhile, at_rest)
    assert all(0.0 < share < 1.0 for share in shares)


def test_a_quote_stays_with_the_person_and_changes_the_price(page):
    page.handle(
        {"do": "quote", "part": "tank", "name": "pool with a liner", "price": "$0.20 per gal"}
    )
    assert not page.own_wrong
    assert page.own["quotes"] == [
        {"part": "tank", "name": "pool with a liner", "price": "0.20 per gal"}
    ]
    assert page.design.prices.tank is None
    again = Session("choose")
    again.handle({"do": "open", "own": page.own})
    assert again.own["quotes"] == page.own["quotes"]
    for wrong in (
        {"price": ""},
        {"price": "0.2 per mile"},
        {"name": "bathtub", "price": "3"},
        {"part": "roof"},
    ):
        page.handle({"do": "quote", "part": "tank", "name": "pool with a liner", **wrong})
        assert page.own_wrong, wrong
    assert len(page.own["quotes"]) == 1
    page.handle({"do": "drop_quote", "part": "tank", "name": "pool with a liner"})
    assert page.own["quotes"] == []


def test_a_bare_number_is_a_price_in_the_usual_unit():
    assert (
        buying.quote_of({"part": "pipe", "name": "2 in pipe", "price": "3.5"})["price"]
        == "3.5 per ft"
    )
    assert (
        buying.quote_of({"part": "backup", "name": "battery with an inverter", "price": "600"})[
            "price"
        ]
        == "600"
    )


def test_nothing_is_taken_before_anything_is_found(page):
    page.handle({"do": "buy"})
    assert "Nothing has been worked out" in page.notice
    assert not page.can_undo


def test_an_error_inside_the_study_is_told(page, monkeypatch):
    def broken(*_):
        raise RuntimeError

    monkeypatch.setattr(buying, "study", broken)
    page.handle({"do": "study"})
    page.job.wait(60)
    assert choosing.progress(page)["state"] == buying.FAILED
    assert choosing.progress(page)["words"] == buying.SORRY


def test_the_channel_tells_each_time_how_far_it_is(page):
    sent = []
    channel = PageChannel(page, lambda content, buffers: sent.append(content))
    channel.receive({"n": 1, "message": {"do": "open"}})
    for number in (2, 3):
        channel.receive({"n": number, "message": {"do": "study"}})
        assert sent[-1]["ack"] == number
        assert sent[-1]["quiet"]
        assert sent[-1]["blocks"]["study"]["state"] in (buying.RUNNING, buying.DONE)


def test_a_lid_has_its_price_in_the_budget_and_in_the_hand_out(family):
    lidded = size(with_values(family.design, {"climate.cover": "foam lid"}))
    names = [item.name for item in enterprise(lidded).items]
    assert "lid" in names
    assert "lid" not in [item.name for item in enterprise(family).items]
    lid = next(item for item in enterprise(lidded).items if item.name == "lid")
    share = family.design.climate.cover_share
    assert lid.quantity == pytest.approx(float(family.tank.floor * family.stock.tanks) * share)
