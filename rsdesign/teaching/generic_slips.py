"""Slips that any sum can hold: a division upside down, a number on the wrong side or left out.

They need no list: how an answer follows from each number of the problem is found by moving that
number a little, through the same steps that gave the answer.  Where the answer goes with a power of
it, the wrong answers of these slips follow.  The words name the number of the problem, never the answer.
"""

import functools
from dataclasses import dataclass, replace
from math import isfinite, log, prod

from ..core.kinds import Kind
from ..core.units import from_plain
from .cases import Case, case
from .model import Ask, Exercise
from .solutions import units_of
from .steps import kinds_of, leading_to, run
from .wording import numbers_in

NEAR = 0.006
"""A typed number with three figures lies this near to what a slip gives."""
MOVED = 1.01
AFFINE = ("temperature", "ph")
"""Families whose numbers are no multiples of one another."""

UPSIDE_DOWN = "division upside down"
WRONG_SIDE = "wrong side of the division"
LEFT_OUT = "a number left out"
ONE_POWER = "square or cube left out"
NO_FACTOR = "factor between units left out"
ION = "nitrogen and the whole ion"

GENERIC = {
    UPSIDE_DOWN: "Ask what is shared out, and among how many: that one stands on top.",
    WRONG_SIDE: "Ask if the answer grows when the number grows: then multiply, else divide.",
    LEFT_OUT: "Go through the question and mark each number that was used.",
    ONE_POWER: "Areas go with the square of a length, volumes with the cube.",
    NO_FACTOR: "Write the unit behind each number; what does not cancel wants a factor.",
    ION: "Kits tell either the nitrogen alone or the whole ion. Turn one into the other first.",
}
"""What to say of each in front of all."""

IONS = (
    (17.0 / 14.0, "ammonia (NH3)"),
    (18.0 / 14.0, "ammonium (NH4)"),
    (46.0 / 14.0, "nitrite (NO2)"),
    (62.0 / 14.0, "nitrate (NO3)"),
)
"""Mass of the whole molecule for its nitrogen, by the atoms N 14, H 1, O 16."""


@dataclass(frozen=True, slots=True)
class Slip:
    """A wrong answer in the unit of the question, the slip's name and words, how far it misses."""

    number: float
    name: str
    words: str
    off: float = 0.0


@dataclass(frozen=True, slots=True)
class _Input:
    """A number of the problem: its words, its numbers in the units in use, its power in the answer."""

    words: str
    numbers: tuple[float, ...]
    power: int


def generic(found: Case, ask: Ask, value: float, truth: float, own: dict) -> Slip | None:
    """The slip whose wrong answer lies nearest to a typed value, if one is near.

    ``own`` holds the learner's own earlier results, plain; ``truth`` follows from them.
    """
    if ask.kind.family in AFFINE or not truth or not isfinite(truth):
        return None
    unit = ask.kind.unit(ask.unit)
    x, t = from_plain(value, unit), from_plain(truth, unit)
    best = None
    for slip in _slips(found, ask, t, own):
        off = abs(x - slip.number) / max(abs(slip.number), 1e-300)
        same = abs(slip.number - t) <= 1.5 * ask.tolerance * abs(t)
        if off <= NEAR and not same and (best is None or off < best[0]):
            best = (off, slip)
    return replace(best[1], off=best[0]) if best else None


def _slips(found: Case, ask: Ask, t: float, own: dict):
    inputs = _inputs(found, ask, own)
    yield from _upside_down(inputs, t)
    for one in inputs:
        for n in one.numbers:
            yield from _of_one(one, n, t)
    text = f"{found.exercise.question} {found.exercise.relation}".lower()
    if "nitrogen" in text or "as n" in text:
        for factor, name in IONS:
            for number in (t * factor, t / factor):
                yield Slip(number, ION, f"Your number fits if whole {name} and its nitrogen are mixed"
                           " up. Which of the two does the question want?")  # fmt: skip


