"""What is given over what is needed, in four kinds."""

import numpy as np

from ..core.arrays import least, ratio
from ..core.equation import definition
from ..core.kinds import Ratio


@definition("m", example="at_least(3.0, 2.0) == 1.5")
def at_least(provided: Ratio, required: Ratio) -> Ratio:
    """Margin of a part that must be at least as big as needed."""
    return ratio(provided, required, np.inf)


@definition("m", example="at_most(3.0, 2.0) == 1.5")
def at_most(limit: Ratio, actual: Ratio) -> Ratio:
    """Margin of a level that must stay at or under a limit."""
    return ratio(limit, actual, np.inf)


@definition("m", example="inside(2.0, 1.0, 4.0) == 2.0")
def inside(actual: Ratio, low: Ratio, high: Ratio) -> Ratio:
    """Margin of a value that must lie in a band."""
    return least(ratio(actual, low, np.inf), ratio(high, actual, np.inf))
