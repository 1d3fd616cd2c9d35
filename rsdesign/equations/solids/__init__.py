"""Solids: settling, capture, what stays and decays."""

from ...core.lazy_import import subject

__getattr__, __dir__ = subject(__name__, {"detention_time": "tank.vessel:turnover_time"})
