"""Filter media and kinds of filter, from ``data/media.csv`` and ``data/filter_types.csv``."""

from dataclasses import dataclass

from ...core.kinds import Area, Fraction, HydraulicLoad, Length, Ratio, SpecificSurface
from ...core.tables import SourcedRow


@dataclass(frozen=True, slots=True)
class Medium(SourcedRow):
    """One medium: its surface for each volume as it lies, and the share that works."""

    name: str
    label: str
    specific_surface: SpecificSurface
    usable_fraction: Fraction
    void_fraction: Fraction
    types: str
    notes: str


@dataclass(frozen=True, slots=True)
class FilterType(SourcedRow):
    """One kind of filter.

    ``mixed``: 1 mixed, 0 plug flow.  ``self_aerated``: 1 where it has air of its own.
    ``tank_share``: share of its oxygen that the tank's air must bring.  ``air_rate``: air of its own
    that rolls the media, for each area of floor.  ``gas_water_ratio`` and
    ``approach``: air for each volume of water that falls through it, and how far that goes to
    balance.  ``depth`` is a wall that is easily built, ``depth_low`` and ``depth_high`` the range.
    """

    name: str
    label: str
    mixed: Ratio
    self_aerated: Fraction
    tank_share: Fraction
    return_saturation: Fraction
    gas_water_ratio: Ratio
    approach: Fraction
    fill: Fraction
    air_rate: HydraulicLoad
    depth_low: Length
    depth: Length
    depth_high: Length
    hydraulic_low: HydraulicLoad
    hydraulic_load: HydraulicLoad
    hydraulic_high: HydraulicLoad
    notes: str

    @property
    def share_air_off(self) -> float:
        """Share of its oxygen that it takes from the tank once the air machines stop.

        Air that rolls a medium comes from the same machines, so all of it; a filter that water
        trickles through breathes by itself.
        """
        return 1.0 if self.tank_share > 0 else 0.0


@dataclass(frozen=True, slots=True)
class Vessel(SourcedRow):
    """A vessel that people own: its inner floor, and the depth that may be filled.

    ``floor`` is 0 where the vessel is built to size.
    """

    name: str
    label: str
    floor: Area
    depth: Length
    notes: str
