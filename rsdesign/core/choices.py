"""A choice is described once, in ``data/choices.csv``: default, range, words, source.

The slider and number box, the range check and its sentence, the design file, the docs table, the
exercises and the spread study all read the ``Choice`` kept in a dataclass field's metadata; the
field's annotation gives its kind and so its units.
"""

import contextlib
import dataclasses
import functools
import typing
from collections.abc import Callable
from dataclasses import dataclass, field

import numpy as np

from . import tables
from .kinds import FAMILIES, Kind, UnitError
from .units import clipped, from_quantity, is_quantity, parse, show


class DesignError(ValueError):
    """What is wrong with a design, in one sentence for a person."""


@dataclass(frozen=True, slots=True)
class Choice:
    """What is known of one choice, apart from its kind and its value."""

    default: object
    low: float | None
    high: float | None
    label: str
    help: str
    source: str
    sweep: bool
    options: Callable[[], tuple[str, ...]] | None
    rule: float | None
    rule_words: str
    written: str = ""
    """The default as its author wrote it, with its unit."""


@dataclass(frozen=True, slots=True)
class ChoiceRow:
    """A row of ``data/choices.csv``, as text."""

    path: str
    default: str
    low: str
    high: str
    label: str
    help: str
    rule: str
    rule_words: str
    sweep: str
    options: str
    source: str


@functools.cache
def _rows() -> dict[str, ChoiceRow]:
    return {row.path: row for row in tables.read("choices", ChoiceRow)}


def choice(path: str) -> typing.Any:
    """A dataclass field with the default and the description in its row of ``data/choices.csv``.

    ``path``: section and name, such as ``"tank.depth"``.  Raises ``KeyError`` where no row has it.
    """
    row = _rows()[path]
    low, high, rule = (_number(text) if text else None for text in (row.low, row.high, row.rule))
    default: object = row.default
    if row.default == OPEN:
        default = None
    elif row.options == BOOLEAN:
        default = row.default == "yes"
    elif low is not None:
        default = _number(row.default)
    written = row.default if " " in row.default and low is not None else ""
    sweep = row.sweep == "yes" if row.sweep else low is not None
    about = Choice(default, low, high, row.label, row.help, row.source, sweep,
                   options_of(row.options), rule, row.rule_words, written)  # fmt: skip
    return field(default=default, metadata={"choice": about})


OPEN, BOOLEAN = "-", "boolean"
"""In the table: a default that the sizing takes, and the options of a choice between yes and no."""


def options_of(text: str) -> Callable[[], tuple[str, ...]] | None:
    """The words to choose from: listed with ``|``, or those of a ``table`` or a ``folder`` of data.

    >>> options_of("by feed | equal")()
    ('by feed', 'equal')
    """
    if text in ("", BOOLEAN):
        return None
    where, _, name = text.partition(" ")
    if where == "table":
        return lambda: tables.first_column(name)
    if where == "folder":
        return lambda: tables.names_in(name)
    words = tuple(text.split(" | "))
    return lambda: words


def _number(text: str) -> float:
    """A number of the table, plain or with its unit, as the plain number of its kind."""
    amount, _, label = text.partition(" ")
    if not label:
        return float(amount)
    for family in FAMILIES.values():
        for unit in family:
            if unit.label == label:
                return float(amount) * unit.factor + unit.offset
    raise UnitError(f"{text!r} in a choice has no known unit")


@dataclass(frozen=True, slots=True)
class Field:
    """One field of a design: where it stands, its kind and its choice."""

    section: str
    name: str
    kind: Kind | None
    optional: bool
    choice: Choice

    @property
    def path(self) -> str:
        """The dotted path, such as ``tank.depth``."""
        return f"{self.section}.{self.name}" if self.section else self.name

    @property
    def measure(self) -> Kind:
        """The kind of a choice that is a number."""
        assert self.kind is not None, self.path
        return self.kind


@functools.cache
def fields_of(design_class: type) -> dict[str, Field]:
    """Every choice of a design class by its dotted path, in the order it is written down."""
    found: dict[str, Field] = {}
    for part in dataclasses.fields(design_class):
        hint = typing.get_type_hints(design_class, include_extras=True)[part.name]
        if dataclasses.is_dataclass(hint):
            hints = typing.get_type_hints(hint, include_extras=True)
            for inner in dataclasses.fields(hint):
                _add(found, part.name, inner, hints[inner.name])
        elif "choice" in part.metadata:
            _add(found, "", part, hint)
    return found


def _add(found: dict, section: str, part, hint) -> None:
    kind, optional = None, type(None) in typing.get_args(hint)
    for inner in (hint, *typing.get_args(hint)):
        kind = next((m for m in getattr(inner, "__metadata__", ()) if isinstance(m, Kind)), kind)
    entry = Field(section, part.name, kind, optional, part.metadata["choice"])
    found[entry.path] = entry


