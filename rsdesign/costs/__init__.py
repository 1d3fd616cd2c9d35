"""What things cost for each year of life: annual cost, loans, returns, labour, the enterprise budget."""

from ..rooms import opener

__getattr__ = opener(__name__)
