"""Task lists made from a design: before stocking, every day, when it goes wrong, harvest."""

import datetime

from ..core.units import clipped
from ..report import routines
from .session import Session


def task_lists(session: Session) -> dict:
    """The task lists; they show dates once a stocking date is given."""
    found = {
        "form": "lists",
        "title": "Lists for the wall",
        "date": str(session.answers.get("stocking_date", "")),
        "wrong": "",
        "lists": [],
    }
    try:
        date = datetime.date.fromisoformat(found["date"]) if found["date"] else None
    except ValueError:
        date = None
        found["wrong"] = (
            f"{clipped(found['date'])} is not a date; write year-month-day, such as 2027-03-15."
        )
    if session.sizing is not None:
        found["lists"] = [
            {"title": title, "steps": steps}
            for title, steps in (
                ("Before the fish come", routines.before(session.sizing, session.system, date)),
                ("Every day", routines.daily(session.sizing, session.system)),
                ("Every week", routines.weekly(session.sizing, session.system)),
                ("When it goes wrong", routines.wrong(session.sizing, session.system)),
                ("When the power comes back", routines.restart()),
                ("Harvest", routines.harvest(session.sizing, date)),
            )
        ]
    return found
