"""By-hand cards: three-line sums in the units of the reader that land near the computed figure.

A card exists so that a grower can check the page without it.  Its numbers are rounded as one
would write them; its result stays within 15 % of the computed figure, which a test holds for the
demo designs.
"""

from dataclasses import dataclass

from ..core.kinds import KINDS
from ..core.unit_table import DAY
from ..core.units import from_plain, number


@dataclass(frozen=True, slots=True)
class Units:
    """The words and the round factors of one display system."""

    mass: str
    each_mass: str
    nitrogen: float
    """Grams of ammonia nitrogen from one mass of feed, for all of it protein: 0.092 of it, rounded."""
    flow: str
    carried: float
    """Grams a day that one flow carries for each mg/L."""
    area: str
    each_area: str
    square: float
    """One area in m²."""
    air: str
    oxygen: str
    air_holds: float
    """Oxygen an hour in one flow of air: 0.2787 kg/m³ of standard air, rounded."""
    lift: str
    watts: float
    """Flow times lift over this is the power of the water in watts."""
    fall: float
    """Volume times the fall in mg/L over this is the oxygen that the water gives."""


UNITS = {
    # 453.6 × 0.092; 3.785 × 1440 / 1000; 0.2787 × 60 / 35.31 / 0.4536; 3.785 × 0.3048 × 9.81 / 60;
    # 453,600 / 3.785
    "us": Units("lb", "pound", 42.0, "gpm", 5.45, "ft²", "square foot", 0.3048**2, "cfm", "lb",
                1.04, "ft", 5.3, 120_000.0),
    # 1000 × 0.092; 1440 / 1000; 0.2787 × 60 / 1000 kg; 9.81 / 60; one g in each m³ for each mg/L
    "metric": Units("kg", "kilogram", 92.0, "L/min", 1.44, "m²", "square meter", 1.0, "L/min", "g",
                    16.7, "m", 6.12, 1.0),
}  # fmt: skip
"""Every factor follows from the units and from the constants named beside it."""


@dataclass(frozen=True, slots=True, eq=False)
class Card:
    """A sum by hand: its lines, its result and the figure it should come near."""

    part: str
    lines: tuple[str, ...]
    value: float
    unit: str
    figure: str
    computed: float

    @property
    def off(self) -> float:
        """How far the sum by hand is from the computed figure, as a fraction."""
        if self.value == self.computed:
            return 0.0
        return abs(self.value / self.computed - 1.0) if self.computed else 0.0


def _in(value, kind: str, system: str) -> float:
    return float(from_plain(value, KINDS[kind].shown(system)))


def _two(x: float) -> str:
    return number(x, 2)


def _three(x: float) -> str:
    return number(x, 3)


def _written(x: float, figures: int = 2) -> float:
    """A number as one writes it down: two figures, or three when it starts with 1."""
    text = number(x, figures + 1 if str(f"{abs(x):e}")[0] == "1" else figures)
    return float(text.replace(",", ""))


def cards(sizing, system: str = "us") -> dict[str, Card]:
    """Every card of a sizing by the part it belongs to, in the units of a display system."""
    made = [make(sizing, system) for make in MAKERS.values()]
    return {card.part: card for card in made}


def _card(part: str, lines, value, figure, computed, kind: str, system: str) -> Card:
    unit = KINDS[kind].shown(system).label
    return Card(part, tuple(lines), float(value), unit, figure, _in(computed, kind, system))


def feed(s, system: str) -> Card:
    """The mass of fish, times what they eat of it in a day."""
    u = UNITS[system].mass
    mass = _written(_in(s.stock.peak_biomass, "mass", system))
    share = _written(float(s.stock.peak_feed / s.stock.peak_biomass) * DAY * 100.0)
    value = mass * share / 100.0
    return _card("stock", (
        f"Most fish at once: {_three(mass)} {u}.",
        f"On the biggest day they eat {_three(share)} {u} for each 100 {u}.",
        f"{_three(mass)} × {_three(share)} ÷ 100 = {_two(value)} {u} of feed a day.",
    ), value, "stock.peak_feed", s.stock.peak_feed, "feed rate", system)  # fmt: skip


def tank(s, system: str) -> Card:
    """The mass of fish, times the water for each."""
    u = UNITS[system]
    each = _written(1.0 / _in(s.design.tank.density, "stocking density", system))
    mass = _written(_in(s.stock.tank_biomass, "mass", system) * float(s.stock.tanks))
    value = mass * each
    volume = KINDS["volume"].shown(system).label
    return _card("tank", (
        f"Room for {_three(mass)} {u.mass} of fish, with every tank as full as the fullest.",
        f"Each {u.each_mass} gets {_two(each)} {volume}.",
        f"{_three(mass)} × {_two(each)} = {_two(value)} {volume}.",
    ), value, "tank.required", s.tank.required, "volume", system)  # fmt: skip


def settler(s, system: str) -> Card:
    """The flow, over the flow for each area."""
    u = UNITS[system]
    flow = _written(_in(s.solids.settler_flow, "flow", system))
    # gpm for each ft² as it is shown; L/min for each m², since flows are shown so
    load = _in(s.design.solids.overflow_rate, "hydraulic load", system)
    load = _written(load if system == "us" else load * 1000.0 / 60.0)
    value = flow / load
    return _card("solids", (
        f"Through the settler: {_three(flow)} {u.flow}.",
        f"Each {u.each_area} can take {_two(load)} {u.flow}.",
        f"{_three(flow)} ÷ {_two(load)} = {_two(value)} {u.area} of settler.",
    ), value, "solids.required", s.solids.required, "area", system)  # fmt: skip


