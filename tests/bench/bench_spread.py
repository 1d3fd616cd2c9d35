"""How long a spread takes, beside one sizing: ``python tests/bench/bench_spread.py``, processor time, best of several."""

import time

from rsdesign import load, size
from rsdesign.core.tables import data_folder
from rsdesign.pages import blocks
from rsdesign.pages.session import Session
from rsdesign.studies.spread.study import computed

DESIGNS = ("family", "school", "commercial")


def best(run, many: int = 9) -> float:
    """Least processor time of several runs [ms]."""
    times = []
    for _ in range(many):
        start = time.process_time()
        run()
        times.append(time.process_time() - start)
    return 1000.0 * min(times)


def moved(session: Session):
    """A move of a thumb, each time to another place."""
    places = iter(range(10_000))

    def move():
        session.handle(
            {"do": "slide", "path": "filter.media_volume", "at": 0.3 + 0.001 * next(places)}
        )
        blocks.moving(session)

    return move


def main() -> None:
    """Print a row for each design, and one for a move of the page."""
    print("design       one sizing   2,000 draws   of a sizing   256 draws without cost [ms]")
    for name in DESIGNS:
        design = load(data_folder() / "designs" / f"{name}.toml")
        sizing = size(design)
        one = best(lambda d=design: size(d), 30)
        all_ = best(lambda s=sizing: computed(s, 2000, 1, ()))
        few = best(lambda s=sizing: computed(s, 256, 1, (), False))
        print(f"{name:12} {one:10.2f} {all_:13.1f} {all_ / one:13.1f} {few:12.1f}")
    session = Session("spread")
    blocks.compose(session)
    print(f"a move of the page, no browser: {best(moved(session), 15):.1f} ms")


if __name__ == "__main__":
    main()
