"""Pumps and airlifts, and the flow they must give."""

from ...core.lazy_import import subject

__getattr__, __dir__ = subject(__name__)
