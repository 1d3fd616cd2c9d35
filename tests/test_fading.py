"""Fading inside sets: stages with other numbers, no step told before it is found, reasons to choose."""

import json

import pytest

from rsdesign.pages.classroom import faded as page_block
from rsdesign.pages.classroom.learner import LearnerSession
from rsdesign.teaching import fading, solutions
from rsdesign.teaching.bank import bank
from rsdesign.teaching.cases import answers
from rsdesign.teaching.sets import set_plan, set_plans
from rsdesign.teaching.variants import learner_key, problem
from rsdesign.teaching.wording import numbers_in, reveals

FADED = [e for e in bank().values() if fading.stages(e)]


def own(e, learner="A1"):
    return problem(e, learner, learner_key("k", learner))


def begun(name="three-hours", exercise="tank-round") -> LearnerSession:
    session = LearnerSession()
    session.handle({"do": "begin", "set": name, "code": "K7QP-3"})
    session.handle({"do": "go", "name": exercise})
    assert session.notice == ""
    return session


def shown(session, **message) -> dict:
    session.handle({"do": "fade", **message})
    return session.blocks()["faded"]


@pytest.mark.parametrize("plan", set_plans().values(), ids=list(set_plans()))
def test_the_first_exercise_of_each_topic_begins_with_an_example(plan):
    names = fading.faded(plan)
    topics = [bank()[name].topic for name in names]
    assert len(set(topics)) == len(topics) >= 5
    assert set(names) <= {e.id for e, turn in plan.turns if not turn}


@pytest.mark.parametrize("e", FADED, ids=[e.id for e in FADED])
def test_each_stage_has_other_numbers_and_tells_no_answer(e):
    """Six learners; the bench walks more: the stages differ from one another and from the learner's own problem."""
    for n in range(6):
        found = own(e, f"L{n}")
        hidden = answers(found.case)
        indexes = {found.case.index}
        for stage in range(len(fading.stages(e)) - 1):
            case = fading.stage_case(found, stage)
            assert case is not None, (found.learner, stage)
            indexes.add(case.index)
            assert not reveals(case.fill(e.question), hidden)
            assert not any(solutions.told(t, case, hidden) for t in solutions.texts(case))
        assert len(indexes) == len(fading.stages(e))


@pytest.mark.parametrize("e", FADED, ids=[e.id for e in FADED])
def test_a_step_left_out_is_not_in_the_block_until_it_is_found(e):
    found = own(e)
    for stage in range(1, len(fading.stages(e)) - 1):
        now = page_block.Progress(stage=stage)
        case = fading.stage_case(found, stage)
        lines = solutions.lines(case)
        for place in range(len(lines) - min(stage, len(lines)), len(lines)):
            block = page_block.block(found, now, True)
            step = block["steps"][place]
            assert step["blank"]
            assert step["sum"] == ""
            assert step["why"] is None
            text = json.dumps(block["steps"], ensure_ascii=False)
            assert lines[place].sum not in text
            now = page_block.moved(now, found, {"place": place, "text": "0.0001234"})
            step = page_block.block(found, now, True)["steps"][place]
            assert step["words"]
            assert step["may_show"]
            assert not solutions.told(step["words"], case, [numbers_in(lines[place].result)[0]])
            now = page_block.moved(now, found, {"place": place, "text": lines[place].result})
            step = page_block.block(found, now, True)["steps"][place]
            assert not step["blank"], (step["words"], lines[place].result)
            assert step["sum"] == lines[place].sum


def test_the_reasons_are_chosen_and_the_stages_follow():
    session = begun()
    block = shown(session, stage=0)
    assert block["first"]
    assert block["stages"] == list(fading.STAGES)
    assert not any(step["blank"] for step in block["steps"])
    assert not block["done"]
    e = bank()["tank-round"]
    for step in block["steps"]:
        options = step["why"]["options"]
        right = options.index(e.solution[step["place"]].why)
        wrong = next(i for i in range(len(options)) if i != right)
        after = shown(session, place=step["place"], reason=wrong)["steps"][step["place"]]
        assert after["why"]["words"] == page_block.OTHER_REASON
        after = shown(session, place=step["place"], reason=right)["steps"][step["place"]]
        assert after["why"]["right"]
    assert session.blocks()["faded"]["done"]
    block = shown(session, stage=2)
    assert [step["blank"] for step in block["steps"]] == [False, True, True]
    assert block["steps"][2]["waits"]
    block = shown(session, stage=3)
    assert block["steps"] == []
    assert block["done"]


def test_a_step_is_shown_after_a_try_only():
    session = begun()
    shown(session, stage=1)
    shown(session, place=2)
    assert "Try the step first" in session.notice
    shown(session, place=2, text="1 gal")
    step = shown(session, place=2)["steps"][2]
    assert step["words"] == page_block.SHOWN
    assert step["sum"]


def test_a_step_wants_its_own_unit_and_knows_a_factor():
    found = own(bank()["tank-round"])
    case = fading.stage_case(found, 1)
    inches = solutions.lines(case)[0]
    assert "This step ends in ft" in fading.judge(case, 0, inches.before.split(" ÷")[0]).words
    gallons = numbers_in(solutions.lines(case)[2].result)[0]
    assert "10 times too large" in fading.judge(case, 2, f"{gallons * 10} gal").words
    assert "does not start with a number" in fading.judge(case, 2, "<b>").words


def test_what_the_browser_kept_comes_back_and_odd_tables_do_not():
    session = begun()
    shown(session, stage=2)
    shown(session, place=1, text="70 ft³")
    kept = session.blocks()["keep"]
    again = LearnerSession()
    again.handle({"do": "open", "kept": json.loads(json.dumps(kept))})
    again.handle({"do": "go", "name": "tank-round"})
    assert again.blocks()["faded"] == session.blocks()["faded"]
    for odd in (None, 3, [1], {"tank-round": 5}, {"tank-round": {"stage": "x"}},
                {"x": {"stage": 99, "typed": {"a": 1}, "shown": [], "reasons": {}}}):  # fmt: skip
        again.handle({"do": "open", "kept": {**kept, "faded": odd}})
        assert again.notice == ""
        assert page_block.kept(odd) in ({}, {"x": page_block.Progress()})


@pytest.mark.parametrize(
    "message",
    [{"stage": 9}, {"stage": "a"}, {"place": 7}, {"place": "x", "text": "1"}, {"place": -1}, {}],
)
def test_a_message_that_cannot_be_gets_a_sentence(message):
    session = begun()
    shown(session, **message)
    assert "is not there" in session.notice


def test_nothing_of_it_counts():
    session = begun()
    before = session.work
    shown(session, stage=1)
    shown(session, place=2, text="528 gal")
    assert session.work is before


def test_where_letters_or_lines_are_asked_for_there_is_none():
    session = begun("three-hours", "tank-rank")
    assert session.blocks()["faded"] is None
    assert "solids-mistake" not in fading.faded(set_plan("solids"))
