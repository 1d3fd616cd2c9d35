"""Published relations over plain SI numbers, one folder or file for each subject."""

from ..core.lazy_import import opener

__getattr__, __dir__ = opener(__name__)
