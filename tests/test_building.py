"""From the papers alone: every purchase, cut, hole and circuit of a design, each counted once, all sums one."""

import csv
import functools
import io
import itertools
import json
import math
import re
from collections import Counter
from html import unescape

import openpyxl
import pytest
from building_kinds import KINDS_OF_DESIGN, kind_of_design
from designs import DEMOS, demo, random_design

from rsdesign import size
from rsdesign.__main__ import main
from rsdesign.building.bill import WHY, bill
from rsdesign.building.circuits import circuits
from rsdesign.building.cuts import KERF, Piece, cuts, first_fit, tight
from rsdesign.building.layout import layout
from rsdesign.building.parts_flow import LABELS
from rsdesign.building.prices import listed_parts, own_prices
from rsdesign.building.problems import tape
from rsdesign.building.row import ORDER
from rsdesign.building.rules import material, pipe_part, rule
from rsdesign.building.stations import (
    end_halves,
    ends,
    is_stub,
    parted,
    pieces_of,
    spot_of,
    stations,
)
from rsdesign.building.steps import steps
from rsdesign.building.supports import supports
from rsdesign.building.weights import weights
from rsdesign.core.cautions import cautions
from rsdesign.core.choices import DesignError
from rsdesign.core.kinds import KINDS as UNITS
from rsdesign.core.tables import data_folder
from rsdesign.core.units import show
from rsdesign.design.model import with_values
from rsdesign.pages.own_blocks import budget
from rsdesign.pages.session import Session
from rsdesign.report.building import rows as words
from rsdesign.report.building.all_lists import building
from rsdesign.report.building.sums import two_sums
from rsdesign.report.cost import money
from rsdesign.report.handout.blocks import Heading, Table
from rsdesign.report.handout.document import compose
from rsdesign.report.handout.html import html
from rsdesign.report.handout.spreadsheet import spreadsheet
from rsdesign.studies.enterprise import ITEMS, bought

KINDS = [*KINDS_OF_DESIGN]


def laid(name):
    return layout(size(kind_of_design(name)))


def file_of(name) -> str:
    return str(data_folder() / "designs" / f"{name}.toml")


# --- an independent reader: the tables of the paper, and nothing else -----------------------


def paper_tables(name) -> dict[str, list[list[str]]]:
    """Every table of the HTML hand-out by its caption, as rows of words."""
    text = html(compose(size(demo(name)), "us"))
    found = {}
    for table in re.findall(r"<table.*?</table>", text, re.DOTALL):
        caption = re.search(r"<caption[^>]*>(.*?)</caption>", table, re.DOTALL)
        if caption is None:
            continue
        lines = [
            [unescape(re.sub(r"<[^>]*>", "", cell)).strip()
             for cell in re.findall(r"<t[hd][^>]*>(.*?)</t[hd]>", line, re.DOTALL)]
            for line in re.findall(r"<tr.*?</tr>", table, re.DOTALL)
        ]  # fmt: skip
        found[unescape(re.sub(r"<[^>]*>", "", caption[1])).strip()] = lines
    return found


@pytest.fixture(scope="module", params=DEMOS)
def paper(request):
    return request.param, paper_tables(request.param)


def table(found, start):
    return next(lines[1:] for caption, lines in found.items() if caption.startswith(start))


def bought_rows(found):
    """Part and size, how many and the cost, of every purchase on the paper."""
    lines = [line for lines in found.values() if lines and lines[0][:2] == ["Part and size", "How many"]
             for line in lines[1:]]  # fmt: skip
    return [line for line in lines if not line[0].endswith(", together")]


def test_the_paper_gives_each_vessel_a_size_and_its_levels(paper):
    name, found = paper
    lines = {line[0]: line for line in table(found, "Vessels:")}
    for v in layout(size(demo(name))).vessels:
        line = lines[v.label.capitalize()]
        assert line[1] == str(v.count)
        assert tape(v.across, "us") in line[2]
        for place, height in ((3, v.wall), (4, v.level), (5, v.floor), (6, v.rim)):
            assert line[place] == tape(height, "us")
        assert line[7]


def test_the_fittings_of_the_pipes_are_the_fittings_to_buy(paper):
    """Summed up from the table of pipes, by kind and size; the list has them all and no more."""
    _, found = paper
    counted = Counter()
    for line in table(found, "Pipes:"):
        if line[4] == "none":
            continue
        for fitting in line[4].split(", "):
            many, kind, fit_size = re.fullmatch(r"(\d+) ([a-z -]+?) (\d.*in)", fitting).groups()
            counted[(LABELS.get(kind, kind.capitalize()), fit_size)] += int(many) * int(line[2])
    listed = Counter()
    for part, many, *_ in bought_rows(found):
        kind, _, fit_size = part.replace(" (seldom in stock: order early)", "").rpartition(", ")
        if kind in {label for label, _ in counted} and re.fullmatch(
            r"[\d/-]+ in( by [\d/-]+ in)?", fit_size
        ):
            listed[(kind, fit_size)] += int(many.replace(",", ""))
    assert listed == counted


