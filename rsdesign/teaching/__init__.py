"""Exercises: a bank, numbers of one's own for each learner, checking with useful words, marks."""

from ..core.lazy_import import opener

_PUBLIC = {
    "exercise": "notebook",
    "check": "notebook",
    "bank": "bank",
    "find": "bank",
    "hint": "hints",
    "learner_code": "variants",
    "learner_key": "variants",
    "problem": "variants",
    "set_plan": "sets",
    "sheets": "sheets",
    "key": "sheets",
    "cards": "sheets",
    "preview": "sheets",
    "mark": "marking",
    "mark_folder": "marking",
}
__getattr__, __dir__ = opener(__name__, _PUBLIC)
__all__ = [*_PUBLIC]  # noqa: PLE0604
