"""A sizing as text for a terminal and as JSON; nothing is computed here."""

import itertools

import numpy as np

from ..core.arrays import worst
from ..core.units import number
from ..design.model import FIELDS, arrays_of
from ..sizing.assumptions import assumptions
from ..sizing.margins import Part, percent, worst_first
from ..sizing.stages.flow import CONSTITUENTS
from ..sizing.system import STAGES, Sizing, figure_at, figures, value_at
from ..sizing.working import PART_STAGES
from ..studies.heat.yearly import year_of
from .rules_of_thumb import cards
from .tables import cell, heading, json_text, plain, row_of, section, title, value_text
from .year_words import lines as lines_of_year

TITLES = {
    "stock": "Fish and feed",
    "loads": "Waste and oxygen",
    "tank": "Tank",
    "turning": "Water in the tank",
    "air": "Oxygen and air",
    "gas": "Carbon dioxide, pH, ammonia limit",
    "flow": "Flow",
    "solids": "Solids",
    "filter": "Filter",
    "bed": "Air of the filter's own",
    "pump": "Pump and pipe",
    "water": "New water and base",
    "standby": "Power",
}

KEY_FIGURES = (
    "stock.fish", "stock.to_stock", "stock.cycle", "stock.peak_feed", "stock.peak_biomass",
    "loads.ammonia", "loads.solids", "loads.peak_oxygen", "tank.volume", "tank.width",
    "turning.turnover", "turning.rotation", "tank.floor_load", "solids.removed", "solids.sludge",
    "filter.required_volume", "filter.ammonia", "filter.removal", "air.saturation",
    "air.discharge_pressure", "air.wire_power", "gas.carbon_dioxide", "gas.ph",
    "gas.ammonia_limit", "pump.head", "pump.pipe", "pump.plate_watts", "water.exchange",
    "water.bicarbonate_book", "water.bicarbonate_net", "standby.daily_energy",
    "standby.minutes_peak", "standby.minutes_low", "standby.minutes_high",
)  # fmt: skip
"""The figures that a reader wants first; ``--figures`` shows them all."""


WORD = 14
"""Letters that the word of a check has room for."""


def size_text(sizing: Sizing, system: str, every: bool = False) -> str:
    """The sizing as tables for a terminal.

    Parameters:
        sizing: what ``size`` gives.
        system: "us" or "metric", the units in which figures are shown.
        every: True lists every figure, not the main ones alone.
    Returns: the text.

    Example: ``size_text(sizing, "us")``.
    """
    d = sizing.design
    lines = [title(d)] + ([d.note] if d.note else [])
    lines += [
        "",
        f"{_figure(sizing, 'stock.fish', system)} {d.stock.species} of"
        f" {value_text(d.goal.weight, FIELDS['goal.weight'].kind, system)} from each batch eat"
        f" {_figure(sizing, 'stock.peak_feed', system)} on the biggest day;"
        f" {CONSTITUENTS[int(np.max(sizing.flow.governing))]} needs the most flow.",
    ]
    lines += year_lines(sizing, system)
    rows: list[tuple[str, ...]] = [("part", "needed", "given", "rule of thumb", "how it stands")]
    rows += [_part_row(part, system) for part in worst_first(sizing.parts)]
    lines += section("Parts", rows)
    lines += heading("Checks, worst first")
    lines += [f"{check.word:{WORD}}{check.words}" for check in sizing.checks]
    lines += _figure_tables(sizing, system, every)
    taken = assumptions(sizing, system)
    if taken:
        lines += heading("What you left open, and what was taken")
        lines += [f"- {sentence}" for sentence in taken]
    lines += ["", *CAUTIONS]
    return "\n".join(lines)


def year_lines(sizing: Sizing, system: str) -> list[str]:
    """What the year rests on and the hottest week, for one design; no lines for many."""
    return [] if arrays_of(sizing.design) else lines_of_year(sizing, system)


CAUTIONS = (
    "A teaching estimate. Before you build: fish and wildlife agency for the permit, licensed",
    "electrician for power near water, structural engineer for any floor above ground. Fence deep",
    "water from children. Keep generators outdoors. Never enter a sludge tank or sump.",
)


def _figure(sizing: Sizing, path: str, system: str) -> str:
    return value_text(value_at(sizing, path), figure_at(path).kind, system)


def _part_row(part: Part, system: str) -> tuple[str, ...]:
    at_most = part.form == "at most"
    needed = value_text(part.required, part.kind, system)
    margin = worst(part.margin)
    share = percent(margin, part.form)
    return (
        part.label,
        f"at most {needed}" if at_most else needed,
        value_text(part.provided, part.kind, system),
        value_text(part.rule, part.kind, system),
        f"{part.word}, {share}",
    )


def _figure_tables(sizing: Sizing, system: str, every: bool) -> list[str]:
    shown = [(f, v) for f, v in figures(sizing) if every or f.path in KEY_FIGURES]
    lines = []
    for stage, pairs in itertools.groupby(shown, key=lambda pair: pair[0].stage):
        rows = [(f.label, value_text(v, f.kind, system), f.path) for f, v in pairs]
        lines += section(TITLES[stage], rows)
    return lines


def card_text(sizing: Sizing, wanted: str, system: str) -> str:
    """The by-hand card of a part, where it has one."""
    stage = PART_STAGES.get(wanted, wanted).split(".")[0]
    card = cards(sizing, system).get(stage)
    if card is None:
        return ""
    lines = heading("By hand")
    lines += [*card.lines, f"Computed: {number(card.computed)} {card.unit} ({card.figure})."]
    return "\n".join(lines[1:])


def as_dict(sizing: Sizing, system: str) -> dict:
    """Every figure, part and check as plain data."""
    found: dict = {name: {} for name in STAGES}
    for figure, value in figures(sizing):
        found[figure.stage][figure.name] = cell(value, figure.kind, system)
    found["parts"] = {
        part.name: {
            "required": cell(part.required, part.kind, system),
            "provided": cell(part.provided, part.kind, system),
            "rule": cell(part.rule, part.kind, system),
            "margin": plain(part.margin),
            "word": part.word,
            "owned": part.owned,
        }
        for part in sizing.parts
    }
    found["checks"] = [
        {
            "part": check.part, "kind": check.kind, "ok": plain(check.ok),
            "margin": plain(check.margin), "word": check.word, "words": check.words,
            "limit": check.limit, "source": check.source,
        }
        for check in sizing.checks
    ]  # fmt: skip
    if not arrays_of(sizing.design):
        found["year"] = row_of(year_of(sizing), system) | {"words": year_lines(sizing, system)}
    found["assumed"] = list(assumptions(sizing, system))
    return found


def as_json(sizing: Sizing, system: str) -> str:
    """The sizing as JSON text.

    Parameters:
        sizing: what ``size`` gives.
        system: "us" or "metric", the units in which figures are shown.
    Returns: the text.

    Example: ``as_json(sizing, "us")``.
    """
    return json_text(as_dict(sizing, system))
