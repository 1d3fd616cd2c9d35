"""size(design): the whole balance, stage by stage, from the fish wanted to the power drawn.

A stage reads the design and the stages before it.  One loop is closed here: the flow sets how
much waste is caught and how much carbon dioxide a stripping filter takes, and both come back
through rotting waste, pH and the ammonia limit to the flow that is needed.  The loop is closed
for the system as planned, with the air and the flow that the fish need: so the ammonia limit
belongs to the water and the fish, and a small pump or much air does not loosen it.  Then
the air and the flow that are really there, the flow where pump and pipe meet, give the pH and the
levels that are really met.
"""

import dataclasses
import functools

import numpy as np

from .. import equations as eq
from ..core.arrays import exp, log, ratio, where
from ..core.choices import DesignError
from ..core.figures import figures_of
from ..core.kinds import Concentration
from ..design.catalogue import Catalogue, catalogue
from ..design.model import Design, arrays_of, check, with_values
from ..equations.fish.loads import ammonia_production
from ..equations.water import properties
from .stages.air import Air, air, need, setting
from .stages.bed import Bed, bed
from .stages.filter import Filter, filter_stage
from .stages.flow import Flows, asked_flow, exchange, flows
from .stages.gas import Gas, gas, gas_exchange, limit
from .stages.loads import Loads, after_rotting, before_rotting, loads
from .stages.machines import airlift_air
from .stages.moving import moving
from .stages.power import Standby, standby
from .stages.pump import Pump, pump
from .stages.solids import Solids, planned_waste, rotting_waste, solids
from .stages.stock import Stock, stock
from .stages.tank import Tank, Turning, tank, turning
from .stages.water import Water, water

BLOCK = 16000
"""Designs computed at a time: arrays of this length stay in a processor's cache."""

SEARCHES = 7
"""Most evaluations of the loop; a secant in the logarithm of the flow, see ``_agreed_flow``."""

AGREED = 1e-13
"""Relative difference at which the loop has settled: below what arrays and floats may differ."""

STEEPEST = 0.95
"""Slopes beyond this are not believed, and the plain step is taken."""


@dataclasses.dataclass(frozen=True, slots=True, eq=False)
class Sizing:
    """Every result of a design, stage by stage; ``parts`` and ``checks`` judge them."""

    design: Design
    tables: Catalogue
    stock: Stock
    loads: Loads
    tank: Tank
    turning: Turning
    air: Air
    gas: Gas
    flow: Flows
    solids: Solids
    filter: Filter
    bed: Bed
    pump: Pump
    water: Water
    standby: Standby

    @property
    def parts(self) -> tuple:
        """Each part with what is required, provided, the rule of thumb and the margin."""
        from .margins import parts  # noqa: PLC0415  (a view of the results, made when asked)

        return parts(self)

    @property
    def checks(self) -> tuple:
        """Every check, worst first; a notebook shows them as a table."""
        from .margins import checks  # noqa: PLC0415
        from .notebook import CheckRows  # noqa: PLC0415

        return CheckRows(checks(self))

    def __getitem__(self, path: str):
        """A figure by its path as a pint quantity: ``sizing["tank.volume"].to("gal")``."""
        from .notebook import quantity_at  # noqa: PLC0415  (pint is met only by who asks)

        return quantity_at(self, path)

    def _ipython_key_completions_(self) -> list[str]:
        return [figure.path for figure, _ in figures(self)]

    def table(self, system: str = "us"):
        """Every figure as a pandas frame: part, figure, value, unit, source; the path as index.

        Parameters: ``system``, "us", "metric" or "si".  Units stand in ``attrs["units"]`` too, by
        path.  Raises ``DesignError`` for many designs: ``rsdesign.sweep`` makes a frame of those.
        """
        from .notebook import frame  # noqa: PLC0415

        return frame(self, system)

    def working(self, path: str, system: str = "us") -> tuple:
        """The steps behind a figure: formula, numbers, source; a notebook shows them as a table."""
        from .notebook import working_of  # noqa: PLC0415

        return working_of(self, path, system)

    def __repr__(self) -> str:
        from .notebook import short  # noqa: PLC0415

        return short(self)

    def _repr_html_(self) -> str:
        from .notebook import html  # noqa: PLC0415

        return html(self)


