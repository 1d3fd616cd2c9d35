"""Design and teach small recirculating fish systems.

``Design`` holds every choice; ``size`` computes the whole balanced system from it; ``load`` and
``save`` read and write design files; ``units`` reads, shows and converts numbers with units.
Each is opened when it is first used.
"""

from typing import TYPE_CHECKING

from .core.lazy_import import opener

if TYPE_CHECKING:
    from .core import units
    from .design.file import load, save
    from .design.model import Design
    from .sizing.system import size

__getattr__ = opener(
    __name__,
    {
        "Design": "design.model",
        "load": "design.file",
        "save": "design.file",
        "size": "sizing.system",
        "units": "core.units",
    },
)

__all__ = ["Design", "load", "save", "size", "units"]
