"""Solids: settling, capture, what stays and decays."""

from ...core.lazy_import import subject

__getattr__ = subject(__name__)
