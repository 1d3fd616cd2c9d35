"""Heat: sun, sky, air, evaporation, walls, heaters."""

from ...core.lazy_import import subject

__getattr__, __dir__ = subject(__name__)
