"""What is for sale: parts with the choices of a design that each sets, its price, its life, its doubt."""

import functools
import itertools
import tomllib
from dataclasses import dataclass, field
from pathlib import Path

from ...core.choices import DesignError, plain_value, problem
from ...core.folders import data_folder
from ...core.kinds import KINDS, UnitError
from ...core.units import clipped, parse
from ...design.model import FIELDS

SETS = {
    "tank": ("tank.shape", "tank.width", "tank.length", "tank.depth"),
    "settler": ("solids.settler",),
    "filter": ("filter.type", "filter.medium", "prices.vessel", "terms.life_vessel"),
    "air": ("air.device", "air.count"),
    "pump": ("pump.model", "pump.count"),
    "pipe": ("pump.pipe",),
    "backup": ("safety.backup", "safety.backup_kind"),
    "lid": ("climate.cover",),
}
"""The parts, and the choices of a design that a thing of each may set beside its price and life."""

PRICE = {
    "tank": ("prices.tank", "terms.life_tank"),
    "settler": ("prices.settler", "terms.life_settler"),
    "filter": ("prices.media", "terms.life_media"),
    "air": ("prices.air_machine", "terms.life_air"),
    "pump": ("prices.pump", "terms.life_pump"),
    "pipe": ("prices.pipe", "terms.life_pipe"),
    "backup": ("prices.backup", "terms.life_backup"),
    "lid": ("prices.lid", "terms.life_lid"),
}
"""The price of a part and its life, as choices of a design."""

NEEDED = {
    "tank": "tank.width", "settler": "solids.settler", "filter": "filter.medium", "air": "air.device",
    "pump": "pump.model", "pipe": "pump.pipe", "backup": "safety.backup", "lid": "climate.cover",
}  # fmt: skip
"""The choice without which a thing is no thing of its part."""

TO_MEASURE = ("settler", "filter")
"""Parts that are built to measure: so many times the size that is needed."""
MOST_ROWS, MOST_SIZES, MOST_TIMES = 60, 200, 5.0


@dataclass(frozen=True, slots=True)
class Offer:
    """One thing that can be bought, of one size.

    ``values``: what it sets in a design, by path, plain numbers or words.  ``times``: built to
    measure, so many times the size needed.  ``doubt``: share of its price in doubt; 0 for a quote.
    """

    part: str
    name: str
    values: dict = field(hash=False)
    times: float = 1.0
    doubt: float = 0.0
    own: bool = False

    @property
    def physical(self) -> tuple:
        """What it is, its price and life left out: things alike in this differ in money alone."""
        mine = [
            (p, v) for p, v in sorted(self.values.items()) if not p.startswith(("prices", "terms"))
        ]
        return (self.part, self.times, *mine)


@dataclass(frozen=True, slots=True)
class Offers:
    """Everything for sale, by part, and where the prices come from."""

    parts: dict[str, tuple[Offer, ...]]
    note: str
    doubt_source: str

    @property
    def combinations(self) -> int:
        """How many designs can be put together of them."""
        count = 1
        for found in self.parts.values():
            count *= len(found)
        return count

    def part(self, name: str) -> tuple[Offer, ...]:
        """The offers of one part."""
        return self.parts[name]


def offers(own=None, quotes: list[dict] | None = None, only: dict | None = None) -> Offers:
    """What is for sale: the invented list, with a person's own parts and prices put in.

    Parameters:
        own: a TOML file like ``data/offers.toml``.  A table with the name of a thing on the list
            changes it, and its price is then a quote without doubt; another name is one thing more.
            ``only = true`` in the file leaves the invented list out.
        quotes: rows such as ``{"part": "tank", "name": "pool with a liner", "price": "0.35 per gal"}``.
        only: by part, the name or the names of the things to look at; other parts stay whole.
    Returns: the ``Offers``.
    Raises: ``DesignError`` with one sentence that names the file, the part and the thing.

    >>> offers().combinations > 10**9
    True
    """
    table, where = _listed(), "data/offers.toml"
    if own is not None or quotes or only:
        merged = {part: [dict(row) for row in table[part]] for part in SETS}
        if own is not None:
            where = Path(own).name
            _with_file(merged, _file(Path(own)), where)
        for row in quotes or ():
            _put_in(merged, row["part"], [_of_quote(row)], "the quotes")
        for part, names in (only or {}).items():
            _narrow(merged, part, [names] if isinstance(names, str) else list(names))
        table = {**table, **merged}
    return _offers(table, where)


def _with_file(merged: dict, mine: dict, where: str) -> None:
    """The rows of a file of one's own put in."""
    if mine.get("only") is True:
        for rows in merged.values():
            rows.clear()
    for part, rows in mine.items():
        if part not in ("only", "note", "doubt", "doubt_source"):
            _put_in(merged, part, rows, where)


def _of_quote(row: dict) -> dict:
    """A quote as a row of the list."""
    price, life = PRICE[row["part"]]
    told = {path: row[key] for path, key in ((price, "price"), (life, "life")) if row.get(key)}
    return {"name": row["name"]} | told


