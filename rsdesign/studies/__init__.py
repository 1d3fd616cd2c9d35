"""Questions asked of whole sizings: what limits, what to choose, how sure."""

from ..core.lazy_import import opener

__getattr__, __dir__ = opener(__name__)
