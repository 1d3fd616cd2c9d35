"""Chance and spread: values of a distribution, and which unsure input a result hangs on."""

from ..core.arrays import exp, power, sqrt, where
from ..core.equation import definition, equation
from ..core.kinds import Fraction, Ratio


@definition(
    "x_u",
    "the straight line from the low end to the high end",
    example="uniform_quantile(0.25, 2.0, 6.0) == 3.0",
)
def uniform_quantile(chance: Fraction, low: Ratio, high: Ratio) -> Ratio:
    """Value below which a share of draws lies, where all values between two ends are as likely."""
    return low + chance * (high - low)


@equation(
    latex=r"x_t = \begin{cases} @low + \sqrt{@chance \cdot \left(@high - @low\right) \cdot "
    r"\left(@middle - @low\right)} & @chance < \frac{@middle - @low}{@high - @low} \\ "
    r"@high - \sqrt{\left(1 - @chance\right) \cdot \left(@high - @low\right) \cdot "
    r"\left(@high - @middle\right)} & \text{else} \end{cases}",
    source="area under a triangle",
    valid="low below high, middle between them",
    basis="derived",
)
def triangular_quantile(chance: Fraction, low: Ratio, middle: Ratio, high: Ratio) -> Ratio:
    """Value below which a share of draws lies, where the middle value is the likeliest.

    >>> triangular_quantile(0.5, 0.0, 1.0, 2.0)
    1.0
    """
    span = high - low
    rising = low + sqrt(chance * span * (middle - low))
    falling = high - sqrt((1.0 - chance) * span * (high - middle))
    return where(chance * span < middle - low, rising, falling)


@definition(
    "x_l",
    "a value whose logarithm is spread normally",
    valid="values above zero",
    example="lognormal_quantile(2.0, 0.5, 0.0) == 2.0",
)
def lognormal_quantile(middle: Ratio, log_spread: Ratio, normal: Ratio) -> Ratio:
    """Value at so many standard deviations from the middle, where its logarithm is spread normally."""
    return middle * exp(log_spread * normal)


@definition(
    "x_n",
    "definition of the standard deviation",
    example="normal_quantile(100.0, 15.0, 2.0) == 130.0",
)
def normal_quantile(middle: Ratio, spread: Ratio, normal: Ratio) -> Ratio:
    """Value at so many standard deviations from the middle of a normal spread."""
    return middle + spread * normal


@definition(
    "p_n",
    "product of chances",
    valid="checks that do not hang together; where they do, the chance is higher",
    example="round(chance_of_all(0.95, 10.0), 3) == 0.599",
)
def chance_of_all(chance: Fraction, count: Ratio) -> Fraction:
    """Chance that so many checks all stand, each with the same chance and apart from the others."""
    return power(chance, count)


@definition(
    "s",
    "variances of a sum add up",
    valid="causes that do not hang together",
    example="joint_spread(3.0, 4.0) == 5.0",
)
def joint_spread(first_spread: Ratio, second_spread: Ratio) -> Ratio:
    """Spread of a sum of two causes, from the spread that each brings alone."""
    return sqrt(power(first_spread, 2.0) + power(second_spread, 2.0))


@definition(
    "c_p",
    "Goodman 1960, On the exact variance of products",
    valid="factors that do not hang together",
    example="round(spread_of_product(0.3, 0.2, 0.1), 5) == 0.3807",
)
def spread_of_product(first_share: Ratio, second_share: Ratio, third_share: Ratio) -> Ratio:
    """Relative spread of a product of three factors, from the relative spread of each."""
    return sqrt(
        (1.0 + power(first_share, 2.0))
        * (1.0 + power(second_share, 2.0))
        * (1.0 + power(third_share, 2.0))
        - 1.0
    )


@definition(
    "S",
    "Saltelli et al. 2010, Variance based sensitivity analysis of model output",
    valid="a finite number as the result, inputs that do not hang together",
    example="share_when_known(0.25, 1.0) == 0.25",
)
def share_when_known(covariance: Ratio, variance: Ratio) -> Fraction:
    """Share of the variance that goes, on average, once one input is known.

    ``covariance``: of the results of runs in which that input alone is the same.
    """
    return covariance / variance


@definition(
    "S_T",
    "Jansen 1999, Analysis of variance designs for model output",
    valid="a finite number as the result, inputs that do not hang together",
    example="share_left(0.5, 1.0) == 0.25",
)
def share_left(mean_square: Ratio, variance: Ratio) -> Fraction:
    """Share of the variance that stays while one input is unknown and all others are known.

    ``mean_square``: of the differences between runs in which that input alone is not the same.
    """
    return mean_square / (2.0 * variance)
