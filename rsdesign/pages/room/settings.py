"""What an instructor sets for the room: prices, site, weather, units, the short path, a message."""

import tomllib

from ...core.choices import DesignError, problem
from ...core.units import SYSTEMS, clipped, from_plain, show
from ...design.file import read_value
from ...design.model import FIELDS, with_values
from ...design.prices import listed
from ...sizing.system import size
from ..controls import read
from ..series import SERIES
from ..session import DEMOS, demo
from .text_input import plain
from .visitor import ROOM_PATHS

LONGEST_MESSAGE = 300
GROUPS = {"site": "Site", "climate": "Weather", "prices": "The room's price list"}


class Settings:
    """The settings of one room; ``number`` counts messages, so that one said twice is heard twice."""

    def __init__(self):
        self.values: dict[str, object] = {}
        self.units = ""
        self.path: tuple[str, ...] = ()
        self.message = ""
        self.number = 0

    def public(self) -> dict:
        """What every page of the room may know."""
        return {
            "values": self.values,
            "units": self.units,
            "path": list(self.path),
            "message": self.message,
            "number": self.number,
        }

    def say(self, text) -> None:
        """A message to all; an empty one takes the last away."""
        text = plain(text)
        if len(text) > LONGEST_MESSAGE:
            raise DesignError(
                f"The message has {len(text)} characters; a room reads at most {LONGEST_MESSAGE}."
            )
        self.message = text
        self.number += 1

    def change(self, asked: dict) -> dict[str, str]:
        """Take everything asked for, or nothing: then the sentences, by field."""
        system = asked.get("system") if asked.get("system") in SYSTEMS else "us"
        texts = asked.get("texts") if isinstance(asked.get("texts"), dict) else {}
        values, wrong = dict(self.values), {}
        for path, text in texts.items():
            if path not in ROOM_PATHS:
                wrong[str(path)[:60]] = f"{clipped(path)} is not something a room sets."
                continue
            typed = plain(text)
            if typed == self._text(path, system):
                continue
            try:
                values[path] = _value(path, typed, system)
            except DesignError as why:
                wrong[path] = str(why)
        units = asked.get("units", self.units)
        if units not in ("", *SYSTEMS):
            wrong["units"] = "Choose US units, metric, or leave it to each."
        pages = asked.get("path", list(self.path))
        known = [page.name for page in SERIES]
        if not isinstance(pages, list) or any(p not in known for p in pages):
            wrong["path"] = f"The short path takes pages of the series: {', '.join(known)}."
        values = {p: v for p, v in values.items() if v is not None}
        if not wrong:
            wrong = _together(values)
        if not wrong:
            self.values, self.units = values, units
            self.path = tuple(name for name in known if name in pages)
        return wrong

    def read_prices(self, text) -> int:
        """Take the prices of a design file or of one with ``[prices]`` alone; how many."""
        try:
            rows = tomllib.loads(str(text)).get("prices")
        except (tomllib.TOMLDecodeError, RecursionError) as wrong:
            raise DesignError(f"The price file is not TOML: {clipped(wrong, 80)}.") from None
        found = {}
        for name, cell in (rows if isinstance(rows, dict) else {}).items():
            path = f"prices.{name}"
            if path not in ROOM_PATHS:
                raise DesignError(f"The price file names {clipped(name)}, which is not a price.")
            value = read_value(FIELDS[path], cell)
            why = problem(FIELDS[path], value)
            if why:
                raise DesignError(why)
            found[path] = value
        if not found:
            raise DesignError("The price file names no price: write them under [prices].")
        wrong = _together({**self.values, **found})
        if wrong:
            raise DesignError(next(iter(wrong.values())))
        self.values = {**self.values, **found}
        return len(found)

    def form(self, system: str) -> dict:
        """The settings as an instructor sees them, in the units asked for."""
        groups = [
            {"title": title, "fields": [self._field(p, system) for p in ROOM_PATHS
                                        if p.partition(".")[0] == section]}
            for section, title in GROUPS.items()
        ]  # fmt: skip
        return {
            "groups": groups,
            "units": self.units,
            "system": system,
            "pages": [{"name": p.name, "title": p.title, "on": p.name in self.path}
                      for p in SERIES],
            "message": self.message,
        }  # fmt: skip

    def _text(self, path: str, system: str) -> str:
        value = self.values.get(path)
        if value is None or isinstance(value, str):
            return value or ""
        return f"{from_plain(value, FIELDS[path].kind.shown(system)):.6g}"

    def _field(self, path: str, system: str) -> dict:
        entry = FIELDS[path]
        about, name = entry.choice, path.partition(".")[2]
        price = listed().get(name) if path.startswith("prices.") else None
        return {
            "path": path,
            "label": about.label,
            "text": self._text(path, system),
            "unit": entry.kind.shown(system).label if entry.kind is not None else "",
            "options": list(about.options()) if about.options else [],
            "else": f"else {show(price.value, entry.kind, system)}, invented" if price else "",
        }


def _value(path: str, text: str, system: str):
    """What was typed for a choice, or None where it is left to each design."""
    entry = FIELDS[path]
    if not text:
        return None
    if entry.choice.low is not None:
        return read(text, entry, system)
    if entry.choice.options and text not in entry.choice.options():
        names = ", ".join(entry.choice.options())
        raise DesignError(f"{entry.choice.label}: choose one of {names}.")
    if len(text) > 40:
        raise DesignError(f"{entry.choice.label}: at most 40 characters.")
    return text


def _together(values: dict) -> dict[str, str]:
    """Whether the demo designs can be computed with these values; the sentence if not."""
    for name in DEMOS:
        try:
            size(with_values(demo(name), values))
        except DesignError as why:
            return {"": f"With these values {DEMOS[name].lower()} cannot be computed: {why}"}
    return {}
