"""Results as text for a terminal and as JSON; nothing is computed here."""

import json
import math

import numpy as np

from ..core.arrays import worst
from ..core.figures import figures_of
from ..core.kinds import Kind
from ..core.units import in_system, number, show
from ..design.model import arrays_of
from ..sizing.assumptions import assumptions
from ..sizing.margins import SLACK, Part, percent, worst_first
from ..sizing.stages.flow import CONSTITUENTS
from ..sizing.system import STAGES, Sizing, figure_at, figures
from ..sizing.working import PART_STAGES
from ..studies.heat.yearly import year_of
from .rules_of_thumb import cards
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


def table_lines(rows: list[tuple[str, ...]]) -> list[str]:
    """Rows of words in columns."""
    widths = [max(len(row[i]) for row in rows) for i in range(len(rows[0]))]
    return [
        "  ".join(c.ljust(w) for c, w in zip(row, widths, strict=True)).rstrip() for row in rows
    ]


def _heading(text: str) -> list[str]:
    return ["", text, "-" * len(text)]


def _value(value, kind: Kind | None, system: str) -> str:
    if value is None:
        return ""
    if kind is None or isinstance(value, str):
        return str(value)
    return show(float(np.max(value)), kind, system)


def size_text(sizing: Sizing, system: str, every: bool = False) -> str:
    """The sizing as tables for a terminal."""
    d = sizing.design
    lines = [d.name or "Your design"] + ([d.note] if d.note else [])
    lines += [
        "",
        f"{_value(sizing.stock.fish, _kind('stock.fish'), system)} {d.stock.species} of"
        f" {_value(d.goal.weight, sizing_kind('goal.weight'), system)} from each batch eat"
        f" {_value(sizing.stock.peak_feed, _kind('stock.peak_feed'), system)} on the biggest day;"
        f" {CONSTITUENTS[int(np.max(sizing.flow.governing))]} needs the most flow.",
    ]
    lines += year_lines(sizing, system)
    lines += _heading("Parts")
    rows = [("part", "needed", "given", "rule of thumb", "how it stands")]
    rows += [_part_row(part, system) for part in worst_first(sizing.parts)]
    lines += table_lines(rows)
    lines += _heading("Checks, worst first")
    lines += [f"{check.word:{WORD}}{check.words}" for check in sizing.checks]
    lines += _figure_tables(sizing, system, every)
    taken = assumptions(sizing, system)
    if taken:
        lines += _heading("What you left open, and what was taken")
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


def _kind(path: str) -> Kind | None:
    return figure_at(path).kind


def sizing_kind(path: str) -> Kind | None:
    """The kind of a choice."""
    from ..design.model import FIELDS  # noqa: PLC0415

    return FIELDS[path].kind


def _part_row(part: Part, system: str) -> tuple[str, ...]:
    at_most = part.form == "at most"
    needed = _value(part.required, part.kind, system)
    margin = worst(part.margin)
    share = percent(margin, part.form)
    return (
        part.label,
        f"at most {needed}" if at_most else needed,
        _value(part.provided, part.kind, system),
        _value(part.rule, part.kind, system),
        f"{part.word}, {share}",
    )


def _figure_tables(sizing: Sizing, system: str, every: bool) -> list[str]:
    lines, stage, rows = [], None, []

    def flush():
        if rows:
            lines.extend([*_heading(TITLES[stage]), *table_lines(rows)])

    for figure, value in figures(sizing):
        if not every and figure.path not in KEY_FIGURES:
            continue
        if figure.stage != stage:
            flush()
            stage, rows = figure.stage, []
        rows.append((figure.label, _value(value, figure.kind, system), figure.path))
    flush()
    return lines


def card_text(sizing: Sizing, wanted: str, system: str) -> str:
    """The by-hand card of a part, where it has one."""
    stage = PART_STAGES.get(wanted, wanted).split(".")[0]
    card = cards(sizing, system).get(stage)
    if card is None:
        return ""
    lines = _heading("By hand")
    lines += [*card.lines, f"Computed: {number(card.computed)} {card.unit} ({card.figure})."]
    return "\n".join(lines[1:])


# --- JSON ----------------------------------------------------------------------------------


def _plain(value):
    """A number that JSON can hold; what is not finite becomes null."""
    if isinstance(value, np.ndarray) and value.ndim:
        return [_plain(v) for v in value.tolist()]
    if isinstance(value, np.ndarray):
        value = value.item()
    if isinstance(value, (bool, np.bool_)):
        return bool(value)
    if isinstance(value, (int, float, np.number)):
        return float(value) if math.isfinite(value) else None
    return value


def _cell(value, kind: Kind | None, system: str):
    if value is None:
        return None
    if kind is None or isinstance(value, str):
        return {"value": value, "unit": "", "si": value}
    shown, unit = in_system(value, kind, system)
    return {"value": _plain(shown), "unit": unit, "si": _plain(value)}


def as_dict(sizing: Sizing, system: str) -> dict:
    """Every figure, part and check as plain data."""
    found: dict = {name: {} for name in STAGES}
    for figure, value in figures(sizing):
        found[figure.stage][figure.name] = _cell(value, figure.kind, system)
    found["parts"] = {
        part.name: {
            "required": _cell(part.required, part.kind, system),
            "provided": _cell(part.provided, part.kind, system),
            "rule": _cell(part.rule, part.kind, system),
            "margin": _plain(part.margin),
            "word": part.word,
            "owned": part.owned,
        }
        for part in sizing.parts
    }
    found["checks"] = [
        {
            "part": check.part, "kind": check.kind, "ok": _plain(check.ok),
            "margin": _plain(check.margin), "word": check.word, "words": check.words,
            "limit": check.limit, "source": check.source,
        }
        for check in sizing.checks
    ]  # fmt: skip
    if not arrays_of(sizing.design):
        found["year"] = row_of(year_of(sizing), system) | {"words": year_lines(sizing, system)}
    found["assumed"] = list(assumptions(sizing, system))
    return found


def as_json(sizing: Sizing, system: str) -> str:
    """The sizing as JSON text."""
    return json.dumps(as_dict(sizing, system), ensure_ascii=False, indent=1, allow_nan=False)


__all__ = ["SLACK", "as_dict", "as_json", "card_text", "size_text"]


def row_of(thing, system: str) -> dict:
    """Every figure of a stage by name, for JSON; words as they are."""
    return {
        f.name: _cell(getattr(thing, f.name), f.kind, system)
        for f in figures_of("", type(thing))
        if f.kind is not None or isinstance(getattr(thing, f.name), str)
    }
