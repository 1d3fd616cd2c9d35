"""Oxygen when the air stops, the time the fish have, and what must stand ready.

The course of oxygen is one balance: what the surface and any backup bring, less what the fish and
the bacteria use.  Above the oxygen at which fish can no longer take all they want the use is
constant; below it, it falls in proportion, so oxygen never goes below zero.  Both stretches have a
closed form.
"""

from ...core import kinds
from ...core.arrays import exp, least, log, most, ratio, where
from ...core.equation import definition, equation

SMALL = 1e-4
"""Below this the quotients are taken by their series, which are then exact to the last bits."""


@definition(
    "t",
    "conservation of oxygen; use held constant, surface left out: safe above 3 mg/L",
    valid="until about 3 mg/L",
    example="round(time_to(0.003, 0.005, 8.54, 0.121 / 3600) / 60, 1) == 8.5",
)
def time_to(
    oxygen_limit: kinds.Concentration,
    oxygen_start: kinds.Concentration,
    volume: kinds.Volume,
    oxygen_demand: kinds.OxygenRate,
) -> kinds.Minutes:
    """Time in which oxygen falls to a limit when nothing brings more."""
    return ratio(most(0.0, oxygen_start - oxygen_limit) * volume, oxygen_demand, float("inf"))


def decline(start, gain, rate, time):
    """y after a time where dy/dt = gain - rate·y; exact for a rate of zero too."""
    x = rate * time
    safe = where(abs(x) < SMALL, 1.0, x)
    share = where(abs(x) < SMALL, 1.0 - x / 2.0 + x * x / 6.0, (1.0 - exp(-safe)) / safe)
    return start * exp(-x) + gain * time * share


def decline_time(start, end, gain, rate):
    """Time in which y of ``decline`` goes from start to end; infinite where it never does."""
    slope = rate * start - gain  # speed of the fall at the start
    first = ratio(start - end, slope, float("inf"))  # time at that speed
    first = where(first < 0.0, float("inf"), first)
    x = rate * where(first < float("inf"), first, 0.0)
    reached = (x < 1.0) & (first < float("inf"))
    inside = where(reached & (x >= SMALL), x, 0.5)
    stretch = where(x < SMALL, 1.0 + x / 2.0 + x * x / 3.0, -log(1.0 - inside) / inside)
    return where(reached, first * stretch, float("inf"))


def terms(use, critical, conductance, brought):
    """(gain, rate) of the stretch above the critical oxygen and of that below it.

    ``use`` is the oxygen used, ``conductance`` what is brought for each unit below saturation,
    ``brought`` that conductance times saturation and any constant supply, all for each volume.
    """
    return (brought - use, conductance), (brought, conductance + ratio(use, critical))


def advance(time, start, critical, upper, lower):
    """Oxygen after a time of constant use; crosses the critical level at most once."""
    low_start = least(start, critical)
    above = start > critical
    cross = where(
        above,
        decline_time(most(start, critical), critical, *upper),
        decline_time(low_start, critical, *lower),
    )
    first = where(
        above,
        decline(start, upper[0], upper[1], time),
        decline(low_start, lower[0], lower[1], time),
    )
    rest = where(cross < time, time - cross, 0.0)
    then = where(
        above,
        decline(critical, lower[0], lower[1], rest),
        decline(critical, upper[0], upper[1], rest),
    )
    return where(cross < time, then, first)


@equation(
    latex=r"C' = \frac{@surface_transfer \cdot \left(@saturation - C\right) - "
    r"@oxygen_demand \cdot \min\left(1, \frac{C}{@critical_oxygen}\right)}{@volume},"
    r"\ C\left(0\right) = @oxygen_start,\ \text{at } @time",
    source="conservation of oxygen, two exponentials joined where fish can no longer take all they"
    " want",
    valid="constant use; water mixed by the fish",
    basis="derived",
)
def oxygen_after(
    time: kinds.Minutes,
    oxygen_start: kinds.Concentration,
    critical_oxygen: kinds.Concentration,
    saturation: kinds.Concentration,
    volume: kinds.Volume,
    oxygen_demand: kinds.OxygenRate,
    surface_transfer: kinds.Flow = 0.0,
) -> kinds.Concentration:
    """Oxygen some time after the air has stopped; never below zero.

    ``surface_transfer`` is the surface times its transfer
    velocity.

    >>> round(oxygen_after(600.0, 0.006, 0.003, 0.0078, 1.0, 0.005 / 1000.0) * 1000, 3)
    3.0
    """
    surface = ratio(surface_transfer, volume)
    both = terms(ratio(oxygen_demand, volume), critical_oxygen, surface, surface * saturation)
    return advance(time, oxygen_start, critical_oxygen, *both)


