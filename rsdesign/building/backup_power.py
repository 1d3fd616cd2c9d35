"""Batteries of the backup and what charges them."""

import math

from ..sizing.system import Sizing
from ..studies.outage.course import needs
from .rules import rule

WITHOUT = ("generator", "oxygen bottle")
"""Kinds of backup that no battery runs."""


def has_battery(sizing: Sizing) -> bool:
    """Whether the backup of a design runs off a battery."""
    safety = sizing.design.safety
    return safety.backup != "none" and safety.backup_kind not in WITHOUT


def batteries(charge: float, volts: float) -> int:
    """Batteries of one block: so many side by side, and in line for a higher voltage."""
    beside = math.ceil(charge / rule("battery block") - 1e-9)
    return beside * math.ceil(volts / rule("battery block volts") - 1e-9)


def charger_current(charge: float, share: float) -> float:
    """Current that puts back in time what a power cut took [A]: the used share of the label over that time."""
    return charge * share / rule("charge time")


def charger_watts(sizing: Sizing) -> float:
    """What the charger draws from the mains [W]; 0 where there is none."""
    if not has_battery(sizing):
        return 0.0
    safety = sizing.design.safety
    current = charger_current(float(needs(sizing).battery), float(safety.discharge_depth))
    return current * float(safety.battery_voltage) / rule("charger share")
