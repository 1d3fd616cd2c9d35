"""Parts of the filter's picture: the vessels cut through, the media's surface laid flat, the buckets to buy."""

from dataclasses import dataclass
from math import ceil

from ...core.units import number, show
from ...sizing.margins import FIT, percent
from ...sizing.system import Sizing, figure_at
from .beside import BUCKET_HOLDS, PERSON, bucket, person
from .hatch import GRADES, MEDIA, OUTLINES, UNKNOWN, short_name, state
from .labels import LabelledSheet, wide
from .places import Place, one, system_places
from .words import said, tape

PARKING = (2.74, 5.49)
"""A parking space [m], 9 by 18 ft, common practice: a thing to compare a surface with."""
MOST_BUCKETS = 30
MOST_VESSELS = 3
SPRAY = 0.12
"""Room over a trickling bed for its spray [m]; from memory."""


@dataclass(slots=True)
class FilterSheet:
    """The picture of the filter in the making."""

    sizing: Sizing
    system: str
    sheet: LabelledSheet

    @property
    def narrow(self) -> bool:
        """Whether it is a phone's."""
        return self.sheet.width < 500

    @property
    def key(self) -> str:
        """What the names of its patterns begin with."""
        return "rsfn" if self.narrow else "rsfw"

    @property
    def part(self):
        """The filter as it is judged, where it is."""
        return next((p for p in self.sizing.parts if p.name == "filter"), None)

    def said(self, path: str, figures: int = 3) -> str:
        """A figure with its unit."""
        return said(self.sizing, path, self.system, figures)


def vessels(made: FilterSheet, left: float, right: float, top: float, ground: float) -> None:
    """The vessels cut through to scale, with a person, the way of the water and what a builder cuts."""
    sheet, sizing = made.sheet, made.sizing
    place = system_places(sizing).places.get("filter")
    if place is None:
        sheet.write(left, (top + ground) / 2, "no media, no filter", use="short", bold=True)
        return
    shown = min(place.count, 1 if made.narrow else MOST_VESSELS)
    trickling = sizing.design.filter.type == "trickling"
    tall = place.rim - place.floor + (SPRAY if trickling else 0.0)
    arrows, beside = (
        58.0 if made.narrow else 66.0,
        16.0 + wide(tape(place.level - place.floor, made.system), sheet.size),
    )
    room = right - left - arrows - 42 - beside
    scale = min((ground - top) / max(tall, PERSON), room / (0.55 + 1.2 * place.wide * shown))
    sheet.rect(left, ground, right - left, 7, f"url(#{made.key}-earth)", None)
    sheet.line((left, ground), (right, ground), width=1)
    sheet.group(role="img", aria_label=f"A person of {tape(PERSON, made.system)}, for scale.")
    person(sheet, left + 0.26 * scale + 2, ground, scale)
    sheet.end()
    sheet.keep(left, ground - PERSON * scale, left + 0.52 * scale + 2, ground)
    start = left + 0.55 * scale + arrows + 8
    step = 1.2 * place.wide * scale
    for k in range(shown):
        _vessel(made, place, start + k * step, ground, scale, trickling)
    end = start + (shown - 1) * step + place.wide * scale
    _dimensions(made, place, start, end, ground, scale)
    _ways(made, place, start, end, ground, scale, trickling)
    if shown < place.count:
        sheet.put([((start + end) / 2, top + 10, "middle"), (end + 6, ground - 4, "start")],
                  f"{place.count} vessels, {shown} drawn", bold=True)  # fmt: skip


