"""Definitions for carbon, phosphorus and pH."""

from ...core import kinds
from ...core.equation import definition


@definition("C", example="feed_carbon(2.0, 0.42) == 0.84")
def feed_carbon(feed: kinds.FeedRate, carbon: kinds.Fraction) -> kinds.SolidsLoad:
    """Carbon in the feed."""
    return feed * carbon


@definition(
    "C",
    "Boyd, oxygen demand of feed: 8 to 12 % of live weight is carbon at harvest",
    valid="fish at harvest",
    basis="seen",
    example="fish_carbon(2.0) == 0.2",
)
def fish_carbon(growth: kinds.FeedRate, content: kinds.Fraction = 0.10) -> kinds.SolidsLoad:
    """Carbon kept by growing fish."""
    return growth * content


@definition(
    "C",
    "stoichiometry, standard atomic weights",
    example="round(respired_carbon(31.998), 3) == 12.011",
)
def respired_carbon(fish_oxygen: kinds.OxygenRate) -> kinds.SolidsLoad:
    """Carbon breathed out by the fish at a respiratory quotient of 1."""
    return fish_oxygen * (12.011 / 31.998)


@definition("C", "conservation of carbon", example="faecal_carbon(1.0, 0.25, 0.5) == 0.25")
def faecal_carbon(
    feed_carbon: kinds.SolidsLoad, fish_carbon: kinds.SolidsLoad, respired_carbon: kinds.SolidsLoad
) -> kinds.SolidsLoad:
    """Carbon left in the feces, by difference."""
    return feed_carbon - fish_carbon - respired_carbon


@definition("P", example="feed_phosphorus(2.0, 0.5) == 1.0")
def feed_phosphorus(feed: kinds.FeedRate, phosphorus: kinds.Fraction) -> kinds.AmmoniaLoad:
    """Phosphorus in the feed."""
    return feed * phosphorus


@definition("d", example="ph_difference(7.5, 7.25) == 0.25")
def ph_difference(ph: kinds.PH, computed_ph: kinds.PH) -> kinds.PH:
    """Measured pH less computed pH."""
    return ph - computed_ph


@definition(
    "x",
    "a measured pH moves as the computed one does",
    valid="small changes of air",
    example="ph_moved(7.5, 7.75, 7.25) == 8.0",
)
def ph_moved(ph: kinds.PH, moved_ph: kinds.PH, computed_ph: kinds.PH) -> kinds.PH:
    """pH used, moved by as much as the computed one moves."""
    return ph + moved_ph - computed_ph


@definition("M", "conservation of mass", example="stripped_in_filter(2.0, 0.5, 1.0, 0.5) == 0.5")
def stripped_in_filter(
    flow: kinds.Flow,
    stripped: kinds.Fraction,
    carbon_dioxide: kinds.Concentration,
    equilibrium: kinds.Concentration,
) -> kinds.OxygenRate:
    """Carbon dioxide that leaves in the filter."""
    return flow * stripped * (carbon_dioxide - equilibrium)
