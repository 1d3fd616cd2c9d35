"""The checks of the air: machines and their pressure, what the air holds, height, airlifts."""

import numpy as np

from ...core.kinds import KINDS
from ...design.model import arrays_of
from ...equations.air.blowers import altitude_factor
from ...equations.air.devices import NONE, ROOM, choose, kinds_that_give, types
from ...equations.pumps import airlift
from ...equations.water import carbonate
from ..stages.machines import MEASURED

RULE = "common practice"
LEVEL, RATIO, RATE = KINDS["concentration"], KINDS["ratio"], KINDS["oxygen rate"]
PRESSURE, PH = KINDS["pressure"], KINDS["pH"]
FLOW = KINDS["air flow"]

MUCH_MORE = 2.0
"""Times the air of sea level beyond which a person is told what would undo it."""

THIRSTY = 1.5
"""Times the watts of the kind that draws least beyond which that kind is named."""

LEAST_ALKALINITY = 0.040
"""Alkalinity below which nitrification falters [kg/m³], extension advice."""

SMALL_SYSTEM = 3.9 * 3.6e6
"""Energy for each weight of fish [J/kg] of a system of nearly 5 t a year that draws 2.21 kW."""


def every(s, found) -> None:
    """Add every check of the air; ``s`` is a sizing."""
    oxygen(s, found)
    pressure(s, found)
    kinds(s, found)
    all_air(s, found)
    height(s, found)
    filter_air(s, found)
    energy(s, found)
    if s.design.pump.kind == "airlift":
        airlifts(s, found)


def oxygen(s, found) -> None:
    """What the air holds in the busiest hour, and with a machine off."""
    a = s.air
    found.difference(
        "air",
        "Mean load with the largest air machine off",
        a.largest_off,
        a.mean_demand,
        False,
        RATE,
        "two air sources from the first fish, " + RULE,
        " Keep a spare machine.",
    )
    found.least(
        "air",
        "Oxygen in the busiest hour",
        a.peak_oxygen,
        s.design.keep.stress_oxygen,
        LEVEL,
        "oxygen balance",
        " The air is short. More air mends it; more water through the pump does not.",
    )


def pressure(s, found) -> None:
    """Whether the machine gives the pressure, with some to spare, and is of a kind that suits."""
    a = s.air
    if np.any(a.device == MEASURED):
        return
    other = _kinds_named(s)
    if np.any(a.device == NONE):
        kind = s.design.air.machine
        label = "air machine of these tables" if kind is None else types()[kind].label
        found.yes(
            "air",
            "A machine of this kind gives the pressure, with 15 % to spare.",
            a.device != NONE,
            "air machine tables",
            f" No {label} gives {found.shown(a.discharge_pressure, PRESSURE)}.{other}",
        )
        return
    cautions = {types()[str(name)].caution for name in np.unique(a.kind)}
    found.band(
        "air",
        "Pressure for this kind of machine",
        a.discharge_pressure,
        a.suits_from,
        a.suits_to,
        PRESSURE,
        "air machine table",
        other,
        always=" " + " ".join(sorted(cautions)),
    )
    found.difference(
        "air",
        "Most pressure the machine gives here",
        a.most_pressure,
        ROOM * a.discharge_pressure,
        False,
        PRESSURE,
        "15 % more than it must give; a blower near its dead end moves little air and overheats,"
        " " + RULE,
        other,
    )


def _kinds_named(s) -> str:
    """A sentence with the kinds that do give the pressure of a single design."""
    a = s.air
    if np.ndim(a.discharge_pressure):
        return ""
    thinner = altitude_factor.__wrapped__(a.pressure, s.design.air.intake_temperature)
    names = kinds_that_give(float(a.discharge_pressure), float(thinner))
    if not names:
        return " No kind in the tables gives it: set the stones higher in the water."
    return f" Take a {' or a '.join(names)}."


def kinds(s, found) -> None:
    """Whether another kind of machine would draw far less than the one that is told."""
    d, a = s.design, s.air
    told = d.air.machine is not None or d.air.device is not None
    if not told or np.any(a.device == NONE) or np.any(a.device == MEASURED):
        return
    thinner = altitude_factor.__wrapped__(a.pressure, d.air.intake_temperature)
    untold = d.air.flow is None and d.air.plate_watts is None
    best = choose(a.in_all if untold else a.total, a.discharge_pressure, thinner)
    least = best.plate_watts * best.count
    if np.any(least <= 0.0):
        return
    named = np.unique(best.kind)
    label = types()[str(named[0])].label if named.size == 1 else "other kind"
    found.most(
        "air",
        "Watts over those of the kind that draws least",
        a.wire_power / least,
        THIRSTY,
        RATIO,
        "air machine tables, " + RULE,
        f" A {label} brings that air for {found.shown(least, KINDS['power'])}.",
    )


