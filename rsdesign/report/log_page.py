"""The page on the log of water tests, made from its tables: ``python -m rsdesign.report.log_page docs/log.md``."""

import sys
from pathlib import Path

from ..records.columns import CALENDAR, bases, chart_steps, charts, columns, measured
from ..records.rules import finding_rows

INTRODUCTION = """# A log of water tests

*Made by `python -m rsdesign.report.log_page docs/log.md`; change the tables in `data/`.*

`rsdesign log FILE` reads a log (`.csv`, text with semicolons or tabs, or the first sheet of an `.xlsx`) and says what it
shows, worst first, what to do in the next hour, today and this week, today's feed and the next tests. With
`--design D.toml` the limits, the volume and the feed are those of your own system.

    rsdesign log data/logs/school_autumn.csv --design data/designs/school.toml --units metric

The log of that school is invented. In a notebook:

    from rsdesign import load, read_log, records
    log = read_log("data/logs/school_autumn.csv")
    records.log_findings(log, load("school"))
    records.beside_design(log, load("school"), stocked="2027-09-06")

## What is read, and how

- The first line names the columns. Their order is free, and the ones you do not test may be left out. A column that is
  not known is kept and not read.
- A unit stands in the heading or beside the value: `temp (°F)`, `feed (lb)`, `82 °F`, `3 lb 4 oz`. Where a unit must be
  told and is not, the cell is not read, and a sentence says so.
- An empty cell, `-` or `n/a` is not known. It is never zero; write 0 where you looked and found none.
- `<0.25` stands for 0 to 0.25, `>80` for 80 and more without an end, `20-40` for all between. `7,2` is 7.2.
- Dates: `2027-04-15`, `15.4.2027`, `4/15/2027`, `15 Apr 2027`. With slashes the whole log decides which number is the
  month. Without a time, noon is taken.
- What cannot be read is a sentence with the number of its line. The rest of the line and of the log is read, and a
  log that is written again (`records.write_log`) keeps every cell.
- Nothing is sent anywhere. Notes stand in no link and in no JSON.

## The kit switch

A kit tells nitrogen or the ion; its leaflet says which. Write it in the heading, `NO2 (mg/L as ion)`, or with the
command, `--kit "nitrite: as ion"`. Where nobody says, nitrogen is taken, the safe side, and the log says so.
"""
COLOURS = """
## Colours

With `colour chart` in the heading, `NO3 (mg/L as ion, colour chart)`, a reading stands for all half way to its
neighbours, and the last colour has no upper end. The charts below are from memory: give your own in a line of the log,
`# colours NO3: 0 10 25 50 100 250`. Its error is √(w²/12 + σ²), with w the width of the colour and σ what two readers
differ by.
"""
CHEMISTRY = """
## Findings

A finding that rests on one reading says so. A rise or a fall counts where it is more than twice its standard error and
more than a reading can tell.
"""


def text() -> str:
    """The page as Markdown.

    Example: ``text().splitlines()[0] == "# A log of water tests"``.
    """
    lines = [INTRODUCTION]
    lines += _table(("column", "reported", "times what the log keeps"),
                    ((columns()[name].label, way.label, f"{way.factor:.4g}" if way.unit else "")
                     for name in measured() for way in bases(name)))  # fmt: skip
    lines.append(COLOURS)
    lines += _table(("chart", "colours, mg/L", "readers differ by", "basis"),
                    ((row.label, ", ".join(f"{step:g}" for step in chart_steps(name)), f"{float(row.spread):.0%}", row.basis)
                     for name, row in charts().items()))  # fmt: skip
    lines += ["", "## Columns", ""]
    lines += _table(("heading", "also", "unit of a bare number", "from, to", "what it is"),
                    (_column(name) for name in columns()))  # fmt: skip
    lines.append(CHEMISTRY)
    lines += _table(("finding", "limit", "days looked back", "source", "basis", "range"),
                    ((row.title, _limit(row), row.window, row.source, row.basis, row.range) for row in finding_rows()))  # fmt: skip
    return "\n".join(lines) + "\n"


def _column(name: str) -> tuple[str, ...]:
    column = columns()[name]
    also = ", ".join(column.words.split("|")[:4])
    if name in CALENDAR:
        return f"`{column.heading}`", also, "", "", column.help
    bare = " or ".join(unit.label for unit in column.units if unit.label)
    none = "must be told" if not column.units else ""
    return f"`{column.heading}`", also, bare or none, f"{column.low} to {column.high}", column.help


def _limit(row) -> str:
    ends = [
        cell.removeprefix("check ").removesuffix(" low").removesuffix(" high")
        for cell in (row.low, row.high)
        if cell
    ]
    return " to ".join(f"`{end}`" if "." in end and not end[0].isdigit() else end for end in ends)


def _table(heads, rows) -> list[str]:
    return [f"| {' | '.join(cells)} |" for cells in (heads, ("---",) * len(heads), *rows)]


if __name__ == "__main__":
    Path(sys.argv[1]).write_text(text(), encoding="utf-8")
