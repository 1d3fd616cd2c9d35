"""Every relation is called by somebody, or stands on a list with a reason.

A relation that nothing calls teaches nobody and is checked for nothing; worse, its twin may be the
one that a sizing uses.  Who calls is read from the code: a name counts where it is used outside the
relation itself, and where an exercise names it.  Importing it to pass it on does not count.
"""

import ast
import csv
import importlib
import pkgutil
import re
from functools import cache
from pathlib import Path

import pytest

import rsdesign
from rsdesign.core import tables
from rsdesign.core.equation import REGISTER, Equation
from rsdesign.equations.biofilter.bed import sphere_specific_surface
from rsdesign.equations.biofilter.media import Medium
from rsdesign.records.columns import Reported

LIST = Path(__file__).with_name("reference_only.csv")


def modules():
    for found in pkgutil.walk_packages(rsdesign.__path__, "rsdesign."):
        if not found.name.endswith("__main__"):
            yield importlib.import_module(found.name)


def called(node: ast.AST, module, local: set[str]) -> str:
    """The relation that a name or a dotted name stands for in a module, or nothing."""
    first, *rest = ast.unparse(node).split(".")
    if first in local:
        return ""
    found = getattr(module, first, None)
    for part in [None, *rest]:
        found = found if part is None else getattr(found, part, None)
        if isinstance(getattr(found, "equation", None), Equation):
            return found.equation.name
    return ""


def local_names(top: ast.AST) -> set[str]:
    """Names that a function or a class at the top of a module gives a meaning of its own."""
    if isinstance(top, (ast.Assign, ast.AnnAssign)):
        return set()
    given = {node.arg for node in ast.walk(top) if isinstance(node, ast.arg)}
    return given | {
        node.id
        for node in ast.walk(top)
        if isinstance(node, ast.Name) and isinstance(node.ctx, ast.Store)
    }


@cache
def used() -> frozenset[str]:
    """Relations that the package's own code or an exercise uses."""
    names = set()
    for module in modules():
        text = Path(module.__file__).read_text(encoding="utf-8")
        for top in ast.parse(text).body:
            inside = f"{module.__name__.removeprefix('rsdesign.')}.{getattr(top, 'name', '')}"
            local = local_names(top)
            for node in ast.walk(top):
                if isinstance(node, (ast.Name, ast.Attribute)) and isinstance(node.ctx, ast.Load):
                    name = called(node, module, local) if dotted(node) else ""
                    if name and name != inside:
                        names.add(name)
    for path in sorted((tables.data_folder() / "exercises").glob("*.toml")):
        for name in re.findall(r'"([a-z_]+(?:\.[a-z_]+)+)"', path.read_text(encoding="utf-8")):
            room, _, attribute = name.rpartition(".")
            try:
                found = getattr(
                    importlib.import_module(f"rsdesign.equations.{room}"), attribute, None
                )
            except ModuleNotFoundError:
                continue
            if isinstance(getattr(found, "equation", None), Equation):
                names.add(found.equation.name)
    for row in tables.read("kit_bases", Reported):
        if row.relation:  # a column of a log names the relation by which a kit reports it
            room, _, attribute = row.relation.rpartition(".")
            found = getattr(importlib.import_module(f"rsdesign.equations.{room}"), attribute)
            names.add(found.equation.name)
    return frozenset(names)


def dotted(node: ast.AST) -> bool:
    """Whether a node is a plain name with dots, such as ``pipes.velocity``."""
    while isinstance(node, ast.Attribute):
        node = node.value
    return isinstance(node, ast.Name)


def reasons() -> dict[str, str]:
    with LIST.open(encoding="utf-8", newline="") as file:
        return {row["equation"]: row["reason"] for row in csv.DictReader(file)}


def test_every_relation_is_called_or_says_why_not():
    calls = used()  # imports every module, which fills the register
    idle = set(REGISTER) - calls
    assert idle <= set(reasons()), sorted(idle - set(reasons()))


@pytest.mark.parametrize("name", sorted(reasons()))
def test_no_reason_is_needless(name):
    assert reasons()[name], "a reason in words"
    calls = used()
    assert name in REGISTER, "there is no such relation"
    assert name not in calls, "it is called by now: strike it from the list"


def test_the_search_finds_callers():
    assert "air.aeration.field_factor" in used()  # a stage, through another room
    assert "fish.loads.hour_peak" in used()


def test_the_media_that_are_spheres_follow_the_relation_for_spheres():
    spheres = {"gravel": 0.020, "fine gravel": 0.010, "beads": 0.003, "sand": 0.001}
    rows = {row.name: row for row in tables.read("media", Medium)}
    for name, diameter in spheres.items():
        geometry = sphere_specific_surface(rows[name].void_fraction, diameter)
        assert rows[name].specific_surface == pytest.approx(geometry, rel=0.005)


if __name__ == "__main__":
    calls = used()
    print("\n".join(sorted(set(REGISTER) - calls)))