def test_every_pipe_of_the_paper_can_be_bought_and_cut(paper):
    """Each run has its pieces, each piece comes out of a length, and as many lengths are on the list."""
    _, found = paper
    pieces = Counter()
    for _, pipe, long, many in table(found, "Pieces to cut"):
        pieces[(pipe, long)] += int(many)
    out, lengths = Counter(), Counter()
    for pipe, long, many, cut, _ in table(found, "What comes out of each length"):
        lengths[(pipe, long)] += int(many)
        for piece in cut.split(", "):
            out[(pipe, piece)] += int(many)
    assert out == pieces
    listed = Counter()
    for part, many, *_ in bought_rows(found):
        match = re.fullmatch(r"Pipe, schedule 40, (.*), lengths of (.*)", part)
        if match:
            listed[match.groups()] += int(many)
    assert listed == lengths
    with_pieces = {line[0] for line in table(found, "Pieces to cut")}
    for line in table(found, "Pipes:"):
        assert line[0] in with_pieces or "hose" in line[0], line[0]


def test_every_machine_of_the_paper_has_a_circuit_and_every_circuit_its_breaker(paper):
    name, found = paper
    s = size(demo(name))
    lines = table(found, "Circuits")
    plates = sum(float(line[2].removesuffix(" W").replace(",", "")) for line in lines
                 if not any(word in line[1] for word in ("heater", "lights", "charger")))  # fmt: skip
    drawn = s.air.plate_watts + s.bed.wire_power + s.pump.plate_watts
    assert plates == pytest.approx(drawn, rel=2e-3)
    for start in ("Breaker", "Ground-fault", "Outlet", "Licensed electrician"):
        many = sum(int(r[1]) for r in bought_rows(found) if r[0].startswith(start))
        assert many == len(lines), start
    assert all(line[6] == "yes" for line in lines)


def test_the_costs_of_the_paper_add_up_to_the_sum_on_its_front(paper):
    name, found = paper
    costs = [float(r[3].removeprefix("$").replace(",", "")) for r in bought_rows(found)]
    total = bill(layout(size(demo(name)))).total
    assert sum(costs) == pytest.approx(total, abs=0.5 * len(costs))
    text = unescape(re.sub(r"<[^>]*>", "", html(compose(size(demo(name)), "us"))))
    assert text.count(f"everything to buy comes to {money(total)}") == 3  # front, parts, list


@pytest.mark.parametrize("name", DEMOS)
def test_both_sums_and_their_difference_stand_beside_each_other_everywhere(name, capsys):
    """Front page, parts, list, the commands cost and parts, and the page say one sentence."""
    s = size(demo(name))
    found = building(s)
    said = two_sums(found, "$")
    plan, total = found.bill.plan_total, found.bill.total
    for sum_ in (plan, total, total - plan):
        assert money(sum_) in said
    more = {label[:1].lower() + label[1:]: b - a for label, a, b, _ in found.bill.differences()}
    named = re.findall(r"([a-zA-Z' ]+) \$([0-9,]+)", said.partition("most of it ")[2])
    assert [float(cost.replace(",", "")) for _, cost in named] == [
        pytest.approx(more[label.strip()], abs=0.5) for label, _ in named]  # fmt: skip
    assert sorted(more.values())[-len(named) :][::-1] == [more[label.strip()] for label, _ in named]
    text = re.sub(r"\s+", " ", unescape(re.sub(r"<[^>]*>", "", html(compose(s, "us")))))
    assert text.count(said) == 2  # parts of the budget, list
    assert text.count(two_sums(found, "$", named=0)) == 1  # front page, which has little room
    for command in ("cost", "parts"):
        assert main([command, file_of(name)]) == 0
        assert said in capsys.readouterr().out
    session = Session("cost")
    session.design, session.sizing = s.design, s
    assert said in budget(session)["summary"]


FAMILY = (
    "Fish tank", "Radial settler", "Box of the second screen", "Moving bed filter", "Sump",
    "Sand bed", "Blocks for the pit", "Net over one tank", "Cover of the sump",
    "regenerative 0.4 kW", "SPARE: regenerative 0.4 kW", "diaphragm 60", "pond 100 W", "SPARE: pond 100 W",
    "Backup: ", "Battery of the backup", "Charger", "Fuse with its holder", "Alarm", "SPARE: Check valve", "SPARE: Adapter",
    "SPARE: Union", "SPARE: Diaphragm set", "SPARE: Air filter", "SPARE: Seal ring", "Post, or bracket", "Pipe, schedule 40, 2 in", "Pipe, schedule 40, 3 in",
    "Pipe, schedule 40, 4 in", "Bulkhead fitting, 2 in", "Bulkhead fitting, 4 in", "Check valve, 2 in",
    "Ball valve, 2 in", "Union, 2 in", "Elbow, 90 degrees, 2 in", "Screen around a standpipe",
    "Screen of the centre drain", "Screen that keeps the media in", "Pipe cement", "Pipe primer",
    "Pipe strap", "Air hose", "Air valve", "Hose clamp", "Disc of rubber membrane", "Breaker",
    "Ground-fault protection", "Wire in its conduit", "Outlet", "Licensed electrician",
    "Carriers, in bags", "Mat for the second screen", "Oxygen meter, pH meter, test kits",
    "Back-flow stop", "Dechlorinator", "Saddle with thread", "Rail across a vessel", "Inlet well",
    "Fence around all of it", "Gate of the fence", "Test plug, 2 in",
    "Sensors of the alarm", "Tee, check valve and valve with a tag for the backup air",
)  # fmt: skip
"""What an extension educator expects a family to buy: each has a row."""


