"""Figures as words for drawings and their tables."""

from ...core.units import show
from ...sizing.system import Sizing, figure_at, value_at


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
