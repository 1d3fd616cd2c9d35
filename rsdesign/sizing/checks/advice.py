"""Words of checks that depend on more than one figure; ``data/checks.csv`` names them in braces.

Each function takes a sizing and ``shown``, which prints a value of a kind, and returns a sentence.
"""

import numpy as np

from ...design.model import arrays_of
from ...equations.air.blowers import altitude_factor
from ...equations.air.devices import kinds_that_give as kinds_giving
from ...equations.air.devices import types
from ...equations.water import carbonate
from ..stages.moving import ORDERED
from .computed import cheapest_machine
from .rows import check_rows


def no_machine(sizing, shown) -> str:
    """That no machine of the tables gives the pressure, and which kinds do."""
    kind = sizing.design.air.machine
    label = "air machine of these tables" if kind is None else types()[kind].label
    pressure = shown(sizing.air.discharge_pressure, "pressure")
    return f"No {label} gives {pressure}. {kinds_that_give(sizing, shown)}".rstrip()


def kinds_that_give(sizing, shown) -> str:
    """The kinds of machine that do give the pressure of a single design."""
    air = sizing.air
    if np.ndim(air.discharge_pressure):
        return ""
    thinner = altitude_factor.__wrapped__(air.pressure, sizing.design.air.intake_temperature)
    names = kinds_giving(float(air.discharge_pressure), float(thinner))
    if not names:
        return "No kind in the tables gives it: set the stones higher in the water."
    return f"Take a {' or a '.join(names)}."


def machine_cautions(sizing, shown) -> str:
    """The cautions of every kind of machine in use."""
    return " ".join(sorted({types()[str(n)].caution for n in np.unique(sizing.air.kind)}))


def kind_that_draws_least(sizing, shown) -> str:
    """The kind that brings the same air for the fewest watts."""
    best = cheapest_machine(sizing)
    names = np.unique(best.kind)
    label = types()[str(names[0])].label if names.size == 1 else "other kind"
    return f"A {label} brings that air for {shown(best.plate_watts * best.count, 'power')}."


def what_undoes_height(sizing, shown) -> str:
    """The oxygen, and the alkalinity, that would undo the cost of height for a single design."""
    air, gas, keep = sizing.air, sizing.gas, sizing.design.keep
    if arrays_of(sizing.design):
        return ""

    def level(value) -> str:
        return shown(value, "concentration")

    words = "Thin air holds little oxygen"
    if air.sea_level_oxygen > keep.stress_oxygen:
        words += f". Keeping {level(air.sea_level_oxygen)} instead of {level(keep.oxygen)} would undo it."
    else:
        words += f", and no level above {level(keep.stress_oxygen)} of stress undoes it:"
        words += " keep fewer fish, or give pure oxygen."
    alkalinity = alkalinity_that_undoes(sizing)
    if alkalinity is None:
        return words
    return (
        f"{words} So much air drives the pH to {shown(gas.ph, 'pH')}, where only"
        f" {level(gas.ammonia_limit)} of ammonia may stay; alkalinity of {level(alkalinity)}"
        f" instead of {level(keep.alkalinity)} would undo that."
    )


def alkalinity_that_undoes(sizing) -> float | None:
    """Alkalinity [kg/m³] at whose pH the fish bear the ammonia that is allowed; or None.

    None where the water does not lower the limit, where a pH was measured, and where nitrification
    would falter.  For the carbon dioxide that there is.
    """
    keep, gas = sizing.design.keep, sizing.gas
    if gas.ammonia_limit >= keep.total_ammonia * (1 - 1e-9) or keep.measured_ph is not None:
        return None
    bearable = keep.unionized_ammonia / keep.total_ammonia
    now = gas.unionized_fraction
    shift = np.log10(bearable / (1.0 - bearable)) - np.log10(now / (1.0 - now))
    unit = carbonate.carbon_dioxide.__wrapped__(1.0, float(gas.ph + shift), gas.temperature)
    needed = float(gas.carbon_dioxide / unit)
    held = next(row for row in check_rows() if row.figure == "design.keep.alkalinity")
    return needed if needed >= held.limit(sizing, held.low) else None


def drain_too_slow(sizing, shown) -> str:
    """What only a person can change where no drain is both fast enough and carried by its fall."""
    if sizing.design.pump.drain_fall is None:
        return (
            "In no pipe does so little water keep waste moving at the speed chosen for the drain:"
            " flush it every day."
        )
    return (
        "With so little fall no drain keeps waste moving: give it more fall or a shorter run, or"
        " choose a higher speed for it. Until then flush it every day."
    )


def what_gives_minutes(sizing, shown) -> str:
    """Whether the air must be mended before anything stops."""
    if np.any(sizing.standby.start <= sizing.design.keep.stress_oxygen):
        return "The fish are in distress before anything stops: mend the air first."
    return "Have air that starts by itself."


def pump_built_to_order(sizing, shown) -> str:
    """That the trade has no such pump."""
    if not np.any(np.asarray(sizing.pump.model) == ORDERED):
        return ""
    return (
        "No pump of the table lifts the water so high: lower the lift, or widen or shorten the"
        " pipe, or ask for a pump built to order."
    )


def drains_side_by_side(sizing, shown) -> str:
    """How many drain pipes it takes, where one will not do."""
    return _side_by_side(sizing.pump.drains, "pipes")


def standpipes_side_by_side(sizing, shown) -> str:
    """How many standpipes it takes, where one will not do."""
    return _side_by_side(sizing.pump.standpipes, "standpipes")


def _side_by_side(count, what: str) -> str:
    most = np.max(count)
    return f"It takes {most:.0f} {what} side by side." if most > 1 else ""


ADVICE = {
    function.__name__: function
    for function in (
        no_machine,
        kinds_that_give,
        machine_cautions,
        kind_that_draws_least,
        what_undoes_height,
        drain_too_slow,
        what_gives_minutes,
        pump_built_to_order,
        drains_side_by_side,
        standpipes_side_by_side,
    )
}
"""The sentences by the names that the tables use."""
