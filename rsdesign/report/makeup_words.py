"""What the new water means, in sentences: losses, salts, dosing, chlorine, the garden."""

import numpy as np

from ..core.kinds import KINDS
from ..core.units import number, show
from ..equations.power.tables import base_of
from ..studies.makeup.study import SAFE_CHLORINE, WaterStudy

IRON = 3e-4
"""0.3 mg/L: from here on iron stains and clogs gills and filters, common practice."""
GAS = 0.015
"""15 mg/L: well water with more carbon dioxide goes through air first."""
ALKALINE = 0.2

GREEN_WATER = (
    "Sun on open water grows algae: oxygen and pH swing from day to night, pH 9 by afternoon is"
    " common, and these results do not hold for green water. Shade the tank."
)


def answer(study: WaterStudy, system: str = "us") -> str:
    """One sentence: what is lost, and how salty it gets."""
    f, flow = study.flows, KINDS["daily flow"]
    return (
        f"In {f.month} the tank loses {show(f.evaporation, flow, system, 2)} to the air and needs"
        f" {show(f.makeup, flow, system, 2)} of new water on a mean feed day; in the end its water is"
        f" {number(f.cycles, 2)} times as salty as the source."
    )


def findings(study: WaterStudy, system: str = "us") -> list[str]:
    """What to look at, most urgent first."""
    level, flow = KINDS["concentration"], KINDS["daily flow"]
    found = [_chlorine(study, system)]
    for salt in study.salts:
        if salt.at_rest > salt.limit:
            drain = (
                f" Drain {show(salt.to_hold, flow, system, 2)} to stay below."
                if np.isfinite(salt.to_hold)
                else " The source alone brings more; use another water."
            )
            found.append(
                f"{salt.name.capitalize()} climbs to {show(salt.at_rest, level, system, 2)}, over"
                f" {show(salt.limit, level, system, 2)}.{drain}"
            )
    nitrate = study.salts[0]
    found.append(
        f"If you only top up what evaporates, nitrate reaches"
        f" {show(nitrate.only_topped, level, system, 2)} in a year: topping up takes no nitrate"
        " out."
    )
    found.append(_dosing(study, system))
    h = study.hottest
    limit = study.sizing.design.keep.unionized_ammonia
    over = "over" if h.unionized > limit else "below"
    found.append(
        f"At {show(h.temperature, KINDS['temperature'], system, 3)}, the hottest week as the design"
        " counts on it,"
        f" {number(100 * h.fraction, 2)} % of the ammonia is un-ionised:"
        f" {show(h.unionized, level, system, 2)}, {over} the {show(limit, level, system, 2)} limit."
    )
    found += _well(study, system)
    found.append(_garden(study, system))
    return [*found, GREEN_WATER]


def _chlorine(study: WaterStudy, system: str) -> str:
    d, s = study.sizing.design, study.source
    if d.source.disinfectant == "none":
        return "The source adds no chlorine. Test it once yourself before fish meet it."
    small = KINDS["fish weight"]
    freed = (
        f" It frees {show(s.freed, KINDS['concentration'], system, 2)} of ammonia nitrogen: run"
        " the filter before fish come."
        if s.freed
        else ""
    )
    if study.treatment.dose_ratio == 0:
        if not np.isfinite(s.waiting):
            return "Chloramine does not leave with air: choose a treatment that breaks it."
        return (
            f"Let new water stand with air for {show(s.waiting, KINDS['hours'], system, 2)}, until a"
            f" test shows less than {show(SAFE_CHLORINE, KINDS['concentration'], system, 1)}."
        )
    return (
        f"Take the {d.source.disinfectant} out with {study.treatment.label}:"
        f" {show(s.fill, small, 'metric', 2)} for the first filling,"
        f" {show(s.top_up, small, 'metric', 2)} for a hot day's new water. Wait a quarter of an"
        f" hour, then test.{freed} Changing a fifth of the water untreated would leave"
        f" {show(s.untreated, KINDS['concentration'], system, 2)}, which kills."
    )


def _dosing(study: WaterStudy, system: str) -> str:
    base = base_of(study.sizing.design.makeup.base)
    dose = next(x for x in study.doses if x.name == base.name)
    kind = KINDS["chemical dose"]
    return (
        f"Base on the biggest feed day: {show(dose.net, kind, system, 2)} of {base.label} by net"
        f" use, {show(dose.book, kind, system, 2)} by the textbook value"
        f" ({number(dose.net_each, 2)} to {number(dose.book_each, 2)} for each weight of feed), after"
        f" the credit of the source water. Start low, test alkalinity, never all at once."
        f" {base.caution}"
    )


def _well(study: WaterStudy, system: str) -> list[str]:
    src, level = study.sizing.design.source, KINDS["concentration"]
    found = []
    if src.iron > IRON:
        found.append(
            f"Iron of {show(src.iron, level, system, 2)} clogs gills: spray the water through air"
            " into a barrel and let it settle for a day."
        )
    if src.carbon_dioxide > GAS:
        found.append(
            f"Carbon dioxide of {show(src.carbon_dioxide, level, system, 2)} at the well head:"
            " let the water fall through air first; its pH then rises."
        )
    if src.alkalinity > ALKALINE:
        found.append(
            f"The source's alkalinity is {show(src.alkalinity, level, system, 2)}: with air its pH"
            " goes to about 8, and more of the ammonia bites. Test your source before you design."
        )
    return found


def _garden(study: WaterStudy, system: str) -> str:
    d = study.discharge
    return (
        f"Old water: {show(d.water, KINDS['daily flow'], system, 2)} a day as yearly mean, with at most"
        f" {show(d.nitrogen, KINDS['nitrogen load'], system, 2)} of nitrogen, as much as"
        f" {show(d.land, KINDS['land'], system, 2)} of crop takes. Ask the water agency where it"
        " may go; never into a stream."
    ).replace("/day a day", "/day")
