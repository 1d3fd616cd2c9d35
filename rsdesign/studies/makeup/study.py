"""New water through the year: what is lost, what stays behind, what is dosed, where it goes.

Evaporation comes from the heat of the design; what is drained holds nitrate on the mean day, or is
what the grower says.  The courses are closed form for steady flows.
"""

from dataclasses import dataclass

import numpy as np

from ... import equations as eq
from ...core import kinds
from ...core.figures import figure, stage
from ...core.unit_table import DAY
from ...design.model import Design
from ...design.weather import LENGTH
from ...equations import makeup as formulas
from ...equations.power.tables import Treatment, bases, treatment_of
from ...equations.water import ammonia
from ...sizing.system import Sizing, size
from ..heat.study import HeatStudy
from ..heat.study import study as heat_study

SHOWN_DAYS = (0.0, 30.0, 90.0, 180.0, 365.0)
SAFE_CHLORINE = 1e-5
"""0.01 mg/L: half of the 0.02 mg/L at which chlorine is called toxic to fish."""
UNTREATED = 0.2
"""A fifth of the water changed, the usual first act when a test is bad."""


@stage()
class Flows:
    """Water in and out on the mean day of the hottest month, and in a year."""

    month: str = figure("Month that loses most")
    evaporation: kinds.DailyFlow = figure("Evaporated")
    drained: kinds.DailyFlow = figure("Drained, on a mean feed day")
    splash: kinds.DailyFlow = figure("Drops and leaks")
    makeup: kinds.DailyFlow = figure("New water in that month, on a mean feed day")
    yearly: kinds.Volume = figure("New water in a year")
    cycles: kinds.Ratio = figure("Times saltier than the source, in the end")


@stage()
class Salt:
    """One substance in the water, in the mean of the year."""

    name: str = figure("Substance")
    source: kinds.Concentration = figure("In the source")
    limit: kinds.Concentration = figure("Most")
    gain: kinds.AmmoniaLoad = figure("Added in the tank")
    month: kinds.Concentration = figure("After 30 days")
    quarter: kinds.Concentration = figure("After 90 days")
    year: kinds.Concentration = figure("After a year")
    at_rest: kinds.Concentration = figure("In the end")
    only_topped: kinds.Concentration = figure("After a year, nothing drained")
    to_hold: kinds.DailyFlow = figure("Water to drain to stay below")


@stage()
class Dose:
    """One base, on the biggest feed day."""

    name: str = figure("Base")
    net: kinds.ChemicalDose = figure("Net use")
    book: kinds.ChemicalDose = figure("Book use")
    net_each: kinds.Ratio = figure("Net, for each weight of feed")
    book_each: kinds.Ratio = figure("Book, for each weight of feed")


@stage()
class Source:
    """Chlorine, chloramine and what they ask for."""

    fill: kinds.Mass = figure("Treatment for the first filling")
    top_up: kinds.Mass = figure("Treatment for a day's new water")
    waiting: kinds.Hours = figure("Time with air until the chlorine is gone")
    freed: kinds.Concentration = figure("Ammonia nitrogen freed from chloramine")
    untreated: kinds.Concentration = figure("Chlorine after changing a fifth untreated")


@stage()
class Discharge:
    """Where the old water can go."""

    water: kinds.DailyFlow = figure("Old water")
    nitrate: kinds.Concentration = figure("Its nitrate, as nitrogen")
    sludge_nitrogen: kinds.NitrogenLoad = figure("Nitrogen in the sludge")
    nitrogen: kinds.NitrogenLoad = figure("Nitrogen in a year, most")
    land: kinds.Land = figure("Land whose crop takes it")


@stage()
class Hottest:
    """Un-ionised ammonia in the hottest week, at the water that the design counts on."""

    temperature: kinds.Temperature = figure("Water in the hottest week")
    fraction: kinds.Fraction = figure("Share of ammonia that is un-ionised")
    unionized: kinds.Concentration = figure("Un-ionised ammonia nitrogen")
    total_limit: kinds.Concentration = figure("Total ammonia that is safe then")


