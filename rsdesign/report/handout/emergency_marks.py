"""What an emergency card says of this very system: marks of valves, circuits, levels when the pump stops."""

from dataclasses import dataclass

from ...building.circuits import Circuit
from ...building.graph import Layout, Run
from ...building.problems import tape
from ...building.run_down import room, run_down
from ...core.language import listed
from ...sizing.system import Sizing
from ..building.all_lists import building_of
from ..drawings.building.numbers import Numbers, numbers


@dataclass(frozen=True, slots=True)
class Here:
    """Sentences for the boxes of the card; "" where the system has no such part."""

    panel: str
    levels: str
    spare_pump: str
    spare_air: str
    shut: str
    filter_air: str
    """Circuits of the filter's own air."""


def here(sizing: Sizing, system: str) -> Here:
    """The sentences of one design, each from its layout."""
    found = building_of(sizing)
    marks = numbers(found.layout)
    return Here(
        _panel(found.circuits), levels_at_rest(found.layout, system), _spare_pump(found.layout, marks),
        _spare_air(found.layout, marks, found.circuits), _shut(found.layout, marks),
        _filter_air(found.circuits),
    )  # fmt: skip


NAMES = {
    "air machine": "air of the tanks",
    "filter air machine": "air of the filter",
    "pump": "pump",
    "heater": "heater",
    "charger": "battery charger",
    "work": "lights and alarm",
}
"""What circuits feed, by the machine, as the card calls it."""


def _panel(circuits: tuple[Circuit, ...]) -> str:
    """Which breaker is whose."""
    told: dict[str, list[str]] = {}
    for c in circuits:
        told.setdefault(c.machine, []).append(str(c.number))
    return "; ".join(f"{NAMES[machine]} {listed(marks)}" for machine, marks in told.items())


def _filter_air(circuits: tuple[Circuit, ...]) -> str:
    """The circuits of the filter's air machines in words; "" where it has none."""
    found = [str(c.number) for c in circuits if c.machine == "filter air machine"]
    many = "circuit" if len(found) == 1 else "circuits"
    return f"{many} {listed(found)}" if found else ""


def levels_at_rest(layout: Layout, system: str) -> str:
    """How far the tanks fall and the sump rises when the pump stops, and that it is no leak."""
    tank, sump = layout.vessel("tank"), layout.vessel("sump")
    assert tank is not None
    assert sump is not None
    down = run_down(layout)
    fall = next(one.fall for one in down if one.name == "tank")
    area = sump.across * sump.length
    rise, clear = sum(one.volume for one in down) / area, room(layout) / area
    which = "The tank falls" if tank.count == 1 else "Each tank falls"
    words = f"{which} {tape(fall, system)} and stands. The sump rises {tape(rise, system)}"
    if rise <= clear:
        return f"{words}; its screened overflow lies {tape(clear, system)} up."
    return f"{words}; over {tape(clear, system)} it runs out at its screened overflow."


def _of(marks: Numbers, run: Run, *kinds: str) -> list[str]:
    return [mark for mark, fitting in marks.fitted(run) if fitting.kind in kinds]


def _spare_pump(layout: Layout, marks: Numbers) -> str:
    """How the spare pump takes the place of one that stopped."""
    run = layout.run("riser") or layout.run("main")
    pump = next((m for m in layout.machines if m.kind == "pump"), None)
    if run is None or pump is None or not pump.spare:
        return ""
    opened, held = _of(marks, run, "union", "flexible coupling"), _of(marks, run, "check valve")
    if not opened or not held:
        return ""
    return (f"Power off: look at plug, float and screen. Still stopped? Open {listed(opened)}, set the spare pump in;"
            f" check valve {listed(held)} stays.")  # fmt: skip


def _spare_air(layout: Layout, marks: Numbers, circuits: tuple[Circuit, ...]) -> str:
    """How the spare air machine is started; it hangs in the pipe already."""
    run = layout.run("air riser")
    spare = [
        str(c.number)
        for c in circuits
        if c.machine == "air machine" and c.feeds.endswith("the spare machine")
    ]
    held = _of(marks, run, "check valve") if run else []
    if not spare or not held:
        return ""
    circuit = "circuit" if len(spare) == 1 else "circuits"
    return f"Switch on the spare machine ({circuit} {listed(spare)}), behind check valve {listed(held)}."


SHUT = ("centre drain", "sludge")
"""Pipes at the foot of a vessel whose valves are shut when water runs out."""


def _shut(layout: Layout, marks: Numbers) -> str:
    """The valves to shut when water runs out."""
    told = [listed(found) for name in SHUT
            if (run := layout.run(name)) and (found := _of(marks, run, "ball valve"))]  # fmt: skip
    return f"Shut {listed(told)}." if told else ""
