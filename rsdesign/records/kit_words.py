"""How a column was tested, as a person or the log tells it: as N, as the ion, off which colours."""

import itertools
from collections.abc import Callable
from dataclasses import replace

from ..core.choices import DesignError
from ..core.kinds import UnitError
from ..core.typed_numbers import clipped, number_at
from ..core.unit_words import plain
from .columns import CALENDAR, Kit, charts, column_of, kit_of, measured
from .sheet import Line


def kit_told(name: str, told: object, kit: Kit | None) -> Kit:
    """The kit of a column as a person tells it, beside what the heading told.

    Parameters:
        name: of the column, such as "nitrite".
        told: a ``Kit``, or words such as "as N", "as ion", "colours as ion", "mg/L as N".
        kit: what the heading told; None where the column is not there.
    Returns: the ``Kit``.
    Raises: ``DesignError`` with one sentence.

    >>> kit_told("nitrite", "as ion", kit_of("nitrite", "(mg/l)")[0]).reported
    'ion'
    """
    if name not in measured():
        raise DesignError(
            f"{clipped(name)} is no column of a log; choose from: {', '.join(measured())}."
        )
    if isinstance(told, Kit):
        return replace(told, column=name)
    found, left = kit_of(name, plain(str(told)))
    if left:
        raise DesignError(
            f"The kit of {name}, {clipped(told)}, is not known; write 'as N', 'as ion' or 'colours as ion'."
        )
    if kit is None:
        return found
    if not found.told:
        found = replace(found, reported=kit.reported, told=kit.told)
    return replace(
        found,
        unit=found.unit or kit.unit,
        steps=found.steps or kit.steps,
        spread=found.spread or kit.spread,
    )


def own_steps(
    line: Line, mark: str, kits: dict[str, Kit], say: Callable[[int, str, str, str], None]
) -> None:
    """Colours of the person's own chart, from a line such as ``# colours NO3: 0 5 10 25 50 100``."""
    text = mark.join(line.cells).strip().lstrip("#").strip()
    word, _, rest = text.partition(" ")
    if plain(word).rstrip("s") not in ("colour", "color") or ":" not in rest:
        return
    heading, _, numbers = rest.partition(":")
    pair = column_of(heading)
    if pair is None or pair[0] in CALENDAR or pair[0] not in charts():
        say(
            line.number,
            "",
            text,
            f"Line {line.number}: {clipped(heading)} is no column with a colour chart.",
        )
        return
    try:
        steps = tuple(
            number_at(word).value for word in numbers.replace(mark, " ").replace(";", " ").split()
        )
    except UnitError as wrong:
        say(
            line.number,
            "",
            text,
            f"Line {line.number}: the colours of {clipped(heading)} cannot be read. {wrong}",
        )
        return
    if len(steps) < 2 or any(a >= b for a, b in itertools.pairwise(steps)):
        say(
            line.number,
            "",
            text,
            f"Line {line.number}: write two or more colours of {clipped(heading)} in rising order.",
        )
        return
    if pair[0] in kits:
        kits[pair[0]] = replace(kits[pair[0]], steps=steps, spread=float(charts()[pair[0]].spread))


def read_kit(text: str) -> tuple[str, str]:
    """A kit as it is typed: the test and how it reports, between a colon.

    >>> read_kit("NO2: as ion")
    ('nitrite', 'as ion')
    """
    heading, mark, told = text.partition(":")
    pair = column_of(heading)
    if not mark or pair is None or pair[0] in CALENDAR:
        raise DesignError(
            f"The kit {clipped(text.strip())} cannot be read; write such as 'nitrite: as ion'."
        )
    return pair[0], told.strip()
