"""Gas exchange: carbon dioxide out, carbon balance."""

from ...core.lazy_import import subject

__getattr__, __dir__ = subject(__name__)
