"""The blocks of a page as plain data, composed from a session; nothing is computed here.

A block is sent only when it changed.  Numbers are text in the units shown; markup appears only in
drawings and formulas, which the package itself makes.
"""

from ..core.cautions import cautions_on
from ..core.units import number, show
from ..report.rules_of_thumb import MAKERS as MAKERS_OF_CARDS
from ..report.year_words import first_line, hottest_line
from ..sizing.system import figure_at
from ..studies.heat.yearly import hotter_than_counted
from . import choosing, pictures, sureness, worked_examples
from .aside import aside
from .check_list import checks, margin_bars
from .comparison import comparison
from .controls import described, position_of, taken_or_given
from .figures import figures
from .guesses import guess
from .headline import headline, summary_line
from .mending import mend_block
from .own_blocks import BEFORE_FISH, MAKERS, SLOW
from .series import CLASS, SERIES
from .session import Session
from .spec import worded
from .steps import costs_open, open_workings
from .strip import strip


def compose(session: Session, settled: bool = True, late: bool = True) -> dict:
    """Every block of a session's page.

    While a slider moves (not ``settled``) slow blocks are left out.  Without ``late`` the blocks of
    ``late_blocks`` are left out too, so that figures and drawing need not wait for them.
    """
    page = session.page
    found = moving(session, settled) | details(session, settled)
    if settled:
        kept = session.answers.get(worked_examples.PLACE + page.name, "")
        found["faded"] = worked_examples.example(page.name, kept)
        found["close"] = pictures.close_up(session)
        if not session.pins:
            found["compare"] = comparison(session)
    return found | late_blocks(session, settled) if late else found


def moving(session: Session, settled: bool = False) -> dict:
    """What is seen first of a page, which follows each move of a thumb."""
    found = {
        "frame": frame(session),
        "strip": strip(session),
        "choices": choices(session),
        "reply": session.reply,
    }
    if session.page.spread:
        return found | {"study": None} | sureness.moves(session)
    found |= {"measure": None, "study": None}
    if session.page.choosing:
        return found | choosing.moves(session)
    if session.page.course:
        return found | courses(session).moves(session, settled)
    return found | {
        "headline": headline(session, settled),
        "picture": pictures.stage(session, settled),
        "moment": None,
        "course": None,
    }


def courses(session: Session):
    """What composes the charts of a page on time, loaded by the first page that shows one."""
    from .courses import blocks as of_courses  # noqa: PLC0415  (other pages need none of it)

    return of_courses


def at_moment(session: Session) -> dict:
    """What changes where only the moment that is looked at is another one."""
    of = courses(session)
    return {"moment": of.moment(session, False), "course": of.asked(session, False)}


def details(session: Session, settled: bool) -> dict:
    """What explains a page: words, every figure and check, workings, quick blocks of its own."""
    found = {
        "text": text(session, settled),
        "figures": figures(session),
        "checks": checks(session),
        "parts": margin_bars(session),
        "mend": mend_block(session),
    }
    if settled or not costs_open(session):
        found["working"] = open_workings(session)
    if not SLOW.intersection(session.page.blocks):
        found["own"] = own(session)
    return found


def beside(session: Session) -> dict:
    """What stands beside the choices: ribbons, trade-off and ladder."""
    return aside(session)


def due_late(session: Session, settled: bool) -> bool:
    """Whether a page has slow blocks to compose now."""
    page = session.page
    slow = page.course or page.spread or SLOW.intersection(page.blocks)
    return session.full or (settled and bool(session.pins or slow))


def late_blocks(session: Session, settled: bool = True) -> dict:
    """The slow blocks: charts, the trade-off of one's own choosing, and further blocks of the page."""
    found = {"charts": pictures.charts(session), "explore": pictures.tradeoff(session)}
    if settled and SLOW.intersection(session.page.blocks):
        found["own"] = own(session)
    if settled and session.pins:
        found["compare"] = comparison(session)
    if settled and session.page.course:
        found |= courses(session).exact(session)
    return found | (sureness.exact(session) if settled and session.page.spread else {})


def own(session: Session) -> list[dict]:
    """The further blocks of a page."""
    return [MAKERS[name](session) for name in session.page.blocks]


