"""The check values in ``data/published/``: figures printed by others, for tests and pages."""

from dataclasses import dataclass

from . import tables


@dataclass(frozen=True, slots=True)
class Check:
    """One printed figure and the call that must give it, in SI."""

    id: str
    function: str
    arguments: str
    value: float
    tolerance: str
    printed: str
    source: str
    place: str
    basis: str
    note: str

    @property
    def relative(self) -> float:
        """The relative tolerance, 0 where the tolerance is absolute."""
        return 0.0 if self.tolerance.startswith("abs") else float(self.tolerance)

    @property
    def absolute(self) -> float:
        """The absolute tolerance in SI, 0 where the tolerance is relative."""
        return float(self.tolerance[3:]) if self.tolerance.startswith("abs") else 0.0


def checks() -> list[Check]:
    """Every check value, file by file."""
    folder = tables.data_folder() / "published"
    return [row for path in sorted(folder.glob("*.csv")) for row in tables.read_file(path, Check)]
