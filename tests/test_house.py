"""The rules of the house, checked by a machine: floors, sizes, docstrings, literals, papers."""

import ast
import csv
import doctest
import functools
import importlib
import inspect
import pkgutil
import pydoc
import re
import subprocess
import sys
import tomllib
from pathlib import Path

import numpy as np
import pytest

import rsdesign
from rsdesign.core.equation import REGISTER
from rsdesign.core.formula import symbols
from rsdesign.core.published import checks
from rsdesign.report.method_book import import_all

import_all()
ROOT = Path(__file__).resolve().parents[1]
SOURCES = sorted((ROOT / "rsdesign").rglob("*.py"))
FORMULAS = [p for p in SOURCES if "equations" in p.parts and p.name != "__init__.py"]

ORDER = (
    "core",
    "equations",
    "design",
    "sizing",
    "studies",
    "season",
    "records",
    "building",
    "report",
    "teaching",
    "pages",
    "commands",
    "__main__",
)
"""Folders from the bottom up; a module imports from its own folder and from those before it."""


def folder(path: Path) -> str:
    return path.relative_to(ROOT / "rsdesign").parts[0].removesuffix(".py")


def imports(path: Path):
    """Folders of this package that a module imports from, early or late, by the syntax tree."""
    depth = len(path.relative_to(ROOT / "rsdesign").parts)
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.ImportFrom) and node.level:
            if node.level == depth:
                names = [node.module.split(".")[0]] if node.module else [a.name for a in node.names]
                yield from names
        elif isinstance(node, ast.ImportFrom) and (node.module or "").startswith("rsdesign."):
            yield node.module.split(".")[1]


@pytest.mark.parametrize("path", SOURCES, ids=lambda p: str(p.relative_to(ROOT)))
def test_a_folder_imports_only_from_those_before_it(path):
    here = folder(path)
    if here == "__init__":
        return
    for other in imports(path):
        assert ORDER.index(other) <= ORDER.index(here), f"{here} imports {other}"


@pytest.mark.parametrize("path", SOURCES, ids=lambda p: str(p.relative_to(ROOT)))
def test_no_module_takes_a_private_name_of_another(path):
    tree = ast.parse(path.read_text(encoding="utf-8"))
    modules = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.ImportFrom) and (node.level or "rsdesign" in node.module):
            for name in node.names:
                assert name.name.endswith("__") or not name.name.startswith("_"), (
                    f"line {node.lineno} imports {name.name}"
                )
                modules.add(name.asname or name.name)
    for node in ast.walk(tree):
        if isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name):
            private = node.attr.startswith("_") and not node.attr.endswith("__")
            assert not (private and node.value.id in modules), f"line {node.lineno}: {node.attr}"


@pytest.mark.parametrize("path", SOURCES, ids=lambda p: str(p.relative_to(ROOT)))
def test_modules_and_functions_are_short(path):
    text = path.read_text(encoding="utf-8")
    assert len(text.splitlines()) <= 350
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, (ast.FunctionDef, ast.AsyncFunctionDef)):
            assert node.end_lineno - node.lineno < 60, node.name


def plain_functions() -> dict[str, str]:
    with (ROOT / "tests" / "plain_functions.csv").open(encoding="utf-8", newline="") as file:
        return {row["function"]: row["reason"] for row in csv.DictReader(file)}


def public_functions():
    for path in FORMULAS:
        name = ".".join(path.relative_to(ROOT).with_suffix("").parts)
        module = importlib.import_module(name)
        for node in ast.parse(path.read_text(encoding="utf-8")).body:
            if isinstance(node, ast.FunctionDef) and not node.name.startswith("_"):
                yield name.removeprefix("rsdesign.equations."), getattr(module, node.name)


def test_every_public_formula_is_an_equation_or_says_why_not():
    listed = plain_functions()
    found = set()
    for module, function in public_functions():
        name = f"{module}.{function.__name__}"
        if hasattr(function, "equation"):
            about = function.equation
            assert about.source, name
            assert about.valid, name
            assert about.basis in ("seen", "derived", "common practice", "from memory"), name
            assert ">>> " in function.__doc__, f"{name} has no example"
            assert about.result is not None or "tuple" in str(about.signature), name
        else:
            found.add(name)
            assert function.__doc__, name
            assert name in listed, f"{name} is no equation; say why in plain_functions.csv"
    assert not set(listed) - found, "plain functions listed that are not there"


def all_modules():
    for info in pkgutil.walk_packages(rsdesign.__path__, "rsdesign."):
        if not info.name.endswith("__main__"):
            yield importlib.import_module(info.name)


