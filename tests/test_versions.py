"""Hand-ins: a bad seal is refused on arrival, no version replaces another, attempts count once and for all."""

import json
import time

import pytest

from rsdesign.__main__ import main
from rsdesign.core.choices import DesignError
from rsdesign.core.units import from_plain
from rsdesign.pages.classroom import class_session, view
from rsdesign.pages.classroom.instructor import InstructorSession
from rsdesign.pages.classroom.learner import LearnerSession
from rsdesign.pages.room import submission_box
from rsdesign.pages.room.submission_box import KEPT, MAX_VERSIONS, AskFirstError, SubmissionBox
from rsdesign.teaching import papergrid, submissions, versions
from rsdesign.teaching.attemptlog import AttemptLog, folder_of
from rsdesign.teaching.classbook import ClassBook, class_text, with_check
from rsdesign.teaching.exercises import exercise_set, ticket
from rsdesign.teaching.hints import shown_answer
from rsdesign.teaching.marking import mark_folder, mark_items
from rsdesign.teaching.sets import set_plan

BOOK = ClassBook("an invented class key", tuple(with_check(b) for b in ("K7QP", "M3TT", "W9XZ")))
CODE = BOOK.codes[0]
SET = "three-hours"
NAME = "units-rule-volume"
WRONG = [{"volume": f"{n} gal"} for n in (2, 3, 4)]


def found_set(code=CODE):
    return exercise_set(SET, code, BOOK.key)


def right_answer(found) -> dict:
    problem = found.problem(NAME)
    (ask,) = problem.exercise.asks
    return {ask.name: shown_answer(problem, ask).partition(" (")[0]}


def done(attempts, began=0, code=CODE, name=NAME):
    work = submissions.blank(found_set(code), began)
    for typed in attempts:
        work = work.with_attempt(name, typed, 1)
    return work


def file(work) -> str:
    return submissions.write(work, found_set(work.learner))


def table(work) -> dict:
    return json.loads(file(work))


def class_box() -> SubmissionBox:
    return SubmissionBox(lambda: BOOK)


def points(marks, name=NAME):
    return next(row for row in marks.rows if row.exercise == name)


@pytest.fixture
def class_file(tmp_path, monkeypatch):
    path = tmp_path / "class.toml"
    path.write_text(class_text(BOOK), encoding="utf-8")
    monkeypatch.setenv(class_session.CLASS_FILE, str(path))
    return path


def said(session, **message) -> dict:
    session.handle(message)
    assert session.notice != class_session.SORRY
    found = view.compose(session)
    json.dumps(found, allow_nan=False)
    return found


def tried(session, answers, name=NAME):
    said(session, do="go", name=name)
    for typed in answers:
        found = said(session, do="check", typed=typed)
    return found["work"]


def opened(code=CODE) -> LearnerSession:
    session = LearnerSession()
    said(session, do="begin", set=SET, code=code)
    assert session.notice == ""
    return session


# --- on arrival -------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"seal": "forged", "work": {}}, "seal does not fit"),
        ({"saved": 9}, "seal does not fit"),
        ({"learner": BOOK.codes[1]}, "seal does not fit"),
        ({"class": "00000000"}, "another class"),
        ({"rsdesign_exercises": 7}, "format"),
        ({"work": [1, 2]}, "lacks a part"),
    ],
)
def test_a_hand_in_with_a_bad_seal_is_refused_on_arrival(change, words):
    box = class_box()
    good = table(done(WRONG))
    assert box.take(good).startswith("Handed in")
    with pytest.raises(DesignError, match=words):
        box.take(good | change)
    assert [f["text"] for f in box.files()] == [json.dumps(good, ensure_ascii=False)]


def test_a_code_that_is_not_of_the_class_and_another_edition_are_refused_on_arrival():
    stranger = exercise_set(SET, "ZZZZ-2", BOOK.key)
    with pytest.raises(DesignError, match="not a code of this class"):
        class_box().take(json.loads(submissions.write(submissions.blank(stranger), stranger)))
    old = submissions.Submission(SET, "00000000", found_set().class_mark, CODE, "class")
    with pytest.raises(DesignError, match="another version of the set"):
        class_box().take(json.loads(submissions.write(old, found_set())))


def test_a_class_that_cannot_be_read_is_said_without_its_path(class_file):
    box = SubmissionBox(class_session.local_class)
    assert box.take(table(done(WRONG))).startswith("Handed in")
    class_file.unlink()
    with pytest.raises(DesignError) as told:
        box.take(table(done(WRONG[:1])))
    assert str(told.value) == submission_box.NO_CLASS


