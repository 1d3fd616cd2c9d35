"""How a part or a check stands, as a page shows it: short, tight or enough."""

import numpy as np

from ..sizing.margins import Check

STATES = {
    "let the rest out": "tight", "short": "short", "no": "short", "they die": "short", "below": "short", "above": "short",
    "tight": "tight", "sized to fit": "enough", "enough": "enough", "inside": "enough", "yes": "enough",
}  # fmt: skip
"""The state that goes with the word of a part or a check."""


def state_of_check(check: Check) -> str:
    """The state of a check; one that fails is short, whatever its word."""
    return STATES[check.word] if np.all(check.ok) else "short"
