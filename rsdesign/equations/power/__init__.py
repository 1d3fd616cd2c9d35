"""Power: time to act, batteries, generators, oxygen bottles."""

from ...core.lazy_import import subject

__getattr__, __dir__ = subject(__name__)
