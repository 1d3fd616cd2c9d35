"""Published whole systems beside a sizing of the same: what is printed, what comes out, and why.

``python tests/whole_systems.py`` writes docs/whole-systems.md.  The designs are in
``published_systems``, each saying what its source prints and what had to be assumed; none is
fitted to the answers.  A line's ``side`` says on which side of the printed figure ours lies, so a
reason that has become wrong fails in test_whole_systems.py.
"""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from rsdesign import load, size
from rsdesign.equations.fish import growth
from rsdesign.equations.tank import vessel as tank

HERE = Path(__file__).parent
OUT = HERE.parent / "docs" / "whole-systems.md"
DAY = 86400.0
LB, GAL = 0.45359237, 0.003785411784
SAME = 0.03
"""How far, of the printed figure, a figure may lie off and still be told as the same."""


@dataclass
class Line:
    """One printed figure; ``printed`` is a number, a band, or None where it could not be read."""

    figure: str
    printed: float | tuple[float, float] | None
    unit: str
    ours: Callable
    side: str  # same, more, less, inside, unread
    why: str


@dataclass
class System:
    design: str
    title: str
    source: str
    lines: list[Line]


def line(*given) -> Line:
    return Line(*given)


SYSTEMS = [
    System(
        "stellenbosch_2020",
        "Research system for tilapia and catfish, 2020",
        "Design and modeling of an experimental tilapia and African catfish recirculating "
        "aquaculture system, thesis, Stellenbosch University 2020, handle 10019.1/108203; the "
        "abstract was read, not the thesis. Protein of the feed (45 %) and temperature (28 °C) "
        "are assumed.",
        [
            line("Ammonia made", 505.0, "g N/day", lambda s: s.loads.ammonia_made * DAY * 1e3,
                 "less", "The protein is not in the abstract; 0.092 of it would have to be 53 % of "
                 "the feed for 505 g."),
            line("Dry waste", 2333.0, "g/day", lambda s: s.loads.solids * DAY * 1e3, "more",
                 "A quarter of the feed here, a choice with a band of 0.2 to 0.4; 0.23 there."),
            line("Oxygen of the fish", 2538.0, "g/day", lambda s: s.loads.fish_oxygen * DAY * 1e3,
                 "more", "0.25 kg for each kg of feed there, 0.45 here. The lower figure is the "
                 "foot of the band in use (0.25 to 0.65); carbon that fish breathe out asks for "
                 "more, and the larger figure is the safe one for air."),
            line("Oxygen of bacteria that live on waste", 1930.0, "g/day",
                 lambda s: s.loads.heterotroph_oxygen * DAY * 1e3, "less",
                 "There all dissolved waste is used up in the water, 0.19 kg for each kg of feed. "
                 "Here sludge leaves every day and what rots meanwhile counts. A system that "
                 "keeps its waste needs the larger figure."),
            line("Oxygen of nitrifiers", 2028.0, "g/day",
                 lambda s: s.loads.nitrifier_oxygen * DAY * 1e3, "same",
                 "4.57 for each g of N on 443 g here; 4.02 on 505 g there. Two differences that "
                 "cancel."),
            line("All oxygen, the three added", 6496.0, "g/day",
                 lambda s: s.loads.mean_oxygen * DAY * 1e3, "more",
                 "More for the fish, less for bacteria on waste, as above."),
            line("Carbon dioxide of the fish", 3490.0, "g/day",
                 lambda s: s.loads.fish_oxygen * 1.375 * DAY * 1e3, "more",
                 "1.375 times the oxygen of the fish in both, so it follows the oxygen."),
            line("Surface of the media, ammonia below 3 mg/L", 1170.0, "m²",
                 lambda s: s.filter.required, "less",
                 "Six reactors of 1 m³, 65 % full of media of 300 m²/m³. There oxygen in the "
                 "water was a limit of its own and 505 g had to be taken, 0.43 g/m² a day; here "
                 "443 g at 0.51. The printed area also has whole reactors in it."),
            line("Settler", 5.5, "m²", lambda s: s.solids.required, "more",
                 "There plates, sized by measured catfish waste; here an open settler by "
                 "an overflow rate of the trade."),
        ],
    ),
    System(
        "virgin_islands",
        "Raft system with four tanks, Virgin Islands",
        "Rakocy, Bailey, Shultz and Danaher, A commercial-scale aquaponic system developed at the "
        "University of the Virgin Islands (abstract); Rakocy, Bailey, Shultz and Thoman, Update "
        "on tilapia and vegetable production (abstract); the university's page and slides. The "
        "growth coefficient is what 50 g to 813.8 g in 24 weeks asks for at 28 °C, 3.5, against "
        "2.4 taken by default: by the default such a fish weighs 440 g then.",
        [
            line("Tanks at work", 4.0, "", lambda s: s.stock.cohorts, "same",
                 "24 weeks over 6 weeks."),
            line("Fish at harvest", 61.5, "kg/m³", lambda s: s.tank.density, "same",
                 "Fish, weight and water are given; this checks the bookkeeping."),
            line("Harvest", 4160.0, "kg/year", lambda s: s.stock.harvest * 365.25 * DAY, "same",
                 "52 weeks make the year there, 365.25 days here."),
            line("Feed for each m² of rafts", (60.0, 100.0), "g/day",
                 lambda s: s.stock.mean_feed * DAY * 1e3 / 214.0, "inside",
                 "The printed band is what the beds can use."),
            line("New water", 1650.0, "L/day", lambda s: s.flow.exchange * DAY * 1e3, "more",
                 "1.5 % of 110 m³, as a mean of the year. Here what holds nitrate on the day of "
                 "most feed, less the 0.83 g/m² that lettuce took there; denitrification in the "
                 "net tanks, which took a large part there, is not counted here."),
            line("Flow through the fish tanks", 400.0, "L/min",
                 lambda s: s.flow.required * 6e4, "more",
                 "100 L/min to each tank there. The rafts nitrify there and the fish live with "
                 "more ammonia; here the water is asked to keep 1 mg/L at 35 % taken each time "
                 "around."),
            line("Time in the settler", 20.0, "min", lambda s: s.solids.detention / 60.0, "less",
                 "Cones of 3.8 m³ emptied three times a day there. Here an overflow rate decides, "
                 "and a settler of 3 ft."),
            line("Power", 2.21, "kW", lambda s: s.standby.watts / 1e3, "more",
                 "One pump and blowers chosen for it there. Here plate watts of machines as sold, "
                 "for the busiest hour of the hottest week."),
        ],
    ),
    System(
        "farm_batch_1999",
        "Farm batch of 8,500 tilapia, 1999",
        "System performance of farm units that have run since March 1999, papers of a "
        "recirculating-aquaculture symposium, National Sea Grant library (yumpu 8277109, leaf "
        "17). Water temperature was not in what could be read: 28 °C is assumed. Feed conversion "
        "is the default.",
        [
            line("Days from 58.3 g to 232.2 g", 88.0, "days",
                 lambda s: growth.days_to(0.0583, 0.2322, 28.0, 2.4, 18.3), "more",
                 "Young fish grew faster than a constant coefficient tells; with the next line "
                 "the whole agrees."),
            line("Days from 232.2 g to 550 g", 99.0, "days",
                 lambda s: growth.days_to(0.2322, 0.550, 28.0, 2.4, 18.3), "less",
                 "The tanks held more fish by then, and growth slowed."),
            line("Days from 58.3 g to 550 g", 187.0, "days", lambda s: s.stock.cycle, "same",
                 "No growth table of tilapia was at hand when the coefficient was chosen; this "
                 "batch bears it out."),
            line("Fish before the split", 0.68, "lb/gal",
                 lambda s: tank.density(8500 * 0.2322, 5000 / 0.78 * GAL) / LB * GAL, "same",
                 "The volume follows from 5,000 lb at 0.78 lb/gal."),
            line("Fish in each of two units at the end", 0.80, "lb/gal",
                 lambda s: tank.density(s.stock.peak_biomass / 2, 5000 / 0.78 * GAL) / LB * GAL,
                 "same", "The same volume, half the fish."),
            line("Mean feed of a unit", 51.2, "lb/day",
                 lambda s: s.stock.mean_feed * s.stock.interval * DAY / (88 + 2 * 99) / LB,
                 "same", "One unit for 88 days and two for 99; that the printed mean is for a "
                 "unit is how it was read here."),
        ],
    ),
    System(
        "flow_example_2015",
        "Worked example of a 50 m³ tank, 2015",
        "Losordo and DeLong 2015, Flow rate estimation for RAS, Advocate, July and August. Only "
        "its beginning could be read, and of the article after it, Estimating biofilter size for "
        "RAS systems, only pages without numbers.",
        [
            line("Most fish", 4000.0, "kg", lambda s: s.stock.peak_biomass, "same",
                 "80 kg/m³ in 50 m³."),
            line("Water for them", 50.0, "m³", lambda s: s.tank.required, "same",
                 "The same, back."),
            line("Feed", 60.0, "kg/day", lambda s: s.stock.peak_feed * DAY, "same",
                 "1.5 % of the weight a day."),
            line("Ammonia of the fish", None, "kg N/day", lambda s: s.loads.ammonia * DAY,
                 "unread", "Feed, protein of 40 % and 0.092."),
            line("Flow to the filter", None, "L/min", lambda s: s.flow.for_ammonia * 6e4,
                 "unread", "At the limit of 1 mg/L and 35 % taken each time around, both choices "
                 "of ours."),
        ],
    ),
]  # fmt: skip


