"""The long list of checks: what a careful neighbour would ask about each part."""

import numpy as np

from ...core.kinds import KINDS
from ..stages.solids import has_settler
from . import air as airchecks
from .pipes import levels, water_and_pipe
from .survival import alive, beds, minutes

RULE = "common practice"
LENGTH, SPEED, DENSITY = KINDS["length"], KINDS["velocity"], KINDS["stocking density"]
FRACTION, LEVEL, WARMTH = KINDS["fraction"], KINDS["concentration"], KINDS["temperature"]
RATIO, PH, RATE, RATION = KINDS["ratio"], KINDS["pH"], KINDS["oxygen rate"], KINDS["rate per time"]


def every(s, found) -> None:
    """Add every check beyond the parts' own margins; ``s`` is a sizing."""
    fish_and_feed(s, found)
    tanks(s, found)
    waste(s, found)
    beds(s, found)
    filter_and_chemistry(s, found)
    airchecks.every(s, found)
    water_and_pipe(s, found)
    levels(s, found)
    safety(s, found)


def fish_and_feed(s, found) -> None:
    """Plan, temperature and feed."""
    species = s.tables.species
    alive(s, found)
    found.most(
        "fish",
        "Biggest day over mean day",
        s.stock.peak_feed / s.stock.mean_feed,
        1.5,
        RATIO,
        RULE,
        " Smaller batches more often even it out.",
    )
    found.difference(
        "fish",
        "Hottest week",
        s.air.temperature,
        species.feeding_high,
        True,
        WARMTH,
        "species table",
    )
    found.difference(
        "fish",
        "Coldest week in which they eat",
        s.filter.temperature,
        species.feeding_low,
        False,
        WARMTH,
        "species table",
    )
    found.band(
        "fish",
        "Feed as a share of fish weight",
        s.stock.ration,
        0.75 * s.stock.table_ration,
        1.25 * s.stock.table_ration,
        RATION,
        "within a quarter of the feeding table, " + RULE,
    )
    found.least(
        "fish",
        "Feed nitrogen left for dung",
        s.loads.faecal_share,
        0.05,
        FRACTION,
        "conservation of nitrogen",
        " Feed conversion is too good for this protein, or the protein too low.",
    )
    found.least(
        "tank",
        "Tanks for the batches",
        s.stock.tanks,
        s.stock.cohorts,
        KINDS["count"],
        "one batch in a tank",
        " Fewer tanks than batches mixes ages.",
        kept=True,
    )


def tanks(s, found) -> None:
    """Room, depth, turning water, floor."""
    d, species = s.design, s.tables.species
    bearable = species.density_oxygen if d.safety.backup == "by itself" else species.density_air
    found.most("tank", "Fish for each volume", s.tank.density, bearable, DENSITY, "species table")
    hot = s.air.temperature >= 29.0
    if np.any(hot):
        found.least(
            "tank",
            "Water depth where summers are hot",
            s.tank.depth,
            0.762,
            LENGTH,
            "more than 2.5 ft of water, " + RULE,
        )
    if d.tank.shape != "rectangle":
        found.band(
            "tank",
            "Distance across over depth",
            s.tank.across_to_depth,
            3.0,
            10.0,
            RATIO,
            "3 to 10, from memory; 3 to 6 seen in farm tanks",
        )
        found.band(
            "tank",
            "Speed of the water at the wall",
            s.turning.rotation,
            0.15,
            0.30,
            SPEED,
            "15 to 30 cm/s sweeps waste to the drain, from memory",
        )
    found.most(
        "tank",
        "Time to swap the water",
        s.turning.turnover,
        3600.0,
        KINDS["minutes"],
        "30 to 60 minutes, " + RULE,
        " The flow keeps the water good all the same; a bigger pump, or less water than the tanks"
        " hold, turns it over sooner.",
    )
    found.yes(
        "tank",
        "Ask a structural engineer before a tank stands on a floor above ground.",
        True,
        "local building code",
    )


def waste(s, found) -> None:
    """Settling and draining."""
    d = s.design
    if not has_settler(d):
        return
    found.least("settler", "Settleable waste caught", s.solids.captured, 0.5, FRACTION, RULE)
    found.most(
        "settler",
        "Time between drainings",
        d.solids.drain_interval,
        86400.0,
        KINDS["hours"],
        "daily or oftener, " + RULE,
        " Sludge left longer dissolves again.",
        kept=True,
    )


def filter_and_chemistry(s, found) -> None:
    """What the filter leaves, and whether it can breathe."""
    d, f = s.design, s.filter
    found.most(
        "filter",
        "Total ammonia in the tank",
        f.ammonia,
        s.gas.ammonia_limit,
        LEVEL,
        "mass balance with this filter and flow",
        taken=d.filter.media_volume is None,
    )
    found.most(
        "filter",
        "Un-ionised ammonia at the warmest hour",
        f.unionized,
        d.keep.unionized_ammonia,
        LEVEL,
        "Emerson et al. 1975",
    )
    found.most(
        "filter",
        "Ammonia taken out in one pass",
        f.removal,
        f.removal_cap,
        FRACTION,
        "oxygen in the water that enters, floor of 2 mg/L at the outlet",
        " The bacteria would run out of oxygen: aerate the filter or raise the flow.",
    )
    found.least(
        "filter",
        "Alkalinity held",
        d.keep.alkalinity,
        0.040,
        LEVEL,
        "nitrification falters below 40 mg/L, extension advice",
    )
    found.band("filter", "pH", s.gas.ph, 6.5, 8.3, PH, RULE)
    if d.keep.measured_ph is not None:
        found.difference(
            "filter",
            "pH measured against pH computed",
            np.abs(s.gas.ph_difference),
            0.3,
            True,
            PH,
            "a larger difference asks for a second reading",
        )
    kind = s.tables.filter_type
    found.band(
        "filter",
        "Flow over the cross-section",
        f.hydraulic_load,
        kind.hydraulic_low,
        kind.hydraulic_high,
        KINDS["hydraulic load"],
        "filter table",
        _shape_words(f.hydraulic_load, kind),
    )
    vessel = s.tables.vessel
    if vessel.floor > 0:
        found.most(
            "filter",
            "Depth of the filter in its vessels",
            f.depth,
            vessel.depth,
            LENGTH,
            f"{vessel.label}: {vessel.notes}",
            " Set more vessels side by side.",
            kept=True,
        )


def _shape_words(load, kind) -> str:
    """What to do where the water creeps or rushes through the filter."""
    if np.any(load < kind.hydraulic_low):
        return " The water creeps: make the filter deeper and narrower, or take fewer vessels."
    return (
        " The water rushes: make the filter shallower and wider, or set more vessels side by side."
    )


def safety(s, found) -> None:
    """Minutes, spare air, and who must be asked."""
    d = s.design
    if np.any(s.tank.density > 40.0):
        found.yes(
            "power",
            "Air that starts by itself when the power fails.",
            d.safety.backup == "by itself",
            "above 40 kg/m³ there is no time for a person",
            " At this density the fish have minutes.",
        )
    minutes(s, found)
    found.yes(
        "power",
        "Two air machines on two breakers.",
        d.safety.two_circuits,
        RULE,
        " One trip must not stop all the air; a licensed electrician decides how.",
    )
