"""Heat through a day and a year."""

from ...core.lazy_import import opener

__getattr__, __dir__ = opener(__name__)
