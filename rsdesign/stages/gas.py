"""Carbon dioxide, then pH, then the ammonia that the fish can bear: before any flow is sized."""

from .. import balance
from ..catalogue import Catalogue
from ..design import Design
from ..figures import figure, stage
from ..kinds import (
    PH,
    Concentration,
    Fraction,
    OxygenRate,
    Ratio,
    Temperature,
)
from ..parts import degassing
from ..water import ammonia, carbonate
from .air import Air
from .loads import Loads


@stage()
class Gas:
    """Gas and pH in the tank at the warmest week, and the limit they set on ammonia."""

    temperature: Temperature = figure("Water temperature used")
    gas_water_ratio: Ratio = figure("Air for each volume of water in the stripper")
    stripped: Fraction = figure("Carbon dioxide stripped in one pass")
    partition: Ratio = figure("Carbon dioxide in air over that in water, at rest")
    equilibrium: Concentration = figure("Carbon dioxide in water full of air")
    source_carbon_dioxide: Concentration = figure("Carbon dioxide in the new water")
    carbon_dioxide: Concentration = figure("Carbon dioxide in the tank")
    stripped_by_air: OxygenRate = figure("Carbon dioxide that the air takes away")
    stripped_by_filter: OxygenRate = figure("Carbon dioxide that the filter takes away")
    total_carbon: Concentration = figure("Inorganic carbon, as carbon dioxide")
    computed_ph: PH = figure("pH computed")
    ph: PH = figure("pH used")
    ph_difference: PH = figure("pH measured less pH computed")
    unionized_fraction: Fraction = figure("Share of ammonia that is un-ionised")
    ammonia_limit: Concentration = figure("Most total ammonia for these fish in this water")


def gas(design: Design, loads: Loads, oxygen: Air, exchange, flow, tables: Catalogue) -> Gas:
    """Gas, pH and the ammonia limit; ``flow`` passes the filter [m³/s]."""
    keep, temperature = design.keep, oxygen.temperature
    partition = carbonate.gas_partition(temperature)
    equilibrium = carbonate.equilibrium_carbon_dioxide(temperature, oxygen.pressure)
    ratio = tables.filter_type.gas_water_ratio
    stripped = degassing.stripped_fraction(ratio, temperature, tables.filter_type.approach)
    source = carbonate.carbon_dioxide(design.source.alkalinity, design.source.ph, temperature)
    level = degassing.tank_carbon_dioxide(
        loads.carbon_dioxide, oxygen.used, design.air.approach, partition, equilibrium,
        exchange, source, flow, stripped,
    )  # fmt: skip
    computed = carbonate.ph(keep.alkalinity, level, temperature)
    ph = computed if keep.measured_ph is None else keep.measured_ph
    fraction = ammonia.unionized_fraction(temperature, ph, design.source.salinity)
    bearable = ammonia.total_ammonia_limit(keep.unionized_ammonia, fraction)
    return Gas(
        temperature=temperature,
        gas_water_ratio=ratio,
        stripped=stripped,
        partition=partition,
        equilibrium=equilibrium,
        source_carbon_dioxide=source,
        carbon_dioxide=level,
        stripped_by_air=degassing.air_transfer_of_carbon_dioxide(
            oxygen.used, design.air.approach, partition, level, equilibrium
        ),
        stripped_by_filter=balance.stripped_in_filter(flow, stripped, level, equilibrium),
        total_carbon=carbonate.total_inorganic_carbon(keep.alkalinity, ph, temperature),
        computed_ph=computed,
        ph=ph,
        ph_difference=balance.ph_difference(ph, computed),
        unionized_fraction=fraction,
        ammonia_limit=balance.ammonia_limit(keep.total_ammonia, bearable),
    )
