"""Opens a page by its name: its session, and the module that composes its blocks."""

from . import blocks
from .classroom.lists import CLASS
from .session import Session


def open_page(page: str, system: str = "us"):
    """A new session and its view: of a design page, or of a page for a class."""
    if page not in {about.name for about in CLASS}:
        return Session(page, system), blocks
    from .classroom import instructor, learner, view  # noqa: PLC0415  (design pages stay light)

    sessions = {"exercises": learner.LearnerSession, "instructor": instructor.InstructorSession}
    return sessions[page](), view
