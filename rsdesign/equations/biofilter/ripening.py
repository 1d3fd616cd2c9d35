"""A filter that ripens: how bacteria grow, what they leave, and sums that say when."""

from ...core.arrays import clip, exp, least, log, most, power, ratio, where
from ...core.equation import definition, equation
from ...core.kinds import (
    PH,
    Concentration,
    Fraction,
    RatePerTime,
    Ratio,
    Temperature,
    VolumetricLoad,
    Wait,
)


@definition(
    r"\mu_T",
    "a factor for each degree, Tchobanoglous et al. 2003 (1.072 and 1.063, from memory); even from "
    "30 °C and none at 45 °C, from memory",
    valid="5 to 40 °C",
    basis="from memory",
    example="round(warm_growth(0.9, 1.072, 26.0), 4) == 1.3659",
)
def warm_growth(
    growth_rate: RatePerTime, theta_growth: Ratio, temperature: Temperature
) -> RatePerTime:
    """Growth of bacteria at a temperature, from that at 20 °C."""
    warmth = power(theta_growth, least(temperature, 30.0) - 20.0)
    return growth_rate * warmth * clip((45.0 - temperature) / 10.0, 0.0, 1.0)


@definition(
    "b_T",
    "a factor for each degree, 1.029 (University of Cape Town model)",
    valid="5 to 40 °C",
    basis="seen",
    example="round(warm_decay(0.12, 1.029, 30.0), 4) == 0.1597",
)
def warm_decay(
    decay_rate: RatePerTime, theta_growth: Ratio, temperature: Temperature
) -> RatePerTime:
    """Decay of bacteria at a temperature, from that at 20 °C."""
    return decay_rate * power(theta_growth, temperature - 20.0)


@definition(
    "x",
    "Arrhenius; 68 kJ/mol for ammonia oxidizers and 44 for nitrite oxidizers, Vannecke and Volcke, "
    "supplement A1",
    valid="10 to 30 °C",
    basis="seen",
    example="round(warmth_by_energy(68000.0, 30.0, 20.0), 3) == 2.511",
)
def warmth_by_energy(
    activation_energy: Ratio, temperature: Temperature, reference_temperature: Temperature
) -> Ratio:
    """Growth at a temperature over that at another, from an activation energy in J/mol."""
    kelvin = temperature + 273.15
    kelvin_there = reference_temperature + 273.15
    return exp(
        activation_energy * (temperature - reference_temperature) / (8.31 * kelvin * kelvin_there)
    )


@definition(
    "x", "Monod 1949", valid="one nutrient short", basis="derived", example="monod(2.0, 2.0) == 0.5"
)
def monod(level: Concentration, half_level: Concentration) -> Fraction:
    """Share of the fastest growth that a level allows."""
    return ratio(level, half_level + level)


@equation(
    latex=r"x = \left[@ph \le 7.2\right] \cdot 2.35^{@ph - 7.2} + \left[@ph > 7.2\right] \cdot 1.13 "
    r"\cdot \frac{9.5 - @ph}{9.8 - @ph}",
    source="University of Cape Town model, constants 2.35, 1.13, 0.3 and 9.5; form as in "
    "Sötemann et al. 2005, from memory",
    valid="pH 5.5 to 9; none from 9.5 up",
)
def ph_factor(ph: PH) -> Fraction:
    """Share of the fastest growth that the pH allows: falls below 7.2, slowly above.

    >>> round(ph_factor(6.5), 3), ph_factor(7.2), round(ph_factor(8.0), 3)
    (0.55, 1.0, 0.942)
    """
    acid = power(2.35, ph - 7.2)
    alkaline = 1.13 * most(9.5 - ph, 0.0) / (9.8 - least(ph, 9.5))
    return where(ph <= 7.2, acid, alkaline)


@definition(
    "x",
    "Anthonisen et al. 1976, from 0.1 to 1 mg/L for nitrite oxidizers",
    valid="any",
    basis="seen",
    example="inhibition(1.0, 1.0) == 0.5",
)
def inhibition(level: Concentration, half_level: Concentration) -> Fraction:
    """Share of the fastest growth that is left where something poisons the bacteria."""
    return half_level / (half_level + level)


@definition(
    "u",
    "Monod 1949",
    valid="no other limit",
    basis="derived",
    example="bacteria_uptake(2.0, 0.5, 1.0, 1.0, 1.0) == 2.0",
)
def bacteria_uptake(
    growth_rate: RatePerTime,
    bacterial_yield: Ratio,
    bacteria: Concentration,
    level: Concentration,
    half_level: Concentration,
) -> VolumetricLoad:
    """Nitrogen that bacteria take from each volume of water."""
    return growth_rate / bacterial_yield * bacteria * level / (half_level + level)


# --- at rest -------------------------------------------------------------------------------


@definition(
    "S",
    "growth equals decay",
    valid="growth faster than decay, no other limit",
    example="level_at_rest(1.5, 0.75, 0.25) == 0.75",
)
def level_at_rest(
    half_level: Concentration, growth_rate: RatePerTime, decay_rate: RatePerTime
) -> Concentration:
    """Lowest level that bacteria can live on; the load has no part in it."""
    return half_level * decay_rate / (growth_rate - decay_rate)