def test_nothing_that_a_family_needs_is_missing():
    listed = [r[0] for r in bought_rows(paper_tables("family"))]
    assert [want for want in FAMILY if not any(r.startswith(want) for r in listed)] == []


# --- the checklist: every edge, machine and vessel of the demos and of any design -------------


@functools.cache
def any_building(name):
    return building(size(random_design(name) if isinstance(name, int) else demo(name)))


@pytest.mark.parametrize("name", [*DEMOS, *range(30)])
def test_no_question_is_left_about_a_pipe(name):
    """Each edge of the flow graph: cut, opened, turned by elbows that are bought, and its ends are holes."""
    found = any_building(name)
    made = found.layout
    wrong = [w for run in made.runs for w in _questions(found, run)]
    listed, needed = Counter(), Counter()
    for row in found.bill.rows:
        label = row.label.replace(" (seldom in stock: order early)", "")
        listed[label, row.size.words] += row.count
    for run in made.runs:
        if run.kind == "hose":
            assert listed["Air hose", run.pipe] == pytest.approx(run.in_all)
        for (kind, fit_size), many in words.fitted(run).items():
            needed[LABELS.get(kind, kind.capitalize()), fit_size] += many * run.count
    wrong += [
        f"{key}: {listed[key]} on the list, {n} in the pipes"
        for key, n in needed.items()
        if listed[key] != n
    ]
    holes = sum(
        h.count * v.count for v in made.vessels for h in v.holes if h.fitting == "bulkhead fitting"
    )
    fittings = sum(run.counted("bulkhead") * run.count for run in made.runs)
    if (
        made.vessel(made.run("drain").target).count > 1
    ):  # the layout says that it cannot be built so
        assert any("ends in one vessel" in p.words for p in made.problems)
    elif holes != fittings:
        wrong.append(f"{holes} holes for bulkhead fittings, {fittings} fittings")
    assert wrong == []


def _questions(found, run):
    """What a builder is left to ask about one run."""
    if run.kind == "hose":
        return
    if not any(p.run == run.name for p in found.cuts.pieces):
        yield f"{run.name}: nothing cut"
    if (
        run.counted("elbow")
        != max(len(legs) for legs in run.each) - 1 + run.at_ends - run.corner_tees
    ):
        yield f"{run.name}: elbows and corners differ"
    if run.kind != "gravity":
        return
    opened = run.counted("union") + run.counted("flexible coupling") + run.counted("ball valve")
    if (
        not opened and run.name != "drain branch"
    ):  # that one is opened at the clean-out of the drain
        yield f"{run.name}: nothing opens it"
    for vessel in (found.layout.vessel(run.source), found.layout.vessel(run.target)):
        # a pipe may end over the rim of a drip pan, or over the sump
        if vessel and vessel.name != "sump" and not vessel.holes and vessel.inlet is None:
            yield f"{run.name}: no hole in {vessel.name}"


@pytest.mark.parametrize("name", [*DEMOS, *range(30)])
def test_no_question_is_left_about_a_machine_or_a_vessel(name):
    """Each machine has a purchase, a circuit and a spare that is marked; each vessel a size, a level, a place, ground."""
    found = any_building(name)
    made = found.layout
    for m in made.machines:
        bought_ = [r for r in found.bill.rows if r.name in (m.name, f"spare {m.name}")]
        assert sum(r.count for r in bought_ if not r.spare) == m.running
        assert sum(r.count for r in bought_ if r.spare) == m.spare
        mine = [c for c in found.circuits if c.machine == m.name]
        assert mine
        assert all(c.ground_fault and c.breaker >= c.amperes for c in mine)
    protection = sum(r.count for r in found.bill.rows if r.name == "ground-fault protection")
    assert protection == len(found.circuits)
    sizes = {line[0]: line for line in words.vessels(made, "us").rows}
    for v in made.vessels:
        assert all(sizes[v.label.capitalize()])
        assert v.level > v.floor
        assert len(made.places[v.name]) == v.count
        assert (
            any(r.used == v.name and r.group in ("vessels", "media") for r in found.bill.rows)
            or v.name == "tank"
        )
        assert any(r.used == v.name and r.group == "ground" for r in found.bill.rows), v.name
        if v.name not in ("tank", "sump") and v.inlet is None:
            assert v.holes, v.name
    if made.vessel("filter"):
        media = next(r for r in found.bill.rows if r.name == "media")
        assert media.count >= float(made.sizing.filter.media_volume) / rule("bag of media") - 1e-9


