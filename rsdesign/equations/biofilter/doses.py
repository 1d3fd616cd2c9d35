"""Starting a filter: what to dose, what it takes, and how much feed is safe today."""

from ...core.arrays import least
from ...core.equation import definition
from ...core.kinds import Concentration, Mass, Ratio, Volume, VolumetricLoad

_MASSES = "atomic masses of IUPAC"


@definition("m", _MASSES, example="round(ammonium_chloride(1.0), 3) == 3.819")
def ammonium_chloride(nitrogen_mass: Mass) -> Mass:
    """Ammonium chloride that holds so much nitrogen."""
    return nitrogen_mass * 53.491 / 14.007


@definition("m", _MASSES, example="round(sodium_nitrite(1.0), 3) == 4.926")
def sodium_nitrite(nitrogen_mass: Mass) -> Mass:
    """Sodium nitrite that holds so much nitrogen."""
    return nitrogen_mass * 68.995 / 14.007


@definition("C", _MASSES, example="round(as_nitrite(1.0), 3) == 3.284")
def as_nitrite(nitrogen_level: Concentration) -> Concentration:
    """Nitrite as the ion, from nitrite nitrogen."""
    return nitrogen_level * 46.005 / 14.007


@definition("C", _MASSES, example="round(as_nitrate(1.0), 3) == 4.427")
def as_nitrate(nitrogen_level: Concentration) -> Concentration:
    """Nitrate as the ion, from nitrate nitrogen."""
    return nitrogen_level * 62.004 / 14.007


@definition("C", _MASSES, example="round(as_ammonium(1.0), 3) == 1.288")
def as_ammonium(nitrogen_level: Concentration) -> Concentration:
    """Ammonium as the ion, from ammonia nitrogen."""
    return nitrogen_level * 18.039 / 14.007


@definition("C", _MASSES, example="round(as_ammonia(1.0), 3) == 1.216")
def as_ammonia(nitrogen_level: Concentration) -> Concentration:
    """Ammonia as NH3, from un-ionised ammonia nitrogen."""
    return nitrogen_level * 17.031 / 14.007


@definition("m", _MASSES, example="round(salt_for_chloride(1.0), 3) == 1.648")
def salt_for_chloride(chloride_mass: Mass) -> Mass:
    """Salt (sodium chloride) that holds so much chloride."""
    return chloride_mass * 58.443 / 35.453


@definition(
    "c",
    "stoichiometry: two equivalents for each mole of ammonium, one for each of ammonia",
    valid="no growth of cells counted",
    example="round(nitrification_alkalinity(2.0), 3) == 7.145",
)
def nitrification_alkalinity(equivalents: Ratio) -> Ratio:
    """Alkalinity (as CaCO3) that each mass of nitrogen takes on its way to nitrate."""
    return equivalents * 50.043 / 14.007


@definition("m", "conservation of mass", example="mass_to_raise(2.0, 0.5) == 1.0")
def mass_to_raise(volume: Volume, rise: Concentration) -> Mass:
    """Mass that raises a level in a volume of water."""
    return volume * rise


@definition(
    "m",
    "stoichiometry: one equivalent in each mole of sodium bicarbonate",
    example="round(baking_soda_to_raise(3.785, 0.010), 4) == 0.0635",
)
def baking_soda_to_raise(volume: Volume, rise: Concentration) -> Mass:
    """Baking soda that raises the alkalinity (as CaCO3) of a volume of water."""
    return volume * rise * 84.007 / 50.04


@definition(
    "C",
    "chloride over nitrite, both as ions: 6 (Purdue extension), 10 (extension text on catfish)",
    valid="fresh water, fish that take chloride and nitrite by the same way",
    basis="seen",
    example="round(chloride_needed(0.005, 10.0), 4) == 0.1642",
)
def chloride_needed(nitrite: Concentration, chloride_ratio: Ratio) -> Concentration:
    """Chloride that keeps nitrite nitrogen out of the fish."""
    return chloride_ratio * nitrite * 46.005 / 14.007


@definition(
    "C",
    "chloride over nitrite, both as ions: 6 (Purdue extension), 10 (extension text on catfish); "
    "never above 5 mg/L of nitrogen, common practice",
    valid="fresh water",
    basis="seen",
    example="round(nitrite_limit(0.060, 10.0) * 1e3, 2) == 1.83",
)
def nitrite_limit(
    chloride: Concentration, chloride_ratio: Ratio, most_nitrite: Concentration = 0.005
) -> Concentration:
    """Most nitrite nitrogen that fish bear beside so much chloride."""
    return least(chloride / chloride_ratio * 14.007 / 46.005, most_nitrite)


@definition(
    "L",
    "the slowest of three: ammonia bacteria, film, nitrite bacteria",
    valid="levels at their limits",
    example="safe_load(3.0, 2.0, 1.0, 0.5) == 0.5",
)
def safe_load(
    ammonia_uptake: VolumetricLoad,
    film_uptake: VolumetricLoad,
    nitrite_uptake: VolumetricLoad,
    resting: VolumetricLoad = float("inf"),
) -> VolumetricLoad:
    """Most nitrogen that may come in, each uptake being the one at the limit of its level."""
    return least(ammonia_uptake, film_uptake, nitrite_uptake, resting)
