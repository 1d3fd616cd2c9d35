"""Design and teach small recirculating fish systems.

``Design`` holds every choice; ``size`` computes the whole balanced system from it; ``load`` and
``save`` read and write design files; ``units`` reads, shows and converts numbers with units.
"""

from . import units
from .design import Design
from .designfile import load, save
from .sizing import size

__all__ = ["Design", "load", "save", "size", "units"]
