"""Air: what a bubble brings, machines, air pipes."""

from ...core.lazy_import import subject

__getattr__, __dir__ = subject(__name__)