@equation(
    latex=r"t = \int_{@oxygen_limit}^{@oxygen_start} \frac{@volume}{@oxygen_demand \cdot "
    r"\min\left(1, \frac{C}{@critical_oxygen}\right) - @surface_transfer \cdot "
    r"\left(@saturation - C\right)} dC",
    source="conservation of oxygen, two logarithms joined where fish can no longer take all they"
    " want",
    valid="constant use; water mixed by the fish",
    basis="derived",
)
def time_until(
    oxygen_limit: kinds.Concentration,
    oxygen_start: kinds.Concentration,
    critical_oxygen: kinds.Concentration,
    saturation: kinds.Concentration,
    volume: kinds.Volume,
    oxygen_demand: kinds.OxygenRate,
    surface_transfer: kinds.Flow = 0.0,
) -> kinds.Minutes:
    """Time in which oxygen falls to a limit, with what the surface brings.

    Zero where oxygen starts below the limit, infinite where it never falls so far.

    >>> round(time_until(0.003, 0.006, 0.003, 0.0078, 1.0, 0.018 / 3600) / 60, 3)
    10.0
    """
    surface = ratio(surface_transfer, volume)
    use = ratio(oxygen_demand, volume)
    upper, lower = terms(use, critical_oxygen, surface, surface * saturation)
    joint = most(oxygen_limit, critical_oxygen)
    down = where(oxygen_start > joint, decline_time(most(oxygen_start, joint), joint, *upper), 0.0)
    low_start = least(oxygen_start, joint)
    below = (oxygen_limit < critical_oxygen) & (low_start > oxygen_limit)
    further = where(below, decline_time(low_start, least(oxygen_limit, low_start), *lower), 0.0)
    return where(oxygen_start <= oxygen_limit, 0.0, down + further)


@definition(
    "k",
    "oxygen use peaks within an hour or two of a meal and falls off over most of a day "
    "(common practice); the exponential is this project's",
    valid="fish fed to the daily ration",
    basis="common practice",
    example="breathing_factor(0.0, 1.4, 0.7, 28800.0) == 1.4",
)
def breathing_factor(
    since_feeding: kinds.Hours,
    hour_factor: kinds.Ratio,
    resting: kinds.Ratio,
    digestion: kinds.Hours,
) -> kinds.Ratio:
    """Oxygen that fish use so long after a meal over what they use on the mean hour."""
    return resting + (hour_factor - resting) * exp(-ratio(since_feeding, digestion))


@definition(
    "k",
    "mean of the breathing factor over a time without feed",
    valid="a time above zero",
    example="round(mean_breathing(28800.0, 1.4, 0.7, 28800.0), 4) == 1.1425",
)
def mean_breathing(
    time: kinds.Hours, hour_factor: kinds.Ratio, resting: kinds.Ratio, digestion: kinds.Hours
) -> kinds.Ratio:
    """Oxygen that fish use on the mean of a time without feed, over the mean hour."""
    share = ratio(digestion, time, 0.0) * (1.0 - exp(-ratio(time, digestion)))
    return resting + (hour_factor - resting) * share


@equation(
    latex=r"k = @per_ten^{\frac{@temperature - @growing_temperature}{10}}",
    source="a rise of 10 °C about doubles the oxygen use of resting fish (common practice)",
    valid="15 to 35 °C",
    basis="common practice",
)
def warmth_factor(
    temperature: kinds.Temperature, growing_temperature: kinds.Temperature, per_ten: kinds.Ratio
) -> kinds.Ratio:
    """Oxygen that fish use at a temperature over that while they grow.

    >>> warmth_factor(38.0, 28.0, 2.0)
    2.0
    """
    return exp(log(per_ten) * (temperature - growing_temperature) / 10.0)


