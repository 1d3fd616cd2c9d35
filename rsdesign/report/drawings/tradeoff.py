"""Two results along a choice, where a part falls short shaded, the present design marked."""

import numpy as np

from ...core.units import from_plain, number, show
from ...design.model import FIELDS, value_of
from ...sizing.system import Sizing, figure_at, value_at
from ...studies.enterprise import enterprise
from ...studies.sweep import Sweep
from ..cost import money
from .look import Chart, axis, here, layout, line, shade

SHOWN = 9
"""Rows of the table."""


def chart(sizing: Sizing, swept: Sweep, first: str, second: str, system: str) -> Chart:
    """Two figures, each on its own axis, along a sweep."""
    entry = FIELDS[swept.path]
    assert entry.kind is not None, "a sweep goes over numbers"
    unit = entry.kind.shown(system)
    x = from_plain(swept.values, unit)
    kinds = [figure_at(path).kind for path in (first, second)]
    ys = [from_plain(swept.result(path), kind.shown(system))
          for path, kind in zip((first, second), kinds, strict=True)]  # fmt: skip
    labels = [figure_at(path).label for path in (first, second)]
    data = [
        trace
        for y, label, place in zip(ys, labels, (0, 2), strict=True)
        for trace in line(x, _known(y), label, place, second=place == 2)
    ]
    now = value_of(sizing.design, swept.path)
    if isinstance(now, (int, float)):
        at = from_plain(float(now), unit)
        value = from_plain(float(value_at(sizing, first)), kinds[0].shown(system))
        if np.isfinite(value):
            data.append(here(at, value, "now"))
    titles = [f"{label}{', ' if k.shown(system).label else ''}{k.shown(system).label}"
              for label, k in zip(labels, kinds, strict=True)]  # fmt: skip
    figure = {
        "data": data,
        "layout": layout(axis(f"{entry.choice.label}, {unit.label}".rstrip(", ")), axis(titles[0]),
                         axis(titles[1]), shapes=_bands(x, swept.short)),
    }  # fmt: skip
    return Chart(figure, _sentence(swept, entry, labels, ys, kinds, system), _table(
        swept, entry, (first, second), labels, system))  # fmt: skip


def _known(y: np.ndarray) -> list:
    """Numbers, and nothing where there is no answer."""
    return [float(v) if np.isfinite(v) else None for v in y]


def _bands(x: np.ndarray, short: np.ndarray) -> list[dict]:
    """A band for each stretch where some part is short."""
    found, start = [], None
    for place, bad in enumerate([*short.tolist(), False]):
        if bad and start is None:
            start = place
        if not bad and start is not None:
            found.append(shade(float(x[start]), float(x[min(place, len(x) - 1)])))
            start = None
    return found


def _sentence(swept: Sweep, entry, labels, ys, kinds, system: str) -> str:
    words = []
    for label, y, kind in zip(labels, ys, kinds, strict=True):
        unit = kind.shown(system).label
        words.append(
            f"{label[0].lower()}{label[1:]} goes from {number(y[0])} to {number(y[-1])} {unit}".rstrip()
        )
    low, high = (show(swept.values[i], entry.kind, system) for i in (0, -1))
    text = f"As {entry.choice.label.lower()} goes from {low} to {high}, {words[0]} and {words[1]}"
    if not swept.short.any():
        return text + "; no part falls short on the way."
    if swept.short.all():
        return text + "; some part is short all the way."
    place = int(np.argmax(swept.short != swept.short[0]))
    side = "from" if not swept.short[0] else "below"
    at = show(swept.values[place], entry.kind, system)
    what = swept.first_short[place if not swept.short[0] else 0].lower()
    return f"{text}; {side} {at} the {what} falls short (shaded)."


def _table(swept: Sweep, entry, paths, labels, system: str) -> tuple:
    places = np.linspace(0, len(swept.values) - 1, SHOWN).round().astype(int)
    rows = []
    first_cost = np.broadcast_to(enterprise(swept.sizing).investment, swept.values.shape)
    mark = swept.sizing.design.prices.currency
    for place in places:
        cells = [show(swept.result(p)[place], figure_at(p).kind, system) for p in paths]
        rows.append((show(swept.values[place], entry.kind, system), *cells,
                     money(first_cost[place], mark),
                     f"{swept.first_short[place]} short" if swept.short[place] else "enough"))  # fmt: skip
    return (entry.choice.label, *labels, "First cost", "Parts"), rows