def _vessel(
    made: FilterSheet, place: Place, x: float, ground: float, scale: float, trickling: bool
) -> None:
    """One vessel: its water, its media as far as they reach, how it stands, its wall."""
    sheet, sizing = made.sheet, made.sizing
    long, rim = place.wide * scale, ground - (place.rim - place.floor) * scale
    level = ground - (place.level - place.floor) * scale
    word = state(made.part)
    use, width, dash = OUTLINES[word]
    kind = sizing.design.filter.type
    full = min(one(sizing.filter.media_volume) / max(one(sizing.filter.vessel), 1e-9), 1.0)
    reach = {"moving bed": 1.0, "trickling": 1.0}.get(kind, 0.85 * full)
    sheet.group(data_name="filter", data_state=word or None)
    if not trickling:
        sheet.rect(x, level, long, ground - level, "water", None)
        sheet.line((x, level), (x + long, level), stroke="line-water", width=1.2)
    sheet.rect(x, ground - (ground - level) * reach, long, (ground - level) * reach,
               f"url(#{made.key}-{MEDIA[kind]})", None)  # fmt: skip
    if word:
        sheet.rect(x, level, long, ground - level, f"url(#{made.key}-{short_name(word)})", None)
    sheet.line(
        (x, rim),
        (x, ground),
        (x + long, ground),
        (x + long, rim),
        stroke=use,
        width=width,
        dash=dash,
    )
    if trickling:
        drops = "".join(f"M{x + long * k / 7:.1f} {level - 8:.1f}v7" for k in range(1, 7))
        sheet.line((x, level - 9), (x + long, level - 9), stroke="line-water", width=2)
        sheet.path(drops, None, "line-water", 1.2, "2 2")
    sheet.end()
    sheet.keep(x, min(rim, level - 10), x + long, ground)


def _dimensions(
    made: FilterSheet, place: Place, start: float, end: float, ground: float, scale: float
) -> None:
    """Across and deep, as a builder cuts them."""
    sheet, first = made.sheet, start + place.wide * scale
    y, level = ground + 14, ground - (place.level - place.floor) * scale
    sheet.line((start, y), (first, y), width=0.8)
    x = end + 36
    sheet.line((x, level), (x, ground), width=0.8)
    ticks = ((start, y), (first, y), (x, level), (x, ground))
    sheet.path("".join(f"M{a - 4:.1f} {b + 4:.1f}l8-8" for a, b in ticks), None, "ink", 1.4)
    across = tape(place.wide, made.system) + (" across" if place.shape == "round" else " wide")
    sheet.write((start + first) / 2, y + sheet.size + 3, across, "middle")
    middle = (level + ground) / 2 + 4
    sheet.put(
        [(x + 7, middle, "start"), (x + 7, middle + 16, "start")],
        tape(place.level - place.floor, made.system),
    )


def _ways(
    made: FilterSheet,
    place: Place,
    start: float,
    end: float,
    ground: float,
    scale: float,
    trickling: bool,
):
    """Water in and out with the ammonia that it carries."""
    sheet, f = made.sheet, made.sizing.filter
    kind = figure_at("filter.ammonia").kind
    level = ground - (place.level - place.floor) * scale
    before, after = (show(v, kind, made.system, 2).split(" ")
                     for v in (one(f.ammonia), one(f.ammonia) * (1 - one(f.removal))))  # fmt: skip
    into, out = (level - 9, ground - 8) if trickling else (ground - 9, level + 6)
    sheet.arrow(start - 32, into, start - 1, into, "line-water", 4, 9)
    sheet.arrow(end + 1, out, end + 32, out, "line-water", 4, 9)
    over = sheet.size + 10
    ends = (("in", before, [(start - 4, into - over, "end"), (start - 8, into + 20, "end")]),
            ("out", after, [(end + 8, out - over - 2, "start"), (end + 42, out + 4, "start"), (end + 34, out - over - 16, "end")]))  # fmt: skip
    for word, (amount, unit), spots in ends:
        if not sheet.put(spots, f"{word} {amount}\n{unit}", bold=True):
            near = [(x, y + sheet.size + 2, a) for x, y, a in spots]
            sheet.put(near, f"{word} {amount}", bold=True)


