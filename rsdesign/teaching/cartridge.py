"""A set as the questions of a Common Cartridge 1.1, an open package of 1EdTech for course platforms.

The cartridge knows an older form of questions, a profile of QTI 1.2: choices, and texts that a person
reads.  It knows no tolerance.  So a number becomes a choice between the key and the answers of its known
slips; where fewer than two slips are known, it becomes a text for the instructor to mark.
"""

import hashlib
import xml.etree.ElementTree as ET
from itertools import permutations

from ..core.units import number
from .answers import written
from .model import Ask
from .qti import XSI, choices, identifier, part, right_answer, written_xml, wrong_numbers
from .variants import Problem, numbers

ASI = "http://www.imsglobal.org/xsd/ims_qtiasiv1p2"
ASI_AT = f"{ASI} http://www.imsglobal.org/profile/cc/ccv1p1/ccv1p1_qtiasiv1p2p1_v1p0.xsd"
CHOICE, ESSAY = "cc.multiple_choice.v0p1", "cc.essay.v0p1"
MOST = 5
"""Answers to choose from, at most."""


def assessment(title: str, name: str, problems: list[tuple[str, Problem]]) -> str:
    """Problems, each with the name of its items, as one assessment; the XML document."""
    root = ET.Element("questestinterop", {
        "xmlns": ASI, "xmlns:xsi": XSI, "xsi:schemaLocation": ASI_AT})  # fmt: skip
    whole = part(root, "assessment", ident=name, title=title)
    _fields(whole, {"cc_profile": "cc.exam.v0p1", "qmd_assessmenttype": "Examination",
                    "qmd_scoretype": "Percentage"})  # fmt: skip
    section = part(whole, "section", ident="section")
    for item_name, found in problems:
        for ask in found.exercise.asks:
            _item(section, found, ask, identifier(f"{item_name}.{ask.name}"))
    return written_xml(root)


def _fields(parent, fields: dict[str, str]) -> None:
    data = part(parent, "qtimetadata")
    for label, entry in fields.items():
        field = part(data, "qtimetadatafield")
        part(field, "fieldlabel", label)
        part(field, "fieldentry", entry)


def _item(section, found: Problem, ask: Ask, name: str) -> None:
    """One thing asked as an item; the whole question stands in it again."""
    options = to_choose(found, ask)
    made = part(section, "item", ident=name, title=found.exercise.title)
    fields = {"cc_profile": CHOICE if options else ESSAY}
    if not options:
        fields["qmd_computerscored"] = "No"
    _fields(part(made, "itemmetadata"), fields)
    shown = part(made, "presentation")
    part(part(shown, "material"), "mattext", _words(found, ask), texttype="text/plain")
    if not options:
        entry = part(shown, "response_str", ident="answer", rcardinality="Single")
        part(part(entry, "render_fib"), "response_label", ident="text")
        return
    entry = part(shown, "response_lid", ident="answer", rcardinality="Single")
    render = part(entry, "render_choice")
    for place, text in enumerate(options):
        label = part(render, "response_label", ident=f"c{place}")
        part(part(label, "material"), "mattext", text, texttype="text/plain")
    _key(made, options.index(key_text(found, ask)))


def _key(made, place: int) -> None:
    rules = part(made, "resprocessing")
    part(part(rules, "outcomes"), "decvar", varname="SCORE", vartype="Decimal", minvalue="0",
         maxvalue="100")  # fmt: skip
    rule = part(rules, "respcondition", **{"continue": "No"})
    part(part(rule, "conditionvar"), "varequal", f"c{place}", respident="answer")
    part(rule, "setvar", "100", action="Set", varname="SCORE")


def _words(found: Problem, ask: Ask) -> str:
    """The question with its caution, its lines, its log or its options, as plain text."""
    e = found.exercise
    lines = [found.text, f"Take care. {e.caution}" if e.caution else "", *found.lines]
    if e.columns:
        lines.append(" | ".join(("", *e.columns)))
    lines += [f"{letter}: {words}" for letter, words in found.options]
    lines.append(found.ask_text(ask))
    return "\n".join(filter(None, lines))


def key_text(found: Problem, ask: Ask) -> str:
    """The right answer as it stands among the choices."""
    if ask.form == "number":
        return _shown(float(right_answer(found, ask)[0]), ask)
    if ask.form == "order":
        return found.answer(ask)
    return next(text for text in _labels(found, ask) if text.startswith(found.answer(ask)))


def _labels(found: Problem, ask: Ask) -> list[str]:
    return [words if words.startswith(f"{letter}:") else f"{letter}: {words}"
            for letter, words in choices(found, ask)]  # fmt: skip


def _shown(value: float, ask: Ask) -> str:
    return f"{number(value)} {written(ask.unit, ask.kind)}".strip()


def to_choose(found: Problem, ask: Ask) -> list[str]:
    """The answers to choose from, in an order of the learner's own; none where slips are too few."""
    if ask.form in ("pick", "line"):
        return _labels(found, ask)
    key = key_text(found, ask)
    if ask.form == "order":
        letters = "".join(sorted(key))
        others = [key[::-1], *("".join(p) for p in permutations(letters))]
    else:
        others = [_shown(value, ask) for value in wrong_numbers(found.case, ask)]
    texts = [key, *[t for t in dict.fromkeys(others) if t != key][: MOST - 1]]
    if len(texts) < 3:
        return []
    order = [next(numbers(found.seed, f"choice {ask.name} {text}")) for text in texts]
    return [text for _, text in sorted(zip(order, texts, strict=True))]


def resource_name(text: str) -> str:
    """An identifier that is the same each time a package is made."""
    return f"r{hashlib.sha256(text.encode('utf-8')).hexdigest()[:16]}"
