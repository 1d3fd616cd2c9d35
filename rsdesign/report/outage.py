"""Outage and water studies as text for a terminal and as JSON; nothing is computed here."""

import json

from ..core.figures import figures_of
from ..core.units import number, show
from ..sizing.system import value_at
from ..studies.makeup import study as makeup
from ..studies.outage import study as outage
from . import makeup_words, outage_words
from . import ranges as bands
from .text import _heading, row_of, table_lines


def _show(thing, name: str, system: str) -> str:
    value = getattr(thing, name)
    kind = next(f.kind for f in figures_of("", type(thing)) if f.name == name)
    return str(value) if kind is None else show(value, kind, system)


def _lines(thing, system: str) -> list[str]:
    known = [f for f in figures_of("", type(thing)) if getattr(thing, f.name) is not None]
    rows = [(f.label, _show(thing, f.name, system)) for f in known]
    return table_lines(rows)


def outage_text(study: outage.OutageStudy, system: str) -> str:
    """The five failures, what must stand ready, and what moves the minutes."""
    lines = [study.sizing.design.name or "Your design", "", outage_words.answer(study, system)]
    lines += ["", outage_words.DRIVER, "", outage_words.what_counts(study, system)]
    lines += ["", outage_words.SIGNS]
    for box in outage_words.boxes(study, system):
        lines += [*_heading(box["title"]), box["stops"]]
        lines += table_lines([tuple(t) for t in box["times"]]) if box["times"] else []
        lines += [f"First: {box['first']}", *(f"- {words}" for words in box["then"])]
        lines += ["Then, in this order:"]
        lines += [f"{place}. {words}" for place, words in enumerate(box["restart"], 1)]
    lines += _heading("Other times, by name")
    lines += table_lines([tuple(row) for row in outage_words.other_times(study, system)])
    lines += _heading("Is someone there in time?")
    lines += [f"- {c.word}: {c.words}" for c in outage_words.checks(study)]
    lines += _heading("What must stand ready")
    lines += _lines(study.needs, system)
    lines += [f"{study.kind.label}: {study.kind.test} {study.kind.caution}"]
    lines += _heading("What moves the minutes to distress")
    lines += table_lines([(w, outage_words.clock(t)) for w, t in outage.sensitivity(study.sizing)])
    lines += _heading("Motors")
    names = ("name", "count", "power", "energy", "cost")
    lines += table_lines(
        [names, *(tuple(_motor(m, n, system) for n in names) for m in study.motors)]
    )
    return "\n".join(
        [*lines, "", "A teaching estimate. A licensed electrician wires backup power."]
    )


def _motor(motor, name: str, system: str) -> str:
    value = getattr(motor, name)
    return number(value) if name in ("count", "cost") else _show(motor, name, system)


def outage_json(study: outage.OutageStudy, system: str) -> str:
    """The study as JSON text."""
    found = {
        "answer": outage_words.answer(study, system),
        "minutes_to_act": {
            path.partition(".")[2]: float(value_at(study.sizing, path)) / 60
            for path in bands.MINUTES
        },
        "other_times": outage_words.other_times(study, system),
        "peak": row_of(study.peak, system),
        "today": row_of(study.today, system),
        "times": [row_of(t, system) for t in study.times],
        "today_times": [row_of(t, system) for t in study.today_times],
        "needs": row_of(study.needs, system),
        "others": row_of(study.others, system),
        "motors": [row_of(m, system) for m in study.motors],
        "boxes": outage_words.boxes(study, system),
        "checks": [{"ok": bool(c.ok), "words": c.words} for c in outage_words.checks(study)],
        "sensitivity": [
            {"change": w, "minutes": t / 60} for w, t in outage.sensitivity(study.sizing)
        ],
    }
    return json.dumps(found, ensure_ascii=False, indent=1, allow_nan=False)


def water_text(study: makeup.WaterStudy, system: str) -> str:
    """New water, salts, doses and the garden."""
    lines = [study.sizing.design.name or "Your design", "", makeup_words.answer(study, system), ""]
    lines += [f"- {words}" for words in makeup_words.findings(study, system)]
    lines += [*_heading("Water in and out"), *_lines(study.flows, system)]
    lines += _heading("What stays behind")
    lines += _table(study.salts, system)
    lines += _heading("Base on the biggest feed day")
    lines += _table(study.doses, system)
    lines += [*_heading("New water"), *_lines(study.source, system)]
    lines += [*_heading("Old water"), *_lines(study.discharge, system)]
    return "\n".join([*lines, "", "A teaching estimate. Local rules on wells and drains decide."])


def _table(things, system: str) -> list[str]:
    figures = figures_of("", type(things[0]))
    head = tuple(f.label.lower() for f in figures)
    rows = [tuple(_show(t, f.name, system) for f in figures) for t in things]
    return table_lines([head, *rows])


def water_json(study: makeup.WaterStudy, system: str) -> str:
    """The study as JSON text."""
    found = {
        "answer": makeup_words.answer(study, system),
        "findings": makeup_words.findings(study, system),
        "flows": row_of(study.flows, system),
        "salts": [row_of(s, system) for s in study.salts],
        "doses": [row_of(s, system) for s in study.doses],
        "source": row_of(study.source, system),
        "discharge": row_of(study.discharge, system),
        "hottest": row_of(study.hottest, system),
    }
    return json.dumps(found, ensure_ascii=False, indent=1, allow_nan=False)
