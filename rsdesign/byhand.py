"""By-hand cards: three-line pencil sums in trade units that land near the computed figure.

A card exists so that a grower can check the page without it.  Its numbers are rounded as one
would write them; its result stays within 15 % of the computed figure, which a test holds for the
demo designs.
"""

from dataclasses import dataclass

from .kinds import KINDS
from .unitlist import DAY
from .units import from_plain, number

GRAMS_OF_AMMONIA = 42.0
"""Grams of ammonia nitrogen from a pound of feed, for all of it protein: 453.6 × 0.092, rounded."""

GRAMS_CARRIED = 5.45
"""Grams a day that 1 gpm carries for each mg/L: 3.785 × 1440 / 1000."""

GRAMS_IN_CFM = 470.0
"""Grams of oxygen an hour in 1 cfm of air: 0.2787 kg/m³ of standard air, rounded."""


@dataclass(frozen=True, slots=True, eq=False)
class Card:
    """A pencil sum: its lines, its result and the figure it should come near."""

    part: str
    lines: tuple[str, ...]
    value: float
    unit: str
    figure: str
    computed: float

    @property
    def off(self) -> float:
        """How far the pencil is from the computed figure, as a fraction."""
        if self.value == self.computed:
            return 0.0
        return abs(self.value / self.computed - 1.0) if self.computed else 0.0


def _us(value, kind: str) -> float:
    return float(from_plain(value, KINDS[kind].shown("us")))


def _two(x: float) -> str:
    return number(x, 2)


def _three(x: float) -> str:
    return number(x, 3)


def _pencil(x: float, figures: int = 2) -> float:
    """A number as one writes it with a pencil: two figures, or three when it starts with 1."""
    text = number(x, figures + 1 if str(f"{abs(x):e}")[0] == "1" else figures)
    return float(text.replace(",", ""))


def cards(sizing) -> dict[str, Card]:
    """Every card of a sizing by the part it belongs to."""
    made = [make(sizing) for make in MAKERS.values()]
    return {card.part: card for card in made}


def _card(part: str, lines, value, unit, figure, computed) -> Card:
    return Card(part, tuple(lines), float(value), unit, figure, float(computed))


def feed(s) -> Card:
    """Pounds of fish, times what they eat of it in a day."""
    pounds = _pencil(_us(s.stock.peak_biomass, "mass"))
    share = _pencil(float(s.stock.peak_feed / s.stock.peak_biomass) * DAY * 100.0)
    value = pounds * share / 100.0
    return _card("stock", (
        f"Most fish at once: {_three(pounds)} lb.",
        f"On the biggest day they eat {_three(share)} lb for each 100 lb.",
        f"{_three(pounds)} × {_three(share)} ÷ 100 = {_two(value)} lb of feed a day.",
    ), value, "lb/day", "stock.peak_feed", _us(s.stock.peak_feed, "feed rate"))  # fmt: skip


def tank(s) -> Card:
    """Pounds of fish, times gallons for each pound."""
    each = _pencil(1.0 / _us(s.design.tank.density, "stocking density"))
    pounds = _pencil(_us(s.stock.tank_biomass, "mass") * float(s.stock.tanks))
    value = pounds * each
    return _card("tank", (
        f"Room for {_three(pounds)} lb of fish, with every tank as full as the fullest.",
        f"Each pound gets {_two(each)} gallons.",
        f"{_three(pounds)} × {_two(each)} = {_two(value)} gallons.",
    ), value, "gal", "tank.required", _us(s.tank.required, "volume"))  # fmt: skip


def settler(s) -> Card:
    """Gallons a minute, over gallons a minute for each square foot."""
    gpm = _pencil(_us(s.solids.settler_flow, "flow"))
    load = _pencil(_us(s.design.solids.overflow_rate, "hydraulic load"))
    value = gpm / load
    return _card("solids", (
        f"Through the settler: {_three(gpm)} gallons a minute.",
        f"Each square foot bears {_two(load)}.",
        f"{_three(gpm)} ÷ {_two(load)} = {_two(value)} ft² of settler.",
    ), value, "ft²", "solids.required", _us(s.solids.required, "area"))  # fmt: skip


def _ammonia(s) -> tuple[float, str]:
    pounds = _pencil(_us(s.stock.peak_feed, "feed rate"))
    protein = _pencil(float(s.design.stock.protein))
    grams = _pencil(pounds * protein * GRAMS_OF_AMMONIA)
    return grams, (
        f"Ammonia: {_three(pounds)} lb of feed × {_two(protein)} protein ×"
        f" {GRAMS_OF_AMMONIA:.0f} = {_three(grams)} g a day."
    )


