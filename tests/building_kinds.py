"""Designs of every kind that a layout meets: the demos, and one change at a time to them."""

from designs import DEMOS, demo

from rsdesign.design.model import with_values

KINDS_OF_DESIGN = {
    **{name: (name, {}) for name in DEMOS},
    "swirl settler": ("family", {"solids.settler": "swirl"}),
    "no settler": ("family", {"solids.settler": "none", "solids.second": "none"}),
    "settler for half": ("family", {"solids.share": 0.5}),
    "submerged gravel": ("family", {"filter.type": "submerged", "filter.medium": "gravel"}),
    "beads": ("family", {"filter.type": "bead", "filter.medium": "beads"}),
    "barrels": ("family", {"filter.vessel": "barrel"}),
    "totes": ("family", {"filter.vessel": "IBC tote"}),
    "media bags": ("family", {"filter.type": "submerged", "filter.medium": "lava rock",
                              "filter.vessel": "media bag"}),
    "high tower": ("family", {"filter.type": "trickling", "filter.medium": "plastic rings",
                              "pump.lift": 2.6, "pump.length": 15.0}),
    "low tower": ("family", {"filter.type": "trickling", "filter.medium": "plastic rings"}),
    "airlifts": ("family", {"pump.kind": "airlift", "pump.lift": 0.25}),
    "plants take all": ("family", {"filter.plants": 60.0, "solids.second": "plants"}),
    "box tank": ("family", {"tank.shape": "rectangle", "tank.width": 2.0, "tank.length": 6.0}),
    "eight-sided tanks": ("school", {"tank.shape": "octagon"}),
    "media behind the settler": ("school", {"solids.second": "media", "pump.lift": 2.3}),
    "few elbows": ("family", {"pump.elbows": 1.0}),
    "high mountain": ("commercial", {"site.elevation": 2500.0}),
}  # fmt: skip
"""Name: the demo it starts from, and what is changed [SI]."""


def kind_of_design(name: str):
    start, changes = KINDS_OF_DESIGN[name]
    return with_values(demo(start), changes)
