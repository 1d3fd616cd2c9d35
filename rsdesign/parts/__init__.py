"""Parts of a system: tank, settler, filter, air, pumps, pipes."""

from ..rooms import opener

__getattr__ = opener(__name__)
