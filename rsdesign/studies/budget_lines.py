"""The lines of a budget that are a quantity times a price, and those quoted as a sum."""

PRICED = (
    ("sales", "Fish sold", "fish"),
    ("home_use", "Fish eaten at home", "home_fish"),
    ("fingerlings", "Fingerlings", "fingerling"),
    ("feed", "Feed", "feed"),
    ("electricity", "Electricity", "electricity"),
    ("heating", "Heating", "electricity"),
    ("water", "Water", "water"),
    ("dechlorinator", "Treated water", "dechlorinator"),
    ("discharge", "Water let go", "discharge"),
    ("base", "Baking soda", "base"),
    ("ice", "Ice for fish sold", "ice"),
)
"""Lines of the budget that are a quantity times a price: name, words, and the price."""

AS_QUOTED = ("test_kits", "supplies", "permit")
"""Lines that are a sum for the year as it stands in the price list."""
