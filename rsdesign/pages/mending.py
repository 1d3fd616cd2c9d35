"""Mend first: the worst checks of a page in a few words, and for one of them what mends it.

A proposal takes up to a fifth of a second, so it is worked out only when somebody asks, and it is
shown only for the design that it was asked for.
"""

import re
from dataclasses import dataclass
from typing import Any

import numpy as np

from ..core.choices import DesignError
from ..core.units import clipped, number, show
from ..design.model import Design
from ..design.prices import NAMES
from ..sizing import margins
from ..sizing.judging import DEADLY, Check
from ..sizing.system import figure_at
from ..studies.cures import HEADLINES, Cure, Mend, is_green, label_of, mend
from .states import state_of_check

WORST = 3
"""Checks that are named in words; the others stand in the list of all checks."""
MOST_WORDS = 12
MOST_OPTIONS = 4
"""Ways to mend a check that are shown."""
MOVED = 0.01
"""Relative change from which a figure is told as a side effect."""
FIGURES = ("stock.peak_feed", "tank.volume", "standby.daily_energy", "standby.minutes_peak")
"""Figures that are told as side effects."""
INVENTED = "Prices are invented until you put in your own."
YOURS = "No setting here mends this. It is yours to do."
STALE = "That was proposed for another design. Press 'Mend it' again."


@dataclass(frozen=True, slots=True, eq=False)
class Proposal:
    """What was found for one check, and the design that it was asked for."""

    key: str
    design: Design
    found: Mend


@dataclass(frozen=True, slots=True, eq=False)
class Done:
    """What a cure changed, and the design that it made."""

    design: Design
    sentence: str


class Mending:
    """The part of a session that proposes what mends a check, and does it; it uses the session's fields."""

    proposal: Proposal | None = None
    mended: Done | None = None
    _judged: tuple[Any, str, tuple[Check, ...]] = (None, "", ())

    def all_checks(self) -> tuple[Check, ...]:
        """Every check of the sizing in the units shown, worst first; judged once for each sizing."""
        sizing, system, known = self._judged
        if sizing is not self.sizing or system != self.system:
            known = margins.checks(self.sizing, self.system, (), self.parts)
            self._judged = (self.sizing, self.system, known)
        return known

    def page_checks(self) -> tuple[Check, ...]:
        """The checks of the page's parts, worst first; what kills the fish is on every page."""
        only = self.page.parts
        return tuple(c for c in self.all_checks() if not only or c.part in only or c.word == DEADLY)

    def _do_mend(self, message: dict) -> None:
        """Work out what mends one check of the present design."""
        self._check_may_change()
        key = message.get("check")
        if self.sizing is None or self.stale:
            raise DesignError("This design cannot be computed. Undo the last change first.")
        found = next((c for c in self.all_checks() if key_of(c) == key), None)
        if found is None:
            raise DesignError(f"{clipped(key)} is not a check of this design.")
        known = mend(self.sizing, found, self.system)
        self.proposal = Proposal(str(key), self.sizing.design, known)

    def _do_put_off(self, message: dict) -> None:
        """Leave the proposal, and what was said of the last cure."""
        self.proposal = self.mended = None

    def _do_cure(self, message: dict) -> None:
        """Do what was proposed, as one step to undo."""
        asked, index = self.proposal, message.get("index", 0)
        if asked is None or asked.design is not self.design or asked.key != message.get("check"):
            raise DesignError(STALE)
        cures = asked.found.cures[:MOST_OPTIONS]
        if isinstance(index, bool) or not isinstance(index, int) or not 0 <= index < len(cures):
            raise DesignError("That way is not among those proposed. Press 'Mend it' again.")
        cure = cures[index]
        self._apply(cure.design)
        self.refused.pop(cure.row.choice, None)
        self.proposal = None
        self.mended = Done(cure.design, f"Done. {cure.values(self.system, 'was')}")


def key_of(check: Check) -> str:
    """The name by which a page asks for a check; the same in all units.

    >>> from rsdesign.sizing.judging import Check
    >>> key_of(Check("tank", "at least", True, 1.5, "enough", "Tank room: 150 % of need.", "", ""))
    'tank: Tank room'
    """
    return f"{check.part}: {label_of(check)}"


def mend_block(session) -> dict | None:
    """What to mend first, and what is proposed; None where the page is about no plan."""
    if session.sizing is None or session.page.owned:
        return None
    _forget(session)
    found = session.page_checks()
    asked = session.proposal
    worst = [c for c in found if not is_green(c)][:WORST]
    if asked is not None and asked.key not in [key_of(c) for c in worst]:
        worst = [*worst[: WORST - 1], asked.found.check]  # asked for in the list of all checks
    return {
        "worst": [_row(session, check) for check in worst],
        "count": len(found),
        "failed": sum(not np.all(c.ok) for c in found),
        "tight": sum(bool(np.all(c.ok)) and not is_green(c) for c in found),
        "done": session.mended.sentence if session.mended else "",
    }


