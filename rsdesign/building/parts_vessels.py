"""Purchases: vessels and their materials, the ground under them, lids, nets and covers."""

import math

from ..design.prices import prices_of
from ..equations.heat.tables import tank_cover
from .graph import Layout, Vessel
from .guards import GATE, fence_length
from .machines import shelf_height
from .prices import OwnPrices
from .problems import Phrase, phrase
from .row import NOTHING, Row, pieces, priced
from .rules import material, pipe_part, rule
from .weights import weights

LIGHT = ("netting", "media")
"""Second screens that are a box with mats or media."""


def inside(v: Vessel) -> Phrase:
    """The inside size of a vessel as a buyer asks for it."""
    wall = (v.wall, "tape")
    if v.shape == "box":
        return phrase("{long} by {wide} inside, wall {wall}", long=(v.length, "tape"),
                      wide=(v.across, "tape"), wall=wall)  # fmt: skip
    cone = ", cone {cone} deep below it" if v.cone > 0 else ""
    return phrase(f"{v.shape}, {{across}} across inside, wall {{wall}}{cone}",
                  across=(v.across, "tape"), wall=wall, cone=(v.cone, "tape"))  # fmt: skip


def own_price(layout: Layout, name: str) -> bool:
    """Whether a price of the budget is the user's own."""
    return prices_of(layout.sizing.design)[name].source == "the design"


def as_planned(
    layout, plan, item, price, group, label, size, count, used, why, note: Phrase = NOTHING
) -> Row:
    """A row that costs what the budget counts for the same thing."""
    each = plan[item] / count if count else 0.0
    return Row(group, item, label, size, float(count), "count", each, used, why, item,
               own_price(layout, price), listed=price, note=note)  # fmt: skip


def big_things(layout: Layout, plan: dict[str, float], own: OwnPrices) -> list[Row]:
    """Vessels, ground, lids and covers."""
    return [*_vessels(layout, plan, own), *_ground(layout, own), *_lids(layout, plan)]


def _vessels(layout: Layout, plan, own) -> list[Row]:
    s = layout.sizing
    rows = []
    for v in layout.vessels:
        volume, made_of = (v.volume, "volume"), _made_of(layout, v)
        if v.name in PLANNED:
            item, price, why = PLANNED[v.name]
            rows.append(as_planned(layout, plan, item, price, "vessels", v.label.capitalize(),
                                   inside(v), v.count, v.name, why, made_of))  # fmt: skip
            if v.kind == "radial":
                rows.append(_inlet_well(v, own))
        elif v.name == "sump":
            rows.append(priced(own, "vessels", "sump", "Sump", inside(v), 1, "sump",
                               "room for what runs down when the pump stops",
                               by=v.across * v.length * v.wall, note=made_of))  # fmt: skip
        elif v.name == "screen" and v.kind == "screen":
            rows.append(priced(own, "vessels", "drum screen", "Drum or sieve screen, 60 to 100 µm, in its box",
                               phrase("for {flow}", flow=(float(s.pump.flow), "flow")), 1, "screen",
                               "catches fine waste and rinses itself all day", by=float(s.pump.flow)))  # fmt: skip
        elif v.name == "screen":
            rows.append(priced(own, "vessels", "screen box", "Box of the second screen", inside(v), 1,
                               "screen", "fine waste stays in the mats", by=volume[0], note=made_of))  # fmt: skip
        else:
            bed = priced(
                own,
                "vessels",
                "plant bed",
                "Plant bed with its liner",
                inside(v),
                1,
                "plants",
                "plants take up nitrogen",
                note=made_of,
            )
            rows.append(pieces(bed, v.across * v.length, v.count))  # fmt: skip
    return rows


ANOTHER = " The next size sold may be up to a tenth wider: keep its levels, and move pit and pipes by the difference."
"""What a vessel may be instead of its size; common practice."""


def _made_of(layout: Layout, v: Vessel) -> Phrase:
    """What a vessel is made of, which other size does, and how a cone ends."""
    words = material(v.name) + (
        ANOTHER if v.name in ("settler", "screen", "filter", "sump") else ""
    )
    run = layout.run("sludge")
    if v.name != "settler" or not v.steep or run is None:
        return Phrase(words)
    flat = float(pipe_part(run.pipe).bulkhead_hole) + 2.0 * rule("flange")
    words += f" Its point is an outlet of {run.pipe} as sold, or a flat {{flat}} across for the flange of the fitting."
    return phrase(words, flat=(flat, "tape"))


def _inlet_well(v: Vessel, own) -> Row:
    """The ring around the inlet of a radial settler."""
    size = phrase("{across} across, {high} high, from over the water to half its depth",
                  across=(rule("inlet well") * v.across, "tape"),
                  high=(0.5 * v.depth + 0.5 * rule("free wall"), "tape"))  # fmt: skip
    return priced(own, "vessels", "inlet well", "Inlet well: a plastic ring around the inlet of the settler", size, 1,
                  v.name, "water turns under its edge and rises slowly", note=Phrase(WELL))  # fmt: skip


