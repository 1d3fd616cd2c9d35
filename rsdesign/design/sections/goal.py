"""Site, source water, goal, fish, wastes and the water that is kept."""

from ...core.choices import choice
from ...core.kinds import (
    PH,
    Animals,
    Concentration,
    DailyFlow,
    Days,
    Elevation,
    FishWeight,
    Fraction,
    HarvestRate,
    RatePerTime,
    Ratio,
    Salinity,
    Temperature,
)
from .section import MEMORY, RULE, names, section


@section()
class Site:
    """Where it stands, and how warm the water gets."""

    place: str = choice("", label="Place", source="the user")
    elevation: Elevation = choice(
        "1000 ft",
        "-300 ft",
        "12000 ft",
        label="Height above sea level",
        help="Higher places have thinner air, and water there holds less oxygen.",
        source="map",
    )
    water_temperature: Temperature = choice(
        28.0,
        5.0,
        38.0,
        label="Water while the fish grow",
        help="The water temperature through the growing season.",
        source=RULE,
    )
    warmest_water: Temperature | None = choice(
        None,
        5.0,
        42.0,
        label="Water in the hottest week",
        help="Warm water holds the least oxygen and frees the most ammonia. Left open, it is the water while the fish grow.",
        source="thermometer",
    )
    coldest_feeding_water: Temperature | None = choice(
        None,
        5.0,
        38.0,
        label="Coldest water in which they still eat",
        help="The filter works slowest then. Left open, it is the water while the fish grow.",
        source="thermometer",
    )


@section()
class Source:
    """The water that fills the tank and makes up what is lost."""

    kind: str = choice(
        "tap",
        label="Where the water comes from",
        source="the user",
        options=("tap", "well", "rain", "other"),
    )
    alkalinity: Concentration = choice(
        "180 mg/L",
        "0 mg/L",
        "1000 mg/L",
        label="Alkalinity",
        help="As calcium carbonate. Test it before you design.",
        source="water test",
    )
    hardness: Concentration = choice(
        "200 mg/L",
        "0 mg/L",
        "3000 mg/L",
        label="Hardness",
        help="As calcium carbonate.",
        source="water test",
    )
    ph: PH = choice(7.8, 4.0, 10.5, label="pH after a day of air", source="water test")
    salinity: Salinity = choice(0.0, 0.0, 40.0, label="Salt", source="water test")
    chloride: Concentration = choice(
        "60 mg/L", "0 mg/L", "20000 mg/L", label="Chloride", source="water test"
    )
    nitrate: Concentration = choice(
        "5 mg/L", "0 mg/L", "200 mg/L", label="Nitrate as nitrogen", source="water test"
    )
    iron: Concentration = choice(
        "0 mg/L",
        "0 mg/L",
        "50 mg/L",
        label="Iron",
        help="Most of all in wells.",
        source="water test",
    )
    carbon_dioxide: Concentration = choice(
        "0 mg/L",
        "0 mg/L",
        "500 mg/L",
        label="Carbon dioxide as it leaves the well",
        source="water test at the well head",
    )
    disinfectant: str = choice(
        "chlorine",
        label="What the supplier adds",
        source="water supplier",
        options=("none", "chlorine", "chloramine"),
    )
    residual: Concentration = choice(
        "1 mg/L", "0 mg/L", "10 mg/L", label="Chlorine left in it", source="water supplier"
    )
    supply: DailyFlow = choice(
        "1500 gal/day",
        "0 gal/day",
        "1000000 gal/day",
        label="What the source can give in a day",
        source="seconds to fill a bucket",
    )


@section()
class Goal:
    """How much fish is wanted."""

    harvest: HarvestRate | None = choice(
        None,
        "1 lb/year",
        "5000000 lb/year",
        label="Fish wanted in a year",
        help="Fill in this, or the number of fish in a batch; not both.",
        source="the user",
    )
    fish: Animals | None = choice(
        None,
        1.0,
        1e8,
        label="Fish harvested from each batch",
        help="Fill in this, or the weight of fish for a year; not both.",
        source="the user",
    )
    weight: FishWeight = choice(
        "1.25 lb", "0.02 lb", "12 lb", label="Size at harvest", source="the buyer or the cook"
    )


