"""Speed and memory of the core, as a Markdown table: ``python tests/bench/bench_sizing.py``.

Every figure is the best of several runs in this one process, on one core, unless it says
otherwise; ratios compare two ways of computing the same numbers in the same run.
"""

import platform
import statistics
import subprocess
import sys
import time
import tracemalloc
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from designs import demo, random_arrays

from rsdesign import size
from rsdesign.core import units
from rsdesign.core.equation import REGISTER
from rsdesign.equations.biofilter import areas as biofilter
from rsdesign.equations.fish import loads
from rsdesign.equations.tank import vessel as tank
from rsdesign.equations.water import ammonia, carbonate, oxygen

MANY = 100_000


def best(action, repeat=5, number=1) -> float:
    """Seconds of one call, the best of several."""
    times = []
    for _ in range(repeat):
        start = time.perf_counter()
        for _ in range(number):
            action()
        times.append((time.perf_counter() - start) / number)
    return min(times)


def chain(of) -> None:
    """Ten equations in a row, as a stage calls them; ``of`` picks the decorated or bare one."""

    def run(feed, protein, temperature):
        made = of(loads.ammonia_production)(feed, protein)
        used = of(loads.nitrifier_oxygen)(made)
        fish = of(loads.oxygen_demand)(feed, 0.45)
        peak = of(loads.hour_peak)(fish, 1.4)
        whole = of(loads.total_oxygen)(peak, used, used)
        gas = of(loads.carbon_dioxide_production)(whole)
        full = of(oxygen.saturation)(temperature)
        share = of(ammonia.unionized_fraction)(temperature, 7.6)
        area = of(biofilter.media_area)(made, 3.5e-9)
        room = of(tank.volume_for)(feed, full)
        return gas, share, area, room

    return run


def with_quantities(feed, protein, temperature):
    """The same ten equations in pint quantities, one design at a time, as a learner writes them."""
    q = units.registry().Quantity
    feed, temperature = q(feed, "kg/s"), q(temperature, "degC")
    made = feed * protein * 0.092
    used = made * 4.57
    fish = feed * 0.45
    peak = fish * 1.4
    whole = peak + used + used
    gas = whole * 1.375
    full = q(oxygen.saturation.__wrapped__(temperature.to("degC").magnitude), "kg/m**3")
    share = ammonia.unionized_fraction.__wrapped__(temperature.to("degC").magnitude, 7.6)
    area = (made / q(3.5e-9, "kg/(m**2*s)")).to("m**2")
    return gas.to("g/hour"), share, area, feed * q(1, "s") / full


def imports(what: str) -> tuple[float, float]:
    """Seconds beyond NumPy for an import, and how much that varies; fresh processes."""
    code = f"import time, numpy; s = time.perf_counter(); {what}; print(time.perf_counter() - s)"
    command = [sys.executable, "-c", code]
    runs = [
        float(subprocess.run(command, capture_output=True, encoding="utf-8", check=True).stdout)
        for _ in range(9)
    ]
    return min(runs), statistics.pstdev(runs)


def table() -> list[tuple[str, str, str]]:
    """Rows: what, measured, bar."""
    rows = []
    for name in ("family", "school", "commercial"):
        design = demo(name)
        size(design)
        seconds = best(lambda d=design: size(d), 7, 20)
        rows.append((f"one sizing, {name}", f"{seconds * 1e3:.2f} ms", "2 ms"))
    many = random_arrays(MANY)
    seconds = best(lambda: size(many), 3)
    rows.append((f"{MANY:,} designs in one call", f"{seconds:.2f} s", "1.5 s on one core"))
    tracemalloc.start()
    kept = size(many)
    now, peak = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    rows.append(("memory kept for each design", f"{now / MANY:.0f} bytes", "stated"))
    rows.append(("memory at the peak for each design", f"{peak / MANY:.0f} bytes", "stated"))
    del kept
    decorated, bare = chain(lambda f: f), chain(lambda f: f.__wrapped__)
    args = (4e-5, 0.32, 28.0)
    a, b = best(lambda: decorated(*args), 9, 3000), best(lambda: bare(*args), 9, 3000)
    rows.append(("decorator, one call on floats", f"{(a - b) / 10 * 1e6:.2f} µs", "1 µs"))
    wide = (np.full(MANY, 4e-5), np.full(MANY, 0.32), np.linspace(20, 32, MANY))
    a, b = best(lambda: decorated(*wide), 15), best(lambda: bare(*wide), 15)
    rows.append((f"decorated over bare, N = {MANY:,}", f"× {a / b:.2f}", "× 1.2"))
    one = best(lambda: with_quantities(*args), 5, 200)
    ours = best(lambda: decorated(*wide), 9) / MANY
    rows.append(("pint quantities, one design at a time, over arrays",
                 f"× {one / ours:,.0f}", "stated"))  # fmt: skip
    plain = best(lambda: decorated(*args), 9, 3000)
    rows.append(("pint quantities over plain floats, one design", f"× {one / plain:.0f}", "stated"))
    for what, words in (
        ("import rsdesign", "import rsdesign, beyond NumPy"),
        ("from rsdesign import Design, load, save, size, units", "the five names, beyond NumPy"),
    ):
        seconds, spread = imports(what)
        rows.append((words, f"{seconds:.3f} s (± {spread:.3f})", "0.15 s for the first"))
    return rows


def main() -> None:
    """Print the table."""
    carbonate.gas_partition(20.0)
    print(f"Python {platform.python_version()}, NumPy {np.__version__}, {platform.machine()},"
          f" {len(REGISTER)} equations.\n")  # fmt: skip
    print("| what | measured | bar |\n| --- | --- | --- |")
    for what, measured, bar in table():
        print(f"| {what} | {measured} | {bar} |")


if __name__ == "__main__":
    main()
