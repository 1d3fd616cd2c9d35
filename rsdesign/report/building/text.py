"""The lists of a builder as text for a terminal, as JSON and as CSV."""

import csv
import io

from ...building.row import GROUPS
from ...core.units import from_plain, number
from .. import tables
from ..cost import money
from . import rows
from .all_lists import Building
from .sums import two_sums

CHECKED = "Every price is invented until it is yours. A licensed electrician checks the circuits."


def parts_text(found: Building, system: str) -> str:
    """Everything to buy, to cut, to drill and to do, in its order.

    Parameters:
        found: what ``building`` gives.
        system: "us" or "metric", the units in which figures are shown.
    Returns: the text.

    Example: ``parts_text(building(sizing), "us")``.
    """
    sizing = found.layout.sizing
    mark = sizing.design.prices.currency
    lines = [tables.title(sizing.design), "", first_line(found, mark), CHECKED]
    wrong = rows.problems(found.layout, system)
    if wrong:
        lines += [*tables.heading("Mend these first: it cannot be built as it stands"),
                  *(f"- {words}" for words in wrong)]  # fmt: skip
    listed = [rows.vessels(found.layout, system), *rows.purchases(found.bill, system, mark),
              rows.compared(found.bill, mark), rows.runs(found.layout, system),
              rows.openers(found.layout), *rows.cut_list(found.cuts, system), rows.holes(found.layout, system),
              rows.circuit_list(found), rows.weight_list(found, system), rows.tool_list(found)]  # fmt: skip
    for one in listed:
        lines += tables.section(one.caption, [one.headings, *one.rows])
        if one.caption.startswith("Pipes:"):
            lines += [f"- {words}" for words in rows.notes(found.layout, system)]
    lines += tables.heading("Build in this order")
    for step, what, time, people, care in rows.step_list(found).rows:
        lines += [f"{step}: {time}, people: {people}. {what}", f"   Take care: {care}"]
    return "\n".join(lines)


def first_line(found: Building, mark: str) -> str:
    """What all of it costs and how long it takes, in one sentence."""
    return (
        f"{two_sums(found, mark)} With this list a full year costs {money(found.bill.more_a_year, mark)} more than the budget says."
        f" To build it takes {number(found.time / 3600, 2)} hours of work, all people together."
    )


def as_dict(found: Building, system: str) -> dict:
    """All lists as plain data; lengths and heights in metres, the rest in the units named beside it."""
    bill, layout = found.bill, found.layout
    return {
        "currency": layout.sizing.design.prices.currency,
        "total": bill.total,
        "budget_first_cost": bill.plan_total,
        "more_a_year": bill.more_a_year,
        "problems": rows.problems(layout, system),
        "notes": rows.notes(layout, system),
        "vessels": [
            {"name": v.name, "kind": v.kind, "count": v.count, "shape": v.shape, "across_m": v.across,
             "length_m": v.length, "depth_m": v.depth, "level_m": v.level, "floor_m": v.floor, "rim_m": v.rim,
             "cone_m": v.cone, "pit_m": v.pit, "stand_m": v.stand,
             "holes": [{"for": h.purpose, "pipe": h.size, "drill_m": h.diameter, "height_m": h.height,
                        "side": h.side, "count": h.count} for h in v.holes]}
            for v in layout.vessels
        ],
        "runs": [
            {"name": r.name, "from": r.source, "to": r.target, "pipe": r.pipe, "count": r.count,
             "length_m": r.length, "in_all_m": r.in_all, "kind": r.kind, "fall_m": r.fall, "uses_m": r.uses,
             "legs": [{"way": leg.way, "length_m": leg.length} for leg in r.legs],
             "fittings": [{"kind": f.kind, "size": f.size, "count": f.count, "why": f.why} for f in r.fittings],
             "why": r.why}
            for r in layout.runs
        ],
        "parts": [_part(row, system) for row in bill.rows],
        "differences": [{"part": a, "budget": b, "list": c, "why": d} for a, b, c, d in bill.differences()],
        "pieces": [{"run": p.run, "pipe": p.pipe, "length_m": p.length, "count": p.count}
                   for p in found.cuts.pieces],
        "lengths": [{"pipe": one.pipe, "length_m": one.length, "pieces_m": [x for x, _ in one.pieces],
                     "left_m": one.left} for one in found.cuts.stock],
        "circuits": [
            {"number": c.number, "feeds": c.feeds, "watts": c.watts, "volts": c.volts, "amperes": c.amperes,
             "breaker": c.breaker, "ground_fault": c.ground_fault} for c in found.circuits
        ],
        "weights": [{"name": w.name, "count": w.count, "water_kg": w.water, "all_kg": w.total,
                     "load_kg_m2": w.load, "load_kN_m2": w.pressure / 1e3} for w in found.weights],
        "steps": [{"step": s.row.label, "hours": s.time / 3600, "people": float(s.row.people),
                   "what": s.row.what, "done": s.row.done} for s in found.steps],
        "tools": [t.label for t in found.tools],
    }  # fmt: skip


def _part(row, system: str) -> dict:
    unit = row.unit(system)
    return {
        "order": GROUPS[row.group], "part": row.label, "size": row.size.said(system),
        "note": row.note.said(system),
        "count": float(from_plain(row.count, unit)), "unit": unit.label or "each",
        "price": row.price * unit.factor, "amount": row.amount, "for": row.used, "why": row.why,
        "budget": row.budget, "own_price": row.own, "spare": row.spare,
    }  # fmt: skip


def parts_json(found: Building, system: str) -> str:
    """The lists as JSON text."""
    return tables.json_text(as_dict(found, system))


def parts_csv(found: Building, system: str) -> str:
    """What is bought as a table for a spreadsheet, a row for each purchase."""
    out = io.StringIO()
    listed = [_part(row, system) for row in found.bill.rows]
    writer = csv.DictWriter(out, list(listed[0]), lineterminator="\n")
    writer.writeheader()
    writer.writerows(listed)
    return out.getvalue()
