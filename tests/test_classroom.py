"""The pages of a class without a browser: messages go in, blocks come out, nothing tells an answer."""

import itertools
import json
import time
from types import SimpleNamespace

import pytest
from reading import grade
from tornado.httputil import HTTPHeaders

from rsdesign.core.units import from_plain
from rsdesign.pages import worked_examples
from rsdesign.pages.classroom import class_session, view
from rsdesign.pages.classroom.instructor import InstructorSession
from rsdesign.pages.classroom.learner import LearnerSession
from rsdesign.pages.jupyter.page_channel import PageChannel
from rsdesign.pages.opening import open_page
from rsdesign.pages.series import CLASS, SERIES
from rsdesign.pages.server import loopback
from rsdesign.pages.session import Session
from rsdesign.teaching import submissions
from rsdesign.teaching.bank import bank, exercise
from rsdesign.teaching.cases import answers
from rsdesign.teaching.classbook import ClassBook, class_text, with_check
from rsdesign.teaching.exercises import exercise_set, ticket
from rsdesign.teaching.hints import shown_answer
from rsdesign.teaching.model import TOPICS
from rsdesign.teaching.sets import set_plan, set_plans
from rsdesign.teaching.solutions import told
from rsdesign.teaching.wording import reveals

BOOK = ClassBook("an invented class key", tuple(with_check(b) for b in ("K7QP", "M3TT", "W9XZ")))
CODE = BOOK.codes[0]


def said(session, **message) -> dict:
    session.handle(message)
    assert session.notice != class_session.SORRY
    found = view.compose(session)
    json.dumps(found, allow_nan=False)
    return found


@pytest.fixture
def at_hand(tmp_path, monkeypatch):
    path = tmp_path / "class.toml"
    path.write_text(class_text(BOOK), encoding="utf-8")
    monkeypatch.setenv(class_session.CLASS_FILE, str(path))


def begun(name="ninety-minutes", code=CODE, clock=time.monotonic) -> LearnerSession:
    """A learner at home, with a ticket."""
    session = LearnerSession(clock)
    said(session, do="begin", set=name, code=code, ticket=ticket(BOOK.key, code))
    assert session.notice == ""
    return session


def taught() -> InstructorSession:
    session = InstructorSession()
    said(session, do="load_class", text=class_text(BOOK))
    return session


def right(problem) -> dict:
    """The right answers as they are typed into the boxes."""
    typed = {}
    for ask in problem.exercise.asks:
        answer = problem.answer(ask)
        if ask.form == "number":
            label = ask.units[0] if ask.units else ask.unit
            unit = ask.kind.unit(label)
            typed[ask.name] = {
                "number": f"{from_plain(answer, unit):.6g}",
                "unit": label if ask.kind.plain.label else "",
            }
        else:
            typed[ask.name] = answer
    return typed


def wrong(problem) -> dict:
    typed = right(problem)
    for ask in problem.exercise.asks:
        if ask.form == "number":
            about = typed[ask.name]
            about["number"] = f"{37.77 * float(about['number']) + 5:.6g}"
        elif ask.form == "order":
            typed[ask.name] = typed[ask.name][::-1]
        else:
            count = len(problem.exercise.lines if ask.form == "line" else problem.options)
            typed[ask.name] = next(x for x in "ABCDEFGH"[:count] if x != typed[ask.name])
    return typed


def strings(block):
    if isinstance(block, str):
        yield block
    elif isinstance(block, dict):
        for part in block.values():
            yield from strings(part)
    elif isinstance(block, list):
        for part in block:
            yield from strings(part)


# --- both pages -------------------------------------------------------------------------------

