"""Monthly weather: the invented places in ``data/climate/`` and a reader for a user's own table.

A table is a CSV file of twelve months.  Lines that start with ``#`` above its header say where it
is (``# latitude: 33.0 deg``, ``# elevation: 330 m``) and the unit of each column (``# unit
air_mean: °C``); a unit may also stand in the header, ``air_mean (°F)``.  Sunshine stands either as
``radiation`` or as hours of bright sun, ``sunshine``; both are held against a clear sky.
"""

import csv
import functools
import re
from dataclasses import dataclass
from difflib import get_close_matches
from pathlib import Path

import numpy as np

from ..core import tables
from ..core.choices import DesignError
from ..core.kinds import KINDS, Kind, Unit, UnitError
from ..core.text_file import FileWords, text_of
from ..core.units import clipped, parse, show, to_plain
from ..equations.heat import sky, sun

A_TABLE = FileWords(
    folder="name a CSV file inside it",
    large="larger than a table of twelve months, which takes about one thousand.",
    missing="copy a table from data/climate and change its numbers",
    coding="save it again as CSV in UTF-8",
)

MIDDLE = np.array([17, 47, 75, 105, 135, 162, 198, 228, 258, 288, 318, 344], float)
"""A day of each month on which the sun stands as in its mean; Klein 1977."""

LENGTH = np.array([31, 28.25, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31])
"""Days of each month."""

MONTHS = ("January", "February", "March", "April", "May", "June", "July", "August", "September",
          "October", "November", "December")  # fmt: skip

COLUMNS: dict[str, tuple[Kind, float, float, str]] = {
    "air_mean": (KINDS["temperature"], -50.0, 50.0, "mean air"),
    "air_max": (KINDS["temperature"], -50.0, 58.0, "mean of the daily highest air"),
    "air_min": (KINDS["temperature"], -60.0, 45.0, "mean of the daily lowest air"),
    "humidity": (KINDS["fraction"], 0.02, 1.0, "mean humidity"),
    "wind": (KINDS["wind"], 0.0, 20.0, "mean wind"),
    "radiation": (KINDS["daily sun"], 0.0, 500.0, "sunshine on level ground"),
    "sunshine": (KINDS["hours"], 0.0, 86400.0, "hours of bright sun in a day"),
}
"""Each column: its kind, what can be computed, and its words."""

STAND_IN = "low desert"
"""The invented place that the heat of a design is shown in where its own is not told."""

WIND_HEIGHT = 2.0
"""m above the ground at which wind is kept."""

NEEDED = ("air_mean", "air_max", "air_min", "humidity", "wind")
KEYS = ("name", "latitude", "elevation", "wind_height", "basis")

TOO_BRIGHT, DOUBTFUL, TOO_DIM = 1.1, 1.0, 0.15
"""Shares of a clear sky: refused above the first, doubted above the second, refused below the third."""


@dataclass(frozen=True, slots=True, eq=False)
class Weather:
    """Twelve months of weather, January first, in plain units; ``sun`` is the mean of day and night."""

    name: str
    invented: bool
    latitude: float
    elevation: float
    air_mean: np.ndarray
    air_max: np.ndarray
    air_min: np.ndarray
    humidity: np.ndarray
    wind: np.ndarray
    sun: np.ndarray
    clear: np.ndarray
    doubts: tuple[str, ...] = ()

    @property
    def yearly_air(self) -> float:
        """Mean air of the year [°C]."""
        return float(np.average(self.air_mean, weights=LENGTH))


@functools.cache
def place(name: str) -> Weather:
    """One of the invented places of ``data/climate/``.

    Parameters:
        name: such as ``"low desert"``.
    Returns: its ``Weather``, twelve months.  Source: invented, as the files say.
    Raises: ``DesignError`` that lists the names.

    >>> float(place("low desert").air_mean.max())
    34.4
    """
    folder = tables.data_folder() / "climate"
    path = folder / f"{name.strip().lower().replace(' ', '_')}.csv"
    known = sorted(p.stem.replace("_", " ") for p in folder.glob("*.csv"))
    if path.stem.replace("_", " ") not in known:
        near = get_close_matches(name, known, n=1)
        hint = f" Did you mean {near[0]}?" if near else ""
        raise DesignError(
            f"{clipped(name)} is not a place there is weather for.{hint} There are:"
            f" {', '.join(known)}; --climate takes your own table."
        )
    return read_weather(path)


def weather_of(climate) -> Weather:
    """The weather of a design's climate; where it is not given, the one that stands in for it.

    Parameters:
        climate: the part of a design of that name, ``design.climate``.
    Returns: the ``Weather``, twelve months.

    >>> weather_of(__import__("rsdesign").Design().climate).invented
    True
    """
    return place(climate.weather or STAND_IN)


