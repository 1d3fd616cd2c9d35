"""Compute anew, by SciPy and NumPy alone, what they gave for the check values of time.

``python tests/reference/time_by_scipy.py`` prints each value beside the one that is kept in
``startup.csv``, ``season_growth.csv``, ``feeding_day.csv`` (here) and ``data/published``.  The
equations are written out here once more and no solver of this package is called; the constants of
the bacteria are read from ``data/ripening.csv``.  Units g, m³, day (hours for a day of feeding).
"""

import csv
import json
from functools import cache
from importlib.metadata import version
from pathlib import Path

import numpy as np
from scipy.integrate import solve_ivp
from scipy.optimize import brentq, minimize_scalar
from scipy.special import lambertw

HERE = Path(__file__).parent
DATA = HERE.parents[1] / "data"
SECONDS = 86400.0


def table(path: Path) -> list[dict]:
    """The rows of a table, notes left out."""
    with path.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(line for line in file if not line.startswith("#")))


NUMBERS = {row["name"]: float(row["value"]) for row in table(DATA / "ripening.csv")}


def bacteria(kind: str, temperature: float, oxygen: float) -> dict[str, float]:
    """Growth and decay [1/day], yield and half level of one kind; the pH left out."""
    n, above = NUMBERS, temperature - 20.0
    breath = oxygen / (n[f"oxygen_{kind}"] + oxygen)
    return {
        "growth": n[f"growth_{kind}"] * n[f"theta_{kind}"] ** above * breath,
        "decay": n[f"decay_{kind}"] * n["theta_decay"] ** above,
        "yield": n[f"yield_{kind}"],
        "half": n[f"half_{kind}"],
    }


@cache
def start(temperature: float, oxygen: float, load: float, seed: float, days: float):
    """A filter that ripens under an even load: LSODA's solution, ammonia and nitrite first."""
    a, n = (bacteria(kind, temperature, oxygen) for kind in ("ammonia", "nitrite"))

    def slopes(_, y):
        eaten = a["growth"] / a["yield"] * y[2] * y[0] / (a["half"] + y[0])
        passed = n["growth"] / n["yield"] * y[3] * y[1] / (n["half"] + y[1])
        return [
            load - eaten,
            eaten - passed,
            a["yield"] * eaten - a["decay"] * y[2],
            n["yield"] * passed - n["decay"] * y[3],
            passed,
        ]

    seeds = [seed * k["yield"] * load / k["decay"] for k in (a, n)]
    return solve_ivp(slopes, (0.0, days), [0.0, 0.0, *seeds, 0.0], method="LSODA", rtol=1e-8,
                     atol=1e-12, dense_output=True, max_step=0.5)  # fmt: skip


def peak(found, row: int) -> tuple[float, float]:
    """Day and height of the highest level."""
    days = np.linspace(0.0, found.t[-1], 4001)
    near = days[found.sol(days)[row].argmax()]
    best = minimize_scalar(lambda t: -found.sol(t)[row], bounds=(max(near - 0.2, 0.0), near + 0.2),
                           method="bounded", options={"xatol": 1e-6})  # fmt: skip
    return float(best.x), float(-best.fun)


def run(what: str, told: dict) -> float:
    """A number of a run of ``startup.csv``."""
    found = start(told["T"], told["DO"], told["load"], told["seed_fraction"], 120.0)
    if what == "t_both_below_1":
        days = np.linspace(0.0, 120.0, 12001)
        last = np.flatnonzero((found.sol(days)[:2] > 1.0).any(axis=0))[-1]
        over = lambda t: found.sol(t)[:2].max() - 1.0  # noqa: E731
        return brentq(over, days[last], days[last + 1])
    day, height = peak(found, 0 if "TAN" in what else 1)
    return day if what.startswith("t") else height


def seed_saves() -> float:
    """Days by which a hundred times the seed brings the nitrite peak forward."""
    return peak(start(25, 6, 5, 1e-6, 120.0), 1)[0] - peak(start(25, 6, 5, 1e-4, 120.0), 1)[0]


def film(level: float, temperature: float) -> float:
    """Half-order film, g/(m² day), Nijhof and Bovendeur 1990."""
    return max(min(0.55 * np.sqrt(max(level, 0.0)) - 0.10, 0.69), 0.0) * 1.043 ** (
        temperature - 24.0
    )


def film_rest(told: dict) -> float:
    """Level at which the film takes the load."""
    most = told["area"] * told["derate"]
    return brentq(lambda s: most * film(s, told["T"]) - told["load"], 1e-3, 5.0, xtol=1e-14)


