"""Mending: what is proposed really mends, says what it breaks, and never touches what keeps fish safe."""

import os
import random

import numpy as np
import pytest
from designs import DEMOS, demo, random_design
from reading import grade

from rsdesign.core.choices import DesignError
from rsdesign.design.model import FIELDS, problems, value_of, with_values
from rsdesign.sizing.system import size
from rsdesign.studies.cure_search import cure_rows, rows_for
from rsdesign.studies.cures import is_green, label_of, mend

NEVER = ("site.", "source.", "wastes.", "climate.", "prices.", "terms.", "makeup.")
"""Sections of measured facts and of what the place is."""
KEPT = {"keep.alkalinity", "keep.oxygen"}
"""The only levels that may be proposed: base that is dosed, within limits, and more oxygen held."""
SAFETY = {"safety.backup", "safety.two_circuits"}


def red(design):
    return [c for c in size(design).checks if not is_green(c)]


def same(check, sizing):
    return next(c for c in sizing.checks if (c.part, label_of(c)) == (check.part, label_of(check)))


def test_no_row_touches_a_limit_an_alarm_or_a_measured_fact():
    for row in cure_rows():
        path = row.choice
        if not path:
            continue
        assert path in FIELDS, row
        assert not path.startswith(NEVER), row
        assert not path.startswith("keep.") or path in KEPT, row
        assert not path.startswith("safety.") or path in SAFETY, row
        assert row.direction in ("up", "down", "either", "to"), row
        assert path not in ("tank.density", "filter.derate", "air.alpha", "keep.nitrate"), row
        if path == "keep.oxygen":
            assert row.direction == "up", row


def test_what_a_licensed_trade_does_is_said_so():
    for row in cure_rows():
        if row.choice in (*SAFETY, "pump.low_level_stop"):
            assert "licensed electrician" in row.words, row


WHOLE = bool(os.environ.get("RSDESIGN_WHOLE"))
"""Sixty random designs; the suite mends the checks of twenty."""


@pytest.mark.parametrize("seed", range(60 if WHOLE else 20))
def test_a_cure_mends_its_check_and_says_what_it_turns_bad(seed):
    design = random_design(seed)
    before = size(design)
    bad = [c for c in before.checks if not is_green(c)]
    was = {(c.part, label_of(c)): bool(np.all(c.ok)) for c in before.checks}
    for check in random.Random(seed).sample(bad, 2):
        for cure in mend(before, check).cures[:2]:
            assert not problems(cure.design)
            after = size(cure.design)
            now = same(check, after)
            assert np.all(now.ok), (seed, cure.sentence())
            assert is_green(now) == cure.green, (seed, cure.sentence())
            failed = {(c.part, label_of(c)) for c in after.checks if not np.all(c.ok)}
            broken = {key for key in failed if was.get(key, True)}
            assert broken == {(c.part, c.label) for c in cure.reddened}
            if broken:
                assert "But this fails then" in cure.sentence()
            others = [p for p in FIELDS if p not in (cure.row.choice, "tank.length", "tank.width")]
            assert all(value_of(cure.design, p) == value_of(design, p) for p in others)


@pytest.mark.parametrize(
    "change", [{"filter.media_volume": 0.25}, {"tank.width": 2.0}, {"air.flow": 0.006}]
)
def test_it_is_the_smallest_change_but_for_rounding(change):
    design = with_values(demo("family"), change)
    ((path, told),) = change.items()
    part = {"filter": "filter", "tank": "tank", "air": "air"}[path.partition(".")[0]]
    label = {"filter": "Filter", "tank": "Tank room", "air": "Air"}[part]
    base = size(design)
    check = next(c for c in base.checks if (c.part, label_of(c)) == (part, label))
    assert not check.ok
    cure = next(c for c in mend(base, check).cures if c.row.choice == path)
    assert cure.after > told
    less = told + 0.85 * (cure.after - told)
    assert not is_green(same(check, size(with_values(design, {path: less}))))


def test_every_check_that_fails_has_a_row():
    missing = set()
    for design in [*map(demo, DEMOS), *map(random_design, range(40))]:
        missing |= {(c.part, label_of(c)) for c in red(design) if not rows_for(c)}
    assert not missing


def test_what_nothing_mends_says_what_comes_nearest():
    design = with_values(demo("family"), {"air.flow": 1e-5, "goal.fish": 5000.0})
    base = size(design)
    check = next(c for c in base.checks if c.part == "water" and "New water:" in c.words)
    found = mend(base, check)
    assert found.cures or "Nearest" in found.sentence()
    chlorine = next(c for c in base.checks if "chlorine" in c.words)
    assert mend(base, chlorine).cures == ()
    assert mend(base, chlorine).sentence().startswith("Treat every fill")


def test_what_is_green_needs_no_mending():
    base = size(demo("family"))
    with pytest.raises(DesignError, match="needs no mending"):
        mend(base, next(c for c in base.checks if is_green(c)))


def test_fewer_fish_are_proposed_last():
    base = size(demo("family"))
    check = next(c for c in base.checks if "Minutes to act" in c.words)
    found = [c.row.choice for c in mend(base, check).cures]
    assert found[-1] == "goal.fish"
    assert found[0] != "goal.fish"


def test_words_are_easy_to_read():
    assert grade(" ".join(row.words for row in cure_rows())) <= 8
    base = size(demo("family"))
    text = " ".join(mend(base, c).sentence() for c in red(demo("family")))
    assert grade(text) <= 8


def test_checks_of_many_designs_are_judged_where_the_site_is_one():
    """A row of designs of one place: its air at height is one number, its pH many."""
    many = size(with_values(demo("family"), {"goal.fish": np.array([100.0, 300.0])}))
    assert {c.part for c in many.checks} >= {"air", "filter"}
