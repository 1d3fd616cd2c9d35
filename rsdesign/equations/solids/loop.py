"""Where a loop of the balance is closed: the flow that depends on itself, the waste that decays."""

from ...core import kinds
from ...core.arrays import most, ratio, sqrt, where
from ...core.equation import definition, equation


@definition(
    "Q",
    valid="found by repeating the balance until the flow needed is the flow given",
    example="agreed_flow(2.0) == 2.0",
)
def agreed_flow(flow: kinds.Flow) -> kinds.Flow:
    """Flow at which the balance agrees with itself."""
    return flow * 1.0


@equation(
    latex=r"M = k \cdot \frac{2 \cdot @suspended}{b + \sqrt{b^{2} + 4 \cdot a \cdot "
    r"@suspended}}, b = @flow \cdot @removal + @decay \cdot @volume + \frac{@ammonia "
    r"- @plants_nitrogen}{c}, a = \frac{\max\left(@faecal_nitrogen, 0\right) \cdot "
    r"@freed \cdot k}{@solids \cdot c}, k = @decay \cdot @volume + @flow \cdot "
    r"@removal \cdot \left(1 - @rinsed\right), c = @nitrate_limit - @nitrate_source",
    source="conservation of mass of waste, nitrogen and water, solved together",
    valid="a mixed tank in steady state, decay in proportion to the waste in the water",
    basis="derived",
)
def steady_decaying_solids(
    suspended: kinds.SolidsLoad,
    faecal_nitrogen: kinds.AmmoniaLoad,
    freed: kinds.Fraction,
    solids: kinds.SolidsLoad,
    ammonia: kinds.AmmoniaLoad,
    plants_nitrogen: kinds.AmmoniaLoad,
    nitrate_limit: kinds.Concentration,
    nitrate_source: kinds.Concentration,
    flow: kinds.Flow,
    removal: kinds.Fraction,
    rinsed: kinds.Fraction,
    decay: kinds.RatePerTime,
    volume: kinds.Volume,
) -> kinds.SolidsLoad:
    """Waste that decays in steady state, in the water and on the second screen before it is rinsed.

    The waste in the water C follows from s = C (q + Q E + decay V), the waste that decays is
    M = C k with k = decay V + Q E (1 - rinsed), and the new water that holds nitrate is
    q = (P + M n) / (limit - source), where n is fecal nitrogen freed over waste: together a
    quadratic in C.  Without nitrate left after the plants, q is zero.

    >>> round(steady_decaying_solids(1.0, 0.0, 1.0, 1.0, 0.0, 0.0, 2.0, 1.0, 1.0, 0.5, 1.0, 0.5, 1.0), 6)
    0.5
    """
    screened = flow * removal
    still = screened + decay * volume
    decaying = decay * volume + screened * (1.0 - rinsed)
    spare = nitrate_limit - nitrate_source
    each = most(faecal_nitrogen, 0.0) * freed / solids * decaying
    left = ammonia - plants_nitrogen
    b = still + left / spare
    level = ratio(2.0 * suspended, b + sqrt(b * b + 4.0 * each / spare * suspended))
    no_new_water = suspended / still
    return decaying * where(left + each * no_new_water > 0.0, level, no_new_water)
