"""A design: every choice, files and links, weather and prices."""

from ..core.lazy_import import opener

_PUBLIC = {
    "Design": "model",
    "with_values": "model",
    "value_of": "model",
    "problems": "model",
    "check": "model",
    "load": "file",
    "read_design": "file",
    "save": "file",
    "token_of": "link",
    "design_of": "link",
    "place": "weather",
    "weather_of": "weather",
    "read_weather": "weather",
    "prices_of": "prices",
}
__getattr__, __dir__ = opener(__name__, _PUBLIC)
__all__ = [*_PUBLIC]  # noqa: PLE0604
