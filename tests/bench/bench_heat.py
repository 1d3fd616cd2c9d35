"""Speed of the heat study, as a Markdown table: ``python tests/bench/bench_heat.py``.

Every figure is the best of several runs in this one process, on one core.
"""

import platform
import sys
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from bench_sizing import best
from designs import demo

from rsdesign import size
from rsdesign.design.weather import place
from rsdesign.studies.heat.day import repeated_day
from rsdesign.studies.heat.rows import Row, gather, skies
from rsdesign.studies.heat.study import study


def year_and_days(sizing, weather) -> None:
    """Twelve months and three design days, hour by hour, not heated."""
    rows = gather([Row(day) for day in range(15)], sizing, weather, skies(weather, 5.0, 8.0))
    repeated_day(rows.net, rows.capacity, rows.guess, rows.low, rows.high)


def table() -> list[tuple[str, str, str]]:
    """Rows: what, measured, bar."""
    weather, rows = place("low desert"), []
    for name in ("family", "school", "commercial"):
        sizing = size(demo(name))
        quick = best(lambda s=sizing: year_and_days(s, weather), 7, 5)
        whole = best(lambda s=sizing: study(s, weather), 7, 5)
        rows.append((f"a year and three design days, {name}", f"{quick * 1e3:.1f} ms", "30 ms"))
        rows.append((f"the whole heat study, {name}", f"{whole * 1e3:.1f} ms", "stated"))
    return rows


def main() -> None:
    """Print the table."""
    print(f"Python {platform.python_version()}, NumPy {np.__version__}, {platform.machine()}.\n")
    print("| what | measured | bar |\n| --- | --- | --- |")
    for what, measured, bar in table():
        print(f"| {what} | {measured} | {bar} |")


if __name__ == "__main__":
    main()
