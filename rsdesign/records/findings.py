"""What a log of water tests shows, worst first, and what to do in the next hour, today and this week."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from ..core.cautions import caution
from ..core.choices import DesignError
from ..core.kinds import KINDS
from ..core.notebook import Rows
from ..core.units import show
from ..design.model import Design, arrays_of
from ..sizing.system import Sizing, size
from . import nitrogen_rules, rules
from .columns import columns
from .log import WaterLog
from .rules import Evidence, FindingRow, Seen, finding_rows

RULES: dict[str, Callable[[Seen, FindingRow], Evidence | None]] = {
    "deaths_many": rules.deaths_many,
    "deaths": rules.deaths,
    "oxygen_danger": rules.level("oxygen", "low"),
    "temperature_high": rules.level("temperature", "high"),
    "temperature_low": rules.level("temperature", "low"),
    "unionized_deadly": rules.unionized_deadly,
    "unionized_high": rules.unionized_high,
    "ammonia_high": rules.level("tan", "high"),
    "nitrite_high": rules.nitrite_high,
    "ammonia_bacteria": rules.ammonia_bacteria,
    "nitrite_bacteria": rules.moves("nitrite", 1),
    "alkalinity_falling": rules.alkalinity_falling,
    "alkalinity_low": rules.level("alkalinity", "low"),
    "ph_low": rules.level("ph", "low"),
    "ph_high": rules.level("ph", "high"),
    "oxygen_low": rules.level("oxygen", "low"),
    "oxygen_probe": rules.oxygen_probe,
    "top_colour": rules.top_colour,
    "nitrate_kit": nitrogen_rules.nitrate_kit,
    "nitrate_missing": nitrogen_rules.nitrate_missing,
    "nitrate_falling": nitrogen_rules.nitrate_falling,
    "alkalinity_ratio": nitrogen_rules.alkalinity_ratio,
    "nitrate_high": rules.level("nitrate", "high"),
    "feed_above_plan": nitrogen_rules.feed_above_plan,
    "one_reading": rules.one_reading,
}
"""The rule of every row of ``data/findings.csv``."""
COVERED = {
    "deaths": "deaths_many",
    "oxygen_low": "oxygen_danger",
    "unionized_high": "unionized_deadly",
    "alkalinity_low": "alkalinity_falling",
}
"""Findings that say less than another, which then stands alone."""
USUAL_FISH = 100
"""Fish of the design whose limits stand where a person has none; the limits used do not hang on it."""
AGAIN = "This rests on one reading. Test again at once; until then take it for true."
"""What is added where no second test bears a finding out."""


@dataclass(frozen=True, slots=True)
class Finding:
    """One finding: its row with what to do, its numbers (plain), and the lines that show it."""

    row: FindingRow
    numbers: dict[str, Any]
    lines: tuple[int, ...]
    """Lines of the file."""
    when: str
    """Date of the last of them."""

    @property
    def name(self) -> str:
        """Its name in ``data/findings.csv``."""
        return self.row.name

    @property
    def alone(self) -> bool:
        """Whether it rests on one line of the log, and a second test could tell."""
        return len(self.lines) == 1 and bool(self.row.again) and not self.name.startswith("deaths")

    def says(self, system: str = "us") -> str:
        """The finding in a sentence, in a display system."""
        words = self.row.says.format_map(_Told(self.numbers | {"when": self.when}, system))
        return f"{words} {AGAIN}" if self.alone else words

    def steps(self, system: str = "us") -> dict[str, str]:
        """What to do, by when: in the next hour, today, this week."""
        told = _Told(self.numbers | {"when": self.when}, system)
        return {
            "In the next hour": self.row.hour.format_map(told),
            "Today": self.row.today.format_map(told),
            "This week": self.row.week.format_map(told),
        }

    @property
    def caution(self) -> dict[str, str]:
        """What can hurt beside these steps, and whom to ask."""
        return caution(self.row.caution)


class _Told(dict):
    """Numbers that a template shows as ``{name:kind}``."""

    def __init__(self, numbers: dict[str, Any], system: str):
        super().__init__()
        for name, value in numbers.items():
            if isinstance(value, tuple):
                self[name] = show(value[0], KINDS[value[1]], system)
            else:
                self[name] = value if isinstance(value, str) else _Number(value, system)


@dataclass(frozen=True, slots=True)
class _Number:
    value: float
    system: str

    def __format__(self, kind: str) -> str:
        return show(self.value, KINDS[kind], self.system)


class Findings(Rows):
    """The findings of a log, worst first."""

    head = ("what", "seen", "in the next hour", "today", "this week")

    @staticmethod
    def row(item: Finding) -> tuple:
        """What stands in the row of one finding."""
        return (item.row.title, item.says(), *item.steps().values())

    def frame(self, system: str = "us"):
        """The findings as a pandas frame, a row for each; sources and lines of the log beside them."""
        import pandas as pd  # noqa: PLC0415  (only who asks for a frame needs it)

        rows = [
            {"name": f.name, "title": f.row.title, "says": f.says(system), **f.steps(system),
             "caution": f.caution["fact"], "ask": f.caution["ask"], "date": f.when,
             "lines": ", ".join(map(str, f.lines)), "source": f.row.source}
            for f in self
        ]  # fmt: skip
        frame = pd.DataFrame(rows, columns=list(rows[0]) if rows else ["name", "title", "says"])
        frame.attrs.update(units=dict.fromkeys(frame.columns, ""), system=system)
        return frame


def sizing_of(design: Design | Sizing | None) -> Sizing:
    """The sizing beside which a log is read; of the usual design where there is none."""
    sizing = (
        design
        if isinstance(design, Sizing)
        else size(design or Design().with_(goal_fish=USUAL_FISH))
    )
    if arrays_of(sizing.design):
        raise DesignError("A log is set beside one design; take one of the swept designs.")
    return sizing


def log_findings(log: WaterLog, design: Design | Sizing | None = None) -> Findings:
    """What a log shows, worst first; deaths before all else.

    Parameters:
        log: from ``read_log``.
        design: the design of the system or its sizing; None for the limits of the usual design,
            without the rules that need the person's own volume and feed.
    Returns: ``Findings``; each with its sentence (``says``), its ``steps`` and its ``caution``.
    Raises: ``DesignError`` for a design that holds arrays.
    Source: ``data/findings.csv``.

    >>> from rsdesign import read_log
    >>> [f.name for f in log_findings(read_log("date,DO (mg/L),deaths\\n2027-04-15,2.4,3\\n"))]
    ['deaths_many', 'oxygen_danger']
    """
    seen = Seen(log, sizing_of(design))
    found: list[Finding] = []
    for row in finding_rows() if len(log) else ():
        if (row.design and design is None) or COVERED.get(row.name) in [f.name for f in found]:
            continue
        evidence = RULES[row.name](seen, row)
        if evidence is not None:
            numbers, places = evidence
            lines = tuple(sorted({int(log.lines[place]) for place in places}))
            last = max(places, key=lambda place: log.days[place])
            found.append(Finding(row, numbers, lines, log.date(log.days[last]).isoformat()))
    return Findings(found)


def labels(names: str) -> str:
    """Columns that stand apart by |, in words.

    >>> labels("tan|ph")
    'total ammonia nitrogen, pH'
    """
    return ", ".join(columns()[name].label for name in names.split("|") if name)