@pytest.mark.parametrize("name", [*DEMOS, *range(30)])
def test_the_differences_from_the_budget_add_up(name):
    found = any_building(name).bill
    lines = found.differences()
    more = math.fsum(listed - plan for _, plan, listed, _ in lines)
    assert more == pytest.approx(found.total - found.plan_total, rel=1e-9, abs=1e-6)
    for _, plan, listed, why in lines:
        assert why
        if "whole bags" in why:
            bag = next((r.price for r in found.rows if r.name == "media"), 0.0)
            assert 0.0 <= listed - plan + 1e-6 < bag + 1e-6
        elif why.startswith("the same") and "spares" not in why:
            assert listed == pytest.approx(plan, rel=1e-6, abs=1e-6), why


@pytest.mark.parametrize("name", [*DEMOS, *range(30)])
def test_each_vessel_has_its_material_and_each_machine_its_duty(name):
    """Material and wall of each vessel as drawn; flow and head, or air and pressure, of each machine by the sizing."""
    found = any_building(name)
    made, s = found.layout, found.layout.sizing
    for v in made.vessels:
        if v.name == "screen" and v.kind == "screen":
            continue  # a machine that is bought whole
        row = next(r for r in found.bill.rows if r.group == "vessels" and r.used == v.name)
        assert row.note.words.startswith(material(v.name))
        assert any(word in row.note.words for word in ("olyethylene", "liner"))
        assert tape(v.wall, "us") in row.size.said("us")
        assert row.count == v.count
    given = {
        "pump": s.pump.flow,
        "air machine": s.air.device_flow,
        "filter air machine": s.bed.device_flow,
    }
    against = {
        "pump": s.pump.head,
        "air machine": s.air.discharge_pressure,
        "filter air machine": s.bed.pressure,
    }
    kinds = {"pump": ("flow", "length")}
    for m in made.machines:
        share = m.running if m.kind == "pump" else 1
        rate, push = (UNITS[k] for k in kinds.get(m.name, ("air flow", "pressure")))
        for row in (r for r in found.bill.rows if r.name in (m.name, f"spare {m.name}")):
            for system in ("us", "metric"):  # plates bear metric units
                size = row.size.said(system)
                assert show(float(given[m.name]) / share, rate, system) in size
                assert show(float(given[m.name]) / share, rate, "metric") in size
                assert show(float(against[m.name]), push, system) in size
                assert show(m.watts, UNITS["power"], system) in size
            assert row.note.words


@pytest.mark.parametrize("name", [*DEMOS, *range(30)])
def test_every_long_pipe_over_the_floor_is_held(name):
    """No span between straps is wider than the codes for plastic pipe allow; each strap has something to hold."""
    found = any_building(name)
    listed = Counter()
    for row in found.bill.rows:
        if row.name == "strap":
            listed[row.size.words.partition(",")[0]] += row.count
    counted, over_water = Counter(), 0
    for run in found.layout.runs:
        most = (3 if run.inside <= 1.05 * 0.0254 else 4) * 0.3048  # up to 1 in, and over it
        held = supports(found.layout, run)
        counted[run.pipe] += len(held)
        over_water += sum(one.kind == "rail" for one in held)
        if run.kind not in ("pressure", "air") or run.name.startswith("filter air"):
            continue
        for way in (w for w in found.layout.ways if w.run is run):
            for a, b in itertools.pairwise(way.points):
                long = math.dist(a, b)
                on = sum(math.dist(a, s.spot) + math.dist(s.spot, b) - long < 1e-6 for s in held)
                assert on * most >= long - 1e-6 or long < 0.35
    assert listed == +counted
    posts = sum(r.count for r in found.bill.rows if r.name == "post")
    rails = sum(r.count for r in found.bill.rows if r.name == "rail")
    assert rails == over_water
    assert posts + rails == sum(listed.values())


@pytest.mark.parametrize("kind", ["battery air", "inverter", "generator", "oxygen bottle", "none"])
def test_what_stands_ready_is_whole_and_its_sum_is_told(kind):
    """Batteries by the load, the hours and what of the label is left; charger and fuse by their currents."""
    backup = (
        {"safety.backup": "none"}
        if kind == "none"
        else {"safety.backup": "by itself", "safety.backup_kind": kind}
    )
    s = size(with_values(demo("family"), backup))
    rows = {r.name: r for r in bill(layout(s)).rows}
    batteries = kind in ("battery air", "inverter")
    assert (
        ("battery" in rows) == ("battery charger" in rows) == ("battery fuse" in rows) == batteries
    )
    assert ("transfer switch" in rows) == (kind == "generator")
    assert ("oxygen regulator" in rows) == (kind == "oxygen bottle")
    assert ("backup air" in rows) == (kind != "none")
    if not batteries:
        return
    d, told = s.design.safety, {n: v for n, v, _ in rows["battery"].note.values}
    charge = (
        told["watts"]
        * told["time"]
        / (told["volts"] * told["share"] * told["passed"] * told["kept"])
    )
    assert charge == pytest.approx(told["charge"], rel=1e-12)
    assert (told["volts"], told["share"]) == (d.battery_voltage, d.discharge_depth)
    assert rows["battery"].count * 100 * 3600 * 12 >= charge * told["volts"]
    back = {n: v for n, v, _ in rows["battery charger"].size.values}["current"]
    assert back == pytest.approx(charge * told["share"] / (12 * 3600))
    wired = {n: v for n, v, _ in rows["battery fuse"].size.values}
    assert wired["drawn"] == pytest.approx(told["watts"] / told["volts"] / told["passed"])
    assert wired["fuse"] >= 1.25 * wired["drawn"]
    assert "icensed electrician" in rows["battery fuse"].note.words
    assert "gas burns" in rows["battery"].note.words


