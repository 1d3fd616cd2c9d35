"""The page on how sure a design is: its charts, its headline, and what to measure first.

While a thumb moves there are fewer draws, of the same seed; all of them follow when it is let go.
"""

import numpy as np

from ..core.choices import DesignError
from ..core.kinds import KINDS
from ..core.units import from_plain, number
from ..report.drawings.chances import ChanceBar, Swing, chances_chart, swings_chart
from ..report.spread import CHANCE_ONLY, NEARLY_KEPT, NOT_BY_CHANCE, cost_quantiles, percent
from ..studies.costfigures import shown_cost
from ..studies.spread.frames import measure_rows, share_rows
from ..studies.spread.study import BANDS, COST, DRAWS, MARGIN, SEED, Spread, computed
from ..studies.stacked import parts_today
from .pictures import as_table
from .spec import worded

FEW = 256
"""Draws while a thumb moves."""
BARS, BARS_PHONE = 9, 5
SWINGS, SWINGS_PHONE = 6, 5
LISTED = 5
"""Inputs that are listed to be measured."""
MINUTES = KINDS["minutes"].shown("us")
ALIKE = 0.97
"""Two checks that stand or fall together in so many draws are drawn once."""
OUTCOMES = {MARGIN: "the tightest check", COST: "what fish cost"}
PAIRS = 512
"""Pairs of draws for the shares of the variance: with twenty runs of each, a third of a second."""
SHORTEST = 0.005
"""A share of the variance below this is not worth a row."""


def spread_of(session, quick: bool) -> Spread | None:
    """The spread of a session's design; the last one is kept, since most messages change nothing of it."""
    if session.sizing is None:
        return None
    key = (session.sizing, session.measured)
    for few in (False, True) if quick else (False,):
        kept = session.spreads.get(few)
        if kept is not None and kept[0][0] is key[0] and kept[0][1] == key[1]:
            return kept[1]
    quick = quick and False in session.spreads  # what fish cost is then known, from the last rest
    found = computed(session.sizing, FEW if quick else DRAWS, SEED, session.measured, not quick)
    session.spreads[quick] = (key, found)
    return found


def _with_cost(session, found: Spread) -> Spread:
    """The draws that tell what fish cost: while a thumb moves, those of the last rest."""
    return found if found.base.weather is not None else session.spreads[False][1]


def moves(session) -> dict:
    """The blocks that follow each move of a thumb."""
    return _blocks(session, spread_of(session, True))


def exact(session) -> dict:
    """The blocks of all draws, and what to measure first."""
    found = spread_of(session, False)
    return _blocks(session, found) | {"measure": measure(session, found)}


def _blocks(session, found: Spread | None) -> dict:
    return {"headline": headline(session, found), "picture": picture(session, found),
            "moment": None, "course": None}  # fmt: skip


def headline(session, found: Spread | None) -> list[dict]:
    """The figures of the first screen; no chance is told of the emergency."""
    if found is None:
        return []
    short = len(found.failing)
    first = _head("All checks stand", found.all_stand, f"in {found.draws:,} draws" if not short else
                  "1 is short now" if short == 1 else f"{short} are short now")  # fmt: skip
    least = min(found.judged, key=lambda one: found.chance(one.name))
    second = (
        _head("All the others", found.kept_stand, "all at once")
        if short
        else _head("Least sure", found.chance(least.name), least.label.lower())
    )
    shown = [first, second, _cost(session, _with_cost(session, found)), _minutes(found)]
    return [{"change": "", **one} for one in shown]


def _head(label: str, chance: float, note: str) -> dict:
    return {"path": label, "label": label,
            "value": percent(chance).removesuffix(" %"), "unit": "%", "note": note}  # fmt: skip


def _cost(session, found: Spread) -> dict:
    """The band of what fish cost, in whole sums where they are large."""
    band, kind = cost_quantiles(found), KINDS["price of mass"]
    head = {
        "path": "cost",
        "label": worded("Each {pound|kilogram}", session.system),
        "note": "9 draws in 10",
    }
    if band is None:
        return head | {"value": "no answer", "unit": ""}
    unit, mark = kind.shown(session.system), found.sizing.design.prices.currency
    low, high = (number(float(from_plain(x, unit)), 2) for x in (band[0], band[2]))
    return head | {"value": f"{mark}{low} to {high}", "unit": ""}


def _minutes(found: Spread) -> dict:
    """The minutes to act when the power fails, as a band; no chance is told of them."""
    low, _, high = (
        number(float(from_plain(float(x), MINUTES)), 2)
        for x in np.quantile(found.outcomes.minutes, BANDS)
    )
    return {"path": "minutes", "label": "Power fails: act in", "value": f"{low} to {high}", "unit": "min",
            "note": "plan for the least"}  # fmt: skip


def picture(session, found: Spread | None) -> dict | None:
    """The chance of each check, and below it what moves the cost; on a phone the second one is folded."""
    if found is None:
        return None
    drawn, more = _chances(session, found), _swings(session, found)
    below = more.svg if more else ""
    if session.narrow:
        return {"svg": drawn.svg, "plan": below, "sentence": drawn.sentence, "table": as_table(drawn.table),
                "plan_name": "What moves the cost"}  # fmt: skip
    return {"svg": drawn.svg + below, "plan": "", "sentence": f"{drawn.sentence} {more.sentence if more else ''}",
            "table": as_table(drawn.table)}  # fmt: skip


