"""New water, what stays behind when water evaporates, and where the drained water can go."""

from ..core import kinds
from ..core.arrays import log, most, ratio, where
from ..core.equation import definition, equation
from .power.backup import decline


@definition(
    "q_m", "conservation of water at a steady level", example="makeup_water(3.0, 2.0, 1.0) == 6.0"
)
def makeup_water(
    evaporation: kinds.DailyFlow, drained_water: kinds.DailyFlow, splash: kinds.DailyFlow
) -> kinds.DailyFlow:
    """New water that keeps the level: evaporated, drained and splashed."""
    return evaporation + drained_water + splash


@definition("q_s", example="splash(4.0, 0.5) == 2.0")
def splash(volume: kinds.Volume, splash_share: kinds.RatePerTime) -> kinds.DailyFlow:
    """Water lost in drops and leaks."""
    return volume * splash_share


@definition(
    "n",
    "conservation of salt in steady state",
    valid="salts that nothing in the tank takes up",
    example="cycles(105.0, 5.0) == 21.0",
)
def cycles(makeup: kinds.DailyFlow, drained_water: kinds.DailyFlow) -> kinds.Ratio:
    """How many times saltier than the source the water becomes in the end.

    Infinite where no water leaves but as vapour.
    """
    return ratio(makeup, drained_water, float("inf"))


@definition(
    "C_s",
    "conservation of mass in steady state",
    valid="a substance that leaves only with the water",
    example="steady_level(0.5, 3.0, 2.0, 4.0) == 1.0",
)
def steady_level(
    source: kinds.Concentration,
    gain: kinds.AmmoniaLoad,
    makeup: kinds.DailyFlow,
    drained_water: kinds.DailyFlow,
) -> kinds.Concentration:
    """Steady level, at which as much leaves with the drained water as comes in.

    ``drained_water`` is all water that leaves as a liquid.  Infinite where none does.
    """
    return ratio(makeup * source + gain, drained_water, float("inf"))


@equation(
    latex=r"C = @start \cdot \exp\left(-\frac{@drained_water \cdot @time}{@volume}\right) + "
    r"\frac{@makeup \cdot @source + @gain}{@drained_water} \cdot "
    r"\left(1 - \exp\left(-\frac{@drained_water \cdot @time}{@volume}\right)\right)",
    source="conservation of mass in well-mixed water",
    valid="steady flows and gain",
    basis="derived",
)
def level_after(
    time: kinds.Time,
    start: kinds.Concentration,
    source: kinds.Concentration,
    gain: kinds.AmmoniaLoad,
    makeup: kinds.DailyFlow,
    drained_water: kinds.DailyFlow,
    volume: kinds.Volume,
) -> kinds.Concentration:
    """Level after a time of steady make-up, drain and gain.

    With nothing drained it rises along a straight line.

    >>> level_after(10.0, 1.0, 0.0, 0.5, 0.0, 0.0, 5.0)
    2.0
    """
    brought, rate = ratio(makeup * source + gain, volume), ratio(drained_water, volume)
    return decline(start, brought, rate, time)


@equation(
    latex=r"q = \frac{\max\left(0, @gain + @evaporation \cdot @source\right)}"
    r"{@concentration - @source}",
    source="conservation of mass in steady state",
    valid="a level above that of the source",
    basis="derived",
)
def drain_to_hold(
    gain: kinds.AmmoniaLoad,
    evaporation: kinds.DailyFlow,
    source: kinds.Concentration,
    concentration: kinds.Concentration,
) -> kinds.DailyFlow:
    """Water to drain, and to replace, so that a level is held while water evaporates.

    Infinite where the source is no better than the level.

    >>> drain_to_hold(1.0, 0.0, 1.0, 3.0)
    0.5
    """
    gap = concentration - source
    return where(
        gap > 0, ratio(most(0.0, gain + evaporation * source), gap, float("inf")), float("inf")
    )


