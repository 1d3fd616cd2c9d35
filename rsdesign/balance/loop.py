"""Where a loop of the balance is closed: the flow that asks for itself, the waste that rots."""

from ..arrays import most, sqrt, where
from ..equation import equation
from ..kinds import (
    AmmoniaLoad,
    Concentration,
    Flow,
    Fraction,
    RatePerTime,
    SolidsLoad,
    Volume,
)


@equation(
    latex=r"Q = @flow",
    source="definition",
    valid="found by going around the balance until the flow needed is the flow given",
    basis="derived",
)
def agreed_flow(flow: Flow) -> Flow:
    """Flow at which the balance agrees with itself.

    Floats or arrays that broadcast.

    >>> agreed_flow(2.0)
    2.0
    """
    return flow * 1.0


@equation(
    latex=r"M = \frac{2 \cdot s \cdot k}{b + \sqrt{b^{2} + 4 \cdot a \cdot s \cdot k}}",
    source="conservation of mass of waste, nitrogen and water, solved together",
    valid="a mixed tank at rest, decay in proportion to the waste in the water",
    basis="derived",
)
def waste_that_rots(
    suspended: SolidsLoad,
    faecal_nitrogen: AmmoniaLoad,
    solids: SolidsLoad,
    ammonia: AmmoniaLoad,
    plants_ammonia: AmmoniaLoad,
    nitrate_limit: Concentration,
    nitrate_source: Concentration,
    flow: Flow,
    removal: Fraction,
    decay: RatePerTime,
    volume: Volume,
) -> SolidsLoad:
    """Waste that rots in the water, when new water holds the nitrate that its rotting adds to.

    With k = decay · volume, the waste that rots is M = s k / (q + Q E + k) and the new water
    q = (P + M n) / (limit - source), where n is dung nitrogen over waste; together a quadratic
    in M.  Without ammonia left after the plants, q is zero.  Floats or arrays that broadcast.

    >>> round(waste_that_rots(1.0, 0.0, 1.0, 0.0, 0.0, 2.0, 1.0, 1.0, 0.5, 0.5, 1.0), 6)
    0.5
    """
    rots = decay * volume
    spare = nitrate_limit - nitrate_source
    still = flow * removal + rots
    a = most(faecal_nitrogen, 0.0) / solids / spare
    left = ammonia - plants_ammonia
    b = still + left / spare
    root = 2.0 * suspended * rots / (b + sqrt(b * b + 4.0 * a * suspended * rots))
    no_new_water = suspended * rots / still
    return where(left + a * spare * no_new_water > 0.0, root, no_new_water)
