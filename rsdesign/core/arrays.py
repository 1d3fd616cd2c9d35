"""The few array operations that formulas share, quick on a single float.

A formula is written once for floats and for NumPy arrays.  NumPy's own functions cost about a
microsecond a call on a float, which adds up over a whole sizing; these take the short way when
every operand is a plain float and NumPy's way otherwise.  Results are the same to the last bit or
two.  Nothing here knows what the numbers mean.
"""

import math

import numpy as np


def exp(x):
    """e to the power x."""
    if type(x) is float and x < 709.0:
        return math.exp(x)
    return np.exp(x)


def expm1(x):
    """e to the power x, less one; keeps its digits near zero."""
    if type(x) is float and x < 709.0:
        return math.expm1(x)
    return np.expm1(x)


def log(x):
    """Natural logarithm; nan or -inf where NumPy gives them."""
    return math.log(x) if type(x) is float and x > 0.0 else np.log(x)


def log10(x):
    """Logarithm to base ten; nan or -inf where NumPy gives them."""
    return math.log10(x) if type(x) is float and x > 0.0 else np.log10(x)


_erf = np.vectorize(math.erf, otypes=[float])


def normal_share(x):
    """Share of a normal error, of mean nought and deviation one, that lies below a number."""
    if type(x) is float:
        return 0.5 * (1.0 + math.erf(x / math.sqrt(2.0)))
    return 0.5 * (1.0 + _erf(np.asarray(x, float) / math.sqrt(2.0)))


def sqrt(x):
    """Square root; nan below zero where NumPy gives it."""
    return math.sqrt(x) if type(x) is float and x >= 0.0 else np.sqrt(x)


def power(x, exponent):
    """x to a power; nan, never a complex number, where x is below zero."""
    if type(x) is float and type(exponent) is float and x > 0.0:
        return x**exponent
    return np.power(x, exponent, dtype=float)


def least(a, b, *more):
    """Element by element, the smallest of the values."""
    if type(a) is float and type(b) is float:
        result = b if b < a or b != b else a  # noqa: PLR0124 (nan stays nan)
    else:
        result = np.minimum(a, b)
    return least(result, *more) if more else result


def most(a, b, *more):
    """Element by element, the largest of the values."""
    if type(a) is float and type(b) is float:
        result = b if b > a or b != b else a  # noqa: PLR0124 (nan stays nan)
    else:
        result = np.maximum(a, b)
    return most(result, *more) if more else result


def worst(x) -> float:
    """The smallest of the values of every design."""
    return x if type(x) is float else float(np.min(x))


def clip(x, low, high):
    """x held between low and high."""
    if type(x) is float and type(low) is float and type(high) is float:
        return low if x < low else high if x > high else x
    return np.minimum(np.maximum(x, low), high)


def where(condition, yes, no):
    """``yes`` where the condition holds, else ``no``; both are evaluated by the caller."""
    if type(condition) is bool or type(condition) is np.bool_:
        return yes if condition else no
    return np.where(condition, yes, no)


def ratio(top, bottom, otherwise=0.0):
    """top / bottom, and ``otherwise`` where the bottom is zero."""
    if type(top) is float and type(bottom) is float:
        return top / bottom if bottom != 0.0 else otherwise
    bottom = np.asarray(bottom, float)
    if bottom.all():  # the common case, without the copies below
        return np.asarray(top, float) / bottom
    top, bottom = np.broadcast_arrays(np.asarray(top, float), bottom)
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
        go_up = (function(middle) < 0) == rising
        if type(go_up) is bool or type(go_up) is np.bool_:
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
    if type(load) is float and type(strength) is float:
        if load <= 0:
            return 0.0
        return load / strength if strength > 0 else math.inf
    load, strength = np.broadcast_arrays(np.asarray(load, float), np.asarray(strength, float))
    found = np.where(strength > 0, load / np.where(strength > 0, strength, 1.0), np.inf)
    return np.where(load > 0, found, 0.0)