@definition(
    "M",
    "equivalents of base; 50.04 g of calcium carbonate each",
    valid="a base that dissolves wholly",
    example="base_dose(3.0, 0.5) == 6.0",
)
def base_dose(use: kinds.ChemicalDose, strength: kinds.Ratio) -> kinds.ChemicalDose:
    """Base to add for an alkalinity, of a base of some strength.

    ``strength`` is calcium carbonate for each weight of the base.
    """
    return ratio(use, strength, float("inf"))


@definition("x", example="dose_for_feed(1.0, 4.0) == 0.25")
def dose_for_feed(dose: kinds.ChemicalDose, feed: kinds.ChemicalDose) -> kinds.Ratio:
    """Base for each weight of feed."""
    return ratio(dose, feed)


@definition(
    "M",
    "stoichiometry of the treatment with chlorine",
    valid="chlorine as the supplier's test gives it",
    example="treatment_dose(10.0, 0.002, 7.0) == 0.14",
)
def treatment_dose(
    volume: kinds.Volume, residual: kinds.Concentration, dose_ratio: kinds.Ratio
) -> kinds.Mass:
    """Treatment that takes the chlorine out of a volume of water."""
    return volume * residual * dose_ratio


@definition(
    "C_N",
    "one nitrogen for each chlorine of monochloramine, molar masses",
    valid="chloramine as mg/L of chlorine",
    example="round(ammonia_from_chloramine(0.003) * 1000, 3) == 0.593",
)
def ammonia_from_chloramine(residual: kinds.Concentration) -> kinds.Concentration:
    """Ammonia nitrogen freed when chloramine is treated."""
    return residual * 14.007 / 70.906  # units of the source


@definition(
    "C",
    "dilution",
    valid="water that was not treated",
    example="after_top_up(0.002, 1.0, 5.0) == 0.0004",
)
def after_top_up(
    residual: kinds.Concentration, new_water: kinds.Volume, volume: kinds.Volume
) -> kinds.Concentration:
    """Chlorine in the tank just after a top-up that was not treated."""
    return ratio(residual * new_water, volume)


@definition(
    "L_N",
    "conservation of nitrogen",
    valid="nitrogen that leaves as a liquid; what goes to the air is left out, so this is most",
    example="discharged_nitrogen(2.0, 0.5, 1.0) == 2.0",
)
def discharged_nitrogen(
    drained_water: kinds.DailyFlow, nitrate: kinds.Concentration, sludge_nitrogen: kinds.AmmoniaLoad
) -> kinds.NitrogenLoad:
    """Nitrogen that leaves with drained water and sludge."""
    return drained_water * nitrate + sludge_nitrogen


@definition(
    "L",
    "nitrogen goes with the feces that are drained",
    valid="fresh feces",
    example="sludge_nitrogen(2.0, 0.5) == 1.0",
)
def sludge_nitrogen(
    faecal_nitrogen: kinds.AmmoniaLoad, removed_share: kinds.Fraction
) -> kinds.AmmoniaLoad:
    """Nitrogen in the sludge that is drained."""
    return faecal_nitrogen * removed_share


@definition(
    "A",
    valid="nitrogen spread evenly through the growing season",
    example="land_area(6.0, 3.0) == 2.0",
)
def land_area(nitrogen: kinds.NitrogenLoad, crop_rate: kinds.CropRate) -> kinds.Land:
    """Land whose crop takes up the nitrogen."""
    return ratio(nitrogen, crop_rate, float("inf"))


@equation(
    latex=r"t = \frac{\ln\left(\max\left(1, \frac{@residual}{@safe_residual}\right)\right)}{@loss_rate}",
    source="chlorine leaves aerated water along an exponential",
    valid="chlorine, never chloramine",
    basis="derived",
)
def waiting_time(
    residual: kinds.Concentration, safe_residual: kinds.Concentration, loss_rate: kinds.RatePerTime
) -> kinds.Time:
    """Time until air has driven chlorine down to a level; 0 where it is there already.

    Infinite where nothing drives it out.

    >>> round(waiting_time(0.001, 0.00001, 0.1), 2)
    46.05
    """
    over = where(residual > safe_residual, residual / safe_residual, 1.0)
    return ratio(log(over), loss_rate, float("inf"))
