"""Tanks: how many, how big, and whether the water turns and cleans them."""

from ... import equations as eq
from ...core import kinds
from ...core.figures import figure, stage
from ...design.catalogue import Catalogue
from ...design.model import Design
from ...equations.tank import vessel as formulas
from .stock import Stock


@stage()
class Tank:
    """The tanks as built, and what the flow does in them."""

    required_each: kinds.Volume = figure("Water needed in each tank")
    required: kinds.Volume = figure("Water needed")
    rule: kinds.Volume = figure("Water by the rule of thumb")
    width: kinds.Length = figure("Distance across")
    length: kinds.Length = figure("Length")
    depth: kinds.Length = figure("Water depth")
    floor: kinds.Area = figure("Floor of each tank")
    volume_each: kinds.Volume = figure("Water in each tank")
    volume: kinds.Volume = figure("Water in all tanks")
    counted: kinds.Volume = figure("Water that the flow needed counts on")
    density: kinds.StockingDensity = figure("Fish for each volume of water")
    across_to_depth: kinds.Ratio = figure("Distance across over depth")
    wall: kinds.Length = figure("Wall height")
    floor_load: kinds.FloorLoad = figure("Load on the floor")
    hoop_tension: kinds.Tension = figure("Pull around a round wall, for each height of it")


@stage()
class Turning:
    """What the flow does in the fullest tank."""

    flow: kinds.Flow = figure("Flow through the fullest tank")
    turnover: kinds.Minutes = figure("Time to swap the water")
    rotation: kinds.Velocity = figure("Speed of the water at the wall")
    jets: kinds.OpeningArea = figure("Opening of all jets of one tank")
    drain_flow: kinds.Flow = figure("Flow out of the centre drain")


def tank(design: Design, stock: Stock, water_density: kinds.Density, tables: Catalogue) -> Tank:
    """The tanks: as given, else of the next size that the trade sells."""
    choice, share, sizes = design.tank, tables.shape.floor_share, tables.tank_sizes
    required_each = formulas.volume_for(stock.tank_biomass, choice.density)
    width, length = _sides(choice, required_each, share, sizes)
    depth = choice.depth
    floor = _floor(choice, width, length, share)
    volume_each = eq.pipes.tank_volume(floor, depth)
    across = formulas.equivalent_diameter(floor)
    required = eq.fish.volume_of_all(required_each, stock.tanks)
    volume = eq.fish.volume_of_all(volume_each, stock.tanks)
    return Tank(
        required_each=required_each,
        required=required,
        rule=formulas.rule_volume(stock.peak_biomass),
        width=width,
        length=length,
        depth=depth,
        floor=floor,
        volume_each=volume_each,
        volume=volume,
        counted=eq.fish.counted_volume(required, volume),
        density=formulas.density(stock.tank_biomass, volume_each),
        across_to_depth=formulas.diameter_depth_ratio(across, depth),
        wall=formulas.wall_height(depth, choice.freeboard),
        floor_load=formulas.floor_load(depth, water_density),
        hoop_tension=formulas.hoop_tension(depth, across, water_density),
    )


def _sides(choice, required_each, share, sizes):
    """Distance across and length: those given, else the next size sold."""
    if choice.width is not None:
        return choice.width, choice.width if choice.length is None else choice.length
    floor = eq.pipes.floor_for(required_each, choice.depth)
    width = eq.pipes.tank_width(eq.pipes.width_for(floor, share), sizes)
    return width, width if choice.shape != "rectangle" else eq.pipes.long_side(width)


def _floor(choice, width, length, share):
    if choice.shape == "rectangle":
        return eq.pipes.rectangular_floor(length, width)
    return eq.pipes.floor_area(width, share)


def turning(design: Design, stock: Stock, tank: Tank, flow, water_density) -> Turning:
    """What the system flow does in the fullest tank."""
    if design.tank.split == "equal":
        each = eq.pumps.equal_flow(flow, stock.tanks)
    else:
        each = eq.pumps.flow_by_feed(flow, stock.tank_feed, stock.peak_feed)
    across = formulas.equivalent_diameter(tank.floor)
    return Turning(
        flow=each,
        turnover=formulas.turnover_time(tank.volume_each, each),
        rotation=formulas.rotation_velocity(each, design.tank.jet_velocity, across, tank.depth),
        jets=formulas.jet_area(each, design.tank.jet_velocity),
        drain_flow=formulas.drain_flow(each, design.tank.drain_share),
    )
