"""What the heat balance gets: a design, its sizing and the weather, as rows of hours.

A row is one day under one arrangement: a month or a design day; open water, a lid by day, a lid
by night; heated or not; this depth or another.  All rows are gathered into arrays of rows × hours,
so that a whole year goes in one call.
"""

from dataclasses import dataclass
from math import inf

import numpy as np

from ...core.arrays import most
from ...core.kinds import Number
from ...design.weather import MIDDLE, Weather
from ...equations.air import blowers
from ...equations.heat import balance as heating
from ...equations.heat import flows as heat_flows
from ...equations.heat import greenhouse, heaters, sky, sun
from ...equations.heat import tables as heat_tables
from ...equations.tank.vessel import equivalent_diameter
from ...equations.water.properties import pressure_at_elevation, vapour_pressure
from ...sizing.system import Sizing
from .day import STEP

HOURS = (np.arange(24) + 0.5) * STEP
"""Middle of each hour, seconds after midnight."""

WALL_FILMS = 0.17
"""m² K/W of the air inside and outside a bare wall; 0.12 and 0.05, from memory."""

GROUND = 0.8
"""m² K/W of the soil under a floor; from memory, dry soil less."""

WATER = 1000.0
"""kg/m³, for new water and for what the water stores."""

INDOOR_WIND = 0.1
"""m/s of air over a tank under a roof; 0.05 to 0.15, common practice."""

LID_FILM = {"outdoors": 0.05, "greenhouse": 0.12, "indoors": 0.12}
"""m² K/W of the air over a lid; from memory."""

GREENHOUSE_FLOOR = 3.0
"""Floor of a greenhouse over that of the tanks, where it is not given."""

FLOOR_SHARE = 0.7
"""Share of the sun on the greenhouse floor that warms its air; from memory."""

DESIGN_DAYS = ("hot", "mild", "cold")


@dataclass(frozen=True, slots=True, eq=False)
class Skies:
    """The weather of fifteen days hour by hour: twelve mean months, then hot, mild and cold."""

    names: tuple[str, ...]
    month: np.ndarray
    air: np.ndarray
    humidity: np.ndarray
    wind: np.ndarray
    sun: np.ndarray
    sky: np.ndarray
    dark: np.ndarray


def skies(weather: Weather, hot_spell: Number, cold_spell: Number) -> Skies:
    """Twelve mean days and three design days of a place.

    The hot day is the hottest month under a clear sky and ``hot_spell`` [K] warmer, the cold day
    the coldest month ``cold_spell`` [K] colder, the mild day the month nearest the year's mean.
    The mean relative humidity of a design day is that of its month: the vapour of the mean day in
    hotter air would be drier than the month ever is, and would cool the water too much.
    """
    hot, cold = int(np.argmax(weather.air_mean)), int(np.argmin(weather.air_mean))
    mild = int(np.argmin(np.abs(weather.air_mean - weather.yearly_air)))
    month = np.array([*range(12), hot, mild, cold])
    shift = np.zeros(15)
    shift[12], shift[14] = hot_spell, -cold_spell
    vapour = sky.day_vapour.__wrapped__(
        weather.humidity[month],
        vapour_pressure.__wrapped__(weather.air_min[month] + shift),
        vapour_pressure.__wrapped__(weather.air_max[month] + shift),
    )
    light = weather.sun[month].copy()
    light[12] = weather.clear[hot]
    clear = weather.clear[month]
    mean = (weather.air_mean[month] + shift)[:, None]
    span = (weather.air_max - weather.air_min)[month][:, None]
    air = sky.air_at_hour.__wrapped__(mean, span, HOURS)
    humidity = np.minimum(vapour[:, None] / vapour_pressure.__wrapped__(air), 1.0)
    tilt = sun.declination.__wrapped__(MIDDLE[month])[:, None]
    height = sun.sun_height.__wrapped__(weather.latitude, tilt, HOURS)
    moment = sun.clear_sun.__wrapped__(height)
    clearness = np.clip(light / clear, 0.3, 1.0)[:, None]
    lost = sky.longwave_loss_share.__wrapped__(vapour[:, None], clearness)
    return Skies(
        names=(*(str(m + 1) for m in range(12)), *DESIGN_DAYS),
        month=month,
        air=air,
        humidity=humidity,
        wind=np.broadcast_to(weather.wind[month][:, None], air.shape),
        sun=sun.sun_at_hour.__wrapped__(light[:, None], moment, moment.mean(axis=1, keepdims=True)),
        sky=sky.sky_radiation.__wrapped__(air, lost),
        dark=height <= 0.0,
    )


@dataclass(frozen=True, slots=True, eq=False)
class Row:
    """One day under one arrangement; what is None is as designed."""

    day: int
    lid: str | None = None
    lid_hours: str | None = None
    shade: float | None = None
    depth: float | None = None
    low: Number = -inf
    high: Number = inf
    factor: float = 1.0


@dataclass(frozen=True, slots=True, eq=False)
class Rows:
    """Rows gathered into arrays: the arguments of ``heat_flows``, what the water stores, its limits."""

    given: dict
    capacity: np.ndarray
    low: np.ndarray
    high: np.ndarray
    guess: np.ndarray

    def flows(self, water) -> heating.Flows:
        """Every heat flow at a temperature of the water, rows × hours."""
        return heating.heat_flows(water, **self.given)

    def net(self, water) -> Number:
        """The sum of the flows [W]."""
        return self.flows(water).net


def relation_used(climate) -> str:
    """The relation for evaporation: the one chosen, else by whether there is a roof."""
    return climate.relation or ("weather" if climate.shelter == "outdoors" else "pool")