WELL = "Hung from two rails across the rim. The water leaves at the one lip on the wall; a ring with notches is more even."
"""What the row of an inlet well says; common practice."""


PLANNED = {
    "tank": ("tank", "tank", "room for the fish"),
    "settler": ("settler", "settler", "the water slows down and drops its waste"),
    "filter": ("vessel", "vessel", "room for the media to work"),
}
"""Vessels whose price the budget knows: its item, its price, and what they are for."""


def _ground(layout: Layout, own: OwnPrices) -> list[Row]:
    rows = []
    full = {w.name: w.total for w in weights(layout)}
    for v in layout.vessels:
        if v.stands_in:
            host = layout.vessel(v.stands_in)
            high = v.floor - (host.floor if host else 0.0)
            legs = priced(own, "ground", "tower legs", f"Legs under the {v.label}, that do not rust",
                          phrase("{high} high, in the sump", high=(high, "tape")), 1, v.name,
                          "its grate stands over the water")  # fmt: skip
            rows.append(pieces(legs, v.across * v.length, v.count))
            continue
        foot = (v.across + 2 * 0.1) * (v.length + 2 * 0.1)
        if v.stand <= rule("least pit"):
            rows.append(priced(own, "ground", "sand", f"Sand bed under the {v.label}",
                           phrase("{deep} deep, {long} by {wide}", deep=(rule("pit bed"), "tape"),
                                  long=(v.length + 0.2, "tape"), wide=(v.across + 0.2, "tape")),
                           v.count * foot * rule("pit bed"), v.name, "level, with no stones"))  # fmt: skip
        if v.stand > rule("least pit"):
            stand = priced(own, "ground", "stand", f"Stand under the {v.label}",
                           phrase("{high} high, top {long} by {wide}, carries {load}", high=(v.stand, "tape"),
                                  long=(v.length + 0.2, "tape"), wide=(v.across + 0.2, "tape"),
                                  load=(full[v.name], "mass")),
                           1, v.name, "its water must stand that high", note=Phrase(STAND))  # fmt: skip
            rows.append(pieces(stand, foot, v.count))
        if v.steep:
            ring = priced(own, "ground", "cone stand", f"Ring on legs under the wall of the {v.label}, or a bed formed"
                          " to its cone", phrase("{across} across, carries {load}", across=(v.across, "tape"),
                                                 load=(full[v.name], "mass")),
                          1, v.name, "a cone must not stand on its drain fitting")  # fmt: skip
            rows.append(pieces(ring, v.area, v.count))
        if v.lined:
            rows.append(_blocks(v, own))
    rows += [*_guards(layout, own), *_covers(layout, own)]
    return rows


def courses(v: Vessel) -> tuple[int, int]:
    """Whole blocks around the pits of a vessel in one course, and the courses."""
    long, wide = v.pit_size
    around = 2 * (long + wide) + 4 * rule("block wide")  # along the middle of the wall
    high = (v.pit + rule("pit bed")) / rule("block high")
    return math.ceil(around / rule("block long") - 1e-9), math.ceil(high - 1e-9)


def _blocks(v: Vessel, own: OwnPrices) -> Row:
    (long, wide), (around, high) = v.pit_size, courses(v)
    size = phrase("8 by 8 by 16 in, {around} in each of {high} courses, pit {long} by {wide} between the walls, {deep} deep",
                  around=(float(around), "count"), high=(float(high), "count"), long=(long, "tape"),
                  wide=(wide, "tape"), deep=(v.pit, "tape"))  # fmt: skip
    return priced(own, "ground", "block", f"Blocks for the pit of the {v.label}", size, v.count * around * high,
                  v.name, "loose earth slides", note=Phrase(WALL))  # fmt: skip


def _guards(layout: Layout, own: OwnPrices) -> list[Row]:
    """A fence around each pit that stays open beside its vessel, and shelves for the air machines."""
    rows: list[Row] = []
    for v in layout.vessels:
        if v.lined:
            long, wide = v.pit_size
            rows.append(priced(own, "ground", "fence", f"Guard rail or cover around the pit of the {v.label}",
                               phrase("pit {long} by {wide}", long=(long, "tape"), wide=(wide, "tape")),
                               v.count * 2 * (long + wide), v.name, "nobody falls into a pit",
                               note=NOTHING if rows else _rail()))  # fmt: skip
    rows += [
        priced(own, "ground", "yard fence", "Fence around all of it",
               phrase("{high} high", high=(rule("fence high"), "tape")), fence_length(layout), "tank",
               "small children drown in seconds",
               note=Phrase("No foothold, no gap a child fits through. A greenhouse that is always locked serves as well.")),
        priced(own, "ground", "gate", "Gate of the fence",
               phrase("{wide} wide, {high} high", wide=(GATE, "tape"), high=(rule("fence high"), "tape")), 1, "tank",
               "it opens outward and latches by itself"),
    ]  # fmt: skip
    for m in layout.machines:
        fed = layout.vessel(m.serves) or layout.vessel("tank")
        if m.kind == "air" and fed is not None:
            rows.append(priced(own, "ground", "shelf", f"Shelf for one machine: {m.duty}",
                               phrase("top {high} over the finished floor", high=(shelf_height(fed), "tape")),
                               m.running + m.spare, m.serves, "water never runs back into the machine"))  # fmt: skip
    return rows


