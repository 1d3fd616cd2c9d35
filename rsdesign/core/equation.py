"""A published relation is written once, with its units, its LaTeX and its source.

``@equation`` leaves the function as it is for plain numbers (SI, see ``kinds``) and arrays, meets
pint quantities at the edge, writes units, validity and source into the docstring, keeps the
relation in a register from which the method document and the tests are made, and records the
step when somebody asks for the working.  ``@definition`` is the short form for sums and other
definitions: one line of code, from which their LaTeX is read (``formula``).

Two things here are shared state, the core's only ones: the register, filled at import and never
changed, and a context variable that holds the list of a recording in progress.
"""

import contextlib
import functools
import inspect
import types
import typing
from collections.abc import Callable, Iterator
from contextvars import ContextVar
from dataclasses import dataclass, field, replace
from typing import Any, ParamSpec, Protocol

import numpy as np

from . import units
from .docstring import document
from .formula import latex_of
from .kinds import Kind, UnitError

P = ParamSpec("P")

_steps: ContextVar[list | None] = ContextVar("steps of the working", default=None)
_PLAIN = frozenset({float, int, np.ndarray, np.float64, str, bool, type(None), types.FunctionType})

REGISTER: dict[str, "Equation"] = {}
"""Every equation of the package by its dotted name, such as ``water.oxygen.saturation``."""


@dataclass(frozen=True, slots=True, eq=False)
class Equation:
    """What is known of one relation, beside its arithmetic."""

    name: str
    function: Callable
    formula: str
    """The relation in LaTeX, or the symbol of its result alone where the code says the rest."""
    source: str
    valid: str
    basis: str
    signature: inspect.Signature
    kinds: dict[str, Kind | None]
    result: Kind | tuple[Kind | None, ...] | None
    title: str = ""
    """What one use of the relation is for, where its docstring is too general to say."""
    words: dict[str, tuple[str, str]] = field(default_factory=dict)
    """Symbol and words of arguments in that use."""

    @property
    def latex(self) -> str:
        """The relation in LaTeX, ``@name`` standing for the argument of that name."""
        if "=" in self.formula:
            return self.formula
        return f"{self.formula} = {latex_of(self.function)}"

    @property
    def summary(self) -> str:
        """What the relation gives here: its own title, else the first line of the docstring."""
        return self.title or (inspect.getdoc(self.function) or "").split("\n", 1)[0]


@dataclass(frozen=True, slots=True, eq=False)
class Step:
    """One equation with the numbers it met and the number it gave."""

    equation: Equation
    given: dict = field(default_factory=dict)
    result: object = None


class Relation(Protocol[P]):
    """A function that ``equation`` has decorated; gives a float for floats, an array for arrays."""

    equation: Equation
    __name__: str
    __wrapped__: Callable[P, Any]

    def __call__(self, *args: P.args, **kwargs: P.kwargs) -> Any: ...


def equation(
    *, latex: str, source: str, valid: str = "any", basis: str = "seen", example: str = ""
) -> Callable[[Callable[P, Any]], Relation[P]]:
    """Make an equation of a function whose arguments are annotated with kinds.

    ``latex``: the relation, ``@name`` standing for the argument of that name; or the symbol of
    the result alone, and the rest is read from the code.  ``source``: author, year, title, page
    or table.  ``valid``: the range in words.  ``basis``: ``seen`` (read in the source),
    ``derived`` (algebra or conservation), ``common practice`` or ``from memory``.  ``example``:
    a call with its result, such as ``"total_head(1.0, 0.5) == 1.5"``, several behind semicolons.
    """

    def wrap(function: Callable[P, Any]) -> Relation[P]:
        about = _describe(function, latex, source, valid, basis)

        recording = _steps.get

        @functools.wraps(function)
        def call(*args, **kwargs):
            for value in args:  # two plain loops: the quickest test there is, measured
                if type(value) not in _PLAIN:
                    return _at_the_edge(about, args, kwargs)
            for value in kwargs.values():
                if type(value) not in _PLAIN:
                    return _at_the_edge(about, args, kwargs)
            result = function(*args, **kwargs)
            if (steps := recording()) is not None:
                result = _record(steps, about, args, kwargs, result)
            return result

        relation = typing.cast(Any, call)
        relation.equation = about
        relation.__doc__ = document(about, example)
        relation.__signature__ = _without_kinds(about.signature)
        REGISTER[about.name] = about
        return relation

    return wrap


def definition(
    symbol: str,
    source: str = "definition",
    valid: str = "any",
    basis: str = "derived",
    example: str = "",
) -> Callable[[Callable[P, Any]], Relation[P]]:
    """Make an equation of a function that returns one formula; its LaTeX is read from the code.

    ``symbol``: of the result.  Everything else as in ``equation``.
    """
    return equation(latex=symbol, source=source, valid=valid, basis=basis, example=example)


def same_arguments(other: Relation, *without: str) -> Callable[[Callable], Callable]:
    """Say that a function hands its arguments on to another relation, and so takes the same.

    ``without``: arguments of the other that this one finds for itself.
    """

    def wrap(function: Callable) -> Callable:
        signature = other.equation.signature
        kept = [p for name, p in signature.parameters.items() if name not in without]
        given = inspect.signature(function).return_annotation
        typing.cast(Any, function).__signature__ = signature.replace(
            parameters=kept, return_annotation=given
        )
        return function

    return wrap


def _describe(function: Callable, latex: str, source: str, valid: str, basis: str) -> Equation:
    signature = inspect.signature(function)
    kinds = {name: _kind(p.annotation) for name, p in signature.parameters.items()}
    name = f"{function.__module__.removeprefix('rsdesign.equations.')}.{function.__name__}"
    return Equation(
        name, function, latex, source, valid, basis, signature, kinds,
        _result_kind(signature.return_annotation),
    )  # fmt: skip


