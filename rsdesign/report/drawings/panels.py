"""What one gets and what one pays or risks along one choice: two small panels over one x."""

import math
import re
from dataclasses import dataclass, field

import numpy as np

from ...core.kinds import KINDS
from ...core.units import from_plain, number
from ...sizing.checks.rows import HIGH_FORMS, LOW_FORMS, applies, check_rows, part_rows, value
from ...sizing.system import Sizing
from ...studies.stacked import Along, Slider
from ...studies.tradeoffs import PAIRS, tradeoff
from .axes import Axis, nice
from .labels import LabelledSheet, wide
from .look import Drawing

WIDTH = 262.0
SIZE = 12.5
PLOT = 64.0
"""Height of a panel [px]."""
LINE = 15.0
"""From a line of text to the next [px]."""
DECADES = 30.0
"""Over a logarithmic x a figure that changes this many times is drawn in equal ratios too."""
REACH = 1.6
"""A limit up to this many times the tallest value is drawn; one farther off is only said."""
SHOWN = 9
"""Rows of the table."""
STEPS = {"air.device": "next machine size", "pump.model": "next pump size"}


@dataclass(frozen=True, slots=True)
class Limit:
    """What a figure must reach or keep to, in the unit shown."""

    value: float
    word: str


def limit_of(sizing: Sizing, path: str, system: str) -> Limit | None:
    """The limit that a check sets to a figure, as it stands for this design."""
    if path == "heat.hottest_hour":
        return _shown("they stop at", sizing.tables.species.feeding_high, "temperature", system)
    for row in check_rows():
        if row.figure == path and row.form in LOW_FORMS + HIGH_FORMS and applies(sizing, row.when):
            least = row.form in LOW_FORMS
            found = row.limit(sizing, row.low if least else row.high)
            return _shown("at least" if least else "at most", found, row.kind, system)
    return None


def need_of(sizing: Sizing, path: str, system: str) -> Limit | None:
    """What a part must give, where the figure is what it gives."""
    for part in part_rows():
        if part.provided == path and applies(sizing, part.when):
            return _shown(part.form, value(sizing, part.required), part.kind, system)
    return None


def _shown(word: str, plain, kind: str, system: str) -> Limit | None:
    shown = float(from_plain(float(plain), KINDS[kind].shown(system)))
    return Limit(shown, f"{word} {number(shown)}") if math.isfinite(shown) else None


def tradeoff_panels(
    sizing: Sizing, page: str, slider: Slider, system: str, last: float | None = None,
    sized: tuple[np.ndarray, Along] | None = None,
) -> Drawing:  # fmt: skip
    """What one gets above, what one pays or risks below, over the choice of a page.

    ``last``: the value of the choice before the last move, a plain number.  ``sized``: as for
    ``studies.tradeoffs.tradeoff``.  Raises ``DesignError`` for a page that has no trade-off, or where no
    design is possible in the span.
    """
    found = tradeoff(sizing, page, slider, sized=sized)
    plain = found.plain(system)
    for curve, shown in ((found.get, plain["get"]), (found.give, plain["give"])):
        if curve.kind.family == "money":
            shown["unit"] = sizing.design.prices.currency
    before = None if last is None else float(from_plain(last, slider.kind.shown(system)))
    limits = [
        need_of(sizing, found.get.path, system) or limit_of(sizing, found.get.path, system),
        limit_of(sizing, found.give.path, system),
    ]
    step = STEPS.get(PAIRS[page].steps, "")
    return _Panels(plain, slider.logarithmic, limits, before, step).drawing()


