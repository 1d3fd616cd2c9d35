"""A slider move in the kernel alone: time of the processor as a ratio to one sizing, and bytes of its answer.

Run ``python tests/bench/bench_moves.py [--moves 40] [page ...]``.  Sizings and moves take turns, so that a machine that
goes slower or faster changes both.
"""

import argparse
import json
import statistics
import time
from functools import partial

from rsdesign.design.model import with_values
from rsdesign.pages.demos import demo
from rsdesign.pages.jupyter.page_channel import PageChannel
from rsdesign.pages.session import Session
from rsdesign.sizing.system import size

PAGES = ("startup", "season", "day", "start", "fish", "biofilter", "whole")


def spent(work) -> float:
    """Seconds of the processor."""
    start = time.process_time()
    work()
    return time.process_time() - start


def moved(page: str, moves: int) -> tuple[list[float], list[float], list[int]]:
    """Seconds of each move and of a sizing beside it, and bytes of the answers."""
    sent: list = []
    channel = PageChannel(Session(page), lambda content, buffers: sent.append(content))
    channel.receive(
        {"n": 1, "page": "bench", "message": {"do": "open", "page": page, "width": 636}}
    )
    design, took, sizings, sizes = demo("family"), [], [], []
    for k in range(moves):
        other = with_values(design, {"goal.fish": 40.0 + (k * 37) % 120})
        sizings.append(spent(partial(size, other)))
        message = {"do": "slide", "path": "goal.fish", "at": 0.2 + 0.6 * ((k * 37) % 61) / 61}
        del sent[:]
        told = {"n": k + 2, "page": "bench", "message": message}
        took.append(spent(partial(channel.receive, told)))
        sizes.append(sum(len(json.dumps(m, ensure_ascii=False).encode()) for m in sent))
    return took[3:], sizings[3:], sizes[3:]


def main() -> None:
    """Print the table."""
    asked = argparse.ArgumentParser()
    asked.add_argument("--moves", type=int, default=40)
    asked.add_argument("pages", nargs="*", default=PAGES)
    about = asked.parse_args()
    print("| page | a move, median | a sizing | ratio | answer |\n| --- | --- | --- | --- | --- |")
    for page in about.pages:
        took, sizings, sizes = moved(page, about.moves)
        one, move = statistics.median(sizings), statistics.median(took)
        ratio = statistics.median(a / b for a, b in zip(took, sizings, strict=True))
        print(f"| {page} | {1e3 * move:.1f} ms | {1e3 * one:.2f} ms | × {ratio:.1f} |"
              f" {statistics.median(sizes) / 1e3:.1f} kB |", flush=True)  # fmt: skip


if __name__ == "__main__":
    main()
