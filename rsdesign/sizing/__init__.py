"""The whole balance of a design, stage by stage, and what it means."""

from ..core.lazy_import import opener

__getattr__, __dir__ = opener(__name__, {"size": "system", "Sizing": "system"})
