"""Sentences and sizes with their numbers, said in either display system."""

import re
from dataclasses import dataclass

from ..core.kinds import KINDS
from ..core.units import feet_and_inches, show

TAPE = "tape"
"""The kind of a length that a builder reads off a tape."""


def tape(meters: float, system: str) -> str:
    """A length or a height as it is read off a tape: to the quarter inch, or to the millimetre.

    >>> tape(1.2447, "us"), tape(-0.0508, "us"), tape(1.2447, "metric")
    ('4 ft 1 in', '-2 in', '1.245 m')
    """
    sign = "-" if meters < -0.003 else ""
    long = round(abs(meters), 9)  # a half of a quarter inch is rounded here as on the drawings
    if system == "us":
        return sign + re.sub(r"^0 (?=\d/)", "", feet_and_inches(long))
    return f"{sign}{round(long, 3):.3f} m"


@dataclass(frozen=True, slots=True)
class Phrase:
    """Words with named places, and for each place its plain value and kind."""

    words: str
    values: tuple[tuple[str, float, str], ...] = ()

    def said(self, system: str) -> str:
        """The words in a display system."""
        return self.words.format(**{n: _shown(v, k, system) for n, v, k in self.values})


BOTH = "both "
"""Before a kind: in metric units too, since plates of machines bear them."""


def _shown(value: float, kind: str, system: str) -> str:
    if kind == TAPE:
        return tape(value, system)
    words = show(value, KINDS[kind.removeprefix(BOTH)], system)
    if kind.startswith(BOTH) and system != "metric":
        words += f" ({show(value, KINDS[kind.removeprefix(BOTH)], 'metric')})"
    return words


Problem = Phrase
"""What cannot be built as it stands."""


def phrase(words: str, **values: tuple[float, str]) -> Phrase:
    """Words with their values: ``phrase("{long} of pipe", long=(3.0, "length"))``."""
    return Phrase(words, tuple((name, value, kind) for name, (value, kind) in values.items()))
