"""How long a hand-out takes: ``python tests/bench/bench_handout.py`` prints the table of the papers."""

import subprocess
import sys
import tempfile
import time
from pathlib import Path

from rsdesign import load, size
from rsdesign.core import tables
from rsdesign.report.handout import files

BARS = {"pdf": 3.0, "html": 1.0, "xlsx": 1.0}
WORDS = {"pdf": "PDF", "html": "HTML", "xlsx": "spreadsheet"}
FIRST = """
import time
from rsdesign import load, size
from rsdesign.core import tables
from rsdesign.report.handout import files
sizing = size(load(tables.data_folder() / "designs" / "family.toml"))
start = time.perf_counter()
files.make(sizing, {form!r})
print(time.perf_counter() - start)
"""


def best(act, times: int = 5, given=lambda: None) -> float:
    """The least time of several runs [s]; what ``given`` makes anew for each is not counted."""
    found = []
    for _ in range(times):
        fresh = given()
        start = time.perf_counter()
        act(fresh)
        found.append(time.perf_counter() - start)
    return min(found)


def main() -> None:
    """Print the table."""
    rows = []
    folder = tables.data_folder() / "designs"
    for name in ("family", "school", "commercial"):
        design = load(folder / f"{name}.toml")
        for form, bar in BARS.items():
            took = best(lambda sizing, form=form: files.make(sizing, form),
                        given=lambda design=design: size(design))  # fmt: skip
            rows.append((f"{WORDS[form]}, {name}", took, bar))
    with tempfile.TemporaryDirectory() as place:
        for form, bar in BARS.items():
            found = [
                float(subprocess.run([sys.executable, "-c", FIRST.format(form=form)],
                                     capture_output=True, encoding="utf-8", check=True).stdout)
                for _ in range(3)
            ]  # fmt: skip
            first = min(found)
            rows.append((f"{WORDS[form]}, the first of a program", first, bar))
            command = [sys.executable, "-m", "rsdesign", "handout", str(folder / "family.toml"),
                       "-o", str(Path(place) / f"out.{form}")]  # fmt: skip
            took = best(lambda _, c=command: subprocess.run(c, check=True, capture_output=True), 3)
            rows.append((f"{WORDS[form]}, the whole command", took, None))
    print("| what | measured | bar |\n| --- | --- | --- |")
    for words, took, bar in rows:
        print(f"| {words} | {took:.2f} s | {'stated' if bar is None else f'{bar:.0f} s'} |")


if __name__ == "__main__":
    main()
