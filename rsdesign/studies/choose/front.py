"""The designs that no other one beats in two goals: the front of Pareto."""

import numpy as np


def front(cost, goal, most: bool = False) -> np.ndarray:
    """The places of the pairs that no other pair beats: none costs as little and reaches as much.

    Sorted by the first goal, a running minimum of the second tells which pairs are new; of pairs
    alike the first stays.

    Parameters:
        cost: the first goal, the less the better; finite numbers.
        goal: the second goal, as many numbers.
        most: whether more of the second is better; otherwise less is.
    Returns: places, the least cost first.

    >>> front([1, 2, 3, 3], [5, 7, 4, 3]).tolist()
    [0, 3]
    """
    first, second = np.asarray(cost, float), np.asarray(goal, float)
    second = -second if most else second
    order = np.lexsort((second, first))
    least = np.minimum.accumulate(second[order])
    fresh = np.ones(len(order), bool)
    fresh[1:] = second[order][1:] < least[:-1]
    return order[fresh]