def gather(rows: list[Row], sizing: Sizing, weather: Weather, found: Skies) -> Rows:
    """Rows as arrays for one call of the balance."""
    design, c = sizing.design, sizing.design.climate
    day = np.array([row.day for row in rows])
    depth = _column([sizing.tank.depth if r.depth is None else r.depth for r in rows])
    area = sizing.tank.floor * sizing.stock.tanks
    under = c.shelter != "outdoors"
    roof = heat_tables.glazing(c.glazing).transmittance if c.shelter == "greenhouse" else 1.0
    light = found.sun[day] * (0.0 if c.shelter == "indoors" else 1.0)
    shade = _column([c.shade if r.shade is None else r.shade for r in rows])
    reaching = heat_flows.transmitted_sun.__wrapped__(light, shade, roof)
    air, humidity = found.air[day], found.humidity[day]
    if c.shelter == "indoors":
        air, humidity = np.full_like(air, c.room_temperature), np.full_like(air, c.room_humidity)
    black = sky.sky_radiation.__wrapped__(air)
    ground = weather.yearly_air if c.ground_temperature is None else c.ground_temperature
    given = {
        "air_temperature": air,
        "humidity": humidity,
        "wind": np.full_like(air, INDOOR_WIND) if under else found.wind[day] * c.wind_share,
        "area": area,
        "sun": reaching,
        "sky_heat": None
        if under
        else sky.sky_under_cloth.__wrapped__(shade, black, found.sky[day]),
        "relation": relation_used(c),
        "evaporation_factor": _column([r.factor for r in rows]),
        "pressure": pressure_at_elevation.__wrapped__(design.site.elevation),
        "activity": c.activity,
        "ground_temperature": ground,
        "exchange": sizing.water.exchange * WATER,
        "source_temperature": ground if c.source_temperature is None else c.source_temperature,
        **_lids(rows, c, found.dark[day]),
        **_shell(sizing, area, depth),
        **_inside(sizing),
    }
    if c.shelter == "greenhouse":
        given |= _greenhouse(c, area, reaching)
    return Rows(
        given=given,
        capacity=heaters.heat_capacity.__wrapped__(area * depth, WATER),
        low=_column([r.low for r in rows]),
        high=_column([r.high for r in rows]),
        guess=np.broadcast_to(air.mean(axis=1, keepdims=True), air.shape),
    )


def _column(values: list) -> np.ndarray:
    return np.array(values, float)[:, None]


def _lids(rows: list[Row], c, dark: np.ndarray) -> dict:
    """The lid of each row and the hours in which it lies on the water."""
    lids = [heat_tables.tank_cover(r.lid or c.cover) for r in rows]
    on = [_on(r.lid_hours or c.cover_hours, dark[k]) for k, r in enumerate(rows)]
    share = _column([c.cover_share if lid.name != "none" else 0.0 for lid in lids])
    return {
        "covered": share * np.array(on, float),
        "lid_resistance": _column([lid.resistance for lid in lids]),
        "lid_film": LID_FILM[c.shelter],
        "lid_transmittance": _column([lid.transmittance for lid in lids]),
        "lid_absorptance": _column([lid.absorptance for lid in lids]),
        "lid_leak": _column([lid.leak for lid in lids]),
    }


def _on(hours: str, dark: np.ndarray) -> np.ndarray:
    return {"night": dark, "day": ~dark, "always": np.ones_like(dark)}[hours]


def _shell(sizing: Sizing, area: Number, depth) -> dict:
    """Conductance of walls and floor [W/K]."""
    c, room = sizing.design.climate, sizing.tank
    board = heat_tables.insulation(c.insulation)
    thick = 0.0 if board.name == "none" else c.wall_board
    under = thick if c.floor_board else 0.0
    across = equivalent_diameter.__wrapped__(room.floor)
    side = heat_flows.side_area.__wrapped__(across, depth) * sizing.stock.tanks
    wall = heat_flows.board_resistance.__wrapped__(WALL_FILMS, thick, board.conductivity)
    floor = heat_flows.board_resistance.__wrapped__(GROUND, under, board.conductivity)
    return {
        "wall_conductance": heat_flows.conductance.__wrapped__(side, wall),
        "floor_conductance": heat_flows.conductance.__wrapped__(area, floor),
    }


def _inside(sizing: Sizing) -> dict:
    """Heat of fish and motors on a mean day, and the air that passes through the water."""
    c, kind = sizing.design.climate, sizing.tables.filter_type
    mean = sizing.stock.mean_feed / sizing.stock.peak_feed
    breathing = heat_flows.breathing_heat.__wrapped__(sizing.loads.mean_oxygen * mean)
    air_power = sizing.air.mean_power + sizing.bed.wire_power
    motors = heat_flows.motor_heat.__wrapped__(sizing.pump.plate_watts, air_power, c.blower_heat)
    stripped = blowers.air_mass_flow.__wrapped__(sizing.pump.flow * kind.gas_water_ratio)
    return {
        "inside_heat": breathing + motors,
        "air_mass_flow": blowers.air_mass_flow.__wrapped__(sizing.air.used),
        "filter_air": stripped,
        "filter_approach": kind.approach,
    }


def _greenhouse(c, area: Number, reaching) -> dict:
    """The shell of the greenhouse and the sun on its floor."""
    floor = GREENHOUSE_FLOOR * area if c.greenhouse_floor is None else c.greenhouse_floor
    glazing = heat_tables.glazing(c.glazing)
    return {
        "shell": greenhouse.shell_conductance.__wrapped__(
            glazing.heat_transfer, floor * c.glazing_ratio, c.infiltration
        ),
        "shell_sun": reaching * most(floor - area, 0.0) * FLOOR_SHARE,
        "shell_humidity": c.room_humidity,
        "vent_above": c.vent_above,
        "vent_rise": c.vent_rise,
    }
