"""What is given over what is needed, in four kinds."""

import numpy as np

from ..core.arrays import least, ratio
from ..core.equation import equation
from ..core.kinds import Ratio


@equation(
    latex=r"m = \frac{@provided}{@required}",
    source="definition",
    valid="any",
    basis="derived",
)
def at_least(provided: Ratio, required: Ratio) -> Ratio:
    """Margin of a part that must be at least as big as needed.

    Floats or arrays that broadcast.

    >>> at_least(3.0, 2.0)
    1.5
    """
    return ratio(provided, required, np.inf)


@equation(
    latex=r"m = \frac{@limit}{@actual}",
    source="definition",
    valid="any",
    basis="derived",
)
def at_most(limit: Ratio, actual: Ratio) -> Ratio:
    """Margin of a level that must stay at or under a limit.

    Floats or arrays that broadcast.

    >>> at_most(3.0, 2.0)
    1.5
    """
    return ratio(limit, actual, np.inf)


@equation(
    latex=r"m = \min\left(\frac{@actual}{@low}, \frac{@high}{@actual}\right)",
    source="definition",
    valid="any",
    basis="derived",
)
def inside(actual: Ratio, low: Ratio, high: Ratio) -> Ratio:
    """Margin of a value that must lie in a band.

    Floats or arrays that broadcast.

    >>> inside(2.0, 1.0, 4.0)
    2.0
    """
    return least(ratio(actual, low, np.inf), ratio(high, actual, np.inf))