def test_every_example_runs():
    finder, runner = doctest.DocTestFinder(exclude_empty=True), doctest.DocTestRunner(verbose=False)
    tried = 0
    for module in all_modules():
        names = {**vars(module), "np": np}
        for value in list(vars(module).values()):
            if getattr(value, "__module__", None) != module.__name__ or not callable(value):
                continue
            for test in finder.find(value, getattr(value, "__name__", "x"), globs=names):
                if test.examples:
                    tried += 1
                    assert runner.run(test, clear_globs=False).failed == 0, (module, test.name)
    assert tried > 250


def test_every_public_thing_has_a_docstring():
    for path in SOURCES:
        tree = ast.parse(path.read_text(encoding="utf-8"))
        assert ast.get_docstring(tree) or not tree.body, path
        for node in tree.body:
            if isinstance(node, (ast.FunctionDef, ast.ClassDef)) and not node.name.startswith("_"):
                assert ast.get_docstring(node), f"{path.name}: {node.name}"


def test_every_argument_has_its_words():
    known = symbols()
    missing = {name for e in REGISTER.values() for name in e.kinds} - set(known)
    assert not missing


FACTORS = {24, 60, 1000, 3600, 86400, 365, 365.25, 3.785, 3.785411784, 2.2046, 0.3048, 0.4536,
           0.45359237, 1440, 453.59237}  # fmt: skip


@pytest.mark.parametrize("path", FORMULAS, ids=lambda p: str(p.relative_to(ROOT)))
def test_no_conversion_factor_hides_in_a_formula(path):
    """Unless the source states its relation in other units, which the line then says."""
    text = path.read_text(encoding="utf-8")
    lines = text.splitlines()
    examples = {n for n, line in enumerate(lines, 1) if line.strip().startswith(">>>")}
    for statement in ast.walk(ast.parse(text)):
        if not isinstance(statement, (ast.Assign, ast.AnnAssign, ast.Return, ast.Expr)):
            continue
        whole = "\n".join(lines[statement.lineno - 1 : statement.end_lineno])
        for node in ast.walk(statement):
            number = isinstance(node, ast.Constant) and type(node.value) in (int, float)
            if number and node.value in FACTORS and node.lineno not in examples:
                assert "# units of the source" in whole, f"{path.name}:{node.lineno}: {whole}"


@pytest.mark.parametrize("path", [*SOURCES, *sorted((ROOT / "tests").rglob("*.py"))],
                         ids=lambda p: str(p.relative_to(ROOT)))  # fmt: skip
def test_every_file_opened_names_its_encoding(path):
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if not isinstance(node, ast.Call):
            continue
        name = getattr(node.func, "id", getattr(node.func, "attr", ""))
        if name in ("open", "read_text", "write_text", "fdopen"):
            words = {k.arg for k in node.keywords}
            assert "encoding" in words or _binary(node), f"{path.name}:{node.lineno}"


def _binary(node: ast.Call) -> bool:
    return any(isinstance(a, ast.Constant) and "b" in str(a.value) for a in node.args[1:2])


def published_exceptions() -> dict[str, str]:
    with (ROOT / "tests" / "published_exceptions.csv").open(encoding="utf-8", newline="") as file:
        return {row["function"]: row["reason"] for row in csv.DictReader(file)}


SUMS = {"definitions", "drain_definitions", "flows", "loop", "machines", "margins", "waste"}
"""Modules of small sums between the published relations."""


def test_every_relation_is_checked_or_says_why_not():
    checked = {_equation_name(row.function.split("[")[0]) for row in checks()}
    listed = published_exceptions()
    for name, about in REGISTER.items():
        if name.split(".")[-2] in SUMS and about.basis in ("derived", "common practice"):
            continue  # small sums: definitions and conservation, tested in test_sizing.py
        if about.source in ("definition", "geometry") or about.basis == "derived":
            continue
        assert name in checked or name in listed, f"{name}: no figure printed by others"
    for name in listed:
        assert name in REGISTER, f"{name} is not a relation"
        assert name not in checked, f"{name} is checked now: take it off the list"


def _equation_name(function: str) -> str:
    """The register's name of a function that may be reached through another module."""
    module, _, name = function.rpartition(".")
    found = getattr(importlib.import_module(f"rsdesign.equations.{module}"), name)
    return found.equation.name if hasattr(found, "equation") else function


def test_import_is_light():
    code = ("import sys, rsdesign; "
            "print([m for m in ('pandas','plotly','scipy','ipywidgets','pint','tomlkit','sympy','typst',"
            "'openpyxl','segno','latex2mathml')"
            " if m in sys.modules])")  # fmt: skip
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, encoding="utf-8",
                          check=True)  # fmt: skip
    assert done.stdout.strip() == "[]"


