"""The heat balance of a tank: what comes in, what goes out, where it settles.

``heat_flows`` is the balance term by term; ``heat_balance`` its sum; ``equilibrium_temperature``
the water temperature at which the sum is zero.  All take the same words for the surroundings,
floats or arrays that broadcast, so that the hours of a day and many designs go in one call.
"""

import dataclasses
from dataclasses import dataclass
from typing import Any

from ...core import kinds
from ...core.arrays import most, root
from ...core.equation import equation, same_arguments
from ...core.kinds import Number
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
    water_temperature: kinds.Temperature,
    air_temperature: kinds.Temperature,
    humidity: kinds.Fraction,
    wind: kinds.Wind,
    area: kinds.Area,
    relation: str = "weather",
    pressure: kinds.Pressure = 101325.0,
    activity: kinds.Ratio = 1.0,
) -> kinds.VapourRate:
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


@dataclass(frozen=True, slots=True, eq=False)
class Surroundings:
    """What a tank stands in: weather, cover, walls, the water and the air that pass through it."""

    air_temperature: Any
    """°C, as the temperatures of the ground and of the new water."""
    humidity: Any
    """Of the air, as a fraction."""
    wind: Any
    """At the water [m/s]."""
    area: Any
    """Of the water [m²]."""
    sun: Any = 0.0
    """On level water [W/m²]."""
    sky_heat: Any = None
    """That comes down [W/m²]; None for walls as warm as the air."""
    relation: str = "weather"
    evaporation_factor: Any = 1.0
    pressure: Any = 101325.0
    activity: Any = 1.0
    absorptance: Any = 0.93
    emissivity: Any = 0.97
    covered: Any = 0.0
    """Share of the water under a lid; its resistance and film [m² K/W] follow, then the share of sun
    that it passes and takes up, and the share of evaporation that it leaks."""
    lid_resistance: Any = 0.35
    lid_film: Any = 0.12
    lid_transmittance: Any = 0.0
    lid_absorptance: Any = 0.7
    lid_leak: Any = 0.0
    wall_conductance: Any = 0.0
    """W/K, as that of the floor."""
    floor_conductance: Any = 0.0
    ground_temperature: Any = 15.0
    exchange: Any = 0.0
    """New water [kg/s]; what evaporates comes on top."""
    source_temperature: Any = None
    """Of the new water; None when as warm as the tank."""
    air_mass_flow: Any = 0.0
    """Through the water [kg/s], as that through a trickling filter."""
    filter_air: Any = 0.0
    filter_approach: Any = 0.3
    inside_heat: Any = 0.0
    """Of fish and motors [W]."""
    shell: Any = None
    """Conductance of a greenhouse [W/K]; then the sun on its floor [W] and the humidity in it."""
    shell_sun: Any = 0.0
    shell_humidity: Any = 0.7
    vent_above: Any = 30.0
    vent_rise: Any = 5.0


def _inside(s: Surroundings, water) -> Surroundings:
    """The surroundings of a tank in a greenhouse, whose air the water and the sun warm."""
    if s.shell is None:
        return s
    closed = greenhouse.closed_greenhouse_temperature.__wrapped__(
        s.shell, s.air_temperature, EXCHANGE * s.area, water, s.shell_sun
    )
    vented = greenhouse.vented_greenhouse_temperature.__wrapped__(
        closed, s.vent_above, s.air_temperature, s.vent_rise
    )
    return dataclasses.replace(s, air_temperature=vented, sky_heat=None, humidity=s.shell_humidity)


