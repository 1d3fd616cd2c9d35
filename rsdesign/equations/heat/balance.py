"""The heat balance of a tank: what comes in, what goes out, where it settles.

``heat_flows`` is the balance term by term; ``heat_balance`` its sum; ``equilibrium_temperature``
the water temperature at which the sum is zero.  All take the same words for the surroundings,
floats or arrays that broadcast, so that the hours of a day and many designs go in one call.
"""

import dataclasses
from dataclasses import dataclass

from ...core.arrays import most, root
from ...core.equation import equation, same_arguments
from ...core.kinds import (
    AirMassFlow,
    Area,
    Conductance,
    Fraction,
    HeatFlux,
    Number,
    Power,
    Pressure,
    Ratio,
    Temperature,
    ThermalResistance,
    VapourRate,
    Wind,
)
from ..water.properties import vapour_pressure
from . import evaporation as steam
from . import flows as heat
from . import greenhouse
from . import sky as air

EXCHANGE = 10.0
"""W/(m² K) between open water and the air and glazing around it, vapour apart; from memory."""

RELATIONS = steam.RELATIONS


@dataclass(frozen=True, slots=True)
class Flows:
    """The heat flows of a tank [W], gains above zero, and the water that leaves as vapour [kg/s]."""

    sun: Number
    longwave: Number
    convection: Number
    evaporation: Number
    lid: Number
    walls: Number
    floor: Number
    makeup: Number
    bubbles: Number
    stripper: Number
    inside: Number
    vapour: Number
    stream_vapour: Number
    air_temperature: Number

    @property
    def net(self) -> Number:
        """The sum of all terms [W]."""
        return sum(getattr(self, name) for name in TERMS)

    def terms(self) -> dict[str, Number]:
        """Each term by its name [W]."""
        return {name: getattr(self, name) for name in TERMS}


TERMS = tuple(field.name for field in dataclasses.fields(Flows))[:-3]
"""Names of the terms of the balance, in order."""

WORDS = {
    "sun": "sun",
    "longwave": "radiant heat of sky and water",
    "convection": "air over the water",
    "evaporation": "evaporation",
    "lid": "lid",
    "walls": "walls",
    "floor": "floor",
    "makeup": "new water",
    "bubbles": "air through the water",
    "stripper": "air through the filter",
    "inside": "fish, pump and blower",
}
"""The words for each term."""


@equation(
    latex=r"E = @area \cdot k \cdot \left(p_w - @humidity \cdot p_a\right)",
    source="the relation named, see parts.evaporation; saturation pressures by FAO-56 equation 11",
    valid="as the relation; 'weather' wants the wind at 2 m, the pool relations that at the water",
    basis="derived",
)
def evaporation(
    water_temperature: Temperature,
    air_temperature: Temperature,
    humidity: Fraction,
    wind: Wind,
    area: Area,
    relation: str = "weather",
    pressure: Pressure = 101325.0,
    activity: Ratio = 1.0,
) -> VapourRate:
    """Water that an open tank loses as vapour; below zero it condenses.

    ``relation`` is one of ``RELATIONS``.

    >>> round(evaporation(30.0, 40.0, 0.15, 2.0, 10.0) * 86400)
    172
    """
    full = vapour_pressure.__wrapped__(water_temperature)
    there = humidity * vapour_pressure.__wrapped__(air_temperature)
    each = steam.vapour_transfer.__wrapped__(
        relation, wind, water_temperature, full, there, pressure, activity
    )
    return steam.vapour_flow.__wrapped__(area, each, full, there)


def evaporation_band(water_temperature, air_temperature, humidity, wind, area,
                     pressure=101325.0, activity=1.0) -> dict[str, Number]:  # fmt: skip
    """Evaporation [kg/s] by each published relation, by name; see ``evaporation``.

    >>> found = evaporation_band(30.0, 40.0, 0.15, 2.0, 10.0)
    >>> round(min(found.values()) * 86400), round(max(found.values()) * 86400)
    (109, 307)
    """
    given = (water_temperature, air_temperature, humidity, wind, area)
    return {name: evaporation.__wrapped__(*given, name, pressure, activity) for name in RELATIONS}


