"""Biofilter."""

from ..spec import Control, Guess, Page

PAGE = Page(
    name="biofilter",
    file="30_biofilter.ipynb",
    title="Biofilter",
    question="How much home do the cleaning bacteria need?",
    words=(
        "Fish give off ammonia. Bacteria on wet surfaces turn it into nitrate.",
        "They need surface, oxygen and time. A new filter needs four to eight weeks.",
    ),
    lead="Drag the media. See the ammonia.",
    headline=(
        ("filter.ammonia", "Ammonia, tank", "in the tank"),
        ("filter.area", "Surface you have", "you have"),
        ("filter.required", "Surface needed", "they need"),
        ("loads.ammonia_made", "Ammonia to clean", "to clean up"),
        ("filter.oxygen_use", "Oxygen it uses", "air must bring it"),
    ),
    guess=Guess("How much media surface do they need?", "filter.required"),
    short=(
        Control("filter.media_volume", "1 ft³", "200 ft³",
                "in buckets; {5 gallons are two thirds of a cubic foot|a bucket holds about 19 liters}"),
        Control("stock.protein", "25 %", "45 %", "on the bag"),
        Control("site.coldest_feeding_water", "50 °F", "90 °F"),
        Control("filter.medium"),
        Control("filter.type"),
        Control("filter.plants", "0 ft²", "500 ft²"),
        Control("filter.vessel"),
    ),
    more=(
        Control("keep.total_ammonia", "0.3 mg/L", "4 mg/L"),
        Control("keep.unionized_ammonia", "0.01 mg/L", "0.2 mg/L"),
        Control("keep.alkalinity", "20 mg/L", "300 mg/L", "with a test kit"),
        Control("filter.depth", "1 ft", "8 ft"),
        Control("filter.vessels", "1", "20"),
        Control("filter.removal", "10 %", "80 %"),
        Control("filter.rate", "0.005 g/(ft² day)", "0.1 g/(ft² day)"),
        Control("filter.derate", "30 %", "100 %"),
        Control("filter.plant_bed"),
        Control("filter.plant_uptake", "0.2 g/(m² day)", "0.8 g/(m² day)"),
        Control("filter.bed_rate", "0 g/(m² day)", "3 g/(m² day)"),
        Control("filter.least_share", "25 %", "100 %"),
        Control("filter.plant_feed", "5 g/(m² day)", "120 g/(m² day)"),
    ),
    picture="filter.picture",
    charts=("filter.rate_chart",),
    figures=(
        "loads.ammonia_made", "loads.beds_ammonia", "loads.plants_nitrogen", "loads.beds_rule",
        "water.beds_climb", "filter.load", "filter.rate", "filter.required", "filter.area",
        "filter.required_volume", "filter.media_volume", "filter.vessels", "filter.across",
        "filter.depth", "filter.hydraulic_load", "filter.removal",
        "filter.ammonia", "filter.unionized", "gas.ph", "filter.oxygen_use",
        "filter.alkalinity_use",
    ),
    parts=("filter",),
    card="filter",
    rule="{300 ft² of media for each pound|61 m² of media for each kilogram} of feed a day. It holds only"
    " where the bacteria work fast: in warm, clean water with much air.",
    tradeoff=("filter.media_volume", "filter.ammonia", "filter.removal"),
    try_this="Change the protein on the bag from 36 to 28 percent. How much media do you save?",
)  # fmt: skip