# --- the public package --------------------------------------------------------------------

PUBLIC = {
    "Design", "Sizing", "__version__", "candidates", "choose", "compare", "differences", "equations",
    "handout", "heat", "labeled", "limits", "load", "makeup", "outage", "plot", "published", "read_log", "records",
    "save", "season", "size", "spread", "sweep", "tune", "units", "ureg", "with_values",
}  # fmt: skip


def test_the_package_lists_its_names():
    assert set(rsdesign.__all__) == PUBLIC
    assert set(dir(rsdesign)) == PUBLIC | set(ORDER) - {"__main__"}
    for name in PUBLIC:
        assert getattr(rsdesign, name) is not None, name
    with pytest.raises(AttributeError, match="no attribute 'sizes'"):
        _ = rsdesign.sizes


def test_the_names_that_a_type_checker_sees_are_those_that_are_there():
    tree = ast.parse((ROOT / "rsdesign" / "__init__.py").read_text(encoding="utf-8"))
    block = next(node for node in tree.body if isinstance(node, ast.If))
    seen = {a.asname or a.name for node in block.body for a in node.names}
    assert seen == PUBLIC
    for node in block.body:
        module = importlib.import_module(f"rsdesign.{node.module or ''}".rstrip("."))
        for a in node.names:
            assert getattr(rsdesign, a.asname or a.name) is getattr(module, a.name), a.name


def test_the_version_is_that_of_the_project():
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    assert rsdesign.__version__ == project["version"]
    assert "Typing :: Typed" in project["classifiers"]
    assert (ROOT / "rsdesign" / "py.typed").is_file()
    assert not [c for c in project["classifiers"] if "License" in c]


def test_help_reads_as_an_introduction():
    text = pydoc.plain(pydoc.render_doc(rsdesign))
    first = text[: text.index("PACKAGE CONTENTS")]
    assert "recirculating fish systems" in first
    assert first.count("\n") < 45
    for name in PUBLIC - {"__version__", "Sizing"}:
        assert name in first, name


def test_the_example_of_the_introduction_runs():
    lines = [x.strip() for x in rsdesign.__doc__.splitlines() if x.startswith("    ")]
    assert len(lines) == 5
    names: dict = {}
    exec("\n".join(lines), names)
    assert names["sizing"]["tank.volume"].to("gal").magnitude > 100


SUBJECTS = sorted(p.parent.name for p in (ROOT / "rsdesign" / "equations").glob("*/__init__.py"))


def test_a_subject_lists_its_relations_without_heavy_packages():
    code = (
        "import sys, rsdesign.equations as eq\n"
        f"for name in {SUBJECTS}: print(name, *dir(getattr(eq, name)))\n"
        "print([m for m in ('pandas', 'pint', 'plotly', 'scipy') if m in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, encoding="utf-8",
                          check=True)  # fmt: skip
    *rows, heavy = done.stdout.strip().splitlines()
    assert heavy == "[]"
    listed = {row.split()[0]: set(row.split()[1:]) for row in rows}
    for name in REGISTER:
        subject, *_, last = name.split(".")
        if subject in listed:
            assert last in listed[subject], name


CONTRACT = """
water.oxygen.saturation(temperature, salinity, pressure)
water.properties.pressure_at_elevation(elevation)
water.properties.density(temperature)
water.properties.viscosity(temperature)
water.properties.vapour_pressure(temperature)
water.ammonia.unionized_fraction(temperature, ph, salinity)
water.carbonate.carbon_dioxide(alkalinity, ph, temperature)
water.carbonate.ph(alkalinity, carbon_dioxide, temperature)
fish.growth.weight_after(weight, days, temperature, growth_coefficient, base_temperature)
fish.loads.ammonia_production(feed, protein)
fish.loads.solids_production(feed, fraction)
fish.loads.oxygen_demand(feed, per_feed)
fish.loads.carbon_dioxide_production(oxygen, quotient_by_mass)
fish.stocking.plan(fish, weight, harvest, weeks)
tank.volume_for(biomass, density)
tank.circular_volume(diameter, depth)
tank.turnover_time(volume, flow)
solids.stokes_velocity(diameter, particle_density, temperature)
solids.settling_velocity()
solids.surface_area(flow, overflow_rate)
solids.detention_time(volume, flow)
solids.captured_fraction(flow, area, velocities, mass_fractions)
biofilter.media_area(ammonia_load, areal_rate)
biofilter.media_volume(area, specific_surface)
biofilter.areal_rate()
biofilter.outlet(inlet, flow, area, rate, mixed)
biofilter.limited_by()
biofilter.rule_area(feed)
biofilter.oxygen_use(ammonia_load)
biofilter.alkalinity_use(ammonia_load)
fish.loads.flow_to_hold(load, inlet, outlet)
air.field_transfer(standard_rate, temperature, oxygen, depth, pressure, alpha, beta, theta, fouling)
air.air_flow(oxygen_transfer, transfer_efficiency)
air.blower_power(air_mass_flow, inlet_temperature, inlet_pressure, outlet_pressure, efficiency)
pipes.friction_factor(reynolds, relative_roughness)
pipes.head_loss(flow, diameter, length, roughness, minor_losses, temperature)
pipes.hazen_williams(flow, diameter, length, c)
pumps.power(flow, head, efficiency)
pumps.operating_point(pump_curve, system_curve)
gas.stripped_fraction()
heat.balance.evaporation()
heat.heat_balance()
heat.equilibrium_temperature()
power.time_to(oxygen_limit, oxygen_start, volume, oxygen_demand)
costs.annual.straight_line(cost, life, salvage)
costs.annual.equivalent_annual(cost, life, rate, salvage)
costs.annual.capital_recovery(rate, life)
costs.annual.present_value(rate, flows)
costs.annual.internal_rate(flows)
costs.annual.loan_payment(principal, rate, years, per_year)
"""
"""Relations that others call by name, each with the arguments that it must go on taking."""