@definition(
    "R", "sum of what breathes in the tank", example="demand_after(2.0, 1.4, 1.0, 0.5, 0.6) == 2.0"
)
def demand_after(
    fish_oxygen: kinds.OxygenRate,
    breathing: kinds.Ratio,
    warmth: kinds.Ratio,
    fullness: kinds.Ratio,
    others: kinds.OxygenRate,
) -> kinds.OxygenRate:
    """Oxygen that a tank uses when the air stops.

    ``fullness`` is the fish in the tank over the most it ever holds; ``others`` are the bacteria
    whose oxygen the tank must bring.
    """
    return fish_oxygen * breathing * warmth * fullness + others


@definition(
    "g",
    "two-film transfer, solved for the conductance",
    valid="oxygen below saturation",
    example="conductance(0.002, 0.008, 1.0, 0.004) == 0.5",
)
def conductance(
    transfer: kinds.OxygenRate,
    saturation: kinds.Concentration,
    beta: kinds.Ratio,
    oxygen: kinds.Concentration,
) -> kinds.Flow:
    """Transfer of the air for each unit that oxygen lies below saturation.

    Infinite where the water is full.
    """
    return ratio(transfer, beta * saturation - oxygen, float("inf"))


@equation(
    latex=r"x = \frac{@oxygen_demand}{@conductance \cdot \left(@beta \cdot @saturation - "
    r"@oxygen_limit\right)}",
    source="two-film transfer at the level to hold",
    valid="a level below saturation",
    basis="derived",
)
def backup_share(
    oxygen_demand: kinds.OxygenRate,
    conductance: kinds.Flow,
    saturation: kinds.Concentration,
    beta: kinds.Ratio,
    oxygen_limit: kinds.Concentration,
) -> kinds.Fraction:
    """Share of the normal air that holds a level of oxygen.

    Infinite where no air can.

    >>> backup_share(0.001, 0.5, 0.008, 1.0, 0.004)
    0.5
    """
    push = beta * saturation - oxygen_limit
    return where(push > 0, ratio(oxygen_demand, conductance * push, float("inf")), float("inf"))


@definition(
    "A",
    "energy balance of a battery and an inverter",
    valid="discharge over hours",
    example="round(battery_charge(40.0, 8 * 3600.0, 12.0, 0.85, 0.5) / 3600, 2) == 62.75",
)
def battery_charge(
    power: kinds.Power,
    time: kinds.Hours,
    voltage: kinds.Voltage,
    efficiency: kinds.Fraction,
    discharge_depth: kinds.Fraction,
    ageing: kinds.Fraction = 1.0,
) -> kinds.Charge:
    """Charge on a battery's label that runs a load for a time.

    ``ageing`` is what an old, cold battery keeps of its label.
    """
    return ratio(power * time, voltage * efficiency * discharge_depth * ageing, float("inf"))


@definition(
    "t",
    "energy balance of a battery and an inverter",
    valid="discharge over hours",
    example="battery_time(10.0, 2.0, 12.0, 1.0, 0.5) == 30.0",
)
def battery_time(
    charge: kinds.Charge,
    power: kinds.Power,
    voltage: kinds.Voltage,
    efficiency: kinds.Fraction,
    discharge_depth: kinds.Fraction,
    ageing: kinds.Fraction = 1.0,
) -> kinds.Hours:
    """Time for which a battery runs a load."""
    return ratio(charge * voltage * efficiency * discharge_depth * ageing, power, float("inf"))


@definition("T'", example="heat_wave_temperature(30.0, 3.0) == 33.0")
def heat_wave_temperature(
    temperature: kinds.Temperature, heat_rise: kinds.TemperatureDifference
) -> kinds.Temperature:
    """Water in a heat wave."""
    return temperature + heat_rise
