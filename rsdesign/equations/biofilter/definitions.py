"""Small sums of filter media, nitrate and base."""

import numpy as np

from ...core.arrays import ceil, isfinite, most, ratio, where
from ...core.equation import equation
from ...core.kinds import (
    AmmoniaLoad,
    Area,
    ArealRate,
    ChemicalDose,
    Concentration,
    DailyFlow,
    FeedRate,
    Flow,
    Fraction,
    MediaVolume,
    RatePerTime,
    SpecificSurface,
    SpecificVolume,
    Volume,
)


@equation(
    latex=r"P = @ammonia_load \cdot \left(1 - @passive\right)",
    source="definition",
    valid="any",
    basis="derived",
)
def load_for_media(ammonia_load: AmmoniaLoad, passive: Fraction) -> AmmoniaLoad:
    """Ammonia left for the media after walls and pipes.

    Floats or arrays that broadcast.

    >>> load_for_media(1.0, 0.25)
    0.75
    """
    return ammonia_load * (1.0 - passive)


@equation(
    latex=r"C = @oxygen + @self_aerated \cdot \max\left(0, @share \cdot @saturation - "
    r"@oxygen\right)",
    source="trickling and aerated filters",
    valid="any",
    basis="common practice",
)
def oxygen_at_media(
    saturation: Concentration, oxygen: Concentration, self_aerated: Fraction, share: Fraction = 0.9
) -> Concentration:
    """Oxygen at the media: the tank's, or near saturation in a filter with air of its own.

    Floats or arrays that broadcast.

    >>> round(oxygen_at_media(0.008, 0.005, 1.0), 6)
    0.0072
    """
    return oxygen + self_aerated * most(0.0, share * saturation - oxygen)


@equation(
    latex=r"A = \frac{@ammonia_load}{@areal_rate}",
    source="conservation of mass",
    valid="any",
    basis="derived",
)
def area_where_flow_allows(
    ammonia_load: AmmoniaLoad, areal_rate: ArealRate, flow: Flow, least_flow: Flow
) -> Area:
    """Media surface for a load; infinite where the flow cannot carry the load: no area can do this.

    Floats or arrays that broadcast.

    >>> area_where_flow_allows(3.0, 1.5, 2.0, 1.0)
    2.0
    """
    return where(
        flow > least_flow * (1.0 + 1e-12),
        ratio(ammonia_load, areal_rate, np.inf),
        where(ammonia_load > 0.0, np.inf, 0.0),
    )


@equation(
    latex=r"a = @specific_surface \cdot @usable",
    source="definition",
    valid="any",
    basis="derived",
)
def working_surface(specific_surface: SpecificSurface, usable: Fraction) -> SpecificSurface:
    """Working surface for each volume of media as it lies.

    Floats or arrays that broadcast.

    >>> working_surface(500.0, 0.5)
    250.0
    """
    return specific_surface * usable


@equation(
    latex=r"V = @step \cdot \lceil \frac{@required_volume}{@step} - 10^{-9} \rceil",
    source="sold by the cubic foot",
    valid="any",
    basis="common practice",
)
def media_bought(
    required_volume: MediaVolume, rule_volume: MediaVolume, step: MediaVolume = 0.028316846592
) -> MediaVolume:
    """Media in whole cubic feet; by the rule of thumb where no area can do it.

    Floats or arrays that broadcast.

    >>> round(media_bought(0.03, 1.0), 4)
    0.0566
    """
    return step * ceil(where(isfinite(required_volume), required_volume, rule_volume) / step - 1e-9)


@equation(
    latex=r"A = @volume \cdot @specific_surface",
    source="definition",
    valid="any",
    basis="derived",
)
def media_surface(volume: MediaVolume, specific_surface: SpecificSurface) -> Area:
    """Surface of a volume of media.

    Floats or arrays that broadcast.

    >>> media_surface(2.0, 250.0)
    500.0
    """
    return volume * specific_surface


@equation(
    latex=r"P = @total_ammonia \cdot @exchange",
    source="conservation of mass",
    valid="any",
    basis="derived",
)
def ammonia_exported(total_ammonia: Concentration, exchange: DailyFlow) -> AmmoniaLoad:
    """Ammonia that leaves with the old water.

    Floats or arrays that broadcast.

    >>> ammonia_exported(0.5, 0.5)
    0.25
    """
    return total_ammonia * exchange


@equation(
    latex=r"P = \max\left(0, @ammonia_load - @exchange \cdot @total_ammonia\right)",
    source="conservation of mass",
    valid="a tank held at that level, new water without ammonia",
    basis="derived",
)
def ammonia_beside_exchange(
    ammonia_load: AmmoniaLoad, exchange: DailyFlow, total_ammonia: Concentration
) -> AmmoniaLoad:
    """Ammonia left for the media beside what goes with the old water at the level to hold.

    Floats or arrays that broadcast.

    >>> ammonia_beside_exchange(1.0, 0.5, 0.5)
    0.75
    """
    return most(0.0, ammonia_load - exchange * total_ammonia)


@equation(
    latex=r"C = @source + \frac{@nitrate_load}{@exchange}",
    source="conservation of mass",
    valid="any",
    basis="derived",
)
def nitrate_at_rest(
    nitrate_load: AmmoniaLoad, exchange: DailyFlow, source: Concentration
) -> Concentration:
    """Nitrate at rest with an exchange of water.

    Floats or arrays that broadcast.

    >>> nitrate_at_rest(1.0, 4.0, 0.25)
    0.5
    """
    return source + ratio(nitrate_load, exchange)


@equation(
    latex=r"x = \frac{@exchange}{@volume}",
    source="definition",
    valid="any",
    basis="derived",
)
def daily_share(exchange: DailyFlow, volume: Volume) -> RatePerTime:
    """Share of the water that is new.

    Floats or arrays that broadcast.

    >>> daily_share(1.0, 4.0)
    0.25
    """
    return exchange / volume


@equation(
    latex=r"M = @exchange \cdot \left(@source - @alkalinity\right)",
    source="conservation of alkalinity",
    valid="any",
    basis="derived",
)
def alkalinity_brought(
    exchange: DailyFlow, source: Concentration, alkalinity: Concentration
) -> ChemicalDose:
    """Alkalinity that new water brings over what the old takes away.

    Floats or arrays that broadcast.

    >>> alkalinity_brought(2.0, 1.5, 1.0)
    1.0
    """
    return exchange * (source - alkalinity)


@equation(
    latex=r"M = \max\left(0, @use - @brought\right)",
    source="conservation of alkalinity",
    valid="any",
    basis="derived",
)
def base_needed(use: ChemicalDose, brought: ChemicalDose) -> ChemicalDose:
    """Base to add, as calcium carbonate.

    Floats or arrays that broadcast.

    >>> base_needed(3.0, 1.0)
    2.0
    """
    return most(0.0, use - brought)


@equation(
    latex=r"x = \frac{@exchange}{@feed}",
    source="definition",
    valid="any",
    basis="derived",
)
def water_for_feed(exchange: DailyFlow, feed: FeedRate) -> SpecificVolume:
    """New water for each weight of feed.

    Floats or arrays that broadcast.

    >>> water_for_feed(1.0, 4.0)
    0.25
    """
    return ratio(exchange, feed)


@equation(
    latex=r"V_v = \frac{@volume}{@fill}",
    source="definition",
    valid="any",
    basis="derived",
)
def room_for_media(volume: MediaVolume, fill: Fraction) -> MediaVolume:
    """Room that media need in their vessel.

    Floats or arrays that broadcast.

    >>> room_for_media(0.5, 0.5)
    1.0
    """
    return volume / fill
