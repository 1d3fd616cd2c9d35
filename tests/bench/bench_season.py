"""Speed of time: starts of a filter, as many as a study asks for."""

import time

import numpy as np

from rsdesign import load, season, size
from rsdesign.core import tables
from rsdesign.core.unit_table import DAY
from rsdesign.equations.biofilter import ripening as relations
from rsdesign.season import bacteria
from rsdesign.season.film_curve import scale_of
from rsdesign.season.ripening import Film, Water, start, step

MANY, DAYS = 1000, 120


def main() -> None:
    """Print the table."""
    design = load(tables.data_folder() / "designs" / "family.toml")
    sizing = size(design)
    rows = []
    for words, mixed in (("no film", None), ("mixed bed", True), ("plug flow", False)):
        best = min(_timed(lambda mixed=mixed: starts(mixed)) for _ in range(3))
        rows.append((f"{MANY:,} starts of {DAYS} days, {words}", f"{best:.2f} s", "1 s"))
    best = min(_timed(lambda: season.startup(sizing, days=DAYS)) for _ in range(3))
    rows.append((f"one start of {DAYS} days with its band", f"{best:.2f} s", "stated"))
    print("| what | measured | bar |\n| --- | --- | --- |")
    for row in rows:
        print("| " + " | ".join(row) + " |")


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


def _timed(action) -> float:
    begun = time.process_time()
    action()
    return time.process_time() - begun


if __name__ == "__main__":
    main()
