"""A session's actions that leave the design as it is: working, trade-off, answers, files, QR code."""

from collections.abc import Callable

from ..core.choices import DesignError
from ..core.units import clipped
from ..design.model import FIELDS, Design
from ..report.text import TITLES
from ..sizing.system import STAGES, figure_at
from ..studies.costfigures import COST_FIGURES
from . import own_candidates
from .server.validation import MAX_ANSWERS, without_token


class Requests:
    """The part of a session that shows more of a design; it uses the session's fields."""

    keep: Callable[[Design], None] | None = None
    """Writes the design where the next notebook finds it; only a page in a notebook has this."""

    def _do_guess(self, message: dict) -> None:
        self.guesses = {**self.guesses, self.page.name: str(message.get("text", ""))[:40]}

    def _do_working(self, message: dict) -> None:
        """Open or close the working of a figure."""
        path = str(message.get("path"))
        if path in COST_FIGURES:
            self.open = _toggled(self.open, path)
            return
        if path.partition(".")[0] not in STAGES:
            raise DesignError(f"{clipped(path)} is not a figure; there are {', '.join(TITLES)}.")
        try:
            figure_at(path)
        except KeyError:
            raise DesignError(f"{clipped(path)} is not a figure.") from None
        self.open = _toggled(self.open, path)

    def _do_tradeoff(self, message: dict) -> None:
        """Sweep a choice and show two results along it."""
        path = str(message.get("sweep"))
        if path not in FIELDS or not FIELDS[path].choice.sweep:
            raise DesignError(f"{clipped(path)} cannot be swept.")
        pair = [str(message.get(key)) for key in ("first", "second")]
        for figure in pair:
            try:
                figure_at(figure)
            except KeyError:
                raise DesignError(f"{clipped(figure)} is not a result.") from None
        self.sweep = {**self.sweep, self.page.name: (path, *pair)}

    def _do_answer(self, message: dict) -> None:
        """An answer to a question of a block, such as the money to spend."""
        name, self.own_wrong = str(message.get("name"))[:40], ""
        if name not in self.answers and len(self.answers) >= MAX_ANSWERS:
            raise DesignError("That is more than a page asks; nothing was changed.")
        self.answers = {**self.answers, name: str(message.get("text", ""))[:200]}

    def _do_add_candidate(self, message: dict) -> None:
        """Add the person's own candidate for a part; errors show beside the form."""
        self.own_wrong = ""
        try:
            self.own = own_candidates.add(self.own, str(message.get("part")), message)
        except DesignError as error:
            self.own_wrong = str(error)

    def _do_drop_candidate(self, message: dict) -> None:
        self.own_wrong = ""
        self.own = own_candidates.drop(self.own, message.get("part"), message.get("name"))

    def _do_handout(self, message: dict) -> None:
        """The hand-out of the last computed design, as a file for the browser."""
        from .server.downloads import handout  # noqa: PLC0415  (only when asked for)

        self.reply = handout(self.sizing, self.system, message)

    def _do_keep(self, message: dict) -> None:
        """Keep the last computed design for the next notebook."""
        if self.keep is None:
            raise DesignError("This page is in no notebook; save the design as a file instead.")
        self.keep(self.sizing.design)

    def _do_qr(self, message: dict) -> None:
        """A QR code of the page's own address, drawn here so that nothing is fetched."""
        from .qr import qr  # noqa: PLC0415  (only when asked for)

        self.reply = qr(without_token(str(message.get("url", ""))))


def _toggled(names: list[str], name: str) -> list[str]:
    return [n for n in names if n != name] if name in names else [*names, name]
