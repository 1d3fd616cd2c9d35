"""Carbon dioxide, then pH, then the ammonia that the fish can bear: before any flow is sized."""

from ... import equations as eq
from ...core.figures import figure, stage
from ...core.kinds import PH, Concentration, Fraction, OxygenRate, Ratio, Temperature
from ...design.catalogue import Catalogue
from ...design.model import Design
from ...equations.gas import degassing
from ...equations.water import ammonia, carbonate
from .air import Air, AirSetting
from .loads import LoadsAfterDecay


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
    peak_carbon_dioxide: Concentration = figure("Carbon dioxide in the busiest hour")
    carbon_dioxide_all_air: Concentration = figure("Carbon dioxide with all the air let in")
    stripped_by_air: OxygenRate = figure("Carbon dioxide that the air takes away")
    stripped_by_filter: OxygenRate = figure("Carbon dioxide that the filter takes away")
    total_carbon: Concentration = figure("Inorganic carbon, as carbon dioxide")
    computed_ph: PH = figure("pH computed")
    ph: PH = figure("pH used")
    ph_all_air: PH = figure("pH with all the air let in")
    ph_difference: PH = figure("pH measured less pH computed")
    unionized_fraction: Fraction = figure("Share of ammonia that is un-ionised")
    unionized_fraction_all_air: Fraction = figure("The same with all the air let in")
    ammonia_limit: Concentration = figure("Most total ammonia for these fish in this water")


@stage()
class GasExchange:
    """What temperature and pressure fix of carbon dioxide before any load is known."""

    partition: Ratio
    equilibrium: Concentration
    stripped: Fraction
    source: Concentration


def exchange_at_site(design: Design, setting: AirSetting, tables: Catalogue) -> GasExchange:
    """How carbon dioxide passes between water and air at the site."""
    kind, source = tables.filter_type, design.source
    return GasExchange(
        partition=carbonate.gas_partition(setting.temperature),
        equilibrium=carbonate.equilibrium_carbon_dioxide(setting.temperature, setting.pressure),
        stripped=degassing.stripped_fraction(
            kind.gas_water_ratio, setting.temperature, kind.approach
        ),
        source=carbonate.carbon_dioxide(source.alkalinity, source.ph, setting.temperature),
    )


@stage()
class Limit:
    """Carbon dioxide, pH and the limit they set on ammonia."""

    carbon_dioxide: Concentration
    computed_ph: PH
    ph: PH
    unionized_fraction: Fraction
    ammonia_limit: Concentration


def limit(
    design: Design,
    loads: LoadsAfterDecay,
    setting: AirSetting,
    gas_exchange: GasExchange,
    used,
    new_water,
    flow,
):
    """The ammonia limit with so much air used, new water and flow through the filter."""
    keep, temperature = design.keep, setting.temperature
    level = _level(design, loads.carbon_dioxide, gas_exchange, used, new_water, flow)
    computed = carbonate.ph(keep.alkalinity, level, temperature)
    ph = computed if keep.measured_ph is None else keep.measured_ph
    fraction = ammonia.unionized_fraction(temperature, ph, design.source.salinity)
    bearable = ammonia.total_ammonia_limit(keep.unionized_ammonia, fraction)
    ammonia_limit = eq.pumps.ammonia_limit(keep.total_ammonia, bearable)
    return Limit(level, computed, ph, fraction, ammonia_limit)


def _level(design: Design, production, gas_exchange: GasExchange, used, new_water, flow):
    """Carbon dioxide in the tank where so much of it is made."""
    return degassing.tank_carbon_dioxide(
        production, used, design.air.approach, gas_exchange.partition, gas_exchange.equilibrium,
        new_water, gas_exchange.source, flow, gas_exchange.stripped,
    )  # fmt: skip


def gas(
    design: Design, loads: LoadsAfterDecay, setting: AirSetting, gas_exchange: GasExchange, limits: Limit, ammonia_limit, air: Air,
    new_water, flow, tables: Catalogue,
) -> Gas:  # fmt: skip
    """Gas and pH as they settle; ``most`` is the ammonia limit of the system as planned.

    pH is that of the mean hour: in the busiest hour more carbon dioxide makes it lower and the
    ammonia less poisonous.  With all the air let in it is higher, by as much as the computed pH.
    """
    level, used = limits.carbon_dioxide, air.used
    around = (gas_exchange, air.provided, new_water, flow)
    level_all_air = _level(design, loads.carbon_dioxide, *around)
    highest = eq.gas.ph_moved(
        limits.ph,
        carbonate.ph(design.keep.alkalinity, level_all_air, setting.temperature),
        limits.computed_ph,
    )
    return Gas(
        temperature=setting.temperature,
        gas_water_ratio=tables.filter_type.gas_water_ratio,
        stripped=gas_exchange.stripped,
        partition=gas_exchange.partition,
        equilibrium=gas_exchange.equilibrium,
        source_carbon_dioxide=gas_exchange.source,
        carbon_dioxide=level,
        peak_carbon_dioxide=_level(
            design, loads.peak_carbon_dioxide, gas_exchange, used, new_water, flow
        ),
        carbon_dioxide_all_air=level_all_air,
        stripped_by_air=degassing.air_transfer_of_carbon_dioxide(
            used, design.air.approach, gas_exchange.partition, level, gas_exchange.equilibrium
        ),
        stripped_by_filter=eq.gas.stripped_in_filter(
            flow, gas_exchange.stripped, level, gas_exchange.equilibrium
        ),
        total_carbon=carbonate.total_inorganic_carbon(
            design.keep.alkalinity, limits.ph, setting.temperature
        ),
        computed_ph=limits.computed_ph,
        ph=limits.ph,
        ph_all_air=highest,
        ph_difference=eq.gas.ph_difference(limits.ph, limits.computed_ph),
        unionized_fraction=limits.unionized_fraction,
        unionized_fraction_all_air=ammonia.unionized_fraction(
            setting.temperature, highest, design.source.salinity
        ),
        ammonia_limit=ammonia_limit,
    )
