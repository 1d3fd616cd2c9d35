"""A session's log of water tests: what was typed, what it shows, and the numbers that it tunes.

The log stays in the visitor's browser; a session holds the columns that are read, and no notes.
"""

from ..core.choices import DesignError
from ..records.log import WaterLog
from ..records.reading import read_log
from .spec import Page

LONGEST = 250_000
"""Characters of a log."""


class WaterLogs:
    """The part of a session that reads a log; it uses the session's fields."""

    page: Page
    log_text: str
    log_is_sample: bool
    tuned: tuple
    """The tuned numbers with the design and the log they are of; empty where none were asked for."""
    _log: tuple

    @property
    def log(self) -> WaterLog | None:
        """The log as it was read last; None where there is none."""
        if not self.log_text:
            return None
        if self._log[0] != self.log_text:
            self._log = (self.log_text, read_log(self.log_text))
        return self._log[1]

    def _do_log(self, message: dict) -> None:
        """Take the log that the browser keeps; text without notes."""
        text = message.get("text")
        if not isinstance(text, str) or len(text) > LONGEST:
            raise DesignError(
                f"A log has {LONGEST:,} characters at most; take away lines of years past. Yours is kept as it is."
            )
        self.log_text, self.log_is_sample, self.tuned = text.strip("\n"), False, ()

    def _do_sample_log(self, message: dict) -> None:
        """Show an invented log, with the design that it belongs to; undo brings the design back."""
        from .courses.water_log import sample  # noqa: PLC0415  (only who asks for it)
        from .demos import demo  # noqa: PLC0415

        text, name = sample()
        self._apply(demo(name))
        self.log_text, self.log_is_sample, self.tuned = text, True, ()

    def _do_tune(self, message: dict) -> None:
        """Tune the design's numbers by the log; it takes about a second."""
        from ..records.tuning import tune  # noqa: PLC0415  (only who asks for it)

        log = self.log
        if log is None or self.sizing is None:
            raise DesignError("There is no log to tune by; type a test or open a file first.")
        self.tuned = (tune(log, self.sizing), self.sizing.design, self.log_text)

    def _do_use_tuned(self, message: dict) -> None:
        """Put the tuned numbers that the log decides into the design."""
        if not self.tuned or self.sizing is None or self.tuned[1] != self.sizing.design:
            raise DesignError("Tune the numbers by your log first; nothing was changed.")
        self._apply(self.tuned[0].design())
