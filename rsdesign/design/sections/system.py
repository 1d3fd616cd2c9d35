"""Tanks, settler, filter and air."""

from ...core.choices import choice
from ...core.kinds import (
    AirFlow,
    Area,
    ArealRate,
    Count,
    EfficiencyPerDepth,
    Fraction,
    Hours,
    HydraulicLoad,
    Length,
    MediaVolume,
    PipeDiameter,
    Power,
    Pressure,
    Ratio,
    StockingDensity,
    Temperature,
    Velocity,
)
from .beds import Beds
from .section import MEMORY, RULE, names, section


@section()
class Tank:
    """The tanks."""

    shape: str = choice(
        "round",
        label="Shape",
        source="the user",
        options=("round", "octagon", "cut square", "rectangle"),
    )
    count: Count | None = choice(None, 1.0, 200.0, label="Tanks", sweep=False, source="the user")
    width: Length | None = choice(
        None,
        "2 ft",
        "100 ft",
        label="Distance across",
        help="Diameter, or the short side.",
        source="tape measure",
    )
    length: Length | None = choice(
        None, "2 ft", "300 ft", label="Long side of a box", source="tape measure"
    )
    depth: Length = choice(
        "32 in",
        "0.5 ft",
        "15 ft",
        label="Water depth",
        rule="2.5 ft",
        rule_words="more than 2.5 ft of water where summers are hot (common practice)",
        source=RULE,
    )
    freeboard: Length = choice("6 in", "1 in", "3 ft", label="Wall above the water", source=RULE)
    density: StockingDensity = choice(
        "0.25 lb/gal",
        "0.01 lb/gal",
        "1.2 lb/gal",
        label="Most fish for each volume of water",
        rule="0.25 lb/gal",
        rule_words="at least 4 US gal for each lb of tilapia (common practice)",
        source=RULE,
    )
    jet_velocity: Velocity = choice(
        "1 m/s", "0.1 m/s", "5 m/s", label="Speed of the inlet jets", source=RULE
    )
    drain_share: Fraction = choice(
        0.15,
        0.02,
        1.0,
        label="Share of the flow out of the centre drain",
        source="7 to 15 % seen in dual-drain tanks",
    )
    split: str = choice(
        "by feed",
        label="How the flow is shared among tanks",
        source="the user",
        options=("by feed", "equal"),
    )


@section()
class Solids:
    """Taking the waste out."""

    settler: str = choice("radial", label="Settler", source="the user", options=names("settlers"))
    share: Fraction = choice(1.0, 0.05, 1.0, label="Share of the flow through it", source=RULE)
    overflow_rate: HydraulicLoad = choice(
        "2 gpm/ft²",
        "0.2 gpm/ft²",
        "15 gpm/ft²",
        label="Flow over each area of settler",
        source=RULE,
    )
    area: Area | None = choice(
        None, "0.2 ft²", "20000 ft²", label="Settler area you have", source="tape measure"
    )
    depth: Length = choice(
        "3 ft", "0.5 ft", "12 ft", label="Water depth in the settler", source=RULE
    )
    drain_interval: Hours = choice(
        "24 h",
        "1 h",
        "240 h",
        label="Time between drainings",
        rule="24 h",
        rule_words="drain it every day (common practice)",
        source=RULE,
    )
    solids_content: Fraction = choice(
        0.015, 0.002, 0.15, label="Dry waste in the sludge", source="0.5 to 2 %, common practice"
    )
    second: str = choice(
        "netting", label="Second screen", source="the user", options=names("polishing")
    )


