"""Plant beds: what they take beside the filter; part of the filter's section."""

from ...core.choices import choice
from ...core.kinds import Area, ArealRate, Fraction
from .section import RULE, names, section


@section()
class Beds:
    """The plant beds beside the filter."""

    plants: Area = choice("0 ft²", "0 ft²", "1000000 ft²", label="Plant beds", source="the user")
    plant_feed: ArealRate = choice(
        "60 g/(m² day)",
        "5 g/(m² day)",
        "200 g/(m² day)",
        label="Feed that each area of plants can use",
        help="The rule of thumb for rafts. It stands beside the sum; no size follows from it.",
        source="Rakocy 2007, 60 to 100 g/m²/day",
    )
    plant_bed: str = choice(
        "rafts", label="Kind of plant bed", source="the user", options=names("plant_beds")
    )
    plant_uptake: ArealRate = choice(
        "0.5 g/(m² day)",
        "0 g/(m² day)",
        "2 g/(m² day)",
        label="Nitrogen that each area of plants takes",
        help="Likely 0.4 to 0.8 for a full, growing bed; less in winter and after a harvest.",
        source="0.43 and 0.52 g/m²/day in tomato fruit, Graber and Junge 2009; to 0.8 from memory",
    )
    bed_rate: ArealRate | None = choice(
        None,
        "0 g/(m² day)",
        "10 g/(m² day)",
        label="Ammonia that each area of bed turns to nitrate",
        help="Left out, by the kind of bed.",
        source="table of plant beds",
    )
    least_share: Fraction = choice(
        0.5,
        0.25,
        1.0,
        label="Least share of the ammonia that the filter must take",
        help="100 % where the fish must live through empty or new beds.",
        source=RULE,
    )
