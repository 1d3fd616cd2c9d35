"""Add to ``draw_samples.csv`` what exercises of a new version draw; rows that are there stay as they are.

``python tests/make_draw_samples.py``
"""

import csv
from pathlib import Path

from rsdesign.teaching.bank import bank
from rsdesign.teaching.variants import learner_key, problem

SAMPLES = Path(__file__).parent / "draw_samples.csv"
COLUMNS = ("exercise", "version", "learner", "index", "order")
LEARNERS = ("A2", "K7QP-3", "Z9")


def rows() -> list[dict]:
    """The stored rows."""
    if not SAMPLES.exists():
        return []
    with SAMPLES.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def drawn(exercise, learner: str) -> dict:
    """What a learner of the sample class draws."""
    found = problem(exercise, learner, learner_key("sample class", learner))
    order = " ".join(map(str, found.order))
    values = (exercise.id, exercise.version, learner, found.case.index, order)
    return dict(zip(COLUMNS, map(str, values), strict=True))


def main() -> None:
    """Write the file anew with what is missing."""
    found = rows()
    known = {(row["exercise"], row["version"]) for row in found}
    for e in bank().values():
        if (e.id, str(e.version)) not in known:
            found += [drawn(e, learner) for learner in LEARNERS]
    with SAMPLES.open("w", encoding="utf-8", newline="") as file:
        writer = csv.DictWriter(file, COLUMNS, lineterminator="\n")
        writer.writeheader()
        writer.writerows(sorted(found, key=lambda row: (row["exercise"], int(row["version"]))))


if __name__ == "__main__":
    main()
