"""Further blocks of single pages: owned parts, balance, budget, candidates, what to take home."""

import math

from ..core.choices import DesignError
from ..core.kinds import KINDS, UnitError
from ..core.units import clipped, number, parse, show
from ..equations.costs.budget import LABELS
from ..report.building.sums import sums_of
from ..report.cost import AXIS, BUDGET, NOTICE, money, summary
from ..report.handout.booklets import BOOKLETS
from ..report.limits import answer, count_words, feed_words, shown_bearings
from ..sizing.system import figure_at
from ..studies import compare
from ..studies.heat.yearly import extras, full_year
from ..studies.limits import limits
from ..studies.stress import movers
from .air_kinds import air_kinds
from .choosing import buy
from .own_candidates import ASKED, MAX_OWN, PARTS, of_part
from .session import Session
from .study_blocks import failures, heat_and_water, hottest
from .tasks import task_lists
from .way_in import way_in

MAX_PURCHASES = 4


def may_i(session: Session) -> dict:
    """Permit, water and place: a short list, in part answered from the design."""
    d = session.design
    treated = {
        "none": "Your source adds nothing. Test it for iron and gas before you fill.",
        "chlorine": "Your supplier adds chlorine. Treat every fill and top-up before fish meet it.",
        "chloramine": "Your supplier adds chloramine. Letting it stand is not enough: treat it.",
    }[d.source.disinfectant]
    supply = session.sizing.water.supply if session.sizing is not None else d.source.supply
    kind = figure_at("water.supply").kind
    asked = show(session.sizing.water.exchange, kind, session.system)
    return {
        "form": "steps",
        "title": "May I, with what water, where?",
        "steps": [
            ["Permit", f"Ask the state fish and wildlife agency whether you may keep"
             f" {d.stock.species.replace('_', ' ')}, and get it in writing before you buy."],
            ["Water", treated],
            ["Enough water", f"The source gives {show(supply, kind, session.system)}; the fish need"
             f" about {asked} of new water on the biggest day, and one whole filling at the start."],
            ["Place", "Level ground that bears the load, shade in summer, power with ground-fault"
             " protection, a fence, and a way for used water to go."],
        ],
    }  # fmt: skip


BEFORE_FISH = (
    "Fill, treat the chlorine, and test the water.",
    "Run the filter four to eight weeks and feed it ammonia until it clears a dose in a day.",
    "Stop and ask if a pump leaks oil, a cord is cut, there is no ground-fault outlet, or"
    " the liner or paint is not known to be safe for fish.",
)
"""What is done, and looked at, before anybody buys fish for a tank that is there already."""


def have_answer(session: Session, planned: bool = False) -> dict:
    """What the owned parts carry, part by part, the smallest first; what is missing; what to buy."""
    found = {
        "form": "answer",
        "title": "What it can feed",
        "budget": str(session.answers.get("budget", "")),
        "sentence": "",
        "more": [],
        "bars": [],
        "buys": [],
        "assumed": [],
        "wrong": "",
    }
    try:
        budget = _budget(found["budget"])
        known = limits(session.design, budget, planned)
    except DesignError as wrong:
        found["wrong"] = str(wrong)
        return found
    said, feed = answer(known, session.system), figure_at("stock.peak_feed").kind
    found |= {"sentence": said.sure, "more": [*said.more, *_buy(known)]}
    if known.told:
        found["assumed"] = list(known.assumed)
    shown = shown_bearings(known)
    most = max((b.feed for b in shown if math.isfinite(b.feed)), default=0.0)
    found["bars"] = [
        {
            "label": bearing.words,
            "value": feed_words(bearing, session.system),
            "fish": count_words(bearing),
            "share": bearing.feed / most if most and math.isfinite(bearing.feed) else 1.0,
        }
        for bearing in shown
    ]
    found["buys"] = [
        {"what": _counted(buy), "cost": money(buy.cost, session.design.prices.currency),
         "gain": show(buy.gain, feed, session.system), "then": buy.then}
        for buy in known.buys[:MAX_PURCHASES]
    ]  # fmt: skip
    return found


def _buy(known) -> list[str]:
    """What to buy next, where a whole system is described."""
    if not known.complete:
        return []
    if not known.buys:
        return ["Nothing on the price list adds feed for that money."]
    return [f"Buy next: {_counted(known.buys[0])}."]


def _counted(buy) -> str:
    """What to buy, and how many where it is more than one."""
    return buy.purchase.label if buy.count == 1 else f"{buy.count} × {buy.purchase.label}"


def _budget(text: str) -> float | None:
    if not text.strip():
        return None
    try:
        value = parse(text, KINDS["money"])
    except UnitError:
        value = -1.0
    if not 0 <= value < 1e12:
        raise DesignError(f"Money to spend: {clipped(text)} is not a sum of money from 0 up.")
    return value


