"""The way to an answer: calls of the package, by name, over the numbers drawn.

A value in a file is the name of a draw or of an earlier step, a number, a number with its unit, a
list of these, or a table ``{ of = NAME, times = …, over = …, plus = … }``.  Functions are found by
name in the rooms of formulas only, so a file can call nothing else.
"""

import functools
import importlib
import pkgutil
from math import exp, isfinite, log

import numpy as np

from .. import equations
from ..core import tables
from ..core.arrays import root
from ..core.choices import DesignError
from ..core.kinds import Kind, UnitError
from ..core.units import parse
from ..design.file import load
from ..design.model import FIELDS, Design, with_values
from ..sizing.system import figure_at, size, value_at
from .model import Exercise, ExerciseError, Step

SUBJECTS = tuple(info.name for info in pkgutil.iter_modules(equations.__path__))
"""The subjects whose functions an exercise may call."""


@functools.cache
def function_at(path: str):
    """The function with this dotted path, such as ``tank.vessel.circular_volume``."""
    module, _, name = path.rpartition(".")
    if module.split(".")[0] not in SUBJECTS or name.startswith("_"):
        raise ExerciseError(f"{path!r} is not a function in {', '.join(SUBJECTS)}.")
    try:
        found = getattr(importlib.import_module(f"rsdesign.equations.{module}"), name)
    except (ImportError, AttributeError):
        raise ExerciseError(f"{path!r} is not a function of the package.") from None
    if not callable(found):
        raise ExerciseError(f"{path!r} is not a function.")
    return found


def kind_of(step: Step) -> Kind | None:
    """The kind of what a step gives, as the package states it."""
    if step.figure:
        try:
            return figure_at(step.figure).kind
        except KeyError:
            raise ExerciseError(f"{step.figure!r} is not a figure of a sizing.") from None
    about = getattr(function_at(step.function), "equation", None)
    found = about.result if about is not None else None
    return None if isinstance(found, tuple) else found


@functools.cache
def kinds_of(exercise: Exercise) -> dict[str, Kind | None]:
    """The kind of every number of an exercise by its name."""
    return {
        **{draw.name: draw.kind for draw in exercise.draws},
        **{step.name: step.kind for step in exercise.steps},
    }


def resolve(value, env: dict, kind: Kind | None = None):
    """A value of a file as a plain number (or text, for the name of a relation).

    Raises ``ExerciseError`` for a table that is not understood.
    """
    if isinstance(value, str):
        return env[value] if value in env else _typed(value, kind)
    if isinstance(value, bool):
        return value
    if isinstance(value, (int, float)):
        return float(value)
    if isinstance(value, list):
        return np.array([resolve(part, env, kind) for part in value], dtype=float)
    if isinstance(value, dict) and set(value) <= {"of", "times", "over", "plus"}:
        number = resolve(value["of"], env, kind)
        number = number * resolve(value.get("times", 1.0), env)
        number = number / resolve(value.get("over", 1.0), env)
        return number + resolve(value.get("plus", 0.0), env, kind)
    raise ExerciseError(f"{str(value)[:60]!r} is not a value of an exercise.")


def _typed(text: str, kind: Kind | None):
    if kind is None:
        try:
            return float(text)
        except ValueError:
            return text  # the name of a relation, for instance
    try:
        return parse(text, kind)
    except UnitError as wrong:
        raise ExerciseError(str(wrong)) from None


def run(exercise: Exercise, env: dict, change=None, instead=None, fixed=None) -> dict:
    """Every number of a problem by its name.

    ``env`` holds what was drawn; ``change`` puts other values in (a misconception, an option), ``instead``
    other steps; ``fixed`` holds a learner's own earlier results, which are taken in place of ours.
    """
    kinds = kinds_of(exercise)
    change, instead, fixed = change or {}, instead or {}, fixed or {}
    found = dict(env)
    for draw in exercise.draws:
        if draw.name in change:
            found[draw.name] = resolve(change[draw.name], env, kinds[draw.name])
    for name, value in change.items():
        if name not in kinds:  # a number that only options have
            found[name] = resolve(value, found)
    for step in exercise.steps:
        if step.name in fixed and step.name not in instead:
            found[step.name] = fixed[step.name]
        else:
            found[step.name] = call(instead.get(step.name, step), found)
        if step.name in change:
            found[step.name] = resolve(change[step.name], found, kinds[step.name])
    return found