def test_without_a_class_every_file_is_kept_and_a_forged_one_replaces_none():
    box = SubmissionBox()
    good = table(done(WRONG))
    box.take(good)
    for n in range(MAX_VERSIONS - 1):
        box.take(good | {"seal": f"forged {n}", "work": {}}, sure=True)
    with pytest.raises(DesignError, match="different versions"):
        box.take(good | {"seal": "one more", "work": {}}, sure=True)
    assert box.files()[0]["text"] == json.dumps(good, ensure_ascii=False)
    items = [(f["name"], f["text"]) for f in box.files()]
    found = mark_items(items, BOOK.key, BOOK.codes)
    assert points(found.marks[0]).attempts == 3
    assert len(found.refused) == MAX_VERSIONS - 1


# --- every version is kept --------------------------------------------------------------------


def test_a_blank_hand_in_never_replaces_work_and_is_asked_about_first():
    box = class_box()
    box.take(table(done(WRONG, 100)))
    blank = table(submissions.blank(found_set(), 200))
    with pytest.raises(AskFirstError) as asked:
        box.take(blank)
    assert "holds 0 answers" in str(asked.value)
    assert "3 were" in str(asked.value)
    assert box.receive(blank) == (409, {"ask": str(asked.value)})
    assert len(box) == 1, "nothing is taken before the answer"
    assert box.receive(blank, sure=True)[0] == 200
    found = mark_items([(f["name"], f["text"]) for f in box.files()], BOOK.key, BOOK.codes)
    assert points(found.marks[0]).attempts == 3
    assert found.differ == ()
    assert "holds all of the others" in found.notes[0]


def test_work_that_grows_is_not_asked_about():
    box = class_box()
    for n in range(4):
        box.take(table(done(WRONG[:n], 100)))
    assert len(box) == 4


def test_of_versions_that_hold_nothing_of_their_own_the_newest_five_stay():
    box = class_box()
    first = done(WRONG[:1], 50, name="feed-batch")  # holds what no other holds
    box.take(table(first))
    for n in range(9):
        box.take(table(done([{"volume": f"{i} gal"} for i in range(n + 1)], 100)), sure=True)
    kept = [submissions.read(f["text"], BOOK.key) for f in box.files()]
    assert len(kept) == KEPT
    assert kept[0].work == first.work
    assert [versions.amount(w) for w in kept[1:]] == [6, 7, 8, 9]
    assert len({f["name"] for f in box.files()}) == KEPT, "names stay their own"


def test_no_hand_in_is_lost_whatever_comes_and_in_whatever_order():
    """Random versions: all that ever was taken is in what the box gives back."""
    import random

    for seed in range(60):
        rng, box, every = random.Random(seed), class_box(), []
        for at in range(12):
            names = rng.sample([NAME, "feed-batch", "tank-round"], 2)
            work = submissions.blank(found_set(), rng.choice([0, 100, 200, 300]))
            for name in names:
                for _ in range(rng.randrange(3)):
                    work = work.with_attempt(name, {"volume": f"{rng.randrange(4)} gal"}, 1)
            if rng.random() < 0.2:
                work = work.with_reason(NAME, f"reason {at}")
            box.take(table(work), sure=True)
            every.append(work)
        kept = [submissions.read(f["text"], BOOK.key) for f in box.files()]
        assert not versions.missing(versions.together(kept), versions.together(every)), seed
        reasons = {w.work[NAME].reason for w in every if NAME in w.work} - {""}
        assert reasons <= {w.work[NAME].reason for w in kept if NAME in w.work}, seed


# --- marking ----------------------------------------------------------------------------------


def test_attempts_are_the_union_of_all_versions_in_order(tmp_path):
    """Three wrong answers, then the work is forgotten and the right one handed in: it comes fourth."""
    honest = done(WRONG, began=100)
    anew = done([right_answer(found_set())], began=200)
    for names in (("a", "b"), ("b", "a")):  # the order of the files is not the order of the work
        folder = tmp_path / names[0]
        folder.mkdir()
        for name, work in zip(names, (honest, anew), strict=True):
            (folder / f"{name}.json").write_text(file(work), encoding="utf-8")
        found = mark_folder(folder, BOOK.key, BOOK.codes)
        (marks,) = found.marks
        row = points(marks)
        assert not row.right
        assert row.attempts == 3
        assert any("only the first 3 attempts count" in note for note in marks.notes)
    assert points(mark_items([("x.json", file(anew))], BOOK.key, BOOK.codes).marks[0]).right


