"""Task lists made from a design: before stocking, every day, when it goes wrong, harvest."""

from ..core.choices import DesignError
from ..core.days import read_day
from ..core.units import clipped
from ..report import routines
from ..report.order import moved_words
from ..season.batch_order import day_that_suits
from .session import Session

TWO_WEEKS = 14


def _two_weeks(session: Session) -> dict:
    """Fourteen days of the computed season from the day that is asked for; nothing until one is.

    The season needs a second and pandas, so nobody waits for it unasked.
    """
    text = str(session.answers.get("list_day", "")).strip()
    found: dict = {"day": text, "day_wrong": "", "headings": [], "days": []}
    if not text or session.sizing is None:
        return found
    from ..report.day_lists import day_list, every_day  # noqa: PLC0415  (only when asked for)
    from ..season.growing_season import growout  # noqa: PLC0415

    start = str(session.answers.get("stocking_date", "")) or None
    try:
        frame = growout(session.sizing, start=start, system=session.system)
        if not text.isdecimal() or not 1 <= int(text) <= len(frame):
            raise DesignError(
                f"{clipped(text)} is no day of this season; write a whole number from 1 to {len(frame)}."
            )
        first = int(text)
        lines = day_list(frame, session.sizing, first, min(first + TWO_WEEKS - 1, len(frame)))
    except DesignError as wrong:
        return found | {"day_wrong": str(wrong)}
    return found | {
        "headings": ["Day", "Water", "Feed", "Baking soda", "Test", "Do"],
        "days": [
            [f"{x.day}, {x.date}", x.water, x.feed_words, x.soda_words, x.test, "; ".join(x.work)]
            for x in lines
        ],
        "every_day": f"On each day: {'; '.join(every_day(session.sizing))}.",
    }


def task_lists(session: Session) -> dict:
    """The task lists; they show dates once a stocking date is given."""
    found = {
        "form": "lists",
        "title": "Lists for the wall",
        "date": str(session.answers.get("stocking_date", "")),
        "wrong": "",
        "moved": "",
        "lists": [],
        **_two_weeks(session),
    }
    try:
        date = read_day(found["date"]) if found["date"] else None
    except DesignError as wrong:
        date, found["wrong"] = None, str(wrong)
    if session.sizing is not None:
        found["moved"] = moved_words(session.sizing, date)
        date = day_that_suits(session.sizing, date)
        found["lists"] = [
            {"title": title, "steps": steps}
            for title, steps in (
                ("Before the fish come", routines.before(session.sizing, session.system, date)),
                ("Every day", routines.daily(session.sizing, session.system)),
                ("Every week", routines.weekly(session.sizing, session.system)),
                ("Every month", routines.monthly()),
                ("When it goes wrong", routines.wrong(session.sizing, session.system)),
                ("When the power comes back", routines.restart(session.sizing)),
                ("Harvest", routines.harvest(session.sizing, date)),
            )
        ]
    return found
