"""Cautions, read from ``data/cautions.toml``: each names whom to ask."""

import functools
import tomllib

from .tables import data_folder


@functools.cache
def cautions() -> dict[str, dict]:
    """Every caution by its name."""
    with open(data_folder() / "cautions.toml", "rb") as file:
        return tomllib.load(file)


def caution(name: str) -> dict:
    """One caution: what to know, and whom to ask."""
    row = cautions()[name]
    return {"hazard": row["hazard"], "fact": row["fact"], "ask": row["authority"]}
