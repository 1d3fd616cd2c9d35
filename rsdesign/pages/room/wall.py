"""The wall: posted designs side by side, their differences, a chart of two results, and exports."""

import csv
import datetime
import io
import json
import math
from collections.abc import Callable
from dataclasses import dataclass

from ...core.choices import DesignError
from ...core.units import SYSTEMS, number, show
from ...design.model import FIELDS, value_of
from .results import FIRST, MINUTES, RESULTS, ComputedDesign, Result, result_named
from .scatter import scatter
from .text_input import one_line

MAX_POSTS = 24
MAX_CACHED = 12
"""Composed walls, by units and pair of results, that are cached until the next post."""
MAX_DIFFERENCES = 60
"""Differing choices that are listed."""


@dataclass(frozen=True, slots=True, eq=False)
class Post:
    """One team's design on the wall, and when it was posted."""

    team: str
    when: str
    computed: ComputedDesign


def _now() -> str:
    return datetime.datetime.now(datetime.UTC).isoformat(timespec="seconds")


class Wall:
    """Every posted design in the order of posting; a team's new post replaces its last one."""

    def __init__(self, now: Callable[[], str] = _now):
        self._now = now
        self.posts: dict[str, Post] = {}
        self.version = 0
        self._cache: dict[tuple, dict] = {}
        """The cache of composed walls: a class looks at the same wall many times."""

    def may_post(self, team: str) -> None:
        """Raise ``DesignError`` where the wall is full."""
        if team.casefold() not in self.posts and len(self.posts) >= MAX_POSTS:
            raise DesignError(
                f"The wall holds {MAX_POSTS} designs and is full; ask the instructor to clear it."
            )

    def put(self, team: str, computed: ComputedDesign) -> None:
        """Post a team's design, in the place of its last one where there is one."""
        self.may_post(team)
        self.posts[team.casefold()] = Post(team, self._now(), computed)
        self._changed()

    def clear(self, team: str = "") -> int:
        """Remove one team's design, or all; returns how many."""
        gone = [k for k in self.posts if not team or k == team.casefold()]
        for key in gone:
            del self.posts[key]
        self._changed()
        return len(gone)

    def _changed(self) -> None:
        self.version += 1
        self._cache.clear()

    # --- what is shown ----------------------------------------------------------------------

    def shown(self, system: str = "us", across="stock.peak_feed", up="cost.each") -> dict:
        """The wall as one_line data in one system of units; numbers are words."""
        if system not in SYSTEMS:
            raise DesignError("Choose US units or metric.")
        pair = result_named(across), result_named(up)
        key = (self.version, system, across, up)
        found = self._cache.get(key)  # another thread may clear the cache meanwhile
        if found is None:
            if len(self._cache) >= MAX_CACHED:
                self._cache.clear()
            found = self._cache[key] = self._composed(system, *pair)
        return found

    def _composed(self, system: str, across: Result, up: Result) -> dict:
        posts = list(self.posts.values())
        marks = sorted({_mark(p) for p in posts})
        return {
            "version": self.version,
            "system": system,
            "cards": [self._card(at, post, system) for at, post in enumerate(posts, 1)],
            "results": self._differing(posts, system),
            "choices": _choices(posts, system),
            "chart": scatter(
                [(p.team, p.computed.values, _mark(p)) for p in posts], across, up, system
            ),
            "picks": [{"path": r.path, "label": r.label} for r in RESULTS.values()],
            "chosen": [across.path, up.path],
            "note": f"Money is in {', '.join(marks)}: sums in different currencies cannot be"
            " compared." if len(marks) > 1 else "",
            "most": MAX_POSTS,
        }  # fmt: skip

    @staticmethod
    def _card(at: int, post: Post, system: str) -> dict:
        mark, found = _mark(post), post.computed
        rows = [
            [RESULTS[p].label, found.minutes if p == MINUTES
             else RESULTS[p].shown(found.values[p], system, mark)]
            for p in FIRST
        ]  # fmt: skip
        return {
            "number": at,
            "team": post.team,
            "when": post.when,
            "token": found.token,
            "svg": found.drawings[system],
            "rows": [*rows, ["What limits", found.limit]],
        }

    @staticmethod
    def _differing(posts: list[Post], system: str) -> dict:
        rows = []
        for path, result in RESULTS.items():
            cells = [result.shown(p.computed.values[path], system, _mark(p)) for p in posts]
            if len(posts) == 1 or len(set(cells)) > 1:
                rows.append([result.label, *cells])
        return {"headings": ["Result", *(p.team for p in posts)], "rows": rows}

    # --- exports ----------------------------------------------------------------------------

    def as_json(self) -> str:
        """Everything on the wall, in one_line units (SI), with the link tokens."""
        return json.dumps({
            "note": "Results in SI units, times in seconds, money in each design's currency.",
            "posts": [
                {"team": one_line(p.team), "posted": p.when, "token": p.computed.token,
                 "currency": _mark(p), "limits": p.computed.limit,
                 "results": {path: _finite(v) for path, v in p.computed.values.items()}}
                for p in self.posts.values()
            ],
        }, ensure_ascii=False, indent=2, allow_nan=False)  # fmt: skip

    def as_csv(self, system: str = "us") -> str:
        """The wall as a table with a row for each team; no cell is read as a formula."""
        page = io.StringIO()
        out = csv.writer(page, lineterminator="\r\n")
        heads = [
            f"{r.label} ({r.kind.shown(system).label or ('money' if r.money else 'number')})"
            for r in RESULTS.values()
        ]
        out.writerow(["Team", "Posted", "Currency", *heads, "What limits", "Link token"])
        for p in self.posts.values():
            cells = [
                f"{r.axis(v, system):.6g}" if math.isfinite(v := p.computed.values[path]) else ""
                for path, r in RESULTS.items()
            ]
            out.writerow([_text(one_line(p.team)), p.when, _text(_mark(p)), *cells, _text(p.computed.limit),
                          _text(p.computed.token)])  # fmt: skip
        return page.getvalue()


def _mark(post: Post) -> str:
    return post.computed.design.prices.currency


def _finite(value: float):
    return value if math.isfinite(value) else None


def _text(words: str) -> str:
    """Text for a spreadsheet cell: an apostrophe keeps it from being read as a formula."""
    return f"'{words}" if words[:1] in ("=", "+", "-", "@", "\t", "\r") else words


def _choices(posts: list[Post], system: str) -> dict:
    """The choices in which the designs differ."""
    rows, left = [], 0
    for path, entry in FIELDS.items():
        if path in ("name", "note") or len(posts) < 2:
            continue
        values = [value_of(p.computed.design, path) for p in posts]
        if all(
            v == values[0] for v in values
        ):  # true of most choices, and formatting all of them is slow
            continue
        cells = [_shown_value(entry, v, system) for v in values]
        if len(set(cells)) > 1:
            if len(rows) < MAX_DIFFERENCES:
                rows.append([entry.choice.label, *cells])
            else:
                left += 1
    return {"headings": ["Choice", *(p.team for p in posts)], "rows": rows, "left": left}


def _shown_value(entry, value, system: str) -> str:
    if value is None:
        return "left open"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, str):
        return value.replace("_", " ")[:60]
    return number(value) if entry.kind is None else show(value, entry.kind, system)
