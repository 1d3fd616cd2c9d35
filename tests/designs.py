"""Valid designs for tests: the demo designs, the worked family design, and random ones."""

import random

import numpy as np

from rsdesign import Design, load
from rsdesign.core import tables
from rsdesign.design.model import FIELDS, problems, with_values

DEMOS = ("family", "school", "commercial")


def demo(name: str) -> Design:
    return load(tables.data_folder() / "designs" / f"{name}.toml")


def worked_family(**changes) -> Design:
    """The family design worked by hand in tests/test_worked_family.py, 12 ft round, 32 in deep."""
    values = {
        "site.elevation": 457.2,
        "site.water_temperature": 28.0,
        "goal.fish": 451.0,
        "goal.weight": 0.567,
        "stock.stocking_weight": 0.050,
        "stock.survival": 0.95,
        "stock.feed_conversion": 1.6,
        "stock.growth_coefficient": 2.4,
        "stock.protein": 0.32,
        "tank.count": 1.0,
        "tank.width": 3.6576,
        "tank.depth": 0.8128,
        "keep.total_ammonia": 1e-3,
        "keep.oxygen": 5e-3,
        "keep.alkalinity": 0.100,
        "source.alkalinity": 0.180,
        "source.nitrate": 5e-3,
        "keep.nitrate": 0.150,
        "filter.rate": 0.30e-3 / 86400,
        "air.stone_depth": 0.70,
        "air.efficiency": 0.04,
        "air.alpha": 0.85,
        "air.beta": 0.98,
        "air.theta": 1.024,
        "air.fouling": 0.85,
        **changes,
    }
    return with_values(Design(), values)


CHOICES = {
    "site.elevation": (0.0, 1800.0),
    "site.water_temperature": (22.0, 31.0),
    "source.alkalinity": (0.02, 0.4),
    "source.nitrate": (0.0, 0.02),
    "goal.weight": (0.2, 1.2),
    "stock.stocking_weight": (0.005, 0.1),
    "stock.survival": (0.7, 1.0),
    "stock.feed_conversion": (1.2, 2.4),
    "stock.protein": (0.26, 0.42),
    "wastes.oxygen_per_feed": (0.3, 0.65),
    "wastes.solids_per_feed": (0.15, 0.4),
    "wastes.settleable": (0.3, 0.9),
    "keep.oxygen": (0.0035, 0.0048),
    "keep.total_ammonia": (0.0005, 0.003),
    "keep.alkalinity": (0.04, 0.25),
    "keep.nitrate": (0.05, 0.4),
    "tank.depth": (0.6, 2.0),
    "tank.density": (15.0, 80.0),
    "solids.overflow_rate": (0.0003, 0.004),
    "solids.drain_interval": (6 * 3600.0, 72 * 3600.0),
    "filter.removal": (0.15, 0.7),
    "filter.derate": (0.5, 1.0),
    "filter.plants": (0.0, 40.0),
    "air.alpha": (0.6, 0.95),
    "air.approach": (0.2, 0.8),
    "pump.lift": (0.3, 4.0),
    "pump.length": (3.0, 60.0),
}


def random_design(seed: int) -> Design:
    """A valid design with everything drawn at random."""
    rng = random.Random(seed)
    values = {path: rng.uniform(*span) for path, span in CHOICES.items()}
    values["filter.type"], values["filter.medium"] = rng.choice(
        [("moving bed", "carriers"), ("trickling", "plastic rings"), ("submerged", "gravel")]
    )
    values["solids.settler"] = rng.choice(FIELDS["solids.settler"].choice.options())
    values["solids.second"] = rng.choice(FIELDS["solids.second"].choice.options())
    values["tank.shape"] = rng.choice(("round", "octagon", "cut square", "rectangle"))
    values["tank.split"] = rng.choice(("by feed", "equal"))
    if rng.random() < 0.5:
        values["stock.interval"] = rng.choice([28.0, 42.0, 70.0])
        values["goal.harvest"] = 10 ** rng.uniform(2, 4.5) / (365.25 * 86400)
    else:
        values["goal.fish"] = 10 ** rng.uniform(1.5, 4)
    for path, span, share in (
        ("tank.width", (2.0, 8.0), 0.3),
        ("filter.media_volume", (0.05, 20.0), 0.4),
        ("pump.flow", (0.0005, 0.05), 0.4),
        ("air.flow", (0.001, 0.5), 0.4),
        ("solids.area", (0.2, 20.0), 0.3),
        ("keep.measured_ph", (6.6, 8.4), 0.2),
    ):
        if rng.random() < share:
            values[path] = rng.uniform(*span)
    if values["tank.shape"] == "rectangle" and "tank.width" in values:
        values["tank.length"] = values["tank.width"] * 3
    design = with_values(Design(), values)
    assert not problems(design), problems(design)
    return design


def random_arrays(count: int, seed: int = 0) -> Design:
    """A design whose swept choices are arrays."""
    rng = np.random.default_rng(seed)
    values = {path: rng.uniform(*span, size=count) for path, span in CHOICES.items()}
    values["goal.fish"] = 10 ** rng.uniform(1.5, 4, size=count)
    return with_values(Design(), values)


def single(design: Design, index: int) -> Design:
    """One design of a design of arrays."""
    from rsdesign.design.model import value_of

    changes = {}
    for path in FIELDS:
        value = value_of(design, path)
        if isinstance(value, np.ndarray):
            changes[path] = float(value[index])
    return with_values(design, changes)