def _forget(session) -> None:
    """Forget what was said of another design."""
    if session.proposal is not None and session.proposal.design is not session.design:
        session.proposal = None
    if session.mended is not None and session.mended.design is not session.design:
        session.mended = None


def _row(session, check: Check) -> dict:
    key = key_of(check)
    asked = session.proposal
    return {
        "key": key,
        "word": check.word,
        "state": state_of_check(check),
        "title": title_of(check),
        "words": words_of(check),
        "open": opened(asked.found, session.system) if asked and asked.key == key else None,
    }


def title_of(check: Check) -> str:
    """The short name of a check: its label up to a comma."""
    return label_of(check).split(",")[0]


def words_of(check: Check) -> str:
    """How a check came out, in about twelve words: its number, then what follows as far as it fits.

    >>> from rsdesign.sizing.judging import Check
    >>> words_of(Check("fish", "at most", False, 0.8, "short",
    ...     "Biggest day over mean day: 1.92, at most 1.5. Smaller batches even it out.", "", ""))
    '1.92, at most 1.5. Smaller batches even it out.'
    """
    said = sentences(check)
    if check.kind == "yes/no":
        said = ["Not yet." if not np.all(check.ok) else "It is so.", *said]
    kept: list[str] = []
    for one in said:
        if kept and _count([*kept, one]) > MOST_WORDS:
            clause = re.split(r"[:;]", one)[0]
            if clause != one and _count([*kept, clause]) <= MOST_WORDS:
                kept.append(f"{clause}.")
            break
        kept.append(one)
    return " ".join(kept)


def _count(texts: list[str]) -> int:
    return len(" ".join(texts).split())


def sentences(check: Check) -> list[str]:
    """The sentences of a check after its name."""
    rest = check.words[len(label_of(check)) :]
    rest = re.sub(r"^ \([^)]*\)", "", rest).lstrip(":. ")
    found = [part for part in re.split(r"(?<=[.!?]) (?=[A-Z])", rest) if part]
    return [part[0].upper() + part[1:] for part in found]


def opened(found: Mend, system: str) -> dict:
    """What is proposed for a check, in sentences."""
    cures = found.cures[:MOST_OPTIONS]
    advice = list(found.advice) or ([] if cures else sentences(found.check)[1:])
    if cures:
        first = _option(cures[0], system)
        return {**first, "advice": advice, "options": [_option(c, system) for c in cures]}
    sentence = YOURS if found.advice else found.sentence(system)
    return {"sentence": sentence, "cost_year": "", "cost_first": "", "side": [], "reddened": [],
            "note": "", "advice": advice, "options": []}  # fmt: skip


def _option(cure: Cure, system: str) -> dict:
    """One way to mend a check: what it is, what it costs, what else it does."""
    mark = cure.design.prices.currency
    paid = bool(cure.yearly_words) or abs(cure.first) >= 0.5
    own = any(getattr(cure.design.prices, name) is not None for name in NAMES)
    return {
        "label": cure.values(system),
        "sentence": cure.change(system),
        "cost_year": cure.yearly_words,
        "cost_first": _first(cure.first, mark),
        "side": _side(cure, system),
        "reddened": [title_of(c.after) for c in cure.reddened],
        "note": INVENTED if paid and not own else "",
    }


def _first(cost: float, mark: str) -> str:
    if abs(cost) < 0.5:
        return ""
    if cost > 0:
        return f"First it costs about {mark}{number(cost, 2)}."
    return f"There is about {mark}{number(-cost, 2)} less to buy."


def _side(cure: Cure, system: str) -> list[str]:
    """What else changes: whether it is then tight, figures that move, checks that turn tight."""
    found = [] if cure.green else ["It is then tight."]
    for path, one in zip(HEADLINES, cure.headline, strict=True):
        change = abs(one.after - one.before)
        if path not in FIGURES or not np.isfinite(change) or change <= MOVED * abs(one.before):
            continue
        now, then = (show(v, figure_at(path).kind, system, 2) for v in (one.before, one.after))
        found.append(f"{one.label}: {then}, now {now}.")
    failed = {(c.part, c.label) for c in cure.reddened}
    found += [
        f"{title_of(one.after)}: then {one.after.word}."
        for one in cure.worse
        if (one.part, one.label) not in failed
    ]
    return found