HOSTILE = [
    None, 7, [], {}, {"do": 7}, {"do": "nothing"}, {"do": "__init__"}, {"do": "begin"},
    {"do": "begin", "set": "ninety-minutes", "code": "Maria Lopez", "ticket": "x"},
    {"do": "begin", "set": "ninety-minutes", "code": CODE, "ticket": "damaged"},
    {"do": "begin", "set": {"a": 1}, "code": [], "ticket": 4},
    {"do": "begin", "set": "no-such-set", "code": CODE},
    {"do": "begin", "set": "../../etc", "code": CODE, "ticket": ticket(BOOK.key, CODE)},
    {"do": "open", "kept": 5}, {"do": "open", "kept": {"set": "tank", "code": CODE, "file": "{"}},
    {"do": "open", "kept": {"set": "tank", "code": "", "file": "null"}},
    {"do": "open", "kept": {"class": "key = 1"}}, {"do": "open", "kept": {"class": "x" * 9000}},
    {"do": "open", "kept": {"class": class_text(BOOK), "grid": {CODE: {"x": 1}}, "rubric": 3}},
    {"do": "go"}, {"do": "go", "name": "power-rank/never"}, {"do": "check"}, {"do": "check", "typed": 3},
    {"do": "check", "typed": {"volume": {"number": ["1"], "unit": 7}}}, {"do": "hint"},
    {"do": "check", "typed": {"feed": "9" * 5000}}, {"do": "reason", "text": None},
    {"do": "load", "text": 4}, {"do": "load", "text": "[" * 5000}, {"do": "load", "text": "RSX1:AAAA"},
    {"do": "load", "text": "x" * 600_000}, {"do": "save"}, {"do": "hand_in"},
    {"do": "make", "count": "0"}, {"do": "make", "count": "-3"}, {"do": "make", "count": "many"},
    {"do": "make", "count": 10}, {"do": "make", "count": "٣"}, {"do": "load_class", "text": "key = "},
    {"do": "load_class", "text": "key = 'k'\ncodes = ['A', 'A']"}, {"do": "load_class", "text": None},
    {"do": "filter", "topic": [], "minutes": "soon"}, {"do": "filter", "level": "nan"},
    {"do": "preview", "name": "no-exercise"}, {"do": "try", "name": {}}, {"do": "papers", "which": "all"},
    {"do": "papers"}, {"do": "set", "name": "nothing"}, {"do": "add"}, {"do": "add", "files": [1, {}, {"name": 3}]},
    {"do": "add", "files": [{"name": "a.csv", "text": "\x00"}, {"name": "b.txt", "text": "RSX1:%"}]},
    {"do": "add", "files": [{"name": "c.json", "text": '{"rsdesign_exercises": 1, "work": []}'}]},
    {"do": "paste", "text": ""}, {"do": "paste", "text": "hello\n\nRSX1:"}, {"do": "mark"},
    {"do": "cell", "code": CODE, "column": "x", "text": "1"}, {"do": "cell"}, {"do": "csv"},
    {"do": "rubric", "code": CODE, "exercise": "feed-ration", "points": 9},
    {"do": "rubric", "code": CODE, "exercise": "feed-ration", "points": [1]},
    {"do": "rubric", "code": "nobody", "exercise": "x", "points": 1}, {"do": "add", "files": "x" * 950_000},
]  # fmt: skip


@pytest.mark.parametrize("ready", [False, True])
@pytest.mark.parametrize("page", ["exercises", "instructor"])
def test_a_hostile_message_gets_a_sentence_and_the_page_goes_on(page, ready):
    session = open_page(page)[0]
    if ready:
        session = begun() if page == "exercises" else taught()
    for message in HOSTILE:
        session.handle(message)
        assert session.notice != class_session.SORRY, message
        assert session.notice == "" or session.notice[-1] in ".?!1:'", session.notice
        assert len(session.notice) < 400
        assert "Traceback" not in json.dumps(view.compose(session))


