"""Up to four kept designs beside the present one: small drawings, and only what differs."""

import functools

from ..core.choices import DesignError
from ..design.link import design_of
from ..report.drawings.small import thumbnails
from ..sizing.system import Sizing, size
from ..studies.differences import Difference, differences
from .session import MAX_PINS, Session

WIDTH = 220.0
"""Width of a small drawing [px]."""
MANY = 32
"""Kept designs whose sizing is remembered."""


def comparison(session: Session) -> dict:
    """The present design and those that are kept, each with a drawing, and the rows in which they differ.

    A kept design that this version cannot compute stays in its column, with the reason, so that it
    can be taken away.
    """
    columns = [_column("This design", None)]
    sizings: list[Sizing | None] = [session.sizing]
    for index, (name, token) in enumerate(session.pins):
        try:
            sizings.append(_sized(token))
            columns.append(_column(name, index))
        except DesignError as wrong:
            sizings.append(None)
            columns.append(_column(name, index, str(wrong)))
    if session.pins:
        _draw(columns, sizings)
    rows = _rows(sizings, session)
    compared = sum(s is not None for s in sizings) > 1
    return {
        "columns": columns,
        "rows": rows,
        "same": compared and not rows,
        "full": len(session.pins) >= MAX_PINS,
    }


def _column(name: str, index: int | None, wrong: str = "") -> dict:
    return {"name": name, "index": index, "svg": "", "wrong": wrong}


def _draw(columns: list[dict], sizings: list[Sizing | None]) -> None:
    """A small drawing in every column whose design can be computed, all to one scale."""
    known = [
        (column, sizing)
        for column, sizing in zip(columns, sizings, strict=True)
        if sizing is not None
    ]
    drawn = thumbnails([sizing for _, sizing in known], WIDTH, "rsc")
    for (column, _), svg in zip(known, drawn, strict=True):
        column["svg"] = svg


@functools.lru_cache(maxsize=MANY)
def _sized(token: str) -> Sizing:
    return size(design_of(token))


def _rows(sizings: list[Sizing | None], session: Session) -> list[dict]:
    """The choices that differ, then the figures; a design that cannot be computed has empty cells."""
    known = [s for s in sizings if s is not None]
    if len(known) < 2:
        return []
    found = differences(known)
    rows = [("choice", row) for row in found.choices] + [("figure", row) for row in found.figures]
    made: list[dict] = []
    for kind, row in rows:
        one = _row(kind, row, sizings, session)
        if all(
            one["cells"] != other["cells"] for other in made
        ):  # fish as a choice and as a figure
            made.append(one)
    return made


def _row(kind: str, row: Difference, sizings: list[Sizing | None], session: Session) -> dict:
    words = iter(row.words(session.system, session.design.prices.currency))
    chosen = iter(row.chosen)
    cells = []
    for sizing in sizings:
        if sizing is None:
            cells.append("")
            continue
        text, ours = next(words), next(chosen)
        cells.append(f"{text}, we chose" if ours and text != "not told" else text)
    return {"label": row.label, "kind": kind, "cells": cells}
