"""Carbon dioxide, then pH, then the ammonia that the fish can bear: before any flow is sized."""

from ... import equations as eq
from ...core.figures import figure, stage
from ...core.kinds import PH, Concentration, Fraction, OxygenRate, Ratio, Temperature
from ...design.catalogue import Catalogue
from ...design.model import Design
from ...equations.gas import degassing
from ...equations.water import ammonia, carbonate
from .air import Air, Setting
from .loads import After


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
class Exchange:
    """What temperature and pressure fix of carbon dioxide before any load is known."""

    partition: Ratio
    equilibrium: Concentration
    stripped: Fraction
    source: Concentration


def gas_exchange(design: Design, here: Setting, tables: Catalogue) -> Exchange:
    """How carbon dioxide passes between water and air here."""
    kind, source = tables.filter_type, design.source
    return Exchange(
        partition=carbonate.gas_partition(here.temperature),
        equilibrium=carbonate.equilibrium_carbon_dioxide(here.temperature, here.pressure),
        stripped=degassing.stripped_fraction(kind.gas_water_ratio, here.temperature, kind.approach),
        source=carbonate.carbon_dioxide(source.alkalinity, source.ph, here.temperature),
    )


@stage()
class Limit:
    """Carbon dioxide, pH and the limit they set on ammonia."""

    carbon_dioxide: Concentration
    computed_ph: PH
    ph: PH
    unionized_fraction: Fraction
    ammonia_limit: Concentration


def limit(design: Design, loads: After, here: Setting, passing: Exchange, used, new_water, flow):
    """The ammonia limit with so much air used, new water and flow through the filter."""
    keep, temperature = design.keep, here.temperature
    level = _level(design, loads.carbon_dioxide, passing, used, new_water, flow)
    computed = carbonate.ph(keep.alkalinity, level, temperature)
    ph = computed if keep.measured_ph is None else keep.measured_ph
    fraction = ammonia.unionized_fraction(temperature, ph, design.source.salinity)
    bearable = ammonia.total_ammonia_limit(keep.unionized_ammonia, fraction)
    most = eq.pumps.ammonia_limit(keep.total_ammonia, bearable)
    return Limit(level, computed, ph, fraction, most)


def _level(design: Design, production, passing: Exchange, used, new_water, flow):
    """Carbon dioxide in the tank where so much of it is made."""
    return degassing.tank_carbon_dioxide(
        production, used, design.air.approach, passing.partition, passing.equilibrium,
        new_water, passing.source, flow, passing.stripped,
    )  # fmt: skip


def gas(
    design: Design, loads: After, here: Setting, passing: Exchange, found: Limit, most, air: Air,
    new_water, flow, tables: Catalogue,
) -> Gas:  # fmt: skip
    """Gas and pH as they settle; ``most`` is the ammonia limit of the system as planned.

    pH is that of the mean hour: in the busiest hour more carbon dioxide makes it lower and the
    ammonia less poisonous.  With all the air let in it is higher, by as much as the computed pH.
    """
    level, used = found.carbon_dioxide, air.used
    around = (passing, air.provided, new_water, flow)
    airy = _level(design, loads.carbon_dioxide, *around)
    highest = eq.gas.ph_moved(
        found.ph, carbonate.ph(design.keep.alkalinity, airy, here.temperature), found.computed_ph
    )
    return Gas(
        temperature=here.temperature,
        gas_water_ratio=tables.filter_type.gas_water_ratio,
        stripped=passing.stripped,
        partition=passing.partition,
        equilibrium=passing.equilibrium,
        source_carbon_dioxide=passing.source,
        carbon_dioxide=level,
        peak_carbon_dioxide=_level(
            design, loads.peak_carbon_dioxide, passing, used, new_water, flow
        ),
        carbon_dioxide_all_air=airy,
        stripped_by_air=degassing.air_transfer_of_carbon_dioxide(
            used, design.air.approach, passing.partition, level, passing.equilibrium
        ),
        stripped_by_filter=eq.gas.stripped_in_filter(
            flow, passing.stripped, level, passing.equilibrium
        ),
        total_carbon=carbonate.total_inorganic_carbon(
            design.keep.alkalinity, found.ph, here.temperature
        ),
        computed_ph=found.computed_ph,
        ph=found.ph,
        ph_all_air=highest,
        ph_difference=eq.gas.ph_difference(found.ph, found.computed_ph),
        unionized_fraction=found.unionized_fraction,
        unionized_fraction_all_air=ammonia.unionized_fraction(
            here.temperature, highest, design.source.salinity
        ),
        ammonia_limit=most,
    )
