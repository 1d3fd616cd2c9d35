"""How long a choice takes and what memory: ``python tests/bench/bench_choose.py [family school commercial]``.

Each study runs in a program of its own, so that its memory is that of the study alone: once over the
whole list, and once over a list thinned to about a million combinations, in which the parts of the designs
that the whole list gave are left, so that there is something to judge.  Time is that of the
processor and that of the clock; the ratio is to one sizing of the same design, taken in the same program.
"""

import json
import math
import resource
import subprocess
import sys
import time

from rsdesign import load, size
from rsdesign.core.tables import data_folder
from rsdesign.studies.choose.offers import Offers, offers
from rsdesign.studies.choose.study import study

DESIGNS = ("family", "school", "commercial")
MILLION = 1_000_000
MEGABYTE = 1024.0  # of kilobytes, in which Linux counts


def thinned(most: int, kept: dict[str, list[int]]) -> Offers:
    """The list with every part thinned evenly, the longest part first, to as many combinations; ``kept`` stay."""
    whole = offers()
    counts = {part: len(rows) for part, rows in whole.parts.items()}
    while math.prod(counts.values()) > most:
        spare = {part: n for part, n in counts.items() if n > len(kept[part])}
        counts[max(spare, key=spare.__getitem__)] -= 1
    parts = {}
    for part, rows in whole.parts.items():
        others = [k for k in range(len(rows)) if k not in kept[part]]
        more = counts[part] - len(kept[part])
        places = sorted(kept[part] + [others[k * len(others) // more] for k in range(more)])
        parts[part] = tuple(rows[k] for k in places)
    return Offers(parts, whole.note, whole.doubt_source)


def memory() -> float:
    """The most memory that this program has held [MB]."""
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / MEGABYTE


def one(name: str, kept: dict | None) -> dict:
    """One study, in this program."""
    design = load(data_folder() / "designs" / f"{name}.toml")
    sizing, times = size(design), []
    for _ in range(30):
        start = time.process_time()
        size(design)
        times.append(time.process_time() - start)
    before, for_sale = memory(), thinned(MILLION, kept) if kept else offers()
    clock, used = time.perf_counter(), time.process_time()
    found = study(sizing, for_sale)
    used, clock = time.process_time() - used, time.perf_counter() - clock
    parts = {part: sorted({m.places[part] for m in found.members}) for part in for_sale.parts}
    return {"combined": found.combined, "sized": found.sized, "stood": found.stood, "processor": used,
            "clock": clock, "sizing": min(times), "before": before, "peak": memory(), "parts": parts}  # fmt: skip


def main(names) -> None:
    """Print a row for each design and list."""
    print("| what | processor | clock | of a sizing | memory at the peak | sized; stand |")
    print("| --- | --- | --- | --- | --- | --- |")
    for name in names:
        got: dict = {"parts": None}
        for words in ("the whole list, ", ""):
            got = json.loads(
                subprocess.run(
                    [sys.executable, __file__, "--one", name, json.dumps(got["parts"])],
                    capture_output=True, text=True, check=True,
                ).stdout
            )  # fmt: skip
            print(
                f"| {words}{got['combined']:,} designs, {name} | {got['processor']:.1f} s | {got['clock']:.1f} s"
                f" | × {got['processor'] / got['sizing']:,.0f} | {got['peak']:.0f} MB ({got['before']:.0f} before)"
                f" | {got['sized']:,}; {got['stood']:,} |",
                flush=True,
            )


if __name__ == "__main__":
    if sys.argv[1:2] == ["--one"]:
        print(json.dumps(one(sys.argv[2], json.loads(sys.argv[3]))))
    else:
        main(sys.argv[1:] or DESIGNS)
