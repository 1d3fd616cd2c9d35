"""How sure a design is: what is not known about it varied at once, with every part as it is built."""

from ...core.lazy_import import opener

__getattr__, __dir__ = opener(__name__, {"Spread": "study", "spread": "study"})
