"""A whole design: every choice, as nested frozen dataclasses; nothing computed.

A field left ``None`` means "not known: let the sizing choose", and the sizing says what it took.
Numbers are plain (SI, see ``kinds``); any field marked for sweeping may be an array, and then
``size`` computes as many designs in one call.
"""

import dataclasses
import functools
import inspect
import operator
from difflib import get_close_matches

import numpy as np

from ..core.choices import DesignError, choice, fields_of, plain_value, problem
from .possible import impossible
from .sections.climate import Climate
from .sections.goal import Goal, Keep, Site, Source, Stock, Wastes
from .sections.makeup import Makeup
from .sections.money import Prices, Terms
from .sections.pumping import Pump
from .sections.safety import Safety
from .sections.section import section
from .sections.system import Air, Filter, Solids, Tank


@section()
class Design:
    """A whole design: every choice, nothing computed."""

    name: str = choice("name")
    note: str = choice("note")
    site: Site = dataclasses.field(default_factory=Site)
    source: Source = dataclasses.field(default_factory=Source)
    goal: Goal = dataclasses.field(default_factory=Goal)
    stock: Stock = dataclasses.field(default_factory=Stock)
    wastes: Wastes = dataclasses.field(default_factory=Wastes)
    keep: Keep = dataclasses.field(default_factory=Keep)
    tank: Tank = dataclasses.field(default_factory=Tank)
    solids: Solids = dataclasses.field(default_factory=Solids)
    filter: Filter = dataclasses.field(default_factory=Filter)
    air: Air = dataclasses.field(default_factory=Air)
    pump: Pump = dataclasses.field(default_factory=Pump)
    safety: Safety = dataclasses.field(default_factory=Safety)
    climate: Climate = dataclasses.field(default_factory=Climate)
    makeup: Makeup = dataclasses.field(default_factory=Makeup)
    prices: Prices = dataclasses.field(default_factory=Prices)
    terms: Terms = dataclasses.field(default_factory=Terms)
    unknown: tuple[str, ...] = ()

    def with_(self, **changes) -> "Design":
        """A changed copy, one word for each choice: ``design.with_(tank_depth="3 ft")``.

        Parameters:
            changes: values by the word of a choice; Tab lists the words.  Each is a plain number (SI,
                temperature in °C), text with a unit, a pint quantity, a word, or ``None`` to let the
                sizing choose.  ``docs/choices.md`` has the range and the source of each.
        Returns: another ``Design``; the first stays as it is.
        Raises: ``DesignError`` with one sentence for a word that is no choice, or a value that is none of it.

        >>> round(Design().with_(tank_depth="3 ft").tank.depth, 4)
        0.9144
        """
        return with_values(self, {path_of(word): value for word, value in changes.items()})

    def __getitem__(self, path: str):
        """A choice by its path as a pint quantity: ``design["tank.depth"].to("ft")``."""
        from .notebook import quantity_of  # noqa: PLC0415  (pint is met only by who asks)

        return quantity_of(self, path)

    def _ipython_key_completions_(self) -> list[str]:
        return list(FIELDS)

    def __repr__(self) -> str:
        from .notebook import short  # noqa: PLC0415

        return short(self)

    def _repr_html_(self) -> str:
        from .notebook import html  # noqa: PLC0415

        return html(self)


FIELDS = fields_of(Design)
"""Every choice by its dotted path."""


_UNSURE = object()
"""Stands for a default that has to be replaced, such as a design's goal: equal to no value."""


def _quick() -> dict[str, tuple]:
    """The choices by section: a getter of all values (the class last, so that it is a tuple), and each choice with its default and range.

    A number inside the range, and a default that is right, need no closer look.
    """
    by_section: dict[str, list] = {}
    for entry in FIELDS.values():
        whole = entry.kind is not None and entry.kind.name == "count" and not entry.choice.sweep
        low, high = (entry.choice.low, entry.choice.high) if not whole else (None, None)
        span = (1.0, 0.0) if low is None else (low, high)
        default = entry.choice.default
        sure = default if problem(entry, default) is None else _UNSURE
        by_section.setdefault(entry.section, []).append((entry, sure, *span))
    return {
        name: (operator.attrgetter(*(e[0].name for e in entries), "__class__"), entries)
        for name, entries in by_section.items()
    }


_BY_SECTION = _quick()


def arrays_of(design: Design) -> dict:
    """The choices that hold more than one value, by their dotted paths."""
    found = {}
    for name, (values, entries) in _BY_SECTION.items():
        held = values(getattr(design, name) if name else design)
        if np.ndarray not in map(type, held):
            continue  # the common case, quick
        for (entry, *_), value in zip(entries, held, strict=False):
            if type(value) is np.ndarray and value.ndim:
                found[entry.path] = value
    return found


