"""A session's actions on the page on how sure it is: as if measured, and parts held as they are."""

from collections.abc import Callable

from ..core.choices import DesignError
from ..core.units import clipped
from ..design.model import Design
from ..sizing.system import Sizing
from ..studies.spread.inputs import uncertain_inputs
from ..studies.spread.plan import as_built


class Measuring:
    """The part of a session that asks how sure it is; it uses the session's fields."""

    sizing: Sizing | None
    spreads: dict
    """The last spread, exact and quick, with what it was made from."""
    measured: tuple[str, ...]
    """Inputs that are looked at as if they were measured."""
    shared: tuple = ()
    """The shares of each input in a result that were asked for last, and what they are of."""
    _apply: Callable[[Design], None]
    """Takes a changed design; the session has it."""

    def _do_measured(self, message: dict) -> None:
        """Look at an input as if it were measured, or as not known again."""
        path = message.get("path")
        if path not in [row.path for row in uncertain_inputs()]:
            raise DesignError(f"{clipped(path)} is not an input that can be measured.")
        kept = tuple(p for p in self.measured if p != path)
        self.measured = kept if path in self.measured else (*kept, str(path))

    def _do_shares(self, message: dict) -> None:
        """Work out the share of each input in what is asked about, alone and with others; it takes a moment."""
        from . import sureness  # noqa: PLC0415  (it draws; an action needs it only here)

        self.shared = sureness.shares_now(self)

    def _do_build(self, message: dict) -> None:
        """Tell the design every part that the sizing took, so that it stays as it is."""
        if self.sizing is None:
            raise DesignError("There is no design to hold yet.")
        self._apply(as_built(self.sizing))