def test_every_tank_has_its_net_and_its_lid_where_the_design_has_lids():
    open_, lidded = (
        bill(layout(size(with_values(demo("school"), {"climate.cover": kind}))))
        for kind in ("none", "foam lid")
    )
    for found in (open_, lidded):
        tank = found.layout.vessel("tank")
        net = next(r for r in found.rows if r.name == "tank net")
        assert net.count == tank.count
        assert net.price == pytest.approx(
            listed_parts()["tank net"].price * (tank.across + 0.2032) ** 2, rel=1e-9
        )
    assert not any(r.name == "lid" for r in open_.rows)
    lid = next(r for r in lidded.rows if r.name == "lid")
    assert lid.count == lidded.layout.vessel("tank").count
    assert lid.amount == pytest.approx(lidded.planned["lid"])


def test_a_price_file_may_name_every_part(tmp_path):
    own = tmp_path / "all.toml"
    lines = ["[parts]", *(f'"{name}" = "7.00"' for name in listed_parts())]
    own.write_text("\n".join(lines), encoding="utf-8")
    prices = own_prices(own)
    found = bill(layout(size(demo("school"))), prices)
    assert all(row.own for row in found.rows if not row.listed)


# --- every kind of design -------------------------------------------------------------------


@pytest.mark.parametrize("name", KINDS)
def test_each_way_of_the_water_has_pipe_fittings_and_what_opens_it(name):
    found = laid(name)
    cut = cuts(found)
    for run in found.runs:
        if run.kind == "hose":
            continue
        pieces = [p for p in cut.pieces if p.run == run.name]
        assert pieces, run.name
        assert {p.pipe for p in pieces} == {run.pipe}
        assert sum(p.count for p in pieces) >= run.count
        if run.kind == "gravity" and run.name not in ("centre drain", "drain branch"):
            assert run.counted("union") + run.counted("flexible coupling") == 1, run.name
    names = [r.name for r in found.runs]
    way = [v.name for v in found.vessels if not v.stands_in]
    for here, after in itertools.pairwise(way[1:]):
        if f"{here} to {after}" not in names:  # a tower in the sump lets its water fall
            assert found.vessel("filter").stands_in == after
    if name != "airlifts":
        lifts = found.run("riser") or found.run("main")
        assert lifts.counted("check valve") == 1
        tanks = found.run("branch") or found.run("main")
        assert tanks.counted("ball valve") == 1
    assert found.run("sludge") is None or found.run("sludge").counted("ball valve") == 1


@pytest.mark.parametrize("name", KINDS)
def test_pieces_fit_into_the_lengths_that_are_bought(name):
    found = laid(name)
    cut = cuts(found)
    wanted = Counter()
    for p in cut.pieces:
        wanted[(p.pipe, round(p.length, 6), p.run)] += p.count
    got = Counter((one.pipe, round(x, 6), run) for one in cut.stock for x, run in one.pieces)
    assert got == wanted
    for one in cut.stock:
        used = sum(x for x, _ in one.pieces) + KERF * (len(one.pieces) - 1)
        assert used <= one.length + 1e-9
        assert used + one.left <= one.length + 1e-9
    for pipe, lengths in cut.lengths().items():
        least = sum(p.length * p.count for p in cut.pieces if p.pipe == pipe)
        assert lengths >= math.ceil(least / pipe_part(pipe).stock_length - 1e-9)


@pytest.mark.parametrize("name", KINDS)
def test_a_run_is_cut_from_as_much_pipe_as_its_fittings_leave(name):
    """Pieces are shorter than the run by what stands between them, and by no more than all of it."""
    found = laid(name)
    cut = cuts(found)
    for run in found.runs:
        if run.kind == "hose":
            continue
        lay = pipe_part(run.pipe).lay
        got = sum(p.length * p.count for p in cut.pieces if p.run == run.name)
        corners = sum(len(legs) - 1 for legs in run.each)
        inline = parted(found, run) / run.count
        most = 2 * lay * (corners + inline * run.count) + 2 * lay * run.count
        for f in (f for f in run.fittings if f.kind == "reducer"):  # its bushing and a wider tee
            wider = pipe_part(f.size)
            most += run.count * f.count * (wider.lay + float(wider.socket))
        assert got >= run.in_all - most - 1e-3
        if not tight(
            found, run
        ):  # a piece is no shorter than two sockets, else its run is a problem
            assert (
                got
                <= run.in_all - 2 * lay * (corners + (inline - 1) * run.count) + 0.006 * run.count
            )


