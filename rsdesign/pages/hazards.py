"""Cautions for a page; their words stand in ``data/cautions.toml``."""

from ..cautions import caution, cautions

__all__ = ["caution", "cautions"]
