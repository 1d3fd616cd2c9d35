"""Quick searches give what slow and plain ones give: largest day, friction, flow by gravity."""

import math

import numpy as np
import pytest

from rsdesign.core.arrays import root
from rsdesign.equations.fish import peaks
from rsdesign.equations.pipes import pipes


@pytest.mark.parametrize("survival", [0.1, 0.3, 0.6, 0.95, 1.0])
@pytest.mark.parametrize("stocking_weight", [0.0005, 0.05, 0.3])
def test_the_largest_day_of_one_batch_is_that_of_a_search_by_the_hour(survival, stocking_weight):
    """Where many fish die the largest day comes before the harvest."""
    args = (1000.0, stocking_weight, 28.0, 2.4, 18.3, 200.0, survival, 1.6)
    hours = np.linspace(0.0, 200.0, 4801)
    searched = max(
        peaks.cohort_feed(h, *args[:4], args[4], 200.0, survival, 1.6) for h in map(float, hours)
    )
    assert peaks.peak_cohort_feed(*args) == pytest.approx(searched, rel=1e-5)
    assert peaks.peak_cohort_feed(*args) >= searched * (1 - 1e-12)


def test_batches_that_overlap_and_batches_alone_in_one_call():
    cycle = np.array([150.0, 200.0, 260.0])
    many = peaks.peak_total_feed(1000.0, 0.05, 28.0, 2.4, 18.3, cycle, 0.4, 1.6, 210.0)
    one = [peaks.peak_total_feed(1000.0, 0.05, 28.0, 2.4, 18.3, c, 0.4, 1.6, 210.0) for c in cycle]
    assert many == pytest.approx(one, rel=1e-12)


@pytest.mark.parametrize("roughness", [0.0, 1e-5, 1e-3, 0.05])
@pytest.mark.parametrize("reynolds", [4e3, 3e4, 1e6, 1e8])
def test_the_friction_factor_satisfies_colebrook_to_the_last_bits(reynolds, roughness):
    x = 1.0 / math.sqrt(pipes.friction_factor(reynolds, roughness))
    assert x == pytest.approx(-2.0 * math.log10(roughness / 3.7 + 2.51 * x / reynolds), rel=1e-13)


@pytest.mark.parametrize("diameter", [0.02, 0.05, 0.2])
@pytest.mark.parametrize("head", [0.001, 0.05, 1.0])
def test_the_flow_by_gravity_uses_up_the_fall(head, diameter):
    """Friction and fittings at that flow, and the head of its speed, are the fall."""
    pipe = (diameter, 8.0, 1e-4)
    flow = pipes.gravity_flow(head, *pipe, 2.0, 25.0)
    speed = pipes.velocity(flow, diameter)
    used = pipes.head_loss(flow, *pipe, 2.0, 25.0) + speed**2 / (2.0 * 9.80665)
    assert used == pytest.approx(head, rel=1e-12)


def test_a_root_search_arrives_and_stops():
    calls = []

    def surplus(x):
        calls.append(x)
        return math.exp(x) - 3.0

    assert root(surplus, -20.0, 2.3, 60) == pytest.approx(math.log(3.0), abs=1e-14)
    assert len(calls) < 25