def balance(session: Session) -> dict:
    """What each owned part can bear, and what to buy next, beside the margin_bars of all parts."""
    return {**have_answer(session, planned=True), "form": "balance", "title": "What to buy next"}


def handout(session: Session) -> dict:
    """The files to take home, booklet by booklet; each is made on request."""
    papers = (("letter", "letter paper"), ("a4", "A4 paper"))
    return {
        "form": "handout",
        "title": "Take it home",
        "booklets": [
            {
                "title": booklet.title,
                "words": booklet.words,
                "formats": [
                    {"format": "pdf", "paper": paper, "booklet": booklet.name,
                     "title": f"PDF, {words}", "name": f"{booklet.title}: PDF, {words}"}
                    for paper, words in papers
                ],
            }
            for booklet in BOOKLETS
        ] + [
            {
                "title": "All in one",
                "words": "the spreadsheet follows when you put in your own prices",
                "formats": [
                    {"format": "html", "title": "One page for a browser"},
                    {"format": "xlsx", "title": "Spreadsheet"},
                ],
            }
        ],
    }  # fmt: skip


def budget(session: Session) -> dict:
    """The two answers in words, the budget, and what moves it most."""
    found = full_year(session.sizing)
    mark = session.design.prices.currency
    rows, totals = [], []
    b = found.budget
    for names, total, words in BUDGET:
        rows += [[LABELS[n], money(getattr(b, n), mark)] for n in names]
        totals.append(len(rows))
        rows.append([words, money(getattr(b, total), mark)])
    moved = [
        [m.label, money(m.down, mark), money(m.up, mark)]
        for m in movers(session.sizing, **extras(session.sizing))[:5]
    ]
    return {
        "form": "budget",
        "title": "A full year",
        "summary": [*summary(found, session.system), sums_of(session.sizing)],
        "rows": rows,
        "totals": totals,
        "movers": moved,
        "items": [[i.label, money(i.cost, mark), f"{number(i.life)} years", money(i.annual, mark)]
                  for i in found.items],
        "work": [[w.label, number(w.time / 3600)] for w in found.work],
        "notice": ["Prices are invented until you put your own into the choices.", NOTICE[1]],
    }  # fmt: skip


def candidates(session: Session) -> dict:
    """Candidates for one part side by side by cost a year: invented ones and the reader's own."""
    part = str(session.answers.get("part", "tank"))
    part = part if part in PARTS else "tank"
    mark = session.design.prices.currency
    mine = of_part(session.own, part)
    found = compare.candidates(part) + mine
    rows = [
        [f"{c.candidate.name} (yours)" if c.candidate in mine else c.candidate.name,
         money(c.yearly, mark), money(c.yearly_unpaid, mark),
         money(c.candidate.cost, mark), f"{number(c.candidate.life)} years",
         f"{number(c.candidate.daily_time / 60, 2)} min", f"{number(c.candidate.power)} W"]
        for c in compare.compare(session.sizing, found)
    ]  # fmt: skip
    cross = [
        f"{x.first} and {x.second} cost the same at {AXIS[x.axis][0]}"
        f" {show(x.value, KINDS[AXIS[x.axis][1]], session.system)}."
        for x in compare.crossings(session.sizing, found)
        if x.value is not None
    ]
    return {
        "form": "candidates",
        "title": "Candidates for a part, side by side",
        "parts": list(PARTS),
        "part": part,
        "headings": ["Candidate", "A year, hours paid", "Unpaid", "First cost", "Life", "A day", "Power"],
        "rows": rows,
        "cross": cross,
        "asked": [["name", "Name", True], *([f, words, must] for f, words, _, _, must in ASKED)],
        "own": [c.name for c in mine],
        "full": len(mine) >= MAX_OWN,
        "wrong": session.own_wrong,
        "note": "Candidates are invented, but for those marked as yours.",
    }  # fmt: skip


def _of_log(name: str):
    """A block of the log, whose module other pages need not load."""

    def made(session: Session) -> dict:
        from .log_blocks import MAKERS as OF_LOG  # noqa: PLC0415

        return OF_LOG[name](session)

    return made


MAKERS = {
    "air_kinds": air_kinds,
    "budget": budget,
    "buy": buy,
    "candidates": candidates,
    "failures": failures,
    "heat_and_water": heat_and_water,
    "hottest": hottest,
    "may_i": may_i,
    "handout": handout,
    "have_answer": have_answer,
    "balance": balance,
    "task_lists": task_lists,
    "way_in": way_in,
    **{name: _of_log(name) for name in ("log_entry", "log_findings", "log_tuned")},
}
"""The functions that compose the further blocks, by the names that pages use."""

SLOW = frozenset(
    {"have_answer", "balance", "budget", "failures", "heat_and_water", "hottest", "task_lists"}
)
"""The slow ones; they follow when a slider is released."""
