"""Weather, shelter and heat: what stands between the tank and the sky."""

from ...core.choices import choice
from ...core.kinds import Area, Count, Fraction, Length, Ratio, Temperature, TemperatureDifference
from .section import section


@section()
class Climate:
    """The weather, and what the tank has against it.

    No figure of the sizing follows from it; the season, the harvest of a year and its cost do.
    """

    weather: str | None = choice("climate.weather")
    shelter: str = choice("climate.shelter")
    cover: str = choice("climate.cover")
    cover_hours: str = choice("climate.cover_hours")
    cover_share: Fraction = choice("climate.cover_share")
    shade: Fraction = choice("climate.shade")
    insulation: str = choice("climate.insulation")
    wall_board: Length = choice("climate.wall_board")
    floor_board: bool = choice("climate.floor_board")
    glazing: str = choice("climate.glazing")
    greenhouse_floor: Area | None = choice("climate.greenhouse_floor")
    glazing_ratio: Ratio = choice("climate.glazing_ratio")
    infiltration: Fraction = choice("climate.infiltration")
    vent_above: Temperature = choice("climate.vent_above")
    vent_rise: TemperatureDifference = choice("climate.vent_rise")
    room_temperature: Temperature = choice("climate.room_temperature")
    room_humidity: Fraction = choice("climate.room_humidity")
    wind_share: Fraction = choice("climate.wind_share")
    relation: str | None = choice("climate.relation")
    activity: Ratio = choice("climate.activity")
    ground_temperature: Temperature | None = choice("climate.ground_temperature")
    source_temperature: Temperature | None = choice("climate.source_temperature")
    hot_spell: TemperatureDifference = choice("climate.hot_spell")
    cold_spell: TemperatureDifference = choice("climate.cold_spell")
    chill_above: Temperature | None = choice("climate.chill_above")
    heated: str = choice("climate.heated")
    heater_performance: Ratio = choice("climate.heater_performance")
    chiller_performance: Ratio = choice("climate.chiller_performance")
    heater_factor: Ratio = choice("climate.heater_factor")
    heaters: Count = choice("climate.heaters")
    blower_heat: Fraction = choice("climate.blower_heat")
