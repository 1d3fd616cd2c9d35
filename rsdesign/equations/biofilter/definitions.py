"""Definitions for filter media, nitrate and base."""

import numpy as np

from ...core import kinds
from ...core.arrays import ceil, isfinite, most, ratio, where
from ...core.equation import definition, equation


@definition("P", example="load_for_media(1.0, 0.25) == 0.75")
def load_for_media(ammonia_load: kinds.AmmoniaLoad, passive: kinds.Fraction) -> kinds.AmmoniaLoad:
    """Ammonia left for the media after walls and pipes."""
    return ammonia_load * (1.0 - passive)


@definition(
    "C",
    "trickling and aerated filters",
    basis="common practice",
    example="round(oxygen_at_media(0.008, 0.005, 1.0), 6) == 0.0072",
)
def oxygen_at_media(
    saturation: kinds.Concentration,
    oxygen: kinds.Concentration,
    self_aerated: kinds.Fraction,
    share: kinds.Fraction = 0.9,
) -> kinds.Concentration:
    """Oxygen at the media: the tank's, or near saturation in a filter with air of its own."""
    return oxygen + self_aerated * most(0.0, share * saturation - oxygen)


@equation(
    latex=r"A = \frac{@ammonia_load}{@areal_rate}", source="conservation of mass", basis="derived"
)
def area_where_flow_allows(
    ammonia_load: kinds.AmmoniaLoad,
    areal_rate: kinds.ArealRate,
    flow: kinds.Flow,
    least_flow: kinds.Flow,
) -> kinds.Area:
    """Media surface for a load; infinite where the flow cannot carry the load: no area can do this.

    >>> area_where_flow_allows(3.0, 1.5, 2.0, 1.0)
    2.0
    """
    return where(
        flow > least_flow * (1.0 + 1e-12),
        ratio(ammonia_load, areal_rate, np.inf),
        where(ammonia_load > 0.0, np.inf, 0.0),
    )


@definition("a", example="working_surface(500.0, 0.5) == 250.0")
def working_surface(
    specific_surface: kinds.SpecificSurface, usable: kinds.Fraction
) -> kinds.SpecificSurface:
    """Working surface for each volume of media as it lies."""
    return specific_surface * usable


@equation(
    latex=r"V = @step \cdot \lceil \frac{@required_volume}{@step} - 10^{-9} \rceil",
    source="sold by the cubic foot",
    basis="common practice",
)
def media_bought(
    required_volume: kinds.MediaVolume,
    rule_volume: kinds.MediaVolume,
    step: kinds.MediaVolume = 0.028316846592,
) -> kinds.MediaVolume:
    """Media in whole cubic feet; by the rule of thumb where no area can do it.

    >>> round(media_bought(0.03, 1.0), 4)
    0.0566
    """
    return step * ceil(where(isfinite(required_volume), required_volume, rule_volume) / step - 1e-9)


@definition("A", example="media_surface(2.0, 250.0) == 500.0")
def media_surface(volume: kinds.MediaVolume, specific_surface: kinds.SpecificSurface) -> kinds.Area:
    """Surface of a volume of media."""
    return volume * specific_surface


@definition("P", "conservation of mass", example="ammonia_exported(0.5, 0.5) == 0.25")
def ammonia_exported(
    total_ammonia: kinds.Concentration, exchange: kinds.DailyFlow
) -> kinds.AmmoniaLoad:
    """Ammonia that leaves with the water exchanged."""
    return total_ammonia * exchange


@definition(
    "P",
    "conservation of mass",
    valid="a tank held at that level, new water without ammonia",
    example="ammonia_beside_exchange(1.0, 0.5, 0.5) == 0.75",
)
def ammonia_beside_exchange(
    ammonia_load: kinds.AmmoniaLoad, exchange: kinds.DailyFlow, total_ammonia: kinds.Concentration
) -> kinds.AmmoniaLoad:
    """Ammonia left for the media beside what leaves with the water exchanged at the level to hold."""
    return most(0.0, ammonia_load - exchange * total_ammonia)


@definition("C", "conservation of mass", example="steady_nitrate(1.0, 4.0, 0.25) == 0.5")
def steady_nitrate(
    nitrate_load: kinds.AmmoniaLoad, exchange: kinds.DailyFlow, source: kinds.Concentration
) -> kinds.Concentration:
    """Steady nitrate level with an exchange of water."""
    return source + ratio(nitrate_load, exchange)


@definition("x", example="daily_exchange_share(1.0, 4.0) == 0.25")
def daily_exchange_share(exchange: kinds.DailyFlow, volume: kinds.Volume) -> kinds.RatePerTime:
    """Share of the water that is new."""
    return exchange / volume


@definition("M", "conservation of alkalinity", example="makeup_alkalinity(2.0, 1.5, 1.0) == 1.0")
def makeup_alkalinity(
    exchange: kinds.DailyFlow, source: kinds.Concentration, alkalinity: kinds.Concentration
) -> kinds.ChemicalDose:
    """Alkalinity that new water brings over what the old takes away."""
    return exchange * (source - alkalinity)


@definition("M", "conservation of alkalinity", example="base_needed(3.0, 1.0) == 2.0")
def base_needed(use: kinds.ChemicalDose, brought: kinds.ChemicalDose) -> kinds.ChemicalDose:
    """Base to add, as calcium carbonate."""
    return most(0.0, use - brought)


@definition("x", example="water_for_feed(1.0, 4.0) == 0.25")
def water_for_feed(exchange: kinds.DailyFlow, feed: kinds.FeedRate) -> kinds.SpecificVolume:
    """New water for each weight of feed."""
    return ratio(exchange, feed)


@definition("V_v", example="media_vessel_volume(0.5, 0.5) == 1.0")
def media_vessel_volume(volume: kinds.MediaVolume, fill: kinds.Fraction) -> kinds.MediaVolume:
    """Volume of the vessel that media need."""
    return volume / fill
