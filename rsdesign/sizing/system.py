"""size(design): the whole balance, stage by stage, from the fish wanted to the power drawn.

A stage reads the design and the stages before it.  One loop is closed here: the flow sets how
much waste is caught and how much carbon dioxide a stripping filter takes, and both come back
through decaying waste, pH and the ammonia limit to the flow that is needed.  The loop is closed
for the system as planned, with the air and the flow that the fish need: so the ammonia limit
belongs to the water and the fish, and a small pump or much air does not loosen it.  Then
the air and the flow that are really there, the flow where pump and pipe meet, give the pH and the
levels that are really met.
"""

import dataclasses
import functools
from typing import Any

import numpy as np

from .. import equations as eq
from ..core.arrays import exp, log, ratio, where
from ..core.choices import DesignError
from ..core.figures import figures_of
from ..core.kinds import Concentration
from ..design.catalogue import Catalogue, catalogue
from ..design.model import Design, arrays_of, check
from ..equations.fish.loads import ammonia_production
from ..equations.water import properties
from .blocks import in_blocks
from .stages.air import Air, air, air_need, air_setting
from .stages.bed import Bed, bed
from .stages.filter import Filter, filter_stage
from .stages.flow import Flows, exchange, flows, required_flow
from .stages.gas import Gas, exchange_at_site, gas, limit
from .stages.loads import Loads, loads, loads_after_decay, loads_before_decay
from .stages.machines import airlift_air
from .stages.moving import moving
from .stages.power import Standby, standby
from .stages.pump import Pump, pump
from .stages.solids import Solids, decaying_waste, planned_waste, solids
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

        Parameters:
            system: "us", "metric" or "si".
        Returns: the frame; units stand in ``attrs["units"]`` too, by path.
        Raises: ``DesignError`` for many designs: ``rsdesign.sweep`` makes a frame of those.

        Example: ``sizing.table("metric").loc["tank.volume"]``.
        """
        from .notebook import frame  # noqa: PLC0415

        return frame(self, system)

    def working(self, path: str, system: str = "us") -> tuple:
        """The steps behind a figure: formula, numbers, source; a notebook shows them as a table.

        Parameters:
            path: a figure such as ``"pump.head"``, or a part such as ``"filter"``.
            system: "us" or "metric", the units in which numbers are shown.
        Returns: the steps, the last one gives the figure.
        Raises: ``DesignError`` with what there is.

        Example: ``sizing.working("pump.head")``.
        """
        from .notebook import working_of  # noqa: PLC0415

        return working_of(self, path, system)

    def __repr__(self) -> str:
        from .notebook import short  # noqa: PLC0415

        return short(self)

    def _repr_html_(self) -> str:
        from .notebook import html  # noqa: PLC0415

        return html(self)


STAGES: dict[str, Any] = {
    field.name: field.type
    for field in dataclasses.fields(Sizing)
    if field.name not in ("design", "tables")
}
"""The stages of a sizing by name, in order."""


def figures(sizing: Sizing):
    """Every figure of a sizing with its value, stage by stage.

    Parameters:
        sizing: what ``size`` gives.
    Returns: pairs of what is known of a figure (path, words, kind) and its plain (SI) value.

    >>> next(figures(size(Design().with_(goal_fish=180))))[0].path
    'stock.growing_temperature'
    """
    for name, kind in STAGES.items():
        results = getattr(sizing, name)
        for figure in figures_of(name, kind):
            yield figure, getattr(results, figure.name)


@functools.cache
def figure_at(path: str):
    """What is known of a figure, by its path.

    Parameters:
        path: such as ``"tank.volume"``.
    Returns: its words, its kind and its source.
    Raises: ``KeyError`` for no such figure.

    >>> figure_at("tank.volume").kind.name
    'volume'
    """
    stage_name = path.partition(".")[0]
    return {f.path: f for f in figures_of(stage_name, STAGES[stage_name])}[path]


def value_at(sizing: Sizing, path: str):
    """The value of a figure by its path.

    Parameters:
        sizing: what ``size`` gives.
        path: such as ``"tank.volume"``; ``sizing.table()`` lists them.
    Returns: the plain (SI) number, or an array for many designs.

    >>> float(value_at(size(Design().with_(goal_fish=180)), "stock.fish"))
    180.0
    """
    return functools.reduce(getattr, path.split("."), sizing)


def size(design: Design) -> Sizing:
    """The whole balance of a design.

    Parameters:
        design: the ``Design``.  Any choice marked for sweeping may be an array: N designs are then
            computed in one call and every figure is an array of N.
    Returns: the ``Sizing``, with every figure in plain (SI) numbers, stage by stage.
    Raises: ``DesignError`` with one sentence when the design cannot be computed.
    Source: the relations of ``equations``, each with its own; ``Sizing.working`` and ``docs/method.md``
        show them, ``docs/choices.md`` has the source of each choice.

    >>> size(Design().with_(goal_fish=[180, 360])).stock.fish.shape
    (2,)
    """
    check(design)
    return unchecked(design)


def unchecked(design: Design) -> Sizing:
    """``size`` without the check of the choices, for studies that go beyond their ranges."""
    count = _count(design)
    with np.errstate(all="ignore"):  # infinite and undefined margins are answers here
        if count <= BLOCK:
            return _size(design)
        return in_blocks(design, count, BLOCK, _size)


def _size(design: Design) -> Sizing:
    """One block of designs, unchecked."""
    tables = catalogue(design)
    plan = stock(design, tables.species, tables.ration)
    warmest = first_given(design.site.warmest_water, design.site.water_temperature)
    tanks = tank(design, plan, properties.density(warmest), tables)
    setting = air_setting(design, tanks, tables)
    gas_exchange = exchange_at_site(design, setting, tables)
    before_decay = loads_before_decay(design, plan, tables)

    def around(flow):
        """Once around the balance at a flow, with the air that is needed: the flow required."""
        decaying, suspended = planned_waste(design, before_decay, tanks, flow, tables)
        after_decay = loads_after_decay(design, before_decay, decaying)
        new_water = exchange(design, after_decay)
        needed_air = air_need(after_decay, setting, tables)
        limits = limit(
            design, after_decay, setting, gas_exchange, needed_air.required, new_water, flow
        )
        required = required_flow(
            design, after_decay, tanks, needed_air, gas_exchange, limits.ammonia_limit, new_water,
            suspended, tables,
        )  # fmt: skip
        return limits, required

    planned, required = around(_agreed_flow(around, design, plan))
    moved = moving(design, tanks, required.required, warmest, tables)
    flow = moved.flow
    decaying = decaying_waste(design, before_decay, tanks, flow, tables)
    after_decay = loads_after_decay(design, before_decay, decaying)
    all_loads = loads(design, plan, before_decay, after_decay)
    new_water = exchange(design, after_decay)
    needed_air = air_need(after_decay, setting, tables)
    oxygen = air(design, plan, setting, needed_air, airlift_air(design, moved.count), tables)
    limits = limit(design, after_decay, setting, gas_exchange, oxygen.used, new_water, flow)
    gases = gas(
        design, after_decay, setting, gas_exchange, limits, planned.ammonia_limit, oxygen,
        new_water, flow, tables,
    )  # fmt: skip
    biofilter = filter_stage(design, plan, all_loads, oxygen, gases, flow, new_water, tables)
    filter_air = bed(design, all_loads, setting, oxygen, biofilter, tables)
    pumps = pump(design, tanks, plan, moved, warmest, tables)
    return Sizing(
        design=design,
        tables=tables,
        stock=plan,
        loads=all_loads,
        tank=tanks,
        turning=turning(design, plan, tanks, flow, properties.density(warmest)),
        air=oxygen,
        gas=gases,
        flow=flows(design, plan, tanks, required, oxygen, new_water, tables),
        solids=solids(design, all_loads, tanks, flow, new_water, tables),
        filter=biofilter,
        bed=filter_air,
        pump=pumps,
        water=water(design, all_loads, tanks, plan.peak_feed, new_water),
        standby=standby(design, plan, all_loads, tanks, oxygen, filter_air, pumps, tables),
    )


def first_given(value: Concentration | None, otherwise):
    """A choice, or what stands for it where it was left out."""
    return otherwise if value is None else value


def _agreed_flow(around, design: Design, plan: Stock):
    """The flow that equals the flow it requires: a secant in its logarithm, a fixed number of times.

    Around the loop the flow needed rises more slowly than the flow given, so the difference of
    the logarithms has one root; it is nearly a straight line, and six evaluations leave about
    1e-14.  The result is a new number: the working of a figure starts again from it.
    """
    ammonia = ammonia_production.__wrapped__(
        plan.peak_feed, design.stock.protein, design.wastes.ammonia_per_protein
    )
    first = ammonia / (design.keep.total_ammonia * design.filter.removal)
    x = log(first)
    required = log(around(first)[-1].required)
    slope = 0.0
    for _ in range(SEARCHES - 1):
        if settled(required - x):
            break
        x_next = x + (required - x) / (1.0 - slope)
        next_required = log(around(exp(x_next))[-1].required)
        slope = ratio(next_required - required, x_next - x, 0.0)
        slope = where(abs(slope) < STEEPEST, slope, 0.0)
        x, required = x_next, next_required
    return eq.solids.agreed_flow(exp(x + (required - x) / (1.0 - slope)))


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
