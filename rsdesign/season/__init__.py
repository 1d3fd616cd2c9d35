"""Time: what a design does over days and hours, from the first day of its filter to harvest."""

from ..core.lazy_import import opener

_PUBLIC: dict[str, str] = {
    "best_meals": "meal_search",
    "best_stocking_day": "when",
    "feeding_day": "feeding",
    "growout": "growing_season",
    "harvest_day": "when",
    "startup": "filter_start",
    "WhatIf": "what_ifs",
}
__getattr__, __dir__ = opener(__name__, _PUBLIC)
__all__ = [*_PUBLIC]  # noqa: PLE0604
