"""Questions asked of whole sizings: what limits, what to choose, how sure."""

from ..rooms import opener

__getattr__ = opener(__name__)
