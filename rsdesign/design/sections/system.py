"""Tanks, settler, filter and air."""

from ...core import kinds
from ...core.choices import choice
from .beds import Beds
from .section import section


@section()
class Tank:
    """The tanks."""

    shape: str = choice("tank.shape")
    count: kinds.Count | None = choice("tank.count")
    width: kinds.Length | None = choice("tank.width")
    length: kinds.Length | None = choice("tank.length")
    depth: kinds.Length = choice("tank.depth")
    freeboard: kinds.Length = choice("tank.freeboard")
    density: kinds.StockingDensity = choice("tank.density")
    jet_velocity: kinds.Velocity = choice("tank.jet_velocity")
    drain_share: kinds.Fraction = choice("tank.drain_share")
    split: str = choice("tank.split")


@section()
class Solids:
    """Taking the waste out."""

    settler: str = choice("solids.settler")
    share: kinds.Fraction = choice("solids.share")
    overflow_rate: kinds.HydraulicLoad = choice("solids.overflow_rate")
    area: kinds.Area | None = choice("solids.area")
    depth: kinds.Length = choice("solids.depth")
    drain_interval: kinds.Hours = choice("solids.drain_interval")
    solids_content: kinds.Fraction = choice("solids.solids_content")
    second: str = choice("solids.second")


@section()
class Filter(Beds):
    """The home of the cleaning bacteria."""

    type: str = choice("filter.type")
    medium: str = choice("filter.medium")
    media_volume: kinds.MediaVolume | None = choice("filter.media_volume")
    rate: kinds.ArealRate | None = choice("filter.rate")
    vessel: str = choice("filter.vessel")
    vessels: kinds.Count | None = choice("filter.vessels")
    depth: kinds.Length | None = choice("filter.depth")
    removal: kinds.Fraction = choice("filter.removal")
    derate: kinds.Fraction = choice("filter.derate")
    passive: kinds.Fraction = choice("filter.passive")


@section()
class Air:
    """Oxygen in, carbon dioxide out."""

    machine: str | None = choice("air.machine")
    device: str | None = choice("air.device")
    count: kinds.Count | None = choice("air.count")
    spare: kinds.Count | None = choice("air.spare")
    flow: kinds.AirFlow | None = choice("air.flow")
    plate_watts: kinds.Power | None = choice("air.plate_watts")
    stone_depth: kinds.Length | None = choice("air.stone_depth")
    diffuser: str = choice("air.diffuser")
    efficiency: kinds.EfficiencyPerDepth | None = choice("air.efficiency")
    alpha: kinds.Fraction = choice("air.alpha")
    beta: kinds.Fraction = choice("air.beta")
    theta: kinds.Ratio = choice("air.theta")
    fouling: kinds.Fraction = choice("air.fouling")
    approach: kinds.Fraction = choice("air.approach")
    stone_loss: kinds.Pressure = choice("air.stone_loss")
    line_length: kinds.Length = choice("air.line_length")
    line_velocity: kinds.Velocity = choice("air.line_velocity")
    line_diameter: kinds.PipeDiameter | None = choice("air.line_diameter")
    intake_temperature: kinds.Temperature = choice("air.intake_temperature")
    wire_efficiency: kinds.Fraction = choice("air.wire_efficiency")
