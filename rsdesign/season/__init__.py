"""What happens over time: heat through days and months."""

from ..rooms import opener

__getattr__ = opener(__name__)
