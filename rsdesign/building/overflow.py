"""The overflow of the system: from the sump to where the old water goes, since new water comes in each day."""

from .graph import Fitted, Leg, Run, Vessel
from .rules import nominal, rule
from .run_down import overflow_size


def overflow_mouth(sump: Vessel) -> float:
    """Bottom of the overflow: over the water and what runs down when the pump stops [m]."""
    return sump.level + rule("sump rise")


def overflow(found: dict[str, Vessel]) -> list[Run]:
    """The overflow pipe of the sump; ``start`` is the bottom of its bore."""
    sump, inside = found["sump"], overflow_size()
    size = nominal(inside)
    fits = (Fitted("bulkhead", size, 1, "out of the sump"),
            Fitted("overflow screen", size, 1, "keeps fish and media in; wipe it each week"))  # fmt: skip
    mouth = overflow_mouth(sump)
    return [Run("overflow", "overflow of the sump", "sump", "garden", size, inside, 1, rule("hose flow"), mouth,
                mouth, (Leg("level", rule("overflow way")),), fits, "standpipe",
                why="new water comes in each day, and as much old water goes to garden or drain")]  # fmt: skip