def all_air(s, found) -> None:
    """The other end: everything that the machines give is let into the water.

    Too much air drives carbon dioxide out and pH up.  Whoever owns or buys the machine lets the rest
    out, at no cost: so this is advice, told or taken, where the air that is let in keeps the limit.
    """
    keep = s.design.keep
    low, high = 6.5, 8.3
    out = " Let the spare air out beside the tank, not into it."
    found.difference(
        "air",
        "Oxygen in the busiest hour with all the air let in",
        s.air.peak_oxygen_all_air,
        keep.oxygen,
        False,
        LEVEL,
        "oxygen balance",
        " The machines are too small.",
    )
    found.band(
        "air", "pH with all the air let in", s.gas.ph_all_air, low, high, PH, RULE, out,
        let_in=(s.gas.ph >= low) & (s.gas.ph <= high) & (s.gas.ph_all_air > high),
    )  # fmt: skip
    found.difference(
        "air",
        "Un-ionised ammonia with all the air let in",
        s.filter.unionized_all_air,
        keep.unionized_ammonia,
        True,
        LEVEL,
        "Emerson et al. 1975",
        out,
        let_in=s.filter.unionized <= keep.unionized_ammonia,
    )


def height(s, found) -> None:
    """Air at this height against sea level, and the level that would undo it."""
    a = s.air
    found.most(
        "air",
        "Air needed over that at sea level",
        a.sea_level_ratio,
        MUCH_MORE,
        RATIO,
        "transfer in proportion to the deficit, ASCE/EWRI 2-06",
        "" if arrays_of(s.design) else _undone(s, found),
    )


def _undone(s, found) -> str:
    """The oxygen, and the alkalinity, that would undo the cost of height, in words."""
    a, keep = s.air, s.design.keep
    before = found.shown(keep.oxygen, LEVEL)
    if a.sea_level_oxygen > keep.stress_oxygen:
        level = found.shown(a.sea_level_oxygen, LEVEL)
        words = f" Thin air holds little oxygen. Keeping {level} instead of {before} would undo it."
    else:
        words = (
            f" Thin air holds little oxygen, and no level above {before} of stress undoes it:"
            " keep fewer fish, or give pure oxygen."
        ).replace(before, found.shown(keep.stress_oxygen, LEVEL))
    alkalinity = alkalinity_that_undoes(s)
    if alkalinity is None:
        return words
    return words + (
        f" So much air drives the pH to {found.shown(s.gas.ph, PH)}, where only"
        f" {found.shown(s.gas.ammonia_limit, LEVEL)} of ammonia may stay;"
        f" alkalinity of {found.shown(alkalinity, LEVEL)} instead of"
        f" {found.shown(keep.alkalinity, LEVEL)} would undo that."
    )


def alkalinity_that_undoes(s):
    """Alkalinity [kg/m³] at whose pH the fish bear the ammonia that is allowed; or None.

    None where the water does not lower the limit, where a pH was measured, and where nitrification
    would falter.  For the carbon dioxide that there is.
    """
    keep, gas = s.design.keep, s.gas
    if gas.ammonia_limit >= keep.total_ammonia * (1 - 1e-9) or keep.measured_ph is not None:
        return None
    bearable = keep.unionized_ammonia / keep.total_ammonia
    now = gas.unionized_fraction
    shift = np.log10(bearable / (1.0 - bearable)) - np.log10(now / (1.0 - now))
    unit = carbonate.carbon_dioxide.__wrapped__(1.0, float(gas.ph + shift), gas.temperature)
    found = float(gas.carbon_dioxide / unit)
    return found if found >= LEAST_ALKALINITY else None


def filter_air(s, found) -> None:
    """The air that rolls the carriers of a moving bed."""
    if np.all(s.bed.required == 0.0):
        return
    found.least(
        "filter",
        "Air from the filter's own machine",
        s.bed.provided,
        s.bed.required,
        FLOW,
        "5 m³ for each m² of floor and hour, " + RULE + "; oxygen for half of the bacteria's use",
        " No machine of the tables gives it: a lower filter asks for less pressure.",
        taken=True,
    )


def energy(s, found) -> None:
    """What the motors draw beside a published small system: told, not judged."""
    found.yes(
        "power",
        "Energy for each weight of fish:"
        f" {found.shown(s.standby.energy_for_harvest, KINDS['energy per fish'])}. A published"
        " system of nearly 5 t a year drew"
        f" {found.shown(SMALL_SYSTEM, KINDS['energy per fish'])}; small ones draw more.",
        True,
        "Rakocy et al., A commercial-scale aquaponic system developed at the University of the"
        " Virgin Islands, abstract: 2.21 kW",
    )


def airlifts(s, found) -> None:
    """Whether the airlifts are as those that were measured."""
    choice, pump = s.design.pump, s.pump
    each = pump.flow / np.maximum(pump.count, 1.0)
    studied = (
        (choice.airlift_pipe, airlift.STUDIED_PIPES),
        (s.tank.depth, airlift.STUDIED_DEPTHS),
        (choice.airlift_air, airlift.STUDIED_AIR),
        (each, airlift.STUDIED_WATER),
    )
    near = 0.01  # a 6 in pipe is 15.24 cm, a depth of 2.64 ft is 80.5 cm
    inside = np.all(
        [(x >= low * (1 - near)) & (x <= high * (1 + near)) for x, (low, high) in studied], axis=0
    )
    found.yes(
        "pump",
        "The airlifts are like those that were measured.",
        inside,
        "Wurts et al. 1994: pipes 7.6 to 15.2 cm, air 71 to 324 L/min at 50 to 80 cm, 66 to 225 L/min"
        " of water, next to no lift",
        " Measured were pipes of 3 to 6 in, 2.5 to 11.4 cfm of air put in 20 to 31 in deep, and 17"
        " to 59 gpm of water from each: beyond that, try one with a bucket and a clock first.",
    )
