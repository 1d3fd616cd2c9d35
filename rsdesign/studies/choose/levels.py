"""From part to part: what fails alone never enters the product; what acts together is sized together.

A tank is judged by its room and shape alone, a pump with its pipe by speed and head alone, both
together by how the water turns.  What is left is sized as a whole with every settler and filter: the
flow where pump and pipe meet is all that the sizing feels of them.  Air machines come last: with as
much air as is needed, or more, the water is the same.
"""

from dataclasses import dataclass, fields, replace
from types import SimpleNamespace

import numpy as np

from ...design.catalogue import catalogue
from ...design.model import Design, with_values
from ...equations.pumps.duty_point import TRICKLE
from ...equations.water import properties
from ...sizing.stages.moving import PressureLine, fittings
from ...sizing.stages.tank import turning
from ...sizing.system import Sizing, unchecked
from . import feasible
from .money import cheapest_alike
from .offers import Offer, Offers

OPEN = (
    "tank.width", "tank.length", "solids.area", "filter.media_volume", "filter.vessels", "filter.depth",
    "air.machine", "air.device", "air.count", "air.spare", "air.flow", "air.plate_watts",
    "air.line_diameter", "pump.flow", "pump.bucket_time", "pump.model", "pump.count", "pump.pipe",
    "pump.drain_pipe", "pump.standpipe",
)  # fmt: skip
"""What a design says of parts that are chosen anew."""


def opened(sizing: Sizing) -> Design:
    """The design with every part open that is for sale; its fish, site and number of tanks stay."""
    values = dict.fromkeys(OPEN) | {
        "pump.kind": "pump",
        "pump.none": False,
        "tank.count": float(sizing.stock.tanks),
    }
    return with_values(sizing.design, values)


def rows_of(stage, places):
    """Some rows of a stage of many designs."""
    return replace(stage, **{
        f.name: x[places] for f in fields(stage) if np.ndim(x := getattr(stage, f.name))
    })  # fmt: skip


def column(offers: list[Offer], path: str) -> np.ndarray:
    """A number that every offer sets."""
    return np.array([offer.values[path] for offer in offers], float)


@dataclass(frozen=True, eq=False)
class Tanks:
    """The tanks of one shape that have room and shape alone, sized with nothing else; their places among the offers."""

    places: np.ndarray
    sizing: Sizing
    values: dict[str, np.ndarray]


def tanks(base: Design, for_sale: Offers, failed: dict) -> list[Tanks]:
    """The tanks that stand alone, those of one shape together; of things alike the cheapest."""
    all_tanks = for_sale.part("tank")
    shapes: dict[tuple, list[int]] = {}
    for place in cheapest_alike(base, all_tanks):
        values = all_tanks[place].values
        shape = values.get("tank.shape", base.tank.shape)
        shapes.setdefault((shape, "tank.length" in values), []).append(place)
    found = []
    for (shape, long), places in shapes.items():
        offers = [all_tanks[place] for place in places]
        words = {"tank.shape": shape}
        values = _tank_values(base, offers, long)
        sized = unchecked(with_values(base, words | values))
        good = np.flatnonzero(feasible.all_stand(sized, feasible.PLAN, len(offers), failed))
        if good.size:
            values = {path: numbers[good] for path, numbers in values.items()}
            sized = unchecked(with_values(base, words | values))
            found.append(Tanks(np.array(places)[good], sized, values))
    return found


def _tank_values(base: Design, offers: list[Offer], long: bool) -> dict[str, np.ndarray]:
    values = {"tank.width": column(offers, "tank.width")}
    if long:
        values["tank.length"] = column(offers, "tank.length")
    depths = [o.values.get("tank.depth", base.tank.depth) for o in offers]
    return values | {"tank.depth": np.array(depths, float)}


@dataclass(frozen=True, eq=False)
class Pumps:
    """Pumps, each with a pipe: the offers, the flow where both meet, and the watts of the plates."""

    pump: np.ndarray
    pipe: np.ndarray
    flow: np.ndarray
    watts: np.ndarray
    head: np.ndarray


def pumps(base: Design, for_sale: Offers, failed: dict) -> Pumps:
    """Every pump with every pipe of which speed and head stand alone, by the flow where they meet."""
    tables, choice = catalogue(base), base.pump
    of_pump, of_pipe = for_sale.part("pump"), for_sale.part("pipe")
    pump, pipe = (
        x.ravel()
        for x in np.meshgrid(
            cheapest_alike(base, of_pump), cheapest_alike(base, of_pipe), indexing="ij"
        )
    )
    rows = [tables.pump(o.values["pump.model"]) for o in of_pump]
    row = SimpleNamespace(**{
        name: np.array([getattr(r, name) for r in rows])[pump]
        for name in ("shutoff_head", "free_flow", "plate_watts")
    })  # fmt: skip
    count = np.array([float(o.values.get("pump.count", 1.0)) for o in of_pump])[pump]
    inside = np.array([tables.pipe(o.values["pump.pipe"]).inside_diameter for o in of_pipe])[pipe]
    warmest = base.site.warmest_water
    warmest = base.site.water_temperature if warmest is None else warmest
    line = PressureLine(
        TRICKLE,
        choice.lift,
        choice.length,
        choice.roughness,
        fittings(choice, tables),
        warmest,
        tables,
    )  # one pipe: what is too fast in it is refused
    guess = 0.5 * row.free_flow * count
    with np.errstate(all="ignore"):
        flow = line.meets(guess, inside, line.pumps(guess, inside, row, count))
        velocity = flow / (np.pi / 4.0 * inside**2)
        head = choice.lift + line.friction(flow, inside)
    stub = SimpleNamespace(
        design=base, tables=tables, pump=SimpleNamespace(velocity=velocity, head=head)
    )
    good = feasible.all_stand(stub, feasible.PUMP, len(pump), failed) & (flow > TRICKLE)
    return Pumps(*(x[good] for x in (pump, pipe, flow, row.plate_watts * count, head)))


@dataclass(frozen=True, eq=False)
class Pairs:
    """Tanks with pumps that turn their water: places among both."""

    tank: np.ndarray
    pump: np.ndarray


def pairs(of: Tanks, with_pumps: Pumps, failed: dict) -> Pairs:
    """Every tank with every pump where the water turns as it should; only these are sized."""
    sized = of.sizing
    tank, pump = (
        x.ravel()
        for x in np.meshgrid(
            np.arange(len(of.places)), np.arange(len(with_pumps.flow)), indexing="ij"
        )
    )
    vessels = rows_of(sized.tank, tank)
    warmest = sized.air.temperature
    turned = turning(
        sized.design, sized.stock, vessels, with_pumps.flow[pump], properties.density(warmest)
    )
    stub = SimpleNamespace(
        design=sized.design, tables=sized.tables, stock=sized.stock, tank=vessels, turning=turned
    )
    good = feasible.all_stand(stub, feasible.TURNING, len(tank), failed)
    return Pairs(tank[good], pump[good])
