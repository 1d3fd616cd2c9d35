"""Published whole systems: printed beside computed, each difference with its reason."""

import pytest
from whole_systems import HERE, OUT, SYSTEMS, found_side, page, sized

LINES = [(system, line) for system in SYSTEMS for line in system.lines]


@pytest.fixture(scope="module")
def sizings():
    return {system.design: sized(system) for system in SYSTEMS}


def test_the_document_holds_what_is_computed_today():
    told = OUT.read_text(encoding="utf-8")
    assert told == page(), "the numbers moved: say why in docs/changes.md, write the page again"


@pytest.mark.parametrize(
    ("system", "line"), LINES, ids=lambda x: getattr(x, "figure", getattr(x, "design", ""))
)
def test_the_reason_fits_the_difference(sizings, system, line):
    ours = float(line.ours(sizings[system.design]))
    assert found_side(line, ours) == line.side, f"{ours:g} beside {line.printed}"
    assert len(line.why) > 10


def test_every_published_design_is_used_and_says_what_it_is():
    files = {path.stem: path for path in (HERE / "published_systems").glob("*.toml")}
    assert set(files) == {system.design for system in SYSTEMS}
    for path in files.values():
        text = path.read_text(encoding="utf-8")
        assert text.startswith("# A published"), path.name
        assert "see docs/whole-systems.md" in text, path.name
