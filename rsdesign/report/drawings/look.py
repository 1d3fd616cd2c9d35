"""One look for drawings and charts: colours by their use, each with a fallback for paper."""

import re
import textwrap
from dataclasses import dataclass

PALETTE = {
    "paper": "#FAF6EE", "inset": "#F1EADD", "ink": "#2A2520", "soft": "#5C5349", "line": "#857A6C",
    "clay": "#9C3D16", "enough": "#2F5D34", "tight": "#7A4E00", "short": "#A3201D",
    "enough-fill": "#DCE9D8", "tight-fill": "#F6E3BC", "short-fill": "#F6D2CC",
    "line-water": "#243F64", "line-solids": "#6D4F3D", "line-filter": "#2A7E18",
    "line-air": "#A273C9", "water": "#CFE0E8", "deep": "#B4CFDC", "sludge": "#D9C3A4",
    "plants": "#D3DFC2", "air": "#E2D9EC", "sand": "#EADFCB",
}  # fmt: skip
"""Colours on light paper.  A page overrides them for the dark; contrast is at least 4.5 for text."""

LINES = (("line-water", "solid", "circle"), ("line-solids", "8px,4px", "square"),
         ("line-filter", "2px,4px", "diamond"), ("line-air", "10px,3px,2px,3px", "triangle-up"))  # fmt: skip
"""Chart lines in their order: colour, dash, marker, so that grey paper tells them apart."""


def colour(use: str) -> str:
    """A colour that follows the page it stands on, and stands by itself elsewhere."""
    return f"var(--rs-{use},{PALETTE[use]})"


def plain(svg: str) -> str:
    """The same drawing with fixed colours, for programs that know no variables."""
    return re.sub(r"var\(--rs-[\w-]+,(#[0-9A-Fa-f]{6})\)", r"\1", svg)


@dataclass(frozen=True, slots=True, eq=False)
class Drawing:
    """A picture: SVG text, one sentence that says what it shows, its numbers as (headings, rows)."""

    svg: str
    sentence: str
    table: tuple


@dataclass(frozen=True, slots=True, eq=False)
class Chart:
    """A chart: data and layout in plotly's JSON, one sentence, its numbers as (headings, rows)."""

    figure: dict
    sentence: str
    table: tuple


TITLE = 36
"""Letters of an axis title in one line: more would run off the chart's height."""
NAME = 20
"""Letters of a line's name in one line: more would run off the chart on a phone."""


def axis(title: str, **more) -> dict:
    """An axis in the shared look; a long title takes two lines.

    >>> axis("Flow where pump and pipe meet, nothing throttled, gpm")["title"]["text"]
    'Flow where pump and pipe meet,<br>nothing throttled, gpm'
    """
    title = "<br>".join(textwrap.wrap(title, TITLE)) or title
    return {
        "title": {"text": title, "standoff": 8}, "color": "var(--rs-ink)",
        "gridcolor": "var(--rs-inset)", "linecolor": "var(--rs-line)", "zeroline": False,
        "fixedrange": True, "ticks": "outside", **more,
    }  # fmt: skip


def line(x, y, name: str, place: int = 0, second: bool = False, below: bool = False) -> list[dict]:
    """A line of a chart in the look of its place, and its name at its end, above it or ``below``.

    The name is a trace of one point: text on every point of a line is slow to draw.
    """
    use, dash, marker = LINES[place]
    x, y = list(x), list(y)
    ends = [i for i, value in enumerate(y) if value is not None and value == value] or [0]  # noqa: PLR0124
    axes = {"yaxis": "y2"} if second else {}
    return [
        {
            "type": "scatter", "mode": "lines", "x": x, "y": y, "name": name,
            "line": {"color": f"var(--rs-{use})", "dash": dash, "width": 3},
            "hovertemplate": "%{x:.3~g}, %{y:.3~g}<extra>" + name + "</extra>", **axes,
        },
        {
            "type": "scatter", "mode": "markers+text", "x": [x[ends[-1]]], "y": [y[ends[-1]]],
            "text": ["<br>".join(textwrap.wrap(name, NAME))], "textposition": "bottom left" if below else "top left", "textfont": {"color": f"var(--rs-{use})"},
            "marker": {"symbol": marker, "size": 9, "color": f"var(--rs-{use})"},
            "hoverinfo": "skip", "cliponaxis": False, **axes,
        },
    ]  # fmt: skip


def here(x: float, y: float, words: str, second: bool = False) -> dict:
    """The mark of the present design."""
    return {
        "type": "scatter", "mode": "markers+text", "x": [x], "y": [y], "text": [words],
        "textposition": "bottom right", "textfont": {"color": "var(--rs-clay)"},
        "marker": {"symbol": "diamond-open", "size": 14, "color": "var(--rs-clay)",
                   "line": {"width": 3}}, "showlegend": False, "hoverinfo": "skip",
        "cliponaxis": False, **({"yaxis": "y2"} if second else {}),
    }  # fmt: skip


def layout(x: dict, y: dict, second: dict | None = None, shapes=()) -> dict:
    """The layout of a chart in the shared look."""
    left, right, low = (
        18 * about["title"]["text"].count("<br>") if about else 0 for about in (y, second, x)
    )
    found = {
        "paper_bgcolor": "rgba(0,0,0,0)", "plot_bgcolor": "rgba(0,0,0,0)", "height": 380,
        "margin": {"l": 76 + left, "r": 76 + right if second else 28, "t": 24, "b": 60 + low},
        "font": {"size": 15, "color": "var(--rs-ink)"}, "xaxis": x, "yaxis": y,
        "showlegend": False, "hovermode": "closest", "shapes": list(shapes),
    }  # fmt: skip
    if second:
        found["yaxis2"] = {**second, "overlaying": "y", "side": "right", "showgrid": False,
                           "tickmode": "auto"}  # fmt: skip
    return found


def limit_line(level: float) -> dict:
    """A dashed line across a chart at a limit."""
    return {
        "type": "line", "xref": "paper", "x0": 0, "x1": 1, "y0": level, "y1": level,
        "line": {"color": "var(--rs-short)", "dash": "dash", "width": 2},
    }  # fmt: skip


def shade(x0: float, x1: float) -> dict:
    """A band across a chart where something is short."""
    return {
        "type": "rect", "yref": "paper", "x0": x0, "x1": x1, "y0": 0, "y1": 1, "layer": "below",
        "fillcolor": "var(--rs-short-fill)", "line": {"width": 0},
    }  # fmt: skip
