"""Every choice at the ends of its range, and every word: an answer or one sentence, never a crash."""

import json
import os

import numpy as np
import pytest
from designs import DEMOS, demo

from rsdesign import Design, size
from rsdesign.core.choices import DesignError
from rsdesign.design.model import FIELDS, with_values
from rsdesign.report.limits import limits_text
from rsdesign.report.text import as_json, size_text
from rsdesign.report.year_words import first_line
from rsdesign.sizing.working import working_text
from rsdesign.studies.heat.yearly import full_year
from rsdesign.studies.limits import limits

WHOLE = bool(os.environ.get("RSDESIGN_WHOLE"))
"""Every end on every demo; the suite tries each end on one, the demos in turn."""

ENDS = [
    (entry.path, value)
    for entry in FIELDS.values()
    if entry.section
    for value in (
        entry.choice.options()
        if entry.choice.options is not None
        else (entry.choice.low, entry.choice.high)
        if entry.choice.low is not None
        else (True, False)
        if isinstance(entry.choice.default, bool)
        else ("", "x" * 200)
    )
]


@pytest.mark.parametrize(
    ("path", "value", "names"),
    [(*end, DEMOS if WHOLE else (DEMOS[at % len(DEMOS)],)) for at, end in enumerate(ENDS)],
    ids=lambda x: str(x)[:30],
)
def test_an_answer_or_a_sentence(path, value, names):
    for name in names:
        changes = {path: value}
        if path == "goal.harvest":
            changes["goal.fish"] = None
        if path == "goal.fish":
            changes["goal.harvest"] = None
        try:
            sizing = size(with_values(demo(name), changes))
        except DesignError as wrong:
            refused = str(wrong)
            if "\n" not in refused:
                continue
            pytest.fail(refused)
        text = size_text(sizing, "us", every=True)
        assert "nan" not in text.split()
        json.loads(as_json(sizing, "metric"))


@pytest.mark.parametrize("fish", [1.0, 3.0, 1e8])
def test_one_fish_and_a_hundred_million(fish):
    sizing = size(with_values(Design(), {"goal.fish": fish}))
    assert size_text(sizing, "us")
    found = limits(with_values(Design(), {"goal.fish": fish, "tank.width": 3.0}))
    assert limits_text(found, "metric")


def test_refusals_are_said_in_words():
    design = with_values(
        demo("family"), {"filter.media_volume": 0.3, "pump.flow": 0.0002, "air.flow": 0.001}
    )
    sizing = size(design)
    words = " ".join(check.words for check in sizing.checks)
    assert "No area can do this" in words
    assert not np.isfinite(sizing.filter.required)
    assert "∞" in working_text(sizing, "filter.required", "us")
    assert sizing.checks[0].severity <= sizing.checks[-1].severity


@pytest.mark.parametrize("name", DEMOS)
def test_an_airlift_that_cannot_lift_so_high_is_one_and_short(name):
    found = demo(name)
    s = size(with_values(found, {"pump.kind": "airlift"}))
    assert s.pump.count == 1
    assert s.air.wire_power < 1e5  # one airlift's air, not that of any number of them
    assert next(p for p in s.parts if p.name == "pump").word == "short"


def test_a_heat_balance_without_an_answer_is_said_in_words():
    found = demo("family")
    s = size(with_values(found, {"pump.flow": 6.309019639999999}))
    assert "does not settle in this weather" in first_line(s)
    assert full_year(s).budget.costs > 0
