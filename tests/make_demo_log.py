"""Write the demonstration log anew: ``python tests/make_demo_log.py data/logs/school_autumn.csv``.

The school's season of ``data/designs/school.toml`` is followed with a slip of chlorine, then tested as
a class would: seeded errors, colours of a chart, days without a test.
"""

import csv
import io
import sys
from pathlib import Path

import numpy as np

from rsdesign import load
from rsdesign.records.columns import bases, chart_steps
from rsdesign.season import growout

SEED = 20270906
FIRST, DAYS, SLIP = "2027-09-06", 60, 56
HEADER = """# An invented log of an invented school (data/designs/school.toml): no such place, no such fish.
# Made from the season of that design, with a slip of chlorine on day {slip}, by tests/make_demo_log.py (seed {seed}).
"""
COLUMNS = ("date", "time", "temp (°C)", "pH", "TAN (mg/L as N, colour chart)", "NO2 (mg/L as N, colour chart)",
           "NO3 (mg/L as ion, colour chart)", "alk (mg/L as CaCO3)", "DO (mg/L)", "feed (g)", "deaths", "added_water (L)",
           "base (g)", "weight_sample (g)", "n_sample", "note")  # fmt: skip


def colour(level: float, column: str, rng) -> str:
    """The colour that a class would name for a level [mg/L], a tenth off at random."""
    steps = np.array(chart_steps(column))
    seen = max(0.0, level * (1.0 + 0.1 * rng.standard_normal()))
    step = steps[np.abs(steps - seen).argmin()]
    return f">{steps[-1]:g}" if seen > 1.5 * steps[-1] else f"{step:g}"


def demo_log() -> str:
    """The text of the log."""
    rng = np.random.default_rng(SEED)
    frame = growout(
        load("school"), DAYS, FIRST, what_ifs=[("chlorine slip", SLIP)], system="metric"
    )
    ion = next(row.factor for row in bases("nitrate") if row.name == "ion")
    out = io.StringIO()
    out.write(HEADER.format(slip=SLIP, seed=SEED))
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(COLUMNS)
    dead = 0.0
    for place, day in frame.iterrows():
        number, weekday = int(place) + 1, int(place) % 7
        if weekday == 6 and number < SLIP:
            continue  # nobody writes on Sundays
        dead += float(day["died"])
        found = int(dead)
        dead -= found
        nitrogen = weekday in (0, 3) or number >= SLIP
        weekly = weekday == 0 or number == DAYS
        sample = (
            f"{round(10 * float(day['weight']) * (1 + 0.03 * rng.standard_normal()))}"
            if number % 28 == 1
            else ""
        )
        note = {1: "fish came", SLIP: "hose ran over the weekend, no dechlorinator"}.get(number, "")
        writer.writerow([
            day["date"], "7:30", f"{day['water_temperature'] + 0.2 * rng.standard_normal():.1f}",
            f"{day['ph'] + 0.05 * rng.standard_normal():.1f}" if nitrogen else "",
            colour(day["ammonia"], "tan", rng) if nitrogen else "",
            colour(day["nitrite"], "nitrite", rng) if nitrogen else "",
            colour(day["nitrate"] * ion, "nitrate", rng) if weekly else "",
            f"{5 * round(float(day['alkalinity']) / 5)}" if weekly else "",
            f"{day['oxygen'] + 0.15 * rng.standard_normal():.1f}",
            f"{10 * round(100 * float(day['feed']))}", f"{found}", f"{5 * round(float(day['new_water']) / 5)}",
            f"{5 * round(float(day['base']) / 5)}", sample, "10" if sample else "", note,
        ])  # fmt: skip
    return out.getvalue()


if __name__ == "__main__":
    Path(sys.argv[1]).write_text(demo_log(), encoding="utf-8")