STAGES = {
    field.name: field.type
    for field in dataclasses.fields(Sizing)
    if field.name not in ("design", "tables")
}
"""The stages of a sizing by name, in order."""


def figures(sizing: Sizing):
    """Every figure of a sizing with its value, stage by stage: pairs (Figure, value)."""
    for name, kind in STAGES.items():
        results = getattr(sizing, name)
        for figure in figures_of(name, kind):
            yield figure, getattr(results, figure.name)


@functools.cache
def figure_at(path: str):
    """What is known of a figure, by its path such as ``tank.volume``; KeyError for no such one."""
    stage_name = path.partition(".")[0]
    return {f.path: f for f in figures_of(stage_name, STAGES[stage_name])}[path]


def value_at(sizing: Sizing, path: str):
    """The value of a figure by its path."""
    return functools.reduce(getattr, path.split("."), sizing)


def size(design: Design) -> Sizing:
    """The whole balance of a design.

    Any choice marked for sweeping may be an array; N designs are then computed in one call and
    every figure is an array of N.  Raises ``DesignError`` with one sentence when the design
    cannot be computed.
    """
    check(design)
    return unchecked(design)


def unchecked(design: Design) -> Sizing:
    """``size`` without the check of the choices, for studies that go beyond their ranges."""
    count = _count(design)
    with np.errstate(all="ignore"):  # infinite and undefined margins are answers here
        if count <= BLOCK:
            return _size(design)
        return _in_blocks(design, count)


def _size(design: Design) -> Sizing:
    """One block of designs, unchecked."""
    tables = catalogue(design)
    plan = stock(design, tables.species, tables.ration)
    warm = _or(design.site.warmest_water, design.site.water_temperature)
    room = tank(design, plan, properties.density(warm), tables)

    here = setting(design, room, tables)
    passing = gas_exchange(design, here, tables)

    bare = before_rotting(design, plan, tables)

    def around(flow):
        """Once around the balance at a flow, with as much air as is needed: the flow asked for."""
        rotting, suspended = planned_waste(design, bare, room, flow, tables)
        made = after_rotting(design, bare, rotting)
        new_water = exchange(design, made)
        aired = need(made, here, tables)
        found = limit(design, made, here, passing, aired.required, new_water, flow)
        asked = asked_flow(
            design, made, room, aired, passing, found.ammonia_limit, new_water, suspended,
            tables,
        )  # fmt: skip
        return found, asked

    planned = _agreed_flow(around, design, plan)
    ideal, asked = around(planned)
    most = ideal.ammonia_limit
    by = moving(design, room, asked.required, warm, tables)
    flow = by.flow
    rotting = rotting_waste(design, bare, room, flow, tables)
    living = after_rotting(design, bare, rotting)
    made = loads(design, plan, bare, living)
    new_water = exchange(design, living)
    aired = need(living, here, tables)
    oxygen = air(design, plan, here, aired, airlift_air(design, by.count), tables)
    found = limit(design, living, here, passing, oxygen.used, new_water, flow)
    gases = gas(design, living, here, passing, found, most, oxygen, new_water, flow, tables)
    left = solids(design, made, room, flow, new_water, tables)
    cleaned = filter_stage(design, plan, made, oxygen, gases, flow, new_water, tables)
    rolled = bed(design, made, here, oxygen, cleaned, tables)
    moved = pump(design, room, plan, by, warm, tables)
    return Sizing(
        design=design,
        tables=tables,
        stock=plan,
        loads=made,
        tank=room,
        turning=turning(design, plan, room, flow, properties.density(warm)),
        air=oxygen,
        gas=gases,
        flow=flows(design, plan, room, asked, oxygen, new_water, tables),
        solids=left,
        filter=cleaned,
        bed=rolled,
        pump=moved,
        water=water(design, made, room, plan.peak_feed, new_water),
        standby=standby(design, plan, made, room, oxygen, rolled, moved, tables),
    )


