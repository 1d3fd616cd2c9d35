"""Every caution says where it comes from, where it is shown and whom to ask."""

import pytest

from rsdesign.__main__ import main
from rsdesign.core.cautions import COMMANDS, HAND_OUT, cautions, cautions_on
from rsdesign.core.tables import BASES, data_folder
from rsdesign.pages.series import SERIES
from rsdesign.records.rules import finding_rows

KEYS = {"hazard", "fact", "source", "place", "basis", "shown", "authority"}
ASKED = (
    "electrician", "utility", "structural engineer", "fish and wildlife", "water agency",
    "health department", "veterinarian", "water supplier", "poison control", "physician",
)  # fmt: skip
"""Those to whom the workbook defers."""
MUST = (
    "mains near water", "extension cords", "lock-out", "generator", "children", "sludge gas",
    "chemicals", "lifting", "floor load", "fish-safe materials", "food", "permit", "discharge",
    "unripe filter", "ammonia and bleach", "test kits",
)  # fmt: skip


@pytest.mark.parametrize("name", sorted(cautions()))
def test_a_caution_is_whole(name):
    row = cautions()[name]
    assert set(row) == KEYS
    assert row["basis"] in BASES
    places = {page.name for page in SERIES} | {*COMMANDS, HAND_OUT}
    assert row["shown"]
    assert set(row["shown"]) <= places
    assert HAND_OUT in row["shown"]
    assert all(row[key].strip() for key in KEYS - {"shown"})
    assert len(row["fact"]) < 200


def test_nothing_usual_is_missing():
    assert set(MUST) <= set(cautions())
    everyone = " ".join(row["authority"] for row in cautions().values())
    assert [who for who in ASKED if who not in everyone] == []


TOLD = {
    "startup": ("unripe filter", "ammonia and bleach", "test kits", "permit", "first fill",
                "mains near water", "discharge", "children"),
    "season": ("unripe filter", "ammonia and bleach", "test kits", "permit", "mains near water", "discharge"),
    "log": ("test kits", "hour of the test", "mains near water", "chemicals", "fish medicine", "first fill"),
    "day": ("work on air", "hour of the test", "test kits", "mains near water"),
    "spread": ("chance is no warranty", "backup is tested", "mains near water"),
}  # fmt: skip
"""What nobody who starts a filter, runs a season or feeds for a day may miss."""


LONG = ("choose",)
"""Commands that take a quarter of a minute: their own tests run them on a short list, and ask for their cautions."""


@pytest.mark.parametrize("command", [name for name in COMMANDS if name not in LONG])
@pytest.mark.parametrize("form", [[], ["--json"]], ids=["text", "json"])
def test_a_command_about_time_tells_its_cautions(capsys, command, form):
    file = "logs/school_autumn.csv" if command == "log" else "designs/family.toml"
    assert main([command, str(data_folder() / file), *form]) == 0
    text = capsys.readouterr().out
    told = {name for name, row in cautions().items() if row["fact"] in text}
    shown = {name for name, row in cautions().items() if command in row["shown"]}
    beside = {row.caution for row in finding_rows()} if command == "log" else set()
    assert shown <= told <= shown | beside
    assert told >= set(TOLD[command])


def test_every_page_carries_a_caution():
    for page in SERIES:
        assert cautions_on(page.name), page.name
    assert len(cautions_on(HAND_OUT)) == len(cautions())
