"""The scale of a sheet: the largest of the usual ones at which a drawing fits."""

import math
from dataclasses import dataclass

from ....core import tables
from ....core.kinds import Ratio
from ....core.tables import SourcedRow


@dataclass(frozen=True, slots=True)
class DrawingScale(SourcedRow):
    """A usual scale: built size over drawn size, and its name on a drawing."""

    name: str
    system: str
    ratio: Ratio


def usual_scale(least: float, system: str) -> tuple[float, str]:
    """The usual scale of at least this ratio, and its name; beyond the table its last one, doubled.

    >>> usual_scale(40.0, "us"), usual_scale(1500.0, "metric")
    ((48.0, '1:48 (1/4 in = 1 ft)'), (2000.0, '1:2,000'))
    """
    rows = [r for r in tables.read("drawing_scales", DrawingScale) if r.system == system]
    for row in rows:
        if row.ratio >= least * (1.0 - 1e-9):
            return float(row.ratio), row.name
    last = float(rows[-1].ratio)
    ratio = last * 2.0 ** math.ceil(math.log2(least / last))
    return ratio, f"1:{ratio:,.0f}"