@section()
class Stock:
    """The fish and the plan by which they are stocked and fed."""

    species: str = choice("tilapia", label="Fish", source="permit first", options=names("species"))
    interval: Days | None = choice(
        None,
        7.0,
        400.0,
        label="Days between new batches",
        sweep=False,
        help="Left open, one batch at a time is kept, in all tanks together.",
        source="the buyer",
    )
    rest: Days = choice(
        14.0,
        0.0,
        365.0,
        label="Days between one batch and the next",
        help="Cleaning and restocking, when one batch at a time is kept.",
        source=RULE,
    )
    stocking_weight: FishWeight = choice(
        "50 g", "0.1 g", "2000 g", label="Size at stocking", source="the hatchery"
    )
    survival: Fraction = choice(0.95, 0.1, 1.0, label="Fish that live to harvest", source=RULE)
    feed_conversion: Ratio = choice(
        1.6,
        0.6,
        5.0,
        label="Feed for each unit of growth",
        help="Weight of feed for each weight gained.",
        source=RULE,
    )
    growth_coefficient: Ratio | None = choice(
        None,
        0.1,
        5.0,
        label="Thermal growth coefficient",
        help="Gram to the third power of one third, times 1000, for a degree and a day.",
        source="species table",
    )
    protein: Fraction = choice(0.32, 0.15, 0.6, label="Protein on the bag", source="feed bag")
    ration: RatePerTime | None = choice(
        None,
        "0.1 %/day",
        "30 %/day",
        label="Feed as a share of their weight",
        help="The simple way: feed by weight, growth left out.",
        source="feeding table",
    )


@section()
class Wastes:
    """What the fish and the bacteria make of the feed."""

    oxygen_per_feed: Ratio = choice(
        0.45,
        0.2,
        1.0,
        label="Oxygen the fish use for each unit of feed",
        source="derived from carbon and respiration; likely 0.30 to 0.65",
    )
    hour_factor: Ratio = choice(
        1.4,
        1.0,
        3.0,
        label="Busiest hour over the mean hour",
        help="Fish breathe hardest after a meal; 1.15 with a feeder that runs all day.",
        source=RULE,
    )
    solids_per_feed: Ratio = choice(
        0.25, 0.05, 0.6, label="Dry waste for each unit of feed", source=MEMORY
    )
    settleable: Fraction = choice(
        0.7,
        0.05,
        1.0,
        label="Share of the waste that can settle",
        help="The rest is too fine to settle.",
        source=RULE,
    )
    solids_oxygen: Ratio = choice(
        0.6,
        0.0,
        2.0,
        label="Oxygen that rotting waste takes",
        help="For each weight of waste that rots in the water.",
        source=RULE,
    )
    ammonia_freed: Fraction = choice(
        0.25,
        0.0,
        1.0,
        label="Nitrogen of rotting waste that turns to ammonia",
        help="Bacteria build the rest into themselves.",
        source=RULE,
    )
    solids_decay: RatePerTime = choice(
        "20 %/day", "1 %/day", "300 %/day", label="Waste that rots in a day", source=RULE
    )
    carbon: Fraction = choice(0.42, 0.3, 0.55, label="Carbon in the feed", source=MEMORY)
    phosphorus: Fraction = choice(0.012, 0.003, 0.03, label="Phosphorus in the feed", source=MEMORY)


@section()
class Keep:
    """The water that is kept: targets and limits."""

    oxygen: Concentration = choice(
        "5 mg/L",
        "2 mg/L",
        "12 mg/L",
        label="Oxygen to keep",
        rule="5 mg/L",
        rule_words="5 mg/L for tilapia (common practice)",
        source=RULE,
    )
    stress_oxygen: Concentration = choice(
        "3 mg/L", "1 mg/L", "6 mg/L", label="Oxygen at which fish are in danger", source=RULE
    )
    total_ammonia: Concentration = choice(
        "1 mg/L", "0.1 mg/L", "10 mg/L", label="Most total ammonia nitrogen", source=RULE
    )
    unionized_ammonia: Concentration = choice(
        "0.05 mg/L",
        "0.005 mg/L",
        "0.5 mg/L",
        label="Most un-ionised ammonia nitrogen",
        source="review of tilapia trials, see methods",
    )
    carbon_dioxide: Concentration = choice(
        "15 mg/L", "2 mg/L", "60 mg/L", label="Most carbon dioxide", source=RULE
    )
    fines: Concentration = choice(
        "25 mg/L", "2 mg/L", "150 mg/L", label="Most fine waste in the water", source=RULE
    )
    nitrate: Concentration = choice(
        "150 mg/L", "20 mg/L", "800 mg/L", label="Most nitrate as nitrogen", source=RULE
    )
    alkalinity: Concentration = choice(
        "100 mg/L",
        "10 mg/L",
        "500 mg/L",
        label="Alkalinity to hold in the tank",
        source="60 to 140 mg/L, extension advice",
    )
    measured_ph: PH | None = choice(
        None,
        4.0,
        10.5,
        label="pH you measured",
        help="Left open, the pH follows from alkalinity and carbon dioxide.",
        source="water test",
    )
