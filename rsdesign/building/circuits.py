"""Circuits: one for each machine whose stop would hurt, watts and amperes; an electrician checks them."""

import math
from dataclasses import dataclass

from ..sizing.system import Sizing
from ..studies.heat.study import study as heat_study
from .backup_power import charger_watts
from .graph import Layout, Machine
from .rules import rule

BREAKERS = (15.0, 20.0, 30.0, 40.0, 50.0, 60.0, 80.0, 100.0, 125.0, 150.0, 200.0)
"""Breakers of the trade [A]."""


@dataclass(frozen=True, slots=True)
class Circuit:
    """A circuit: what it feeds, its watts and volts, the breaker that the rule asks for, its protection."""

    number: int
    feeds: str
    machine: str
    watts: float
    volts: float
    amperes: float
    breaker: float
    way: float
    ground_fault: bool = True


def next_breaker(amperes: float) -> float:
    """The next breaker or fuse of the trade; a larger one in whole amperes [A]."""
    return next((b for b in BREAKERS if b >= amperes - 1e-9), float(math.ceil(amperes)))


def heaters(s: Sizing) -> tuple[int, float]:
    """How many heaters to install by the heat of the design, and what each draws at the wall [W].

    None where there is no heat to be sized.
    """
    if s.design.climate.heated != "yes" or s.design.climate.weather is None:
        return 0, 0.0
    found = heat_study(s).heating
    many = max(1, round(float(found.heater) / max(float(found.heater_each), 1e-9)))
    watts = float(found.heater) / many / float(s.design.climate.heater_performance)
    return (many, watts) if watts > 0.0 else (0, 0.0)


def circuits(layout: Layout) -> tuple[Circuit, ...]:
    """The circuits of a layout, each machine of the air on its own, pumps on at least as many as two."""
    found: list[Circuit] = []

    def add(feeds: str, machine: str, watts: float) -> None:
        volts = rule("mains volts") if watts <= rule("most on mains") else rule("high volts")
        amperes = watts / volts
        wanted = amperes / rule("breaker share")
        breaker = next_breaker(wanted)
        found.append(Circuit(len(found) + 1, feeds, machine, watts, volts, amperes, breaker,
                             rule("circuit way")))  # fmt: skip

    for m in layout.machines:
        _machine(m, add)
    many, heat = heaters(layout.sizing)
    for k in range(many):
        add("water heater" if many == 1 else f"water heater {k + 1} of {many}", "heater", heat)
    charger = charger_watts(layout.sizing)
    if charger > 0.0:
        add("charger of the backup", "charger", charger)
    add("lights, alarm and one outlet to work with", "work", rule("work watts"))
    return tuple(found)


def _machine(m: Machine, add) -> None:
    if m.kind == "air":
        for k in range(m.running):
            add(
                m.duty if m.running == 1 else f"{m.duty}, machine {k + 1} of {m.running}",
                m.name,
                m.watts,
            )
        for _ in range(m.spare):
            add(f"{m.duty}, the spare machine", m.name, m.watts)
        return
    most = max(1, math.floor(rule("most on mains") / m.watts)) if m.watts > 0 else m.running
    many = max(math.ceil(m.running / most), min(2, m.running))
    left = m.running
    for k in range(many):
        here = math.ceil(left / (many - k))
        left -= here
        words = "pump" if here == 1 else f"{here} pumps"
        add(words, m.name, here * m.watts)
