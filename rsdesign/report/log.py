"""A log of water tests as text for a terminal and as JSON; nothing is computed here."""

import math

from ..core.cautions import cautions_on, told_at
from ..core.units import number, show
from ..records.columns import columns
from ..records.findings import Findings
from ..records.log import WaterLog
from ..records.next_steps import DueTests, Feed
from ..records.trends import last, trend
from ..records.tuning import Tuned
from .tables import heading, json_text, plain, table_lines
from .tuned import tuned_plain, tuned_text

SHOWN = ("temperature", "ph", "tan", "nitrite", "nitrate", "alkalinity", "oxygen", "chloride")
TREND_DAYS = 14.0
NO_DESIGN = "Give your design with --design for limits, feed and nitrogen of your own system."


def log_text(log: WaterLog, findings: Findings, due: DueTests, feed: Feed | None, beside=None,
             system: str = "us", tuned: Tuned | None = None) -> str:  # fmt: skip
    """A log in words: findings with what to do, today's feed, next tests, lines that were not read.

    Parameters:
        log: from ``read_log``.
        findings: what ``log_findings`` gives.
        due: what ``next_tests`` gives.
        feed: what ``todays_feed`` gives; None without a design.
        beside: what ``beside_design`` gives; None without a design.
        system: "us" or "metric".
        tuned: what ``rsdesign.tune`` gives; None where nothing is tuned.
    Returns: the text.

    Example: ``log_text(log, log_findings(log), next_tests(log), None)``.
    """
    lines = [answer(log, findings)]
    for place, one in enumerate(findings, 1):
        lines += [*heading(f"{place}. {one.row.title}"), one.says(system)]
        lines += [f"{when}: {words}" for when, words in one.steps(system).items()]
        lines += [
            f"Take care. {one.caution['fact']} Ask: {one.caution['ask']}.",
            f"Limit: {one.row.source}.",
        ]
    lines += [*heading("Today's feed"), feed.says(system) if feed else NO_DESIGN]
    lines += [*heading("Next tests")]
    lines += [f"{one.date}  {one.label}. {one.why}" for one in due] or [
        "The log holds no test yet."
    ]
    lines += [*heading("The last tests"), *table_lines(last_tests(log, beside, system))]
    if tuned is not None:
        lines += tuned_text(tuned, system).splitlines()
    if log.problems:
        lines += [
            *heading("What was not read; every cell is kept"),
            *(p.sentence for p in log.problems),
        ]
    if log.remarks:
        lines += [*heading("What the log does not say"), *log.remarks]
    lines += [*heading("Take care"), *_other_cautions(findings)]
    return "\n".join([*lines, "", "A teaching aid. Fish, tests and people on the spot decide."])


def _other_cautions(findings: Findings) -> list[str]:
    """The cautions of a log that stand beside no finding."""
    beside = [one.caution["fact"] for one in findings]
    return [words for words in told_at("log") if not any(fact in words for fact in beside)]


def answer(log: WaterLog, findings: Findings) -> str:
    """How many lines were read and what matters most, in a sentence or two."""
    if not len(log):
        return "No line of the log could be read."
    read = f"Lines read: {len(log)}, from {log.date(log.days[0])} to {log.date(log.days[-1])}."
    return (
        f"{read} First of all: {findings[0].row.title}."
        if findings
        else f"{read} Nothing stands out."
    )


def last_tests(log: WaterLog, beside=None, system: str = "us") -> list[tuple[str, ...]]:
    """The last test of each column, how it goes, and what the course of the design has on that day."""
    rows = [("test", "last", "on", "goes", *(["design"] if beside is not None else []))]
    for name in SHOWN:
        found = last(log, name)
        if found is None:
            continue
        place = found[0]
        row = [columns()[name].label, reading(log, name, place, system), log.date(log.days[place]).isoformat(),
               way(log, name)]  # fmt: skip
        if beside is not None:
            planned = (
                beside[f"{name}_design"].iloc[place] if f"{name}_design" in beside else float("nan")
            )
            unit = beside.attrs["units"].get(name, "")
            row.append(f"{number(planned)} {unit}".strip() if math.isfinite(planned) else "")
        rows.append(tuple(row))
    return rows


def reading(log: WaterLog, name: str, place: int, system: str = "us") -> str:
    """A test in words; one without an upper end says so."""
    kind = columns()[name].quantity
    words = show(log.values[name][place], kind, system)
    return f"{words} or more" if log.high[name][place] == float("inf") else words


def way(log: WaterLog, name: str) -> str:
    """Whether a column rises or falls by more than its readings can tell."""
    found = trend(log, name, TREND_DAYS)
    if found is None:
        return "too few tests"
    return {1: "rises", -1: "falls", 0: "holds"}[found.sure]


def log_json(log: WaterLog, findings: Findings, due: DueTests, feed: Feed | None, beside=None,
             system: str = "us", tuned: Tuned | None = None) -> str:  # fmt: skip
    """A log as JSON text: findings, feed, next tests, problems, tests, cautions; notes are left out.

    Parameters:
        log, findings, due, feed, beside, system, tuned: as for ``log_text``.
    Returns: the text.

    Example: ``log_json(log, log_findings(log), next_tests(log), None)``.
    """
    frame = log.frame(system).drop(columns="note")
    found = {
        "units": frame.attrs["units"],
        "findings": [
            {"name": f.name, "title": f.row.title, "says": f.says(system), "steps": f.steps(system),
             "caution": f.caution, "lines": list(f.lines), "date": f.when, "source": f.row.source}
            for f in findings
        ],
        "feed": None if feed is None else {"says": feed.says(system), "share": feed.share, "date": str(feed.date)},
        "next": [{"test": one.column, "date": str(one.date), "why": one.why} for one in due],
        "problems": [
            {"line": p.line, "column": p.column, "text": p.text, "says": p.sentence} for p in log.problems
        ],
        "remarks": list(log.remarks),
        "tests": {name: [plain(v) for v in frame[name].tolist()] for name in frame.columns},
        "design": None if beside is None else {
            name: [plain(v) for v in beside[name].tolist()] for name in beside.columns if name.endswith("_design")
        },
        "tuned": None if tuned is None else tuned_plain(tuned, system),
        "cautions": cautions_on("log"),
    }  # fmt: skip
    return json_text(plain(found))
