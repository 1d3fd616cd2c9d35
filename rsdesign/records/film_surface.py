"""Ammonia, nitrite and what turns to nitrate on each day of a log, over filter factor and ammonia share.

The season's filter is run once, for a grid of both numbers; between its nodes a cubic is laid.  So a
search, a band of a thousand draws and a bootstrap cost no further run of the filter, and no physics is
written twice.
"""

from dataclasses import dataclass, fields, replace

import numpy as np

from ..core.unit_table import DAY
from ..equations.fish import loads as formulas
from ..season import season_water
from ..season.colonies import colonies_of
from ..season.crop import Fish
from ..season.season_run import RIPE_FOR
from ..season.what_ifs import changes
from .drive import MEAN_OF, Drive

LEAST_SHARE, MOST_SHARE = 0.2, 0.8
"""Ammonia over the nitrogen of the feed, as far as the season takes it."""
SHARES = 9
"""Nodes along the ammonia share."""
FACTORS = np.geomspace(0.05, 8.0, 24)
"""Rate of the film over that of the design, at the nodes."""
BEFORE = 5
"""Days like the first before the log, so that the filter stands where the first days of feed put it."""
LEAST = 1e-7
"""Level [kg/m³] that counts as nothing, 0.1 µg/L, so that its logarithm is finite."""


@dataclass(frozen=True, slots=True, eq=False)
class Surface:
    """Nodes (shares x factors) x days; levels in the evening [kg/m³], one more than there are days."""

    shares: np.ndarray
    factors: np.ndarray
    ammonia: np.ndarray
    """Logarithm."""
    nitrite: np.ndarray
    nitrified: np.ndarray
    """Ammonia that was turned to nitrite, a day [kg/m³]."""
    passed: np.ndarray
    """Nitrite that was turned to nitrate, likewise."""

    def at(self, share: np.ndarray, factor: np.ndarray) -> dict[str, np.ndarray]:
        """The four courses for some shares and factors: days x columns."""
        nodes = _weights(np.log(self.shares), np.log(share))
        others = _weights(np.log(self.factors), np.log(factor))
        whole = (nodes[:, :, None] * others[:, None, :]).reshape(share.size, -1)
        found = {
            n: (whole @ getattr(self, n)).T for n in ("ammonia", "nitrite", "nitrified", "passed")
        }
        found["ammonia"], found["nitrite"] = np.exp(found["ammonia"]), np.exp(found["nitrite"])
        return found


def _weights(nodes: np.ndarray, x: np.ndarray) -> np.ndarray:
    """Weights of even nodes for the cubic through the four around each place: places x nodes."""
    step = nodes[1] - nodes[0]
    at = np.clip((x - nodes[0]) / step, 0.0, nodes.size - 1.0)
    first = np.clip(np.floor(at).astype(int) - 1, 0, nodes.size - 4)
    t = at - first
    rows = np.arange(x.size)
    found = np.zeros((x.size, nodes.size))
    for k in range(4):
        others = [j for j in range(4) if j != k]
        found[rows, first + k] = np.prod([(t - j) / (k - j) for j in others], axis=0)
    return found


def most_share(drive: Drive) -> float:
    """The most ammonia over the feed's nitrogen: what the fish do not keep, 0.8 at most and 0.3 at least."""
    stock = drive.sizing.design.stock
    fed = formulas.feed_nitrogen.__wrapped__(1.0, stock.protein)
    kept = formulas.fish_nitrogen.__wrapped__(1.0 / stock.feed_conversion)
    return float(np.clip(1.0 - kept / fed, 1.5 * LEAST_SHARE, MOST_SHARE))


def surface_of(drive: Drive, shares=None, factors=FACTORS) -> Surface:
    """The season's filter over a grid of ammonia shares and filter factors.

    Parameters:
        drive: what drove the water.
        shares, factors: nodes, each in even steps of their logarithm, four at least; shares up to what
            the fish do not keep where left out.
    Returns: ``Surface``.
    """
    if shares is None:
        shares = np.geomspace(LEAST_SHARE, most_share(drive), SHARES)
    share, factor = (x.ravel() for x in np.meshgrid(shares, factors, indexing="ij"))
    return Surface(shares, factors, **filter_days(drive, share, factor))


