"""Speed of the outage and make-up studies, as a Markdown table: ``python tests/bench/bench_outage.py``.

Every figure is the best of several runs in this one process, on one core.
"""

import sys
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from bench_sizing import best
from designs import demo

from rsdesign import size
from rsdesign.design.model import with_values
from rsdesign.studies.heat.study import study as heat_study
from rsdesign.studies.makeup import study as makeup
from rsdesign.studies.outage import study as outage
from rsdesign.studies.outage.course import course


def table() -> list[tuple[str, str, str]]:
    """Rows: what, measured, bar."""
    rows = []
    for name in ("family", "school", "commercial"):
        sizing = size(demo(name))
        warm = heat_study(sizing)
        one = best(lambda s=sizing: course(s), 7, 5)
        rows.append((f"an outage course of three hours, {name}", f"{one * 1e3:.1f} ms", "5 ms"))
        whole = best(lambda s=sizing: outage.study(s), 7, 5)
        rows.append((f"minutes, needs and motors, {name}", f"{whole * 1e3:.1f} ms", "stated"))
        new = best(lambda s=sizing, w=warm: makeup.study(s, w), 7, 5)
        rows.append((f"new water beside a heat study, {name}", f"{new * 1e3:.2f} ms", "stated"))
    fish = np.linspace(50.0, 400.0, 10_000)
    many = size(with_values(demo("family"), {"goal.harvest": None, "goal.fish": fish}))
    level = many.design.keep.stress_oxygen
    all_of = best(lambda: outage.minutes(many, "all power", level), 5, 1)
    rows.append(("minutes of 10,000 designs in one call", f"{all_of * 1e3:.1f} ms", "stated"))
    return rows


if __name__ == "__main__":
    print("| what | measured | bar |\n| --- | --- | --- |")
    for row in table():
        print("| " + " | ".join(row) + " |")