def flow(s) -> Card:
    """Ammonia a day, over what each gallon a minute carries and leaves behind."""
    grams, line = _ammonia(s)
    limit = _pencil(_us(s.gas.ammonia_limit, "concentration"))
    share = _pencil(float(s.design.filter.removal))
    value = grams / (GRAMS_CARRIED * limit * share)
    return _card("flow", (
        line,
        f"1 gpm carries {GRAMS_CARRIED} g a day for each mg/L; hold {_two(limit)} mg/L and take"
        f" {_two(share)} of it in a pass.",
        f"{_three(grams)} ÷ ({GRAMS_CARRIED} × {_two(limit)} × {_two(share)}) = {_two(value)} gpm.",
    ), value, "gpm", "flow.for_ammonia", _us(s.flow.for_ammonia, "flow"))  # fmt: skip


def filter_card(s) -> Card:
    """Ammonia a day, less what the plants take, over what each square foot takes."""
    grams, line = _ammonia(s)
    plants = _pencil(_us(s.loads.plants_ammonia, "ammonia load")) if s.loads.plants_ammonia else 0.0
    if plants:
        line = f"{line[:-1]}; plants take {_two(plants)} of it."
    needed = _us(s.filter.required, "area")
    if not 0 < needed < float("inf"):  # plants take all, or the flow cannot carry it
        none = needed == 0
        return _card("filter", (
            line,
            "Plants take all the ammonia." if none else "The flow cannot carry this to a filter.",
            f"Media surface = {'0 ft²: none is needed.' if none else '∞ ft²: no filter will do.'}",
        ), needed, "ft²", "filter.required", needed)  # fmt: skip
    rate = _pencil(_us(s.filter.load / s.filter.required, "areal rate") / 10.764)
    left = grams - plants
    value = left / rate
    return _card("filter", (
        line,
        f"Each square foot of film takes {_two(rate)} g a day here.",
        f"{_three(left)} ÷ {_two(rate)} = {_two(value)} ft² of media surface.",
    ), value, "ft²", "filter.required", _us(s.filter.required, "area"))  # fmt: skip


def air(s) -> Card:
    """Oxygen in the busiest hour, over what reaches the water from each cubic foot a minute."""
    pounds = _pencil(_us(s.stock.peak_feed, "feed rate"))
    each = _pencil(_us(s.air.demand, "oxygen rate") / _us(s.stock.peak_feed, "feed rate"))
    grams = pounds * each
    caught = _pencil(float(s.air.efficiency))
    here = _pencil(float(s.air.field_factor))
    value = grams / (GRAMS_IN_CFM * caught * here)
    return _card("air", (
        f"Oxygen in the busiest hour: {_three(pounds)} lb of feed × {_three(each)} ="
        f" {_three(grams)} g.",
        f"1 cfm holds {GRAMS_IN_CFM:.0f} g an hour; {_two(caught)} of it is caught at this depth,"
        f" and {_two(here)} of that in warm fish water.",
        f"{_three(grams)} ÷ ({GRAMS_IN_CFM:.0f} × {_two(caught)} × {_two(here)}) ="
        f" {_two(value)} cfm.",
    ), value, "cfm", "air.required", _us(s.air.required, "air flow"))  # fmt: skip


def pump(s) -> Card:
    """Gallons a minute times feet, over 5.3, over the efficiency."""
    gpm = _pencil(_us(s.pump.flow, "flow"))
    feet = _pencil(_us(s.pump.head, "head"))
    share = _pencil(float(s.design.pump.efficiency))
    value = gpm * feet / 5.3 / share
    return _card("pump", (
        f"{_three(gpm)} gpm lifted {_two(feet)} ft, rubbing counted in.",
        f"Water alone: {_three(gpm)} × {_two(feet)} ÷ 5.3 = {_two(gpm * feet / 5.3)} W.",
        f"At the wall: divide by {_two(share)} = {_two(value)} W.",
    ), value, "W", "pump.wire_power", _us(s.pump.wire_power, "power"))  # fmt: skip


def minutes(s) -> Card:
    """Gallons times the fall in oxygen, over what the fish use."""
    gallons = _pencil(_us(s.tank.volume_each, "volume"))
    fall = _pencil(_us(s.design.keep.oxygen - s.design.keep.stress_oxygen, "concentration"))
    grams = _pencil(_us(s.standby.peak_use, "oxygen rate"))
    value = gallons * fall / (264.0 * grams) * 60.0
    return _card("standby", (
        f"{_three(gallons)} gallons may fall by {_two(fall)} mg/L of oxygen.",
        f"In the busiest hour the tank uses {_three(grams)} g; 264 gallons lose 1 mg/L for each g.",
        f"{_three(gallons)} × {_two(fall)} ÷ (264 × {_three(grams)}) × 60 = {_two(value)} minutes.",
    ), value, "min", "standby.minutes_peak", _us(s.standby.minutes_peak, "minutes"))  # fmt: skip


MAKERS = {"stock": feed, "tank": tank, "solids": settler, "flow": flow, "filter": filter_card,
          "air": air, "pump": pump, "standby": minutes}  # fmt: skip
"""The maker of each part's card."""