def heat_flows(
    water_temperature,
    air_temperature,
    humidity,
    wind,
    area,
    *,
    sun=0.0,
    sky_heat=None,
    relation="weather",
    evaporation_factor=1.0,
    pressure=101325.0,
    activity=1.0,
    absorptance=0.93,
    emissivity=0.97,
    covered=0.0,
    lid_resistance=0.35,
    lid_film=0.12,
    lid_transmittance=0.0,
    lid_absorptance=0.7,
    lid_leak=0.0,
    wall_conductance=0.0,
    floor_conductance=0.0,
    ground_temperature=15.0,
    exchange=0.0,
    source_temperature=None,
    air_mass_flow=0.0,
    filter_air=0.0,
    filter_approach=0.3,
    inside_heat=0.0,
    shell=None,
    shell_sun=0.0,
    shell_humidity=0.7,
    vent_above=30.0,
    vent_rise=5.0,
) -> Flows:
    """Every heat flow of a tank at a water temperature.

    Water, air, ground and source temperatures in °C; ``humidity`` of the air as a fraction;
    ``wind`` at the water [m/s]; ``area`` of the water [m²]; ``sun`` on level water [W/m²];
    ``sky_heat`` that comes down [W/m²], None for walls as warm as the air; ``covered``, the share
    under a lid with its resistance and film [m² K/W], the share of sun it passes and takes up,
    and the share of evaporation it leaks; ``wall_conductance`` and ``floor_conductance`` [W/K]; ``exchange`` of water
    [kg/s], what evaporates comes on top, its temperature None when as warm as the tank; ``air_mass_flow`` through the water and ``filter_air``
    through a trickling filter [kg/s]; ``inside_heat`` of fish and motors [W]; ``shell``, the
    conductance of a greenhouse [W/K] with ``shell_sun``, the sun on its floor [W], and the
    humidity in it.  A composition of equations.

    >>> flows = heat_flows(28.0, 18.0, 0.6, 0.1, 7.0686, relation="quiet pool", wall_conductance=4.9758)
    >>> round(flows.net), round(flows.evaporation), round(flows.walls, 1)
    (-2045, -1280, -49.8)
    """
    water = water_temperature
    outdoors, damp = air_temperature, humidity
    if shell is not None:
        around = EXCHANGE * area
        closed = greenhouse.closed_greenhouse_temperature.__wrapped__(
            shell, air_temperature, around, water, shell_sun
        )
        air_temperature = greenhouse.vented_greenhouse_temperature.__wrapped__(
            closed, vent_above, air_temperature, vent_rise
        )
        sky_heat, humidity = None, shell_humidity
    black = air.sky_radiation.__wrapped__(air_temperature)
    above = black if sky_heat is None else sky_heat
    latent = steam.latent_heat.__wrapped__(water)
    full = vapour_pressure.__wrapped__(water)
    there = humidity * vapour_pressure.__wrapped__(air_temperature)
    open_share = 1.0 - covered
    each = evaporation_factor * steam.vapour_transfer.__wrapped__(
        relation, wind, water, full, there, pressure, activity
    )
    wet_area = area * (open_share + covered * lid_leak)
    surface = steam.vapour_flow.__wrapped__(wet_area, each, full, there)
    felt = heat.sol_air_temperature.__wrapped__(
        air_temperature, lid_film, lid_absorptance, sun, above, black
    )
    w_full = air.humidity_ratio.__wrapped__(full, pressure)
    w_in = air.humidity_ratio.__wrapped__(damp * vapour_pressure.__wrapped__(outdoors), pressure)
    bubbled = heat.stream_vapour.__wrapped__(air_mass_flow, w_full, w_in)
    w_out = heat.leaving_humidity.__wrapped__(w_in, w_full, filter_approach)
    dripped = heat.stream_vapour.__wrapped__(filter_air, w_out, w_in)
    passes = open_share + covered * lid_transmittance
    replaced = exchange + most(surface + bubbled + dripped, 0.0)
    return Flows(
        sun=heat.sun_gain.__wrapped__(area, sun, passes, absorptance),
        longwave=heat.longwave.__wrapped__(area * open_share, above, water, emissivity),
        convection=steam.convection.__wrapped__(
            area * open_share, each, latent, pressure, air_temperature, water
        ),
        evaporation=-steam.vapour_heat.__wrapped__(surface, latent),
        lid=heat.lid_gain.__wrapped__(area * covered, felt, water, lid_resistance, lid_film),
        walls=heat.conduction.__wrapped__(wall_conductance, air_temperature, water),
        floor=heat.conduction.__wrapped__(floor_conductance, ground_temperature, water),
        makeup=heat.makeup_gain.__wrapped__(
            replaced, water if source_temperature is None else source_temperature, water
        ),
        bubbles=heat.stream_warmth.__wrapped__(air_mass_flow, outdoors, water)
        - steam.vapour_heat.__wrapped__(bubbled, latent),
        stripper=heat.stream_warmth.__wrapped__(filter_air, outdoors, water, filter_approach)
        - steam.vapour_heat.__wrapped__(dripped, latent),
        inside=inside_heat + 0.0 * water,
        vapour=surface + bubbled + dripped,
        stream_vapour=bubbled + dripped,
        air_temperature=air_temperature,
    )