def _narrow(merged: dict, part: str, names: list[str]) -> None:
    """The rows of one part that are named; the others go."""
    if part not in SETS:
        raise DesignError(f"{clipped(part)} is not a part; there are {', '.join(SETS)}.")
    there = [row["name"] for row in merged[part]]
    for name in names:
        if name not in there:
            raise DesignError(
                f"{part}: {clipped(name)} is not on the list; there are {', '.join(there)}."
            )
    merged[part] = [row for row in merged[part] if row["name"] in names]


@functools.cache
def _listed() -> dict:
    return _file(data_folder() / "offers.toml")


def _file(path: Path) -> dict:
    try:
        return tomllib.loads(path.read_text(encoding="utf-8"))
    except (OSError, UnicodeDecodeError, tomllib.TOMLDecodeError) as wrong:
        raise DesignError(
            f"{clipped(path, 200)} cannot be read: {getattr(wrong, 'strerror', None) or wrong}."
        ) from None


def _put_in(merged: dict, part: str, rows, where: str) -> None:
    """Own rows of one part put in: a known name changes that row, another one is added."""
    if part not in SETS:
        raise DesignError(f"{where}: {clipped(part)} is not a part; there are {', '.join(SETS)}.")
    if not isinstance(rows, list) or not all(isinstance(row, dict) for row in rows):
        raise DesignError(f"{where}: write each {part} as a table of its own, [[{part}]].")
    known = {row["name"].lower(): row for row in merged[part]}
    for row in rows:
        before = known.get(str(row.get("name", "")).lower())
        fresh = {"doubt": "0 %"} | row | {"own": True}
        if before is None:
            merged[part].append(fresh)
        else:
            before.update({k: v for k, v in fresh.items() if k != "name"})


def _offers(table: dict, where: str) -> Offers:
    doubt = _share(table["doubt"], where)
    parts = {}
    for part in SETS:
        rows = table[part]
        if not rows:
            raise DesignError(f"{where}: there is no {part} to choose; name at least one.")
        if len(rows) > MOST_ROWS:
            raise DesignError(
                f"{where}: {len(rows)} kinds of {part} are too many; give {MOST_ROWS} at most."
            )
        parts[part] = tuple(
            itertools.chain.from_iterable(_sizes(part, row, doubt, where) for row in rows)
        )
    return Offers(parts, table["note"], table["doubt_source"])


def _share(text, where: str) -> float:
    try:
        found = parse(str(text), KINDS["fraction"])
    except UnitError as wrong:
        raise DesignError(f"{where}: doubt: {wrong}") from None
    if not 0.0 <= found <= 1.0:
        raise DesignError(f"{where}: doubt is {clipped(text)}; choose from 0 % to 100 %.")
    return found


def _sizes(part: str, row: dict, doubt: float, where: str) -> list[Offer]:
    """Every size of one row."""
    name = row.get("name")
    if not isinstance(name, str) or not name.strip():
        raise DesignError(f"{where}: a {part} has no name.")
    name = " ".join(name.split())[:60]
    here = f"{where}, {part} {name!r}"
    allowed = (*SETS[part], *PRICE[part])
    paths = [key for key in row if key not in ("name", "doubt", "times_need", "own")]
    for path in paths:
        if path not in allowed:
            raise DesignError(f"{here}: {clipped(path)} is not known; use {', '.join(allowed)}.")
    if NEEDED[part] not in paths:
        raise DesignError(f"{here}: {NEEDED[part]} is missing.")
    lists = [[_plain(path, cell, here) for cell in _listing(row[path])] for path in paths]
    times = [_times(cell, here) for cell in _listing(row.get("times_need", 1.0))]
    if part not in TO_MEASURE and times != [1.0]:
        raise DesignError(f"{here}: times_need is for {' and '.join(TO_MEASURE)} alone.")
    found = [
        Offer(part, name, dict(zip(paths, values, strict=True)), so_many,
              _share(row["doubt"], here) if "doubt" in row else doubt, bool(row.get("own")))
        for *values, so_many in itertools.product(*lists, times)
    ]  # fmt: skip
    if not 0 < len(found) <= MOST_SIZES:
        raise DesignError(f"{here}: {len(found)} sizes; give 1 to {MOST_SIZES}.")
    return found


def _listing(cell) -> list:
    return cell if isinstance(cell, list) else [cell]


def _plain(path: str, cell, here: str):
    entry = FIELDS[path]
    try:
        value = plain_value(entry, float(cell) if type(cell) is int else cell)
    except DesignError as wrong:
        raise DesignError(f"{here}: {wrong}") from None
    why = problem(entry, value)
    if path == "safety.backup" and value == "none":
        why = "no backup is not for sale: what you save there, the fish pay."
    if why or value is None:
        raise DesignError(f"{here}: {why or path + ' is empty.'}")
    return value


def _times(cell, here: str) -> float:
    if (
        isinstance(cell, bool)
        or not isinstance(cell, (int, float))
        or not 1.0 <= cell <= MOST_TIMES
    ):
        raise DesignError(
            f"{here}: times_need is {clipped(cell)}; choose from 1 to {MOST_TIMES:g}."
        )
    return float(cell)