@pytest.mark.parametrize("page", CLASS, ids=lambda page: page.name)
def test_a_page_of_a_class_is_carried_by_the_same_talk(page):
    sent = []
    session, composer = open_page(page.name)
    talk = PageChannel(session, lambda content, buffers: sent.append(content), composer)
    talk.receive({"n": 1, "message": {"do": "open", "kept": None}})
    talk.receive({"n": 2, "message": {"do": "nothing"}})
    assert sent[0]["blocks"]["frame"]["page"] == page.name
    assert list(sent[1]["blocks"]) == ["frame"], "only what changed"
    assert [p["name"] for p in sent[0]["blocks"]["frame"]["class"]] == [p.name for p in CLASS]
    assert page.question.endswith("?")
    assert grade(" ".join((page.question, *page.words))) <= 9
    assert page.file not in {p.file for p in SERIES}


def test_number_and_unit_go_into_two_boxes_and_back():
    for number, unit in (("410", "gal"), ("1,55", "m³"), ("-3.5e2", "g/(m² day)"), ("7", "")):
        text = class_session.join_unit(number, unit)
        assert class_session.split_unit(text) == {"number": number, "unit": unit}
    assert class_session.join_unit("5 ft 10 in", "ft") == "5 ft 10 in"
    assert class_session.join_unit("35%", "%") == "35%"
    assert class_session.split_unit("about ten") == {"number": "about ten", "unit": ""}


# --- the learner ------------------------------------------------------------------------------


@pytest.mark.parametrize("name", [*set_plans(), *TOPICS])
def test_no_block_tells_an_answer_before_it_is_found(name):
    """New, tried, and with every hint seen; then right, with the expert's way."""
    session = begun(name, BOOK.codes[1])
    for problem in session.found.problems:
        hidden, truth = answers(problem.case), right(problem)
        blocks = [said(session, do="go", name=problem.name)]
        for _ in range(3):
            blocks.append(said(session, do="check", typed=wrong(problem)))
            blocks.append(said(session, do="hint"))
        for found in blocks:
            texts = [*strings(found["problem"]), *strings(found["work"])]
            typed = set(strings(found["work"]["typed"]))
            seen = [t for t in texts if t not in typed and told(t, problem.case, hidden)]
            assert not seen, (problem.name, seen)
            assert found["work"]["expert"] == []
            assert found["work"]["state"] in ("new", "tried", "kept"), problem.name
        found = said(session, do="check", typed=truth)
        silent = problem.turn == "before"
        assert found["work"]["state"] == ("kept" if silent else "right"), problem.name
        assert bool(found["work"]["expert"]) is not silent
        assert len(found["work"]["hints"]) == (0 if silent else 3)


def test_questions_before_are_kept_without_a_word_on_right_or_wrong():
    session = begun()
    problem = session.found.problems[0]
    assert problem.turn == "before"
    for typed in (wrong(problem), right(problem)):
        work = said(session, do="check", typed=typed)["work"]
        assert not work["right"]
        assert all(
            x["right"] is None and x["words"].startswith("Kept. We read") for x in work["words"]
        )
    said(session, do="hint")
    assert session.notice == "These questions go without hints; a guess is fine."


def test_a_hint_comes_after_an_attempt_only():
    session = begun()
    found = said(session, do="go", name="feed-ration")
    assert not found["work"]["may_hint"]
    said(session, do="hint")
    assert session.notice.startswith("Try first")
    assert (
        said(session, do="check", typed={"feed": {"number": "?", "unit": ""}})["work"]["attempts"]
        == 0
    )
    found = said(session, do="check", typed={"feed": {"number": "1", "unit": "lb/day"}})
    assert found["work"]["may_hint"]
    assert found["work"]["left"] == 2


def test_card_code_and_ticket_open_the_same_problems(at_hand):
    session = LearnerSession()
    assert said(session, do="begin", set="three-hours", code="k7qp3")["set"]["code"] == CODE
    home = begun("three-hours")
    assert [p.text for p in session.found.problems] == [p.text for p in home.found.problems]
    assert "marked later" in view.compose(home)["set"]["mode"]
    for code, words in (
        ("K7QP-4", "One of its letters is wrong"),
        (with_check("AAAA"), "not a code of this"),
        ("", "Type the code"),
    ):
        said(session, do="begin", set="three-hours", code=code)
        assert words in session.notice


