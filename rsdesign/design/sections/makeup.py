"""New water: what is lost, what is dosed, and where the old water goes."""

from ...core.choices import choice
from ...core.kinds import Concentration, CropRate, DailyFlow, Fraction, RatePerTime
from .section import section


@section()
class Makeup:
    """Make-up water; no figure of the sizing follows from it."""

    drained: DailyFlow | None = choice("makeup.drained")
    splash: RatePerTime = choice("makeup.splash")
    base: str = choice("makeup.base")
    treatment: str = choice("makeup.treatment")
    most_salts: Concentration = choice("makeup.most_salts")
    crop_rate: CropRate = choice("makeup.crop_rate")
    garden_share: Fraction = choice("makeup.garden_share")