def heat_flows(water_temperature, *surroundings, **more) -> Flows:
    """Every heat flow of a tank at a water temperature [°C], in the ``Surroundings`` that follow.

    A composition of equations.

    >>> flows = heat_flows(28.0, 18.0, 0.6, 0.1, 7.0686, relation="quiet pool", wall_conductance=4.9758)
    >>> round(flows.net), round(flows.evaporation), round(flows.walls, 1)
    (-2045, -1280, -49.8)
    """
    water, outside = water_temperature, Surroundings(*surroundings, **more)
    s = _inside(outside, water)
    outdoors, damp, area, pressure = outside.air_temperature, outside.humidity, s.area, s.pressure
    black = air.sky_radiation.__wrapped__(s.air_temperature)
    above = black if s.sky_heat is None else s.sky_heat
    latent = steam.latent_heat.__wrapped__(water)
    full = vapour_pressure.__wrapped__(water)
    there = s.humidity * vapour_pressure.__wrapped__(s.air_temperature)
    open_share = 1.0 - s.covered
    each = s.evaporation_factor * steam.vapour_transfer.__wrapped__(
        s.relation, s.wind, water, full, there, pressure, s.activity
    )
    wet_area = area * (open_share + s.covered * s.lid_leak)
    surface = steam.vapour_flow.__wrapped__(wet_area, each, full, there)
    felt = heat.sol_air_temperature.__wrapped__(
        s.air_temperature, s.lid_film, s.lid_absorptance, s.sun, above, black
    )
    w_full = air.humidity_ratio.__wrapped__(full, pressure)
    w_in = air.humidity_ratio.__wrapped__(damp * vapour_pressure.__wrapped__(outdoors), pressure)
    bubbled = heat.stream_vapour.__wrapped__(s.air_mass_flow, w_full, w_in)
    w_out = heat.leaving_humidity.__wrapped__(w_in, w_full, s.filter_approach)
    dripped = heat.stream_vapour.__wrapped__(s.filter_air, w_out, w_in)
    passes = open_share + s.covered * s.lid_transmittance
    replaced = s.exchange + most(surface + bubbled + dripped, 0.0)
    source = water if s.source_temperature is None else s.source_temperature
    through = heat.stream_warmth.__wrapped__(s.air_mass_flow, outdoors, water)
    stripping = heat.stream_warmth.__wrapped__(s.filter_air, outdoors, water, s.filter_approach)
    return Flows(
        sun=heat.sun_gain.__wrapped__(area, s.sun, passes, s.absorptance),
        longwave=heat.longwave.__wrapped__(area * open_share, above, water, s.emissivity),
        convection=steam.convection.__wrapped__(
            area * open_share, each, latent, pressure, s.air_temperature, water
        ),
        evaporation=-steam.vapour_heat.__wrapped__(surface, latent),
        lid=heat.lid_gain.__wrapped__(area * s.covered, felt, water, s.lid_resistance, s.lid_film),
        walls=heat.conduction.__wrapped__(s.wall_conductance, s.air_temperature, water),
        floor=heat.conduction.__wrapped__(s.floor_conductance, s.ground_temperature, water),
        makeup=heat.makeup_gain.__wrapped__(replaced, source, water),
        bubbles=through - steam.vapour_heat.__wrapped__(bubbled, latent),
        stripper=stripping - steam.vapour_heat.__wrapped__(dripped, latent),
        inside=s.inside_heat + 0.0 * water,
        vapour=surface + bubbled + dripped,
        stream_vapour=bubbled + dripped,
        air_temperature=s.air_temperature,
    )


@equation(
    latex=r"P = P_{sun} + P_{sky} + P_{air} - P_{vapour} + P_{lid} + P_{walls} + P_{floor} +"
    r" P_{new water} + P_{bubbles} + P_{inside}",
    source="conservation of energy; each term has its own equation in heat.flows",
    valid="well mixed water above freezing",
    basis="derived",
)
def heat_balance(
    water_temperature: kinds.Temperature,
    air_temperature: kinds.Temperature,
    humidity: kinds.Fraction,
    wind: kinds.Wind,
    area: kinds.Area,
    sun: kinds.HeatFlux = 0.0,
    sky_heat: kinds.HeatFlux | None = None,
    relation: str = "weather",
    pressure: kinds.Pressure = 101325.0,
    activity: kinds.Ratio = 1.0,
    covered: kinds.Fraction = 0.0,
    lid_resistance: kinds.ThermalResistance = 0.35,
    wall_conductance: kinds.Conductance = 0.0,
    floor_conductance: kinds.Conductance = 0.0,
    ground_temperature: kinds.Temperature = 15.0,
    exchange: kinds.VapourRate = 0.0,
    source_temperature: kinds.Temperature | None = None,
    air_mass_flow: kinds.AirMassFlow = 0.0,
    inside_heat: kinds.Power = 0.0,
) -> kinds.Power:
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
def equilibrium_temperature(*surroundings, **more) -> kinds.Temperature:
    """Water temperature at which a tank in steady weather neither warms nor cools.

    See ``heat_flows`` for each word.

    >>> round(equilibrium_temperature(40.0, 0.15, 2.0, 10.0, sky_heat=460.0), 1)
    21.1
    """

    def balance(water: Number) -> Number:
        return heat_balance.__wrapped__(water, *surroundings, **more)

    low = COLDEST + 0.0 * balance(COLDEST)
    return root(balance, low, low - COLDEST + HOTTEST, ROUNDS)
