"""Exercises: the bank, variants, checking, slips, hints, what is handed in, marks, and paper.

What is sampled here is walked in full by ``tests/bench/bench_exercises.py``: a thousand codes over
every exercise.  Because numbers come from short lists, *every* combination that can be drawn is
looked at here once for its answer, its band and its text; misconceptions are tried on a spread of them.
"""

import dataclasses
import hashlib
import json
import os
import subprocess
import sys

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rsdesign.__main__ import main
from rsdesign.core.choices import DesignError
from rsdesign.core.kinds import KINDS
from rsdesign.core.units import from_plain
from rsdesign.teaching import (
    answers,
    bank_file,
    classbook,
    classtable,
    gradebook,
    papergrid,
    sheets,
    submissions,
)
from rsdesign.teaching.bank import bank, exercise, find
from rsdesign.teaching.cases import answers as final_numbers
from rsdesign.teaching.cases import case, close, fault, index_of, misconception_value, planted_value
from rsdesign.teaching.checking import check
from rsdesign.teaching.exercises import exercise_set, page, read_ticket, ticket
from rsdesign.teaching.hints import hints, shown_answer
from rsdesign.teaching.marking import mark, mark_folder
from rsdesign.teaching.model import FORMS, TOPICS, ExerciseError
from rsdesign.teaching.sets import set_plan, set_plans
from rsdesign.teaching.solutions import told
from rsdesign.teaching.submissions import RefusedError
from rsdesign.teaching.variants import Problem, learner_key, problem
from rsdesign.teaching.wording import reveals

KEY = "an invented class key"
ALL = list(bank().values())
IDS = [e.id for e in ALL]


def own(name: str, learner: str = "A1", turn: str = "") -> Problem:
    return problem(exercise(name), learner, learner_key(KEY, learner), turn)


def sound(e) -> list[int]:
    return [i for i in range(e.combinations) if not fault(e, i)]


