"""The blocks of the log: where a test is typed, what the log shows, what it tunes."""

from ..records.columns import bases, charts, columns, measured
from ..records.findings import log_findings
from ..records.next_steps import next_tests
from ..report.log import last_tests
from ..report.tuned import numbers_table, reading
from .pictures import as_table
from .session import Session

FIRST = ("temperature", "ph", "tan", "nitrite", "nitrate", "oxygen", "feed", "deaths")
"""Columns of the form that stand open; the others are folded."""
MOST_PROBLEMS = 12
TOLD = (
    "Your log stays in this browser, in its own storage. Its numbers and dates go to the program that draws this"
    " page, on the machine that you opened it from; nothing is kept there. Notes and columns that are not known"
    " never leave the browser."
)
"""What happens to what is typed."""


def log_entry(session: Session) -> dict:
    """The form of one test: columns with unit and help, the kits, what was read, what was not."""
    log, system = session.log, session.system
    return {
        "form": "log_entry",
        "title": "Type a test",
        "columns": [_column(name, system) for name in measured()],
        "words": sorted({w for c in columns().values() if c.name != "note" for w in _words(c)}),
        "places": _places(session),
        "read": len(log) if log is not None else 0,
        "of": session.log_text if session.log_is_sample else "",
        "sample": session.log_is_sample,
        "problems": [p.sentence for p in log.problems[:MOST_PROBLEMS]] if log is not None else [],
        "told": TOLD,
    }


def _words(column) -> list[str]:
    """How a heading of a column that is read may begin."""
    return [*column.words.split("|"), column.label, column.name]


def _column(name: str, system: str) -> dict:
    column = columns()[name]
    kind = column.quantity
    unit = kind.shown(system).label
    head = column.heading.partition(" (")[0]
    return {
        "name": name,
        "label": column.label if name == "ph" else column.label[0].upper() + column.label[1:],
        "unit": unit,
        "help": column.help,
        "first": name in FIRST,
        "whole": column.exact == "yes",
        "headings": [
            {"value": f"{way}{' colours' if colours else ''}", "label": label, "heading": heading}
            for way, colours, label, heading in _headings(name, head, unit)
        ],
    }


def _headings(name: str, head: str, unit: str):
    """Each way in which a column may be tested: as what it is told, by digits or by colours."""
    ways = bases(name)
    if not ways:
        yield "", False, "", f"{head} ({unit})" if unit else head
        return
    for way in ways:
        said = way.words.split("|")[0]
        told = f"{way.unit or ''} {said}".strip()
        yield way.name, False, f"{way.label}, a number", f"{head} ({told})"
        if name in charts():
            yield (
                way.name,
                True,
                f"{way.label}, colours of a chart",
                f"{head} ({told}, colour chart)",
            )


def _places(session: Session) -> dict[str, int]:
    """The column of the file in which each number stands, for a test that is added."""
    log = session.log
    if log is None:
        return {}
    return dict(log.places)


def log_findings_block(session: Session) -> dict:
    """What the log shows, worst first, with what to do and the caution beside it."""
    log, system = session.log, session.system
    found = {"form": "log_findings", "title": "What your log shows", "findings": [], "due": [],
             "last": None, "words": "Findings stand here once there is a test."}  # fmt: skip
    if log is None or not len(log) or session.sizing is None:
        return found
    findings = log_findings(log, session.sizing)
    found["words"] = "" if findings else "Nothing stands out. Keep testing."
    found["findings"] = [
        {"title": one.row.title, "says": one.says(system),
         "steps": [[when, words] for when, words in one.steps(system).items()],
         "caution": f"{one.caution['fact']} Ask: {one.caution['ask']}.", "source": one.row.source}
        for one in findings
    ]  # fmt: skip
    found["due"] = [[one.date.isoformat(), one.label, one.why] for one in next_tests(log, findings)]
    head, *rows = last_tests(log, None, system)
    found["last"] = as_table((head, rows))
    return found


def log_tuned(session: Session) -> dict:
    """What the log tunes: each number before and after, what it cannot decide, what would."""
    log = session.log
    found = {"form": "log_tuned", "title": "Tune the design by your log", "ready": bool(log is not None and len(log)),
             "numbers": None, "open": [], "carried": [], "notes": [], "stale": False,
             "words": "The design guesses how fast the filter is and how much ammonia the feed makes. Your tests can"
             " tell, if the feed was not the same each day."}  # fmt: skip
    if not session.tuned:
        return found
    tuned, design, text = session.tuned
    head, *rows = numbers_table(tuned, session.system)
    found["numbers"] = as_table((head, rows))
    found["open"] = [[one.words[0].upper() + one.words[1:], one.why, one.decides]
                     for one in tuned.parameters if not one.decidable]  # fmt: skip
    found["carried"], found["notes"] = list(tuned.carried()), list(reading(tuned))
    found["stale"] = design != session.design or text != session.log_text
    return found


MAKERS = {"log_entry": log_entry, "log_findings": log_findings_block, "log_tuned": log_tuned}
