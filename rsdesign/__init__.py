"""Design and teach small recirculating fish systems.

You say the fish, the site and the water; the package sizes tank, settler, biofilter, air, pump and
pipe from the feed by mass balance, and says how every number came about::

    from rsdesign import Design, size, sweep
    design = Design().with_(goal_harvest="480 lb/year", tank_depth="3 ft")
    sizing = size(design)                      # a notebook shows it as tables
    sizing["tank.volume"].to("gal")            # a figure as a pint quantity
    sweep(design, "tank.depth", ["2 ft", "3 ft", "4 ft"], ["tank.width", "pump.head"])

Plain numbers are SI (temperature in °C), text and pint quantities carry their unit, and a choice
may be an array of values.  Where to go from here:

- ``Design``, ``with_values``, ``load``, ``save``: every choice; ``design.with_(`` and Tab list them
- ``size``: the whole balance; ``sizing.table()``, ``sizing.checks``, ``sizing.working("pump.head")``
- ``limits``, ``choose``, ``compare`` with ``candidates``, ``heat``, ``outage``, ``makeup``, ``sweep``: studies of a
  design; ``handout`` writes the paper to take home
- ``labeled`` puts words and units into the headings of a sweep
- ``differences`` of two designs; ``published``: figures printed by others beside those given here
- ``season``: what a design does over days and hours
- ``read_log``: a log of water tests; ``records``: what it shows, and what to do next; ``tune``: the numbers
  of a design as a log shows them, with what it cannot decide
- ``choose``: which parts to buy, by cost a year, work, water and minutes to act
- ``spread``: the chance that each check of a design stands, the band of its cost, what to measure first
- ``plot``: trade-off, limits, time course and comparison as Plotly figures
- ``equations``: the published relations by subject, such as ``equations.water.oxygen.saturation``,
  each with its units, range and source in its help; numbers or pint quantities
- ``units``, ``ureg``: numbers as people write them; the registry of pint

``rsdesign serve`` in a terminal opens the workbooks.  Everything here is opened when first used.
"""

from typing import TYPE_CHECKING

from .core.lazy_import import opener as _opener

if TYPE_CHECKING:
    from . import equations, records, season
    from .core import units
    from .core.units import ureg
    from .core.version import __version__
    from .design.file import load, save
    from .design.model import Design, with_values
    from .records.reading import read_log
    from .records.tuning import tune
    from .report import plot
    from .report.handout.files import handout
    from .sizing.system import Sizing, size
    from .studies.choose.frames import choose
    from .studies.compare import candidates, compare
    from .studies.frames import differences, labeled, sweep
    from .studies.heat.study import study as heat
    from .studies.limits import limits
    from .studies.makeup.study import study as makeup
    from .studies.outage.study import study as outage
    from .studies.published import published
    from .studies.spread.study import spread

__getattr__, __dir__ = _opener(
    __name__,
    {
        "Design": "design.model",
        "Sizing": "sizing.system",
        "candidates": "studies.compare:candidates",
        "choose": "studies.choose.frames:choose",
        "compare": "studies.compare:compare",
        "differences": "studies.frames",
        "equations": "equations",
        "handout": "report.handout.files:handout",
        "heat": "studies.heat.study:study",
        "labeled": "studies.frames",
        "limits": "studies.limits:limits",
        "load": "design.file",
        "makeup": "studies.makeup.study:study",
        "outage": "studies.outage.study:study",
        "plot": "report.plot",
        "published": "studies.published:published",
        "read_log": "records.reading",
        "records": "records",
        "save": "design.file",
        "season": "season",
        "size": "sizing.system",
        "spread": "studies.spread.study:spread",
        "sweep": "studies.frames:sweep",
        "tune": "records.tuning",
        "units": "core.units",
        "ureg": "core.units",
        "with_values": "design.model",
        "__version__": "core.version",
    },
)

__all__ = [
    "Design", "Sizing", "__version__", "candidates", "choose", "compare", "differences", "equations",
    "handout", "heat", "labeled", "limits", "load", "makeup", "outage", "plot", "published", "read_log",
    "records", "save", "season", "size", "spread", "sweep", "tune", "units", "ureg", "with_values",
]  # fmt: skip
