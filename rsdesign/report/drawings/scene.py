"""The whole system to scale: side section over plan, one scale, every part a link to its page."""

from html import escape, unescape

from ...core.kinds import KINDS
from ...core.units import from_plain
from ...design.model import FIELDS
from ...sizing.system import Sizing
from .annotations import chip_height, chip_rows, chips, plan_words, projections, section_words
from .composition import LANE, Scene, company, fit
from .hatch import patterns
from .labels import LabelledSheet
from .legend import foot, sentence
from .overhead import overhead
from .places import System, system_places
from .section import section
from .sheet import short

WIDE = 600.0
"""From this width on the drawing has its wide layout [px]."""
SCALE = "data-px-per-m"
"""The attribute that holds the scale."""
PHONE = 240.0
"""Most height of the section on a phone [px]: 30 % of a screen of 812."""


def drawing(
    sizing: Sizing, system: str = "us", width: float = 720.0, view: str = "both",
    links: dict[str, str] | None = None, scale: float | None = None, key: str = "", parts: tuple = (),
    handles: bool = True,
) -> str:  # fmt: skip
    """The whole system as SVG text, to scale, as wide as ``width`` [px].

    ``system`` is the display system of the words.  ``view`` is "both", "section" or "plan"; a
    section under 600 px keeps within 30 % of a phone's screen.  ``links`` gives the page of each
    stage: "tank", "solids", "filter", "air", "pump", "bed", "water".  ``scale`` [px/m] keeps the
    scale of an earlier drawing where the system still fits.  ``key`` sets the names of the patterns
    apart from those of another drawing on the same page.  ``parts``: those of the sizing, where they
    are known.  ``handles`` are what a page drags; paper has none.
    """
    narrow = width < WIDE
    key = key or f"rs{view[0]}{'n' if narrow else 'w'}"
    sheet = LabelledSheet(width, 10000.0, "The whole system to scale", 12.0 if narrow else 13.0)
    scene = Scene(sizing, system, system_places(sizing), sheet, key, parts)
    scene.links = links or {}
    sheet.height = _compose(scene, view, scale)
    if view != "plan":
        _draw_section(scene)
    if view != "section":
        _draw_plan(scene, view)
    if handles and view != "plan":
        _handles(scene)
    return _svg(scene, sheet.height)


def scale_of(svg: str) -> float:
    """The scale at which a drawing was made [px/m], for ``scale`` of the next one."""
    return float(svg.partition(f'{SCALE}="')[2].partition('"')[0])


def sentence_of(svg: str) -> str:
    """What a drawing says that it shows, without its title."""
    return unescape(svg.partition('aria-label="')[2].partition('"')[0]).partition(". ")[2]


def _compose(scene: Scene, view: str, scale: float | None) -> float:
    """Sets scale and heights; the height of the sheet [px]."""
    system = scene.system
    fit_to(scene, view, scale)
    scene.rows = chip_rows(scene)
    y = 4 + len(scene.rows) * chip_height(scene) + 8
    if view != "plan":
        scene.ground = y + max(
            system.top * scene.scale, system.run * scene.scale + scene.sheet.size + 16
        )
        y = scene.low = max(scene.y(system.bottom), scene.ground + 2.6 * scene.sheet.size + 8)
    if view == "section":
        return y + 2
    broad = max(scene.broad(p) for p in system.places.values())
    scene.middle = y + 8 + LANE + broad / 2
    scene.plan_bottom = scene.middle + broad / 2
    return scene.plan_bottom + 400.0


def fit_to(scene: Scene, view: str, scale: float | None) -> None:
    """The scale that fits, or the one asked for where it is not larger."""
    width, system = scene.sheet.width, scene.system
    section = system.top - system.bottom
    if scene.narrow:
        words = 2 * chip_height(scene) + scene.sheet.size + 30
        above = PHONE - words - 2.6 * scene.sheet.size - 8
        fit(scene, width, min(PHONE - words, above / system.run * section), 460.0, view)
    else:
        fit(scene, width, 0.45 * width, 0.5 * width, view)
    if scale is not None and scale < scene.scale:
        fit(scene, width, scale * section, 1e9, view)