@definition("X", "growth equals decay", example="bacteria_at_rest(0.5, 2.0, 0.25) == 4.0")
def bacteria_at_rest(
    bacterial_yield: Ratio, volume_load: VolumetricLoad, decay_rate: RatePerTime
) -> Concentration:
    """Bacteria that a steady load feeds."""
    return bacterial_yield * volume_load / decay_rate


@definition(
    "x", "the most over what they live on", valid="far above the half level",
    example="spare_capacity(0.75, 0.25) == 3.0",
)  # fmt: skip
def spare_capacity(growth_rate: RatePerTime, decay_rate: RatePerTime) -> Ratio:
    """What ripe bacteria could take at most over what they are fed."""
    return growth_rate / decay_rate


@definition(
    "x",
    "first-order decay",
    valid="nothing to eat",
    example="round(bacteria_left(0.17, 7.0), 3) == 0.304",
)
def bacteria_left(decay_rate: RatePerTime, time: Wait) -> Fraction:
    """Share of the bacteria that is left after a time without food."""
    return exp(-decay_rate * time)


# --- before rest: closed forms -------------------------------------------------------------


@definition(
    "S",
    "growth without a limit against an even load",
    valid="before the peak, far above the half level",
    example="round(ammonia_before_peak(5.0, 0.9, 0.15, 0.17, 0.001, 4.0), 3) == 19.856",
)
def ammonia_before_peak(
    volume_load: VolumetricLoad,
    growth_rate: RatePerTime,
    bacterial_yield: Ratio,
    decay_rate: RatePerTime,
    bacteria: Concentration,
    time: Wait,
) -> Concentration:
    """Ammonia in a filter that is still young, where so many bacteria began."""
    net = growth_rate - decay_rate
    eaten = growth_rate / bacterial_yield * bacteria * (exp(net * time) - 1.0) / net
    return volume_load * time - eaten


@definition(
    "t",
    "growth without a limit meets an even load",
    valid="far above the half level",
    example="round(ammonia_peak_time(5.0, 0.9, 0.15, 0.17, 0.001), 3) == 9.213",
)
def ammonia_peak_time(
    volume_load: VolumetricLoad,
    growth_rate: RatePerTime,
    bacterial_yield: Ratio,
    decay_rate: RatePerTime,
    bacteria: Concentration,
) -> Wait:
    """Time to the peak of ammonia: a logarithm of load over seed."""
    return log(volume_load * bacterial_yield / (growth_rate * bacteria)) / (
        growth_rate - decay_rate
    )


@definition(
    "t",
    "growth of both kinds without a limit; nitrite oxidizers starve while they wait",
    valid="a start of weeks",
    example="round(nitrite_peak_moved(10.0, 0.66, 0.2, 0.404, 0.138), 1) == 16.3",
)
def nitrite_peak_moved(
    seed_ratio: Ratio,
    growth_rate: RatePerTime,
    decay_rate: RatePerTime,
    nitrite_growth: RatePerTime,
    nitrite_decay: RatePerTime,
) -> Wait:
    """Time by which so many times the seed of both kinds brings the nitrite peak forward."""
    net = nitrite_growth - nitrite_decay
    return log(seed_ratio) * (1.0 / net + (1.0 + nitrite_decay / net) / (growth_rate - decay_rate))


@definition(
    "t",
    "Monod's equation integrated with growth, without decay",
    valid="level above 0",
    example="round(growing_batch_time(10.0, 5.0, 1.0, 0.5, 0.15, 0.9), 3) == 1.152",
)
def growing_batch_time(
    start: Concentration,
    level: Concentration,
    half_level: Concentration,
    bacteria: Concentration,
    bacterial_yield: Ratio,
    growth_rate: RatePerTime,
) -> Wait:
    """Time in which bacteria that grow bring a dose down to a level."""
    whole = bacteria + bacterial_yield * start
    grown = log((bacteria + bacterial_yield * (start - level)) / bacteria)
    shrunk = log(start * (bacteria + bacterial_yield * (start - level)) / (level * bacteria))
    return (grown + half_level * bacterial_yield / whole * shrunk) / growth_rate


@equation(
    latex=r"S + K \cdot \ln\left(S\right) = S_0 + K \cdot \ln\left(S_0\right) - v \cdot t, K = "
    r"@half_level, S_0 = @start, v = @fastest_uptake, t = @time",
    source="Monod's equation integrated, bacteria as many as they are (Lambert's W)",
    valid="hours, in which bacteria hardly grow",
    basis="derived",
)
def fixed_batch_level(
    start: Concentration, half_level: Concentration, fastest_uptake: VolumetricLoad, time: Wait
) -> Concentration:
    """Level to which bacteria that do not grow bring a dose down in a time.

    >>> round(float(fixed_batch_level(8.0, 1.5, 2.0, 1.0)), 4)
    6.3472
    """
    # w · e^w = e^y by Newton in the logarithm of w, which no large exponent overflows
    y = log(start / half_level) + (start - fastest_uptake * time) / half_level
    few = exp(least(y, 1.0))
    w = where(y > 1.0, y - log(most(y, 1.0)), few / (1.0 + few))
    for _ in range(24):
        step = (log(w) + w - y) / (1.0 / w + 1.0)
        w = most(w - step, w * 1e-3)
    return half_level * w
