"""Fish: growth, stocking, feed and wastes."""

from ...core.lazy_import import subject

__getattr__, __dir__ = subject(__name__)