def _ammonia(s, system: str) -> tuple[float, str]:
    u = UNITS[system]
    mass = _written(_in(s.stock.peak_feed, "feed rate", system))
    protein = _written(float(s.design.stock.protein))
    grams = _written(mass * protein * u.nitrogen)
    return grams, (
        f"Ammonia: {_three(mass)} {u.mass} of feed × {_two(protein)} protein ×"
        f" {u.nitrogen:.0f} = {_three(grams)} g a day."
    )


def flow(s, system: str) -> Card:
    """Ammonia a day, over what each flow carries and leaves behind."""
    u = UNITS[system]
    grams, line = _ammonia(s, system)
    limit = _written(_in(s.gas.ammonia_limit, "concentration", system))
    share = _written(float(s.design.filter.removal))
    value = grams / (u.carried * limit * share)
    return _card("flow", (
        line,
        f"1 {u.flow} carries {u.carried} g a day for each mg/L; hold {_two(limit)} mg/L and take"
        f" {_two(share)} of it in a pass.",
        f"{_three(grams)} ÷ ({u.carried} × {_two(limit)} × {_two(share)}) = {_two(value)} {u.flow}.",
    ), value, "flow.for_ammonia", s.flow.for_ammonia, "flow", system)  # fmt: skip


def filter_card(s, system: str) -> Card:
    """Ammonia a day, less what the plant beds turn to nitrate, over what each area takes."""
    u = UNITS[system]
    grams, line = _ammonia(s, system)
    taken = s.loads.beds_ammonia
    beds = _written(_in(taken, "ammonia load", system)) if taken else 0.0
    if beds:
        line = f"{line[:-1]}; plant beds take {_two(beds)} of it."
    needed = float(s.filter.required)
    if not 0 < needed < float("inf"):  # nothing to take, or the flow cannot carry it
        none = needed == 0
        return _card("filter", (
            line,
            "There is no ammonia to take." if none else "The flow cannot carry this to a filter.",
            f"Media surface = {f'0 {u.area}: none is needed.' if none else f'∞ {u.area}: no filter will do.'}",
        ), needed, "filter.required", needed, "area", system)  # fmt: skip
    rate = _written(float(s.filter.load / s.filter.required) * DAY * 1000.0 * u.square)
    left = grams - beds
    value = left / rate
    return _card("filter", (
        line,
        f"Each {u.each_area} of film takes {_two(rate)} g a day here.",
        f"{_three(left)} ÷ {_two(rate)} = {_two(value)} {u.area} of media surface.",
    ), value, "filter.required", s.filter.required, "area", system)  # fmt: skip


def air(s, system: str) -> Card:
    """Oxygen in the busiest hour, over what reaches the water from each flow of air."""
    u = UNITS[system]
    mass = _written(_in(s.stock.peak_feed, "feed rate", system))
    demand = _in(s.air.demand, "oxygen rate", system)
    each = _written(demand / _in(s.stock.peak_feed, "feed rate", system))
    oxygen = mass * each
    caught = _written(float(s.air.efficiency))
    here = _written(float(s.air.field_factor))
    value = oxygen / (u.air_holds * caught * here)
    return _card("air", (
        f"Oxygen in the busiest hour: {_three(mass)} {u.mass} of feed × {_three(each)} ="
        f" {_three(oxygen)} {u.oxygen}.",
        f"1 {u.air} holds {u.air_holds} {u.oxygen} an hour; {_two(caught)} of it is caught at this"
        f" depth, and {_two(here)} of that in warm fish water.",
        f"{_three(oxygen)} ÷ ({u.air_holds} × {_two(caught)} × {_two(here)}) ="
        f" {_two(value)} {u.air}.",
    ), value, "air.required", s.air.required, "air flow", system)  # fmt: skip


def pump(s, system: str) -> Card:
    """Flow times lift, over a round number, over the efficiency."""
    u = UNITS[system]
    flow = _written(_in(s.pump.flow, "flow", system))
    lift = _written(_in(s.pump.head, "head", system))
    share = _written(float(s.design.pump.efficiency))
    value = flow * lift / u.watts / share
    return _card("pump", (
        f"{_three(flow)} {u.flow} lifted {_two(lift)} {u.lift}, friction counted in.",
        f"Water alone: {_three(flow)} × {_two(lift)} ÷ {u.watts} = {_two(flow * lift / u.watts)} W.",
        f"At the wall: divide by {_two(share)} = {_two(value)} W.",
    ), value, "pump.wire_power", s.pump.wire_power, "power", system)  # fmt: skip


def minutes(s, system: str) -> Card:
    """The oxygen in the water above danger, over what the fish use."""
    u = UNITS[system]
    volume = _written(_in(s.tank.volume_each, "volume", system))
    fall = _written(
        _in(max(s.standby.start - s.design.keep.stress_oxygen, 0.0), "concentration", system)
    )
    store = _written(volume * fall / u.fall)
    used = _written(_in(s.standby.peak_use, "oxygen rate", system))
    value = store / used * 60.0
    label = KINDS["volume"].shown(system).label
    over = f" ÷ {u.fall:,.0f}" if u.fall != 1 else ""
    return _card("standby", (
        f"{_three(volume)} {label} may fall by {_two(fall)} mg/L of oxygen:"
        f" {_three(volume)} × {_two(fall)}{over} = {_three(store)} {u.oxygen}.",
        f"In the busiest hour the tank uses {_three(used)} {u.oxygen}.",
        f"{_three(store)} ÷ {_three(used)} × 60 = {_two(value)} minutes.",
    ), value, "standby.minutes_peak", s.standby.minutes_peak, "minutes", system)  # fmt: skip


MAKERS = {"stock": feed, "tank": tank, "solids": settler, "flow": flow, "filter": filter_card,
          "air": air, "pump": pump, "standby": minutes}  # fmt: skip
"""The maker of each part's card."""
