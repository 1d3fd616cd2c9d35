"""Water: oxygen, ammonia, carbonate, properties."""

from ..rooms import opener

__getattr__ = opener(__name__)
