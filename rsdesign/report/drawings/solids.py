"""The settler cut through, with the path of each size of waste, and what it catches at other loads."""

from ...core.kinds import KINDS
from ...core.units import from_plain, show
from ...sizing.system import Sizing
from ...studies.sweep import sweep
from .beside import PERSON, person
from .fitted import narrow
from .labels import LabelledSheet, wide
from .look import Chart, Drawing, axis, here, layout, limit_line, line
from .places import CONE, Place, system_places
from .words import rows, said, tape

LEAST_CAUGHT = 0.5
"""Share that a settler should catch; common practice."""


def picture(sizing: Sizing, system: str, width: float = 636.0) -> Drawing:
    """A section to scale; a path that meets the floor before the outlet is caught."""
    s, small = sizing.solids, narrow(width)
    sheet = LabelledSheet(
        width, 218.0 if small else 340.0, "The settler cut through", 12.0 if small else 13.0
    )
    place = system_places(sizing).places.get("settler")
    load = float(s.load)
    velocities = [float(v) for v in sizing.tables.grain_velocities]
    escapes = [v for v in velocities if v < load]
    _caught(sheet, sizing, system)
    if place is None:
        sheet.write(2, 2 * sheet.size, "no settler", use="short", bold=True)
        sheet.put([(2, 6 * sheet.size, "start")], "The waste stays in\nthe water: it decays.")
    else:
        _settler(sheet, sizing, system, place, velocities)
    sheet.marks.extend(sheet.late)
    kind = KINDS["settling velocity"]
    lost = (
        f"grains that sink slower than {show(load, kind, system, 2)} escape in part"
        if escapes
        else "every size that was measured sinks fast enough"
    )
    sentence = (
        f"At {said(sizing, 'solids.load', system)} {lost}; the settler catches"
        f" {said(sizing, 'solids.captured', system, 2)} of what can settle."
    )
    if sizing.design.solids.settler == "none":
        sentence = "There is no settler: all the waste stays in the water and decays (rots)."
    grains = [
        (f"sinks {show(v, kind, system, 2)}", show(share, KINDS["fraction"], system, 2),
         "caught" if v >= load else f"{min(v / load, 1):.0%} caught, the rest escapes")
        for v, share in zip(velocities, sizing.tables.grain_shares, strict=True)
    ]  # fmt: skip
    figures = rows(sizing, ("solids.load", "solids.captured", "solids.sludge"), system)[1]
    return Drawing(sheet.svg(sentence), sentence, (
        ("Grain", "Share of the waste", "In an ideal settler"),
        [*grains, *((a, b, "") for a, b in figures)],
    ))  # fmt: skip


def _settler(
    sheet: LabelledSheet, sizing: Sizing, system: str, place: Place, velocities: list[float]
) -> None:
    """The settler cut through to scale, a person, the way of the water, the paths of the grains."""
    size, deep = sheet.size, place.level - place.floor
    top, ground = 2.6 * size + 30, sheet.height - 2.9 * size
    words = tape(deep, system)
    room = 0.74 * sheet.width - wide(words, size) - 86
    scale = min((ground - top + 18) / max(PERSON, deep + 0.15), room / (place.wide + 0.6))
    person(sheet, 0.28 * scale, ground, scale)
    left = 0.55 * scale + 56 + wide(words, size)
    right, level = left + place.wide * scale, ground - deep * scale
    box = place.shape == "box"
    knee = ground if box else ground - min(deep * CONE * scale, place.wide * scale * 0.45)
    middle, foot = (left + right) / 2, (right - left) / 2 if box else 5.0
    sheet.rect(left, level, right - left, knee - level, "water", None)
    thick = 0.25 * (ground - level) if box else 0.0
    low = [
        (left, knee - thick),
        (right, knee - thick),
        (middle + foot, ground),
        (middle - foot, ground),
    ]
    sheet.poly(low, "sludge", "line-solids", 1)
    sheet.line((left, level), (right, level), stroke="line-water", width=1.6)
    sheet.line((left, level - 10), (left, knee), (middle - foot, ground), (middle + foot, ground), (right, knee),
               (right, level - 10), width=2.2)  # fmt: skip
    sheet.line((2, ground + 1.5), (right + 30, ground + 1.5), stroke="line", width=1.6)
    sheet.keep(left, level - 12, right, ground)
    sheet.arrow(left - 34, level + 10, left - 2, level + 10, "line-water", 4)
    sheet.arrow(right - 2, level - 4, right + 32, level - 4, "line-water", 4)
    _grains(sheet, velocities, float(sizing.solids.load), (left, right, level + 8, knee - thick))
    _settler_words(sheet, sizing, system, place, (left, right, level, ground))


