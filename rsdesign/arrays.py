"""The few array operations that formulas share, quick on a single float.

A formula is written once for floats and for NumPy arrays.  NumPy's own functions cost about a
microsecond a call on a float, which adds up over a whole sizing; these take the short way when
every operand is a plain float and NumPy's way otherwise.  Results are the same to the last bit or
two.  Nothing here knows what the numbers mean.
"""

import math

import numpy as np


def _plain(*values) -> bool:
    """Whether every value is a float or an int, so that ``math`` will do."""
    return all(type(v) is float or type(v) is int for v in values)


def exp(x):
    """e to the power x."""
    if type(x) is float and x < 709.0:
        return math.exp(x)
    return np.exp(x)


def log(x):
    """Natural logarithm; nan or -inf where NumPy gives them."""
    return math.log(x) if type(x) is float and x > 0.0 else np.log(x)


def log10(x):
    """Logarithm to base ten; nan or -inf where NumPy gives them."""
    return math.log10(x) if type(x) is float and x > 0.0 else np.log10(x)


def sqrt(x):
    """Square root; nan below zero where NumPy gives it."""
    return math.sqrt(x) if type(x) is float and x >= 0.0 else np.sqrt(x)


def power(x, exponent):
    """x to a power; nan, never a complex number, where x is below zero."""
    if _plain(x, exponent) and x > 0.0:
        return x**exponent
    return np.power(x, exponent, dtype=float)


def least(*values):
    """Element by element, the smallest of the values."""
    if _plain(*values):
        return min(values)
    result = values[0]
    for value in values[1:]:
        result = np.minimum(result, value)
    return result


def most(*values):
    """Element by element, the largest of the values."""
    if _plain(*values):
        return max(values)
    result = values[0]
    for value in values[1:]:
        result = np.maximum(result, value)
    return result


def clip(x, low, high):
    """x held between low and high."""
    return least(most(x, low), high)


def where(condition, yes, no):
    """``yes`` where the condition holds, else ``no``; both are evaluated by the caller."""
    if type(condition) is bool:
        return yes if condition else no
    return np.where(condition, yes, no)


def ratio(top, bottom, otherwise=0.0):
    """top / bottom, and ``otherwise`` where the bottom is zero."""
    if _plain(top, bottom):
        return top / bottom if bottom != 0 else otherwise
    top, bottom = np.broadcast_arrays(np.asarray(top, float), np.asarray(bottom, float))
    safe = np.where(bottom == 0, 1.0, bottom)
    return np.where(bottom == 0, otherwise, top / safe)


def bisect(function, low, high, steps=60):
    """Root of a function that changes sign between low and high, element by element.

    A fixed count of halvings, so that N designs in one call equal N single calls: 60 halvings
    leave 1e-18 of the bracket.  Where the sign does not change, the end nearer the root is
    approached.  The function may rise or fall.
    """
    low = low * 1.0
    high = high * 1.0
    rising = function(high) >= function(low)
    for _ in range(steps):
        middle = 0.5 * (low + high)
        value = function(middle)
        go_up = (value < 0) == rising
        if type(go_up) is bool:
            low, high = (middle, high) if go_up else (low, middle)
        else:
            low, high = np.where(go_up, middle, low), np.where(go_up, high, middle)
    return 0.5 * (low + high)


def floor(x):
    """The whole number at or below x."""
    return float(math.floor(x)) if type(x) is float and math.isfinite(x) else np.floor(x)


def ceil(x):
    """The whole number at or above x."""
    return float(math.ceil(x)) if type(x) is float and math.isfinite(x) else np.ceil(x)


def isfinite(x):
    """Whether x is a finite number."""
    return math.isfinite(x) if type(x) is float else np.isfinite(x)


def finite(x):
    """x where it is finite, else 0."""
    return where(isfinite(x), x, 0.0)


def for_load(load, strength):
    """load / strength: 0 where there is no load, infinite where nothing takes the load away."""
    if _plain(load, strength):
        if load <= 0:
            return 0.0
        return load / strength if strength > 0 else math.inf
    load, strength = np.broadcast_arrays(np.asarray(load, float), np.asarray(strength, float))
    found = np.where(strength > 0, load / np.where(strength > 0, strength, 1.0), np.inf)
    return np.where(load > 0, found, 0.0)


def index_of_largest(*values):
    """Element by element, which of the values is largest; the first of equals."""
    if _plain(*values):
        return float(values.index(max(values)))
    return np.argmax(np.stack(np.broadcast_arrays(*values)), axis=0).astype(float)
