"""Plant beds: what they take beside the filter; part of the filter's section."""

from ...core.choices import choice
from ...core.kinds import Area, ArealRate, Fraction
from .section import section


@section()
class Beds:
    """The plant beds beside the filter."""

    plants: Area = choice("filter.plants")
    plant_feed: ArealRate = choice("filter.plant_feed")
    plant_bed: str = choice("filter.plant_bed")
    plant_uptake: ArealRate = choice("filter.plant_uptake")
    bed_rate: ArealRate | None = choice("filter.bed_rate")
    least_share: Fraction = choice("filter.least_share")