def _draw_section(scene: Scene) -> None:
    section(scene)
    company(scene)
    for _, x, y, _ in _grips(scene):
        scene.sheet.keep(x - 12, y - 12, x + 12, y + 12)
    chips(scene, scene.rows, 4.0, "section")
    section_words(scene)


def _draw_plan(scene: Scene, view: str) -> None:
    scene.focus = view == "plan"
    if view == "both":
        projections(scene)
    overhead(scene)
    if view == "plan":
        chips(scene, scene.rows, 4.0, view)
    plan_words(scene)
    low = max([scene.plan_bottom, *(box[3] for box in scene.sheet.taken)])
    foot(scene, low + 10)
    scene.sheet.height = max(box[3] for box in scene.sheet.taken) + 6


def _handles(scene: Scene) -> None:
    """Grips on the water line and the wall of the first tank, as sliders that keys can move."""
    for path, x, y, upright in _grips(scene):
        _grip(scene, path, x, y, upright)


def _grips(scene: Scene):
    """What each grip moves, where it lies, and whether it goes up and down."""
    tank = scene.system.places["tank"]
    x, wide = scene.edges(tank)[0], tank.wide * scene.scale
    level = scene.y(tank.level)
    yield "tank.depth", x + wide * 0.55, level, True
    if tank.shape != "rectangle":  # the section of a box shows its length
        yield "tank.width", x + wide, (level + scene.ground) / 2, False


def _grip(scene: Scene, path: str, x: float, y: float, upright: bool) -> None:
    """One grip: what it moves, how many meters a pixel is, its value and range for a screen reader."""
    choice = FIELDS[path].choice
    now = float(getattr(scene.sizing.tank, path.partition(".")[2]))
    unit = KINDS["length"].shown(scene.units)
    low, high, shown = (f"{from_plain(v, unit):.4g}" for v in (choice.low, choice.high, now))
    sheet = scene.sheet
    sheet.group(
        role="slider", tabindex=0, data_drag=path, data_scale=f"{1 / scene.scale:.6g}",
        data_axis="y" if upright else "x", data_value=f"{now:.6g}", data_unit=unit.label,
        aria_label=choice.label, aria_orientation="vertical" if upright else "horizontal",
        aria_valuemin=low, aria_valuemax=high, aria_valuenow=shown,
        aria_valuetext=scene.said(path), style="cursor:ns-resize" if upright else "cursor:ew-resize",
    )  # fmt: skip
    half = 22.0
    sheet.marks.append(f'<rect x="{short(x - half)}" y="{short(y - half)}" width="44" height="44"'
                       ' style="fill:transparent"/>')  # fmt: skip
    wide, tall = (20.0, 7.0) if upright else (7.0, 20.0)
    sheet.marks.append(f'<rect x="{short(x - wide / 2)}" y="{short(y - tall / 2)}" width="{wide}" height="{tall}"'
                       ' rx="3.5" style="fill:var(--rs-clay,#9C3D16);stroke:var(--rs-paper,#FAF6EE);stroke-width:1.5"/>')  # fmt: skip
    sheet.end()


def _svg(scene: Scene, height: float) -> str:
    sheet = scene.sheet
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {short(sheet.width)} {short(height)}"'
        f' role="group" aria-label="{escape(sheet.title)}. {escape(sentence(scene))}"'
        f' {SCALE}="{scene.scale:.4g}" font-family="Segoe UI, Noto Sans, Ubuntu, Arial, sans-serif"'
        f' style="font-variant-numeric:tabular-nums">{patterns(scene.key)}{"".join(sheet.marks)}'
        f"{''.join(sheet.late)}</svg>"
    )


__all__ = ["System", "drawing"]
