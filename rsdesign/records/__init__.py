"""A grower's own records: a log of water tests, what it shows, and what to do next."""

from ..core.lazy_import import opener

_PUBLIC: dict[str, str] = {
    "Finding": "findings",
    "Problem": "log",
    "WaterLog": "log",
    "beside_design": "next_steps",
    "log_findings": "findings",
    "log_of_values": "log",
    "next_tests": "next_steps",
    "read_log": "reading",
    "todays_feed": "next_steps",
    "tune": "tuning",
    "Tuned": "tuning",
    "write_log": "log",
}
__getattr__, __dir__ = opener(__name__, _PUBLIC)
__all__ = [*_PUBLIC]  # noqa: PLE0604
