"""Costs: annual cost, labor, loans, returns, budget."""

from ...core.lazy_import import subject

__getattr__, __dir__ = subject(__name__)