def _settler_words(sheet: LabelledSheet, sizing: Sizing, system: str, place: Place, box) -> None:
    """What a builder cuts, the flow over the area, the sludge."""
    left, right, level, ground = box
    middle, size = (left + right) / 2, sheet.size
    for x, y in (
        (left, ground + 11),
        (right, ground + 11),
        (left - 42, level),
        (left - 42, ground),
    ):
        sheet.path(f"M{x - 4:.1f} {y + 4:.1f}l8-8", None, "ink", 1.4)
    sheet.line((left, ground + 11), (right, ground + 11), width=0.8)
    sheet.line((left - 42, level), (left - 42, ground), width=0.8)
    sheet.write(
        middle,
        ground + 14 + size,
        tape(place.wide, system) + (" wide" if place.shape == "box" else " across"),
        "middle",
    )
    sheet.put(
        [(left - 48, (level + ground) / 2 + 4, "end")], tape(place.level - place.floor, system)
    )
    sheet.write(2, size, f"{said(sizing, 'solids.settler_flow', system)} over {said(sizing, 'solids.area', system)}",
                bold=True)  # fmt: skip
    rises = show(float(sizing.solids.load), KINDS["settling velocity"], system, 2)
    sheet.write(2, 2 * size + 5, f"the water rises at {rises}")
    many = f"one of {place.count}, " if place.count > 1 else ""
    sludge = f"{many}sludge {said(sizing, 'solids.sludge', system, 2)}"
    sheet.put(
        [
            (2, sheet.height - 5, "start"),
            (2, 3 * size + 10, "start"),
            (sheet.width - 2, size, "end"),
        ],
        sludge,
    )


def _grains(sheet: LabelledSheet, velocities: list[float], load: float, box) -> None:
    """The path of each size of grain through an ideal settler: caught dotted, escaping in part dashed."""
    left, right, start, floor = box
    lost = False
    for place, velocity in enumerate(velocities):
        ratio = velocity / load if load > 0 else 9.0
        caught = ratio >= 1
        reach = left + (right - left) * min(1 / ratio if ratio > 0 else 9.0, 1.0)
        end = floor if caught else start + (floor - start) * ratio
        use = "line-solids" if caught else "short"
        sheet.group(data_grain="caught" if caught else "escapes")
        sheet.line((left + 3, start), (reach, end), stroke=use, width=1.4 + 0.4 * (5 - place),
                   dash="2 5" if caught else "8 5")  # fmt: skip
        sheet.circle(reach, end, 2.5 + (5 - place) * 0.6, use, None)
        sheet.end()
        if not caught and not lost:
            lost = sheet.put([(right + 10, end + 4, "start"), (right + 10, end + 18, "start")],
                             "escapes\nin part" if narrow(sheet.width) else "escapes in part", "short")  # fmt: skip


def _caught(sheet: LabelledSheet, sizing: Sizing, system: str) -> None:
    """The share of the waste that is caught, as a bar; the least that it should be."""
    share, size = float(sizing.solids.captured), sheet.size
    left, top, floor = sheet.width - 44, 2.6 * size + 20, sheet.height - 3.2 * size
    tall = floor - top
    sheet.rect(left, top, 36, tall, "inset", "ink", 1.6)
    sheet.group(data_caught=f"{share:.4g}")
    sheet.rect(left, floor - tall * share, 36, tall * share, "sludge", "ink", 1.6)
    sheet.end()
    least = floor - tall * LEAST_CAUGHT
    sheet.line((left - 6, least), (left + 40, least), stroke="short", width=1.6, dash="4 3")
    sheet.write(
        sheet.width - 2,
        floor + size + 5,
        f"caught {said(sizing, 'solids.captured', system, 2)}",
        "end",
        bold=True,
    )
    spots = [(left - 9, least + 4, "end"), (sheet.width - 2, top - 6, "end")]
    sheet.put(spots[1:] if narrow(sheet.width) else spots, f"at least {LEAST_CAUGHT:.0%}", "short")


def capture_chart(sizing: Sizing, system: str) -> Chart:
    """What this kind of settler catches as the flow over each area grows."""
    kind = KINDS["hydraulic load"]
    swept = sweep(sizing.design, "solids.overflow_rate", 0.00034, 0.0068)
    loads = swept.values
    unit = kind.shown(system)
    x, y = from_plain(loads, unit), 100 * swept.result("solids.captured")
    at, value = from_plain(float(sizing.solids.load), unit), 100 * float(sizing.solids.captured)
    figure = {
        "data": [*line(x, y, "caught", below=y[-1] < 100 * LEAST_CAUGHT), here(at, value, "now")],
        "layout": layout(axis(f"Flow over each area, {unit.label}"),
                         axis("Settleable waste caught, %", range=[0, 100]),
                         shapes=[limit_line(100 * LEAST_CAUGHT)]),
    }  # fmt: skip
    sentence = (
        f"This settler catches {value:.0f} % at {show(float(sizing.solids.load), kind, system)};"
        f" at {show(loads[10], kind, system)} it would catch {y[10]:.0f} %."
    )
    table = [(show(v, kind, system), f"{c:.0f} %") for v, c in zip(loads[::5], y[::5], strict=True)]
    return Chart(figure, sentence, (("Flow over each area", "Caught"), table))
