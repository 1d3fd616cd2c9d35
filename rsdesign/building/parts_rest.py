"""Purchases: bubbles, media and mats, water care and tests."""

import math

from .graph import Layout
from .open_ends import open_ends
from .parts_vessels import as_planned, own_price
from .prices import OwnPrices
from .problems import Phrase, phrase
from .row import Row, pieces, priced
from .rules import inside_of, rule
from .weights import all_water


def rest(layout: Layout, plan: dict[str, float], own: OwnPrices) -> list[Row]:
    """What is bought last."""
    return [
        *_bubbles(layout, plan),
        *_media(layout, plan, own),
        *_plugs(layout, own),
        *_water(layout, plan, own),
    ]


def _bubbles(layout: Layout, plan) -> list[Row]:
    rows = []
    for d in layout.diffusers:
        if d.vessel == "tank":
            many = d.each * d.vessels
            size = phrase(f"{d.each} in each tank, {{deep}} deep", deep=(d.depth, "tape"))
            tank = layout.vessel("tank")
            assert tank is not None
            held = phrase("On a stand with ballast, so that it stays down, {high} over the floor. Buy the barb for the thread"
                          " that it has.", high=(max(tank.level - d.depth, tank.floor), "tape"))  # fmt: skip
            rows.append(as_planned(layout, plan, "stones", "stone", "air", d.label.capitalize(), size, many,
                                   "tank", d.why, held))  # fmt: skip
    return rows


def bags(layout: Layout) -> int:
    """Whole bags of media, each filter vessel's together."""
    volume = float(layout.sizing.filter.media_volume)
    return math.ceil(volume / rule("bag of media") - 1e-9)


def _media(layout: Layout, plan, own: OwnPrices) -> list[Row]:
    s, rows = layout.sizing, []
    volume = float(s.filter.media_volume)
    if volume > 0:
        each = plan["media"] / volume * rule("bag of media")
        rows.append(Row("media", "media", f"{s.design.filter.medium.capitalize()}, in bags",
                        phrase("bags of {bag}, {volume} needed, with {surface} of surface or more", bag=(rule("bag of media"), "media volume"),
                               volume=(volume, "media volume"),
                               surface=(float(s.tables.medium.specific_surface), "specific surface")),
                        float(bags(layout)), "count", each, "filter",
                        "surface for the bacteria", "media", own_price(layout, "media"),
                        listed="media",
                        note=Phrase("Each piece wider than the slots of the screens that hold them.")))  # fmt: skip
        if s.design.filter.vessel == "media bag":
            rows.append(priced(own, "media", "media bag", "Mesh bag", Phrase("for one bag of media"), bags(layout),
                               "sump", "media hang in the sump"))  # fmt: skip
    bed = layout.vessel("filter")
    if bed is not None and bed.inlet is not None:
        across = phrase("{across} across", across=(bed.across, "tape"))
        for label, why, note in (
            ("Drip pan with drilled holes, over one bed", "wets the whole bed",
             "Plastic; its holes no wider than 1/4 in, two finger widths apart."),
            ("Grate under one bed", "air comes in under the bed",
             "Plastic or fibreglass that bears the media; its gaps hold them back."),
        ):  # fmt: skip
            row = priced(
                own, "media", "drip pan", label, across, 1, "filter", why, note=Phrase(note)
            )
            rows.append(pieces(row, math.pi / 4 * bed.across**2, bed.count))
    screen, plants = layout.vessel("screen"), layout.vessel("plants")
    if screen is not None and screen.kind != "screen":
        mat = priced(own, "media", "mat", f"Mat for the second screen ({screen.kind})",
                     phrase("{wide} wide, {high} high", wide=(screen.across, "tape"), high=(screen.wall, "tape")), 1,
                     "screen", "rinse one while the others work",
                     note=phrase("Coarse, middle and fine, one behind the other, {apart} apart; each slides out of a pair"
                                 " of slots on its own.", apart=(screen.length / (rule("mats") + 1), "tape")))  # fmt: skip
        rows.append(pieces(mat, screen.across * screen.wall, rule("mats") * screen.count))
    if plants is not None and plants.kind == "rafts":
        many = math.ceil(plants.length / rule("raft board") - 1e-9)
        long = plants.length / many
        board = priced(own, "media", "raft", "Raft board with holes",
                       phrase("{long} by {wide}, {many} in each bed", long=(long, "tape"), wide=(plants.across, "tape"),
                              many=(float(many), "count")), 1, "plants", "carry the plants",
                       note=Phrase("Foam board for food or insulation, 1 to 2 in thick."))  # fmt: skip
        rows.append(pieces(board, plants.across * long, many * plants.count))
    return rows


def _plugs(layout: Layout, own: OwnPrices) -> list[Row]:
    """Plugs for the test of buried pipe; one stays at the tank, to plug its drain in a leak."""
    note = Phrase(
        "Rubber, tightened by a wing nut. Keep one at the tank: it plugs a drain that leaks."
    )
    return [priced(own, "drains", "test plug", "Test plug", Phrase(pipe), many, "buried pipe",
                   "the pipe is tried before it is covered", inside_of(pipe), note=note)
            for pipe, many in open_ends(layout).items()]  # fmt: skip


def _water(layout: Layout, plan, own: OwnPrices) -> list[Row]:
    s = layout.sizing
    rows = [
        as_planned(layout, plan, "meters", "meters", "water",
                   "Oxygen meter, pH meter, test kits, thermometer, nets and scale", Phrase("one set"), 1, "tank",
                   "what you cannot see, you test"),
        priced(own, "water", "back-flow stop", "Back-flow stop on the filling hose", Phrase("hose thread"), 1,
               "tank", "tank water must not reach the drinking water"),
    ]  # fmt: skip
    if s.design.source.disinfectant != "none":
        rows.append(priced(own, "water", "dechlorination set", "Dechlorinator and chlorine test",
                           phrase("for a fill of {volume}", volume=(all_water(layout), "volume")), 1, "tank",
                           "chlorine kills fish and filter"))  # fmt: skip
    return rows
