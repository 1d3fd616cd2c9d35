"""Figures as words for drawings and their tables."""

from ...core.kinds import KINDS
from ...core.units import feet_and_inches, show
from ...sizing.margins import percent
from ...sizing.system import Sizing, figure_at, value_at

INCH = 0.0254  # units of the source
"""A builder's tape is read to the inch, in meters to the centimeter."""


def tape(meters: float, system: str) -> str:
    """A length as it is read off a tape.

    >>> tape(0.8128, "us"), tape(0.8128, "metric")
    ('2 ft 8 in', '0.81 m')
    """
    if system == "us":
        return feet_and_inches(round(meters / INCH) * INCH)
    return show(round(meters, 2), KINDS["length"], "metric")


def said(sizing: Sizing, path: str, system: str, figures: int = 3) -> str:
    """A figure with its unit."""
    value, kind = value_at(sizing, path), figure_at(path).kind
    return (
        str(value) if kind is None or isinstance(value, str) else show(value, kind, system, figures)
    )


def rows(sizing: Sizing, paths: tuple[str, ...], system: str) -> tuple:
    """Figures as a table: what, how much."""
    return ("What", "How much"), [
        (figure_at(path).label, said(sizing, path, system)) for path in paths
    ]


def margin_table(parts, system: str) -> tuple[tuple[str, ...], list[tuple]]:
    """Every part with what is needed, what is given and how it stands, as the numbers of a drawing."""
    rows = [
        (p.label, show(p.required, p.kind, system), show(p.provided, p.kind, system),
         f"{p.word}, {percent(p.margin, p.form)}")
        for p in parts
    ]  # fmt: skip
    return ("Part", "Needed", "Given", "How it stands"), rows
