"""What money put in brings back: internal rates, payback, modified rate, profitability.

``flows`` are yearly, the first of them now.  None of these ranks projects of different size or
life by itself; the annual equivalent does.
"""

import numpy as np

LOWEST, HIGHEST = -0.99, 100.0


def internal_rates(flows) -> list[float]:
    """Every rate above -99 % at which the flows are worth nothing; none or several are possible.

    Source of the definition: Dahlquist & Knight 2022, Principles of Finance, section 16.3.

    >>> [round(r, 6) for r in internal_rates([-100, 230, -132])]
    [0.1, 0.2]
    """
    flows = np.trim_zeros(np.asarray(flows, float))
    if flows.size < 2 or not (flows.min() < 0 < flows.max()):
        return []
    # in x = 1/(1 + rate) the worth is a polynomial; real positive roots are rates
    roots = np.roots(flows[::-1])
    scale = np.abs(flows).sum()
    found = []
    for root in roots:
        if abs(root.imag) > 1e-7 * max(abs(root), 1.0) or root.real <= 0:
            continue
        x = _polished(flows, root.real)
        rate = 1.0 / x - 1.0
        worth = np.polyval(flows[::-1], x)
        if LOWEST < rate < HIGHEST and abs(worth) < 1e-7 * scale * max(1.0, x ** (flows.size - 1)):
            found.append(float(rate))
    found.sort()
    return [r for i, r in enumerate(found) if not i or r - found[i - 1] > 1e-9]


def _polished(flows, x: float) -> float:
    """Newton's steps from a root found by eigenvalues."""
    up, slope = flows[::-1], np.polyder(flows[::-1])
    for _ in range(4):
        steep = np.polyval(slope, x)
        if steep == 0:
            break
        x -= float(np.polyval(up, x) / steep)
    return x


def internal_rate(flows) -> float:
    """The rate at which the flows are worth nothing; nan where there is none or more than one.

    ``internal_rates`` gives them all.

    >>> round(internal_rate([-250000, 100000, 150000, 200000, 250000, 300000]), 10)
    0.5672303344
    """
    found = internal_rates(flows)
    return found[0] if len(found) == 1 else float("nan")


def rates_in_words(flows) -> str:
    """The internal rate as a sentence, or why there is no single one.

    >>> rates_in_words([-100, 230, -132])
    'The flows change sign more than once: 10 % and 20 % both fit, so no rate ranks them.'
    """
    found = [f"{100 * r:.3g} %" for r in internal_rates(flows)]
    if not found:
        return "No rate makes these flows worth nothing."
    if len(found) == 1:
        return f"The money put in earns {found[0]} a year."
    return (
        "The flows change sign more than once:"
        f" {', '.join(found[:-1])} and {found[-1]} both fit, so no rate ranks them."
    )


def payback(flows) -> float:
    """Years until what came in equals what was put in, interpolated; nan when it never does.

    Source: Dahlquist & Knight 2022, section 16.1.

    >>> payback([-16000, 2000, 4000, 5000, 5000, 5000, 5000])
    4.0
    """
    total = np.cumsum(np.asarray(flows, float))
    for year in range(1, total.size):
        if total[year] >= 0 > total[year - 1]:
            return year - 1 + float(-total[year - 1] / (total[year] - total[year - 1]))
    return 0.0 if total.size and total[0] >= 0 else float("nan")


def discounted_payback(rate: float, flows) -> float:
    """Payback with every flow at its worth today; nan when it never comes.

    Source: Dahlquist & Knight 2022, section 16.4.

    >>> round(discounted_payback(0.09, [-16000, 2000, 4000, 5000, 5000, 5000, 5000]), 2)
    5.05
    """
    flows = np.asarray(flows, float)
    return payback(flows / (1.0 + rate) ** np.arange(flows.size))


def terminal_value(rate: float, flows) -> float:
    """What the money that comes in has grown to at the end.

    >>> round(terminal_value(0.09, [-16000, 2000, 4000, 5000, 5000, 5000, 5000]), 2)
    31589.22
    """
    flows = np.asarray(flows, float)
    years = np.arange(flows.size)[::-1]
    return float((np.clip(flows, 0, None) * (1.0 + rate) ** years).sum())


def modified_rate(flows, finance_rate: float, reinvest_rate: float) -> float:
    """The single rate with which money out, at today's worth, becomes money in, grown to the end.

    Source: Dahlquist & Knight 2022, section 16.4.

    >>> round(modified_rate([-16000, 2000, 4000, 5000, 5000, 5000, 5000], 0.09, 0.09), 4)
    0.12
    """
    flows = np.asarray(flows, float)
    years = np.arange(flows.size)
    out = -(np.clip(flows, None, 0) / (1.0 + finance_rate) ** years).sum()
    if out <= 0 or flows.size < 2:
        return float("nan")
    return float((terminal_value(reinvest_rate, flows) / out) ** (1.0 / (flows.size - 1)) - 1.0)


def profitability(rate: float, flows) -> float:
    """Worth today of what comes in, for each money put in now.

    >>> round(profitability(0.09, [-16000, 2000, 4000, 5000, 5000, 5000, 5000]), 2)
    1.18
    """
    flows = np.asarray(flows, float)
    later = flows / (1.0 + rate) ** np.arange(flows.size)
    return float(later[1:].sum() / -flows[0])