def test_a_line_of_the_instructors_list_is_a_ticket_too():
    session = LearnerSession()
    said(session, do="begin", set="tank", code="", ticket=f"{CODE}  {ticket(BOOK.key, CODE)}")
    assert session.notice == ""
    assert session.found.learner == CODE


def test_without_a_class_it_is_practice_and_nothing_is_handed_in():
    session = LearnerSession()
    found = said(session, do="begin", set="tank", code="")
    assert not found["set"]["hands_in"]
    assert found["set"]["code"]
    said(session, do="hand_in")
    assert session.notice.startswith("This is practice")


def test_work_goes_on_where_it_was_and_a_changed_file_does_not():
    session = begun()
    said(session, do="go", name="feed-ration")
    said(session, do="check", typed=right(session.found.problem("feed-ration")))
    said(session, do="go", name="flow-bucket")
    kept = said(session, do="check", typed={"flow": {"number": "3,5", "unit": "gpm"}})["keep"]
    again = LearnerSession()
    found = said(again, do="open", kept=kept)
    assert found["set"]["done"] == 1
    found = said(again, do="go", name="flow-bucket")
    assert found["work"]["typed"] == {"flow": {"number": "3,5", "unit": "gpm"}}
    assert found["work"]["words"] == view.compose(session)["work"]["words"]
    for change in ({"code": BOOK.codes[1]}, {"set": "tank"}, {"file": kept["file"].replace("3,5", "9")},
                   {"file": kept["file"][:-30]}, {"ticket": ticket(BOOK.key, BOOK.codes[1])}):  # fmt: skip
        other = LearnerSession()
        found = said(other, do="open", kept=kept | change)
        assert other.notice, change
        assert found["keep"] is None, "nothing blank is written over what the browser keeps"


def test_an_older_file_does_not_take_the_place_of_newer_work():
    session = begun()
    said(session, do="go", name="feed-ration")
    old = said(session, do="check", typed={"feed": "1 lb/day"})["keep"]["file"]
    said(session, do="check", typed={"feed": "2 lb/day"})
    said(session, do="load", text=old)
    assert "older" in session.notice
    assert session.work.work["feed-ration"].attempts[-1] == {"feed": "2 lb/day"}


def test_minutes_are_counted_and_a_long_pause_is_not():
    now = [0.0]
    session = begun(clock=lambda: now[0])
    said(session, do="go", name="feed-ration")
    now[0] += 180
    said(session, do="check", typed={"feed": "1 lb/day"})
    now[0] += 10 * 3600
    said(session, do="check", typed={"feed": "1 lb/day"})
    assert session.work.work["feed-ration"].minutes == pytest.approx(33)


# --- the instructor ---------------------------------------------------------------------------


def handed_in(code: str, good=True, key=BOOK.key) -> str:
    """The file of a learner at home who did all of a set."""
    found = exercise_set("ninety-minutes", code, ticket=ticket(key, code))
    work = submissions.blank(found)
    for problem in found.problems:
        typed = class_session.typed_answers(problem, right(problem) if good else wrong(problem))
        work = work.with_attempt(problem.name, typed, 2)
    work = work.with_reason("feed-ration", "Feed is a share of the weight of the fish.")
    return submissions.write(work, found)