def frame(session: Session) -> dict:
    """The header, the navigation, what can be undone, and the notice."""
    return {
        "page": session.page.name,
        "laid": "first" if session.page.owned else "",
        "lead": worded(session.page.lead, session.system),
        "title": session.page.title,
        "series": [{"name": p.name, "file": p.file, "title": p.title} for p in SERIES],
        "class": [{"name": p.name, "file": p.file, "title": p.title} for p in CLASS],
        "units": session.system,
        "full": session.full,
        "summary": summary_line(session),
        "token": session.token,
        "undo": session.can_undo,
        "redo": session.can_redo,
        "notice": session.notice,
        "stale": session.stale,
        "pins": [{"name": name, "token": token} for name, token in session.pins],
        "guesses": session.guesses,
        "own": session.own,
        "name": session.design.name,
        "room_differs": session.room_differs,
    }


def text(session: Session, settled: bool = True) -> dict:
    """The words of a page, its card, rule, cautions and guess."""
    page, sizing = session.page, session.sizing
    card = (
        MAKERS_OF_CARDS[page.card](sizing, session.system)
        if sizing is not None and page.card
        else None
    )
    of_year = year_words(session, settled)
    found = {
        "question": worded(page.question, session.system),
        "words": [*of_year, *(worded(words, session.system) for words in page.words)],
        "of_year": len(of_year),
        "try_this": worded(page.try_this, session.system),
        "cautions": cautions_on(page.name),
        "before": list(BEFORE_FISH) if page.owned else [],
        "rule": rule(session),
        "card": None,
        "guess": guess(session),
        "long": page.ladder,
    }
    if card is not None:
        found["card"] = {
            "lines": list(card.lines),
            "computed": f"{number(card.computed)} {card.unit}",
            "off": f"{100 * card.off:.0f} %",
            "label": figure_at(card.figure).label,
        }
    return found


def year_words(session: Session, settled: bool) -> list[str]:
    """The assumptions behind the year, and the hottest week where the design counts on too little.

    Both need the heat of a whole year, so while a slider moves the last words stay.
    """
    if not session.page.year or session.sizing is None:
        return []
    if settled or session.year_words[0] != (session.page.name, session.system):
        sizing, system = session.sizing, session.system
        found = [first_line(sizing, system)]
        if "hottest" not in session.page.blocks and hotter_than_counted(sizing) is not None:
            found.append(hottest_line(sizing, system))
        session.year_words = ((session.page.name, system), found)
    return session.year_words[1]


RULE_PARTS = {
    "tank": "tank",
    "settler": "solids",
    "filter": "biofilter",
    "air": "air",
    "pump": "pump",
}
"""The page that shows the rule of thumb of a part."""


def rule(session: Session) -> dict | None:
    """The rule of thumb beside the mass balance, for the part of the page."""
    wanted = next((p for p, name in RULE_PARTS.items() if name == session.page.name), None)
    wanted = "tank" if session.page.name in ("fish", "start") else wanted
    if not session.page.rule or session.sizing is None or wanted is None:
        return None
    part = next(p for p in session.parts if p.name == wanted)
    if part.rule is None:
        return None
    system = session.system
    return {
        "words": worded(session.page.rule, session.system),
        "label": part.label,
        "rule": show(part.rule, part.kind, system),
        "balance": show(part.required, part.kind, system),
        "given": show(part.provided, part.kind, system),
    }


def choices(session: Session) -> list[dict]:
    """The choices of the page, each with what its control shows."""
    page = session.page
    shown = page.controls if session.full else page.short
    found = []
    for control in shown:
        about = described(control, session.design, session.sizing, session.start, session.system)
        about["more"] = control in page.more or shown.index(control) >= page.in_view
        about["ghost"] = _ghost(session, control, about)
        about["nothing"] = control.nothing
        wrong = session.refused.get(control.path)
        about["wrong"] = wrong["why"] if wrong else ""
        if wrong:
            about["text"] = wrong["text"]
        found.append(about)
    return found


def _ghost(session: Session, control, about: dict) -> float | None:
    """Where the thumb stood before the last move, if it stood elsewhere."""
    before = session.before
    if before is None or about["form"] != "number":
        return None
    was = taken_or_given(before, control.path)
    at = None if was is None else position_of(control, was)
    return None if at is None or at == about["position"] else at
