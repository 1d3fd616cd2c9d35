"""Small sums of carbon, phosphorus and pH."""

from ...core.equation import equation
from ...core.kinds import (
    PH,
    AmmoniaLoad,
    Concentration,
    FeedRate,
    Flow,
    Fraction,
    OxygenRate,
    SolidsLoad,
)


@equation(
    latex=r"C = @feed \cdot @carbon",
    source="definition",
    valid="any",
    basis="derived",
)
def feed_carbon(feed: FeedRate, carbon: Fraction) -> SolidsLoad:
    """Carbon in the feed.

    Floats or arrays that broadcast.

    >>> feed_carbon(2.0, 0.42)
    0.84
    """
    return feed * carbon


@equation(
    latex=r"C = @growth \cdot @content",
    source="Boyd, oxygen demand of feed: 8 to 12 % of live weight is carbon at harvest",
    valid="fish at harvest",
)
def fish_carbon(growth: FeedRate, content: Fraction = 0.10) -> SolidsLoad:
    """Carbon kept by growing fish.

    Floats or arrays that broadcast.

    >>> fish_carbon(2.0)
    0.2
    """
    return growth * content


@equation(
    latex=r"C = @fish_oxygen \cdot \frac{12.011}{31.998}",
    source="stoichiometry, standard atomic weights",
    valid="any",
    basis="derived",
)
def respired_carbon(fish_oxygen: OxygenRate) -> SolidsLoad:
    """Carbon breathed out by the fish at a respiratory quotient of 1.

    Floats or arrays that broadcast.

    >>> round(respired_carbon(31.998), 3)
    12.011
    """
    return fish_oxygen * (12.011 / 31.998)


@equation(
    latex=r"C = @feed_carbon - @fish_carbon - @respired_carbon",
    source="conservation of carbon",
    valid="any",
    basis="derived",
)
def faecal_carbon(
    feed_carbon: SolidsLoad, fish_carbon: SolidsLoad, respired_carbon: SolidsLoad
) -> SolidsLoad:
    """Carbon left for the dung, the remainder.

    Floats or arrays that broadcast.

    >>> faecal_carbon(1.0, 0.25, 0.5)
    0.25
    """
    return feed_carbon - fish_carbon - respired_carbon


@equation(
    latex=r"P = @feed \cdot @phosphorus",
    source="definition",
    valid="any",
    basis="derived",
)
def feed_phosphorus(feed: FeedRate, phosphorus: Fraction) -> AmmoniaLoad:
    """Phosphorus in the feed.

    Floats or arrays that broadcast.

    >>> feed_phosphorus(2.0, 0.5)
    1.0
    """
    return feed * phosphorus


@equation(
    latex=r"d = @ph - @computed_ph",
    source="definition",
    valid="any",
    basis="derived",
)
def ph_difference(ph: PH, computed_ph: PH) -> PH:
    """Measured pH less computed pH.

    Floats or arrays that broadcast.

    >>> ph_difference(7.5, 7.25)
    0.25
    """
    return ph - computed_ph


@equation(
    latex=r"x = @ph + @moved_ph - @computed_ph",
    source="a measured pH moves as the computed one does",
    valid="small changes of air",
    basis="derived",
)
def ph_moved(ph: PH, moved_ph: PH, computed_ph: PH) -> PH:
    """pH used, moved by as much as the computed one moves.

    Floats or arrays that broadcast.

    >>> ph_moved(7.5, 7.75, 7.25)
    8.0
    """
    return ph + moved_ph - computed_ph


@equation(
    latex=r"M = @flow \cdot @stripped \cdot \left(@carbon_dioxide - @equilibrium\right)",
    source="conservation of mass",
    valid="any",
    basis="derived",
)
def stripped_in_filter(
    flow: Flow, stripped: Fraction, carbon_dioxide: Concentration, equilibrium: Concentration
) -> OxygenRate:
    """Carbon dioxide that leaves in the filter.

    Floats or arrays that broadcast.

    >>> stripped_in_filter(2.0, 0.5, 1.0, 0.5)
    0.5
    """
    return flow * stripped * (carbon_dioxide - equilibrium)
