"""A set for a course platform: a package of QTI 2.1, or a Common Cartridge 1.1, of one learner's numbers.

Both hold every answer: they are an instructor's files, made at the command line and on the
instructor's page alone.  Several codes in one package are so many variants side by side.
"""

import io
import xml.etree.ElementTree as ET
import zipfile

from .cartridge import assessment, resource_name
from .exercises import ExerciseSet, exercise_set
from .model import ExerciseError
from .qti import QTI, QTI_AT, XSI, identifier, item, part, written_xml
from .sets import set_plan
from .variants import Problem

CP = "http://www.imsglobal.org/xsd/imscp_v1p1"
CP_AT = f"{CP} http://www.imsglobal.org/xsd/qti/qtiv2p1/qtiv2p1_imscpv1p2_v1p0.xsd"
CC = "http://www.imsglobal.org/xsd/imsccv1p1/imscp_v1p1"
LOM = "http://ltsc.ieee.org/xsd/imsccv1p1/LOM/manifest"
CC_AT = (
    f"{CC} http://www.imsglobal.org/profile/cc/ccv1p1/ccv1p1_imscp_v1p2_v1p0.xsd"
    f" {LOM} http://www.imsglobal.org/profile/cc/ccv1p1/LOM/ccv1p1_lommanifest_v1p0.xsd"
)
HOLDS_KEY = "It holds every answer: keep it on your own machine, apart from what learners see."
MOST = 60
"""Codes in one package."""
MADE = (1980, 1, 1, 0, 0, 0)
"""The time inside a package, so that the same set gives the same bytes."""


def _sets(name: str, codes, class_key) -> list[ExerciseSet]:
    if not 1 <= len(codes) <= MOST:
        raise ExerciseError(
            f"A package holds the numbers of 1 to {MOST} codes, not of {len(codes)}."
        )
    return [exercise_set(name, code, class_key) for code in codes]


def _named(found: ExerciseSet) -> list[tuple[str, Problem]]:
    return [(identifier(f"{found.learner}.{p.name}"), p) for p in found.problems]


def qti_package(name: str, codes, class_key) -> bytes:
    """A package of QTI 2.1: an item for each problem, a test for each code.

    Parameters:
        name: the set, such as ``"solids"``.
        codes: whose numbers are in it, 1 to 60 codes.
        class_key: text or bytes that the instructor keeps.
    Returns: the bytes of a zip file.
    Raises: ``ExerciseError`` for a set, codes or a key that cannot be.

    >>> qti_package("solids", ["A1"], "a class")[:2]
    b'PK'
    """
    files, resources = {}, []
    for found in _sets(name, codes, class_key):
        items = []
        for item_name, problem in _named(found):
            path = f"items/{item_name}.xml"
            files[path] = item(problem, item_name)
            items.append((item_name, path))
        test = identifier(f"{found.learner}.test")
        files[f"{test}.xml"] = _test(found, test, items)
        resources += [(item_name, "imsqti_item_xmlv2p1", path, ()) for item_name, path in items]
        resources.append((test, "imsqti_test_xmlv2p1", f"{test}.xml", tuple(n for n, _ in items)))
    root = _manifest(CP, CP_AT, "QTIv2.1 Package", "1.0.0", f"{name}.qti")
    part(root, "organizations")
    _resources(root, resources)
    return _zipped({"imsmanifest.xml": written_xml(root), **files})


def cartridge(name: str, codes, class_key) -> bytes:
    """A Common Cartridge 1.1: an assessment for each code.

    Parameters:
        name: the set, such as ``"solids"``.
        codes: whose numbers are in it, 1 to 60 codes.
        class_key: text or bytes that the instructor keeps.
    Returns: the bytes of a zip file.
    Raises: ``ExerciseError`` for a set, codes or a key that cannot be.

    >>> cartridge("solids", ["A1"], "a class")[:2]
    b'PK'
    """
    plan, files, resources = set_plan(name), {}, []
    root = _manifest(CC, CC_AT, "IMS Common Cartridge", "1.1.0", f"{name}.cartridge", plan.title)
    way = part(part(root, "organizations"), "organization", identifier="way",
               structure="rooted-hierarchy")  # fmt: skip
    top = part(way, "item", identifier="top")
    for found in _sets(name, codes, class_key):
        title = f"{plan.title} ({found.learner})"
        resource = resource_name(f"{plan.name} {plan.edition} {found.learner}")
        path = f"{resource}/assessment.xml"
        files[path] = assessment(title, resource, _named(found))
        line = part(top, "item", identifier=f"{resource}.item", identifierref=resource)
        part(line, "title", title)
        resources.append((resource, "imsqti_xmlv1p2/imscc_xmlv1p1/assessment", path, ()))
    _resources(root, resources)
    return _zipped({"imsmanifest.xml": written_xml(root), **files})


def _test(found: ExerciseSet, name: str, items: list[tuple[str, str]]) -> str:
    """The test of one learner: all items in the order of the day."""
    root = ET.Element("assessmentTest", {
        "xmlns": QTI, "xmlns:xsi": XSI, "xsi:schemaLocation": QTI_AT, "identifier": name,
        "title": f"{found.title} ({found.learner})", "toolName": "rsdesign",
    })  # fmt: skip
    whole = part(root, "testPart", identifier="part", navigationMode="nonlinear",
                 submissionMode="individual")  # fmt: skip
    section = part(whole, "assessmentSection", identifier="section", title=found.title,
                   visible="true")  # fmt: skip
    for item_name, path in items:
        part(section, "assessmentItemRef", identifier=item_name, href=path)
    return written_xml(root)


def _manifest(space: str, at: str, schema: str, version: str, name: str, title: str = ""):
    root = ET.Element("manifest", {
        "xmlns": space, "xmlns:xsi": XSI, "xsi:schemaLocation": at, "identifier": identifier(name),
        **({"xmlns:lom": LOM} if title else {}),
    })  # fmt: skip
    data = part(root, "metadata")
    part(data, "schema", schema)
    part(data, "schemaversion", version)
    if title:
        general = part(part(data, "lom:lom"), "lom:general")
        part(part(general, "lom:title"), "lom:string", title, language="en")
    return root


def _resources(root, resources) -> None:
    whole = part(root, "resources")
    for name, kind, path, needs in resources:
        about = {} if "imscc" in kind else {"href": path}  # the cartridge's questions have no href
        made = part(whole, "resource", identifier=name, type=kind, **about)
        part(made, "file", href=path)
        for other in needs:
            part(made, "dependency", identifierref=other)


def _zipped(files: dict[str, str]) -> bytes:
    made = io.BytesIO()
    with zipfile.ZipFile(made, "w", zipfile.ZIP_DEFLATED) as package:
        for name, text in files.items():
            package.writestr(zipfile.ZipInfo(name, MADE), text, zipfile.ZIP_DEFLATED)
    return made.getvalue()
