"""Judge the rows of ``data/checks.csv``: one function for each form that a check may have."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from ...core.kinds import KINDS
from ...equations.margins import at_least, at_most, inside
from ..judging import (
    ABOVE,
    BELOW,
    DEADLY,
    ENOUGH,
    INSIDE,
    LET_OUT,
    SHORT,
    SLACK,
    Check,
    show_value,
    word,
)
from .advice import ADVICE
from .rows import NAMED, CheckRow, applies, check_rows, holds, value


def stands(sizing, row: CheckRow) -> tuple[Any, Any] | None:
    """Whether a check holds and by what margin, in numbers without words; None where it is not asked.

    Of many designs, a row of each; a design of which the check is not asked stands.
    """
    if not applies(sizing, row.when):
        return None
    actual = holds(sizing, row.figure) if row.form in TRUTHS else value(sizing, row.figure)
    if actual is None:
        return None
    low, high = row.limit(sizing, row.low), row.limit(sizing, row.high)
    reading = Reading(row, sizing, None, actual, low, high)
    margin = MARGINS[row.form](reading)
    least = {"under": -SLACK, "over": -SLACK}.get(row.form, 1.0 - SLACK)
    return (margin >= least) | reading.let_in() | ~np.asarray(holds(sizing, row.when)), margin


def run_checks(sizing, system: str | None = None, only: tuple[str, ...] = ()) -> Iterator[Check]:
    """Every check of the table that applies to a sizing, in the table's order.

    ``system`` is the display system of the words, None for both; ``only`` the parts wanted.
    """
    for row in check_rows():
        if (not only or row.part in only) and applies(sizing, row.when):
            actual = holds(sizing, row.figure) if row.form in TRUTHS else value(sizing, row.figure)
            if actual is not None:
                low, high = row.limit(sizing, row.low), row.limit(sizing, row.high)
                yield JUDGES[row.form](Reading(row, sizing, system, actual, low, high))


def fill(words: str, sizing, system: str | None, known: dict[str, str] | None = None) -> str:
    """Words with the values in braces put in; ``known`` are values that are text already."""

    def shown(number, kind: str) -> str:
        return show_value(number, KINDS[kind], system)

    def put_in(found) -> str:
        name, kind = found.groups()
        if known and name in known:
            return known[name]
        if name in ADVICE:
            return ADVICE[name](sizing, shown)
        number = value(sizing, name)
        return shown(number, kind) if kind else str(number)

    return NAMED.sub(put_in, words)


@dataclass(frozen=True, slots=True, eq=False)
class Reading:
    """A row beside a sizing: the figure's value and its limits, in plain SI."""

    row: CheckRow
    sizing: Any
    system: str | None
    actual: Any
    low: Any
    high: Any

    def shown(self, number) -> str:
        """A value of the row's kind as the words show it."""
        return show_value(number, self.row.quantity, self.system)

    def filled(self, words: str) -> str:
        """Words of the row with its values put in."""
        if "{" not in words:
            return words
        numbers = {"actual": np.max(self.actual), "low": self.low, "high": self.high}
        known = {n: self.shown(x) for n, x in numbers.items() if f"{{{n}}}" in words}
        return fill(words, self.sizing, self.system, known)

    def check(self, kind, ok, margin, word_, asks: str, limit: str, advice: str = "") -> Check:
        """The finished check; ``asks`` is the limit in words, ``advice`` is said where it fails."""
        row = self.row
        said = f"{self.filled(row.label)}: {self.shown(self.actual)}, {asks}."
        after = (row.remark, "" if np.all(ok) else advice)
        said = " ".join((said, *(text for text in map(self.filled, after) if text)))
        return Check(row.part, kind, ok, margin, word_, said, limit, self.filled(row.source))

    def let_in(self) -> Any:
        """Whether the air that is needed keeps the limits that all the air goes above."""
        if not self.row.let_in:
            return False
        needed = value(self.sizing, self.row.let_in)
        kept = (needed <= self.high) & (self.actual > self.high)
        return kept if self.low is None else kept & (needed >= self.low)


