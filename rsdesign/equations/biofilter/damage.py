"""What the loss of a part of a filter does to the level at rest."""

from ...core.arrays import ratio
from ...core.equation import definition
from ...core.kinds import Concentration, Fraction, RatePerTime, Ratio


@definition(
    "S",
    "a rate in proportion to the level, conservation of nitrogen",
    valid="a thin film at a low level",
    basis="derived",
    example="level_with_share(0.5, 1.0, 0.25) == 2.0",
)
def level_with_share(
    volume_load: Concentration, rate_constant: RatePerTime, share: Fraction
) -> Concentration:
    """Level at rest with a share of the filter left, at a rate in proportion to the level."""
    return ratio(volume_load, share * rate_constant, float("inf"))


@definition(
    "S",
    "inverse of the half-order form, conservation of nitrogen",
    valid="0.6 to 2 mg/L",
    basis="derived",
    example="round(half_order_level(0.2, 0.5, 0.55, 0.1), 3) == 0.826",
)
def half_order_level(areal_rate: Ratio, share: Fraction, slope: Ratio, offset: Ratio) -> Ratio:
    """Level in mg/L at which a share of the media takes the rate [g/(m² day)] that all took.

    ``slope`` and ``offset`` of the half-order form at the temperature of the water.
    """
    root = (areal_rate / share + offset) / slope
    return root * root
