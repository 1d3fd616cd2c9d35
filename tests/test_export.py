"""Packages for course platforms: structure, keys, and that no learner's file or page holds one."""

import io
import xml.etree.ElementTree as ET
import zipfile

import pytest
import qti_rules
from qti_rules import bare, dangling, faults, score

from rsdesign.__main__ import main
from rsdesign.pages.classroom.instructor import InstructorSession
from rsdesign.teaching import cartridge, classbook, export, qti
from rsdesign.teaching.bank import bank
from rsdesign.teaching.exercises import exercise_set
from rsdesign.teaching.model import TOPICS, ExerciseError
from rsdesign.teaching.sets import set_plans
from rsdesign.teaching.variants import learner_key, problem

KEY = "an invented class key"
ALL = list(bank().values())


def own(e, learner="A1"):
    return problem(e, learner, learner_key(KEY, learner))


def opened(data: bytes) -> dict[str, str]:
    with zipfile.ZipFile(io.BytesIO(data)) as package:
        assert package.testzip() is None
        return {name: package.read(name).decode("utf-8") for name in package.namelist()}


def names(e) -> dict[str, str]:
    return {ask.name: qti.identifier(f"answer-{ask.name}") for ask in e.asks}


def right(found) -> dict:
    own_names = names(found.exercise)
    return {own_names[a.name]: qti.right_answer(found, a) for a in found.exercise.asks}


@pytest.mark.parametrize("e", ALL, ids=[e.id for e in ALL])
def test_an_item_keeps_the_rules_and_its_key_scores(e):
    found = own(e)
    text = qti.item(found, "x")
    assert faults(text, qti_rules.QTI, "assessmentItem", qti.QTI) == []
    assert dangling(text) == []
    good, most = score(text, right(found))
    assert good == most == len(e.asks)
    assert score(text, {})[0] == 0
    for ask in e.asks:
        name = names(e)[ask.name]
        if ask.form == "number":
            value = float(qti.right_answer(found, ask)[0])
            inside, outside = 1 + 0.9 * ask.tolerance, 1 + 1.2 * ask.tolerance
            assert score(text, {name: [str(value * inside)]})[0] == 1
            assert score(text, {name: [str(value * outside)]})[0] == 0
            for wrong in qti.wrong_numbers(found.case, ask):
                assert score(text, {name: [str(wrong)]})[0] == 0, (ask.name, wrong)
        else:
            assert score(text, {name: list("".join(found.answer(ask))[::-1] + "Z")})[0] == 0


@pytest.mark.parametrize("e", ALL, ids=[e.id for e in ALL])
def test_a_question_of_the_cartridge_keeps_the_rules_and_has_one_key(e):
    found = own(e)
    text = cartridge.assessment("T", "r1", [("x", found)])
    assert faults(text, qti_rules.QUESTIONS, "questestinterop", cartridge.ASI) == []
    tree = ET.fromstring(text)
    items = [i for i in tree.iter() if bare(i.tag) == "item"]
    assert len(items) == len(e.asks)
    for item, ask in zip(items, e.asks, strict=True):
        options = cartridge.to_choose(found, ask)
        profile = next(f.text for f in item.iter() if bare(f.tag) == "fieldentry")
        if not options:
            assert profile == "cc.essay.v0p1"
            continue
        assert profile == "cc.multiple_choice.v0p1"
        assert len(set(options)) == len(options) >= 3
        key = next(v.text for v in item.iter() if bare(v.tag) == "varequal")
        labels = {label.get("ident"): "".join(label.itertext()).strip() for label in item.iter()
                  if bare(label.tag) == "response_label"}  # fmt: skip
        assert labels[key] == cartridge.key_text(found, ask)


def test_most_questions_of_the_cartridge_are_marked_by_the_platform():
    asks = [(own(e), ask) for e in ALL for ask in e.asks]
    chosen = [bool(cartridge.to_choose(found, ask)) for found, ask in asks]
    assert sum(chosen) >= 0.75 * len(chosen)