def _chances(session, found: Spread):
    """The checks that are least likely to stand, those that stand and fall together once."""
    order = sorted(found.judged, key=lambda one: found.chance(one.name))
    shown: list = []
    for one in sorted(
        order, key=lambda one: (one.stands, one.row is not None)
    ):  # parts by their short names
        row = found.outcomes.stands[one.name]
        twin = any(np.mean(row == found.outcomes.stands[other.name]) > ALIKE for other in shown)
        if not twin or not one.stands or row.all():
            shown.append(one)
    shown = sorted(shown, key=lambda one: found.chance(one.name))
    shown = shown[: BARS_PHONE if session.narrow else BARS]
    bars = [
        ChanceBar(one.label if one.stands else f"{one.label}, short now", found.chance(one.name),
                  percent(found.chance(one.name)))
        for one in shown
    ]  # fmt: skip
    words = _said(found, next((one for one in shown if one.stands), None))
    rows = [
        [one.label, percent(found.chance(one.name)), "stands" if one.stands else "short"]
        for one in order
    ]
    table = (("Check", "Chance that it stands", "As planned"), rows)
    return chances_chart(bars, session.width, words, table)


def _said(found: Spread, least) -> str:
    """What the chances come to, in a sentence or two."""
    short = len(found.failing)
    first = (
        ""
        if not short
        else "One check is short now. "
        if short == 1
        else f"{short} checks are short now. "
    )
    if least is None:
        return first.strip()
    if found.chance(least.name) == 1.0:
        return f"{first}All that stand now stand in every draw."
    return f"{first}{least.label} is least sure to stand, in {percent(found.chance(least.name))} of draws."


def _swings(session, found: Spread):
    """What fish cost with one input at a time at its ends; None where some draws have no cost."""
    found = _with_cost(session, found)
    planned, ends = found.as_planned(COST), found.one_at_a_time(COST)
    if not (np.isfinite(planned) and np.all(np.isfinite(ends))):
        return None
    kind, system, mark = KINDS["price of mass"], session.system, found.sizing.design.prices.currency
    unit = kind.shown(system)
    scale = 1.0 / unit.factor
    order = np.argsort(-np.abs(ends[:, 1] - ends[:, 0]))[
        : SWINGS_PHONE if session.narrow else SWINGS
    ]
    swings = [Swing(found.rows[k].label, *(float(x) for x in ends[k] * scale)) for k in order]
    first = order[0]
    low, high = (" ".join(shown_cost(x, kind, system, mark)) for x in sorted(ends[first]))
    words = f"Alone, {swings[0].label.lower()} moves the cost most: {low} to {high}."
    rows = [[s.label, number(s.low), number(s.high)] for s in swings]
    heads = ("Input", f"Cost at its low tenth, {mark} {unit.label}", "At its high tenth")
    return swings_chart(
        swings, planned * scale, f"{mark} {unit.label}", session.width, words, (heads, rows)
    )


def measure(session, found: Spread | None) -> dict | None:
    """What to measure first: how much each narrows the result that is asked about, and how to do it."""
    if found is None:
        return None
    asked = _asked(session)
    known = {row.path: row.label for row in found.rows if row.path in found.known}
    worth = [
        row for row in measure_rows(found, asked) if row["measure"] and row["narrows"] >= SHORTEST
    ][:LISTED]
    return {
        "result": asked,
        "results": [{"value": name, "label": words} for name, words in OUTCOMES.items()],
        "rows": [
            {"path": row["path"], "label": row["input"], "narrows": percent(row["narrows"]),
             "reach": round(float(row["narrows"] / worth[0]["narrows"]), 4), "measure": row["measure"],
             "chances": f"All keep standing in {percent(row['chance_low'])} of draws where it is low, in"
             f" {percent(row['chance_high'])} where it is high"}
            for row in worth
        ],
        "known": [{"path": path, "label": known[path]} for path in found.known],
        "build": bool(set(parts_today(session.sizing)) - {"tank.length"}),
        "shares": _shares(session, asked),
        "notes": [CHANCE_ONLY, NEARLY_KEPT, NOT_BY_CHANCE],
    }  # fmt: skip


def _asked(session) -> str:
    """The result that is to be narrowed."""
    asked = str(session.answers.get("spread.result", MARGIN))
    return asked if asked in OUTCOMES else MARGIN


def _of(session) -> tuple:
    """What shares are of: another design, another result or another measured input asks for new ones."""
    return (session.sizing.design, _asked(session), session.measured)


def shares_now(session) -> tuple:
    """The shares of the variance of what is asked about, with what they are of.  ``DesignError`` where there are none."""
    found = spread_of(session, False)
    if found is None:
        raise DesignError("There is no design yet to work out shares of.")
    rows, _, _ = share_rows(found, _asked(session), PAIRS)
    return _of(session), rows


def _shares(session, asked: str) -> dict:
    """The first and the total share of each input, where they were asked for; without, how to ask."""
    rows = session.shared[1] if session.shared and session.shared[0] == _of(session) else []
    return {
        "headings": ["Input", "Goes once known", "Stays while unknown"],
        "rows": [
            [row["input"], _percent_of_variance(row["when_known"]), _percent_of_variance(row["total"])]
            for row in rows
            if row["total"] >= SHORTEST
        ],
        "words": f"Shares of the variance of {OUTCOMES[asked]}, by Sobol: the first is what an input does alone, the"
        " second what it does alone and with others. A bar of one input at a time hides the difference.",
    }  # fmt: skip


def _percent_of_variance(share: float) -> str:
    """A share in whole percent; draws scatter, so a small one may come out below nothing."""
    return percent(max(float(share), 0.0))
