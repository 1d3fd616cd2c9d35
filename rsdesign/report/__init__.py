"""Results as text, JSON, drawings and paper."""

from ..core.lazy_import import opener

__getattr__, __dir__ = opener(__name__)
