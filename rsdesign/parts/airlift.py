"""Moving water with air."""

from ..equation import equation
from ..kinds import Length, Ratio


@equation(
    latex=r"x = \frac{@submerged}{@submerged + @lift}",
    source="definition",
    valid="any",
    basis="derived",
)
def submergence_ratio(submerged: Length, lift: Length) -> Ratio:
    """Submerged part of an airlift pipe over the whole.

    Floats or arrays that broadcast.

    >>> submergence_ratio(0.75, 0.25)
    0.75
    """
    return submerged / (submerged + lift)
