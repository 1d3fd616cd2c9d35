"""Cautions, read from ``data/cautions.toml``: each says where it is shown and names whom to ask."""

import functools
import tomllib

from .folders import data_folder

HAND_OUT = "hand-out"
"""The place beyond the pages of the series and the commands."""
COMMANDS = ("startup", "season", "day", "log", "spread", "choose")
"""Commands that end with the cautions of their name; a page of that name shows the same ones."""


@functools.cache
def cautions() -> dict[str, dict]:
    """Every caution by its name."""
    with open(data_folder() / "cautions.toml", "rb") as file:
        return tomllib.load(file)


def caution(name: str) -> dict:
    """One caution: what to know, and whom to ask."""
    row = cautions()[name]
    return {"hazard": row["hazard"], "fact": row["fact"], "ask": row["authority"]}


def cautions_on(place: str) -> list[dict]:
    """The cautions shown at a place: a page or a command by its name, or the hand-out."""
    return [caution(name) for name, row in cautions().items() if place in row["shown"]]


def told_at(place: str) -> list[str]:
    """The cautions of a place as lines of text, each with whom to ask."""
    return [f"{c['hazard']}: {c['fact']} Ask: {c['ask']}." for c in cautions_on(place)]
