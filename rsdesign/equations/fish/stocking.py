"""The stocking plan: its relations and its table of weeks, gathered under one name."""

from .batches import (
    biomass,
    cohorts,
    feed_for_gain,
    fish_per_batch,
    fish_to_stock,
    implied_ration,
    mean_feed,
    ration_at,
    ration_feed,
    surviving,
    table_ration,
    weight_from_stages,
)
from .peaks import (
    cohort_feed,
    feed_per_batch,
    peak_cohort_feed,
    peak_total_biomass,
    peak_total_feed,
)
from .plan import Plan, plan

__all__ = [
    "Plan", "biomass", "cohort_feed", "cohorts", "feed_for_gain", "feed_per_batch",
    "fish_per_batch", "fish_to_stock", "implied_ration", "mean_feed", "peak_cohort_feed",
    "peak_total_biomass", "peak_total_feed", "plan", "ration_at", "ration_feed", "surviving",
    "table_ration", "weight_from_stages",
]  # fmt: skip
