"""Speed of a day of feeding: one design on a page, many designs in one call, a search for meals."""

import time

import numpy as np

from rsdesign import load, size
from rsdesign.core import tables
from rsdesign.design.model import with_values
from rsdesign.report.drawings.course_chart import Event, Line, Threshold, course_chart
from rsdesign.season import best_meals, feeding_day
from rsdesign.season.fed_day import fed_day
from rsdesign.season.feeding import MEALS, day_of, outages, plain_columns

MANY = 1000


def main() -> None:
    """Print the table."""
    rows = []
    for name in ("family", "school", "commercial"):
        sizing = size(load(tables.data_folder() / "designs" / f"{name}.toml"))
        best = min(_timed(lambda s=sizing: plain_columns(*day_of(s))) for _ in range(20))
        kind = sizing.tables.filter_type.label.lower()
        rows.append((f"a day of {name} ({kind})", f"{1e3 * best:.1f} ms", "10 ms"))
    family = size(load(tables.data_folder() / "designs" / "family.toml"))
    frame = feeding_day(family, every=15)
    best = min(_timed(lambda: feeding_day(family)) for _ in range(10))
    rows.append(("the same as a table with its words", f"{1e3 * best:.1f} ms", "stated"))
    day, _, _ = day_of(family)
    best = min(_timed(lambda: outages(day)) for _ in range(20))
    rows.append(("minutes to act of every quarter hour", f"{1e3 * best:.2f} ms", "stated"))
    best = min(_timed(lambda: _chart(frame)) for _ in range(20))
    rows.append(("a chart of it", f"{1e3 * best:.1f} ms", "stated"))
    many = size(with_values(family.design, {"goal.fish": np.linspace(100.0, 900.0, MANY)}))
    shares = [[1.0 / len(MEALS)] * len(MEALS)]
    best = min(_timed(lambda: fed_day(many, [MEALS], shares)) for _ in range(3))
    rows.append((f"days of {MANY:,} designs", f"{best:.2f} s", "stated"))
    for count in (3, 5):
        best = min(_timed(lambda n=count: best_meals(family, n)) for _ in range(2))
        rows.append((f"the best {count} meals", f"{best:.2f} s", "stated"))
    print("| what | measured | bar |\n| --- | --- | --- |")
    for row in rows:
        print("| " + " | ".join(row) + " |")


def _chart(frame):
    return course_chart(
        frame.index.to_numpy(), [Line("oxygen", frame["oxygen"].to_numpy())], title="Oxygen",
        x_label="hour of the day", unit="mg/L", thresholds=[Threshold(3.0, "distress", False)],
        events=[Event(hour, "meal") for hour in MEALS],
    )  # fmt: skip


def _timed(action) -> float:
    start = time.perf_counter()
    action()
    return time.perf_counter() - start


if __name__ == "__main__":
    main()
