"""The whole balance of a design, stage by stage, and what it means."""

from ..core.lazy_import import opener

_PUBLIC = {
    "Sizing": "system",
    "size": "system",
    "figures": "system",
    "figure_at": "system",
    "value_at": "system",
    "worked": "working",
    "working_text": "working",
}
__getattr__, __dir__ = opener(__name__, _PUBLIC)
__all__ = [*_PUBLIC]  # noqa: PLE0604
