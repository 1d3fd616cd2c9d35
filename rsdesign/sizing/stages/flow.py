"""The flow that holds ammonia, oxygen, carbon dioxide and fine waste; the largest governs."""

from ... import equations as eq
from ...core.figures import figure, stage
from ...core.kinds import Concentration, DailyFlow, Flow, Index
from ...design.catalogue import Catalogue
from ...design.model import Design
from ...equations.fish import loads as formulas
from ...equations.gas import degassing
from ...equations.solids import settling
from .air import Air, AirNeed
from .gas import GasExchange
from .loads import LoadsAfterDecay
from .stock import Stock
from .tank import Tank

CONSTITUENTS = ("ammonia", "carbon dioxide", "fine waste")
"""What a flow may have to hold, by the number in ``Flows.governing``.

Oxygen is not among them: it is the air's to bring, and where air is short, that is said of the air.
"""

NONE = 0.0
"""Ammonia in the new water."""


@stage()
class Flows:
    """Flow to hold each constituent, all tanks together."""

    exchange: DailyFlow = figure("New water for nitrate")
    for_ammonia: Flow = figure("Flow that holds ammonia")
    for_oxygen: Flow = figure("Flow that would bring the oxygen the air does not")
    for_carbon_dioxide: Flow = figure("Flow that holds carbon dioxide")
    for_fines: Flow = figure("Flow that holds fine waste")
    governing: Index = figure("What asks for most flow")
    required: Flow = figure("Flow needed")
    required_equal_split: Flow = figure("Flow needed if every tank gets the same")
    rule: Flow = figure("Flow by the rule of thumb, once an hour")
    return_oxygen: Concentration = figure("Oxygen in the water that comes back")


def exchange(design: Design, loads: LoadsAfterDecay):
    """New water that holds nitrate, for the nitrate that the plants leave."""
    return formulas.exchange_to_hold(loads.nitrate, design.keep.nitrate, design.source.nitrate)


@stage()
class RequiredFlow:
    """The flow for each constituent, and the largest."""

    for_ammonia: Flow
    for_carbon_dioxide: Flow
    for_fines: Flow
    required: Flow


def required_flow(
    design: Design, loads: LoadsAfterDecay, tank: Tank, air: AirNeed, gas_exchange: GasExchange,
    ammonia_limit, new_water, fine_load, tables: Catalogue,
) -> RequiredFlow:  # fmt: skip
    """Flow for each constituent; ``fine_load`` is the waste that stays suspended [kg/s].

    The water carries all the ammonia, to the filter or to the plants.  The air is what is needed,
    whatever there is, and carbon dioxide is that of the busiest hour.
    """
    keep = design.keep
    ammonia = formulas.flow_to_remove(
        loads.ammonia_made, new_water, NONE, ammonia_limit, design.filter.removal,
        design.filter.passive,
    )  # fmt: skip
    by_air = degassing.air_transfer_of_carbon_dioxide(
        air.required, design.air.approach, gas_exchange.partition, keep.carbon_dioxide,
        gas_exchange.equilibrium,
    )  # fmt: skip
    carbon_dioxide = eq.pumps.carbon_dioxide_flow(
        loads.peak_carbon_dioxide, by_air, new_water, gas_exchange.source, keep.carbon_dioxide,
        gas_exchange.equilibrium, gas_exchange.stripped,
    )  # fmt: skip
    fines = settling.flow_for_fines(
        fine_load, keep.fines, new_water, tables.polishing.removal, design.wastes.solids_decay,
        tank.counted,
    )  # fmt: skip
    required = eq.pumps.largest_flow(ammonia, carbon_dioxide, fines)
    return RequiredFlow(ammonia, carbon_dioxide, fines, required)


def flows(
    design: Design,
    stock: Stock,
    tank: Tank,
    needed: RequiredFlow,
    air: Air,
    new_water,
    tables: Catalogue,
) -> Flows:
    """The flows as they are shown."""
    keep = design.keep
    each = (needed.for_ammonia, needed.for_carbon_dioxide, needed.for_fines)
    back = eq.pumps.oxygen_returned(
        air.saturation, design.air.beta, tables.filter_type.return_saturation, keep.oxygen
    )
    return Flows(
        exchange=new_water,
        for_ammonia=needed.for_ammonia,
        for_oxygen=eq.pumps.oxygen_flow(air.demand, air.transfer, back, keep.oxygen),
        for_carbon_dioxide=needed.for_carbon_dioxide,
        for_fines=needed.for_fines,
        governing=eq.pumps.governing(*each),
        required=needed.required,
        required_equal_split=eq.pumps.equal_split_flow(
            needed.required, stock.tanks, stock.tank_feed, stock.peak_feed
        ),
        rule=eq.pumps.turnover_rule(tank.volume),
        return_oxygen=back,
    )
