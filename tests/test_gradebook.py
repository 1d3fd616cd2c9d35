"""Tables for other programs, and marking again after a key was corrected."""

import csv
import io
from dataclasses import replace

import pytest

import rsdesign.teaching.bank as bank_module
from rsdesign.__main__ import main
from rsdesign.core.units import from_plain
from rsdesign.pages.classroom.instructor import InstructorSession
from rsdesign.teaching import classbook, gradebook, regrade, submissions
from rsdesign.teaching.bank import bank, exercise
from rsdesign.teaching.cases import misconception_value
from rsdesign.teaching.exercises import exercise_set
from rsdesign.teaching.marking import mark, mark_folder
from rsdesign.teaching.model import ExerciseError
from rsdesign.teaching.sets import set_plan
from rsdesign.teaching.submissions import RefusedError

SET = "ninety-minutes"
BOOK = classbook.ClassBook("an invented class key", tuple(
    classbook.with_check(body) for body in ("AAAA", "BBBB", "CCCC", "DDDD", "EEEE", "FFFF")))  # fmt: skip
FEED = exercise("feed-ration")
SLIP = FEED.misconceptions[0]


def typed(ask, value) -> str:
    return f"{from_plain(value, ask.kind.unit(ask.unit)):.10g} {ask.unit}".strip()


def work_of(code, slip=False, near=1.0):
    """All that a learner did: one exercise, right or with a known slip, and the questions."""
    found = exercise_set(SET, code, BOOK.key)
    work = submissions.blank(found)
    for p in found.problems:
        asks = p.exercise.asks
        if p.turn == "before":
            work = work.with_attempt(p.name, {a.name: "1 s" for a in asks})
        if p.turn == "after":
            answers = {a.name: typed(a, p.answer(a)) for a in asks if a.form == "number"}
            work = work.with_attempt(p.name, answers)
    p = found.problem(FEED.id)
    value = misconception_value(p.case, SLIP) if slip else p.answer(FEED.asks[0]) * near
    work = work.with_attempt(p.name, {"feed": typed(FEED.asks[0], value)}, 2.0)
    work = work.with_hint(p.name, 2).with_reason(p.name, "=HYPERLINK(1)")
    return submissions.write(work, found)


@pytest.fixture
def folder(tmp_path):
    place = tmp_path / "back"
    place.mkdir()
    for n, code in enumerate(BOOK.codes):
        (place / f"{code}.json").write_text(work_of(code, slip=n < 2), encoding="utf-8")
    classbook.write_class(BOOK, place / "class.toml")
    return place


def rows_of(text: str) -> list[list[str]]:
    return list(csv.reader(io.StringIO(text)))


def test_a_row_a_learner_and_a_column_an_exercise(folder):
    done = mark_folder(folder, BOOK.key, BOOK.codes)
    head, *rows = rows_of(gradebook.wide_csv(done, {BOOK.codes[0]: "=1+1"}))
    plan = set_plan(SET)
    assert head[:3] == ["code", "id", "set"]
    assert head[3:-3] == [f"{e.title} (3)" if any(a.kind and a.kind.plain.label for a in e.numbers)
                          else f"{e.title} (2)" for e, turn in plan.turns if not turn]  # fmt: skip
    assert head[-3:] == ["points", "out of", "percent"]
    assert [row[0] for row in rows] == list(BOOK.codes)
    assert rows[0][1] == "'=1+1"
    assert rows[1][1] == ""
    column = head.index(f"{FEED.title} (3)")
    assert [row[column] for row in rows] == ["1", "1", "3", "3", "3", "3"]
    assert float(rows[2][-3]) == 3.0
    assert float(rows[2][-1]) == pytest.approx(100 * 3 / float(rows[2][-2]), abs=0.05)


def test_hints_reasons_and_lateness_stand_in_the_marks(folder):
    (folder / "late").mkdir()
    name = f"{BOOK.codes[0]}.json"
    (folder / name).rename(folder / "late" / name)
    head, *rows = rows_of(gradebook.marks_csv(mark_folder(folder, BOOK.key, BOOK.codes)))
    assert tuple(head) == gradebook.LONG
    first = next(row for row in rows if row[:2] == [BOOK.codes[0], FEED.id])
    assert first[-3:] == ["2", "yes", "yes"]
    assert all("HYPERLINK" not in cell for row in rows for cell in row)


def test_the_statistics_as_a_table(folder):
    done = mark_folder(folder, BOOK.key, BOOK.codes)
    head, *rows = rows_of(gradebook.items_csv(done))
    assert tuple(head) == gradebook.ITEM_COLUMNS
    feed = next(row for row in rows if row[0] == FEED.id)
    assert feed[2:] == ["6", "4", "0.78", "", "1.00", f"{SLIP.name} (2)"]


@pytest.mark.parametrize(
    ("text", "words"),
    [("code\nAAAA", "needs the columns"), ("code,id\n<b>,1", "is not a learner code")],
)
def test_a_list_that_will_not_do_is_one_sentence(text, words, tmp_path):
    path = tmp_path / "ids.csv"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(ExerciseError, match=words):
        gradebook.read_ids(path)


# --- marked again --------------------------------------------------------------------------------


def fix(**more) -> str:
    lines = ["[[fix]]", 'exercise = "feed-ration"', 'why = "read in two ways"']
    return "\n".join([*lines, *(f"{key} = {value}" for key, value in more.items())])


