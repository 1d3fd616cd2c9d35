"""Paper packs: worked examples before problems, front sides, a key for each sheet, pages told before."""

import pytest

from rsdesign.__main__ import main
from rsdesign.teaching import classbook, sheets, solutions
from rsdesign.teaching.cases import answers
from rsdesign.teaching.exercises import exercise_set
from rsdesign.teaching.paper_examples import example_lines, has_example
from rsdesign.teaching.paperlength import needs_notes, pages_of, pages_words
from rsdesign.teaching.sets import set_plans
from rsdesign.teaching.solutions import told

KEY = "an invented class key"
CODES = ("A1", "B2", "C3")


@pytest.mark.parametrize("name", set_plans())
def test_the_examples_come_before_the_first_of_each_topic_and_tell_no_answer(name):
    for code in CODES:
        found = exercise_set(name, code, KEY)
        html = sheets.sheet(found, examples=True)
        with_one = [p for p in found.problems if has_example(found, p)]
        assert html.count("class='example'") == len(with_one) >= 5
        for problem in with_one:
            lines = example_lines(problem)
            assert lines[0][0].startswith("A worked example. ")
            assert sum(text.startswith("___") for text, _ in lines) == 1
            hidden = answers(problem.case)
            assert not any(told(text, problem.case, hidden) for text, _ in lines), problem.name
        assert "class='example'" not in sheets.sheet(found)


def test_a_sheet_that_ends_on_a_front_side_gets_a_page_for_notes():
    odd = [n for n in ("solids", "tank", "units", "power", "day", *set_plans())
           if needs_notes(exercise_set(n, "A1", KEY))]  # fmt: skip
    assert odd
    assert len(odd) < 8
    html = sheets.sheets(odd[0], CODES[:2], KEY, spare=lambda found: found.learner == "A1")
    assert html.count("Room for notes") == 1
    assert html.index("Room for notes") < html.index(">B2<")


def test_a_key_for_each_sheet_in_their_order_with_the_sums():
    html = sheets.key("three-hours", CODES, KEY)
    parts = html.split("<section class='learner key'>")[1:]
    assert len(parts) == len(CODES)
    for part, code in zip(parts, CODES, strict=True):
        found = exercise_set("three-hours", code, KEY)
        assert code in part
        for problem in found.problems:
            assert problem.mark in part
            for line in solutions.lines(problem.case):
                assert line.result in part


def test_pages_are_told_before_anything_is_written(tmp_path, capsys):
    book = classbook.new_class(4)
    classbook.write_class(book, tmp_path / "class.toml")
    order = ["exercises", "sheet", "solids", "--codes", str(tmp_path / "class.toml"),
             "-o", str(tmp_path / "sheets")]  # fmt: skip
    main([*order, "--count"])
    said = capsys.readouterr().out.strip()
    assert said == pages_words("solids", book.codes, book.key)
    assert not (tmp_path / "sheets").exists()
    main([*order, "--examples"])
    more = pages_words("solids", book.codes, book.key, True)
    assert more in capsys.readouterr().out
    assert "A worked example." in (tmp_path / "sheets" / "sheets.html").read_text(encoding="utf-8")
    found = exercise_set("five-sessions", "A1", KEY)
    assert pages_of(found, True) > pages_of(found)
