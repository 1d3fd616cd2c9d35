"""Weather, shelter and heat: what stands between the tank and the sky."""

from ...core.choices import choice
from ...core.kinds import Area, Count, Fraction, Length, Ratio, Temperature, TemperatureDifference
from .section import MEMORY, RULE, files, names, section

HEATED = ("no", "yes", "warm by itself")
"""Who decides how warm the water is through the year: the weather, a heater, or the user."""


@section()
class Climate:
    """The weather, and what the tank has against it.

    No figure of the sizing follows from it; the season, the harvest of a year and its cost do.
    """

    weather: str | None = choice(
        None,
        label="Weather of the place",
        help="Invented places; your own twelve months can be read from a table. Left out, nothing is"
        " known of the season.",
        source="the user",
        options=files("climate"),
    )
    shelter: str = choice(
        "outdoors",
        label="Where the tanks stand",
        source="the user",
        options=("outdoors", "greenhouse", "indoors"),
    )
    cover: str = choice("none", label="Lid", source="the user", options=names("tank_covers"))
    cover_hours: str = choice(
        "night",
        label="When the lid lies on the water",
        help="By day in summer an open tank cools itself by evaporation.",
        source="the user",
        options=("night", "day", "always"),
    )
    cover_share: Fraction = choice(
        0.9,
        0.1,
        1.0,
        label="Share of the water under the lid",
        help="Leave room for feeding and for air.",
        source=RULE,
    )
    shade: Fraction = choice(
        0.0,
        0.0,
        0.95,
        label="Shade cloth",
        help="Share of the sun that it takes.",
        source="the label of the cloth",
    )
    insulation: str = choice(
        "none", label="Board around the tank", source="the user", options=names("insulation")
    )
    wall_board: Length = choice(
        "2 in", "0.25 in", "12 in", label="Thickness of the board", source="tape measure"
    )
    floor_board: bool = choice(
        False, label="The same board under the floor", source="the user", sweep=False
    )
    glazing: str = choice(
        "double film", label="Greenhouse glazing", source="the user", options=names("glazings")
    )
    greenhouse_floor: Area | None = choice(
        None,
        "20 ft²",
        "100000 ft²",
        label="Floor of the greenhouse",
        help="Left out, three times that of the tanks.",
        source="tape measure",
    )
    glazing_ratio: Ratio = choice(
        2.0,
        1.2,
        5.0,
        label="Glazing over floor of the greenhouse",
        source="1.6 to 3, small ones most; common practice",
    )
    infiltration: Fraction = choice(
        0.15, 0.0, 0.5, label="Leaks of the greenhouse", source="10 to 25 %, ASAE EP406"
    )
    vent_above: Temperature = choice(
        30.0, 15.0, 45.0, label="Greenhouse vents open above", source=RULE
    )
    vent_rise: TemperatureDifference = choice(
        5.0,
        0.0,
        20.0,
        label="Greenhouse air over outdoor air with open vents",
        source="3 to 8 K, common practice",
    )
    room_temperature: Temperature = choice(
        20.0, -10.0, 45.0, label="Air of the room, indoors", source="thermometer"
    )
    room_humidity: Fraction = choice(
        0.6,
        0.1,
        0.98,
        label="Humidity of the room or greenhouse",
        help="A tight room with open tanks gets damp.",
        source=RULE,
    )
    wind_share: Fraction = choice(
        0.6,
        0.05,
        1.0,
        label="Wind that reaches the water",
        help="Walls, fences and freeboard slow it.",
        source=RULE,
    )
    relation: str | None = choice(
        None,
        label="Relation for evaporation",
        help="Left out: that for weather records outdoors, that for pools under a roof.",
        source="published relations, shown as a band",
        options=(
            "weather",
            "pool",
            "quiet pool",
            "natatorium",
            "pond",
            "humidity",
            "meyer",
            "rohwer",
        ),
    )
    activity: Ratio = choice(
        1.0,
        0.5,
        2.0,
        label="Evaporation of moving water, by the relation for pools",
        help="0.74 for a still surface, up to 1.3 with strong bubbling.",
        source="Smith et al. 1998; common practice for bubbling",
    )
    ground_temperature: Temperature | None = choice(
        None,
        -5.0,
        40.0,
        label="Ground under the tanks",
        help="Left out, the mean air of the year.",
        source="thermometer",
    )
    source_temperature: Temperature | None = choice(
        None,
        1.0,
        40.0,
        label="Water from the source",
        help="Left out, as warm as the ground.",
        source="thermometer",
    )
    hot_spell: TemperatureDifference = choice(
        5.0,
        0.0,
        15.0,
        label="Hot day over the mean of the hottest month",
        source=RULE,
    )
    cold_spell: TemperatureDifference = choice(
        8.0,
        0.0,
        25.0,
        label="Cold day under the mean of the coldest month",
        source=RULE,
    )
    chill_above: Temperature | None = choice(
        None,
        10.0,
        42.0,
        label="A chiller holds the water below",
        help="Left out, the temperature at which these fish stop eating.",
        source="species table",
    )
    heated: str = choice(
        "no",
        label="Is the water heated?",
        help="No: the weather decides the season. Yes: a heater holds the water all year, and the cost"
        " buys the heat. Warm by itself: you say so, as with a warm spring, and no heat is bought.",
        source="the user",
        options=HEATED,
    )
    heater_performance: Ratio = choice(
        1.0,
        0.3,
        6.0,
        label="Heat for each unit of energy bought",
        help="1 for a heater in the water, 0.8 for a burner, 3 and more for a heat pump.",
        source=MEMORY,
    )
    chiller_performance: Ratio = choice(
        3.0, 1.0, 8.0, label="Heat taken away for each unit of energy", source=MEMORY
    )
    heater_factor: Ratio = choice(1.25, 1.0, 3.0, label="Heater over the largest loss", source=RULE)
    heaters: Count = choice(2.0, 1.0, 20.0, label="Heaters", sweep=False, source=RULE)
    blower_heat: Fraction = choice(
        0.5,
        0.0,
        1.0,
        label="Share of the blower's power that warms the water",
        source="its air comes hot from the machine; common practice",
    )