def read_weather(path) -> Weather:
    """Twelve months of weather from a CSV file.

    Parameters:
        path: the file; the ones in ``data/climate/`` show the columns and their units.
    Returns: the ``Weather``.
    Raises: ``DesignError`` with one sentence that names the file, the month, the column, the value
        and what to write instead.

    Example: ``read_weather("my_place.csv").yearly_air``.
    """
    path = Path(path)
    lines = text_of(path, A_TABLE).splitlines()
    about = _about(path.name, lines)
    body = [line for line in lines if line.strip(" ,;\t\"'") and not _is_note(line)]
    if not body:
        raise DesignError(f"{path.name} holds no table; its header is: month, {', '.join(NEEDED)},"
                          " radiation.")  # fmt: skip
    mark = next((m for m in (",", ";", "\t") if m in body[0]), ",")
    header, *rows = csv.reader(body, delimiter=mark)
    columns = _columns(path.name, header, about)
    values = _values(path.name, columns, rows)
    return _weather(path, about, values)


def _is_note(line: str) -> bool:
    return line.lstrip(" \"'").startswith("#")


def _about(name: str, lines: list[str]) -> dict[str, str]:
    """What the lines above the header say; a spreadsheet may have added commas and quotes."""
    found = {}
    for line in lines:
        if _is_note(line) and ":" in line:
            key, value = line.strip(" ,;\t\"'").lstrip("# ").split(":", 1)
            found[key.strip().lower()] = value.strip(" ,;\t\"'")
    for key in ("latitude", "elevation"):
        if key not in found:
            sample = "33.0 deg" if key == "latitude" else "330 m"
            raise DesignError(f"{name} does not say its {key}; write a line above the header:"
                              f" # {key}: {sample}")  # fmt: skip
    return found


def _columns(name: str, header: list[str], about: dict) -> list:
    """For each column of the file its name, kind and unit."""
    found: list[tuple[str, Kind | None, Unit | None]] = []
    for cell in header:
        column, _, bracket = cell.strip().partition("(")
        column, label = column.strip().lower().replace(" ", "_"), bracket.rstrip().removesuffix(")")
        if column == "month":
            found.append((column, None, None))
            continue
        if column not in COLUMNS:
            near = get_close_matches(column, COLUMNS, n=1)
            hint = f" Did you mean {near[0]}?" if near else ""
            raise DesignError(f"{name} has a column {clipped(column)} that is not known.{hint} There"
                              f" are: month, {', '.join(COLUMNS)}.")  # fmt: skip
        kind = COLUMNS[column][0]
        label = label.strip() or about.get(f"unit {column}", "")
        if not label and kind.plain.label:
            raise DesignError(f"{name} does not say the unit of {column}; write a line above the"
                              f" header: # unit {column}: {kind.shown('metric').label}")  # fmt: skip
        try:
            found.append((column, kind, kind.unit(label)))
        except UnitError as wrong:
            raise DesignError(f"{name}, column {column}: {wrong}") from None
    names = [column for column, _, _ in found]
    missing = [column for column in ("month", *NEEDED) if column not in names]
    if not {"radiation", "sunshine"} & set(names):
        missing.append("radiation (or sunshine)")
    if missing:
        raise DesignError(f"{name} has no column {', '.join(missing)}; each month needs one.")
    twice = next((column for column in names if names.count(column) > 1), None)
    if twice:
        raise DesignError(f"{name} has the column {twice} twice; leave one of them out.")
    return found


def _values(name: str, columns: list, rows: list) -> dict[str, np.ndarray]:
    """The twelve values of every column, January first."""
    found = {column: np.full(12, np.nan) for column, kind, _ in columns if kind}
    for row in rows:
        cells = dict(zip((c for c, _, _ in columns), row, strict=False))
        month = _month(name, cells.get("month", ""))
        for column, kind, unit in columns:
            if kind is None:
                continue
            if not np.isnan(found[column][month]):
                raise DesignError(f"{name} has {MONTHS[month]} twice; give each month once.")
            found[column][month] = _number(name, month, column, unit, cells.get(column, ""))
    empty = [MONTHS[m] for m in range(12) if np.isnan(found["air_mean"][m])]
    if empty:
        raise DesignError(f"{name} has no {', '.join(empty)}; give all twelve months.")
    return found


def _month(name: str, text: str) -> int:
    text = text.strip().lower()
    for place_, word in enumerate(MONTHS):
        if text in (str(place_ + 1), f"0{place_ + 1}", word.lower(), word[:3].lower()):
            return place_
    raise DesignError(f"{name} has a month {clipped(text)}; write a number from 1 to 12.")


def _number(name: str, month: int, column: str, unit, text: str) -> float:
    kind, low, high, words = COLUMNS[column]
    where = f"{name}, {MONTHS[month]}, {column} ({words})"
    try:
        value = to_plain(float(text), unit)
    except ValueError:
        hint = " with a point for decimals" if "," in text else ""
        raise DesignError(f"{where} is {clipped(text)}; write one number{hint}.") from None
    if not low <= value <= high:
        raise DesignError(
            f"{where} is {clipped(text.strip())} {unit.label}, outside what can be; choose from"
            f" {show(low, kind, 'metric')} to {show(high, kind, 'metric')}, and look at the unit."
        )
    return value


