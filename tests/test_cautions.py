"""Every caution says where it comes from, where it is shown and whom to ask."""

import pytest

from rsdesign.core.cautions import HAND_OUT, cautions, cautions_on
from rsdesign.core.tables import BASES
from rsdesign.pages.series import SERIES

KEYS = {"hazard", "fact", "source", "place", "basis", "shown", "authority"}
ASKED = (
    "electrician", "utility", "structural engineer", "fish and wildlife", "water agency",
    "health department", "veterinarian", "water supplier", "poison control", "physician",
)  # fmt: skip
"""Those to whom the workbook defers."""
MUST = (
    "mains near water", "extension cords", "lock-out", "generator", "children", "sludge gas",
    "chemicals", "lifting", "floor load", "fish-safe materials", "food", "permit", "discharge",
)  # fmt: skip


@pytest.mark.parametrize("name", sorted(cautions()))
def test_a_caution_is_whole(name):
    row = cautions()[name]
    assert set(row) == KEYS
    assert row["basis"] in BASES
    places = {page.name for page in SERIES} | {HAND_OUT}
    assert row["shown"]
    assert set(row["shown"]) <= places
    assert HAND_OUT in row["shown"]
    assert all(row[key].strip() for key in KEYS - {"shown"})
    assert len(row["fact"]) < 200


def test_nothing_usual_is_missing():
    assert set(MUST) <= set(cautions())
    everyone = " ".join(row["authority"] for row in cautions().values())
    assert [who for who in ASKED if who not in everyone] == []


def test_every_page_carries_a_caution():
    for page in SERIES:
        assert cautions_on(page.name), page.name
    assert len(cautions_on(HAND_OUT)) == len(cautions())