@pytest.mark.parametrize("line", CONTRACT.split("\n")[1:-1])
def test_relations_that_others_call_keep_their_name_and_arguments(line):
    path, _, arguments = line.rstrip(")").partition("(")
    found = functools.reduce(getattr, path.split("."), rsdesign.equations)
    names = list(inspect.signature(found).parameters)
    assert set(filter(None, arguments.split(", "))) <= set(names), names


# --- papers --------------------------------------------------------------------------------

TOP = {"README.md", "DEVELOPERS.md", "pyproject.toml", "workbooks", "rsdesign", "tests", "data",
       "docs"}  # fmt: skip


def tracked() -> list[str]:
    done = subprocess.run(["git", "ls-files"], cwd=ROOT, capture_output=True, encoding="utf-8",
                          check=False)  # fmt: skip
    return done.stdout.split("\n")[:-1] if done.returncode == 0 else []


def test_the_top_level_is_as_agreed():
    names = {path.split("/")[0] for path in tracked()}
    if not names:  # an unpacked source archive has no version control
        names = {p.name for p in ROOT.iterdir() if p.name in TOP}
    assert {n for n in names if not n.startswith(".")} == TOP


def test_no_machine_and_no_host_is_named():
    wanted = re.compile(r"/(?:work|root|home)/\w|pytho[n]hosted|py[p]i\.org|npmj[s]|deb[.]debian")
    for name in tracked():
        path = ROOT / name
        if path.suffix in (".py", ".md", ".toml", ".csv", ".ipynb", "") and path.is_file():
            found = wanted.search(path.read_text(encoding="utf-8"))
            assert not found, f"{name}: {found[0]}"


def test_lists_of_choices_match_their_tables():
    from rsdesign.design.model import FIELDS

    for entry in FIELDS.values():
        if entry.choice.options is not None:
            names = entry.choice.options()
            assert len(set(names)) == len(names) > 1, entry.path
            default = entry.choice.default
            assert default is None or default in names, (entry.path, default, names)


def test_every_package_that_is_imported_is_declared():
    """What the package imports, or starts as ``-m``, is installed with it and not by luck."""
    declared = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    names = {
        re.split(r"[<>=!\[]", d)[0].lower().replace("-", "_") for d in declared["dependencies"]
    }
    found = {"ipykernel"}  # a page's program is a kernel of it, whether forked or started
    for path in SOURCES:
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Import):
                found |= {a.name.split(".")[0] for a in node.names}
            elif isinstance(node, ast.ImportFrom) and not node.level:
                found.add(node.module.split(".")[0])
    strangers = found - set(sys.stdlib_module_names) - {"rsdesign"} - names
    assert strangers <= {"jupyterhub"}
    assert any(d.startswith("jupyterhub>") for d in declared["optional-dependencies"]["hub"])


def test_only_the_server_that_a_hub_starts_imports_the_hub():
    """Nobody needs the extra who serves no hub: one module imports it, and that one late."""
    wants = [
        p.name
        for p in SOURCES
        if re.search(r"^\s*(from|import) jupyterhub", p.read_text(encoding="utf-8"), re.M)
    ]
    assert wants == ["hub_app.py"]
    asked = [
        p.name
        for p in SOURCES
        if re.search(r"^from .*hub_app", p.read_text(encoding="utf-8"), re.M)
    ]
    assert asked == []