def _ratio(reading: Reading) -> Check:
    """A figure that must reach a limit, or keep to it; the margin is a ratio."""
    row, margin = reading.row, MARGINS[reading.row.form](reading)
    limit = reading.low if row.form == "at least" else reading.high
    ok = margin >= 1 - SLACK
    if row.kept:
        verdict = ENOUGH if np.all(ok) else SHORT
    else:
        verdict = word(margin, bool(row.sized) and applies(reading.sizing, row.sized))
    shown = reading.shown(limit)
    return reading.check(row.form, ok, margin, verdict, f"{row.form} {shown}", shown, row.advice)


def _inside(reading: Reading) -> Check:
    """A figure that must lie between two limits; the margin is the ratio to the nearer one."""
    row, actual, low, high = reading.row, reading.actual, reading.low, reading.high
    margin = MARGINS[row.form](reading)
    ok, let_in = margin >= 1 - SLACK, reading.let_in()
    below = bool(np.any(actual < low))
    side = INSIDE if np.all(ok) else BELOW if below else ABOVE
    limit = f"{reading.shown(low)} to {reading.shown(high)}"
    advice = row.advice if below or not row.advice_above else row.advice_above
    found = reading.check("band", ok, margin, side, f"best {limit}", limit, advice)
    return _advised(found, ok, let_in)


def _distance(reading: Reading) -> Check:
    """A figure that must stay on one side of a limit; the margin is a distance."""
    row, under = reading.row, reading.row.form == "under"
    limit = reading.high if under else reading.low
    distance = MARGINS[row.form](reading)
    ok = distance >= -SLACK
    shown = reading.shown(limit)
    verdict = "inside" if np.all(ok) else "outside"
    asks = f"to stay {row.form} {shown}"
    found = reading.check("difference", ok, distance, verdict, asks, shown, row.advice)
    return _advised(found, ok, reading.let_in())


def _advised(check: Check, ok, let_in) -> Check:
    """Advice instead of a fault, where only the air that can be let out would do harm."""
    spare = not np.all(ok) and bool(np.all(ok | let_in))
    return replace(check, ok=ok | let_in, word=LET_OUT if spare else check.word)


def _truth(reading: Reading) -> Check:
    """A condition that must hold; a notice always does."""
    advice = reading.filled(reading.row.advice)
    words = reading.filled(reading.row.label)
    if not np.all(reading.actual) and advice:
        words = f"{words} {advice}"
    return _yes(reading, reading.actual, words, "no")


def _lives(reading: Reading) -> Check:
    """Water that must stay clear of a temperature at which the fish die."""
    ok = MARGINS[reading.row.form](reading) > 0
    words = reading.row.label if np.all(ok) else reading.row.advice
    return _yes(reading, ok, reading.filled(words), DEADLY)


def _yes(reading: Reading, ok, words: str, no: str) -> Check:
    margin = np.asarray(ok, float) if np.ndim(ok) else float(ok)
    verdict = "yes" if np.all(ok) else no
    row = reading.row
    return Check(row.part, "yes/no", ok, margin, verdict, words, "yes", reading.filled(row.source))


TRUTHS = ("yes", "notice")
"""Forms whose figure is a condition."""

MARGINS = {
    "at least": lambda r: at_least.__wrapped__(r.actual, r.low),
    "at most": lambda r: at_most.__wrapped__(r.high, r.actual),
    "inside": lambda r: inside.__wrapped__(r.actual, r.low, r.high),
    "under": lambda r: r.high - r.actual,
    "over": lambda r: r.actual - r.low,
    "lives under": lambda r: 1.0 * (r.actual < r.high),
    "lives over": lambda r: 1.0 * (r.actual > r.low),
    "yes": lambda r: 1.0 * r.actual,
    "notice": lambda r: 1.0 * r.actual,
}
"""By how much a form is kept: a ratio, a distance, or 1 and 0."""

JUDGES = {
    "at least": _ratio,
    "at most": _ratio,
    "inside": _inside,
    "under": _distance,
    "over": _distance,
    "lives under": _lives,
    "lives over": _lives,
    "yes": _truth,
    "notice": _truth,
}
"""How each form is judged."""
