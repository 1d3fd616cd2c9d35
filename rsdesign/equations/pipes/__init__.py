"""Pipes: friction, gravity lines, fittings, head."""

from ...core.lazy_import import subject

__getattr__ = subject(__name__)
