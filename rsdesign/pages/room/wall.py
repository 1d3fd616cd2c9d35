"""The wall: posted designs side by side, what differs, a chart of two results, and its export."""

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
from .results import FIRST, MINUTES, RESULTS, Reckoned, Result, result_named
from .scatter import scatter
from .text_input import plain

MOST_POSTS = 24
MOST_KEPT = 12
"""Walls composed, by units and pair of results, that are kept until the next post."""
MOST_CHANGES = 60
"""Choices that differ which are listed."""


@dataclass(frozen=True, slots=True, eq=False)
class Post:
    """One team's design on the wall, and when it was put up."""

    team: str
    when: str
    found: Reckoned


def _now() -> str:
    return datetime.datetime.now(datetime.UTC).isoformat(timespec="seconds")


class Wall:
    """Every posted design, in the order of posting; a team that posts again replaces its own."""

    def __init__(self, now: Callable[[], str] = _now):
        self._now = now
        self.posts: dict[str, Post] = {}
        self.version = 0
        self._shown: dict[tuple, dict] = {}
        """What was composed since the wall last changed: a room looks at one wall many times."""

    def may_post(self, team: str) -> None:
        """Raise ``DesignError`` where no more fits."""
        if team.casefold() not in self.posts and len(self.posts) >= MOST_POSTS:
            raise DesignError(
                f"The wall holds {MOST_POSTS} designs and is full; ask the instructor to clear it."
            )

    def put(self, team: str, found: Reckoned) -> None:
        """Put a team's design up, or in the place of its last one."""
        self.may_post(team)
        self.posts[team.casefold()] = Post(team, self._now(), found)
        self._changed()

    def clear(self, team: str = "") -> int:
        """Take one team's design down, or all; how many."""
        gone = [k for k in self.posts if not team or k == team.casefold()]
        for key in gone:
            del self.posts[key]
        self._changed()
        return len(gone)

    def _changed(self) -> None:
        self.version += 1
        self._shown.clear()

    # --- what is shown ----------------------------------------------------------------------

    def shown(self, system: str = "us", across="stock.peak_feed", up="cost.each") -> dict:
        """The wall as plain data in one system of units; numbers are words."""
        if system not in SYSTEMS:
            raise DesignError("Choose US units or metric.")
        pair = result_named(across), result_named(up)
        key = (self.version, system, across, up)
        found = self._shown.get(key)  # another thread may clear them meanwhile
        if found is None:
            if len(self._shown) >= MOST_KEPT:
                self._shown.clear()
            found = self._shown[key] = self._composed(system, *pair)
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
                [(p.team, p.found.values, _mark(p)) for p in posts], across, up, system
            ),
            "picks": [{"path": r.path, "label": r.label} for r in RESULTS.values()],
            "chosen": [across.path, up.path],
            "note": f"Money is in {', '.join(marks)}: sums in different currencies cannot be"
            " compared." if len(marks) > 1 else "",
            "most": MOST_POSTS,
        }  # fmt: skip

    @staticmethod
    def _card(at: int, post: Post, system: str) -> dict:
        mark, found = _mark(post), post.found
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
            cells = [result.shown(p.found.values[path], system, _mark(p)) for p in posts]
            if len(posts) == 1 or len(set(cells)) > 1:
                rows.append([result.label, *cells])
        return {"headings": ["Result", *(p.team for p in posts)], "rows": rows}

    # --- what is taken home -----------------------------------------------------------------

    def as_json(self) -> str:
        """Everything on the wall, in plain units (SI), with the link tokens."""
        return json.dumps({
            "note": "Results in SI units, times in seconds, money in each design's currency.",
            "posts": [
                {"team": plain(p.team), "posted": p.when, "token": p.found.token,
                 "currency": _mark(p), "limits": p.found.limit,
                 "results": {path: _finite(v) for path, v in p.found.values.items()}}
                for p in self.posts.values()
            ],
        }, ensure_ascii=False, indent=2, allow_nan=False)  # fmt: skip

    def as_csv(self, system: str = "us") -> str:
        """The wall as a table, a row for each team; text is never a formula of a spreadsheet."""
        page = io.StringIO()
        out = csv.writer(page, lineterminator="\r\n")
        heads = [
            f"{r.label} ({r.kind.shown(system).label or ('money' if r.money else 'number')})"
            for r in RESULTS.values()
        ]
        out.writerow(["Team", "Posted", "Currency", *heads, "What limits", "Link token"])
        for p in self.posts.values():
            cells = [
                f"{r.axis(v, system):.6g}" if math.isfinite(v := p.found.values[path]) else ""
                for path, r in RESULTS.items()
            ]
            out.writerow([_text(plain(p.team)), p.when, _text(_mark(p)), *cells, _text(p.found.limit),
                          _text(p.found.token)])  # fmt: skip
        return page.getvalue()


def _mark(post: Post) -> str:
    return post.found.design.prices.currency


def _finite(value: float):
    return value if math.isfinite(value) else None


def _text(words: str) -> str:
    """A spreadsheet takes a cell that begins so for a formula; a mark before it says: text."""
    return f"'{words}" if words[:1] in ("=", "+", "-", "@", "\t", "\r") else words


def _choices(posts: list[Post], system: str) -> dict:
    """The choices in which the designs differ, and only those."""
    rows, left = [], 0
    for path, entry in FIELDS.items():
        if path in ("name", "note") or len(posts) < 2:
            continue
        values = [value_of(p.found.design, path) for p in posts]
        if all(v == values[0] for v in values):  # most choices: saying them all takes a while
            continue
        cells = [_said(entry, v, system) for v in values]
        if len(set(cells)) > 1:
            if len(rows) < MOST_CHANGES:
                rows.append([entry.choice.label, *cells])
            else:
                left += 1
    return {"headings": ["Choice", *(p.team for p in posts)], "rows": rows, "left": left}


def _said(entry, value, system: str) -> str:
    if value is None:
        return "left open"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, str):
        return value.replace("_", " ")[:60]
    return number(value) if entry.kind is None else show(value, entry.kind, system)
