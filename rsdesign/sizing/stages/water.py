"""New water and base: what holds nitrate and alkalinity, and whether the source can give it."""

from ... import equations as eq
from ...core.figures import figure, stage
from ...core.kinds import ChemicalDose, Concentration, DailyFlow, RatePerTime, SpecificVolume
from ...design.model import Design
from ...equations.water import carbonate
from .loads import Loads
from .tank import Tank


@stage()
class Water:
    """Exchange and dosing on the peak feed day."""

    exchange: DailyFlow = figure("New water for nitrate, on the biggest feed day")
    daily_share: RatePerTime = figure("Share of the water that is new each day")
    nitrate: Concentration = figure("Nitrate at rest, as nitrogen")
    supply: DailyFlow = figure("What the source can give")
    alkalinity_in: ChemicalDose = figure("Alkalinity that new water brings, over what is held")
    base_net: ChemicalDose = figure("Base to add, low end: net use, as calcium carbonate")
    base_book: ChemicalDose = figure("Base to add: textbook use, as calcium carbonate")
    bicarbonate_net: ChemicalDose = figure("Baking soda a day, low end: net use")
    bicarbonate_book: ChemicalDose = figure("Baking soda a day: textbook use")
    exchanges: SpecificVolume = figure("New water for each weight of feed")
    beds_climb: Concentration = figure("Ammonia climbs in a day by, with plant beds empty or new")


def water(design: Design, loads: Loads, tank: Tank, feed, exchange) -> Water:
    """New water and base at the exchange that holds nitrate."""
    brought = eq.biofilter.makeup_alkalinity(
        exchange, design.source.alkalinity, design.keep.alkalinity
    )
    net = eq.biofilter.base_needed(loads.alkalinity_net, brought)
    book = eq.biofilter.base_needed(loads.alkalinity_book, brought)
    return Water(
        exchange=exchange,
        daily_share=eq.biofilter.daily_exchange_share(exchange, tank.volume),
        nitrate=eq.biofilter.steady_nitrate(loads.nitrate, exchange, design.source.nitrate),
        supply=design.source.supply,
        alkalinity_in=brought,
        base_net=net,
        base_book=book,
        bicarbonate_net=carbonate.bicarbonate_dose(net),
        bicarbonate_book=carbonate.bicarbonate_dose(book),
        exchanges=eq.biofilter.water_for_feed(exchange, feed),
        beds_climb=eq.solids.daily_ammonia_rise(loads.beds_ammonia, tank.volume),
    )
