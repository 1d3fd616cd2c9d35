"""A session's actions on a page on time: look at another moment, keep a course to compare it."""

from ...core.choices import DesignError
from ..spec import Page
from .course import Course


class Courses:
    """The part of a session that looks at courses; it uses the session's fields."""

    page: Page
    courses: dict
    """The last course of each page, exact and quick, with what it was made from."""
    beside: dict[str, Course]
    """The course that is kept beside the present one, by page."""
    moments: dict[str, float]
    """The moment that is looked at, from 0 to 1, by page."""
    course_wrong: str

    def _do_moment(self, message: dict) -> None:
        """Look at another moment of the course."""
        at = message.get("at")
        if isinstance(at, bool) or not isinstance(at, (int, float)) or not 0 <= at <= 1:
            raise DesignError("A moment lies between the start and the end; nothing was changed.")
        self.moments = {**self.moments, self._course_page(): float(at)}

    def _do_beside(self, message: dict) -> None:
        """Keep the present course beside what comes, or drop the one that is kept."""
        name = self._course_page()
        if name in self.beside:
            self.beside = {page: kept for page, kept in self.beside.items() if page != name}
            return
        from .blocks import course_of  # noqa: PLC0415  (a page that opened as it was carried has followed none)

        found = course_of(self, quick=False)  # type: ignore[arg-type]
        if found is None:
            raise DesignError("There is no course to keep yet.")
        self.beside = {**self.beside, name: found}

    def _course_page(self) -> str:
        if not self.page.course:
            raise DesignError("This page shows nothing that changes with time.")
        return self.page.name
