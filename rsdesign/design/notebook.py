"""A design as a prompt and a notebook show it, and its choices as quantities."""

from difflib import get_close_matches

from ..core.notebook import few, quantity, table, words
from .model import FIELDS, Design, value_of


def changed(design: Design) -> list[str]:
    """The paths of the choices that differ from the defaults, in the order they are written."""
    start = Design()
    return [
        path
        for path, entry in FIELDS.items()
        if entry.section and not _same(value_of(design, path), value_of(start, path))
    ]


def _same(value, other) -> bool:
    return value is other or (type(value) is type(other) and bool((value == other) is True))


def quantity_of(design: Design, path: str):
    """A choice as a pint quantity, a word, or ``None`` where it is left to the sizing.

    Raises ``KeyError`` with one sentence for a path that is not a choice.
    """
    if path not in FIELDS:
        near = get_close_matches(str(path), FIELDS, n=1)
        raise KeyError(
            f"{path!r} is not a choice of a design; did you mean {(near or ['?'])[0]!r}?"
        )
    return quantity(value_of(design, path), FIELDS[path].kind)


def short(design: Design) -> str:
    """At most ten lines: the name, and the choices that were made."""
    paths = changed(design)
    title = f"Design {design.name!r}: " if design.name else "Design: "
    many = "1 choice" if len(paths) == 1 else f"{len(paths)} choices"
    head = title + (f"{many} beside the defaults" if paths else "all choices at their defaults")
    each = [f"  {path} = {words(value_of(design, path), FIELDS[path].kind)}" for path in paths]
    return few([head, *each])


def html(design: Design) -> str:
    """The choices that differ from the defaults, with their words and both systems of units."""
    rows = []
    for path in changed(design):
        entry, value = FIELDS[path], value_of(design, path)
        us, metric = (words(value, entry.kind, system) for system in ("us", "metric"))
        rows.append((path, entry.choice.label, us, "" if metric == us else metric))
    caption = f"{design.name or 'A design'}: choices that differ from the defaults"
    return table(("choice", "what it is", "US units", "metric"), rows, caption)