def test_the_answer_of_a_slip_is_accepted_for_the_whole_class(folder):
    fixes = regrade.read_fixes(fix(accept=f'["{SLIP.name}"]'))
    before = mark_folder(folder, BOOK.key, BOOK.codes)
    after = mark_folder(folder, BOOK.key, BOOK.codes, fixes=fixes)
    assert regrade.changes(before.marks, after.marks) == [
        f"{code}: 1 of {before.marks[0].out_of:g}, now 3 of {before.marks[0].out_of:g}"
        for code in BOOK.codes[:2]
    ]
    row = next(r for r in after.marks[0].rows if r.exercise == FEED.id)
    assert row.right
    assert row.mistakes == ()


def test_a_wider_tolerance_takes_what_was_just_off():
    work = work_of(BOOK.codes[0], near=1.04)
    fixes = regrade.read_fixes(fix(tolerance=0.05))
    row = {r.exercise: r for r in mark(work, BOOK.key, fixes=fixes).rows}[FEED.id]
    assert row.right
    assert not {r.exercise: r for r in mark(work, BOOK.key).rows}[FEED.id].right


def test_an_exercise_left_out_counts_for_nobody(folder):
    fixes = regrade.read_fixes(fix(leave_out="true"))
    before = mark_folder(folder, BOOK.key, BOOK.codes)
    after = mark_folder(folder, BOOK.key, BOOK.codes, fixes=fixes)
    assert {m.out_of for m in after.marks} == {before.marks[0].out_of - 3}
    assert FEED.title not in gradebook.wide_csv(after)


def test_work_of_an_earlier_version_is_marked_with_the_numbers_it_had(monkeypatch):
    """What was handed in before an exercise was mended is refused without a correction, not with it."""
    work = work_of(BOOK.codes[0])
    newer = {**bank(), FEED.id: replace(FEED, version=FEED.version + 1)}
    monkeypatch.setattr(bank_module, "bank", lambda: newer)
    with pytest.raises(RefusedError, match="another version"):
        mark(work, BOOK.key)
    fixes = regrade.read_fixes(fix(drawn_as=FEED.version))
    row = {r.exercise: r for r in mark(work, BOOK.key, fixes=fixes).rows}[FEED.id]
    assert row.right


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("[[fix]]\nexercise = 'feed-ration'\naccept = ['x']", "needs why"),
        (fix(accept="'no such slip'"), "is no slip of feed-ration"),
        (fix(tolerance="2"), "up to 0.5"),
        (fix(tolerance="'wide'"), "up to 0.5"),
        (fix(), "corrects nothing"),
        (fix(aks="'feed'"), "did you mean 'ask'"),
        (fix(ask="'volume'", leave_out="true"), "is not asked"),
        (fix(drawn_as="99"), "a version from 1"),
        (fix(leave_out="'yes'"), "true or false"),
        ("[[fix]]\nexercise = 'fed'\nwhy = 'x'", "is not an exercise"),
        ("[fix", "is not TOML"),
        ("[other]\na = 1", "nothing else"),
    ],
)
def test_a_correction_that_cannot_be_is_one_sentence(text, words):
    with pytest.raises(ExerciseError, match=words):
        regrade.read_fixes(text)


# --- where they are used -------------------------------------------------------------------------


def test_the_command_writes_all_of_them(folder, tmp_path, capsys):
    files = {name: tmp_path / f"{name}.csv" for name in ("marks", "gradebook", "statistics")}
    (tmp_path / "ids.csv").write_text(f"code,id\n{BOOK.codes[0]},4711\n", encoding="utf-8")
    (tmp_path / "fixes.toml").write_text(fix(accept=f"'{SLIP.name}'"), encoding="utf-8")
    main(["exercises", "mark", str(folder), "-o", str(files["marks"]), "--gradebook",
          str(files["gradebook"]), "--ids", str(tmp_path / "ids.csv"), "--statistics",
          str(files["statistics"]), "--fixes", str(tmp_path / "fixes.toml")])  # fmt: skip
    said = capsys.readouterr().out
    assert all(path.stat().st_size > 100 for path in files.values())
    assert ",4711," in files["gradebook"].read_text(encoding="utf-8")
    assert "Points that the corrections changed:" in said
    assert "6 learners answered both" in said
    assert "from 15 learners on" in said


def test_the_instructors_page_gives_the_same(folder):
    session = InstructorSession()
    session.handle({"do": "load_class", "text": classbook.class_text(BOOK)})
    files = [{"name": p.name, "text": p.read_text(encoding="utf-8")} for p in folder.glob("*.json")]
    session.handle({"do": "add", "files": files})
    session.handle({"do": "csv", "which": "gradebook"})
    done = mark_folder(folder, BOOK.key, BOOK.codes)
    assert session.reply["text"] == gradebook.wide_csv(done)
    session.handle({"do": "csv", "which": "items"})
    assert session.reply["text"] == gradebook.items_csv(done)
    assert "6 learners answered both" in session.blocks()["result"]["statistics"]["gain"]
    session.handle({"do": "fixes", "text": fix(accept=f"'{SLIP.name}'")})
    assert len(session.blocks()["result"]["corrected"]) == 2
    session.handle({"do": "fixes", "text": "[[fix]]"})
    assert "needs why" in session.notice
    session.handle({"do": "fixes", "text": ""})
    assert session.blocks()["result"]["corrected"] == []
    session.handle({"do": "csv", "which": "all"})
    assert "to save" in session.notice
