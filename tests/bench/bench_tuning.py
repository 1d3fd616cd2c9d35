"""How often a tuned number's 90 % band holds the truth, and whether an even-feed log is called undecidable.

``python tests/bench/bench_tuning.py [draws] [scenario ...]`` prints, for each scenario, how many of the draws
(200) hold the truth of each number within the band, the seconds of a tuning, and how often each number was
called decidable.  Truths come from the season study, readings from colours and drops with a reader's error.
"""

import sys
import time
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from tuning_logs import SCENARIOS, answers_of, draw

from rsdesign.records.tuning import tune


def scenario(name: str, draws: int) -> None:
    """One scenario, printed."""
    held: dict[str, list] = {}
    sure: dict[str, list] = {}
    wide: dict[str, list] = {}
    seconds = []
    for seed in range(draws):
        log, sizing, truth = draw(name, seed)
        began = time.process_time()
        tuned = tune(log, sizing)
        seconds.append(time.process_time() - began)
        for number, (low, high, decidable) in answers_of(tuned).items():
            held.setdefault(number, []).append(low <= truth[number] <= high)
            sure.setdefault(number, []).append(decidable)
            wide.setdefault(number, []).append(np.log(high / low) / 2)
    print(f"{name}: {draws} logs, {np.median(seconds):.2f} s of processor time a tuning")
    for number, inside in held.items():
        print(
            f"  {number:15} truth in band {sum(inside)} of {draws} ({100 * np.mean(inside):.1f} %),"
            f" decidable {sum(sure[number])}, half band {100 * np.mean(wide[number]):.0f} %",
            flush=True,
        )


if __name__ == "__main__":
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 200
    for chosen in sys.argv[2:] or SCENARIOS:
        scenario(chosen, count)
