"""A greenhouse around the tank: its shell, its air, its vents."""

from ...core import kinds
from ...core.arrays import least, most
from ...core.equation import definition


@definition(
    "K",
    "ASAE EP406, heat lost through glazing with 10 to 25 % more for leaks",
    valid="greenhouses at night; wind and clear sky raise it",
    basis="seen",
    example="round(shell_conductance(3.97, 100.0), 2) == 456.55",
)
def shell_conductance(
    heat_transfer: kinds.HeatTransfer, area: kinds.Area, infiltration: kinds.Fraction = 0.15
) -> kinds.Conductance:
    """Heat that a greenhouse lets out for each degree."""
    return heat_transfer * area * (1.0 + infiltration)


@definition(
    "T_g",
    "steady heat balance of the air inside; the vapour's heat is taken to leave through "
    "the glazing on which it condenses",
    valid="closed greenhouses whose air stores no heat",
    example="closed_greenhouse_temperature(300.0, 0.0, 100.0, 20.0, 2000.0) == 10.0",
)
def closed_greenhouse_temperature(
    shell: kinds.Conductance,
    air_temperature: kinds.Temperature,
    exchange_conductance: kinds.Conductance,
    water_temperature: kinds.Temperature,
    power: kinds.Power,
) -> kinds.Temperature:
    """Air in a closed greenhouse between the weather, the tank and the sun on its floor."""
    inside = exchange_conductance * water_temperature + power
    return (shell * air_temperature + inside) / (shell + exchange_conductance)


@definition(
    "T",
    "vents open above a set temperature, and then keep the air a few degrees over outdoors",
    valid="well vented greenhouses",
    basis="common practice",
    example="vented_greenhouse_temperature(50.0, 30.0, 40.0) == 45.0",
)
def vented_greenhouse_temperature(
    inside_air: kinds.Temperature,
    vent_above: kinds.Temperature,
    air_temperature: kinds.Temperature,
    vent_rise: kinds.TemperatureDifference = 5.0,
) -> kinds.Temperature:
    """Air in a greenhouse whose vents open when it is warm."""
    return least(inside_air, most(vent_above, air_temperature + vent_rise))
