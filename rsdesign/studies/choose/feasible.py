"""Which of many designs stand: every margin and check that parts can change, judged for each design alone."""

import functools

import numpy as np

from ...equations.margins import at_least, at_most
from ...sizing.checks.forms import stands
from ...sizing.checks.rows import CheckRow, PartRow, applies, check_rows, part_rows, value
from ...sizing.judging import SLACK
from ..spread.outcomes import EMERGENCY, RATIOS

NO_PART = ("hottest_water", "coldest_water", "ph_apart", "air.temperature", "filter.temperature",
           "loads.faecal_share", "airlifts_like_measured", "always")  # fmt: skip
"""Figures of checks that follow from fish, site and readings: nothing that is bought changes them."""
NO_SECTION = ("stock.", "design.")
"""The same of whole sections: the plan of the fish, and what the design itself says."""
BY_BACKUP = "design.safety.backup = by itself"
"""The one check on a choice that a part on the list sets."""

PLAN, TURNING, WATER, FILTER, AIR, PUMP, BACKUP = (
    "plan", "turning", "water", "filter", "air", "pump", "backup",
)  # fmt: skip
"""When a check can first be judged: with the tank alone, with its flow, with the settler, with the media, with the
air machine; with the pump and its pipe alone; and with the backup."""

WATTS = "watts_over_least"
"""The figure of the check on watts."""

_FIRST = (
    (("pump.velocity", "pump.head"), PUMP),
    (("air.device", "air.discharge_pressure", "air.most_pressure", "air.largest_off",
      "air.peak_oxygen_all_air", "gas.ph_all_air", "filter.unionized_all_air", WATTS, "air.provided"), AIR),
    ("turning.", TURNING),
    (("filter.", "bed.", "ammonia_without_beds"), FILTER),
    ("tank.", PLAN),
)  # fmt: skip
"""The first figures of a row that fit tell when it can be judged."""


def mended(row: CheckRow) -> bool:
    """Whether what is bought can change how a check comes out."""
    if row.figure == BY_BACKUP:
        return True
    return (
        row.form != "notice" and row.figure not in NO_PART and not row.figure.startswith(NO_SECTION)
    )


@functools.cache
def rows_at(when: str) -> tuple[CheckRow | PartRow, ...]:
    """The checks and margins that can first be judged then; those of pump and pipe are judged apart."""
    found: tuple[CheckRow | PartRow, ...] = (*part_rows(), *(r for r in check_rows() if mended(r)))
    return tuple(row for row in found if _when(row) == when)


def _when(row: CheckRow | PartRow) -> str:
    part = isinstance(row, PartRow)
    figure = row.provided if isinstance(row, PartRow) else row.figure
    if not part and (figure == BY_BACKUP or "design.safety.backup" in row.when):
        return BACKUP
    return next((when for start, when in _FIRST if figure.startswith(start)), WATER)


def stood(sizing, row: CheckRow | PartRow):
    """Whether one margin or check stands: a truth value, or one for each design."""
    with np.errstate(all="ignore"):
        if isinstance(row, PartRow):
            return True if not applies(sizing, row.when) else margin_of(sizing, row) >= 1 - SLACK
        judged = stands(sizing, row)
        return True if judged is None else judged[0]


def margin_of(sizing, row: PartRow):
    """The margin of a part: what is there over what is needed, or the limit over what is there."""
    needed, there = value(sizing, row.required), value(sizing, row.provided)
    at_limit = row.form == "at most"
    return at_most.__wrapped__(needed, there) if at_limit else at_least.__wrapped__(there, needed)


def all_stand(sizing, when: str, count: int, failed: dict | None = None) -> np.ndarray:
    """Whether each of so many designs passes everything that can be judged then.

    ``failed`` counts by label how many of them each row alone refuses.
    """
    good = np.ones(count, bool)
    for row in rows_at(when):
        one = np.broadcast_to(np.asarray(stood(sizing, row), bool), (count,))
        if failed is not None and not one.all():
            failed[row.label] = failed.get(row.label, 0) + int(count - one.sum())
        good &= one
    return good


@functools.cache
def ratios() -> tuple[tuple[str, CheckRow | PartRow], ...]:
    """Every margin that is a ratio and that what is bought can change, by the name that a spread gives it."""
    found: list[tuple[str, CheckRow | PartRow]] = [(row.name, row) for row in part_rows()]
    for place, row in enumerate(check_rows()):
        if mended(row) and row.form in RATIOS and row.part != EMERGENCY:
            found.append((f"{row.part}-{place}", row))
    return tuple(
        (name, row) for name, row in found if _when(row) not in (PUMP, BACKUP, AIR) or name == "air"
    )
