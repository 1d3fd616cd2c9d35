"""Backups, bases and ways to treat water, from their tables in ``data/``."""

import functools
from dataclasses import dataclass

from ...core import tables
from ...core.kinds import RatePerTime, Ratio, Time
from ...core.tables import SourcedRow


@dataclass(frozen=True, slots=True)
class Backup(SourcedRow):
    """What can stand ready when the power stops."""

    name: str
    label: str
    bought: str
    by_hand: str
    start: Time
    runs: str
    test: str
    caution: str


@dataclass(frozen=True, slots=True)
class Base(SourcedRow):
    """A base that holds alkalinity; ``strength`` is calcium carbonate for each weight of it."""

    name: str
    label: str
    strength: Ratio
    adds_hardness: str
    caution: str


@dataclass(frozen=True, slots=True)
class Treatment(SourcedRow):
    """A way to take chlorine out of new water."""

    name: str
    label: str
    dose_ratio: Ratio
    loss_rate: RatePerTime
    chloramine: str
    caution: str


@functools.cache
def backup_of(name: str) -> Backup:
    """The backup of this name; KeyError names those there are."""
    return tables.named(tables.read("backups", Backup), name, "backup")


@functools.cache
def bases() -> tuple[Base, ...]:
    """Every base."""
    return tables.read("bases", Base)


@functools.cache
def base_of(name: str) -> Base:
    """The base of this name."""
    return tables.named(bases(), name, "base")


@functools.cache
def treatments() -> tuple[Treatment, ...]:
    """Every way to take chlorine out."""
    return tables.read("treatments", Treatment)


@functools.cache
def treatment_of(name: str) -> Treatment:
    """The treatment of this name."""
    return tables.named(treatments(), name, "treatment")