def laid_flat(made: FilterSheet, left: float, top: float, side: float) -> None:
    """The surface that is there as a square, what is needed, the rule's, a parking space; one scale."""
    sheet, f = made.sheet, made.sizing.filter
    have, need, rule = (max(one(v), 0.0) for v in (f.area, f.required, f.rule))
    scale = side / max(have**0.5, need**0.5, PARKING[1])
    base = top + side
    squares = ((have, "plants", "line-filter", 1.4, "", "have"), (need, None, "ink", 2.0, "7 4", "need"),
               (rule, None, "soft", 1.4, "1.5 3", "rule"))  # fmt: skip
    for area, fill, use, width, dash, name in squares:
        edge = area**0.5 * scale
        sheet.group(data_square=name)
        sheet.rect(left, base - edge, edge, edge, fill, use, width, dash)
        sheet.end()
    sheet.group(data_square="parking")
    sheet.rect(
        left, base - PARKING[1] * scale, PARKING[0] * scale, PARKING[1] * scale, "sand", "ink", 1
    )
    sheet.end()
    edge = have**0.5 * scale
    y = base + 10
    sheet.line((left, y), (left + edge, y), width=0.8)
    sheet.path(
        "".join(f"M{x - 4:.1f} {y + 4:.1f}l8-8" for x in (left, left + edge)), None, "ink", 1.4
    )
    sheet.write(left, y + sheet.size + 3, f"{_round_length(have**0.5, made.system)} each way")


def _round_length(meters: float, system: str) -> str:
    """A length to the foot or to the decimeter: nobody lays it out."""
    return (
        f"{meters / 0.3048:.0f} ft" if system == "us" else f"{meters:.1f} m"
    )  # units of the source


def surface_words(made: FilterSheet, left: float, top: float) -> None:
    """What each square of the surface is."""
    rows = [("plants", "line-filter", "", f"have {made.said('filter.area')}"),
            (None, "ink", "5 3", f"need {made.said('filter.required')}"),
            (None, "soft", "1.5 2.5", f"rule {made.said('filter.rule')}"),
            ("sand", "ink", "", "a parking space")]  # fmt: skip
    for k, (fill, use, dash, words) in enumerate(rows):
        y = top + k * (made.sheet.size + 5)
        made.sheet.rect(left, y - 9, 13, 10, fill, use, 1.4, dash)
        made.sheet.write(left + 18, y, words, bold=k == 0)


def stands(made: FilterSheet, left: float, base: float) -> None:
    """How the filter stands, with its hatch."""
    part, sheet = made.part, made.sheet
    if part is None:
        return
    word = state(part)
    use, width, dash = OUTLINES[word]
    sheet.rect(
        left,
        base - 10,
        13,
        10,
        f"url(#{made.key}-{short_name(word)})",
        use,
        min(width, 1.6),
        dash and "4 2",
    )
    share = percent(part.margin, part.form).replace("much more than needed", "plenty")
    words = {UNKNOWN: UNKNOWN, FIT: f"{share}, {FIT}"}.get(word, f"{share}, {word}")
    sheet.write(left + 18, base, words, use=GRADES[word])


def buckets(made: FilterSheet, left: float, base: float, room: float) -> None:
    """The media in buckets, as one carries them home; a mark at what the rule of thumb would have."""
    sheet, f = made.sheet, made.sizing.filter
    count = one(f.media_volume) / BUCKET_HOLDS
    each = max(ceil(count / MOST_BUCKETS), 1)
    shown = ceil(count / each - 1e-9)
    size = "five-gallon " if made.system == "us" else "19-liter "
    medium = made.sizing.design.filter.medium.replace("_", " ")
    drawn = "" if each == 1 or made.narrow else f"; each stands for {each}"
    sheet.write(
        left,
        base,
        f"{number(count, 2)} {size if made.sheet.width > 320 else ''}buckets of {medium}, {made.said('filter.media_volume')}{drawn}",
        bold=True,
    )
    if made.narrow:
        return
    step = min(room / MOST_BUCKETS, 20.0)
    scale = (step - 4) / 0.30  # the width of a bucket in meters
    sheet.group(data_buckets=f"{count:.4g}")
    for k in range(shown):
        bucket(sheet, left + k * step, base + 9 + 0.37 * scale, scale, min(count / each - k, 1.0))
    sheet.end()
    rule = one(f.rule) / max(one(f.area), 1e-12) * count / each
    if 0 < rule < MOST_BUCKETS:
        x, low = left + rule * step, base + 9 + 0.37 * scale
        sheet.line((x, base + 5), (x, low + 5), width=2)
        words = f"rule of thumb {number(rule * each, 2)}"
        x = max(x, 3 + wide(words, sheet.size) / 2)
        sheet.write(x, low + 5 + sheet.size, words, "middle", "soft")
