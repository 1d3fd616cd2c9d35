"""What the sizing means: every part's margin, and every check in words, worst first."""

import numpy as np

from ..core.kinds import KINDS
from .judging import (
    ENOUGH,
    FIT,
    SHORT,
    SLACK,
    TIGHT,
    Check,
    Checks,
    Part,
    percent,
    word,
    worst_first,
)
from .stages.moving import ORDERED, told_flow
from .stages.solids import has_settler


def parts(sizing) -> tuple[Part, ...]:
    """Every part of a sizing."""
    d, s = sizing.design, sizing
    owned_air = any(x is not None for x in (d.air.flow, d.air.plate_watts, d.air.device))
    owned_pump = told_flow(d.pump) is not None or None not in (d.pump.model, d.pump.count)
    volume, flow, area = KINDS["volume"], KINDS["flow"], KINDS["area"]
    level = KINDS["concentration"]
    rule = "common practice"
    found = (
        Part(
            "tank",
            "Tank room",
            volume,
            "at least",
            s.tank.required,
            s.tank.volume,
            s.tank.rule,
            d.tank.width is not None,
            True,
            "stocking density, " + rule,
        ),
        Part(
            "pump",
            "Flow",
            flow,
            "at least",
            s.flow.required,
            s.pump.flow,
            s.flow.rule,
            owned_pump,
            True,
            "mass balance at the planned removal in one pass",
            _ordered(s.pump.model),
        ),
        Part(
            "settler",
            "Settler",
            area,
            "at least",
            s.solids.required,
            s.solids.area,
            s.solids.rule,
            d.solids.area is not None,
            False,
            "overflow rate, " + rule,
        ),
        Part(
            "fine waste",
            "Fine waste",
            level,
            "at most",
            d.keep.fines,
            s.solids.fines,
            None,
            owned_pump,
            True,
            rule,
        ),
        Part(
            "filter",
            "Filter",
            area,
            "at least",
            s.filter.required,
            s.filter.area,
            s.filter.rule,
            d.filter.media_volume is not None,
            True,
            "mass balance of ammonia",
        ),
        Part(
            "air",
            "Air",
            KINDS["air flow"],
            "at least",
            s.air.required,
            s.air.provided,
            s.air.rule,
            owned_air,
            True,
            "oxygen balance in the busiest hour",
        ),
        Part(
            "carbon dioxide",
            "Carbon dioxide",
            level,
            "at most",
            d.keep.carbon_dioxide,
            s.gas.peak_carbon_dioxide,
            None,
            owned_air,
            True,
            "gas balance in the busiest hour, limit " + rule,
        ),
        Part(
            "water",
            "New water",
            KINDS["daily flow"],
            "at least",
            s.water.exchange,
            s.water.supply,
            None,
            True,
            True,
            "nitrate balance",
        ),
        Part(
            "drain",
            "Drain",
            flow,
            "at least",
            s.pump.flow,
            s.pump.drain_capacity,
            None,
            d.pump.drain_pipe is not None,
            False,
            "energy balance",
            _side_by_side(s.pump.drains, "pipes"),
        ),
        Part(
            "overflow",
            "Overflow",
            flow,
            "at least",
            s.pump.flow,
            s.pump.overflow,
            None,
            d.pump.standpipe is not None,
            False,
            "weir and opening, screen half blocked",
            _side_by_side(s.pump.standpipes, "standpipes"),
        ),
    )
    return found if has_settler(d) else tuple(part for part in found if part.name != "settler")


def _side_by_side(count, what: str) -> str:
    """Said where one will not do."""
    most = np.max(count)
    return f" It takes {most:.0f} {what} side by side." if most > 1 else ""


def _ordered(model) -> str:
    """Said where the trade has no such pump."""
    if not np.any(np.asarray(model) == ORDERED):
        return ""
    return (
        " No pump of the table lifts the water so high: lower the lift, or widen or shorten the"
        " pipe, or ask for a pump built to order."
    )


def checks(
    sizing, system: str | None = None, only: tuple[str, ...] = (), known: tuple[Part, ...] = ()
) -> tuple[Check, ...]:
    """Every check of a sizing, worst first.

    The words are in one display system, or in both; ``only`` keeps the parts named; ``known``
    spares judging the parts again.
    """
    from .checks import general as checklist  # noqa: PLC0415  (the long list, read when asked for)

    found = Checks(system, only)
    for part in known or parts(sizing):
        found.part(part)
    checklist.every(sizing, found)
    return tuple(sorted(found.found, key=lambda check: check.severity))


__all__ = [
    "ENOUGH",
    "FIT",
    "SHORT",
    "SLACK",
    "TIGHT",
    "Check",
    "Part",
    "checks",
    "parts",
    "percent",
    "word",
    "worst_first",
]