def value_of(design: Design, path: str):
    """The value of a choice by its dotted path.

    Parameters:
        design: the ``Design``.
        path: such as ``"tank.depth"``.
    Returns: the plain (SI) number, the word, or ``None`` where it is left to the sizing.

    >>> value_of(Design().with_(tank_depth=1.0), "tank.depth")
    1.0
    """
    return functools.reduce(getattr, path.split("."), design)


class CacheKey:
    """Hashable wrapper of a design or a sizing: equal to another with the same ``values``."""

    def __init__(self, value, values: tuple):
        self.value, self.values = value, values

    def __hash__(self):
        return hash(self.values)

    def __eq__(self, other):
        return self.values == other.values


WORDS = {path.replace(".", "_"): path for path in FIELDS}
"""Every choice's path by the one word of ``Design.with_``."""

setattr(  # noqa: B010  (completion reads the choices off the signature)
    Design.with_,
    "__signature__",
    inspect.Signature(
        [
            inspect.Parameter("self", inspect.Parameter.POSITIONAL_OR_KEYWORD),
            *(
                inspect.Parameter(word, inspect.Parameter.KEYWORD_ONLY, default=...)
                for word in WORDS
            ),
        ]
    ),
)


def path_of(word: str) -> str:
    """The path of a choice by its one word, such as ``tank_depth``.  Raises ``DesignError``."""
    if word not in WORDS:
        near = get_close_matches(word, WORDS, n=1)
        hint = f" Did you mean {near[0]}?" if near else ""
        raise DesignError(f"{word!r} is not a choice of a design.{hint}")
    return WORDS[word]


def with_values(design: Design, values: dict | None = None, /, **more) -> Design:
    """A changed copy: ``with_values(design, {"tank.depth": "3 ft"})``.

    Parameters:
        design: the ``Design`` that is changed; it stays as it is.
        values: by the path of a choice, each a plain number (SI; see ``kinds``), text with a unit, a
            pint quantity, a word, or ``None`` to let the sizing choose.  A choice that may be swept
            takes an array or a list.  ``docs/choices.md`` has the range and the source of each.
        more: the same for choices whose path is one word, such as ``name``.
    Returns: another ``Design``.
    Raises: ``DesignError`` with one sentence for a path that is not a choice, and for a unit that
        does not fit; ranges are checked by ``size``.

    >>> changed = with_values(Design(), {"tank.depth": "3 ft", "site.water_temperature": "80 °F"})
    >>> round(changed.tank.depth, 4), round(changed.site.water_temperature, 2)
    (0.9144, 26.67)
    """
    plain = {}
    for path, value in {**(values or {}), **more}.items():
        if path not in FIELDS:
            near = get_close_matches(path, FIELDS, n=1)
            hint = f" Did you mean {near[0]}?" if near else ""
            raise DesignError(f"{path!r} is not a choice of a design.{hint}")
        known = value is None or type(value) in (float, bool)
        plain[path] = value if known else plain_value(FIELDS[path], value)
    return with_plain(design, plain)


def with_plain(design: Design, values: dict) -> Design:
    """A changed copy whose values stand as they are given, each by its path, for files and links.

    What a stranger wrote is judged by ``check`` and never turned into a number or an array here.
    """
    changes: dict[str, dict] = {}
    for path, value in values.items():
        part, _, name = path.rpartition(".")
        changes.setdefault(part, {})[name] = value
    parts = {
        part: dataclasses.replace(getattr(design, part), **inner)
        for part, inner in changes.items()
        if part
    }
    return dataclasses.replace(design, **parts, **changes.get("", {}))


def problems(design: Design) -> list[str]:
    """Every sentence on what is wrong with a design; empty when it can be computed.

    Parameters:
        design: the ``Design``.
    Returns: a list of sentences with field, value, allowed range and what to do.

    >>> problems(Design().with_(goal_fish=180))
    []
    """
    found = []
    for name, (values, entries) in _BY_SECTION.items():
        part = getattr(design, name) if name else design
        for (entry, sure, low, high), value in zip(entries, values(part), strict=False):
            if value is sure or (type(value) is float and low <= value <= high):
                continue  # the common cases, quick
            wrong = problem(entry, value)
            if wrong:
                found.append(wrong)
    return found or impossible(design)


def check(design: Design) -> None:
    """Raise the first sentence on what is wrong with a design, if anything is.

    Parameters:
        design: the ``Design``.
    Returns: nothing.
    Raises: ``DesignError`` with field, value, allowed range and what to do.

    >>> check(Design().with_(goal_fish=180))
    """
    found = problems(design)
    if found:
        raise DesignError(found[0])
