"""Speed of the money: a hundred thousand budgets in one call, and one whole report."""

import time

import numpy as np

from rsdesign import load, size
from rsdesign.core import tables
from rsdesign.design.model import with_values
from rsdesign.report.cost import cost_text
from rsdesign.sizing.system import unchecked
from rsdesign.studies.enterprise import enterprise

MANY = 100_000


def main() -> None:
    """Print the table."""
    design = load(tables.data_folder() / "designs" / "family.toml")
    source = np.random.default_rng(1)
    money = {
        "prices.fish": source.uniform(4, 20, MANY),
        "prices.feed": source.uniform(0.5, 3, MANY),
        "terms.saleable": source.uniform(0.5, 1, MANY),
    }
    one = size(design)
    import dataclasses

    priced = dataclasses.replace(one, design=with_values(design, money))
    rows = []
    best = min(_timed(lambda: enterprise(priced)) for _ in range(5))
    rows.append(
        (f"{MANY:,} budgets of one sizing: price, feed price, yield", f"{best:.3f} s", "1 s")
    )
    many = with_values(design, {**money, "stock.feed_conversion": source.uniform(1.2, 2.2, MANY)})
    best = min(_timed(lambda: enterprise(unchecked(many))) for _ in range(2))
    rows.append((f"{MANY:,} sizings with their budgets", f"{best:.2f} s", "stated"))
    best = min(_timed(lambda: cost_text(one, "us")) for _ in range(3))
    rows.append(
        ("one whole cost report, stress and movers in it", f"{1e3 * best:.0f} ms", "stated")
    )
    print("| what | measured | bar |\n| --- | --- | --- |")
    for row in rows:
        print("| " + " | ".join(row) + " |")


def _timed(action) -> float:
    start = time.perf_counter()
    action()
    return time.perf_counter() - start


if __name__ == "__main__":
    main()
