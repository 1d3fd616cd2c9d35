"""Oxygen from a bottle, generators, and how long filter, water level and ammonia last."""

from ...core import kinds
from ...core.arrays import most, ratio
from ...core.equation import definition, equation


@definition("M", "conservation of oxygen", example="bottled_oxygen(0.002, 100.0, 0.5) == 0.4")
def bottled_oxygen(
    oxygen_demand: kinds.OxygenRate, time: kinds.Hours, caught: kinds.Fraction
) -> kinds.Mass:
    """Oxygen out of a bottle that meets a use for a time.

    ``caught`` is the share of the bubbles that dissolves.
    """
    return ratio(oxygen_demand * time, caught, float("inf"))


@definition(
    "V",
    "oxygen at 20 °C and 101.325 kPa, ideal gas of 31.9988 g/mol: 1.330 kg/m³; 1.331 with "
    "its departure from ideal (CoolProp)",
    valid="the volume by which bottles are sold",
    example="round(oxygen_volume(1.331), 6) == 1.0",
)
def oxygen_volume(mass: kinds.Mass) -> kinds.GasVolume:
    """Volume of oxygen gas as bottles are labelled, at 20 °C and one atmosphere."""
    return mass / 1.331  # units of the source


@definition(
    "G",
    "oxygen at 20 °C and one atmosphere, as above",
    valid="the setting of the regulator",
    example="round(oxygen_flow(1.331, 0.5), 6) == 2.0",
)
def oxygen_flow(oxygen_demand: kinds.OxygenRate, caught: kinds.Fraction) -> kinds.AirFlow:
    """Flow to set at the regulator of a bottle."""
    return ratio(oxygen_demand, caught * 1.331, float("inf"))  # units of the source


@equation(
    latex=r"S = \frac{@power \cdot @motor_efficiency}{745.7} \cdot @code_letter",
    source="locked-rotor kVA for each horsepower of shaft power, NEC Table 430.7(B)",
    valid="motors marked with a code letter; below 1 hp often L, 9 to 9.99 kVA for each hp",
)
def starting_load(
    power: kinds.Power, code_letter: kinds.ApparentPower, motor_efficiency: kinds.Fraction = 1.0
) -> kinds.ApparentPower:
    """Load of a motor in the moment it starts.

    ``code_letter`` is the load for each horsepower; ``motor_efficiency`` turns watts at the wall
    into shaft power and stays 1 where the power is that of the shaft.

    >>> round(starting_load(7457.0, 5945.0))
    59450
    """
    return power * motor_efficiency / 745.7 * code_letter  # units of the source


@definition(
    "I",
    "definition of apparent power, one phase",
    valid="one phase",
    example="starting_current(230.0, 115.0) == 2.0",
)
def starting_current(starting_load: kinds.ApparentPower, volts: kinds.Ratio) -> kinds.Current:
    """Current in the moment a motor starts."""
    return ratio(starting_load, volts)


@equation(
    latex=r"S = \frac{\max\left(0, @running - @largest\right) + @starting_load}{1 - 0.035 \cdot "
    r"\frac{@elevation}{300}}",
    source="everything else runs while the largest motor starts; 3.5 % less for each 300 m of"
    " height, from memory",
    valid="motors started one after another; below 3000 m",
    basis="from memory",
)
def generator_size(
    running: kinds.Power,
    largest: kinds.Power,
    starting_load: kinds.ApparentPower,
    elevation: kinds.Length,
) -> kinds.ApparentPower:
    """Generator that carries the running load and starts the largest motor last.

    >>> generator_size(500.0, 200.0, 1700.0, 0.0)
    2000.0
    """
    others = most(0.0, running - largest)
    return (others + starting_load) / (1.0 - 0.035 * elevation / 300.0)  # units of the source


@definition(
    "t",
    "conservation of oxygen in the water that stands in the media",
    valid="a filter under water; one that drains stays in air",
    example="filter_oxygen_time(2.0, 0.5, 0.004, 0.001) == 4.0",
)
def filter_oxygen_time(
    media_volume: kinds.MediaVolume,
    void_fraction: kinds.Fraction,
    oxygen: kinds.Concentration,
    oxygen_demand: kinds.OxygenRate,
) -> kinds.Minutes:
    """Time until standing water in a filter has no oxygen left."""
    water = media_volume * void_fraction
    return ratio(water * oxygen, oxygen_demand, float("inf"))


@definition(
    "t",
    "conservation of ammonia with the filter off",
    valid="fish fed as before; unfed fish make about half",
    example="ammonia_time(2.0, 0.003, 0.001, 0.001) == 4.0",
)
def ammonia_time(
    volume: kinds.Volume,
    limit: kinds.Concentration,
    ammonia: kinds.Concentration,
    ammonia_load: kinds.AmmoniaLoad,
) -> kinds.Hours:
    """Time until ammonia reaches its limit when no water goes through the filter."""
    return ratio(volume * most(0.0, limit - ammonia), ammonia_load, float("inf"))


@definition(
    "t",
    "conservation of water",
    valid="a leak that keeps its speed",
    example="emptying_time(8.0, 0.5, 2.0) == 2.0",
)
def emptying_time(volume: kinds.Volume, share: kinds.Fraction, leak: kinds.Flow) -> kinds.Minutes:
    """Time until a share of the water is gone."""
    return ratio(volume * share, leak, float("inf"))
