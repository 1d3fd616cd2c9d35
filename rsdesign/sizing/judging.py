"""How a part and a check are judged: the margin, its word, its share in words."""

from dataclasses import dataclass

import numpy as np

from ..core.arrays import worst
from ..core.kinds import Kind
from ..core.units import show
from ..equations.margins import at_least, at_most, inside

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
    required: object
    provided: object
    rule: object
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
    ok: object
    margin: object
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


class Checks:
    """Collects checks; each method is one kind of check.

    ``system`` is the display system of the words, None for both; ``only`` the parts asked for.
    """

    def __init__(self, system: str | None = None, only: tuple[str, ...] = ()):
        self.found: list[Check] = []
        self.system, self.only = system, only

    def shown(self, value, kind: Kind) -> str:
        """A value as the words show it."""
        if self.system is None or value is None or np.ndim(value):
            return _shown(value, kind)
        return show(value, kind, self.system)

    def _skips(self, part: str) -> bool:
        return bool(self.only) and part not in self.only

    def _add(self, part, kind, ok, margin, word_, words, limit, source):
        self.found.append(Check(part, kind, ok, margin, word_, words, limit, source))

    def part(self, part: Part) -> None:
        if self._skips(part.name):
            return
        margin = part.margin
        limit = self.shown(part.required, part.kind)
        self._add(
            part.name,
            part.form,
            margin >= 1 - SLACK,
            margin,
            part.word,
            f"{part.label}: {percent(margin, part.form)}.{_refusal(part)}",
            limit,
            part.source,
        )

    def least(
        self, part, label, actual, limit, kind, source, after="", taken=False, kept=False
    ) -> None:
        """``taken``: what the sizing sized for this very limit; ``kept``: a count or a rule, which
        is kept or not and nothing lies near it.
        """
        if self._skips(part):
            return
        margin = at_least.__wrapped__(actual, limit)
        ok = margin >= 1 - SLACK
        self._add(
            part,
            "at least",
            ok,
            margin,
            _kept(ok) if kept else word(margin, taken),
            f"{label}: {self.shown(actual, kind)}, at least {self.shown(limit, kind)}.{_if_not(ok, after)}",
            self.shown(limit, kind),
            source,
        )

    def most(
        self, part, label, actual, limit, kind, source, after="", taken=False, kept=False
    ) -> None:
        """``taken``: what the sizing sized for this very limit; ``kept`` as in ``least``."""
        if self._skips(part):
            return
        margin = at_most.__wrapped__(limit, actual)
        ok = margin >= 1 - SLACK
        self._add(
            part,
            "at most",
            ok,
            margin,
            _kept(ok) if kept else word(margin, taken),
            f"{label}: {self.shown(actual, kind)}, at most {self.shown(limit, kind)}.{_if_not(ok, after)}",
            self.shown(limit, kind),
            source,
        )

    def band(
        self, part, label, actual, low, high, kind, source, after="", always="", let_in=False
    ) -> None:
        """``let_in``: whether the air that is let in keeps within the band."""
        if self._skips(part):
            return
        margin = inside.__wrapped__(actual, low, high)
        ok = margin >= 1 - SLACK
        side = INSIDE if np.all(ok) else BELOW if np.any(actual < low) else ABOVE
        side = _spare(ok, let_in, side)
        limit = f"{self.shown(low, kind)} to {self.shown(high, kind)}"
        self._add(
            part,
            "band",
            ok | let_in,
            margin,
            side,
            f"{label}: {self.shown(actual, kind)}, best {limit}.{always}{_if_not(ok, after)}",
            limit,
            source,
        )

    def difference(
        self, part, label, actual, limit, under, kind, source, after="", let_in=False
    ) -> None:
        """A reading that must stay under (or over) a limit: a distance, no ratio.

        ``let_in``: whether the air that is let in keeps the limit.
        """
        if self._skips(part):
            return
        distance = (limit - actual) if under else (actual - limit)
        ok = distance >= -SLACK
        side = "under" if under else "over"
        self._add(
            part,
            "difference",
            ok | let_in,
            distance,
            _spare(ok, let_in, "inside" if np.all(ok) else "outside"),
            f"{label}: {self.shown(actual, kind)}, to stay {side} {self.shown(limit, kind)}.{_if_not(ok, after)}",
            self.shown(limit, kind),
            source,
        )

    def yes(self, part, words, ok, source, after="", no="no") -> None:
        if self._skips(part):
            return
        good = bool(np.all(ok))
        self._add(
            part,
            "yes/no",
            ok,
            np.asarray(ok, float) if np.ndim(ok) else float(ok),
            "yes" if good else no,
            f"{words}{_if_not(ok, after)}",
            "yes",
            source,
        )


def _spare(ok, let_in, side: str) -> str:
    """The word of a check of all the air: advice where only what is let out would do harm."""
    return side if np.all(ok) or not np.all(ok | let_in) else LET_OUT


def _kept(ok) -> str:
    return ENOUGH if bool(np.all(ok)) else SHORT


def _if_not(ok, words: str) -> str:
    """What to do, said only where something is wrong."""
    return "" if bool(np.all(ok)) else words


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
