"""Structural rules of QTI 2.1 items and tests, of content packages and of Common Cartridge 1.1 questions.

The published schemas are on no package registry that this project uses, and their licence asks whoever
distributes a changed copy to register.  So the rules for the elements in use are written here in our own
form: for each element its children, in order, and its attributes, the required ones with a star.  Source:
1EdTech (IMS Global), QTI 2.1 final release, XML schema of 31 July 2012 (imsqti_v2p1.xsd, read in
part: attributes of tables, choices and interactions, the rules on identifiers) and the QTI 2.1 information
model; IMS Content Packaging 1.1 (imscp_v1p1); Common Cartridge 1.1 profile of QTI 1.2.1 (basis of what was
not read: from memory).
"""

import re
import xml.etree.ElementTree as ET

IDENTIFIER = re.compile(r"[A-Za-z_][A-Za-z0-9_.-]*")
INLINE = "(textEntryInteraction )*"
EXPRESSION = "(variable|correct|baseValue|equal|match|sum) "

# element: (children as a pattern over their names, attributes; a star marks the required ones)
QTI = {
    "assessmentItem": (
        "(responseDeclaration )*(outcomeDeclaration )*(itemBody )?(responseProcessing )?",
        "identifier* title* adaptive* timeDependent* lang toolName toolVersion label schemaLocation",
    ),
    "responseDeclaration": ("(correctResponse )?", "identifier* cardinality* baseType"),
    "outcomeDeclaration": ("(defaultValue )?", "identifier* cardinality* baseType"),
    "correctResponse": ("(value )+", "interpretation"),
    "defaultValue": ("(value )+", "interpretation"),
    "value": ("", "fieldIdentifier baseType"),
    "itemBody": ("((p|table|choiceInteraction|orderInteraction) )*", "id class lang label"),
    "p": (INLINE, "id class lang label"),
    "table": ("(caption )?(thead )?(tfoot )?(tbody )+", "id class lang label summary"),
    "tbody": ("(tr )+", "id class lang label"),
    "tr": ("((th|td) )+", "id class lang label"),
    "th": ("", "id class lang label headers scope abbr axis rowspan colspan align valign"),
    "td": ("", "id class lang label headers scope abbr axis rowspan colspan align valign"),
    "textEntryInteraction": (
        "",
        "responseIdentifier* base stringIdentifier expectedLength patternMask placeholderText id class",
    ),
    "choiceInteraction": (
        "(prompt )?(simpleChoice )+",
        "responseIdentifier* shuffle* maxChoices* minChoices orientation id class",
    ),
    "orderInteraction": (
        "(prompt )?(simpleChoice )+",
        "responseIdentifier* shuffle* minChoices maxChoices orientation id class",
    ),
    "prompt": ("", "id class lang label"),
    "simpleChoice": ("", "identifier* fixed templateIdentifier showHide id class"),
    "responseProcessing": ("(responseCondition )*", "template templateLocation"),
    "responseCondition": ("responseIf (responseElseIf )*(responseElse )?", ""),
    "responseIf": (f"{EXPRESSION}(setOutcomeValue )*", ""),
    "setOutcomeValue": (EXPRESSION, "identifier*"),
    "equal": (EXPRESSION * 2, "toleranceMode* tolerance includeLowerBound includeUpperBound"),
    "match": (EXPRESSION * 2, ""),
    "sum": (f"({EXPRESSION})+", ""),
    "variable": ("", "identifier* weightIdentifier"),
    "correct": ("", "identifier*"),
    "baseValue": ("", "baseType*"),
    "assessmentTest": (
        "(outcomeDeclaration )*(testPart )+",
        "identifier* title* toolName toolVersion schemaLocation",
    ),
    "testPart": ("(assessmentSection )+", "identifier* navigationMode* submissionMode*"),
    "assessmentSection": (
        "((assessmentItemRef|assessmentSection) )*",
        "identifier* title* visible* required fixed keepTogether",
    ),
    "assessmentItemRef": ("", "identifier* href* required fixed category"),
}
PACKAGE = {
    "manifest": ("(metadata )?organizations resources ", "identifier* version base schemaLocation"),
    "metadata": ("(schema )?(schemaversion )?(lom )?", ""),
    "schema": ("", ""),
    "schemaversion": ("", ""),
    "lom": ("(general )?", ""),
    "general": ("(title )?", ""),
    "string": ("", "language"),
    "organizations": ("(organization )*", "default"),
    "organization": ("(title )?(item )+", "identifier* structure"),
    "item": ("(title )?(item )*", "identifier* identifierref isvisible parameters"),
    "title": ("(string )*", ""),
    "resources": ("(resource )*", "base"),
    "resource": ("(metadata )?(file )*(dependency )*", "identifier* type* href base"),
    "file": ("(metadata )?", "href*"),
    "dependency": ("", "identifierref*"),
}
QUESTIONS = {
    "questestinterop": ("assessment ", "schemaLocation"),
    "assessment": ("(qtimetadata )?(rubric )?(presentation_material )?section ", "ident* title*"),
    "qtimetadata": ("(qtimetadatafield )+", ""),
    "qtimetadatafield": ("fieldlabel fieldentry ", ""),
    "fieldlabel": ("", ""),
    "fieldentry": ("", ""),
    "section": ("(item )+", "ident*"),
    "item": ("itemmetadata presentation (resprocessing )?(itemfeedback )*", "ident* title"),
    "itemmetadata": ("qtimetadata ", ""),
    "presentation": ("material (response_lid |response_str )", ""),
    "material": ("mattext ", ""),
    "mattext": ("", "texttype"),
    "response_lid": ("render_choice ", "ident* rcardinality*"),
    "response_str": ("render_fib ", "ident* rcardinality*"),
    "render_choice": ("(response_label )+", "shuffle"),
    "render_fib": ("(response_label )?", "prompt"),
    "response_label": ("(material )?", "ident*"),
    "resprocessing": ("outcomes (respcondition )+", ""),
    "outcomes": ("decvar ", ""),
    "decvar": ("", "varname vartype* minvalue maxvalue"),
    "respcondition": ("conditionvar (setvar )*", "continue title"),
    "conditionvar": ("(varequal )+", ""),
    "varequal": ("", "respident* case"),
    "setvar": ("", "action varname"),
}


