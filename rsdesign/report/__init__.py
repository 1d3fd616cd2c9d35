"""Results as text, JSON, drawings and paper.

``rsdesign.handout`` writes the paper, ``rsdesign.plot`` draws for a notebook.
"""

from ..core.lazy_import import opener

_PUBLIC = {
    "size_text": "text",
    "as_json": "text",
    "plan_text": "plan",
    "limits_text": "limits",
    "limits_json": "limits",
    "heat_text": "heat",
    "heat_json": "heat",
    "outage_text": "outage",
    "outage_json": "outage",
    "water_text": "makeup",
    "water_json": "makeup",
    "cost_text": "cost",
    "cost_json": "cost",
    "plot": "plot",
}
__getattr__, __dir__ = opener(__name__, _PUBLIC)
__all__ = [*_PUBLIC]  # noqa: PLE0604