@pytest.mark.parametrize("name", [*KINDS, *range(6)])
def test_a_pipe_is_parted_where_its_fittings_are_drawn(name):
    """Leg by leg: pieces and fittings together are the way, no piece is shorter than two sockets, and what
    opens a pipe does not lie under a tank."""
    found = any_building(name).layout if isinstance(name, int) else laid(name)
    joins, tank = ends(found), found.vessel("tank")
    for way in found.ways:
        if way.run.kind == "hose":
            continue
        pieces, short = pieces_of(way, joins)
        halves = sum(sum(end_halves(way, leg)) for leg in range(len(way.legs)))
        off = halves + 2 * sum(s.half for s in stations(way, joins))
        assert sum(pieces) + off == pytest.approx(way.length + short)
        socket = float(pipe_part(way.run.pipe).socket)
        assert (
            min(pieces)
            >= socket * (1 if any(is_stub(way, k) for k in range(len(way.legs))) else 2) - 1e-9
        )
        if short > 0.005:
            assert any(
                "fittings of one pipe" in p.words and way.run.label in p.words
                for p in found.problems
            )
        for kind in ("ball valve", "union"):
            if way.run.counted(kind) and way.run.name in ("drain", "drain branch", "centre drain"):
                (x, y, _), _ = spot_of(way, kind, joins)
                clear = [
                    math.hypot(x - a, y - b) > tank.across / 2 or tank.shape == "box"
                    for a, b in found.places["tank"]
                ]
                assert all(clear) or short, (way.run.name, kind)


@pytest.mark.parametrize("name", [*KINDS, *range(6)])
def test_every_air_machine_joins_the_air_pipe_and_no_valve_can_shut_it(name):
    found = any_building(name).layout if isinstance(name, int) else laid(name)
    mains = [w for w in found.ways if w.run.name == "air main"]
    if not mains:
        return
    assert found.run("air main").counted("ball valve") == 0
    relief = found.run("air relief")
    assert (relief.counted("tee"), relief.counted("ball valve"), relief.count) == (1, 1, len(mains))
    for way in (w for w in found.ways if w.run.name in ("air riser", "air relief")):
        end = way.points[-1] if way.run.name == "air riser" else way.points[0]
        on = [math.dist(a, end) + math.dist(end, b) - math.dist(a, b)
              for main in mains for a, b in itertools.pairwise(main.points)]  # fmt: skip
        assert min(on) < (1e-9 if len(mains) == 1 else 0.1)
        if way.run.name == "air riser":
            assert way.points[0][2] > found.vessel("tank").level
            assert (
                way.run.counted("check valve") == way.run.counted("tee") == 1 or way.run.count == 1
            )


@pytest.mark.parametrize("name", KINDS)
def test_one_load_whole_courses_and_falls_that_add_up(name):
    made = building(size(kind_of_design(name)))
    full = {w.name: w.total for w in made.weights}
    for row in made.bill.rows:
        told = {n: v for n, v, _ in row.size.values}
        if row.name in ("stand", "cone stand"):
            assert told["load"] == pytest.approx(full[row.used])
        if row.name == "block":
            v = made.layout.vessel(row.used)
            assert row.count == v.count * told["around"] * told["high"]
            assert (
                told["high"] * rule("block high") + 1e-9
                >= v.pit + rule("pit bed")
                > (told["high"] - 1) * rule("block high")
            )
            assert told["around"] * rule("block long") >= 2 * (told["long"] + told["wide"]) - 1e-9
    said = next(p for p in made.layout.notes if p.words.startswith("From tank to sump"))
    values = {n: v for n, v, _ in said.values}
    tank, sump = made.layout.vessel("tank"), made.layout.vessel("sump")
    assert values["all"] == pytest.approx(tank.level - sump.level)
    assert values["pipes"] + values["inside"] + values["free"] == pytest.approx(values["all"])
    short = any("falls" in p.words for p in made.layout.problems)
    assert values["free"] > -1e-9 or short


@pytest.mark.parametrize("name", KINDS)
def test_what_budget_and_list_both_count_costs_the_same(name):
    found = bill(laid(name))
    plan = {i.name: float(i.cost) for i in bought(found.layout.sizing)}
    for item in ("settler", "tank", "meters", "pump", "air_machine", "stones"):
        if item == "stones" and not found.layout.diffusers:
            continue
        if item == "pump" and name == "airlifts":
            assert found.of(item) == plan[item] == 0.0
            continue
        assert found.of(item) == pytest.approx(plan[item], rel=1e-9, abs=1e-9), item
    assert found.of("media") >= plan["media"] - 1e-9
    listed = sum(row[2] for row in found.differences())
    assert listed == pytest.approx(found.total, rel=1e-12)
    assert set(WHY) == {*(name for name, *_ in ITEMS), ""}
    assert {row.budget for row in found.rows} <= set(WHY)


