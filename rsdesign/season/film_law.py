"""The film of a design's filter, as its sizing has it."""

from ..core.kinds import Number
from ..equations.biofilter import areas, nitrification
from ..sizing.system import Sizing


def derate_of(sizing: Sizing) -> Number:
    """Share of the film's published rate that the filter reaches.

    A rate that the design tells scales the law at the level for which the filter was sized, as in
    ``sizing.stages.filter``.

    Parameters:
        sizing: of one design or of many.
    Returns: the share [1].

    Example:
        >>> from rsdesign import load, size
        >>> float(derate_of(size(load("family")))) == load("family").filter.derate
        True
    """
    design, found = sizing.design, sizing.filter
    if design.filter.rate is None:
        return design.filter.derate
    law = nitrification.rate_law(
        found.oxygen, found.temperature, sizing.gas.ph, design.keep.alkalinity, design.filter.derate
    )
    if sizing.tables.filter_type.mixed:
        areal = law(found.outlet_needed)
    else:
        required = areas.area_required(
            found.load, sizing.pump.flow, sizing.gas.ammonia_limit, law, False
        )
        areal = areas.implied_rate(found.load, required)
    return areas.derate_for(design.filter.derate, design.filter.rate, areal)