def test_what_is_in_two_versions_counts_once():
    items = [("a.json", file(done(WRONG[:2], 100))), ("b.json", file(done([*WRONG[:2], right_answer(found_set())], 100)))]  # fmt: skip
    (marks,) = mark_items(items, BOOK.key, BOOK.codes).marks
    assert points(marks).attempts == 3
    assert points(marks).right
    twice = [WRONG[0], WRONG[0]]
    whole = versions.together([done(twice, 1), done(WRONG[:1], 2)])
    assert list(whole.work[NAME].attempts) == twice, "the same answer typed twice is two attempts"


def test_the_instructor_is_warned_of_versions_that_differ():
    items = [
        ("phone.json", file(done(WRONG[:2], 100))),
        ("laptop.json", file(done(WRONG[2:], 200))),
        ("other.json", file(done(WRONG[:1], 100, BOOK.codes[1]))),
    ]
    found = mark_items(items, BOOK.key, BOOK.codes)
    (words,) = found.differ
    assert words.startswith(f"{CODE} handed in {SET} more than once, and the versions differ")
    for part in ("phone.json", "laptop.json", "put together", "the first 3 attempts"):
        assert part in words
    session = InstructorSession()
    said(session, do="load_class", text=class_text(BOOK))
    block = said(session, do="add", files=[{"name": n, "text": t} for n, t in items])["result"]
    assert block["differ"] == [words]
    assert words not in block["notes"]


def test_what_came_in_time_does_not_become_late():
    good, rules = right_answer(found_set()), set_plan(SET).rules
    early, late = done([good], 100), done([good, *WRONG[:1]], 100).with_reason(NAME, "why")
    items = [("a.json", file(early)), ("late/b.json", file(late))]
    (marks,) = mark_items(items, BOOK.key, BOOK.codes, late={"late/b.json"}).marks
    assert points(marks).points == rules.number + rules.unit
    (marks,) = mark_items(items[1:], BOOK.key, BOOK.codes, late={"late/b.json"}).marks
    assert points(marks).points == pytest.approx(rules.late * (rules.number + rules.unit))
    assert marks.late
    mended = done([WRONG[0], good], 100)
    items = [("a.json", file(done(WRONG[:1], 100))), ("late/b.json", file(mended))]
    (marks,) = mark_items(items, BOOK.key, BOOK.codes, late={"late/b.json"}).marks
    assert points(marks).points == pytest.approx(rules.late * (rules.number + rules.unit))
    assert marks.late


def test_one_rule_stands_on_page_paper_and_guide_and_is_what_the_marker_does():
    from pathlib import Path

    from rsdesign.teaching import sheets
    from rsdesign.teaching.sets import RULE

    words = RULE.format(limit=3)
    assert words in found_set().rules.words
    assert words in sheets.sheet(found_set())
    guide = Path(__file__).parents[1] / "docs" / "instructor-guide.md"
    text = " ".join(guide.read_text(encoding="utf-8").split())
    assert "the first three attempts at an exercise are the ones that count" in text
    assert "the last one counts" not in text


def test_work_without_a_time_and_with_one_is_read(tmp_path):
    old, new = done(WRONG[:1]), done(WRONG[:1], int(time.time()))
    assert "began" not in table(old)
    assert submissions.read(file(old), BOOK.key).began == 0
    assert submissions.read(file(new), BOOK.key).began == new.began
    for odd in (-1, 10**12, "soon", 1e999):
        text = file(new).replace(f'"began": {new.began}', f'"began": {json.dumps(odd)}')
        with pytest.raises(submissions.RefusedError):
            submissions.read(text, BOOK.key)


# --- with a class at hand, the server counts --------------------------------------------------


def test_forgetting_the_work_gives_no_new_attempts(class_file):
    session = opened()
    assert tried(session, WRONG)["left"] == 0
    said(session, do="leave")
    again = opened()  # the browser keeps nothing
    work = said(again, do="go", name=NAME)["work"]
    assert work["attempts"] == 3
    assert work["left"] == 0
    found = tried(again, [right_answer(found_set())])
    assert found["right"], "for oneself"
    assert found["points"] == "0 of 3 points so far" or found["points"].startswith("1 of 3")
    before = points(mark_items([("x.json", file(done(WRONG)))], BOOK.key, BOOK.codes).marks[0])
    (marks,) = mark_items([("x.json", again._file())], BOOK.key, BOOK.codes).marks
    assert points(marks).points == before.points
    assert f"{before.points:g} of" in found["points"], "page and marker say the same"


def test_two_devices_with_one_code_share_their_attempts(class_file):
    phone, laptop = opened(), opened()
    assert tried(phone, WRONG[:2])["left"] == 1
    assert tried(laptop, WRONG[2:])["left"] == 0
    assert len(laptop.work.work[NAME].attempts) == 3
    other = opened(BOOK.codes[1])
    assert said(other, do="go", name=NAME)["work"]["attempts"] == 0


