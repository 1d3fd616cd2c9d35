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
from .section import section


@section()
class Tank:
    """The tanks."""

    shape: str = choice("tank.shape")
    count: Count | None = choice("tank.count")
    width: Length | None = choice("tank.width")
    length: Length | None = choice("tank.length")
    depth: Length = choice("tank.depth")
    freeboard: Length = choice("tank.freeboard")
    density: StockingDensity = choice("tank.density")
    jet_velocity: Velocity = choice("tank.jet_velocity")
    drain_share: Fraction = choice("tank.drain_share")
    split: str = choice("tank.split")


@section()
class Solids:
    """Taking the waste out."""

    settler: str = choice("solids.settler")
    share: Fraction = choice("solids.share")
    overflow_rate: HydraulicLoad = choice("solids.overflow_rate")
    area: Area | None = choice("solids.area")
    depth: Length = choice("solids.depth")
    drain_interval: Hours = choice("solids.drain_interval")
    solids_content: Fraction = choice("solids.solids_content")
    second: str = choice("solids.second")


@section()
class Filter(Beds):
    """The home of the cleaning bacteria."""

    type: str = choice("filter.type")
    medium: str = choice("filter.medium")
    media_volume: MediaVolume | None = choice("filter.media_volume")
    rate: ArealRate | None = choice("filter.rate")
    vessel: str = choice("filter.vessel")
    vessels: Count | None = choice("filter.vessels")
    depth: Length | None = choice("filter.depth")
    removal: Fraction = choice("filter.removal")
    derate: Fraction = choice("filter.derate")
    passive: Fraction = choice("filter.passive")


@section()
class Air:
    """Oxygen in, carbon dioxide out."""

    machine: str | None = choice("air.machine")
    device: str | None = choice("air.device")
    count: Count | None = choice("air.count")
    spare: Count | None = choice("air.spare")
    flow: AirFlow | None = choice("air.flow")
    plate_watts: Power | None = choice("air.plate_watts")
    stone_depth: Length | None = choice("air.stone_depth")
    diffuser: str = choice("air.diffuser")
    efficiency: EfficiencyPerDepth | None = choice("air.efficiency")
    alpha: Fraction = choice("air.alpha")
    beta: Fraction = choice("air.beta")
    theta: Ratio = choice("air.theta")
    fouling: Fraction = choice("air.fouling")
    approach: Fraction = choice("air.approach")
    stone_loss: Pressure = choice("air.stone_loss")
    line_length: Length = choice("air.line_length")
    line_velocity: Velocity = choice("air.line_velocity")
    line_diameter: PipeDiameter | None = choice("air.line_diameter")
    intake_temperature: Temperature = choice("air.intake_temperature")
    wire_efficiency: Fraction = choice("air.wire_efficiency")
