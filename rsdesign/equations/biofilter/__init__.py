"""The biofilter: media, rates, areas, plants."""

from ...core.lazy_import import subject

__getattr__, __dir__ = subject(__name__, {"oxygen_use": "fish.loads:nitrifier_oxygen"})