def sized(system: System):
    return size(load(HERE / "published_systems" / f"{system.design}.toml"))


def found_side(line: Line, ours: float) -> str:
    """On which side of the printed figure ours lies."""
    if line.printed is None:
        return "unread"
    if isinstance(line.printed, tuple):
        low, high = line.printed
        return "inside" if low <= ours <= high else "less" if ours < low else "more"
    off = ours / line.printed - 1.0
    return "same" if abs(off) <= SAME else "more" if off > 0 else "less"


def told(number: float) -> str:
    """Three figures."""
    digits = f"{number:.3g}" if abs(number) < 1000 else f"{float(f'{number:.3g}'):,.0f}"
    return digits.removesuffix(".0")


def printed(line: Line) -> str:
    if line.printed is None:
        return "not read"
    if isinstance(line.printed, tuple):
        return " to ".join(f"{n:g}" for n in line.printed)
    return f"{line.printed:,.10g}" if line.printed >= 1000 else f"{line.printed:g}"


def page() -> str:
    """The document."""
    out = [
        "# Published systems beside a sizing",
        "",
        "Whole systems that others built or worked out, and what this package gives for the same "
        "fish and feed. The designs are in `tests/published_systems`; each says what its source "
        "prints and what had to be assumed. Nothing is fitted: where a figure lies off, the last "
        "column says why. Up to 3 % counts as the same. Written by `python "
        "tests/whole_systems.py`; `tests/test_whole_systems.py` compares.",
    ]
    for system in SYSTEMS:
        sizing = sized(system)
        out += ["", f"## {system.title}", "", system.source, ""]
        out += ["| figure | printed | here | off | why |", "| --- | --- | --- | --- | --- |"]
        for each in system.lines:
            ours = float(each.ours(sizing))
            unit = f" {each.unit}" if each.unit else ""
            number = isinstance(each.printed, float)
            off = f"{100.0 * (ours / each.printed - 1.0):+.0f} %" if number else each.side
            out.append(
                f"| {each.figure} | {printed(each)}{unit if each.printed else ''} "
                f"| {told(ours)}{unit} | {off.replace('-0 %', '0 %').replace('+0 %', '0 %')} "
                f"| {each.why} |"
            )
    return "\n".join(out) + "\n"


if __name__ == "__main__":
    OUT.write_text(page(), encoding="utf-8")