def test_work_in_the_browser_and_attempts_beside_the_class_go_together(class_file):
    session = opened()
    tried(session, WRONG[:1])
    kept = view.compose(session)["keep"]
    tried(session, WRONG[1:2])  # the browser's copy is older now
    again = LearnerSession()
    said(again, do="open", kept=kept)
    assert again.notice == ""
    assert list(again.work.work[NAME].attempts) == WRONG[:2]
    for old in folder_of(class_file).iterdir():
        old.unlink()  # the folder was lost: the sealed work in the browser still counts
    kept = view.compose(again)["keep"]
    said(LearnerSession(), do="open", kept=kept)
    fresh = opened()
    assert said(fresh, do="go", name=NAME)["work"]["attempts"] == 2


def test_marking_on_the_machine_of_the_class_counts_what_it_saw(class_file, tmp_path, capsys):
    """Three attempts here, then work at home with a ticket and three new ones: only ours count."""
    tried(opened(), WRONG)
    home = exercise_set(SET, CODE, ticket=ticket(BOOK.key, CODE))
    work = submissions.blank(home, int(time.time())).with_attempt(NAME, right_answer(home))
    text = submissions.write(work, home)
    session = InstructorSession()
    said(session, do="load_class", text=class_text(BOOK))
    said(session, do="add", files=[{"name": "home.json", "text": text}])
    assert not points(session.marks.marks[0]).right
    folder = tmp_path / "back"
    folder.mkdir()
    (folder / "home.json").write_text(text, encoding="utf-8")
    out = tmp_path / "marks.csv"
    assert main(["exercises", "mark", str(folder), "--codes", str(class_file), "-o", str(out)]) == 0
    row = next(
        line
        for line in out.read_text(encoding="utf-8").splitlines()
        if line.startswith(f"{CODE},{NAME},")
    )
    assert row.split(",")[4] == "3"
    assert "1 learner marked" in capsys.readouterr().out
    alone = mark_items([("home.json", text)], BOOK.key, BOOK.codes)
    assert points(alone.marks[0]).right


def test_what_lies_beside_the_class_holds_no_name_and_no_key_and_is_bounded(class_file):
    session = opened()
    said(session, do="go", name=NAME)
    for n in range(130):
        said(session, do="check", typed={"volume": {"number": "9" * 500, "unit": f"{n}" * 300}})
    assert "tries are enough" in session.notice
    for n in range(50):
        said(session, do="reason", text=f"reason {n} " * 90)
    (path,) = folder_of(class_file).iterdir()
    text = path.read_text(encoding="utf-8")
    assert BOOK.key not in text
    assert len(text.splitlines()) == submissions.MOST_ATTEMPTS
    assert len(text) < 60_000


def test_a_damaged_log_and_a_folder_that_cannot_be_written_stop_nobody(class_file, tmp_path):
    session = opened()
    tried(session, WRONG[:1])
    (path,) = folder_of(class_file).iterdir()
    with path.open("a", encoding="utf-8") as out:
        out.write(
            '{"at": 1, "attempt": "x"\n[]\n{"at": 1e999, "attempt": 3, "typed": 4}\n\x00\xff\n'
        )
    assert list(opened().work.work[NAME].attempts) == WRONG[:1]
    log = AttemptLog(tmp_path / "class.toml" / "under a file")
    assert not log.ready()
    log.attempt(found_set(), NAME, WRONG[0])
    assert log.read(found_set()).work == {}
    assert class_session.use_class(class_file) == ""


# --- answers on paper -------------------------------------------------------------------------


def test_a_word_on_paper_that_is_no_unit_still_earns_the_number():
    """The instructor types what stands on the paper; nobody can be asked to mend it."""
    found = found_set()
    problem = found.problem(NAME)
    (ask,) = problem.exercise.asks
    gallons = from_plain(problem.answer(ask), ask.kind.unit("gal"))
    plan = set_plan(SET)
    text = papergrid.grid(
        plan, BOOK.codes[:1], {CODE: {f"{NAME}:{ask.name}": f"{gallons:.0f} gln."}}
    )
    (marks,) = mark_items([("grid.csv", text)], BOOK.key, BOOK.codes).marks
    assert points(marks).points == plan.rules.number
    typed = done([{ask.name: f"{gallons:.0f} gln."}], 100)
    (marks,) = mark_items([("page.json", file(typed))], BOOK.key, BOOK.codes).marks
    assert points(marks).attempts == 0, "on the page it was no attempt, and it could be mended"