@dataclass(frozen=True, slots=True, eq=False)
class WaterStudy:
    """Everything about the new water of one design."""

    sizing: Sizing
    heat: HeatStudy
    flows: Flows
    mean_evaporation: float
    salts: tuple[Salt, ...]
    doses: tuple[Dose, ...]
    brought: float
    treatment: Treatment
    source: Source
    discharge: Discharge
    hottest: Hottest
    yearly_makeup: float
    """New water in a year [m³]."""


def study(design: Design | Sizing, heat: HeatStudy | None = None) -> WaterStudy:
    """New water, salts, doses and discharge of one design.

    Parameters:
        design: one ``Design`` or its ``Sizing``.
        heat: what ``rsdesign.heat`` gives for it, where that is at hand; None computes it.
    Returns: ``WaterStudy``, in plain (SI) numbers.
    Raises: ``DesignError`` when the design cannot be computed.
    Source: ``equations.makeup`` and ``equations.power.tables`` (treatments and bases).

    >>> from rsdesign import load
    >>> float(study(load("family")).yearly_makeup) > 0
    True
    """
    sizing = design if isinstance(design, Sizing) else size(design)
    heat = heat_study(sizing) if heat is None else heat
    d, s = sizing.design, sizing
    choice = d.makeup
    share = s.stock.mean_feed / s.stock.peak_feed
    evaporated = np.array([m.evaporation for m in heat.months])
    worst = int(np.argmax(evaporated))
    drained = choice.drained
    if drained is None:
        drained = max(s.water.exchange * share, s.solids.sludge * share)
    splash = formulas.splash.__wrapped__(s.tank.volume, choice.splash)
    mean = float(np.dot(evaporated, LENGTH) / LENGTH.sum())
    new = formulas.makeup_water.__wrapped__(evaporated[worst], drained, splash)
    out = drained + splash
    mean_new = formulas.makeup_water.__wrapped__(mean, drained, splash)
    yearly = mean_new * float(LENGTH.sum()) * DAY
    flows = Flows(
        month=heat.months[worst].month,
        evaporation=evaporated[worst],
        drained=drained,
        splash=splash,
        makeup=new,
        yearly=yearly,
        cycles=formulas.cycles.__wrapped__(mean_new, out),
    )
    salts = _salts(sizing, mean, mean_new, out, share)
    return WaterStudy(
        sizing=sizing,
        heat=heat,
        flows=flows,
        mean_evaporation=mean,
        salts=salts,
        doses=_doses(sizing),
        brought=float(s.water.alkalinity_in),
        treatment=treatment_of(choice.treatment),
        source=_source(sizing, new),
        discharge=_discharge(sizing, out, salts[0].at_rest, share),
        hottest=_hottest(sizing),
        yearly_makeup=yearly,
    )


def _lime_gain(sizing: Sizing, share: float) -> float:
    """Hardness that the base brings, as calcium carbonate [kg/s]."""
    chosen = next(b for b in bases() if b.name == sizing.design.makeup.base)
    return float(sizing.water.base_net) * share if chosen.adds_hardness == "yes" else 0.0


def _salts(sizing: Sizing, evaporation, new, out, share):
    d, s = sizing.design, sizing
    found = []
    for name, source, limit, gain in (
        ("nitrate, as nitrogen", d.source.nitrate, d.keep.nitrate, s.loads.nitrate * share),
        ("chloride", d.source.chloride, d.makeup.most_salts, 0.0),
        ("hardness, as calcium carbonate", d.source.hardness, np.inf, _lime_gain(s, share)),
    ):
        steady = (source, gain, new, out, s.tank.volume)
        after = [
            formulas.level_after.__wrapped__(day * DAY, source, *steady) for day in (30, 90, 365)
        ]
        topped = (source, gain, evaporation, 0.0, s.tank.volume)
        found.append(
            Salt(
                name=name,
                source=source,
                limit=limit,
                gain=gain,
                month=after[0],
                quarter=after[1],
                year=after[2],
                at_rest=formulas.steady_level.__wrapped__(source, gain, new, out),
                only_topped=formulas.level_after.__wrapped__(365 * DAY, source, *topped),
                to_hold=formulas.drain_to_hold.__wrapped__(gain, evaporation, source, limit),
            )
        )
    return tuple(found)


