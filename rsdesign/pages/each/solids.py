"""Solids."""

from ..spec import Control, Guess, Page

PAGE = Page(
    name="solids",
    file="20_solids.ipynb",
    title="Solids",
    question="How much waste can you take out before it breaks down?",
    words=(
        "Solid waste that stays in the water breaks down (rots). That uses oxygen and makes ammonia.",
        "Catch it early, gently, and let it out each day.",
    ),
    lead="Raise the load. See what slips through.",
    headline=(
        ("loads.solids", "Solid waste a day", "dry, biggest day"),
        ("solids.captured", "Caught", "by the settler"),
        ("solids.across", "Settler across", "to build"),
        ("solids.sludge", "Sludge", "to drain off"),
        ("loads.heterotroph_oxygen", "Oxygen lost", "by what stays"),
    ),
    guess=Guess("Of 100 parts of settling waste, how many will the settler catch? (%)",
                "solids.captured"),
    short=(
        Control("solids.overflow_rate", "0.5 gpm/ft²", "8 gpm/ft²"),
        Control("solids.drain_interval", "6 h", "96 h"),
        Control("solids.share", "10 %", "100 %"),
        Control("solids.settler"),
        Control("solids.second"),
    ),
    more=(
        Control("solids.area", "1 ft²", "200 ft²", "with a tape"),
        Control("solids.depth", "1 ft", "8 ft"),
        Control("solids.solids_content", "0.5 %", "6 %"),
        Control("wastes.solids_per_feed", "10 %", "45 %"),
        Control("wastes.settleable", "30 %", "95 %"),
    ),
    picture="solids.picture",
    charts=("solids.capture_chart",),
    figures=(
        "loads.solids", "solids.settler_flow", "solids.required", "solids.area", "solids.across",
        "solids.load", "solids.detention", "solids.captured", "solids.sludge", "solids.escaped",
        "solids.rotting", "loads.heterotroph_oxygen", "loads.ammonia_released", "solids.fines",
    ),
    parts=("settler", "fine waste", "drain"),
    card="solids",
    rule="The rule of thumb gives the settler half an hour of water. Swirl and centre-fed settlers need"
    " less, since area catches waste, not time.",
    tradeoff=("solids.overflow_rate", "solids.captured", "loads.heterotroph_oxygen"),
    try_this="Drain it every 72 hours. What happens to the oxygen that the waste then takes?",
)  # fmt: skip
