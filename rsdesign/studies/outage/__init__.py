"""What happens when the power, the air or the pump stops."""

from ...core.lazy_import import opener

__getattr__, __dir__ = opener(__name__)