def test_from_learner_to_marks_three_ways():
    session = taught()
    one, two, three = BOOK.codes
    said(session, do="add", files=[{"name": f"{one}_ninety-minutes.json", "text": handed_in(one)}])
    home = begun(code=two)
    said(home, do="load", text=handed_in(two, good=False))
    short = said(home, do="hand_in")["reply"]
    assert short["qr"].startswith("<svg")
    said(session, do="paste", text=short["short"])
    problem = exercise_set("ninety-minutes", three, BOOK.key).problem("feed-ration")
    typed = class_session.typed_answers(problem, right(problem))["feed"]
    said(session, do="cell", code=three, column="feed-ration:feed", text=typed)
    found = said(session, do="mark")["result"]
    assert found["words"] == "3 learners marked, 0 not."
    rows = {row[0]: row[1:] for row in found["table"]["rows"]}
    assert rows[one][0] == "100 %"
    at = found["table"]["headings"].index(exercise("feed-ration").title) - 1
    # a wrong number with a right unit earns the unit: 1 of 3 points
    assert [rows[code][at] for code in BOOK.codes] == ["100 %", "33 %", "100 %"]
    count = {row[0]: row[1:] for row in found["chart"]["table"]["rows"]}
    assert count[exercise("feed-ration").title] == ["2", "1", "0"]
    assert found["reasons"][0]["reason"].startswith("Feed is a share")
    out_of = session.marks.marks[0].out_of
    said(session, do="rubric", code=one, exercise="feed-ration", points=3)
    assert session.marks.marks[0].out_of == out_of + 1
    text = said(session, do="csv")["reply"]["text"]
    assert text.splitlines()[0] == "code,exercise,points,out_of,attempts,minutes,hints,reason,late"
    assert len(text.splitlines()) == 1 + 3 * len(set_plan("ninety-minutes").turns)


def test_what_cannot_be_marked_is_named_and_the_rest_is_marked():
    session = taught()
    one, two, three = BOOK.codes
    good = handed_in(one)
    files = {
        f"{one}_set.json": good,
        "changed.json": handed_in(two).replace('"minutes": 2', '"minutes": 1'),
        "cut.json": handed_in(two)[:-40],
        "other class.json": handed_in(two, key="another key"),
        f"{three}_set.json": handed_in(two),
        "stranger.json": handed_in(with_check("AAAA")),
        "large.json": None,
        "letter.docx": "PK\x03\x04",
        "old.json": handed_in(two).replace('"rsdesign_exercises": 1', '"rsdesign_exercises": 0'),
    }
    said(session, do="add", files=[{"name": n, "text": t} for n, t in files.items()])
    found = view.compose(session)["result"]
    assert [m.learner for m in session.marks.marks] == [one]
    refused = {x["name"]: x["words"] for x in found["refused"]}
    assert len(refused) == len(files) - 1
    words = ["seal does not", "cut off", "another class", "not W9XZ", "not a code of this class",
             "larger than", "cut off or is not one", "another version"]  # fmt: skip
    for name, part in zip(list(files)[1:], words, strict=True):
        assert part in next(w for n, w in refused.items() if n.startswith(name[:8])), name


def test_late_work_counts_less_and_of_two_files_the_later_counts():
    session = taught()
    text = handed_in(CODE)
    said(session, do="add", late=True, files=[{"name": "a.json", "text": text}])
    late = session.marks.marks[0].points
    said(session, do="clear")
    said(session, do="add", files=[{"name": "a.json", "text": text}])
    assert late == pytest.approx(0.8 * session.marks.marks[0].points)


def test_the_commonest_slips_open_the_next_lesson():
    session = taught()
    slip = "wall height for water depth"
    columns = [c["key"] for c in view.compose(session)["grid"]["columns"]]
    column = next(c for c in columns if c.startswith("tank-round/after"))
    for code in BOOK.codes:
        problem = exercise_set("ninety-minutes", code, BOOK.key).problem("tank-round/after")
        ratio = problem.case.drawn["wall"] / problem.case.drawn["depth"]
        ask = problem.exercise.ask("volume")
        value = ratio * from_plain(problem.answer(ask), ask.kind.unit("gal"))
        said(session, do="cell", code=code, column=column, text=f"{value:.5g} gal")
    found = said(session, do="mark")["result"]
    assert found["slips"]["rows"][0] == ["Water in a round tank", slip, "3"]
    assert slip in found["first"][0]["words"]
    assert found["first"][0]["example"].startswith("With other numbers: A tank")


