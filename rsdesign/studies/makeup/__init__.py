"""New water and salts over time."""

from ...core.lazy_import import opener

__getattr__, __dir__ = opener(__name__)