def _of_one(one: _Input, n: float, t: float):
    p = one.power
    if abs(log(n)) < 0.02:  # a one changes nothing
        return
    did, does = ("divided", "multiplies") if p > 0 else ("multiplied", "divides")
    yield Slip(t * n ** (-2 * p), WRONG_SIDE, f"Your number fits if you {did} by {one.words}. Would"
               f" the answer be larger or smaller if that were more? The step {does} by it.")  # fmt: skip
    yield Slip(
        t * n**-p, LEFT_OUT, f"Your number fits if {one.words} was left out. Where does it go?"
    )
    if abs(p) > 1:
        less = p - 1 if p > 0 else p + 1
        yield Slip(t * n ** (less - p), ONE_POWER, f"Your number fits if {one.words} went in once too"
                   " few times. Does it count once, squared or cubed?")  # fmt: skip


def _upside_down(inputs: tuple[_Input, ...], t: float):
    """The whole division turned over, with the factor between units kept, dropped or turned too."""
    if not any(one.power < 0 for one in inputs):
        return
    words = (
        "Your number fits if the division stands upside down. What is shared out, and among how"
        " many? That one stands on top."
    )
    for which in (0, -1):
        whole = prod(one.numbers[which] ** one.power for one in inputs)
        factor = t / whole
        for number in (1.0 / t, 1.0 / whole, factor / whole):
            yield Slip(number, UPSIDE_DOWN, words)
        if abs(log(abs(factor))) > 0.02:
            yield Slip(whole, NO_FACTOR, "Your number fits if the numbers are joined the right way and"
                       " a factor between units is left out. Write the unit behind each number.")  # fmt: skip


def _inputs(found: Case, ask: Ask, own: dict) -> tuple[_Input, ...]:
    """The numbers on which the answer hangs as a power, with the learner's own earlier results."""
    e = found.exercise
    earlier = frozenset(name for name in own if name != ask.name)
    inputs = []
    for name, power in _powers(e, found.index, ask.name, earlier):
        kind = kinds_of(e)[name]
        if name in earlier:
            about = e.ask(name)
            number = from_plain(own[name], kind.unit(about.unit))
            words, numbers = f"your own {name.replace('_', ' ')}", (number,)
        else:
            words, numbers = found.typed[name], _numbers(found, name, kind)
        numbers = tuple(n for n in numbers if n > 0 and isfinite(n))
        if numbers:
            inputs.append(_Input(words, numbers, power))
    return tuple(inputs)


def _numbers(found: Case, name: str, kind: Kind) -> tuple[float, ...]:
    """A number as drawn, and as it stands in the sums of the solution."""
    plain = found.drawn[name]
    labels = units_of(found.exercise, name)
    if found.typed[name].endswith("%"):
        first = plain
    else:
        first = (numbers_in(found.typed[name]) or [plain])[0]
    return tuple(dict.fromkeys([first, *(from_plain(plain, kind.unit(u)) for u in labels)]))


@functools.lru_cache(maxsize=20_000)
def _powers(
    exercise: Exercise, index: int, name: str, earlier: frozenset
) -> tuple[tuple[str, int], ...]:
    """Pairs of a number and the power with which the answer follows it."""
    if any(step.design for step in leading_to(exercise)):
        return ()
    found = case(exercise, index)
    kinds = kinds_of(exercise)
    fixed = {n: found.truth[n] for n in earlier}
    truth = found.truth[name]
    pairs = []
    for one in (*(draw.name for draw in exercise.draws), *sorted(earlier)):
        kind = kinds[one]
        if kind is None or kind.family in AFFINE or not found.truth[one] > 0:
            continue
        moved = found.truth[one] * MOVED
        drawn = found.drawn if one in fixed else {**found.drawn, one: moved}
        held = {**fixed, one: moved} if one in fixed else fixed
        after = run(exercise, drawn, fixed=held)[name]
        if not (isinstance(after, float) and isfinite(after)) or after * truth <= 0:
            continue
        power = log(after / truth) / log(MOVED)
        if abs(power) > 0.5 and abs(power - round(power)) < 0.01:
            pairs.append((one, round(power)))
    return tuple(pairs)
