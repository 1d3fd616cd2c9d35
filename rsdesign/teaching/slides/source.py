"""The texts of the course: ``data/course/session_N.md`` as slides, each a list of cells.

A line of three dashes ends a slide.  ``{tank.volume}`` stands for a figure of the design that the
session names in its head line ``design: family``.  ``@drawing tank.picture school`` shows a drawing,
``@exercise NAME`` names an exercise, ``@cautions fish`` gives the cautions of a page, and what
follows a line ``Notes:`` is for the instructor alone.
"""

import re
from dataclasses import dataclass
from pathlib import Path

from ...core.cautions import cautions_on
from ...core.choices import DesignError
from ...core.folders import data_folder
from ...core.units import show
from ...sizing.system import Sizing, figure_at, value_at
from ..bank import exercise

FIGURE = re.compile(r"\{([a-z_]+\.[a-z_]+)\}")
NOTES = "Notes:"
CAUTIONS = "cautions"


@dataclass(frozen=True)
class Cell:
    """A cell of a slide: its kind ("text", "code", "cautions" or "notes") and what it holds."""

    kind: str
    text: str


@dataclass(frozen=True)
class Session:
    """A session of the course: its number, title, demo design, and slides of cells."""

    number: int
    title: str
    design: str
    slides: tuple[tuple[Cell, ...], ...]


def numbers() -> tuple[int, ...]:
    """The numbers of the sessions there are."""
    found = (data_folder() / "course").glob("session_*.md")
    return tuple(sorted(int(path.stem.rpartition("_")[2]) for path in found))


def read(number: int, system: str, sizing_of) -> Session:
    """One session with its figures filled in; ``sizing_of`` gives the sizing of a design's name.

    Raises ``DesignError`` where there is no such session.
    """
    if number not in numbers():
        known = ", ".join(map(str, numbers()))
        raise DesignError(f"There is no session {number}. The sessions are {known}.")
    path: Path = data_folder() / "course" / f"session_{number}.md"
    head, _, body = path.read_text(encoding="utf-8").partition("\n---\n")
    told = dict(line.split(": ", 1) for line in head.splitlines() if line)
    sizing = sizing_of(told["design"])
    slides = tuple(
        tuple(_cells(slide.strip(), told["design"], sizing, system))
        for slide in body.split("\n---\n")
    )
    return Session(number, told["title"], told["design"], slides)


def _cells(slide: str, design: str, sizing: Sizing, system: str):
    text, _, notes = slide.partition(f"\n{NOTES}")
    block: list[str] = []
    noted: list[str] = []
    for line in [*text.splitlines(), "@end"]:
        if not line.startswith("@"):
            block.append(line)
            continue
        if "".join(block).strip():
            yield Cell("text", _filled("\n".join(block).strip(), sizing, system))
        block = []
        word, *rest = line.split()
        if word == "@drawing":
            name, named = rest[0], (rest[1:] or [design])[0]
            yield Cell("code", f'picture("{name}", demo("{named}"), "{system}")')
        elif word == "@exercise":
            yield Cell("text", "\n".join(map(_exercise, rest)))
        elif word == "@cautions":
            told = cautions_on(rest[0])
            short = (f"- **{c['hazard']}.** {_first(c['fact'])}" for c in told)
            yield Cell(CAUTIONS, "\n".join(short))
            noted.append("\n".join(f"- {c['hazard']}. {c['fact']} Ask: {c['ask']}." for c in told))
        elif word != "@end":
            raise ValueError(f"{line!r} is not a line of a slide")
    noted.insert(0, _filled(notes.strip(), sizing, system))
    yield Cell("notes", "\n\n".join(noted).strip())


def _exercise(name: str) -> str:
    about = exercise(name)
    return f"- **{about.title}** (`{name}`, {about.minutes} min)"


def _first(fact: str) -> str:
    """The first sentence of a caution, which is what can be read from the back of a room."""
    return re.split(r"(?<=[.!?]) ", fact, maxsplit=1)[0]


def _filled(text: str, sizing: Sizing, system: str) -> str:
    def figure(found: re.Match) -> str:
        about = figure_at(found[1])
        return show(value_at(sizing, found[1]), about.kind, system)

    return FIGURE.sub(figure, text)