def _kind(annotation) -> Kind | None:
    """The kind in an annotation such as ``Flow`` or ``Flow | None``, if it has one."""
    for part in (annotation, *typing.get_args(annotation)):
        for note in getattr(part, "__metadata__", ()):
            if isinstance(note, Kind):
                return note
    return None


def _result_kind(annotation):
    if typing.get_origin(annotation) is tuple:
        return tuple(_kind(part) for part in typing.get_args(annotation))
    return _kind(annotation)


def _without_kinds(signature: inspect.Signature) -> inspect.Signature:
    """The signature as a reader wants it; units stand with each parameter's words."""
    plain = [p.replace(annotation=p.empty) for p in signature.parameters.values()]
    return signature.replace(parameters=plain, return_annotation=signature.empty)


def with_labels(call: Relation, title: str, result: Kind | None = None, **arguments) -> Callable:
    """The same relation in one use of it: the working then shows that use's words and kinds.

    ``arguments``: by argument, its kind and its words, or its kind, words and symbol.  Computes
    what ``call`` computes; takes plain numbers and arrays; not in the register.

    >>> from rsdesign.equations.costs.budget import line
    >>> from rsdesign.core.kinds import KINDS
    >>> feed = with_labels(line, "Feed", quantity=(KINDS["mass"], "feed in a year"))
    >>> feed(100.0, 1.5)
    150.0
    """
    about = call.equation
    kinds = {name: given[0] for name, given in arguments.items()}
    words = {
        name: (given[2] if len(given) > 2 else "", given[1]) for name, given in arguments.items()
    }
    here = replace(
        about, title=title, kinds={**about.kinds, **kinds}, words=words,
        result=about.result if result is None else result,
    )  # fmt: skip
    bare = call.__wrapped__

    def use(*args):
        found = bare(*args)
        if (steps := _steps.get()) is not None:
            found = _record(steps, here, args, {}, found)
        return found

    return use


def sum_step(title: str, kind: Kind, parts: dict[str, Any]):
    """A plain sum of parts by their words; recorded as one step whose inputs are the parts.

    >>> sum_step("Receipts", None, {"Fish sold": 20.0, "Fish eaten": 3.0})
    23.0
    """
    total: Any = sum(parts.values())
    if (steps := _steps.get()) is not None:
        total = total + 0.0
        about = Equation(
            "sum", sum_step, rf"C = \sum_{{i=1}}^{{{len(parts)}}} C_i", "a plain sum", "any",
            "derived", inspect.signature(sum_step), dict.fromkeys(parts, kind), kind, title,
            {words: ("+", words) for words in parts},
        )  # fmt: skip
        steps.append(Step(about, dict(parts), total))
    return total


# --- the edge ------------------------------------------------------------------------------


def _at_the_edge(about: Equation, args: tuple, kwargs: dict):
    """A call with quantities, lists or other number types: made plain, computed, given back."""
    given = about.signature.bind(*args, **kwargs).arguments
    met = any(units.is_quantity(value) for value in given.values())
    plain = {}
    for name, value in given.items():
        kind = about.kinds[name]
        if units.is_quantity(value):
            if kind is None:
                raise UnitError(f"{name} of {about.name} takes no unit.")
            plain[name] = _plain_number(units.from_quantity(value, kind, name))
            continue
        if met and kind is not None and kind.has_dimension and value is not None:
            unit = kind.shown("us").label
            raise UnitError(
                f"{name} is a plain number among quantities: give it a unit, for example {unit}."
            )
        plain[name] = _plain_number(value)
    result = about.function(**plain)
    if (steps := _steps.get()) is not None:
        result = _record(steps, about, (), plain, result)
    if not met:
        return result
    if isinstance(about.result, tuple):
        return tuple(
            value if kind is None else units.to_quantity(value, kind)
            for value, kind in zip(result, about.result, strict=True)
        )
    return result if about.result is None else units.to_quantity(result, about.result)


def _plain_number(value):
    """Lists and odd number types as float or array; anything else as it came."""
    if isinstance(value, (list, tuple)):
        return np.asarray(value, dtype=float)
    if isinstance(value, np.ndarray) and value.dtype.kind in "iu":
        return value.astype(float)
    if isinstance(value, (np.integer, np.floating)):
        return float(value)
    return value


# --- the working ---------------------------------------------------------------------------


def _record(steps: list, about: Equation, args: tuple, kwargs: dict, result):
    """Keep the step; the result becomes a new object, so that its identity names the step."""
    result = tuple(part + 0.0 for part in result) if isinstance(result, tuple) else result + 0.0
    bound = about.signature.bind(*args, **kwargs)
    bound.apply_defaults()
    steps.append(Step(about, dict(bound.arguments), result))
    return result


@contextlib.contextmanager
def record() -> Iterator[list[Step]]:
    """Record every equation called inside the block, in order.

    >>> with record() as steps:
    ...     pass
    >>> steps
    []
    """
    steps: list[Step] = []
    token = _steps.set(steps)
    try:
        yield steps
    finally:
        _steps.reset(token)


def working(steps: list[Step], figure) -> list[Step]:
    """The chain of steps behind a figure, first step first; found by identity of results."""
    made = {}
    for step in steps:
        for part in step.result if isinstance(step.result, tuple) else (step.result,):
            made[id(part)] = step
    chain: dict[int, Step] = {}

    def visit(value) -> None:
        step = made.get(id(value))
        if step is not None and id(step) not in chain:
            for part in step.given.values():
                visit(part)
            chain[id(step)] = step

    visit(figure)
    return list(chain.values())
