"""The results of a stage: frozen dataclasses whose fields carry their words and their kind."""

import dataclasses
import functools
import typing
from collections.abc import Callable
from dataclasses import dataclass

from .kinds import Kind

T = typing.TypeVar("T")


def figure(label: str):
    """A dataclass field for one result, with the words a page or a table shows for it."""
    return dataclasses.field(metadata={"label": label})


@typing.dataclass_transform(frozen_default=True, eq_default=False, field_specifiers=(figure,))
def stage() -> Callable[[type[T]], type[T]]:
    """Make a frozen dataclass of the results of a stage."""
    return dataclass(frozen=True, slots=True, eq=False)  # fields may be arrays: no ==


@dataclass(frozen=True, slots=True)
class Figure:
    """What is known of one result, apart from its value."""

    stage: str
    name: str
    label: str
    kind: Kind | None

    @property
    def path(self) -> str:
        """The dotted path, such as ``tank.volume``."""
        return f"{self.stage}.{self.name}"


@functools.cache
def figures_of(name: str, stage_class: type) -> tuple[Figure, ...]:
    """Every result of a stage, in the order it is written down."""
    hints = typing.get_type_hints(stage_class, include_extras=True)
    return tuple(
        Figure(name, field.name, field.metadata["label"], _kind(hints[field.name]))
        for field in dataclasses.fields(stage_class)
        if "label" in field.metadata
    )


def _kind(hint) -> Kind | None:
    for part in (hint, *typing.get_args(hint)):
        for note in getattr(part, "__metadata__", ()):
            if isinstance(note, Kind):
                return note
    return None
