"""Settling of waste: how fast it falls, and what a basin catches."""

from math import pi

import numpy as np

from ...core import kinds
from ...core.arrays import bisect, exp, for_load, least, log, most, power, ratio, sqrt, where
from ...core.equation import definition, equation
from ..water import properties

GRAVITY = 9.80665


def _drag(reynolds):
    """Drag coefficient of a sphere in three regimes, joined where they meet."""
    slow = 24.0 / most(reynolds, 1e-30)  # units of the source
    middle = slow * (1.0 + 0.14 * power(most(reynolds, 1e-30), 0.7))
    return where(
        reynolds < 0.1, slow, where(reynolds <= 1000.0, middle, 0.44)
    )  # units of the source


def _terminal(diameter, particle_density, density, viscosity):
    """Terminal velocity: the force balance is solved by halving, in the logarithm."""
    heavier = most(particle_density - density, 0.0)
    highest = sqrt(4.0 * GRAVITY * heavier * diameter / (3.0 * 0.44 * density))
    stokes = GRAVITY * heavier * diameter * diameter / (18.0 * viscosity)

    def surplus(x):
        velocity = exp(x)
        reynolds = density * velocity * diameter / viscosity
        return _drag(reynolds) * velocity * velocity - (
            4.0 * GRAVITY * heavier * diameter / (3.0 * density)
        )

    top = log(least(most(highest, 1e-30) * 4.0, most(stokes, 1e-30) * 1.0001))
    found = exp(bisect(surplus, top - 12.0, top))
    return where(heavier > 0.0, found, 0.0)


def _captured(flow, area, velocities, shares):
    """Each class falls out in proportion to its velocity, up to all of it."""
    load = flow / area
    found = 0.0
    for velocity, share in zip(
        np.ravel(velocities).tolist(), np.ravel(shares).tolist(), strict=True
    ):
        found = found + share * least(1.0, ratio(velocity, load, 1.0))
    return found


@definition(
    "v",
    "Stokes 1851, as in textbooks",
    valid="Reynolds number below about 1",
    example="round(stokes_velocity_in(1e-4, 1150.0, 996.2, 8.3e-4), 6) == 0.00101",
)
def stokes_velocity_in(
    diameter: kinds.GrainSize,
    particle_density: kinds.Density,
    density: kinds.Density,
    viscosity: kinds.Viscosity,
) -> kinds.SettlingVelocity:
    """Stokes settling velocity of a small sphere in a fluid."""
    return GRAVITY * (particle_density - density) * diameter * diameter / (18.0 * viscosity)


@equation(
    latex=r"v = \sqrt{\frac{4 g \left(\rho_p - \rho\right) d}{3 C_d \rho}}",
    source="force balance with drag 24/Re, 24/Re (1 + 0.14 Re^0.7), 0.44, joined at Re 0.1 "
    "and 1000, as in fluid-particle textbooks",
    valid="spheres in still water",
)
def settling_velocity_in(
    diameter: kinds.GrainSize,
    particle_density: kinds.Density,
    density: kinds.Density,
    viscosity: kinds.Viscosity,
) -> kinds.SettlingVelocity:
    """Settling velocity of a sphere in a fluid, in every regime.

    >>> round(settling_velocity_in(0.208e-3, 1800.0, 994.6, 8.931e-4), 7)
    0.0157816
    """
    return _terminal(diameter, particle_density, density, viscosity)


@definition("A", example="round(surface_area(0.00556, 0.00139), 6) == 4.0")
def surface_area(flow: kinds.Flow, overflow_rate: kinds.HydraulicLoad) -> kinds.Area:
    """Plan area of a settler."""
    return flow / overflow_rate


@definition("v", example="overflow_rate(0.5, 2.0) == 0.25")
def overflow_rate(flow: kinds.Flow, area: kinds.Area) -> kinds.HydraulicLoad:
    """Overflow rate: flow over the plan area of a settler."""
    return flow / area


@definition("Q_s", example="settler_flow(0.5, 0.5) == 0.25")
def settler_flow(flow: kinds.Flow, share: kinds.Fraction) -> kinds.Flow:
    """Flow that passes the settler."""
    return flow * share