def test_a_class_is_made_saved_kept_and_forgotten():
    session = InstructorSession()
    found = said(session, do="make", count="20")
    assert found["class"]["count"] == 20
    assert found["reply"]["file"] == "class.toml"
    assert found["reply"]["text"] == found["keep"]["class"]
    said(session, do="cell", code=session.book.codes[3], column="feed-ration:feed", text="4 lb")
    said(session, do="set", name="three-hours")
    said(session, do="cell", code=session.book.codes[3], column="feed-batch:gain", text="4 lb")
    again = InstructorSession()
    found = said(again, do="open", kept=view.compose(session)["keep"])
    assert again.book == session.book
    assert found["sets"]["chosen"] == "three-hours"
    assert again.grid == {session.book.codes[3]: {"feed-batch:gain": "4 lb"}}
    assert said(again, do="forget")["keep"] is None


def test_the_key_of_a_class_is_in_one_block_and_in_no_paper_for_learners():
    session = taught()
    for message in ({"do": "preview", "name": "tank-round"}, {"do": "try", "name": "tank-round"}, {"do": "mark"},
                    *({"do": "papers", "which": w} for w in ("sheets", "cards", "grid", "tickets", "key"))):  # fmt: skip
        found = said(session, **message)
        holding = [name for name, block in found.items() if BOOK.key in json.dumps(block)]
        assert holding == ["keep"], message
    home = begun()
    assert BOOK.key not in json.dumps(view.compose(home))


def test_papers_hold_every_code_and_the_sheets_no_answer():
    session = taught()
    sheets = said(session, do="papers", which="sheets")["reply"]["text"]
    key = said(session, do="papers", which="key")["reply"]["text"]
    cards = said(session, do="papers", which="cards")["reply"]["text"]
    lines = said(session, do="papers", which="tickets")["reply"]["text"].splitlines()
    for code in BOOK.codes:
        assert code in sheets
        assert code in cards
        problem = exercise_set("ninety-minutes", code, BOOK.key).problem("tank-round/after")
        answer = shown_answer(problem, problem.exercise.asks[0])
        assert answer in key
        assert answer not in sheets
    assert lines[1] == f"{CODE},{ticket(BOOK.key, CODE)}"


def test_the_bank_is_filtered_and_three_variants_stand_side_by_side():
    session = InstructorSession()
    found = said(session, do="filter", topic="tank", level="2", minutes="6", paper=True)
    rows = found["bank"]["rows"]
    assert 0 < len(rows) < len(bank())
    assert all(r["minutes"] <= 6 and r["level"] <= 2 and r["paper"] for r in rows)
    for book in (None, BOOK):
        session.book = book
        columns = said(session, do="preview", name="tank-round")["preview"]["columns"]
        assert len({c["problem"]["text"] for c in columns}) > 1
        assert len(columns) == 3
        assert all(c["answers"] and len(c["hints"]) == 3 for c in columns)


def test_an_instructor_tries_an_exercise_as_a_learner_has_it():
    session = taught()
    found = said(session, do="try", name="tank-round")
    assert found["preview"] is None
    assert found["work"]["state"] == "new"
    said(session, do="check", typed=wrong(session.trial))
    assert len(said(session, do="hint")["work"]["hints"]) == 1
    found = said(session, do="check", typed=right(session.trial))
    assert found["work"]["right"]
    assert found["work"]["expert"]


def test_thirty_learners_are_marked_and_shown_in_three_seconds():
    codes = tuple(
        with_check(f"A{a}B{b}")
        for a, b in itertools.islice(itertools.product("23456789", "CDEF"), 30)
    )
    session = InstructorSession()
    said(session, do="load_class", text=class_text(ClassBook(BOOK.key, codes)))
    files = [{"name": f"{c}_x.json", "text": handed_in(c, n % 3 > 0)} for n, c in enumerate(codes)]
    start = time.perf_counter()
    found = said(session, do="add", files=files)
    assert time.perf_counter() - start <= 3
    assert found["result"]["words"] == "30 learners marked, 0 not."


# --- the instructor's machine only ------------------------------------------------------------


def asked(path: str, address="127.0.0.1", host="localhost", **headers):
    return SimpleNamespace(
        path=path, remote_ip=address, host_name=host, headers=HTTPHeaders(headers)
    )


