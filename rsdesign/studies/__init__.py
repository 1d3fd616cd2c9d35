"""Questions asked of whole sizings: what limits, what to choose, how sure.

Limits, compare, sweep, differences, published, heat, makeup and outage are names of ``rsdesign`` itself.
"""

from ..core.lazy_import import opener

_PUBLIC = {
    "candidates": "compare",
    "crossings": "compare",
    "enterprise": "enterprise",
    "ladder": "ladder",
    "mend": "cures",
    "run": "outage.study",
    "stressed": "stress",
    "movers": "stress",
    "break_evens": "stress",
}
__getattr__, __dir__ = opener(__name__, _PUBLIC)
__all__ = [*_PUBLIC]  # noqa: PLE0604