@pytest.mark.parametrize("name", [*set_plans(), *TOPICS])
def test_a_package_is_whole(name):
    files = opened(export.qti_package(name, ["A1", "B2"], KEY))
    manifest = files["imsmanifest.xml"]
    assert faults(manifest, qti_rules.PACKAGE, "manifest", export.CP) == []
    tree = ET.fromstring(manifest)
    resources = {r.get("identifier"): r for r in tree.iter() if bare(r.tag) == "resource"}
    assert {r.get("href") for r in resources.values()} | {"imsmanifest.xml"} == set(files)
    tests = [r for r in resources.values() if r.get("type") == "imsqti_test_xmlv2p1"]
    assert len(tests) == 2
    for test in tests:
        text = files[test.get("href")]
        assert faults(text, qti_rules.QTI, "assessmentTest", qti.QTI) == []
        refers = [e for e in ET.fromstring(text).iter() if bare(e.tag) == "assessmentItemRef"]
        needs = [d.get("identifierref") for d in test if bare(d.tag) == "dependency"]
        assert [r.get("identifier") for r in refers] == needs
        for ref in refers:
            assert ET.fromstring(files[ref.get("href")]).get("identifier") == ref.get("identifier")
    assert len(exercise_set(name, "A1", KEY).problems) * 2 == len(resources) - 2


def test_a_cartridge_is_whole_and_the_same_each_time():
    data = export.cartridge("three-hours", ["A1", "B2"], KEY)
    assert data == export.cartridge("three-hours", ["A1", "B2"], KEY)
    files = opened(data)
    manifest = files.pop("imsmanifest.xml")
    assert faults(manifest, qti_rules.PACKAGE, "manifest", export.CC) == []
    tree = ET.fromstring(manifest)
    assert {f.get("href") for f in tree.iter() if bare(f.tag) == "file"} == set(files)
    shown = [i.get("identifierref") for i in tree.iter() if i.get("identifierref")]
    resources = [r.get("identifier") for r in tree.iter() if bare(r.tag) == "resource"]
    assert shown == resources
    for text in files.values():
        assert faults(text, qti_rules.QUESTIONS, "questestinterop", cartridge.ASI) == []
        ids = [i.get("ident") for i in ET.fromstring(text).iter() if bare(i.tag) == "item"]
        assert len(set(ids)) == len(ids)


SPOILED = [
    ('identifier="x" ', "", "assessmentItem needs identifier"),
    ("<itemBody>", "<itemBody><div/>", "div is not an element in use"),
    ('shuffle="false"', 'shuffle="false" colour="red"', "has no attribute colour"),
    ('identifier="A"', 'identifier="1A"', "is no identifier"),
    ("<prompt>", "<simpleChoice identifier='Z'>z</simpleChoice><prompt>", "orderInteraction holds"),
]


@pytest.mark.parametrize(("old", "new", "words"), SPOILED)
def test_the_rules_can_fail(old, new, words):
    text = qti.item(own(bank()["tank-rank"]), "x")
    assert old in text
    told = " ".join(faults(text.replace(old, new, 1), qti_rules.QTI, "assessmentItem", qti.QTI))
    assert words in told
    wrong = text.replace('<variable identifier="answer-order"', '<variable identifier="other"')
    assert dangling(wrong) == ["other is not declared"]


def test_codes_that_cannot_be_are_one_sentence():
    with pytest.raises(ExerciseError, match="1 to 60 codes"):
        export.qti_package("solids", [], KEY)
    with pytest.raises(ExerciseError, match="1 to 60 codes"):
        export.cartridge("solids", [f"A{n}" for n in range(61)], KEY)


# --- where they are made -------------------------------------------------------------------------


def test_the_command_writes_a_package_and_says_that_it_holds_the_key(tmp_path, capsys):
    book = classbook.new_class(3)
    classbook.write_class(book, tmp_path / "class.toml")
    for form, make in (("qti", export.qti_package), ("cartridge", export.cartridge)):
        out = tmp_path / f"{form}.zip"
        main(["exercises", "export", "solids", "--codes", str(tmp_path / "class.toml"),
              "--form", form, "-o", str(out)])  # fmt: skip
        assert "holds every answer" in capsys.readouterr().out
        assert out.read_bytes() == make("solids", book.codes[:1], book.key)
    main(["exercises", "export", "solids", "--codes", str(tmp_path / "class.toml"), "--learners",
          "2", "-o", str(tmp_path / "two.zip")])  # fmt: skip
    assert (tmp_path / "two.zip").read_bytes() == export.qti_package(
        "solids", book.codes[:2], book.key
    )


def test_the_instructors_page_makes_one_and_says_so():
    session = InstructorSession()
    session.handle({"do": "make", "count": "2"})
    session.handle({"do": "set", "name": "solids"})
    for which in ("qti", "cartridge"):
        session.handle({"do": "papers", "which": which})
        assert session.reply["type"] == "application/zip"
        assert "holds every answer" in session.reply["words"]
        assert session.reply["base64"].startswith("UEsDB")