def _weather(path: Path, about: dict, values: dict) -> Weather:
    name = path.name
    latitude = _latitude(name, about["latitude"])
    elevation = _length(name, "elevation", about["elevation"], -450.0, 5000.0)
    for column, other, word in (("air_max", 1.0, "below"), ("air_min", -1.0, "above")):
        wrong = np.flatnonzero((values[column] - values["air_mean"]) * other < 0)
        if wrong.size:
            m = wrong[0]
            raise DesignError(
                f"{name}, {MONTHS[m]}, {column} is {show(values[column][m], KINDS['temperature'], 'metric')},"
                f" {word} the mean air of"
                f" {show(values['air_mean'][m], KINDS['temperature'], 'metric')}; write the"
                f" {COLUMNS[column][3]}."
            )
    height = _length(name, "wind_height", about.get("wind_height", "2 m"), 1.0, 30.0)
    declination = sun.declination.__wrapped__(MIDDLE)
    turn = sun.sunset_angle.__wrapped__(latitude, declination)
    above = sun.extraterrestrial.__wrapped__(
        latitude, declination, turn, sun.sun_distance.__wrapped__(MIDDLE)
    )
    clear = sun.clear_sky.__wrapped__(above, max(elevation, 0.0))
    light = _sunshine(name, values, sun.daylight.__wrapped__(turn), above)
    return Weather(
        name=about.get("name") or path.stem.replace("_", " "),
        invented=about.get("basis") == "invented",
        latitude=latitude,
        elevation=elevation,
        sun=light,
        clear=clear,
        wind=_at_two_metres(values["wind"], height),
        doubts=_against_clear_sky(name, light, clear),
        **{column: values[column] for column in NEEDED if column != "wind"},
    )


def _at_two_metres(wind, height: float):
    """Wind at 2 m; the relation's rounded constants would change a wind that is there already."""
    return wind if height == WIND_HEIGHT else sky.wind_at_two_metres.__wrapped__(wind, height)


def _sunshine(name: str, values: dict, daylight, above):
    """Sunshine as a mean of day and night, from radiation where it is given."""
    if "radiation" in values:
        return values["radiation"]
    hours = values["sunshine"]
    wrong = np.flatnonzero(hours > daylight * 1.02)
    if wrong.size:
        m = wrong[0]
        raise DesignError(
            f"{name}, {MONTHS[m]}, sunshine is {hours[m] / 3600:.1f} h a day, more than the"
            f" {daylight[m] / 3600:.1f} h from sunrise to sunset there; write the hours of one day."
        )
    return sun.sun_from_sunshine.__wrapped__(hours, daylight, above)


def _against_clear_sky(name: str, light, clear) -> tuple[str, ...]:
    """Sentences on months brighter than a clear sky; refuses what cannot be."""
    kind, doubts = KINDS["daily sun"], []
    for m in range(12):
        words = (
            f"{name}, {MONTHS[m]}, radiation is {show(light[m], kind)}, where a clear sky gives"
            f" {show(clear[m], kind)}"
        )
        if light[m] > TOO_BRIGHT * clear[m]:
            raise DesignError(f"{words}: more than can be; look at the unit and the latitude.")
        if light[m] < TOO_DIM * clear[m]:
            raise DesignError(f"{words}: darker than any month; look at the unit.")
        if light[m] > DOUBTFUL * clear[m]:
            doubts.append(f"{words}; a little more than can be, so check it.")
    return tuple(doubts)


_LATITUDE = re.compile(r"([+-]?\d+(?:\.\d+)?) *(?:°|deg|degrees)? *([NSns])", re.ASCII)


def _latitude(name: str, text: str) -> float:
    """Latitude in radians from ``33.0 deg``, ``33 N`` or ``33 S``."""
    half = _LATITUDE.fullmatch(text.strip())
    if half:
        text = f"{'-' if half[2] in 'Ss' else ''}{half[1]} deg"
    try:
        value = parse(text.replace("°", " deg"), KINDS["angle"])
    except UnitError as wrong:
        raise DesignError(f"{name}, latitude: {str(wrong).rstrip('.')}; write it as 33.0 deg, south"
                          " below zero.") from None  # fmt: skip
    if not abs(value) <= np.radians(66.0):
        raise DesignError(f"{name}, latitude is {clipped(text)}; choose from -66 to 66 deg, where the"
                          " sun rises every day.")  # fmt: skip
    return float(value)


def _length(name: str, what: str, text: str, low: float, high: float) -> float:
    try:
        value = parse(text, KINDS["elevation"])
    except UnitError as wrong:
        raise DesignError(f"{name}, {what}: {wrong}") from None
    if not low <= value <= high:
        raise DesignError(
            f"{name}, {what} is {clipped(text)}; choose from {low:g} m to {high:g} m."
        )
    return value
