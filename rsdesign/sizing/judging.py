"""How a part and a check are judged: the margin, its word, its share in words."""

from dataclasses import dataclass
from typing import Any

import numpy as np

from ..core.arrays import worst
from ..core.kinds import Kind
from ..core.units import show
from ..equations.margins import at_least, at_most

SHORT, TIGHT, ENOUGH, FIT = "short", "tight", "enough", "sized to fit"
LET_OUT = "let the rest out"
"""Air beyond the need would do harm and is let out: advice, where what is let in does none."""
DEADLY = "they die"
"""The word of a check that comes before every other: there is no system to judge."""
BELOW, INSIDE, ABOVE = "below", "inside", "above"
GENEROUS = 1.2
SLACK = 1e-9


@dataclass(frozen=True, slots=True, eq=False)
class Part:
    """One part: what is required, provided, what the rule of thumb says, and the margin.

    ``form`` is "at least" or "at most"; for "at most", required is the limit and provided what
    is there.  ``owned`` parts were given by the user; only those of them that bear feed
    (``capacity``) can answer "what limits?".
    """

    name: str
    label: str
    kind: Kind
    form: str
    required: Any
    provided: Any
    rule: Any
    owned: bool
    capacity: bool
    source: str
    remark: str = ""

    @property
    def margin(self):
        """Provided over required, or limit over actual; 1 just passes."""
        if self.form == "at most":
            return at_most.__wrapped__(self.required, self.provided)
        return at_least.__wrapped__(self.provided, self.required)

    @property
    def word(self) -> str:
        """How it stands, in a word; a part that the sizing took is never tight."""
        return word(self.margin, not self.owned)


@dataclass(frozen=True, slots=True, eq=False)
class Check:
    """One check: how it came out, in a word and a sentence, and how near it was.

    ``kind`` is "at least", "at most", "band", "difference" or "yes/no".  ``margin`` is a ratio
    for the first three, a distance for the fourth, 1 or 0 for the last.  ``ok`` is a truth
    value, or an array of them.
    """

    part: str
    kind: str
    ok: Any
    margin: Any
    word: str
    words: str
    limit: str
    source: str

    @property
    def severity(self) -> float:
        """What the checks are sorted by: failures first, then the nearest to failing."""
        margin = worst(self.margin)
        if self.word == DEADLY:
            return -1.0
        if self.word == LET_OUT:
            return 1.0
        if self.kind in ("difference", "yes/no"):
            return 0.5 if not np.all(self.ok) else 9.0
        return margin if not np.all(self.ok) else 1.0 + margin


def word(margin, taken: bool = False) -> str:
    """Short below need, tight up to a fifth above it, enough beyond; taken ones are sized to fit.

    >>> word(0.5), word(1.0), word(1.3), word(1.0, taken=True)
    ('short', 'tight', 'enough', 'sized to fit')
    """
    lowest = worst(margin)
    if not lowest >= 1 - SLACK:
        return SHORT
    if lowest > GENEROUS:
        return ENOUGH
    return FIT if taken else TIGHT


def worst_first(found: tuple[Part, ...]) -> list[Part]:
    """Parts by their margin: what is short before what is tight or fits."""
    return sorted(found, key=lambda part: worst(part.margin))


def percent(margin, form: str = "at least") -> str:
    """A margin as a share of need, in words; of a limit, how much of it is used.

    >>> percent(0.62), percent(4.0), percent(1.25, "at most")
    ('62 % of need', 'much more than needed', '80 % of the limit')
    """
    lowest = worst(margin)
    if form == "at most":
        used = 100.0 / lowest if lowest > 0 else np.inf
        return f"{used:.0f} % of the limit" if np.isfinite(used) else "far over the limit"
    if lowest > 3:
        return "much more than needed"
    if not np.isfinite(lowest):
        return "no answer"
    return f"{100 * lowest:.0f} % of need"


def short_percent(margin, form: str = "at least") -> str:
    """The share of ``percent`` in the fewest words, for a drawing or a cell.

    >>> short_percent(0.62), short_percent(4.0), short_percent(1.25, "at most")
    ('62 %', 'plenty', '80 %')
    """
    words = percent(margin, form).removesuffix(" of need").removesuffix(" of the limit")
    return {"much more than needed": "plenty", "far over the limit": "over"}.get(words, words)


def check_of_part(part: Part, system: str | None = None) -> Check:
    """The margin of a part as a check, in the words of one display system or of both."""
    margin = part.margin
    return Check(
        part.name,
        part.form,
        margin >= 1 - SLACK,
        margin,
        part.word,
        f"{part.label}: {percent(margin, part.form)}.{_refusal(part)}",
        show_value(part.required, part.kind, system),
        part.source,
    )


def show_value(value, kind: Kind, system: str | None = None) -> str:
    """A value in one display system, or in both; of many designs, the span in both."""
    if system is None or value is None or np.ndim(value):
        return _shown(value, kind)
    return show(value, kind, system)


def _shown(value, kind: Kind) -> str:
    """A value in both display systems; of many designs, the span."""
    if value is None:
        return "none"
    if np.ndim(value):
        low, high = np.min(value), np.max(value)
        return _shown(low, kind) if low == high else f"{_shown(low, kind)} to {_shown(high, kind)}"
    us, metric = show(value, kind, "us"), show(value, kind, "metric")
    return us if us == metric else f"{us} ({metric})"


def _refusal(part: Part) -> str:
    if part.name == "filter" and not np.all(np.isfinite(part.required)):
        return " No area can do this: the flow cannot carry the ammonia to the filter."
    if part.name == "pump" and not np.all(np.isfinite(part.required)):
        return " No flow can do this."
    return part.remark
