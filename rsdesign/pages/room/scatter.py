"""A scatter chart of two results of the designs on the wall; each design is a numbered ring."""

import math

from ...report.drawings.sheet import Sheet

WIDTH, HEIGHT = 560, 420
LEFT, RIGHT, TOP, FOOT = 84, 24, 40, 62
RING = 13
STEPS = (1.0, 2.0, 2.5, 5.0, 10.0)


def span(values: list[float]) -> tuple[float, float, float]:
    """Low end, high end and step of an axis that spans every value and zero.

    >>> span([3.0, 7.9])
    (0.0, 8.0, 2.0)
    """
    low, high = min(0.0, *values), max(0.0, *values)
    high = 1.0 if high == low else high
    rough = (high - low) / 4
    ten = 10.0 ** math.floor(math.log10(rough))
    step = next(s * ten for s in STEPS if s * ten >= rough * (1 - 1e-9))
    return step * math.floor(low / step + 1e-9), step * math.ceil(high / step - 1e-9), step


def scatter(designs: list, across, up, system: str) -> dict:
    """The chart as SVG, the same in a sentence, and its table.

    ``designs``: team, results by path, mark of the currency; ``across`` and ``up`` are results.
    """
    units = [r.kind.shown(system).label for r in (across, up)]
    words = [f"{r.label}, {u}" if u else r.label for r, u in zip((across, up), units, strict=True)]
    rows, dots, lost = [], [], []
    for at, (team, values, mark) in enumerate(designs, 1):
        pair = values[across.path], values[up.path]
        rows.append([f"{at}", team, across.shown(pair[0], system, mark),
                     up.shown(pair[1], system, mark)])  # fmt: skip
        if all(math.isfinite(v) for v in pair):
            dots.append((at, across.axis(pair[0], system), up.axis(pair[1], system)))
        else:
            lost.append(team)
    mark = designs[0][2] if len({d[2] for d in designs}) == 1 else ""
    sentence = "; ".join(f"{at} {team}: {x}, {y}" for at, team, x, y in rows)
    sentence = f"{across.label} across, {up.label.lower()} up. {sentence}." if rows else ""
    if lost:
        sentence += f" Not on the chart, for want of a number: {', '.join(lost)}."
    return {
        "svg": _drawn(dots, (across, up), words, mark) if dots else "",
        "sentence": sentence,
        "table": {"headings": ["", "Team", *words], "rows": rows},
    }


def _drawn(dots: list, pair: tuple, words: list[str], mark: str) -> str:
    sheet = Sheet(WIDTH, HEIGHT, "Two results of every design on the wall")
    wide, high = WIDTH - LEFT - RIGHT, HEIGHT - TOP - FOOT
    across, up = span([d[1] for d in dots]), span([d[2] for d in dots])

    def x_of(value):
        return LEFT + wide * (value - across[0]) / (across[1] - across[0])

    def y_of(value):
        return HEIGHT - FOOT - high * (value - up[0]) / (up[1] - up[0])

    for value in _ticks(across):
        sheet.line((x_of(value), TOP), (x_of(value), HEIGHT - FOOT), stroke="inset", width=1)
        sheet.text(x_of(value), HEIGHT - FOOT + 22, pair[0].tick(value, mark), "middle", 16)
    for value in _ticks(up):
        sheet.line((LEFT, y_of(value)), (WIDTH - RIGHT, y_of(value)), stroke="inset", width=1)
        sheet.text(LEFT - 6, y_of(value) + 5, pair[1].tick(value, mark), "end", 16)
    sheet.line((LEFT, TOP), (LEFT, HEIGHT - FOOT), (WIDTH - RIGHT, HEIGHT - FOOT))
    sheet.text(WIDTH - RIGHT, HEIGHT - 12, f"{words[0]} →", "end", 16)
    sheet.text(8, 20, f"↑ {words[1]}", "start", 16)
    for numbers, x, y in _places([(at, x_of(x), y_of(y)) for at, x, y in dots]):
        sheet.circle(x, y, RING, "paper", "clay", 3)
        sheet.text(x, y + 6, f"{numbers[0]}", "middle", 16, bold=True)
        if len(numbers) > 1:
            also = ", ".join(f"{n}" for n in numbers[1:])
            sheet.text(x + RING + 4, y + 6, f"and {also}", "start", 16, bold=True)
    return sheet.svg("The numbers are in the table below.")


def _places(dots: list) -> list:
    """Merge rings that would overlap into one with all their numbers."""
    found = []
    for at, x, y in dots:
        near = (p for p in found if math.hypot(p[1] - x, p[2] - y) < RING / 2)
        place = next(near, None)
        if place is None:
            found.append(([at], x, y))
        else:
            place[0].append(at)
    return found


def _ticks(about: tuple[float, float, float]) -> list[float]:
    low, high, step = about
    return [low + step * i for i in range(round((high - low) / step) + 1)]