@section()
class Filter(Beds):
    """The home of the cleaning bacteria."""

    type: str = choice(
        "moving bed", label="Kind of filter", source="the user", options=names("filter_types")
    )
    medium: str = choice("carriers", label="Medium", source="the user", options=names("media"))
    media_volume: MediaVolume | None = choice(
        None,
        "0 ft³",
        "50000 ft³",
        label="Media you have",
        help="As it lies in a bucket or barrel.",
        source="buckets counted",
    )
    rate: ArealRate | None = choice(
        None,
        "0.05 g/(m² day)",
        "2.5 g/(m² day)",
        label="Ammonia that each area of media takes",
        help="Left open, it follows from ammonia, oxygen, temperature, pH and alkalinity.",
        source="0.02 to 0.10 g/ft²/day, SRAC 282",
    )
    vessel: str = choice(
        "built to size",
        label="Vessel of the filter",
        help="Barrels, stock tanks and totes stand side by side, as many as the media need.",
        source="the user",
        options=names("filter_vessels"),
    )
    vessels: Count | None = choice(
        None, 1.0, 200.0, label="Vessels side by side", sweep=False, source="the user"
    )
    depth: Length | None = choice(
        None,
        "0.5 ft",
        "15 ft",
        label="Depth of the filter",
        help="Of its water, or of the bed where water trickles. Left open, a wall that is easily built.",
        source="tape measure",
    )
    removal: Fraction = choice(
        0.35,
        0.05,
        0.95,
        label="Ammonia taken out in one pass, as planned",
        help="Sets the flow of a new system; the page then shows what really comes out.",
        source=RULE,
    )
    derate: Fraction = choice(
        0.75,
        0.2,
        1.0,
        label="Working filter over clean film",
        help="The one allowance for solids and wear; nothing else is taken off.",
        source=RULE,
    )
    passive: Fraction = choice(0.0, 0.0, 0.2, label="Share done by walls and pipes", source=RULE)


@section()
class Air:
    """Oxygen in, carbon dioxide out."""

    machine: str | None = choice(
        None,
        label="Air machine",
        help="Left out, the kind that draws least and suits the pressure.",
        source="the user",
        options=names("air_types"),
    )
    device: str | None = choice(
        None, label="Size of machine", source="the plate", options=names("air_devices")
    )
    count: Count | None = choice(
        None, 0.0, 100.0, label="Machines running", sweep=False, source="the user"
    )
    spare: Count | None = choice(
        None,
        0.0,
        100.0,
        label="Spare machines that stand still",
        help="Left out, as many as carry the mean load when any one machine has failed.",
        sweep=False,
        source="the user",
    )
    flow: AirFlow | None = choice(
        None,
        "0 L/min",
        "500000 L/min",
        label="Air you measured",
        help="All together, at the depth of the stones.",
        source="the plate or a bag and a clock",
    )
    plate_watts: Power | None = choice(
        None,
        "0 W",
        "100000 W",
        label="Watts on the plate",
        help="Use this when the air flow is not known.",
        source="the plate",
    )
    stone_depth: Length | None = choice(
        None,
        "0.1 m",
        "5 m",
        label="Depth of the stones",
        help="Left open, they hang a hand above the floor.",
        source="tape measure",
    )
    diffuser: str = choice(
        "fine stone", label="Bubbles", source="the user", options=names("diffusers")
    )
    efficiency: EfficiencyPerDepth | None = choice(
        None,
        "0.3 %/m",
        "12 %/m",
        label="Oxygen caught from the air, for each depth",
        source="diffuser table",
    )
    alpha: Fraction = choice(
        0.85, 0.3, 1.1, label="Transfer in fish water over clean water", source=MEMORY
    )
    beta: Fraction = choice(
        0.98, 0.8, 1.0, label="Saturation in fish water over clean water", source=MEMORY
    )
    theta: Ratio = choice(
        1.024, 1.0, 1.05, label="Temperature factor of transfer", source="ASCE/EWRI 2-06"
    )
    fouling: Fraction = choice(0.85, 0.3, 1.0, label="Stones in use over new stones", source=RULE)
    approach: Fraction = choice(
        0.45,
        0.05,
        1.0,
        label="How full of carbon dioxide the bubbles leave",
        help="Likely 0.3 to 0.6 at these depths.",
        source=RULE,
    )
    stone_loss: Pressure = choice(
        "3 kPa",
        "0 kPa",
        "30 kPa",
        label="Pressure lost in the stones",
        source="2 to 7 kPa, common practice",
    )
    line_length: Length = choice(
        "30 ft", "1 ft", "1000 ft", label="Air pipe", source="tape measure"
    )
    line_velocity: Velocity = choice(
        "8 m/s",
        "1 m/s",
        "20 m/s",
        label="Most speed in the air pipe",
        source="6 to 10 m/s, from memory",
    )
    line_diameter: PipeDiameter | None = choice(
        None, "0.15 in", "24 in", label="Air pipe inside", source="tape measure"
    )
    intake_temperature: Temperature = choice(
        35.0, -20.0, 55.0, label="Air that the machine takes in", source="thermometer"
    )
    wire_efficiency: Fraction = choice(
        0.35,
        0.05,
        0.8,
        label="Air power over power at the wall",
        source="0.2 to 0.5 for small machines, common practice",
    )
