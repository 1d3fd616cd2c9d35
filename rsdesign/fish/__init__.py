"""Fish: species, growth, stocking, waste loads."""

from ..rooms import opener

__getattr__ = opener(__name__)