def _rail() -> Phrase:
    """How a guard rail is made; common practice."""
    return phrase(
        "Rail {high} high with a bar half way and a board at the foot; posts set in concrete outside the blocks, not more"
        " than {apart} apart; painted wood or plastic-coated steel. Part of it lifts out for work.",
        high=(rule("rail high"), "tape"), apart=(rule("rail posts"), "tape"),
    )  # fmt: skip


WALL = "In mortar on a footing. The top course stands over the floor as a curb. Ask your local code: it holds earth."
STAND = "Blocks, plastic or painted steel, no bare zinc where drips reach the water; level, and checked for that weight."
NET = "Knotless plastic netting, its holes smaller than the fish, tied down all around; slits for pipe and hoses, tied shut."
COVER = "Plastic sheet or boards that bear a person, on a frame; a hasp and a padlock. Notch its edge for pipes and cable, and close the gaps."
"""What the row of a stand, a net and a cover says; common practice."""


def _lapped(v: Vessel) -> Phrase:
    """The size of a cover that laps over the rim of a vessel."""
    lap = rule("cover lap")
    return phrase("{long} by {wide}: it laps {lap} over the rim", long=(v.length + 2 * lap, "tape"),
                  wide=(v.across + 2 * lap, "tape"), lap=(lap, "tape"))  # fmt: skip


def _lapped_area(v: Vessel) -> float:
    lap = 2 * rule("cover lap")
    return (v.across + lap) * (v.length + lap)


def _lids(layout: Layout, plan) -> list[Row]:
    """A lid for each tank, where the design has lids."""
    tank, climate = layout.vessel("tank"), layout.sizing.design.climate
    assert tank is not None
    if "lid" not in plan:
        return []
    size = phrase("{long} by {wide}, {share} of the water", long=(tank.length, "tape"), wide=(tank.across, "tape"),
                  share=(float(climate.cover_share), "fraction"))  # fmt: skip
    return [as_planned(layout, plan, "lid", "lid", "ground", f"Lid of one tank: {tank_cover(climate.cover).label}", size, tank.count,
                       "tank", "keeps water and heat in", Phrase(LID))]  # fmt: skip


LID = "Cut it to the tank as built, and leave room for pipes and hoses."


def _covers(layout: Layout, own: OwnPrices) -> list[Row]:
    tank, sump, climate = layout.vessel("tank"), layout.vessel("sump"), layout.sizing.design.climate
    assert tank is not None
    assert sump is not None
    net = priced(own, "ground", "tank net", "Net over one tank", _lapped(tank), 1, "tank",
                 "fish jump, and birds and children stay out", note=Phrase(NET))  # fmt: skip
    cover = priced(own, "ground", "sump cover", "Cover of the sump that locks, with air holes", _lapped(sump),
                   1, "sump", "a child drowns in a sump", note=Phrase(COVER))  # fmt: skip
    rows = [
        pieces(net, _lapped_area(tank), tank.count),
        pieces(cover, _lapped_area(sump), sump.count),
    ]
    if float(climate.shade) > 0:
        cloth = priced(own, "ground", "shade cloth", "Shade cloth over one tank",
                       phrase("{share} shade, {long} by {wide}", share=(float(climate.shade), "fraction"),
                              long=(tank.length, "tape"), wide=(tank.across, "tape")), 1, "tank",
                       "the water stays cooler")  # fmt: skip
        rows.append(pieces(cloth, tank.across * tank.length, tank.count))
    if climate.insulation != "none" and float(climate.wall_board) > 0:
        wall = tank.count * math.pi * tank.across * tank.wall
        if tank.shape == "box":
            wall = tank.count * 2 * (tank.across + tank.length) * tank.wall
        sheet = rule("board sheet")
        board = priced(own, "ground", "insulation board", f"Board around the tanks, {climate.insulation}",
                       phrase("sheets of {sheet}, {thick} thick, {wall} needed", sheet=(sheet, "area"),
                              thick=(float(climate.wall_board), "tape"), wall=(wall, "area")),
                       1, "tank", "holds heat in and sun out")  # fmt: skip
        rows.append(pieces(board, sheet, math.ceil(wall / sheet - 1e-9)))
    return rows