def call(step: Step, env: dict):
    """What one step gives."""
    if step.chain:
        return _search(step, env)
    if step.design:
        return _figure(step, env)
    if not step.function:
        return _joined(step, env)
    function = function_at(step.function)
    about = getattr(function, "equation", None)
    kinds = about.kinds if about is not None else {}
    given = {k: resolve(v, env, kinds.get(k)) for k, v in step.arguments.items()}
    result = function(**given)
    return float(result) if np.ndim(result) == 0 else np.asarray(result, float)


def _joined(step: Step, env: dict) -> float:
    """A sum, a difference, a product or a quotient of numbers."""
    parts = [resolve(part, env, step.kind) for part in step.sum]
    if parts:
        return float(sum(parts))
    if step.product:
        return float(np.prod([resolve(part, env) for part in step.product]))
    if step.difference:
        first, second = (resolve(part, env, step.kind) for part in step.difference)
        return first - second
    above, below = (resolve(part, env) for part in step.quotient)
    return above / below if below else float("nan")


def _search(step: Step, env: dict) -> float:
    """The value at which a chain of steps gives what is wanted; nan where there is none."""
    wanted = resolve(step.equals, env, step.chain[-1].kind)

    def miss(value: float) -> float:
        inner = {**env, step.name: value}
        for part in step.chain:
            inner[part.name] = call(part, inner)
        return inner[step.chain[-1].name] - wanted

    low, high = log(step.low), log(step.high)
    if not miss(step.low) * miss(step.high) < 0:
        return float("nan")
    return exp(root(lambda value: miss(exp(value)), low, high))


@functools.cache
def _demo(name: str) -> Design:
    return load(tables.data_folder() / "designs" / f"{name}.toml")


_sizings: dict = {}


def _figure(step: Step, env: dict) -> float:
    """A figure of the sizing of a demo design with some choices changed; sizings are kept."""
    values = {}
    for path, value in step.choices.items():
        if path not in FIELDS:
            raise ExerciseError(f"{path!r} is not a choice of a design.")
        values[path] = resolve(value, env, FIELDS[path].kind)
    key = (step.design, tuple(sorted(values.items())))
    if key not in _sizings:
        if len(_sizings) > 2000:
            _sizings.clear()
        try:
            _sizings[key] = size(with_values(_demo(step.design), values))
        except DesignError:
            return float("nan")
    return float(value_at(_sizings[key], step.figure))


def finite(value) -> bool:
    """Whether a result is one ordinary number."""
    return isinstance(value, float) and isfinite(value)


def names_in(value) -> set[str]:
    """Every name that a value of a file, or a step, builds on."""
    if isinstance(value, str):
        return {value}
    if isinstance(value, dict):
        return set().union(*(names_in(v) for v in value.values()))
    if isinstance(value, (list, tuple)):
        return set().union(*(names_in(v) for v in value))
    if isinstance(value, Step):
        parts = (value.arguments, value.choices, value.chain, value.equals, value.sum,
                 value.difference, value.product, value.quotient)  # fmt: skip
        return set().union(*(names_in(part) for part in parts))
    return set()


@functools.cache
def leading_to(exercise: Exercise) -> tuple[Step, ...]:
    """The steps on the way to the numbers asked for; those for misconceptions and options are left out."""
    wanted = {ask.name for ask in exercise.numbers}
    kept = []
    for step in reversed(exercise.steps):
        if step.name in wanted:
            kept.append(step)
            wanted |= names_in(step)
    return tuple(reversed(kept))
