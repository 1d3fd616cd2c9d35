"""What stands behind a page by its name: the session, and what composes its blocks."""

from . import blocks
from .classroom.lists import CLASS
from .session import Session


def opened(page: str, system: str = "us"):
    """A session and its view: a design page, or a page of a class."""
    if page not in {about.name for about in CLASS}:
        return Session(page, system), blocks
    from .classroom import instructor, learner, view  # noqa: PLC0415  (design pages stay light)

    kinds = {"exercises": learner.LearnerSession, "instructor": instructor.InstructorSession}
    return kinds[page](), view