@pytest.mark.parametrize("name", KINDS)
def test_every_purchase_is_whole(name):
    found = bill(laid(name))
    places = [ORDER.index(row.group) for row in found.rows]
    assert places == sorted(places)
    for row in found.rows:
        assert row.count > 0, row
        assert row.price >= 0
        assert row.used
        assert row.why
        assert row.size.said("us")
        assert row.size.said("metric")
        if row.kind == "count":
            assert row.count == round(row.count), row
    spares = [row for row in found.rows if row.spare]
    assert all(row.label.startswith("SPARE") for row in spares)
    assert name == "airlifts" or any("pump" in row.name for row in spares)


# --- prices ---------------------------------------------------------------------------------


def test_prices_grow_with_the_size():
    for name, row in listed_parts().items():
        if row.at is not None:
            assert row.of(2 * row.at) == pytest.approx(row.price * 2**row.exponent)
            assert row.of(2 * row.at) > row.of(row.at), name
            assert row.exponent > 0
    found = bill(laid("commercial"))
    pipe = {row.size.words.partition(",")[0]: row.price for row in found.rows if row.name == "pipe"}
    assert pipe["8 in"] / 20 > 4 * pipe["2 in"] / 10  # for each foot


def test_backup_and_electrician_grow_with_the_system():
    small, large = bill(laid("family")), bill(laid("commercial"))
    for item in ("backup", "electrics", "pipe"):
        assert large.of(item) > 2 * small.of(item)


def test_a_price_file_of_ones_own_changes_its_rows_alone(tmp_path):
    own = tmp_path / "own.toml"
    own.write_text(
        '[prices]\npump = "3 per W"\n[parts]\nelbow = "5.60"\nsand = "4.40"\n', encoding="utf-8"
    )
    prices = own_prices(own)
    plain = bill(layout(size(demo("family"))))
    mine = bill(layout(size(prices.into(demo("family")))), prices)
    changed = {}
    for a, b in zip(plain.rows, mine.rows, strict=True):
        assert (a.name, a.count) == (b.name, b.count)
        if a.price != b.price:
            changed[a.name] = b.price / a.price
            assert b.own
    assert changed == pytest.approx({"elbow": 2.0, "sand": 2.0, "pump": 3.0, "spare pump": 3.0})
    assert mine.planned["pump"] == pytest.approx(3 * plain.planned["pump"])


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ('[parts]\nelbw = "1"\n', "elbw"),
        ('[prices]\nelbow = "1"\n', "'elbow'"),
        ('[parts]\nelbow = "dear"\n', "elbow"),
        ('[parts]\nelbow = "-2"\n', "elbow"),
        ('[other]\na = "1"\n', "other"),
        ('parts = 3\n', "[parts]"),
        ("[parts\n", "cannot be read"),
    ],
)  # fmt: skip
def test_a_wrong_price_file_is_said_in_one_sentence(tmp_path, text, said):
    own = tmp_path / "own.toml"
    own.write_text(text, encoding="utf-8")
    with pytest.raises(DesignError) as wrong:
        own_prices(own)
    assert said in str(wrong.value)


# --- circuits, weights, steps ---------------------------------------------------------------


@pytest.mark.parametrize("name", KINDS)
def test_each_air_machine_has_a_circuit_of_its_own(name):
    found = laid(name)
    listed = circuits(found)
    for m in found.machines:
        mine = [c for c in listed if c.machine == m.name]
        if m.kind == "air":
            assert len(mine) == m.running + m.spare
        elif m.running > 1:
            assert len(mine) >= 2
        running = m.running + (m.spare if m.kind == "air" else 0)
        assert sum(c.watts for c in mine) == pytest.approx(running * m.watts)
    for c in listed:
        assert c.breaker >= c.amperes / 0.8 - 1e-9
        assert c.amperes == pytest.approx(c.watts / c.volts)
        assert c.ground_fault


def test_the_load_on_the_floor_is_that_of_the_sizing_and_the_shell():
    for name in DEMOS:
        found = laid(name)
        tank = weights(found)[0]
        assert tank.water / tank.foot == pytest.approx(found.sizing.tank.floor_load)
        assert tank.load > found.sizing.tank.floor_load
        assert tank.pressure / 1e3 == pytest.approx(tank.load * 9.80665e-3)


@pytest.mark.parametrize("name", KINDS)
def test_steps_stand_in_order_with_their_caution_and_water_is_tried_before_fish(name):
    found = steps(laid(name))
    names = [s.row.name for s in found]
    for before, after in (("engineer", "dig"), ("dig", "under"), ("under", "seal"), ("seal", "buried"),
                          ("buried", "set"), ("battery", "wet"), ("fill", "leak"), ("dig", "set"), ("drill", "set"), ("buried", "leak"), ("electric", "wet"),
                          ("leak", "wet"), ("wet", "media"), ("media", "ripen")):  # fmt: skip
        if before in names and after in names:
            assert names.index(before) < names.index(after)
    assert names[-1] == "ripen"
    assert {"leak", "wet"} <= set(names)
    for s in found:
        assert s.row.caution in cautions()
        assert s.time > 0
        assert s.row.people >= 1
        assert s.row.done


