"""The checks of pipes, levels and new water."""

import numpy as np

from ...core.kinds import KINDS
from ...equations.pipes.drain_size import LEAST_SPEED, MOST_SPEED
from ..stages.moving import FASTEST
from ..stages.solids import has_settler

RULE = "common practice"
SPEED = KINDS["velocity"]


def water_and_pipe(s, found) -> None:
    """Speeds, levels, what happens when the pump stops."""
    d, p = s.design, s.pump
    found.band(
        "pump",
        "Speed in the pressure pipe",
        p.velocity,
        0.3,
        FASTEST,
        SPEED,
        "1 to 2 m/s at most, AWWA as cited; slower than 0.3 m/s lets slime settle",
        _pipe_words(p.velocity),
    )
    found.band(
        "drain",
        "Speed in the drain",
        p.drain_velocity,
        LEAST_SPEED,
        MOST_SPEED,
        SPEED,
        "0.6 m/s keeps waste moving, Ten States Standards",
        _drain_words(p, d.pump.drain_fall),
    )
    found.most(
        "pump",
        "Total head",
        p.head,
        3.0,
        KINDS["head"],
        "low-head design, " + RULE,
        " Lower the tank or widen the pipe: every foot of lift runs day and night.",
    )
    if d.pump.sump_spare is not None:
        found.least(
            "pump",
            "Room in the sump when the pump stops",
            d.pump.sump_spare,
            p.drain_down,
            KINDS["small volume"],
            "volume of pipes and overflow levels",
        )
    found.yes(
        "pump",
        "The pump stops by itself at low water.",
        d.pump.low_level_stop,
        RULE,
        " Without that, a blocked return pumps the tank empty.",
    )
    found.yes(
        "pump",
        "A hole breaks the siphon at the inlet.",
        d.pump.siphon_break,
        RULE,
        " Without one, a stopped pump can drain the tank.",
    )
    found.yes(
        "water",
        "New water carries no chlorine or chloramine, or it is taken out first.",
        d.source.disinfectant == "none" or _dechlorinates(d),
        "water supplier",
        f" This source adds {d.source.disinfectant}: dechlorinate every fill and top-up;"
        " chloramine also frees ammonia.",
    )


def _pipe_words(speed) -> str:
    """What to do where the pressure pipe is too slow or too fast."""
    if np.any(speed < 0.3):
        return " Take a narrower pipe: choose a higher speed for it."
    return " Take a wider pipe."


def _drain_words(p, fall) -> str:
    """What only a person can change where no drain is both fast enough and carried by its fall."""
    if not np.any(p.drain_velocity < LEAST_SPEED):
        return " Take a wider drain."
    if fall is None:
        return (
            " In no pipe does so little water keep waste moving at the speed chosen for the drain:"
            " flush it every day."
        )
    return (
        " With so little fall no drain keeps waste moving: give it more fall or a shorter run, or"
        " choose a higher speed for it. Until then flush it every day."
    )


def levels(s, found) -> None:
    """Water runs down from tank to settler to sump, and an airlift lifts little."""
    d, p = s.design, s.pump
    found.least(
        "pump",
        "Settler level over the sump" if has_settler(d) else "End of the drain over the sump",
        p.settler_level,
        0.05,
        KINDS["head"],
        "water runs by gravity from tank to settler to filter and sump",
        " Raise the tank or lower the sump.",
    )
    if d.pump.kind == "airlift":
        found.most(
            "pump",
            "Lift of the airlift",
            d.pump.lift,
            0.3,
            KINDS["head"],
            "below 0.1 to 0.3 m, " + RULE,
        )


def _dechlorinates(design) -> bool:
    return bool(np.all(design.source.residual <= 0))