@dataclass(slots=True)
class _Panels:
    """The two panels in the making; ``about`` is a trade-off as plain data."""

    about: dict
    ratios: bool
    limits: list[Limit | None]
    last: float | None
    step: str
    sheet: LabelledSheet = field(init=False)
    x: Axis = field(init=False)

    def drawing(self) -> Drawing:
        """Both panels with their x, in a sentence, and as a table."""
        curves = (("You get", self.about["get"]), (self.about["side"], self.about["give"]))
        axes = [
            self._y(curve, limit) for (_, curve), limit in zip(curves, self.limits, strict=True)
        ]
        heads = [self._head(first, curve) for first, curve in curves]
        tall = sum(LINE * len(lines) + PLOT + 12 for lines in heads) + 2 * LINE + 3
        self.sheet = LabelledSheet(
            WIDTH, tall, f"Along {_short(self.about['label']).lower()}", SIZE
        )
        left = 8 + max(wide(number(t), SIZE) for axis in axes for t in axis.ticks)
        x = self.about["x"]
        self.x = Axis(x[0], x[-1], left, WIDTH - 8, self.ratios)
        top = 0.0
        for place, ((first, curve), axis) in enumerate(zip(curves, axes, strict=True)):
            lines = heads[place]
            self._write_head(top, first, lines)
            top += LINE * len(lines) + 6
            axis.start, axis.end = top + PLOT, top
            self._panel(curve, axis, place)
            top += PLOT + 6
        self._foot(top + LINE - 3)
        self.sheet.marks.extend(self.sheet.late)
        sentence = self._sentence(curves)
        return Drawing(self.sheet.svg(sentence), sentence, self._table(curves))

    def _head(self, first: str, curve: dict) -> list[str]:
        """The words over a panel after its first ones: what is drawn, and its unit, in one line or two."""
        words = (
            f"{_first_low(_short(curve['label']))}{', ' if curve['unit'] else ''}{curve['unit']}"
        )
        lines, room = [""], WIDTH - 4 - wide(f"{first}  ", SIZE, bold=True)
        for word in words.split(" "):
            longer = f"{lines[-1]} {word}".strip()
            if wide(longer, SIZE) > room and lines[-1]:
                lines.append(word)
                room = WIDTH - 4
            else:
                lines[-1] = longer
        return lines

    def _write_head(self, top: float, first: str, lines: list[str]) -> None:
        self.sheet.write(1, top + SIZE, first, bold=True)
        self.sheet.write(2 + wide(f"{first} ", SIZE, bold=True), top + SIZE, lines[0])
        for k, line in enumerate(lines[1:], 1):
            self.sheet.write(1, top + SIZE + k * LINE, line)

    def _y(self, curve: dict, limit: Limit | None) -> Axis:
        """The scale of a figure: from nothing where the least is small beside the most."""
        values = [v for v in (*curve["values"], curve["now"]) if v is not None] or [0.0, 1.0]
        least, most = min(values), max(values)
        if limit is not None and least / REACH <= limit.value <= most * REACH:
            least, most = min(least, limit.value), max(most, limit.value)
        if self.ratios and least > 0 and most / least >= DECADES:
            tens = [
                10.0**k
                for k in range(math.ceil(math.log10(least)), math.floor(math.log10(most)) + 1)
            ]
            return Axis(
                least / 1.1, most * 1.1, 0, 0, True, [tens[0], tens[-1]] if len(tens) > 1 else tens
            )
        if 0 <= least < 0.5 * most:
            least = 0.0
        step = nice((most - least) / 2 or abs(most) / 2 or 1.0)
        low, high = math.floor(least / step) * step, math.ceil(most / step) * step
        return Axis(
            low, high if high > low else low + step, 0, 0, False, [low, max(high, low + step)]
        )

    def _panel(self, curve: dict, axis: Axis, place: int) -> None:
        """One panel: its scale, the limit, the line, the points before and now."""
        sheet, use, dash = self.sheet, ("line-water", "clay")[place], ("", "6 4")[place]
        sheet.line((self.x.start, axis.end), (self.x.start, axis.start), (self.x.end, axis.start),
                   stroke="line", width=1)  # fmt: skip
        for tick in axis.ticks:
            y = axis.at(tick)
            sheet.line((self.x.start - 4, y), (self.x.start, y), stroke="line", width=1)
            sheet.write(self.x.start - 6, y + SIZE * 0.35, number(tick), "end", "soft")
        points = [
            (self.x.at(x), axis.at(y))
            for x, y in zip(self.about["x"], curve["values"], strict=True)
            if y is not None
        ]
        if len(points) > 1:
            sheet.group(data_line=("get", "give")[place])
            sheet.line(*points, stroke=use, width=2.2, dash=dash)
            sheet.end()
        sheet.keep_clear(points)
        sheet.block(self.x.start - 1, axis.end, self.x.start + 1, axis.start)
        if place == 1 and self.step:
            self._steps(axis)
        self._points(curve, axis, use, points)
        self._limit(self.limits[place], axis)

    def _points(self, curve: dict, axis: Axis, use: str, points) -> None:
        sheet, now = self.sheet, self.about["now"]
        if self.last is not None and points and self.last != now and self._inside(self.last):
            x = self.x.at(self.last)
            y = float(np.interp(x, [p[0] for p in points], [p[1] for p in points]))
            sheet.circle(x, y, 4.5, "paper", use, 1.6, "2.5 2")
            sheet.keep(x - 5, y - 5, x + 5, y + 5)
        if now is None or curve["now"] is None or not self._inside(now):
            return
        x, y = self.x.at(now), axis.at(curve["now"])
        sheet.line((x, axis.end), (x, axis.start), stroke="soft", width=0.8)
        sheet.circle(x, y, 4.5, use, "paper", 1.2)
        sheet.keep(x - 5, y - 5, x + 5, y + 5)
        heights = [h for h in (y - 6, y - 11, y + 16, y + 21, y + 27, y + 4, axis.end + 11, axis.start - 5)
                   if axis.end + 10 <= h <= axis.start - 4]  # fmt: skip
        beside = [(x + s, h, a) for h in heights for s, a in ((8, "start"), (-8, "end"))]
        sheet.put(beside, number(curve["now"]), bold=True)

    def _inside(self, x: float) -> bool:
        return self.x.low * (1 - 1e-9) <= x <= self.x.high * (1 + 1e-9)

    def _limit(self, limit: Limit | None, axis: Axis) -> None:
        if limit is None or not axis.low <= limit.value <= axis.high:
            return
        sheet, y = self.sheet, axis.at(limit.value)
        sheet.line((self.x.start, y), (self.x.end, y), stroke="short", width=1.4, dash="3 3")
        ends = ((self.x.end, "end"), (self.x.start + 4, "start"))
        sheet.put([(x, y + d, a) for x, a in ends for d in (-4, SIZE + 2)], limit.word, "short")

    def _steps(self, axis: Axis) -> None:
        """Where the trade's next size is taken, as ticks on the axis with one word."""
        at = [self.x.at(x) for x, _ in self.about["steps"][1:]]
        if not at:
            return
        self.sheet.path("".join(f"M{x:.1f} {axis.start:.1f}v-6" for x in at), None, "ink", 1.2)
        spots = [(x, axis.start - 9, a) for a in ("start", "end") for x in (at[-1], at[0], *at)]
        spots += [(self.x.start + 6, axis.end + d, "start") for d in (11, 26)]
        self.sheet.put(spots, f"| {self.step}", "soft", clear=True)

    def _foot(self, base: float) -> None:
        """The ends of x, its present value, and what it is."""
        sheet, about = self.sheet, self.about
        low, high = number(self.x.low), f"{number(self.x.high)} {about['unit']}".strip()
        now = about["now"]
        if now is not None and self._inside(now):
            words = number(now)
            half = wide(words, SIZE, bold=True) / 2
            center = min(max(self.x.at(now), self.x.start - 6 + half), WIDTH - 2 - half)
            sheet.write(center, base, words, "middle", bold=True)
        sheet.put([(self.x.start - 1, base, "start")], low, "soft")
        sheet.put([(WIDTH - 2, base, "end")], high, "soft")
        name = _short(about["label"])
        if now is not None and not self._inside(now):
            name = f"{name}, now {number(now)}"
        while wide(name, SIZE) > WIDTH - 4 and " " in name:
            name = name.rsplit(" ", 1)[0]
        sheet.write(WIDTH - 2, base + LINE, name, "end", "soft")

    def _sentence(self, curves) -> str:
        x, unit = self.about["x"], self.about["unit"]
        words = []
        for (first, curve), limit in zip(curves, self.limits, strict=True):
            known = [v for v in curve["values"] if v is not None]
            if not known:
                continue
            kept = f" ({limit.word})" if limit else ""
            words.append(f"{_first_low(first)} {_first_low(_short(curve['label']))} from {number(known[0])} to"
                         f" {number(known[-1])} {curve['unit']}".rstrip() + kept)  # fmt: skip
        told = " and ".join(words)
        text = (
            f"{_short(self.about['label'])} from {number(x[0])} to {number(x[-1])} {unit}".rstrip()
            + f": {told}."
        )
        if self.about["now"] is None or any(curve["now"] is None for _, curve in curves):
            return text
        now = " and ".join(f"{number(c['now'])} {c['unit']}".rstrip() for _, c in curves)
        return f"{text} Now, at {number(self.about['now'])} {unit}".rstrip() + f": {now}."

    def _table(self, curves) -> tuple:
        def cell(v, unit):
            return "no answer" if v is None else f"{number(v)} {unit}".rstrip()

        about, x = self.about, self.about["x"]
        places = sorted(set(np.linspace(0, len(x) - 1, SHOWN).round().astype(int).tolist()))
        rows = [
            (cell(x[k], about["unit"]), *(cell(c["values"][k], c["unit"]) for _, c in curves))
            for k in places
        ]
        if about["now"] is not None:
            rows.append(
                (
                    f"now {cell(about['now'], about['unit'])}",
                    *(cell(c["now"], c["unit"]) for _, c in curves),
                )
            )
        return (about["label"], *(c["label"] for _, c in curves)), rows


def _short(label: str) -> str:
    """A label up to its first colon or comma."""
    return re.split("[:,]", label, maxsplit=1)[0]


def _first_low(words: str) -> str:
    return words[:1].lower() + words[1:]
