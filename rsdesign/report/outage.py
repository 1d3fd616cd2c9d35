"""An outage study as text for a terminal and as JSON; nothing is computed here."""

from ..core.units import number
from ..sizing.system import value_at
from ..studies.outage import study as outage
from . import outage_words, tables
from . import ranges as bands


def outage_text(study: outage.OutageStudy, system: str) -> str:
    """The five failures, what must stand ready, and what moves the minutes.

    Parameters:
        study: what ``rsdesign.outage`` gives.
        system: "us" or "metric", the units in which figures are shown.
    Returns: the text.

    Example: ``outage_text(study, "us")``.
    """
    lines = [tables.title(study.sizing.design), "", outage_words.answer(study, system)]
    lines += ["", outage_words.DRIVER, "", outage_words.what_counts(study, system)]
    lines += ["", outage_words.SIGNS]
    for box in outage_words.boxes(study, system):
        lines += [*tables.heading(box["title"]), box["stops"]]
        lines += tables.table_lines([tuple(t) for t in box["times"]]) if box["times"] else []
        lines += [f"First: {box['first']}", *(f"- {words}" for words in box["then"])]
        lines += ["Then, in this order:"]
        lines += [f"{place}. {words}" for place, words in enumerate(box["restart"], 1)]
    others = [tuple(row) for row in outage_words.other_times(study, system)]
    lines += tables.section("Other times, by name", others)
    lines += tables.heading("Is someone there in time?")
    lines += [f"- {c.word}: {c.words}" for c in outage_words.checks(study)]
    lines += [*tables.heading("What must stand ready"), *tables.figure_lines(study.needs, system)]
    lines += [f"{study.kind.label}: {study.kind.test} {study.kind.caution}"]
    moved = [(w, outage_words.clock(t)) for w, t in outage.sensitivity(study.sizing)]
    lines += tables.section("What moves the minutes to distress", moved)
    names = ("name", "count", "power", "energy", "cost")
    motors = [tuple(_motor(m, n, system) for n in names) for m in study.motors]
    lines += tables.section("Motors", [names, *motors])
    return "\n".join(
        [*lines, "", "A teaching estimate. A licensed electrician wires backup power."]
    )


def _motor(motor, name: str, system: str) -> str:
    value = getattr(motor, name)
    return number(value) if name in ("count", "cost") else tables.figure_text(motor, name, system)


def outage_json(study: outage.OutageStudy, system: str) -> str:
    """The outage study as JSON text.

    Parameters:
        study: what ``rsdesign.outage`` gives.
        system: "us" or "metric", the units in which figures are shown.
    Returns: the text.

    Example: ``outage_json(study, "us")``.
    """
    found = {
        "answer": outage_words.answer(study, system),
        "minutes_to_act": {
            path.partition(".")[2]: float(value_at(study.sizing, path)) / 60
            for path in bands.MINUTES
        },
        "other_times": outage_words.other_times(study, system),
        "peak": tables.row_of(study.peak, system),
        "today": tables.row_of(study.today, system),
        "times": [tables.row_of(t, system) for t in study.times],
        "today_times": [tables.row_of(t, system) for t in study.today_times],
        "needs": tables.row_of(study.needs, system),
        "others": tables.row_of(study.others, system),
        "motors": [tables.row_of(m, system) for m in study.motors],
        "boxes": outage_words.boxes(study, system),
        "checks": [{"ok": bool(c.ok), "words": c.words} for c in outage_words.checks(study)],
        "sensitivity": [
            {"change": w, "minutes": t / 60} for w, t in outage.sensitivity(study.sizing)
        ],
    }
    return tables.json_text(found)
