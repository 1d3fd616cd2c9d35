"""What an instructor sets for a room: prices, site, weather, units, the short path, a message."""

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
from .member import ROOM_PATHS
from .text_input import one_line

MAX_MESSAGE = 300
GROUPS = {"site": "Site", "climate": "Weather", "prices": "The room's price list"}


class Settings:
    """The settings of one room; ``number`` counts messages, so that a repeated one shows again."""

    def __init__(self):
        self.values: dict[str, object] = {}
        self.units = ""
        self.path: tuple[str, ...] = ()
        self.message = ""
        self.number = 0

    def public(self) -> dict:
        """The settings as sent to every page."""
        return {
            "values": self.values,
            "units": self.units,
            "path": list(self.path),
            "message": self.message,
            "number": self.number,
        }

    def say(self, text) -> None:
        """Set the message to all pages; an empty one removes it."""
        text = one_line(text)
        if len(text) > MAX_MESSAGE:
            raise DesignError(
                f"The message has {len(text)} characters; a room reads at most {MAX_MESSAGE}."
            )
        self.message = text
        self.number += 1

    def change(self, message: dict) -> dict[str, str]:
        """Take every change of a message, or none: then a sentence for each field that is wrong."""
        values, wrong = self._typed_values(message)
        units = message.get("units", self.units)
        if units not in ("", *SYSTEMS):
            wrong["units"] = "Choose US units, metric, or leave it to each."
        pages = message.get("path", list(self.path))
        known = [page.name for page in SERIES]
        if not isinstance(pages, list) or any(p not in known for p in pages):
            wrong["path"] = f"The short path takes pages of the series: {', '.join(known)}."
        wrong = wrong or _conflict(values)
        if not wrong:
            self.values, self.units = values, units
            self.path = tuple(name for name in known if name in pages)
        return wrong

    def _typed_values(self, message: dict) -> tuple[dict[str, object], dict[str, str]]:
        """The values with those that were typed, and a sentence for each that is wrong."""
        system = message.get("system") if message.get("system") in SYSTEMS else "us"
        texts = message.get("texts") if isinstance(message.get("texts"), dict) else {}
        values, wrong = dict(self.values), {}
        for path, text in texts.items():
            if path not in ROOM_PATHS:
                wrong[str(path)[:60]] = f"{clipped(path)} is not something a room sets."
                continue
            typed = one_line(text)
            if typed == self._text(path, system):
                continue
            try:
                values[path] = _value(path, typed, system)
            except DesignError as error:
                wrong[path] = str(error)
        return {p: v for p, v in values.items() if v is not None}, wrong

    def read_prices(self, text) -> int:
        """Take the prices of a design file, or of one with ``[prices]`` alone; returns how many."""
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
        wrong = _conflict({**self.values, **found})
        if wrong:
            raise DesignError(next(iter(wrong.values())))
        self.values = {**self.values, **found}
        return len(found)

    def form(self, system: str) -> dict:
        """The settings as the instructor's form, in one unit system."""
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
    """The value typed for a choice, or None where it is left to each design."""
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


def _conflict(values: dict) -> dict[str, str]:
    """A sentence where a demo design cannot be computed with these values; else nothing."""
    for name in DEMOS:
        try:
            size(with_values(demo(name), values))
        except DesignError as error:
            return {"": f"With these values {DEMOS[name].lower()} cannot be computed: {error}"}
    return {}