def _or(value: Concentration | None, otherwise):
    return otherwise if value is None else value


def _agreed_flow(around, design: Design, plan: Stock):
    """The flow that asks for itself: a secant in its logarithm, a fixed number of times.

    Around the loop the flow needed rises more slowly than the flow given, so the difference of
    the logarithms has one root; it is nearly a straight line, and six evaluations leave about
    1e-14.  The result is a new number: the working of a figure starts again from it.
    """
    ammonia = ammonia_production.__wrapped__(plan.peak_feed, design.stock.protein)
    first = ammonia / (design.keep.total_ammonia * design.filter.removal)
    x = log(first)
    asked = log(around(first)[-1].required)
    slope = 0.0
    for _ in range(SEARCHES - 1):
        if settled(asked - x):
            break
        x_next = x + (asked - x) / (1.0 - slope)
        next_asked = log(around(exp(x_next))[-1].required)
        slope = ratio(next_asked - asked, x_next - x, 0.0)
        slope = where(abs(slope) < STEEPEST, slope, 0.0)
        x, asked = x_next, next_asked
    return eq.solids.agreed_flow(exp(x + (asked - x) / (1.0 - slope)))


def settled(difference) -> bool:
    """Whether every design's flow agrees with itself to the last bits."""
    if type(difference) is float:
        return abs(difference) < AGREED
    return bool(np.all(np.abs(difference) < AGREED))


# --- many designs --------------------------------------------------------------------------


def _count(design: Design) -> int:
    """How many designs the arrays of a design hold; 1 for a single design."""
    sizes = {path: value.size for path, value in arrays_of(design).items()}
    if len(set(sizes.values())) > 1:
        raise DesignError(
            "The swept choices have different lengths: "
            + ", ".join(f"{path} {size}" for path, size in sizes.items())
            + ". Give every one the same number of values."
        )
    return max(sizes.values(), default=1)


def _block(design: Design, rows: slice) -> Design:
    return with_values(design, {path: value[rows] for path, value in arrays_of(design).items()})


def _in_blocks(design: Design, count: int) -> Sizing:
    """Many designs, a block at a time; a figure that is the same for all stays one number.

    Numbers of a block go straight to their rows of one table, so that the memory of a block
    serves the next one; names, of which the longest is not known ahead, are joined at the end.
    """
    kept: dict[tuple, object] = {}
    for start in range(0, count, BLOCK):
        rows = slice(start, min(start + BLOCK, count))
        block = _size(_block(design, rows))
        found = {
            (name, f.name): getattr(getattr(block, name), f.name)
            for name in STAGES
            for f in dataclasses.fields(getattr(block, name))
        }
        if start == 0:
            table = np.empty((sum(map(_is_row, found.values())), count))
            place = iter(table)
            kept = {key: next(place) if _is_row(v) else v for key, v in found.items()}
            names = {key: [] for key, v in found.items() if _is_names(v)}
        for key, value in found.items():
            if key in names:
                names[key].append(value)
            elif _is_row(value):
                kept[key][rows] = value
    kept |= {key: np.concatenate(values) for key, values in names.items()}
    stages = {
        name: type(getattr(block, name))(
            *(kept[name, f.name] for f in dataclasses.fields(getattr(block, name)))
        )
        for name in STAGES
    }
    return Sizing(design=design, tables=block.tables, **stages)


def _is_row(value) -> bool:
    return isinstance(value, np.ndarray) and value.ndim == 1 and value.dtype == float


def _is_names(value) -> bool:
    return isinstance(value, np.ndarray) and value.ndim == 1 and value.dtype != float