def bare(name: str) -> str:
    """A name without its namespace."""
    return name.rpartition("}")[2]


def faults(text: str, rules: dict, root: str, space: str) -> list[str]:
    """What is wrong with a document, in sentences; empty where it keeps the rules."""
    tree = ET.fromstring(text)
    found = [] if tree.tag == f"{{{space}}}{root}" else [f"the root is {tree.tag}"]
    for element in tree.iter():
        found += _of_element(element, rules)
    ids = [e.get("identifier") or e.get("ident") for e in tree.iter() if bare(e.tag) not in _REFERS]
    found += [f"{i!r} is no identifier" for i in ids if i and not IDENTIFIER.fullmatch(i)]
    return found


_REFERS = ("variable", "correct", "setOutcomeValue")


def _of_element(element, rules: dict) -> list[str]:
    name = bare(element.tag)
    if name not in rules:
        return [f"{name} is not an element in use"]
    pattern, attributes = rules[name]
    children = "".join(f"{bare(child.tag)} " for child in element)
    found = []
    if not re.fullmatch(pattern, children):
        found.append(f"{name} holds {children or 'nothing'}where {pattern or 'nothing'} may be")
    known = {a.rstrip("*") for a in attributes.split()}
    given = {bare(a) for a in element.attrib}
    found += [f"{name} has no attribute {a}" for a in given - known]
    missing = [a[:-1] for a in attributes.split() if a.endswith("*") and a[:-1] not in given]
    return found + [f"{name} needs {a}" for a in missing]


def dangling(text: str) -> list[str]:
    """Names that an item uses and nothing declares, or declares twice."""
    tree = ET.fromstring(text)
    declared = [e.get("identifier") for e in tree if bare(e.tag).endswith("Declaration")]
    used = [e.get("responseIdentifier") for e in tree.iter() if e.get("responseIdentifier")]
    used += [e.get("identifier") for e in tree.iter() if bare(e.tag) in _REFERS]
    found = [f"{name} is declared twice" for name in declared if declared.count(name) > 1]
    return found + [f"{name} is not declared" for name in used if name not in declared]


def score(text: str, answers: dict) -> tuple[float, float]:
    """What an item gives for answers by the name of their response, and the most it can give.

    A small reading of response processing for the elements in use: ``equal`` with its tolerance as
    the information model defines it (relative: percent of the key), ``match``, ``sum``.
    """
    tree = ET.fromstring(text)
    keys, values = {}, {}
    for element in tree:
        name = element.get("identifier")
        if bare(element.tag) == "responseDeclaration":
            keys[name] = [v.text for v in element.iter() if bare(v.tag) == "value"]
            values[name] = answers.get(name, [])
        elif bare(element.tag) == "outcomeDeclaration":
            values[name] = [v.text for v in element.iter() if bare(v.tag) == "value"]
    rules = next(e for e in tree if bare(e.tag) == "responseProcessing")
    for condition in rules:
        test, *outcomes = condition[0]
        if _true(test, keys, values):
            for outcome in outcomes:
                values[outcome.get("identifier")] = [str(_sum(outcome[0], keys, values))]
    return float(values["SCORE"][0]), float(values["MAXSCORE"][0])


def _value(element, keys, values) -> list:
    kind, name = bare(element.tag), element.get("identifier")
    if kind == "baseValue":
        return [element.text]
    return keys[name] if kind == "correct" else values[name]


def _true(test, keys, values) -> bool:
    one, key = (_value(child, keys, values) for child in test)
    if not one:
        return False  # nothing answered: the expression is null
    if bare(test.tag) == "match":
        return one == key
    low, high = (float(t) for t in test.get("tolerance").split())
    x, y = float(key[0]), float(one[0])
    if test.get("toleranceMode") == "absolute":
        return x - low <= y <= x + high
    return x * (1 - low / 100) <= y <= x * (1 + high / 100)


def _sum(element, keys, values) -> float:
    return sum(float(_value(child, keys, values)[0]) for child in element)