def course(study: WaterStudy, salt: Salt, drained: bool = True, days=None):
    """Days and levels [kg/m³] of one substance from the first filling on."""
    days = np.linspace(0.0, 365.0, 74) if days is None else np.asarray(days, float)
    out = study.flows.drained + study.flows.splash if drained else 0.0
    new = study.mean_evaporation + out
    levels = formulas.level_after.__wrapped__(
        days * DAY, salt.source, salt.source, salt.gain, new, out, study.sizing.tank.volume
    )
    return days, levels


def _doses(sizing: Sizing) -> tuple[Dose, ...]:
    w, feed = sizing.water, sizing.stock.peak_feed
    found = []
    for base in bases():
        net = formulas.base_dose.__wrapped__(w.base_net, base.strength)
        book = formulas.base_dose.__wrapped__(w.base_book, base.strength)
        found.append(
            Dose(
                name=base.name,
                net=net,
                book=book,
                net_each=formulas.dose_for_feed.__wrapped__(net, feed),
                book_each=formulas.dose_for_feed.__wrapped__(book, feed),
            )
        )
    return tuple(found)


def _source(sizing: Sizing, new: float) -> Source:
    d = sizing.design
    chosen, volume = treatment_of(d.makeup.treatment), sizing.tank.volume
    residual = 0.0 if d.source.disinfectant == "none" else d.source.residual
    loss = chosen.loss_rate if d.source.disinfectant != "chloramine" else 0.0
    waiting = formulas.waiting_time.__wrapped__(residual, SAFE_CHLORINE, loss) if residual else 0.0
    return Source(
        fill=formulas.treatment_dose.__wrapped__(volume, residual, chosen.dose_ratio),
        top_up=formulas.treatment_dose.__wrapped__(new * DAY, residual, chosen.dose_ratio),
        waiting=waiting if chosen.dose_ratio == 0.0 else 0.0,
        freed=formulas.ammonia_from_chloramine.__wrapped__(residual)
        if d.source.disinfectant == "chloramine"
        else 0.0,
        untreated=formulas.after_top_up.__wrapped__(residual, UNTREATED * volume, volume),
    )


def _discharge(sizing: Sizing, out, nitrate, share) -> Discharge:
    s, d = sizing, sizing.design
    part = eq.solids.part_of.__wrapped__(s.solids.removed, s.loads.solids)
    sludge = formulas.sludge_nitrogen.__wrapped__(s.loads.faecal_nitrogen * share, part)
    nitrogen = formulas.discharged_nitrogen.__wrapped__(out, nitrate, sludge)
    return Discharge(
        water=out,
        nitrate=nitrate,
        sludge_nitrogen=sludge,
        nitrogen=nitrogen,
        land=formulas.land_area.__wrapped__(nitrogen * d.makeup.garden_share, d.makeup.crop_rate),
    )


def _hottest(sizing: Sizing) -> Hottest:
    d, s = sizing.design, sizing
    temperature = s.air.temperature
    fraction = ammonia.unionized_fraction.__wrapped__(temperature, s.gas.ph, d.source.salinity)
    return Hottest(
        temperature=temperature,
        fraction=fraction,
        unionized=ammonia.unionized_ammonia.__wrapped__(s.filter.ammonia, fraction),
        total_limit=ammonia.total_ammonia_limit.__wrapped__(d.keep.unionized_ammonia, fraction),
    )