def half_day(told: dict) -> float:
    """Highest ammonia of a day that repeats itself, all feed within its first half."""
    most, warm = told["area"] * told["derate"], told["temperature"]
    level, found = 0.39, None
    for _ in range(6):
        highest = level
        for load in (2.0 * told["load"], 0.0):
            found = solve_ivp(
                lambda _, y, load=load: [load - most * film(y[0], warm) - told["exchange"] * y[0]],
                (0.0, 0.5), [level], method="LSODA", rtol=1e-9, atol=1e-12,
            )  # fmt: skip
            level = float(found.y[0, -1])
            highest = max(highest, found.y[0].max())
    return highest


def response(hours, lag: float):
    """What a meal gives off at so many hours after it, over the mean; repeated each day."""
    k = 1.0 / lag
    q = np.exp(-24.0 * k)
    t = np.mod(hours, 24.0)
    return 24.0 * k * k * np.exp(-k * t) * (t / (1.0 - q) + 24.0 * q / (1.0 - q) ** 2)


def pattern(hours, told: dict):
    """Use at an hour over its mean: a base, and the meals."""
    meals = np.mean([response(hours - m, told["lag_h"]) for m in told["meals"]], axis=0)
    base = told["base_share"]
    return base + (1.0 - base) * meals


def highest_hour(told: dict) -> float:
    """Highest use over the mean."""
    return float(pattern(np.arange(0.0, 24.0, 1e-3), told).max())


@cache
def _oxygen_day(words: str):
    """Oxygen and use at each minute of a day that repeats itself: exact minute steps."""
    told = json.loads(words)
    minutes = np.arange(0.0, 24.0, 1.0 / 60.0)
    use = told["use"] * pattern(minutes + 0.5 / 60.0, told)
    held = np.exp(-told["transfer"] / 60.0)
    rest = told["saturation"] - use / told["transfer"]
    level = told["saturation"]
    for _ in range(4):
        levels = []
        for there in rest:
            levels.append(level)
            level = there + (level - there) * held
    return np.array(levels), use


def lowest_oxygen(told: dict) -> float:
    """Lowest oxygen of the day."""
    return float(_oxygen_day(json.dumps(told))[0].min())


def fewest_minutes(told: dict) -> float:
    """Minutes until the oxygen is low, from the worst minute to lose all air."""
    levels, use = _oxygen_day(json.dumps({k: v for k, v in told.items() if k != "low"}))
    used = np.concatenate([[0.0], np.cumsum(np.tile(use, 2)) / 60.0])
    ends = np.interp(used[:1440] + levels - told["low"], used, np.arange(2881.0))
    return float((ends - np.arange(1440)).min())


def rise(told: dict) -> float:
    """Ammonia before its peak: growth that no level limits, by DOP853."""
    g, y = told["growth_rate"] * SECONDS, told["bacterial_yield"]
    net = g - told["decay_rate"] * SECONDS
    load, x0 = 1e3 * SECONDS * told["volume_load"], 1e3 * told["bacteria"]
    found = solve_ivp(lambda t, s: [load - g / y * s[1], net * s[1]],
                      (0.0, told["time"] / SECONDS), [0.0, x0],
                      method="DOP853", rtol=1e-11, atol=1e-13)  # fmt: skip
    return 1e-3 * float(found.y[0, -1])


def rest(told: dict) -> float:
    """Ammonia after 400 days of an even load of 5 g/(m³ day), by LSODA."""
    growth, decay = told["growth_rate"] * SECONDS, told["decay_rate"] * SECONDS
    half, y = 1e3 * told["half_level"], 0.15

    def slopes(_, s):
        eaten = growth / y * s[1] * s[0] / (half + s[0])
        return [5.0 - eaten, y * eaten - decay * s[1]]

    found = solve_ivp(slopes, (0.0, 400.0), [0.0, 1e-3], method="LSODA", rtol=1e-10, atol=1e-12)
    return 1e-3 * float(found.y[0, -1])


def batch(told: dict) -> float:
    """Time in which growing bacteria bring a dose down, by Radau and an event."""
    growth, y = told["growth_rate"] * SECONDS, told["bacterial_yield"]
    half, level = 1e3 * told["half_level"], 1e3 * told["level"]

    def slopes(_, s):
        eaten = growth / y * s[1] * s[0] / (half + s[0])
        return [-eaten, y * eaten]

    def there(_, s):
        return s[0] - level

    there.terminal = True
    found = solve_ivp(slopes, (0.0, 20.0), [1e3 * told["start"], 1e3 * told["bacteria"]],
                      method="Radau", rtol=1e-10, atol=1e-12, events=there)  # fmt: skip
    return SECONDS * float(found.t_events[0][0])


