"""A design: every choice, files and links, weather and prices."""

from ..core.lazy_import import opener

__getattr__, __dir__ = opener(
    __name__, {"Design": "model", "with_values": "model", "load": "file", "save": "file"}
)