FORMER = {("climate.heated", True): "yes", ("climate.heated", False): "no"}
"""Values that a choice had in earlier versions, and what they are called now."""


def present(path: str, value):
    """A value from a file or a link, as this version calls it.

    >>> present("climate.heated", True), present("tank.depth", 1.0)
    ('yes', 1.0)
    """
    return FORMER.get((path, value), value) if isinstance(value, bool) else value


def plain_value(entry: Field, value):
    """A value as it may be given in Python, as the plain number or array that a design holds.

    Text with a unit and pint quantities become plain numbers, lists and tuples of them arrays;
    anything else stays as it is and is judged by ``problem``.  Raises ``DesignError``.
    """
    if entry.choice.low is None or entry.choice.options is not None:
        return value
    try:
        if isinstance(value, str):
            return parse(value, entry.measure)
        if is_quantity(value):
            found = from_quantity(value, entry.measure, "it")
            return np.asarray(found, float) if np.ndim(found) else float(found)
    except UnitError as wrong:
        raise DesignError(
            f"{entry.path} ({entry.choice.label}): {str(wrong).rstrip('.')}; allowed is {span(entry)}."
        ) from None
    if isinstance(value, (list, tuple)):
        numbers = [plain_value(entry, one) for one in value]
        if all(isinstance(one, (int, float, np.number)) for one in numbers):
            with contextlib.suppress(OverflowError):
                return np.array(numbers, float)
    return value


def problem(entry: Field, value) -> str | None:
    """What is wrong with a value of a choice, as a sentence; None when nothing is."""
    if value is None:
        return None if entry.optional else f"{entry.path} ({entry.choice.label}) must be given."
    if entry.choice.options is not None:
        return _not_an_option(entry, value, entry.choice.options())
    if entry.choice.low is None:
        return _not_a_word(entry, value)
    return _not_in_range(entry, value)


def _not_a_word(entry: Field, value) -> str | None:
    wanted = bool if isinstance(entry.choice.default, bool) else str
    if isinstance(value, wanted):
        return None
    words = "true or false" if wanted is bool else "text"
    return f"{entry.path} ({entry.choice.label}) is {clipped(value)}; write {words}."


def _not_in_range(entry: Field, value) -> str | None:
    about = entry.choice
    if isinstance(value, bool) or not isinstance(value, (int, float, np.ndarray, np.number)):
        return f"{entry.path} ({about.label}) is {clipped(value)}, which is not a number."
    numbers = np.asarray(value)
    if numbers.dtype.kind not in "fiu" or numbers.ndim > 1:
        return f"{entry.path} ({about.label}) holds something that is not a row of numbers."
    if numbers.ndim and not about.sweep:
        return f"{entry.path} ({about.label}) takes one number, not a row of them."
    assert about.low is not None, entry.path
    assert about.high is not None, entry.path
    slack = 1e-9 * max(abs(about.low), abs(about.high))
    good = (numbers >= about.low - slack) & (numbers <= about.high + slack)
    if bool(np.all(good)):
        whole = entry.measure.name != "count" or about.sweep or float(value).is_integer()
        return (
            None
            if whole
            else (
                f"{entry.path} ({about.label}) is {value:g}; write a whole number from {span(entry)}."
            )
        )
    worst = float(numbers.ravel()[np.argmin(good)]) if numbers.ndim else float(value)
    return out_of_range(entry, worst)


def _not_an_option(entry: Field, value, names: tuple[str, ...]) -> str | None:
    if isinstance(value, str) and value in names:
        return None
    return (
        f"{entry.path} ({entry.choice.label}) is {clipped(value)};"
        f" choose one of: {', '.join(names)}."
    )


def out_of_range(entry: Field, value: float) -> str:
    """The sentence for a number outside its range, in both display systems."""
    if np.isnan(value):
        return f"{entry.path} ({entry.choice.label}) is not a number; allowed is {span(entry)}."
    return (
        f"{entry.path} ({entry.choice.label}) is {show(value, entry.measure, 'us')}"
        f"{_also(value, entry.measure)}, outside what can be computed;"
        f" choose from {span(entry)}."
    )


def _also(value: float, kind: Kind) -> str:
    return "" if kind.us == kind.metric else f" ({show(value, kind, 'metric')})"


def span(entry: Field) -> str:
    """The allowed range of a choice, in both display systems."""
    low, high, kind = entry.choice.low, entry.choice.high, entry.measure
    us = f"{show(low, kind, 'us')} to {show(high, kind, 'us')}"
    if kind.us == kind.metric:
        return us
    return f"{us} ({show(low, kind, 'metric')} to {show(high, kind, 'metric')})"
