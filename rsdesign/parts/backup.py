"""The time the fish have when the air stops."""

from ..arrays import most, ratio
from ..equation import equation
from ..kinds import Concentration, Minutes, OxygenRate, Volume


@equation(
    latex=r"t = \frac{\max\left(0, @oxygen_start - @oxygen_limit\right) \cdot "
    r"@volume}{@oxygen_demand}",
    source="conservation of oxygen; use held constant, surface left out: safe above 3 mg/L",
    valid="until about 3 mg/L",
    basis="derived",
)
def time_to(
    oxygen_limit: Concentration,
    oxygen_start: Concentration,
    volume: Volume,
    oxygen_demand: OxygenRate,
) -> Minutes:
    """Time in which oxygen falls to a limit when nothing brings more.

    Floats or arrays that broadcast.

    >>> round(time_to(0.003, 0.005, 8.54, 0.121 / 3600) / 60, 1)
    8.5
    """
    return ratio(most(0.0, oxygen_start - oxygen_limit) * volume, oxygen_demand, float("inf"))