def test_first_fit_takes_the_longest_first():
    got = first_fit("2 in", [Piece("a", "a", "2 in", 1.0, 3), Piece("b", "b", "2 in", 2.0, 1)])
    assert [[x for x, _ in one.pieces] for one in got] == [[2.0, 1.0], [1.0, 1.0]]


# --- command and spreadsheet ----------------------------------------------------------------


@pytest.mark.parametrize("name", DEMOS)
def test_the_command_the_table_and_the_paper_say_the_same(name, capsys, tmp_path):
    out = tmp_path / "parts.csv"
    assert main(["parts", file_of(name), "--json", "--csv", str(out)]) == 0
    told = json.loads(capsys.readouterr().out)
    lines = list(csv.DictReader(io.StringIO(out.read_text(encoding="utf-8"))))
    assert len(lines) == len(told["parts"])
    for line, part in zip(lines, told["parts"], strict=True):
        assert float(line["amount"]) == pytest.approx(
            float(line["count"]) * float(line["price"]), rel=1e-9
        )
        assert float(line["amount"]) == pytest.approx(part["amount"], rel=1e-12)
    assert sum(p["amount"] for p in told["parts"]) == pytest.approx(told["total"])
    on_paper = bought_rows(paper_tables(name))
    assert len(on_paper) == len(lines)
    for line, part in zip(on_paper, told["parts"], strict=True):
        note = f". {part['note']}" if part["note"] else ""
        assert line[0] == f"{part['part']}, {part['size']}{note}"
        assert line[3] == money(part["amount"])
    assert main(["parts", file_of(name)]) == 0
    text = capsys.readouterr().out
    assert f"everything to buy comes to {money(told['total'])}" in text
    assert "Leak test" in text


def test_the_command_takes_prices_and_says_what_is_wrong(capsys, tmp_path):
    own = tmp_path / "own.toml"
    own.write_text('[parts]\nelbow = "5.60"\n', encoding="utf-8")
    assert main(["parts", file_of("family"), "--prices", str(own)]) == 0
    assert "(yours)" in capsys.readouterr().out
    own.write_text('[parts]\nelbw = "5.60"\n', encoding="utf-8")
    assert main(["parts", file_of("family"), "--prices", str(own)]) == 2
    assert "elbw" in capsys.readouterr().err


@pytest.mark.parametrize("name", DEMOS)
def test_the_sheet_multiplies_count_and_price_and_takes_yours_first(name):
    s = size(demo(name))
    found = bill(layout(s))
    book = openpyxl.load_workbook(io.BytesIO(spreadsheet(s)))
    sheet, parts = book["Everything to buy"], book["Parts"]
    rows = [
        r for r in sheet.iter_rows(min_row=2) if r[6].value is not None and r[2].value is not None
    ]
    assert len(rows) == len(found.rows)
    total = 0.0
    for cells, row in zip(rows, found.rows, strict=True):
        at = cells[0].row
        assert cells[0].value == row.label
        assert cells[6].value == f'=IF(F{at}="",E{at},F{at})'
        assert cells[7].value == f"=C{at}*G{at}"
        assert cells[5].value is None
        listed = cells[4].value
        if isinstance(listed, str):  # it follows the price on the sheet Parts
            share, _, cell = listed.removeprefix("=").partition("*")
            listed = float(share) * parts[cell.removeprefix("Parts!").replace("$", "")].value
        total += cells[2].value * listed
    assert total == pytest.approx(found.total, rel=1e-12)


def test_the_paper_says_first_what_cannot_be_built():
    s = size(
        with_values(demo("family"), {"filter.type": "trickling", "filter.medium": "plastic rings"})
    )
    blocks = compose(s, "us").blocks
    heads = [b.words for b in blocks if isinstance(b, Heading)]
    assert "Mend these before you buy" in heads
    assert any(isinstance(b, Table) and b.caption.startswith("Vessels:") for b in blocks)
    assert words.problems(building(s).layout, "us")


def test_a_year_with_this_list_costs_more_by_its_share_at_each_life():
    """Without interest: the difference of each part less its worth at the end, over its life, and the shares kept."""
    design = with_values(demo("school"), {"terms.rate": 0.0})
    found = bill(layout(size(design)))
    terms = design.terms
    lives = {i.name: i.life for i in found.items} | {"": terms.life_tank}
    more = sum(
        (found.of(n) - found.planned.get(n, 0.0)) * (1 - terms.salvage) / lives[n] for n in lives
    )
    kept = (found.total - found.plan_total) * (terms.repairs + terms.insurance)
    assert found.more_a_year == pytest.approx(more + kept, rel=1e-9)
    assert found.more_a_year > 0