def spread(e, most: int = 9) -> list[int]:
    """A few sound combinations from all over the list, each planted error among them."""
    places = sound(e)
    step = max(1, len(places) // most)
    chosen = set(places[::step])
    for planted in e.planted:
        chosen.add(next(i for i in places if case(e, i).planted is planted))
    return sorted(chosen)


def at(e, index: int) -> Problem:
    return Problem(case(e, index), "A1", "", hashlib.sha256(b"x").digest(),
                   tuple(range(len(e.options))))  # fmt: skip


def typed(ask, value: float) -> str:
    """A plain number as somebody would type it in the unit of the key."""
    unit = ask.kind.unit(ask.unit)
    return f"{from_plain(value, unit):.12g} {unit.label}".strip()


def right(found: Problem) -> dict:
    return {
        ask.name: typed(ask, found.answer(ask)) if ask.form == "number" else found.answer(ask)
        for ask in found.exercise.asks
    }


# --- the bank --------------------------------------------------------------------------------


def test_the_bank_is_large_and_covers_topics_and_forms():
    assert len(ALL) >= 40
    assert {e.topic for e in ALL} == set(TOPICS)
    assert {e.form for e in ALL} == set(FORMS)
    for topic in TOPICS:
        assert len(find(topic=topic)) >= 3, topic


@pytest.mark.parametrize("e", ALL, ids=IDS)
def test_an_exercise_says_what_it_is_for(e):
    for text in (e.title, e.objective, e.question, e.principle, e.relation, e.worked):
        assert len(text) > 8, e.id
    assert 1 <= e.level <= 3
    assert 2 <= e.minutes <= 20
    assert e.misconceptions or e.planted or e.form == "rank", "no slip is foreseen"
    for misconception in e.misconceptions:
        assert len(misconception.words) > 20, misconception.name
        assert misconception.words.endswith((".", "?")), misconception.name
    names = [s.name for s in e.misconceptions if s.ask]
    assert len({(s.ask, s.name) for s in e.misconceptions}) == len(names), "a slip is named twice"
    words = [(s.ask, s.words) for s in e.misconceptions]
    assert len(set(words)) == len(words), "two slips share their words"
    for ask in e.numbers:
        assert 0 < ask.tolerance <= 0.05, ask.name
        assert len(ask.why) > 10, "a tolerance says why"
        assert ask.high / ask.low <= 12, "the spread of answers is bounded"


@pytest.mark.parametrize("e", ALL, ids=IDS)
def test_every_combination_that_can_be_drawn_is_sound(e):
    places = sound(e)
    assert len(places) >= 12, "too few variants"
    assert len(places) >= 0.25 * e.combinations, "most draws are thrown away: mend the lists"
    for index in places:
        found = case(e, index)
        for ask in e.numbers:
            assert ask.low <= found.truth[ask.name] <= ask.high
            for misconception in e.misconceptions:
                if misconception.ask == ask.name:
                    wrong = misconception_value(found, misconception)
                    assert not close(ask, wrong, found.truth[ask.name]), misconception.name


def test_a_fault_is_seen():
    """The checks on a draw can fail: a draw whose text holds its answer is not set."""
    e = exercise("feed-ration")
    printed = index_of(e, e.published.draw)  # 100 lb at 3.2 % eat 3.2 lb
    assert fault(e, printed) == "the text holds the answer"


@pytest.mark.parametrize("e", [e for e in ALL if e.published], ids=lambda e: e.id)
def test_published_problems_give_the_printed_answer(e):
    found = case(e, index_of(e, e.published.draw))
    value = found.truth[e.published.ask]
    assert value == pytest.approx(e.published.value, rel=e.published.tolerance)
    assert len(e.published.source) > 10
    assert e.published.place
    if e.published.tolerance > 0.011:
        assert e.published.note, "a wide tolerance says why"


def test_ten_exercises_come_from_published_problems():
    assert sum(e.published is not None for e in ALL) >= 10


WANTED = [
    "gallons taken for litres", "day for hour", "pounds taken for kilograms",
    "percent as a whole number", "radius for diameter", "biomass for feed", "book for net",
    "total ammonia for NH3", "NH3 for its nitrogen", "wall height for water depth",
    "difference taken for a reading", "gauge for absolute", "safety factor twice",
]  # fmt: skip


def test_the_slips_of_the_trade_are_all_there():
    assert not set(WANTED) - {s.name for e in ALL for s in e.misconceptions}


# --- variants --------------------------------------------------------------------------------

DIGEST = """
import hashlib
from rsdesign.teaching.bank import bank
from rsdesign.teaching.hints import hints
from rsdesign.teaching.variants import learner_key, problem
h = hashlib.sha256()
for n in range(12):
    key = learner_key("an invented class key", f"L{n}")
    for e in bank().values():
        p = problem(e, f"L{n}", key)
        answers = [p.answer(a) for a in e.asks]
        shown = [f"{a:.9e}" if isinstance(a, float) else a for a in answers]
        h.update(repr((p.name, p.mark, p.text, p.options, shown, hints(p)[2])).encode())
print(h.hexdigest())
"""


def test_the_same_from_two_processes_and_hash_seeds():
    found = [
        subprocess.run([sys.executable, "-c", DIGEST], capture_output=True, encoding="utf-8",
                       check=True, env={**os.environ, "PYTHONHASHSEED": seed}).stdout
        for seed in ("0", "271828")
    ]  # fmt: skip
    assert found[0] == found[1]
    assert len(found[0].strip()) == 64


def test_everything_in_the_seed_changes_the_seed():
    one = own("tank-round")
    assert one.seed == own("tank-round", "a1 ").seed, "case and spaces do not count"
    others = [own("tank-round", "A2"), own("tank-across"), own("tank-round", turn="before"),
              problem(exercise("tank-round"), "A1", learner_key("other class", "A1"))]  # fmt: skip
    assert len({p.seed for p in (one, *others)}) == 5


def test_neighbours_seldom_share_numbers():
    texts = {own("feed-batch", f"L{n}").text for n in range(30)}
    assert len(texts) >= 22


@pytest.mark.parametrize("bad", ["", "Maria Lopez", "a" * 40, "ä1", "A1;B2", "-1"])
def test_a_name_is_no_code(bad):
    with pytest.raises(ExerciseError, match="is not a learner code"):
        exercise_set("ninety-minutes", bad, KEY)


# --- checking --------------------------------------------------------------------------------


@pytest.mark.parametrize("e", ALL, ids=IDS)
def test_the_key_is_accepted_and_each_slip_gets_its_own_words(e):
    for index in spread(e):
        found = at(e, index)
        done = check(found, right(found))
        assert done.right, done.words
        assert done.expert
        shown = {a.name: shown_answer(found, a) for a in e.asks}
        assert check(found, shown).right, "the printed key is not accepted"
        for misconception in e.misconceptions:
            ask = e.ask(misconception.ask)
            wrong = misconception_value(found.case, misconception)
            text = typed(ask, wrong) if ask.form == "number" else found.lettered(ask, wrong)
            told = check(found, {**right(found), ask.name: text})
            one = next(c for c in told.checked if c.ask == ask.name)
            assert not one.number, misconception.name
            assert not one.right, misconception.name
            assert not told.right, misconception.name
            assert (one.mistake, one.words) == (misconception.name, misconception.words), (
                misconception.name,
                one,
            )
            assert not told.expert, "the way is shown after success only"
        for planted in e.planted:
            if found.case.planted is planted:
                ask = e.numbers[-1]
                text = typed(ask, planted_value(found.case, ask))
                told = check(found, {**right(found), ask.name: text})
                one = next(c for c in told.checked if c.ask == ask.name)
                assert not one.right
                assert one.mistake == "mistake taken over"
                assert f"ine {planted.line} " not in one.words, "the line is given away"


def test_each_step_of_a_chain_follows_the_learners_own_number():
    found = own("whole-chain")
    texts = right(found)
    biomass = found.answer(found.exercise.ask("biomass"))
    wrong = 1.2 * biomass
    later = {name: found.exercise.ask(name) for name in ("feed", "ammonia", "area")}
    texts["biomass"] = typed(found.exercise.ask("biomass"), wrong)
    for name, ask in later.items():
        texts[name] = typed(ask, 1.2 * found.answer(ask))
    told = {c.ask: c for c in check(found, texts).checked}
    assert not told["biomass"].right
    for name in later:
        assert told[name].right, name
        assert "own earlier result" in told[name].words


def test_number_and_unit_are_marked_apart():
    found = own("tank-round")
    ask = found.exercise.ask("volume")
    gallons = from_plain(found.answer(ask), ask.kind.unit("gal"))

    def one(text):
        return check(found, {"volume": text}).checked[0]

    bare = one(f"{gallons:.0f}")
    assert bare.number
    assert bare.unit is False
    assert bare.mistake == "no unit"
    litres = one(f"{gallons:.0f} L")
    assert litres.number
    assert litres.unit is False
    assert not litres.right
    assert "right in gal" in litres.words
    pounds = one(f"{gallons:.0f} lb")
    assert pounds.number
    assert pounds.unit is False
    assert "measures a mass" in pounds.words
    typo = one(f"{gallons:.0f} galn")
    assert not typo.counted
    assert typo.words == "'galn' is not a unit known here. Write gal or m³. This costs no attempt."
    wrong = one(f"{1.31 * gallons:.0f} gal")
    assert not wrong.number
    assert wrong.unit
    assert wrong.words.startswith("We read 3048 gal. It is too large. Think again: ")
    metric = one(f"{3.785411784e-3 * gallons:.3f} m³")
    assert metric.right
    empty = one("  ")
    assert not empty.counted


@pytest.mark.parametrize(
    ("text", "kind", "plain"),
    [
        ("410 gal", "volume", 1.5520188),
        ("1,55 m³", "volume", 1.55),
        ("1.55 m3", "volume", 1.55),
        ("1,550 gal", "volume", 5.8673883),
        ("1.550,5 L", "volume", 1.5505),
        ("1,550.5 litres", "volume", 1.5505),
        ("1 550 L", "volume", 1.55),
        ("0,155 m³", "volume", 0.155),
        ("about 410 Gallons", "volume", 1.5520188),
        ("= 410 gal.", "volume", 1.5520188),
        ("410 galons", "volume", 1.5520188),
        ("12 cubic feet", "volume", 0.33980216),
        ("4 ft 6 in", "length", 1.3716),
        ("4' 6\"", "length", 1.3716),
        ("4.5 lbs per day", "mass flow", 4.5 * 0.45359237 / 86400),
        ("4.5 pounds a day", "mass flow", 4.5 * 0.45359237 / 86400),
        ("30 gallons per minute", "flow", 30 * 3.785411784e-3 / 60),
        ("0.3 g/m2/day", "areal mass rate", 3e-4 / 86400),
        ("82 deg F", "temperature", 27.7777778),
        ("9 °F", "temperature difference", 5.0),
        ("5 C", "temperature difference", 5.0),
        ("35 %", "ratio", 0.35),
        ("35 percent", "ratio", 0.35),
        ("$9,600", "money", 9600.0),
        ("9600 dollars a year", "money", 9600.0),
        ("2 ppm", "concentration", 0.002),
        ("1.5e3 W", "power", 1500.0),
        ("1.5 x 10^3 W", "power", 1500.0),
        ("-3 K", "temperature difference", -3.0),
        ("410 gal (1.55 m³)", "volume", 1.5520188),
    ],
)
def test_answers_are_read_as_people_type_them(text, kind, plain):
    known = next(k for k in KINDS.values() if k.family == kind)
    ask = dataclasses.replace(exercise("tank-round").asks[0], kind=known, unit=known.us)
    assert answers.read(text, ask).value == pytest.approx(plain, rel=1e-6)


def test_a_comma_that_could_be_both_is_taken_as_it_is_right():
    """1,469 gal are thousands; 5,561 m³ is a decimal comma, because only that can be."""
    found = own("tank-round")
    ask = found.exercise.ask("volume")
    cubic = found.answer(ask)
    text = f"{cubic:.3f}".replace(".", ",")
    told = check(found, {"volume": f"{text} m³"}).checked[0]
    assert told.right
    assert "decimal comma" in told.words


@settings(max_examples=60, deadline=None)
@given(st.text(max_size=120))
def test_nothing_that_is_typed_breaks_the_checker(text):
    for name in ("tank-round", "units-rank-flows", "tank-floor-load", "heat-warmup"):
        found = own(name)
        told = check(found, {ask.name: text for ask in found.exercise.asks})
        assert told.words


def test_an_order_nearly_right_is_worth_half():
    found = own("units-rank-flows")
    order = found.answer(found.exercise.asks[0])
    swapped = order[1] + order[0] + order[2:]
    told = check(found, {"order": ", ".join(swapped)}).checked[0]
    assert told.share == 0.5
    assert not told.right
    assert check(found, {"order": order[::-1]}).checked[0].mistake == "order turned round"


def test_a_line_after_the_mistake_is_told_so():
    e = exercise("pump-mistake")
    index = next(i for i in sound(e) if case(e, i).planted.line == "A")
    told = check(at(e, index), {"line": "C", "head": ""}).checked[0]
    assert "takes over a wrong number" in told.words


# --- hints -----------------------------------------------------------------------------------


@pytest.mark.parametrize("e", ALL, ids=IDS)
def test_nothing_shown_before_success_holds_the_learners_own_answer(e):
    for n in range(6):
        found = own(e.id, f"L{n}")
        numbers = final_numbers(found.case)
        seen = json.dumps(page(found), ensure_ascii=False)
        assert not reveals(_words_only(page(found)), numbers), seen
        for level in hints(found):
            assert not told(level, found.case, numbers), level
        for attempt in ({}, {a.name: "1" for a in e.asks}, {a.name: "12 xyz" for a in e.asks}):
            for one in check(found, attempt).checked:
                if not one.right:
                    assert not reveals(one.words, numbers), one.words


def _words_only(value) -> str:
    """Every text of a page but its settings (level, minutes, the number of the variant)."""
    kept = ("title", "objective", "text", "caution", "lines", "options", "columns", "asks")
    found = []
    for key in kept:
        found.append(json.dumps(value[key], ensure_ascii=False))
    return " ".join(found)


def test_the_third_hint_has_other_numbers_from_the_same_functions():
    found = own("tank-round")
    levels = hints(found)
    assert len(set(levels)) == 3
    assert levels[2].startswith("With other numbers")


# --- sets ------------------------------------------------------------------------------------


def test_three_sets_with_their_minutes_and_rules():
    plans = set_plans()
    assert set(plans) == {"ninety-minutes", "three-hours", "five-sessions"}
    for plan in plans.values():
        assert len(plan.before) == len(plan.after) == 3
        for session in plan.sessions:
            work = sum(exercise(name).minutes for name in session.exercises)
            assert work <= session.minutes * 0.8, "no time to talk"
        assert any("attempts" in line for line in plan.rules.words)
        assert plan.rules.late_words in plan.rules.words
    assert len(plans["five-sessions"].sessions) == 5


def test_a_set_that_is_not_there_names_those_that_are():
    with pytest.raises(ExerciseError, match="Did you mean three-hours"):
        set_plan("three hour")
    assert set_plan("tank").rules.attempts == 0


def test_a_ticket_opens_one_learners_problems_only():
    theirs = exercise_set("ninety-minutes", "A1", KEY)
    copy = exercise_set("ninety-minutes", "A1", ticket=ticket(KEY, "A1"))
    assert [p.text for p in copy.problems] == [p.text for p in theirs.problems]
    assert copy.key != theirs.key
    other = exercise_set("ninety-minutes", "A2", ticket=ticket(KEY, "A1"))
    assert [p.seed for p in other.problems] != [
        p.seed for p in exercise_set("ninety-minutes", "A2", KEY).problems
    ]
    with pytest.raises(ExerciseError, match="damaged"):
        read_ticket(ticket(KEY, "A1")[:-3])


# --- what is handed in -----------------------------------------------------------------------


def worked(code: str = "A1", key: str = KEY, name: str = "ninety-minutes", good: int = 99):
    """A set and a submission in which the first so many exercises are right."""
    found = exercise_set(name, code, key)
    work = submissions.blank(found)
    for place, p in enumerate(found.problems):
        text = right(p) if place < good else {a.name: "7 gal" for a in p.exercise.asks}
        work = work.with_attempt(p.name, text, minutes=2)
    return found, work


def test_good_work_gets_every_point():
    found, work = worked()
    marks = mark(submissions.write(work, found), KEY)
    assert marks.points == pytest.approx(marks.out_of)
    assert marks.out_of > 10
    again = mark(submissions.short_text(work, found), KEY)
    assert again.rows == marks.rows
    assert "<svg" in submissions.qr_code(submissions.short_text(work, found))


def test_a_learners_own_copy_is_marked_too():
    found = exercise_set("ninety-minutes", "A1", ticket=ticket(KEY, "A1"))
    work = submissions.blank(found)
    for p in found.problems:
        work = work.with_attempt(p.name, right(p))
    marks = mark(submissions.write(work, found), KEY)
    assert marks.points == pytest.approx(marks.out_of)


def test_a_file_written_again_by_another_program_keeps_its_seal():
    found, work = worked(good=2)
    text = submissions.write(work, found)
    again = json.dumps(json.loads(text.replace(": 2.0", ": 2")), sort_keys=True)
    assert mark(again, KEY).rows == mark(text, KEY).rows


def test_attempts_best_late_and_reason():
    found = exercise_set("ninety-minutes", "A1", KEY)
    p = found.problem("feed-ration")
    bad = {"feed": "77 lb/day"}
    work = submissions.blank(found)
    for typed_answer in (bad, bad, right(p), bad):
        work = work.with_attempt(p.name, typed_answer)

    def points(**more):
        rows = mark(submissions.write(work, found), KEY, **more).rows
        return next(r for r in rows if r.exercise == p.name)

    assert points().points == 3  # the best of the first three
    assert points().attempts == 3
    assert points(late=True).points == pytest.approx(2.4)
    assert points(reasons={p.name: 3}).points == 4
    assert points(reasons={p.name: 3}).out_of == 4
    late = submissions.blank(found)
    for typed_answer in (bad, bad, bad, right(p)):
        late = late.with_attempt(p.name, typed_answer)
    rows = mark(submissions.write(late, found), KEY).rows
    assert next(r for r in rows if r.exercise == p.name).points == 1, "only the unit, in three"


def _damaged(found, work):
    text = submissions.write(work, found)
    table = json.loads(text)
    altered = json.loads(text)
    altered["work"]["feed-ration"]["attempts"][0]["feed"] = "1 lb/day"
    theirs = {**table, "learner": "B2"}
    older = {**table, "edition": "00000000"}
    older["seal"] = submissions._seal({k: v for k, v in older.items() if k != "seal"}, found.key)
    other_found, other_work = worked(key="another class")
    return {
        "altered": (json.dumps(altered), "changed after it was saved"),
        "of another learner": (json.dumps(theirs), "changed after it was saved"),
        "of another version": (json.dumps(older), "another version of the set"),
        "of another format": (json.dumps({**table, "rsdesign_exercises": 9}), "has format '9'"),
        "of another class": (submissions.write(other_work, other_found), "another class"),
        "cut off": (text[: len(text) // 2], "cut off"),
        "5 MB": (text + " " * 5_000_000, "larger than"),
        "no text": (b"\xff\xfe\x00\x80" * 50, "not a text file"),
        "something else": ('{"a": 1}', "not a file of exercises"),
        "no seal": (json.dumps({k: v for k, v in table.items() if k != "seal"}), "seal does not"),
        "a list": ("[" * 3000, "cut off"),
        "endless minutes": (
            text.replace('"minutes": 2.0', '"minutes": 1e999'),
            "holds a wrong one",
        ),
        "odd parts": (json.dumps({**table, "work": [1, 2]}), "lacks a part"),
        "a short text cut off": (submissions.short_text(work, found)[:-40], "copy all of it again"),
    }


@pytest.mark.parametrize("what", list(_damaged(*worked(good=3))))
def test_damaged_work_is_refused_with_a_sentence(what):
    source, words = _damaged(*worked(good=3))[what]
    with pytest.raises(RefusedError, match=words) as told:
        mark(source, KEY)
    assert str(told.value).endswith(".")
    assert "\n" not in str(told.value)


def test_a_bomb_in_a_short_text_does_not_go_off():
    import base64
    import zlib

    packed = zlib.compress(b"0" * 50_000_000, 9)
    with pytest.raises(RefusedError, match="too long"):
        mark("RSX1:" + base64.b32encode(packed).decode().rstrip("="), KEY)


def test_the_rest_of_a_folder_is_still_marked(tmp_path):
    book = classbook.new_class(6)
    sound_work = {}
    for code in book.codes[:3]:
        found, work = worked(code, book.key, good=8)
        sound_work[code] = submissions.write(work, found)
        (tmp_path / f"{code}.json").write_text(sound_work[code], encoding="utf-8")
    found, work = worked(book.codes[0], book.key, good=3)
    for place, (source, _) in enumerate(_damaged(found, work).values()):
        data = source if isinstance(source, bytes) else source.encode("utf-8")
        (tmp_path / f"bad{place}.json").write_bytes(data)
    # one learner's file under another's name
    (tmp_path / f"{book.codes[4]}.json").write_text(sound_work[book.codes[1]], encoding="utf-8")
    found, work = worked("ZZZZ-2", book.key)
    (tmp_path / "stranger.json").write_text(submissions.write(work, found), encoding="utf-8")
    (tmp_path / "late").mkdir()
    found, work = worked(book.codes[3], book.key)
    (tmp_path / "late" / "texts.txt").write_text(
        submissions.short_text(work, found) + "\nRSX1:HELLO\n", encoding="utf-8"
    )
    done = mark_folder(tmp_path, book.key, book.codes)
    assert [m.learner for m in done.marks] == sorted(book.codes[:4])
    assert next(m for m in done.marks if m.learner == book.codes[3]).late
    told = dict(done.refused)
    assert len(told) == len(_damaged(found, work)) + 3
    assert "not" in told[f"{book.codes[4]}.json"]
    assert "not a code of this class" in told["stranger.json"]
    for sentence in told.values():
        assert sentence.endswith(".")
        assert "Traceback" not in sentence


def test_a_grid_of_paper_answers_is_marked(tmp_path):
    book = classbook.new_class(4)
    plan = set_plan("ninety-minutes")
    lines = papergrid.grid(plan, book.codes).splitlines()
    head = lines[2].split(",")
    found = exercise_set(plan.name, book.codes[0], book.key)
    cells = []
    for cell in head[1:]:
        name, ask = cell.rsplit(":", 1)
        cells.append(right(found.problem(name))[ask])
    lines[3] = ",".join([book.codes[0], *cells])
    lines[4] = ",".join([book.codes[1][:-1] + "?", *cells])
    (tmp_path / "grid.csv").write_text("\n".join(lines), encoding="utf-8")
    done = mark_folder(tmp_path, book.key, book.codes)
    assert len(done.marks) == 1
    assert done.marks[0].points == pytest.approx(done.marks[0].out_of)
    assert done.refused[0][0] == "grid.csv, line 5"


# --- the class -------------------------------------------------------------------------------


def test_codes_tell_a_slip_of_the_pen():
    book = classbook.new_class(60)
    assert len(set(book.codes)) == 60
    for code in book.codes:
        assert classbook.well_written(code)
        for place in range(4):
            for letter in classbook.ALPHABET[:6]:
                if letter != code[place]:
                    changed = code[:place] + letter + code[place + 1 :]
                    assert not classbook.well_written(changed)
        for place in range(3):
            turned = code[:place] + code[place + 1] + code[place] + code[place + 2 :]
            assert turned == code or not classbook.well_written(turned)
    assert KEY not in repr(classbook.ClassBook(KEY, ("A",)))


def test_the_table_names_the_common_slips(tmp_path):
    book = classbook.new_class(5)
    e = exercise("feed-ration")
    for code in book.codes:
        found = exercise_set("ninety-minutes", code, book.key)
        p = found.problem(e.id)
        wrong = misconception_value(p.case, e.misconceptions[0])
        work = submissions.blank(found).with_attempt(p.name, {"feed": typed(e.asks[0], wrong)})
        (tmp_path / f"{code}.json").write_text(submissions.write(work, found), encoding="utf-8")
    done = mark_folder(tmp_path, book.key, book.codes)
    assert classtable.common_mistakes(done.marks)[0] == (e.id, e.misconceptions[0].name, 5)
    assert e.misconceptions[0].words in classtable.first_five_minutes(done.marks)[0]
    header, rows = classtable.class_table(done)
    assert header[:3] == ("code", "all", "tried")
    assert rows[0][1] < rows[0][2] == pytest.approx(1 / 3), (
        "the unit of the one exercise tried is right"
    )
    assert len(rows) == 5
    text = gradebook.marks_csv(done)
    first = "code,exercise,points,out_of,attempts,minutes,hints,reason,late"
    assert text.splitlines()[0] == first


# --- paper and the command line --------------------------------------------------------------


def test_sheets_hold_no_answers_and_the_key_holds_all():
    codes = ("A1", "B2")
    html = sheets.sheets("five-sessions", codes, KEY)
    answers_page = sheets.key("five-sessions", codes, KEY)
    for code in codes:
        found = exercise_set("five-sessions", code, KEY)
        assert code in html
        alone = sheets.sheet(found)
        for p in found.problems:
            assert p.mark in alone
            for ask in p.exercise.asks:
                assert shown_answer(p, ask) in answers_page
        for numbers, text in _problem_parts(found):
            assert not reveals(text, numbers)
    assert "<script" not in html
    assert "http" not in html
    assert html.count("<section class='learner'>") == 2


def _problem_parts(found):
    for p in found.problems:
        yield final_numbers(p.case), sheets._question(p)


def test_cards_and_preview():
    assert sheets.cards(("K7QP-W",)).count("K7QP-W") == 1
    html = sheets.preview("biofilter-log")
    assert html.count("Hints") == 3


def run(capsys, *argv) -> str:
    assert main(["exercises", *argv]) == 0
    return capsys.readouterr().out


def test_from_nothing_to_marks_on_the_command_line(tmp_path, capsys):
    class_file = str(tmp_path / "class.toml")
    run(capsys, "codes", "3", "-o", class_file)
    assert main(["exercises", "codes", "3", "-o", class_file]) == 2  # never written over
    run(capsys, "sheet", "three-hours", "--codes", class_file, "-o", str(tmp_path / "out"))
    names = {p.name for p in (tmp_path / "out").iterdir()}
    assert names == {"sheets.html", "cards.html", "grid.csv", "key-for-the-instructor.html"}
    book = classbook.read_class(class_file)
    back = tmp_path / "back"
    back.mkdir()
    found, work = worked(book.codes[0], book.key, "three-hours")
    (back / "a.json").write_text(submissions.write(work, found), encoding="utf-8")
    (back / "b.json").write_text("{", encoding="utf-8")
    reasons = tmp_path / "reasons.csv"
    reasons.write_text(f"code,exercise,rubric\n{book.codes[0]},feed-batch,2\n", encoding="utf-8")
    out = str(tmp_path / "marks.csv")
    capsys.readouterr()
    told = run(capsys, "mark", str(back), "--codes", class_file, "--reasons", str(reasons),
               "-o", out)  # fmt: skip
    assert "1 learner marked" in told
    assert "Not marked, b.json" in told
    rows = (tmp_path / "marks.csv").read_text(encoding="utf-8").splitlines()
    assert len(rows) == 1 + len(set_plan("three-hours").turns)


@pytest.mark.parametrize(
    ("argv", "words"),
    [
        (["codes", "0", "-o", "x"], "from 1 to 500"),
        (["codes", "many", "-o", "x"], "N: 'many' is not a whole number."),
        (["list", "--minutes", "ten"], "--minutes: 'ten' is not a number."),
        (["sheet", "three-hours", "--codes", "nowhere.toml", "-o", "x"], "is not there"),
        (["mark", "nowhere", "-o", "x.csv"], "is not there"),
        (["list", "--topic", "goats"], "is not a topic"),
        ([], "required"),
    ],
)
def test_bad_orders_get_one_sentence(argv, words, capsys, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    assert main(["exercises", *argv]) == 2
    told = capsys.readouterr().err
    assert words in told
    assert "Traceback" not in told
    assert told.count("\n") == 1


def test_the_list_can_be_filtered(capsys):
    found = json.loads(run(capsys, "list", "--paper", "--minutes", "4", "--json"))
    assert found
    assert all(row["paper"] and row["minutes"] <= 4 for row in found)
    assert "exercises. Sets:" in run(capsys, "list", "--topic", "solids")


# --- the file of the bank is read with care ---------------------------------------------------

GOOD = {
    "id": "x", "form": "one step", "title": "A title", "level": 1, "minutes": 3,
    "objective": "An objective.", "question": "How much is {a}?",
    "draw": {"a": {"kind": "mass", "from": ["1 lb", "2 lb"]}},
    "step": [{"name": "v", "function": "tank.vessel.rule_volume", "arguments": {"biomass": "a"}}],
    "ask": [{"name": "v", "unit": "gal", "tolerance": 0.02, "low": "1 gal", "high": "9 gal",
             "why": "because of rounding"}],
    "hint": {"principle": "p", "relation": "r", "worked": "w"},
}  # fmt: skip


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"form": "riddle"}, "is none of"),
        ({"titel": "x"}, "did you mean 'title'"),
        ({"hint": {"principle": "p"}}, "hint needs"),
        ({"draw": {"a": {"kind": "weight", "from": ["1 lb"]}}}, "not a kind of quantity"),
        ({"draw": {"a": {"kind": "mass", "from": ["1 gal"]}}}, "is not a unit of mass"),
        ({"step": [{"name": "v", "function": "os.system"}]}, "is not a function in"),
        ({"step": [{"name": "v", "function": "tank.vessel.nothing"}]}, "not a function of"),
        ({"step": [{"name": "v", "design": "family", "figure": "tank.x"}]}, "is not a figure"),
        ({"slip": [{"name": "s", "words": "w", "change": {"b": 1}}]}, "no step and no draw"),
        ({"slip": [{"name": "s", "words": "w"}]}, "does nothing"),
        ({"form": "rank"}, "needs options"),
        ({"lines": []}, "did you mean 'line'"),
    ],
)
def test_a_fault_in_the_bank_is_one_sentence(change, words):
    assert bank_file.read_exercise(GOOD, "tank").id == "x"
    with pytest.raises(ExerciseError, match=words):
        bank_file.read_exercise({**GOOD, **change}, "tank")


def test_errors_are_the_packages_own():
    assert issubclass(ExerciseError, DesignError)
    with pytest.raises(ExerciseError, match="did you mean tank-round"):
        exercise("tank-rund")


def test_many_attempts_do_not_hold_up_a_class():
    found = exercise_set("tank", "A1", KEY)
    work = submissions.blank(found)
    for _ in range(130):
        work = work.with_attempt("tank-round", {"volume": "5 gal"})
    assert len(work.work["tank-round"].attempts) == submissions.MOST_ATTEMPTS
    rows = mark(submissions.write(work, found), KEY).rows
    assert next(r for r in rows if r.exercise == "tank-round").attempts == 100


def test_a_right_line_brings_its_words():
    e = exercise("solids-mistake")
    found = at(e, next(i for i in sound(e) if case(e, i).planted.line == "B"))
    told = check(found, {"line": "b", "rate": ""}).checked[0]
    assert told.right
    assert "All six faces" in told.words
