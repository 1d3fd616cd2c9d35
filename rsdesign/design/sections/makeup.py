"""New water: what is lost, what is dosed, and where the old water goes."""

from ...core.choices import choice
from ...core.kinds import Concentration, CropRate, DailyFlow, Fraction, RatePerTime
from .section import RULE, names, section


@section()
class Makeup:
    """Make-up water; no figure of the sizing follows from it."""

    drained: DailyFlow | None = choice(
        None,
        "0 gal/day",
        "1000000 gal/day",
        label="Water drained in a day",
        help="Sludge and old water; left out, what holds nitrate on the mean day, and the sludge.",
        source="buckets",
    )
    splash: RatePerTime = choice(
        "0.2 %/day", "0 %/day", "10 %/day", label="Water lost in drops and leaks", source=RULE
    )
    base: str = choice(
        "baking soda",
        label="Base that is dosed",
        source="the feed shop",
        options=names("bases"),
    )
    treatment: str = choice(
        "sodium thiosulfate",
        label="What takes the chlorine out",
        source="the user",
        options=names("treatments"),
    )
    most_salts: Concentration = choice(
        "400 mg/L",
        "20 mg/L",
        "20000 mg/L",
        label="Most chloride",
        help="For the garden that drinks the old water, not for the fish.",
        source="above 350 mg/L many crops suffer, irrigation guides; " + RULE,
    )
    crop_rate: CropRate = choice(
        "150 lb/(acre year)",
        "10 lb/(acre year)",
        "600 lb/(acre year)",
        label="Nitrogen that the crop takes in a year",
        source="100 to 200 for hay and vegetables, " + RULE,
    )
    garden_share: Fraction = choice(
        1.0, 0.0, 1.0, label="Old water that goes to the garden", source="the user"
    )
