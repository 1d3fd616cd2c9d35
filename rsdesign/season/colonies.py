"""How fast the bacteria of a filter take ammonia and nitrite on each day of a season."""

import numpy as np

from ..sizing.system import Sizing
from .bacteria import conditions, middle
from .filter_course import Colony


def colonies_of(sizing: Sizing, water: np.ndarray, ph: np.ndarray) -> tuple[Colony, Colony]:
    """The bacteria that take ammonia and those that take nitrite, by the middle of their numbers.

    ``water`` [°C] and ``ph``: days x designs.
    """
    found = conditions(middle(), water, sizing.filter.oxygen, ph)
    eaters, takers = (Colony(b.growth / b.yields, b.decay, b.yields, b.half) for b in found)
    return eaters, takers
