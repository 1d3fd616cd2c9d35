"""The air machine that costs least a year for each of many designs.

With as much air as is needed, or more, the water is the same, so machines need no sizing of their own:
what counts is the air that each gives at the pressure, what stands by, and what it draws.
"""

import functools
from dataclasses import dataclass, replace

import numpy as np

from ... import equations as eq
from ...equations.air.blowers import altitude_factor, curve_pressure, most_pressure
from ...equations.air.devices import ROOM, Machine
from ...sizing.checks.computed import cheapest_machine
from ...sizing.checks.rows import check_rows
from ...sizing.stages.power import standby
from ...sizing.system import Sizing
from .money import item_year, power_year, price_and_life
from .sized import ENOUGH, Placed, Wet


@dataclass(frozen=True, eq=False)
class Running:
    """One machine in many designs: where it will do, and the numbers that hang on it."""

    good: np.ndarray
    wire: np.ndarray
    mean: np.ndarray
    plates: np.ndarray
    total: np.ndarray
    after_failure: np.ndarray


@functools.cache
def watts_limit() -> float:
    """How far a machine may draw more than the one that draws least, as the check asks."""
    return float(next(row.high for row in check_rows() if row.figure == "watts_over_least"))


def least_watts(sizing: Sizing) -> np.ndarray:
    """For each design the least watts that bring the air it needs."""
    best = cheapest_machine(sizing)
    return np.asarray(best.plate_watts * best.count)


def running(sizing: Sizing, row: Machine, count: float, least: np.ndarray, times: float) -> Running:
    """So many of a machine in many designs, with ``times`` the air that is needed at least."""
    need, stock = sizing.air, sizing.stock
    gauge = need.discharge_pressure
    thinner = altitude_factor.__wrapped__(need.pressure, sizing.design.air.intake_temperature)
    reading = curve_pressure.__wrapped__(gauge, thinner, row.by_density)
    most = most_pressure.__wrapped__(row.last, thinner, row.by_density)
    each = row.each
    with np.errstate(all="ignore"):
        spare = eq.air.spare_machines.__wrapped__(
            need.required, each, need.mean_demand, need.demand, 0.0, count
        )
        mean_count = eq.air.machines_on_mean_day.__wrapped__(
            need.required, each, stock.mean_feed, stock.peak_feed, 0.0, count
        )
        off = eq.air.air_after_failure.__wrapped__(each, count, spare, 0.0)
        mean_air = need.required * need.mean_demand / need.demand
    wire = np.broadcast_to(np.asarray(row.plate_watts * count, float), np.shape(gauge))
    good = (each * count >= times * need.required * ENOUGH) & (each > 0.0)
    good &= off >= times * mean_air * ENOUGH
    good &= (gauge >= row.suits_from * ENOUGH) & (gauge * ENOUGH <= row.suits_to)
    good &= (most >= ROOM * gauge * ENOUGH) & (reading <= row.last)
    if (
        times <= 1.0
    ):  # ample air draws more than the need of the middle day, and its power is in the cost
        good &= (least <= 0.0) | (wire * ENOUGH <= watts_limit() * least)
    return Running(
        good, wire, wire * mean_count / count, wire * (count + spare) / count, each * count, off
    )


@dataclass(frozen=True, eq=False)
class Aired:
    """Designs with their air machines: places, and the draw of each; -1 where none will do."""

    place: np.ndarray
    wire: np.ndarray
    mean: np.ndarray
    plates: np.ndarray
    total: np.ndarray
    after_failure: np.ndarray


def cheapest_air(found: Wet, offers: list[Placed], days: float, times: float = 1.0) -> Aired:
    """For each design the air machine that costs least a year, with ``times`` the air needed at least."""
    s, count = found.sizing, len(found)
    least, cheapest = least_watts(s), np.full(count, np.inf)
    got = Aired(np.full(count, -1), *(np.zeros(count) for _ in range(5)))
    thinner = altitude_factor.__wrapped__(s.air.pressure, s.design.air.intake_temperature)
    rows = {
        name: s.tables.choose_air(s.air.in_all, s.air.discharge_pressure, thinner, device=name)
        for name in {offer.values["air.device"] for _, offer in offers}
    }
    for place, offer in offers:
        row, so_many = rows[offer.values["air.device"]], float(offer.values.get("air.count", 1.0))
        if not np.any(row.each * so_many >= s.air.required * ENOUGH):
            continue
        one = running(s, row, so_many, least, times)
        if not one.good.any():
            continue
        price, life = price_and_life(s.design, offer)
        cost = item_year(s.design, price * (one.plates + s.bed.wire_power), life)
        cost = cost + power_year(s.design, one.mean, days)
        less = one.good & (cost < cheapest)
        cheapest[less], got.place[less] = cost[less], place
        for name in ("wire", "mean", "plates", "total", "after_failure"):
            getattr(got, name)[less] = np.broadcast_to(getattr(one, name), (count,))[less]
    return got


def built(found: Wet, machine: Aired) -> Sizing:
    """The sizing with the air machines and the pumps chosen, as their plates say what they draw."""
    s = found.sizing
    air = replace(
        s.air, wire_power=machine.wire, mean_power=machine.mean, plate_watts=machine.plates,
        total=machine.total, provided=machine.total,
    )  # fmt: skip
    pump = replace(s.pump, plate_watts=found.plates)
    ready = standby(s.design, s.stock, s.loads, s.tank, air, s.bed, pump, s.tables)
    return replace(s, air=air, pump=pump, standby=ready)
