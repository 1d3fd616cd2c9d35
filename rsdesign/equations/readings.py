"""What a reading of a test says: colours of a chart, a leak by its salt, degrees of hardness."""

from ..core.arrays import exp, log, normal_share, sqrt, where
from ..core.equation import definition, equation
from ..core.kinds import Concentration, Flow, Fraction, Ratio, Volume, Wait


@definition(
    "d",
    "German degrees: 10 mg/L of calcium oxide each, molar masses",
    example="round(hardness_degrees(0.01785), 3) == 1.0",
)
def hardness_degrees(alkalinity: Concentration) -> Ratio:
    """Degrees of carbonate hardness of an alkalinity as calcium carbonate."""
    return alkalinity * 100.0 * 56.077 / 100.087  # units of the source


@equation(
    latex=r"P = \Phi\left(\frac{@high - @level}{@scatter}\right) - "
    r"\Phi\left(\frac{@low - @level}{@scatter}\right)",
    source="a reading between two ends with a normal error: the share of the error that lies there",
    valid="any level; an end may be infinite",
    basis="derived",
)
def reading_likelihood(
    level: Concentration, low: Concentration, high: Concentration, scatter: Concentration
) -> Fraction:
    """Likelihood of a reading that stands for all between two ends, at a true level.

    Phi is the share of a normal error below a number.  A lower end of nought takes all below it,
    as a kit has no colour for less.

    >>> round(reading_likelihood(0.001, 0.0005, 0.0015, 0.0005), 4)
    0.6827
    """
    below = where(low > 0.0, normal_share((low - level) / scatter), 0.0)
    return normal_share((high - level) / scatter) - below


@definition(
    r"\sigma_r",
    "variance of an even spread over an interval, a twelfth of its square, and that of the reader",
    basis="derived",
    example="round(reading_error(0.25, 0.1), 4) == 0.1233",
)
def reading_error(colour_width: Concentration, scatter: Concentration) -> Concentration:
    """Error of a reading off a chart: how wide its colour is, and how two readers differ."""
    return sqrt(colour_width * colour_width / 12.0 + scatter * scatter)


@definition(
    "Q",
    "conservation of salt at a constant volume: what evaporates leaves it, what leaks takes it",
    valid="fresh water tops up, no salt added between the two tests",
    basis="derived",
    example="round(salt_leak(10.0, 14.0, 0.3, 0.2608), 4) == 0.1",
)
def salt_leak(
    volume: Volume, elapsed: Wait, chloride_start: Concentration, chloride_end: Concentration
) -> Flow:
    """Water that leaves a system with its salt, from two tests of chloride."""
    return volume / elapsed * log(chloride_start / chloride_end)


@definition(
    "C",
    "conservation of salt at a constant volume",
    valid="fresh water tops up, no salt added",
    basis="derived",
    example="round(chloride_after(0.3, 10.0, 0.1, 14.0), 4) == 0.2608",
)
def chloride_after(
    chloride_start: Concentration, volume: Volume, leak: Flow, elapsed: Wait
) -> Concentration:
    """Chloride that is left once water has leaked and fresh water has taken its place."""
    return chloride_start * exp(-leak * elapsed / volume)