@pytest.mark.parametrize("path", ["/voila/render/90_instructor.ipynb", "/voila/render/90%5Finstructor.ipynb",
                                  "/sub/voila/render//./90_INSTRUCTOR.ipynb/"])  # fmt: skip
def test_the_instructors_page_is_refused_from_elsewhere(path):
    refuses = loopback.RemoteInstructorRequest().match
    assert refuses(asked(path)) is None
    assert refuses(asked(path, "::1", "[::1]")) is None
    for other in (asked(path, "192.168.1.7"), asked(path, host="192.168.1.2"), asked(path, host="evil.example"),
                  asked(path, **{"X-Forwarded-For": "10.0.0.1"}), asked(path, "", "")):  # fmt: skip
        assert refuses(other) == {}
    assert refuses(asked("/voila/render/85_exercises.ipynb", "192.168.1.7")) is None


# --- worked examples that fade ----------------------------------------------------------------


def state(stage, typed=None, shown=()) -> str:
    return json.dumps({"stage": stage, "typed": typed or {}, "shown": list(shown)})


@pytest.mark.parametrize("page", [page.name for page in SERIES])
def test_an_example_fades_step_by_step(page):
    indexes = {worked_examples.stage_problem(page, stage).case.index for stage in range(4)}
    assert len(indexes) == 4, "other numbers at every stage"
    whole = worked_examples.example(page, state(0))
    assert whole["done"]
    assert len(whole["steps"]) >= 2
    assert all(step["value"] for step in whole["steps"])
    for stage, blanks in ((1, 1), (2, 2), (3, 1)):
        one, typed = worked_examples.stage_problem(page, stage), {}
        found = worked_examples.example(page, state(stage))
        assert sum(s["blank"] or s["waits"] for s in found["steps"]) == blanks
        while not found["done"]:
            step = next(s for s in found["steps"] if s["blank"])
            ask = worked_examples.ask_of(one, step["name"])
            value = from_plain(one.case.truth[ask.name], ask.kind.unit(ask.unit))
            hidden = [one.case.truth[s["name"]] for s in found["steps"] if s["blank"]] + [value]
            texts = [*strings(found["steps"]), found["relation"]]
            assert not any(reveals(t, hidden) for t in texts), (page, stage)
            wrong_one = worked_examples.example(
                page, state(stage, typed | {step["name"]: f"{9.7 * value + 3:.5g} {ask.unit}"})
            )
            told = next(s for s in wrong_one["steps"] if s["name"] == step["name"])
            assert told["words"]
            assert told["may_show"]
            assert not told["value"]
            typed[step["name"]] = f"{value:.5g} {ask.unit}".strip()
            found = worked_examples.example(page, state(stage, typed))
            assert next(s for s in found["steps"] if s["name"] == step["name"])["value"], typed
        assert bool(found["expert"]) is (stage == worked_examples.OWN)


def test_a_step_is_shown_after_a_try_and_not_before():
    page, stage = "biofilter", 1
    name = worked_examples.example(page, state(stage))["steps"][-1]["name"]
    assert not worked_examples.example(page, state(stage, {}, [name]))["done"]
    found = worked_examples.example(page, state(stage, {name: "1 L"}, [name]))
    assert found["done"]
    assert found["steps"][-1]["value"]


@pytest.mark.parametrize("text", ["", "x", "[]", "{}", '{"stage": 9, "typed": {}, "shown": []}',
                                  '{"stage": true, "typed": 3, "shown": 4}', "[" * 300, '{"stage": 1, "typed": {"volume": []}, "shown": [7]}'])  # fmt: skip
def test_odd_text_is_the_whole_example_or_a_sentence(text):
    found = worked_examples.example("biofilter", text)
    assert found["stage"] in (0, 1)
    session = Session("biofilter")
    session.handle({"do": "answer", "name": "faded-biofilter", "text": text})
    assert session.notice == ""
