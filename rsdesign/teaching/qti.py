"""One learner's problem as an item of QTI 2.1, an open standard of 1EdTech for questions.

An item holds its key: it is made for an instructor, who loads it into a course platform.  Numbers
are judged there with the tolerance of the exercise, in the one unit that the question names, since
the standard knows no units.  Slips, hints and follow-on marks stay here.
"""

import re
import xml.etree.ElementTree as ET

from ..core.units import from_plain
from .answers import written
from .cases import Case
from .model import Ask
from .variants import Problem

QTI = "http://www.imsglobal.org/xsd/imsqti_v2p1"
XSI = "http://www.w3.org/2001/XMLSchema-instance"
QTI_AT = f"{QTI} http://www.imsglobal.org/xsd/qti/qtiv2p1/imsqti_v2p1.xsd"
LENGTH = "10"
"""Characters that a box for a number is wide."""


def identifier(text: str) -> str:
    """A name as the standard wants it: letters, digits, ``_``, ``-`` and ``.``, a letter first.

    >>> identifier("tank-round/before"), identifier("4BC4-T")
    ('tank-round.before', 'i4BC4-T')
    """
    name = re.sub(r"[^A-Za-z0-9_.-]", ".", text)
    return name if name[:1].isalpha() else f"i{name}"


def part(parent, tag: str, text: str = "", **attributes: str):
    """An element under another, with its text and attributes."""
    made = ET.SubElement(parent, tag, attributes)
    made.text = text or None
    return made


def written_xml(root) -> str:
    """A document as text."""
    ET.indent(root, " ")
    return f'<?xml version="1.0" encoding="UTF-8"?>\n{ET.tostring(root, encoding="unicode")}\n'


def item(found: Problem, name: str) -> str:
    """A problem as an item of QTI 2.1: question, boxes, key, and one point for each thing asked.

    Parameters:
        found: what ``variants.problem`` gives.
        name: the item's identifier, unlike that of any other item of the package.
    Returns: the XML document.
    """
    e = found.exercise
    root = ET.Element("assessmentItem", {
        "xmlns": QTI, "xmlns:xsi": XSI, "xsi:schemaLocation": QTI_AT, "identifier": name,
        "title": e.title, "adaptive": "false", "timeDependent": "false", "xml:lang": "en",
        "toolName": "rsdesign",
    })  # fmt: skip
    names = {ask.name: identifier(f"answer-{ask.name}") for ask in e.asks}
    for ask in e.asks:
        _response(root, found, ask, names[ask.name])
    _outcome(root, "SCORE", "0")
    _outcome(root, "MAXSCORE", str(len(e.asks)))
    body = part(root, "itemBody")
    question(body, found)
    for ask in e.asks:
        _interaction(body, found, ask, names[ask.name])
    rules = part(root, "responseProcessing")
    for ask in e.asks:
        _rule(rules, found, ask, names[ask.name])
    return written_xml(root)


def _response(root, found: Problem, ask: Ask, name: str) -> None:
    """What is answered, and the right answer."""
    kinds = {"number": ("single", "float"), "order": ("ordered", "identifier")}
    cardinality, base = kinds.get(ask.form, ("single", "identifier"))
    made = part(
        root, "responseDeclaration", identifier=name, cardinality=cardinality, baseType=base
    )
    key = part(made, "correctResponse")
    for value in right_answer(found, ask):
        part(key, "value", value)


def right_answer(found: Problem, ask: Ask) -> list[str]:
    """The key: a number in the unit of the question, or letters."""
    if ask.form == "number":
        return [f"{from_plain(found.answer(ask), ask.kind.unit(ask.unit)):.6g}"]
    return list(found.answer(ask))


def _outcome(root, name: str, value: str) -> None:
    made = part(root, "outcomeDeclaration", identifier=name, cardinality="single", baseType="float")
    part(part(made, "defaultValue"), "value", value)


def question(body, found: Problem) -> None:
    """The words of a problem, its caution, its lines or its log."""
    e = found.exercise
    part(body, "p", found.text)
    if e.caution:
        part(body, "p", f"Take care. {e.caution}")
    for line in found.lines:
        part(body, "p", line)
    if e.columns:
        table = part(part(body, "table"), "tbody")
        head = part(table, "tr")
        for words in ("", *e.columns):
            part(head, "th", words)
        for letter, words in found.options:
            row = part(table, "tr")
            for cell in (letter, *words.split("|")):
                part(row, "td", cell.strip())


def asked(found: Problem, ask: Ask) -> str:
    """The words of one thing asked, with the unit in which a number is wanted."""
    words = found.ask_text(ask)
    if ask.form != "number":
        return words or "Which one?"
    unit = written(ask.unit, ask.kind)
    wanted = f"Your answer in {unit}, the number only:" if unit else "Your answer, the number only:"
    return f"{words} {wanted}".strip()


def choices(found: Problem, ask: Ask) -> list[tuple[str, str]]:
    """Pairs of letter and words to choose from."""
    if ask.form == "line":
        return [(line[0], line) for line in found.lines]
    return [(letter, words.replace(" | ", ", ")) for letter, words in found.options]


def _interaction(body, found: Problem, ask: Ask, name: str) -> None:
    """What a learner answers in: a box, a choice or an order."""
    words = asked(found, ask)
    if ask.form == "number":
        line = part(body, "p", f"{words} ")
        part(line, "textEntryInteraction", responseIdentifier=name, expectedLength=LENGTH)
        return
    about = {"responseIdentifier": name, "shuffle": "false"}
    if ask.form != "order":
        about["maxChoices"] = "1"
    tag = "orderInteraction" if ask.form == "order" else "choiceInteraction"
    made = part(body, tag, **about)
    part(made, "prompt", words)
    for letter, option in choices(found, ask):
        part(made, "simpleChoice", option, identifier=letter)


def _rule(rules, found: Problem, ask: Ask, name: str) -> None:
    """One point where the answer is the key, for a number within its tolerance."""
    first = part(part(rules, "responseCondition"), "responseIf")
    number = ask.form == "number"
    test = part(first, "equal", **_near(found, ask)) if number else part(first, "match")
    part(test, "variable", identifier=name)
    part(test, "correct", identifier=name)
    new = part(part(first, "setOutcomeValue", identifier="SCORE"), "sum")
    part(new, "variable", identifier="SCORE")
    part(new, "baseValue", "1", baseType="float")


def _near(found: Problem, ask: Ask) -> dict[str, str]:
    """How near is near enough: percent of the key, or so much of its unit near zero."""
    if ask.floor > ask.tolerance * abs(found.answer(ask)):
        width = f"{ask.floor / ask.kind.unit(ask.unit).factor:.6g}"
        return {"toleranceMode": "absolute", "tolerance": f"{width} {width}"}
    width = f"{100 * ask.tolerance:.6g}"
    return {"toleranceMode": "relative", "tolerance": f"{width} {width}"}


def wrong_numbers(found: Case, ask: Ask) -> list[float]:
    """What the known slips of a number answer, in the unit of the question, each unlike the others."""
    from .cases import close, misconception_value, planted_value  # noqa: PLC0415
    from .steps import finite  # noqa: PLC0415

    values = [
        misconception_value(found, m) for m in found.exercise.misconceptions if m.ask == ask.name
    ]
    if found.planted is not None:
        values.append(planted_value(found, ask))
    kept: list[float] = []
    for value in values:
        if finite(value) and not any(close(ask, value, k) for k in (found.truth[ask.name], *kept)):
            kept.append(value)
    return [from_plain(value, ask.kind.unit(ask.unit)) for value in kept]