def filter_days(drive: Drive, share: np.ndarray, factor: np.ndarray) -> dict[str, np.ndarray]:
    """The season's filter under the feed of a log: columns x days, as ``Surface`` holds them.

    ``share`` and ``factor``: one for each column.
    """
    whole = _with_days_before(drive)
    works = replace(drive.works, nitrate_source=0.0, plants_uptake=0.0)
    shape = (whole.days, share.size)
    fish = _fish(whole, shape)
    moved = expected_flows(whole)
    out = np.broadcast_to(moved["out"], shape)
    waste = season_water.waste_of(works, fish, out, share)  # type: ignore[arg-type]
    made = waste.from_fish + waste.rotten + waste.freed
    levels, beside = season_water.filter_of(
        whole.sizing, works, made, (whole.temperature, whole.ph), moved, changes((), whole.days),
        colonies_of(whole.sizing, whole.temperature, whole.ph), RIPE_FOR,
        film_factor=factor,
    )  # fmt: skip
    volume = works.volume
    return {
        "ammonia": np.log(np.maximum(levels.ammonia[BEFORE - 1 :], LEAST)).T,
        "nitrite": np.log(np.maximum(levels.nitrite[BEFORE - 1 :], LEAST)).T,
        "nitrified": (levels.nitrified + beside / volume)[BEFORE:].T,
        "passed": _made_of(levels.nitrate, out / volume * DAY)[BEFORE:].T,
    }


def _made_of(level: np.ndarray, pace: np.ndarray) -> np.ndarray:
    """What came in evenly on each day, of a substance that else only leaves with the water."""
    before = np.concatenate([np.zeros_like(level[:1]), level[:-1]])
    stays = np.exp(-pace)
    share = np.where(pace > 1e-9, (1.0 - stays) / np.maximum(pace, 1e-9), 1.0)
    return (level - before * stays) / share


def _with_days_before(drive: Drive) -> Drive:
    """The drive with days before it that are like its first week."""

    def longer(values, usual):
        return np.concatenate([np.repeat(usual, BEFORE, axis=0), values])

    first = slice(0, MEAN_OF)
    more = {n: longer(getattr(drive, n), getattr(drive, n)[:1])
            for n in ("temperature", "ph", "evaporation", "known_feed")}  # fmt: skip
    more["feed"] = longer(drive.feed, drive.feed[first].mean(axis=0, keepdims=True))
    more["fasting"] = longer(drive.fasting, 0.0 * drive.fasting[:1])
    more["salt"] = longer(drive.salt, 0.0 * drive.salt[:1])
    if drive.added is not None:
        more["added"] = longer(drive.added, drive.added[first].mean(axis=0, keepdims=True))
    return replace(drive, **more)


def _fish(drive: Drive, shape: tuple[int, int]) -> Fish:
    """The fish of a log as the season's water asks for them: what they ate, gained and lost."""
    feed = np.broadcast_to(drive.feed, shape)
    none = np.zeros(shape)
    told = {
        "feed": feed,
        "eaten": feed,
        "gain": feed / drive.sizing.design.stock.feed_conversion,
        "loss": np.broadcast_to(drive.fasting, shape),
    }
    return Fish(**{f.name: told.get(f.name, none) for f in fields(Fish)})


def expected_flows(drive: Drive, evaporated=1.0, drained=1.0) -> dict[str, np.ndarray]:
    """New water and what leaves as a liquid on each day [m³/s], days x columns.

    Parameters:
        drive: what drove the water.
        evaporated: evaporation over what the design expects, where the log tells the new water; what
            was put in and did not evaporate left as a liquid, the level being kept.
        drained: what leaves as a liquid over what the design plans, where the log does not tell.
    Returns: "new" and "out".
    """
    if drive.added is None:
        fish = _fish(drive, drive.feed.shape)
        planned = season_water.flows(drive.works, fish, drive.evaporation / DAY)
        out = planned["out"] * drained
        return {"new": out + drive.evaporation / DAY, "out": out}
    usual = np.maximum(_moving_mean(drive.added[:, 0])[:, None], 1e-12)
    share = np.clip(1.0 - evaporated * drive.evaporation / usual, DRY, 1.0)
    return {"new": drive.added / DAY + 0.0 * share, "out": drive.added * share / DAY}


DRY = 0.01
"""Least share of the new water that leaves as a liquid: splashes and wet nets."""


def _moving_mean(values: np.ndarray) -> np.ndarray:
    """The mean over the days around each, fewer at the ends."""
    window = np.ones(2 * MEAN_OF + 1)
    return (
        np.convolve(values, window, "full")[MEAN_OF:-MEAN_OF]
        / np.convolve(np.ones_like(values), window, "full")[MEAN_OF:-MEAN_OF]
    )
