"""Fresh water: oxygen, ammonia, carbonate, properties."""

from ...core.lazy_import import subject

__getattr__ = subject(__name__)
