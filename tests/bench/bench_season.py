"""Speed of time: starts of a filter and seasons of a year, of one design and of a thousand.

``python tests/bench/bench_season.py`` prints the table of ``docs/performance.md``.  Time is that of
the processor, the best of several runs.
"""

import time

import numpy as np

from rsdesign import load, season, size
from rsdesign.core import tables
from rsdesign.core.unit_table import DAY
from rsdesign.equations.biofilter import ripening as relations
from rsdesign.season import bacteria
from rsdesign.season.film_curve import scale_of
from rsdesign.season.ripening import Film, Water, start, step
from rsdesign.season.season_run import run
from rsdesign.season.water_course import water_course
from rsdesign.season.what_ifs import changes

MANY, DAYS, YEAR = 1000, 120, 365
DEMOS = ("family", "school", "commercial")


def main() -> None:
    """Print the table."""
    rows = []
    for words, mixed in (("no film", None), ("mixed bed", True), ("plug flow", False)):
        best = _best(lambda mixed=mixed: starts(mixed), 9)
        rows.append((f"{MANY:,} starts of {DAYS} days, {words}", f"{best:.2f} s", "1 s"))
    for name in DEMOS:
        sizing = size(_design(name))
        best = _best(lambda s=sizing: season.startup(s, days=DAYS), 5)
        rows.append((f"one start of {DAYS} days with its band, {name}", f"{best:.2f} s", "stated"))
    for name in DEMOS:
        sizing = size(_design(name))
        best = _best(lambda s=sizing: season.growout(s, days=YEAR), 15)
        rows.append((f"a season of a year, {name}", f"{1e3 * best:.0f} ms", "60 ms"))
    for name in DEMOS:
        best = _best(lambda name=name: seasons(name), 3)
        rows.append((f"{MANY:,} designs, each a season of a year, {name}", f"{best:.1f} s", "5 s"))
    print("| what | measured | bar |\n| --- | --- | --- |")
    for row in rows:
        print("| " + " | ".join(row) + " |")


def _design(name: str):
    return load(tables.data_folder() / "designs" / f"{name}.toml")


def starts(mixed: bool | None) -> np.ndarray:
    """A thousand filters under an even load, steps of 4 hours: the state at the end."""
    numbers = bacteria.draws(MANY - 1)
    kinds = bacteria.conditions(numbers, 26.0, 6e-3, 7.2)
    load_of_all = np.linspace(5.0, 20.0, MANY) * 1e-3 / DAY
    film = None
    if mixed is not None:
        scale = scale_of(np.full(MANY, 6e-3), 26.0, 7.2, 0.1, 0.5)
        film = Film(150.0 * scale, 5e-4, 2e-3, mixed)
    seeds = [
        numbers["seed"] * relations.bacteria_at_rest(k.yields, load_of_all, k.decay) for k in kinds
    ]
    state = start(*seeds, 1e3)
    for _ in range(DAYS):
        state = step(state, load_of_all, 4 * 3600.0, kinds, Water(), film, 6)
    return state


def seasons(name: str):
    """A thousand designs that differ in feed conversion: sized, their water, a year of each."""
    sizing = size(_design(name).with_(stock_feed_conversion=np.linspace(1.3, 1.9, MANY)))
    return run(sizing, water_course(sizing).days(0, YEAR), changes([], YEAR))


def _best(action, times: int) -> float:
    found = []
    for _ in range(times):
        begun = time.process_time()
        action()
        found.append(time.process_time() - begun)
    return min(found)


if __name__ == "__main__":
    main()
