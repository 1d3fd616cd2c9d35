"""Statistics of a class against SciPy and against printed worked examples."""

import numpy as np
import pytest
from scipy import stats

from rsdesign.teaching import statistics
from rsdesign.teaching.marking import Mark, Marks

# Wuensch, "The Kuder-Richardson 20", East Carolina University, core.ecu.edu/wuenschk/StatHelp/KR20.txt:
# ten students, ten items; it prints p, q, p × q of each item and the variance of the totals, 5.84.
WUENSCH = np.array([[int(x) for x in row] for row in (
    "1111110110", "1011011101", "1111011001", "0010001000", "0000010010",
    "1110111111", "1101110111", "1111111101", "0101111101", "1101101110",
)])  # fmt: skip
PQ = (0.21, 0.21, 0.24, 0.21, 0.24, 0.16, 0.21, 0.21, 0.25, 0.24)


def marks_of(shares, before=None, after=None) -> tuple[Marks, ...]:
    found = []
    for n, row in enumerate(shares):
        rows = [
            Mark(f"L{n}", f"x{i}", 3.0 * x, 3.0, 1, 2.0, x == 1, () if x == 1 else ("slip",), "")
            for i, x in enumerate(row)
        ]
        for turn, values in (("before", before), ("after", after)):
            if values is not None:
                rows += [
                    Mark(f"L{n}", f"q{i}/{turn}", 0, 0, 1, 1.0, bool(v), (), "", "", turn)
                    for i, v in enumerate(values[n])
                ]
        found.append(Marks(f"L{n}", "a set", tuple(rows)))
    return tuple(found)


def test_kuder_richardson_by_the_printed_example():
    """The printed p × q and variance; the totals 8 7 7 2 2 9 8 9 7 7 have the mean 6.6."""
    rows = [list(map(int, row)) for row in WUENSCH]
    totals = [sum(row) for row in rows]
    printed = [8, 7, 7, 2, 2, 9, 8, 9, 7, 7]
    assert np.var(printed) == pytest.approx(5.84)
    expected = 10 / 9 * (1 - sum(PQ) / 5.84)
    assert expected == pytest.approx(0.696, abs=0.0005)
    assert totals == printed
    assert statistics.alpha(WUENSCH.astype(float)) == pytest.approx(expected, abs=1e-9)


@pytest.mark.parametrize("seed", range(5))
def test_discrimination_is_scipys_point_biserial(seed):
    draw = np.random.default_rng(seed)
    able = draw.normal(size=(30, 1))
    right = (able + draw.normal(size=(30, 8)) > 0).astype(float)
    for place in range(8):
        rest = right.sum(axis=1) - right[:, place]
        expected = stats.pointbiserialr(right[:, place], rest)[0]
        assert statistics.discrimination(right, place) == pytest.approx(expected, abs=1e-12)


@pytest.mark.parametrize("freedom", [1, 2, 3, 4, 5, 9, 14, 29, 40, 99])
@pytest.mark.parametrize("share", [0.6, 0.9, 0.975, 0.995])
def test_students_t_is_scipys(share, freedom):
    assert statistics.t_quantile(share, freedom) == pytest.approx(
        stats.t.ppf(share, freedom), rel=1e-8
    )


def test_the_interval_of_a_mean_is_scipys():
    values = np.array([0.0, 1 / 3, 2 / 3, 1 / 3, -1 / 3, 1.0, 2 / 3])
    expected = stats.t.interval(0.95, len(values) - 1, loc=values.mean(), scale=stats.sem(values))
    assert statistics.mean_interval(values) == pytest.approx(expected, rel=1e-9)


def test_the_normalised_gain_by_a_printed_example():
    """BMC Medical Education 2021, 21:210, Table 1 (PMC8045292): mean gain 11.1 of 20 points, 225.8 %
    of the score before, class average normalised gain printed as 0.73 (cut off: it is 0.736)."""
    before = np.full(6, 11.1 / 2.258 / 20)
    part, low, high = statistics.normalised(before, before + 11.1 / 20)
    assert part == pytest.approx(0.736, abs=0.0005)
    assert low == pytest.approx(part)
    assert high == pytest.approx(part)


def test_the_interval_of_the_gain_is_scipys_bootstrap():
    draw = np.random.default_rng(1)
    before = draw.integers(0, 3, 24) / 3
    after = np.minimum(before + draw.integers(0, 3, 24) / 3, 1.0)

    def part(b, a, axis=-1):
        return (a.mean(axis=axis) - b.mean(axis=axis)) / (1 - b.mean(axis=axis))

    expected = stats.bootstrap((before, after), part, paired=True, vectorized=True,
                               method="percentile", n_resamples=20_000, random_state=3)  # fmt: skip
    found = statistics.normalised(before, after)
    assert found[0] == pytest.approx(part(before, after))
    # two draws of 4,000 and 20,000: the ends of an interval differ by sampling, about 0.01
    assert found[1] == pytest.approx(expected.confidence_interval.low, abs=0.02)
    assert found[2] == pytest.approx(expected.confidence_interval.high, abs=0.02)


def test_the_interval_covers_as_often_as_it_says():
    """Of 400 classes of twelve with a known mean change, about 95 % of the intervals hold it."""
    draw = np.random.default_rng(7)
    held = 0
    for _ in range(400):
        low, high = statistics.mean_interval(draw.normal(0.3, 0.25, 12))
        held += low <= 0.3 <= high
    assert 0.92 <= held / 400 <= 0.98


def test_items_of_a_class():
    shares = [[1, 1, 0.5]] * 9 + [[0, 1, 0.5]] * 9
    found = statistics.items(marks_of(shares))
    first, second, third = found
    assert (first.tried, first.right, first.facility) == (18, 9, 0.5)
    assert first.slips == (("slip", 9),)
    assert second.facility == 1.0
    assert first.discrimination is None, "the rest stands still"
    assert third.discrimination is None
    assert statistics.reliability(marks_of(shares)) == pytest.approx(0.0, abs=1e-9)


def test_what_was_not_tried_is_not_in_the_facility():
    found = marks_of([[1, 1]] * 16)
    row = found[0].rows[0]
    untried = Mark(row.code, row.exercise, 0.0, 3.0, 0, 0.0, False, (), "")
    found = (Marks("L0", "a set", (untried, found[0].rows[1])), *found[1:])
    item = statistics.items(found)[0]
    assert (item.tried, item.facility) == (15, 1.0)


def test_a_small_class_is_told_little_and_why():
    few = marks_of([[1, 0], [0, 1], [1, 1]])
    assert statistics.items(few)[0].discrimination is None
    assert "from 15 learners on; here are 3" in statistics.reliability_words(few)
    assert statistics.gain(few) is None
    assert "Too few learners" in statistics.gain_words(None)


def test_the_gain_in_words():
    before = [[0, 0, 0]] * 4 + [[1, 0, 0]] * 4
    after = [[1, 1, 0]] * 6 + [[1, 0, 0]] * 2
    found = statistics.gain(marks_of([[1]] * 8, before, after))
    assert found.learners == 8
    assert found.before == pytest.approx(1 / 6)
    assert found.after == pytest.approx(7 / 12)
    assert found.normalised == pytest.approx((7 / 12 - 1 / 6) / (5 / 6))
    assert found.change_low < found.change < found.change_high
    words = statistics.gain_words(found)
    assert "17 % right before, 58 % after" in words
    assert "not why" in words
