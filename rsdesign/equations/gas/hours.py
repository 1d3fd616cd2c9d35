"""Oxygen from hour to hour: between two hours of constant use the balance has a closed form."""

from ...core import kinds
from ...core.arrays import exp, ratio
from ...core.equation import equation


@equation(
    latex=r"C = C_r + \left(@oxygen_start - C_r\right) \cdot \exp\left(-\frac{@conductance \cdot "
    r"@time}{@volume}\right), C_r = @saturation - \frac{@oxygen_demand}{@conductance}",
    source="conservation of oxygen in a mixed tank; two-film transfer, use held constant",
    valid="constant use and air",
    basis="derived",
)
def oxygen_after_hours(
    time: kinds.Hours,
    oxygen_start: kinds.Concentration,
    saturation: kinds.Concentration,
    oxygen_demand: kinds.OxygenRate,
    conductance: kinds.Flow,
    volume: kinds.Volume,
) -> kinds.Concentration:
    """Oxygen some time after the use has changed, with the air on.

    >>> round(oxygen_after_hours(1800.0, 0.007, 0.0078, 0.006 / 3600, 2.0 / 3600, 1.0) * 1e3, 3)
    5.609
    """
    rest = saturation - ratio(oxygen_demand, conductance, float("inf"))
    return rest + (oxygen_start - rest) * exp(-conductance * time / volume)


@equation(
    latex=r"C = \frac{C_h + a \cdot C_l}{1 + a}, a = \exp\left(-\frac{@conductance \cdot @time}"
    r"{@volume}\right), C_h = @saturation - \frac{@busy_demand}{@conductance}, C_l = @saturation - "
    r"\frac{@calm_demand}{@conductance}",
    source="conservation of oxygen over a day that repeats itself, two constant uses in turn",
    valid="constant air; both stretches equally long",
    basis="derived",
)
def lowest_of_two_uses(
    time: kinds.Hours,
    saturation: kinds.Concentration,
    busy_demand: kinds.OxygenRate,
    calm_demand: kinds.OxygenRate,
    conductance: kinds.Flow,
    volume: kinds.Volume,
) -> kinds.Concentration:
    """Lowest oxygen of a day whose busy and calm stretches are equally long.

    ``time`` is the length of one stretch.

    >>> round(
    ...     lowest_of_two_uses(43200.0, 0.0078, 6e-4 / 3600, 2e-4 / 3600, 0.2 / 3600, 1.0) * 1e3, 3
    ... )
    4.966
    """
    kept = exp(-conductance * time / volume)
    busy = saturation - ratio(busy_demand, conductance, float("inf"))
    calm = saturation - ratio(calm_demand, conductance, float("inf"))
    return (busy + kept * calm) / (1.0 + kept)
