"""The flow that holds ammonia, oxygen, carbon dioxide and fine waste; the largest governs."""

from .. import balance
from ..catalogue import Catalogue
from ..design import Design
from ..figures import figure, stage
from ..fish import loads as formulas
from ..kinds import Concentration, DailyFlow, Flow, Index
from ..parts import degassing, settling
from .air import Air
from .gas import Gas
from .loads import Loads
from .stock import Stock
from .tank import Tank

CONSTITUENTS = ("ammonia", "oxygen", "carbon dioxide", "fine waste")
"""What a flow may have to hold, by the number in ``Flows.governing``."""


@stage()
class Flows:
    """Flow to hold each constituent, all tanks together."""

    exchange: DailyFlow = figure("New water for nitrate")
    for_ammonia: Flow = figure("Flow that holds ammonia")
    for_oxygen: Flow = figure("Flow that holds oxygen")
    for_carbon_dioxide: Flow = figure("Flow that holds carbon dioxide")
    for_fines: Flow = figure("Flow that holds fine waste")
    governing: Index = figure("What asks for most flow")
    required: Flow = figure("Flow needed")
    required_equal_split: Flow = figure("Flow needed if every tank gets the same")
    rule: Flow = figure("Flow by the old rule, once an hour")
    return_oxygen: Concentration = figure("Oxygen in the water that comes back")


def exchange(design: Design, loads: Loads):
    """New water that holds nitrate, for the nitrate that the plants leave."""
    return formulas.exchange_to_hold(loads.nitrate, design.keep.nitrate, design.source.nitrate)


def flows(
    design: Design, stock: Stock, loads: Loads, room: Tank, oxygen: Air, gas: Gas, new_water,
    fine_load, tables: Catalogue,
) -> Flows:  # fmt: skip
    """Flow for each constituent; ``fine_load`` is the waste that stays suspended [kg/s]."""
    keep = design.keep
    ammonia = formulas.flow_to_remove(
        loads.ammonia_to_filter, new_water, 0.0, gas.ammonia_limit, design.filter.removal,
        design.filter.passive,
    )  # fmt: skip
    back = balance.oxygen_returned(
        oxygen.saturation, design.air.beta, tables.filter_type.return_saturation, keep.oxygen
    )
    for_oxygen = balance.oxygen_flow(oxygen.demand, oxygen.transfer, back, keep.oxygen)
    by_air = degassing.air_transfer_of_carbon_dioxide(
        oxygen.used, design.air.approach, gas.partition, keep.carbon_dioxide, gas.equilibrium
    )
    for_carbon_dioxide = balance.carbon_dioxide_flow(
        loads.carbon_dioxide, by_air, new_water, gas.source_carbon_dioxide, keep.carbon_dioxide,
        gas.equilibrium, gas.stripped,
    )  # fmt: skip
    fines = settling.flow_for_fines(
        fine_load, keep.fines, new_water, tables.polishing.removal, design.wastes.solids_decay,
        room.volume,
    )  # fmt: skip
    required = balance.largest_flow(ammonia, for_oxygen, for_carbon_dioxide, fines)
    return Flows(
        exchange=new_water,
        for_ammonia=ammonia,
        for_oxygen=for_oxygen,
        for_carbon_dioxide=for_carbon_dioxide,
        for_fines=fines,
        governing=balance.governing(ammonia, for_oxygen, for_carbon_dioxide, fines),
        required=required,
        required_equal_split=balance.equal_split_flow(
            required, stock.tanks, stock.tank_feed, stock.peak_feed
        ),
        rule=balance.turnover_rule(room.volume),
        return_oxygen=back,
    )
