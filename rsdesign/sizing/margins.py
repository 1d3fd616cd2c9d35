"""What the sizing means: every part's margin, and every check in words, worst first."""

from ..core.kinds import KINDS
from .checks.forms import fill, run_checks
from .checks.rows import PartRow, applies, part_rows, value
from .judging import (
    ENOUGH,
    FIT,
    SHORT,
    SLACK,
    TIGHT,
    Check,
    Part,
    check_of_part,
    percent,
    short_percent,
    word,
    worst_first,
)


def parts(sizing) -> tuple[Part, ...]:
    """Every part of a sizing, as ``data/judged_parts.csv`` lists them."""
    return tuple(_part(sizing, row) for row in part_rows() if applies(sizing, row.when))


def _part(sizing, row: PartRow) -> Part:
    remark = fill(row.remark, sizing, None)
    return Part(
        name=row.name,
        label=row.label,
        kind=KINDS[row.kind],
        form=row.form,
        required=value(sizing, row.required),
        provided=value(sizing, row.provided),
        rule=value(sizing, row.rule) if row.rule else None,
        owned=applies(sizing, row.owned),
        capacity=bool(row.capacity),
        source=row.source,
        remark=f" {remark}" if remark else "",
    )


def checks(
    sizing, system: str | None = None, only: tuple[str, ...] = (), known: tuple[Part, ...] = ()
) -> tuple[Check, ...]:
    """Every check of a sizing, worst first.

    The words are in one display system, or in both; ``only`` keeps the parts named; ``known``
    spares judging the parts again.
    """
    of_parts = (
        check_of_part(part, system)
        for part in known or parts(sizing)
        if not only or part.name in only
    )
    found = (*of_parts, *run_checks(sizing, system, only))
    return tuple(sorted(found, key=lambda check: check.severity))


__all__ = [
    "ENOUGH", "FIT", "SHORT", "SLACK", "TIGHT", "Check", "Part", "checks", "parts", "percent", "short_percent",
    "word", "worst_first",
]  # fmt: skip
