"""Power: time to act, batteries, generators, oxygen bottles."""

from ...core.lazy_import import subject

__getattr__ = subject(__name__)