def index_of_largest(*values):
    """Element by element, which of the values is largest; the first of equals."""
    if all(type(value) is float for value in values):
        return float(values.index(max(values)))
    return np.argmax(np.stack(np.broadcast_arrays(*values)), axis=0).astype(float)


CLOSE = 1e-15
"""Relative width of a bracket that is as narrow as it need be."""


def root(function, low, high, steps=24):
    """Root of a function that changes sign between low and high, element by element.

    Chandrupatla 1997: halving, with inverse quadratic steps where they are safe; a fixed count
    of steps, so that N designs in one call equal N single calls.  Needs about a third of the
    steps that halving alone needs.  Where the sign does not change, ends at one of the ends.
    """
    x1, x2 = high * 1.0, low * 1.0
    f1, f2 = function(x1), function(x2)
    search = _root_of_one if type(f1) is float and type(f2) is float else _root_of_many
    with np.errstate(all="ignore"):
        return search(function, x1, x2, f1, f2, steps)


def _root_of_one(function, x1, x2, f1, f2, steps):
    t = 0.5
    for _ in range(steps):
        x = x1 + t * (x2 - x1)
        fx = function(x)
        if (fx > 0) == (f1 > 0):
            x3, f3 = x1, f1
        else:
            x3, f3 = x2, f2
            x2, f2 = x1, f1
        x1, f1 = x, fx
        t = 0.5
        if f1 == 0 or abs(x2 - x1) <= CLOSE * abs(x1):
            break
        if f3 not in (f1, f2) and x3 != x2 and f1 != f2:
            xi, phi = (x1 - x2) / (x3 - x2), (f1 - f2) / (f3 - f2)
            if 0 <= xi <= 1 and 1 - math.sqrt(1 - xi) < phi < math.sqrt(xi):
                t = f1 / (f1 - f2) * f3 / (f3 - f2)
                t += (x3 - x1) / (x2 - x1) * f1 / (f3 - f1) * f2 / (f3 - f2)
        t = _not_too_near(t, CLOSE * abs(x1) / abs(x2 - x1))
    return x1 if abs(f1) <= abs(f2) else x2


def _not_too_near(t, near):
    """A step inside the bracket, no nearer to its ends than ``near``.

    A step over the root, however small, brings the other end of the bracket close; without it one
    end would stay far away, and the search would not know that it has arrived.
    """
    near = min(near, 0.5)
    return min(max(t, near), 1.0 - near)


def _root_of_many(function, x1, x2, f1, f2, steps):
    x1, x2, f1, f2 = (np.array(v, float) for v in np.broadcast_arrays(x1, x2, f1, f2))
    t: float | np.ndarray = 0.5
    done = np.zeros(x1.shape, bool)
    for _ in range(steps):
        x = np.where(done, x1, x1 + t * (x2 - x1))
        fx = function(x)
        same = (fx > 0) == (f1 > 0)
        x3, f3 = np.where(same, x1, x2), np.where(same, f1, f2)
        x2, f2 = np.where(done | same, x2, x1), np.where(done | same, f2, f1)
        x1, f1 = x, np.where(done, f1, fx)
        done = done | (f1 == 0) | (np.abs(x2 - x1) <= CLOSE * np.abs(x1))
        if done.all():
            break
        xi, phi = (x1 - x2) / (x3 - x2), (f1 - f2) / (f3 - f2)
        safe = (1 - np.sqrt(1 - xi) < phi) & (phi < np.sqrt(xi)) & (f3 != f1)
        quick = f1 / (f1 - f2) * f3 / (f3 - f2)
        quick = quick + (x3 - x1) / (x2 - x1) * f1 / (f3 - f1) * f2 / (f3 - f2)
        near = np.minimum(CLOSE * np.abs(x1) / np.abs(x2 - x1), 0.5)
        t = np.where(safe & np.isfinite(quick), quick, 0.5)
        t = np.minimum(np.maximum(t, near), 1.0 - near)
    return np.where(np.abs(f1) <= np.abs(f2), x1, x2)
