"""Design and teach small recirculating fish systems.

``Design`` holds every choice; ``size`` computes the whole balanced system from it; ``load`` and
``save`` read and write design files; ``units`` reads, shows and converts numbers with units.
Each is opened when it is first used.
"""

from typing import TYPE_CHECKING

from .rooms import opener

if TYPE_CHECKING:
    from . import units
    from .design import Design
    from .designfile import load, save
    from .sizing import size

__getattr__ = opener(
    __name__, {"Design": "design", "load": "designfile", "save": "designfile", "size": "sizing"}
)

__all__ = ["Design", "load", "save", "size", "units"]