@equation(
    latex=r"x = \sum_i w_i \min\left(1, \frac{v_i A}{Q}\right)",
    source="ideal settling basin, Hazen 1904, as in textbooks",
    valid="still flow, no resuspension",
    basis="derived",
)
def captured_fraction(
    flow: kinds.Flow,
    area: kinds.Area,
    velocities: kinds.SettlingVelocity,
    mass_fractions: kinds.Fraction,
) -> kinds.Fraction:
    """Share of waste that an ideal basin catches.

    ``velocities`` and ``mass_fractions``: a row of grain classes; flow and area broadcast.

    >>> captured_fraction(0.001, 1.0, np.array([0.0005, 0.002]), np.array([0.5, 0.5]))
    0.75
    """
    return _captured(flow, area, velocities, mass_fractions)


@definition(
    "x_c",
    "short-circuits and stirring leave about half of the ideal",
    valid="small settlers",
    basis="common practice",
    example="captured_share(0.5, 0.5, 1.0) == 0.25",
)
def captured_share(
    ideal: kinds.Fraction, effectiveness: kinds.Fraction, share: kinds.Fraction
) -> kinds.Fraction:
    """Share of settleable waste that a real settler catches of the whole flow."""
    return ideal * effectiveness * share


@definition(
    "x",
    "first-order leaching, two fifths a day; mean over the time between drainings",
    valid="sludge in warm water",
    basis="common practice",
    example="round(drained_share(86400.0), 3) == 0.824",
)
def drained_share(
    drain_interval: kinds.Hours,
    leaching: kinds.RatePerTime = 0.4 / 86400.0,  # units of the source
) -> kinds.Fraction:
    """Share of caught waste that leaves by the drain before it dissolves again."""
    return ratio(1.0 - exp(-1.0 * leaching * drain_interval), leaching * drain_interval, 1.0)


@definition("q", example="round(sludge_volume(1.01, 0.01), 6) == 0.1")
def sludge_volume(
    solids_removed: kinds.SolidsLoad,
    solids_content: kinds.Fraction,
    sludge_density: kinds.Density = 1010.0,
) -> kinds.DailyFlow:
    """Sludge that carries a dry weight of waste."""
    return solids_removed / (solids_content * sludge_density)


@definition(
    "C", "conservation of mass", example="fines_concentration(2.0, 1.0, 4.0, 0.5, 0.5, 2.0) == 0.5"
)
def fines_concentration(
    fine_solids: kinds.SolidsLoad,
    exchange: kinds.DailyFlow,
    flow: kinds.Flow,
    polishing: kinds.Fraction,
    decay: kinds.RatePerTime,
    volume: kinds.Volume,
) -> kinds.Concentration:
    """Fine waste in the water in steady state."""
    return fine_solids / (exchange + flow * polishing + decay * volume)


@definition(
    "Q", "conservation of mass", example="flow_for_fines(2.0, 0.5, 1.0, 0.5, 0.5, 2.0) == 4.0"
)
def flow_for_fines(
    fine_solids: kinds.SolidsLoad,
    limit: kinds.Concentration,
    exchange: kinds.DailyFlow,
    polishing: kinds.Fraction,
    decay: kinds.RatePerTime,
    volume: kinds.Volume,
) -> kinds.Flow:
    """Flow through a second screen that holds fine waste; infinite where nothing catches it."""
    return for_load(most(0.0, fine_solids / limit - exchange - decay * volume), polishing)


@definition("D", "geometry", example="round(settler_diameter(3.1416), 3) == 2.0")
def settler_diameter(area: kinds.Area) -> kinds.Length:
    """Diameter of a round settler."""
    return sqrt(4.0 * area / pi)


@definition("q", example="weir_load(0.5, 2.0) == 0.25")
def weir_load(flow: kinds.Flow, length: kinds.Length) -> kinds.KinematicViscosity:
    """Flow over each length of overflow edge."""
    return flow / length


def stokes_velocity(diameter, particle_density, temperature):
    """Stokes settling velocity [m/s] in fresh water at a temperature [°C].

    A thin composition of ``stokes_velocity_in`` and the water's properties.

    >>> round(stokes_velocity(1e-4, 1150.0, 28.0), 5)
    0.00101
    """
    return stokes_velocity_in(
        diameter,
        particle_density,
        properties.density(temperature),
        properties.viscosity(temperature),
    )


def settling_velocity(diameter, particle_density, temperature):
    """Settling velocity [m/s] in every regime, in fresh water at a temperature [°C].

    A thin composition of ``settling_velocity_in`` and the water's properties.

    >>> round(settling_velocity(1e-3, 1150.0, 28.0), 3)
    0.035
    """
    return settling_velocity_in(
        diameter,
        particle_density,
        properties.density(temperature),
        properties.viscosity(temperature),
    )
