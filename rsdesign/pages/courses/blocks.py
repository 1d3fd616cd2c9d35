"""The blocks of a page on time: charts, headline, what is asked, and the moment that is looked at."""

from types import ModuleType

from ...core.choices import DesignError
from ...report.drawings.moment import moment_picture
from ..pictures import as_table
from ..session import Session
from . import feeding, growing, options, starting, water_log
from .course import Course

MODULES: dict[str, ModuleType] = {
    "startup": starting,
    "day": feeding,
    "season": growing,
    "log": water_log,
}
"""What makes the course of each page."""

TALL, LOW, PHONE = 188.0, 164.0, 144.0
"""Heights of the first and the second chart on a desk, and of the one that stays in view on a phone [px]."""
SIDE = 262.0


def course_of(session: Session, quick: bool) -> Course | None:
    """The course of a session's page; None where it cannot be, with the reason in ``course_wrong``.

    The last one is kept: most messages change nothing of it.
    """
    module = MODULES[session.page.course]
    quick = quick and module is not feeding  # a day is quick enough as it is
    try:
        answers = options.answers(session, module.OPTIONS)
        if hasattr(module, "of_session"):
            answers |= module.of_session(session)
        key = (session.sizing.design, tuple(answers.items()), session.system)
        for place in (False, True) if quick else (False,):
            kept = session.courses.get((session.page.name, place))
            if kept is not None and kept[0] == key:
                session.course_wrong = ""
                return kept[1]
        found = None if quick else _opening(session.page.name, key)
        if found is None:
            found = module.course(session.sizing, answers, session.system, quick)
            if len(_OPENING) < MOST_OPENING and not quick:
                _OPENING.append((session.page.name, key, found))
    except DesignError as wrong:
        session.course_wrong = str(wrong)
        kept = session.courses.get((session.page.name, False))
        return kept[1] if kept else None
    session.course_wrong = ""
    session.courses[session.page.name, quick] = (key, found)
    return found


_OPENING: list[tuple[str, tuple, Course]] = []
"""The first courses of this process: those of the design that pages open with, which a fork inherits."""
MOST_OPENING = 8


def _opening(page: str, key: tuple) -> Course | None:
    """A course that pages open with, where it is the one that is wanted."""
    return next((found for name, of, found in _OPENING if name == page and of == key), None)


def picture(session: Session, quick: bool) -> dict | None:
    """Both charts, one over the other; on a phone the first one, the second stands below."""
    course = None if session.sizing is None else course_of(session, quick)
    if course is None:
        return None
    before = session.beside.get(session.page.name)
    width, system = session.width, session.system
    if session.narrow:
        above = course.chart(course.above, system, width, PHONE, before)
        low = course.chart(course.below, system, width, LOW, before)
        return {"svg": above.svg, "plan": low.svg, "sentence": _said(above), "table": as_table(above.table),
                "plan_name": "The second chart"}  # fmt: skip
    above = course.chart(course.above, system, width, TALL, before, named=False)
    low = course.chart(course.below, system, width, LOW, before)
    return {"svg": above.svg + low.svg, "plan": "", "sentence": _said(above),
            "table": as_table(above.table)}  # fmt: skip


def _said(drawn) -> str:
    return drawn.sentence[0].upper() + drawn.sentence[1:]


def headline(session: Session, quick: bool) -> list[dict]:
    """The figures of the first screen."""
    course = None if session.sizing is None else course_of(session, quick)
    if course is None:
        return session.last_headline
    session.last_headline = course.headline
    return course.headline


def asked(session: Session, quick: bool) -> dict | None:
    """What the page asks beside the design, its what-ifs, and what to look out for."""
    if session.sizing is None:
        return None
    course = course_of(session, quick)
    module = MODULES[session.page.course]
    found = {
        "options": options.shown(session, module.OPTIONS),
        "wrong": session.course_wrong,
        "buttons": [],
        "warnings": list(course.warnings) if course else [],
        "notes": list(course.notes) if course else [],
        "kept": session.page.name in session.beside,
    }
    if hasattr(module, "buttons") and course is not None:
        text = str(session.answers.get(options.key(session.page.name, "what_ifs"), ""))
        day = max(int(course.times[_place(session, course)]), 1)
        found["buttons"] = module.buttons(text, day if day > 1 else module.USUAL_DAY)
        found["what_ifs"] = options.key(session.page.name, "what_ifs")
    return found


def _place(session: Session, course: Course) -> int:
    return course.place(session.moments.get(session.page.name, course.start))


def moment(session: Session, quick: bool) -> dict | None:
    """The moment that is looked at: its words, its numbers, and the tank at it."""
    course = None if session.sizing is None else course_of(session, quick)
    if course is None:
        return None
    place = _place(session, course)
    svg = ""
    if course.tank is not None:
        svg = moment_picture(session.sizing, course.tank(place, session.system), SIDE).svg
    return {
        "at": place,
        "most": len(course.times) - 1,
        "last": course.last,
        "words": course.moment(float(course.times[place])),
        "svg": svg,
        "rows": course.rows(place, session.system),
    }


def moves(session: Session, settled: bool) -> dict:
    """The blocks that follow each move; the exact ones come when a slider is let go."""
    return {
        "picture": picture(session, True),
        "headline": headline(session, True),
        "moment": moment(session, True),
        **({"course": asked(session, True)} if settled else {}),
    }


def exact(session: Session) -> dict:
    """The blocks of the exact course, with its band."""
    return {
        "picture": picture(session, False),
        "headline": headline(session, False),
        "moment": moment(session, False),
        "course": asked(session, False),
    }