@equation(
    latex=r"P = P_{sun} + P_{sky} + P_{air} - P_{vapour} + P_{lid} + P_{walls} + P_{floor} +"
    r" P_{new water} + P_{bubbles} + P_{inside}",
    source="conservation of energy; each term has its own equation in parts.heat_flows",
    valid="well mixed water above freezing",
    basis="derived",
)
def heat_balance(
    water_temperature: Temperature,
    air_temperature: Temperature,
    humidity: Fraction,
    wind: Wind,
    area: Area,
    sun: HeatFlux = 0.0,
    sky_heat: HeatFlux | None = None,
    relation: str = "weather",
    pressure: Pressure = 101325.0,
    activity: Ratio = 1.0,
    covered: Fraction = 0.0,
    lid_resistance: ThermalResistance = 0.35,
    wall_conductance: Conductance = 0.0,
    floor_conductance: Conductance = 0.0,
    ground_temperature: Temperature = 15.0,
    exchange: VapourRate = 0.0,
    source_temperature: Temperature | None = None,
    air_mass_flow: AirMassFlow = 0.0,
    inside_heat: Power = 0.0,
) -> Power:
    """Heat that a tank gains at a water temperature; below zero it cools.

    See ``heat_flows`` for each word.

    >>> round(heat_balance(28.0, 18.0, 0.6, 0.1, 7.0686, relation="quiet pool", wall_conductance=4.9758))
    -2045
    """
    return heat_flows(
        water_temperature, air_temperature, humidity, wind, area, sun=sun, sky_heat=sky_heat,
        relation=relation, pressure=pressure, activity=activity, covered=covered,
        lid_resistance=lid_resistance, wall_conductance=wall_conductance, floor_conductance=floor_conductance,
        ground_temperature=ground_temperature, exchange=exchange,
        source_temperature=source_temperature, air_mass_flow=air_mass_flow,
        inside_heat=inside_heat,
    ).net  # fmt: skip


COLDEST, HOTTEST = -30.0, 90.0
"""Between these the steady temperature is searched for [°C]."""

ROUNDS = 40
"""Most steps of that search."""


@equation(
    latex=r"T: P\left(T\right) = 0",
    source="the heat balance, solved by a root search",
    valid="as there; steady weather",
    basis="derived",
)
@same_arguments(heat_balance, "water_temperature")
def equilibrium_temperature(*surroundings, **more) -> Temperature:
    """Water temperature at which a tank in steady weather neither warms nor cools.

    See ``heat_flows`` for each word.

    >>> round(equilibrium_temperature(40.0, 0.15, 2.0, 10.0, sky_heat=460.0), 1)
    21.1
    """

    def balance(water: Number) -> Number:
        return heat_balance.__wrapped__(water, *surroundings, **more)

    low = COLDEST + 0.0 * balance(COLDEST)
    return root(balance, low, low - COLDEST + HOTTEST, ROUNDS)