def fixed(told: dict) -> float:
    """Level after a time, bacteria as many as they are: Lambert's W."""
    k, s0 = told["half_level"], told["start"]
    power = (s0 - told["fastest_uptake"] * told["time"]) / k
    return float(k * lambertw(s0 / k * np.exp(power)).real)


def trial_slope(_: dict) -> float:
    """Slope of the growth of cube roots with temperature, three groups of a trial, by polyfit."""
    rows = {row["id"]: row for row in table(HERE / "season_growth.csv")}
    warm, rates = [], []
    for name in ("season-145", "season-146", "season-147"):
        told = json.loads(rows[name]["inputs"])
        warm.append(told["T"])
        grown = np.cbrt(float(rows[name]["expected"])) - np.cbrt(told["W0_g"])
        rates.append(1e3 * grown / told["days"])
    return float(np.polyfit(warm, rates, 1)[0])


def daily_growth(told: dict) -> float:
    """Weight after 120 days of warmth that swings through the year: the sum of its degree-days."""
    water = np.minimum(26.0 + 5.0 * np.sin(2.0 * np.pi * np.arange(120) / 365.0), told["top"])
    degrees = np.maximum(water - told["T0"], 0.0).sum()
    return float((np.cbrt(told["W0"]) + told["TGC"] * degrees / 1000.0) ** 3)


def robertson(method: str, rtol: float) -> float:
    """Middle substance of Robertson's stiff reaction at t = 40: a known answer for the solver itself."""

    def slopes(_, y):
        slow, fast, last = 0.04 * y[0], 1e4 * y[1] * y[2], 3e7 * y[1] ** 2
        return [fast - slow, slow - fast - last, last]

    found = solve_ivp(slopes, (0.0, 40.0), [1.0, 0.0, 0.0], method=method, rtol=rtol, atol=1e-14)
    return float(found.y[1, -1])


ROBERTSON = 9.185534764e-6
"""The same, printed in tests of stiff solvers; from memory.  Robertson 1966 is the problem."""

SEASON = {"season-073": daily_growth, "season-149": trial_slope}
PUBLISHED = {"startup-rise-": rise, "startup-rest-ammonia": rest, "startup-batch-": batch,
             "startup-fixed-": fixed}  # fmt: skip
DAY = {"day-102": highest_hour, "day-159": half_day, "day-162": lowest_oxygen,
       "day-163": fewest_minutes, "day-164": lowest_oxygen}  # fmt: skip


def started(row: dict) -> float | None:
    """The value of a row of ``startup.csv``; none where no solver gave it."""
    told = json.loads(row["inputs"])
    if row["what"].startswith("run "):
        return run(row["what"].removeprefix("run "), told)
    return {"seed": lambda _: seed_saves(), "rest": film_rest}.get(row["what"], lambda _: None)(
        told
    )


def computed() -> dict[str, tuple[float, float, float]]:
    """Each value by the id of its row: now, as it is kept, and its tolerance (below 0: absolute)."""
    found = {}
    for row in table(HERE / "startup.csv"):
        value = started(row)
        if value is not None:
            found[row["id"]] = (value, float(row["expected"]), float(row["tolerance"]))
    for row in table(HERE / "feeding_day.csv"):
        if row["id"] in DAY:
            sign = 1.0 if row["kind"] == "rel" else -1.0
            value = DAY[row["id"]](json.loads(row["inputs"]))
            found[row["id"]] = (value, float(row["expected"]), sign * float(row["tolerance"]))
    for row in table(HERE / "season_growth.csv"):
        if row["id"] in SEASON:
            within = float(row["tolerance"].split()[0])
            value = SEASON[row["id"]](json.loads(row["inputs"]))
            found[row["id"]] = (value, float(row["expected"]), within)
    for row in table(DATA / "published" / "startup.csv"):
        for start_of_id, function in PUBLISHED.items():
            if row["id"].startswith(start_of_id):
                value = function(json.loads(row["arguments"]))
                found[row["id"]] = (value, float(row["value"]), float(row["tolerance"]))
    return found


def main() -> None:
    """Print every value beside the one that is kept."""
    print(f"SciPy {version('scipy')}, NumPy {version('numpy')}")
    print(f"{'row':24} {'now':>16} {'kept':>16} {'apart':>10}")
    for name, (now, kept, _) in computed().items():
        print(f"{name:24} {now:16.9g} {kept:16.9g} {abs(now / kept - 1.0):10.1e}")
    for method in ("LSODA", "Radau", "BDF"):
        now = robertson(method, 1e-9)
        print(
            f"Robertson, {method:13} {now:16.9g} {ROBERTSON:16.9g} {abs(now / ROBERTSON - 1.0):10.1e}"
        )


if __name__ == "__main__":
    main()
