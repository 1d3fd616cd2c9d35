"""Runs with the lengths and turns that their pipes have in space, and what differs from the design's own."""

from dataclasses import replace

from ..sizing.system import Sizing
from .graph import Fitted, Run
from .plumbing import gravity_head, head
from .pressure import losses_of, way_turns
from .problems import Phrase, Problem, phrase
from .rules import single
from .space import Way

NEAR = 1.0 + 1e-6
WAY = ("riser", "main", "branch")
"""Runs between a pump and a tank."""
DRAIN = ("drain branch", "drain")
"""Runs between a tank and the first vessel."""
TEE_TURNS = ("centre drain", "drain branch", "bypass")
"""Gravity runs whose water turns in a tee once."""


def measured(s: Sizing, runs: list[Run], ways: list[Way]) -> tuple[list[Run], list[Way]]:
    """The runs as their ways are: legs, elbows, and the fall that their water uses."""
    found = {run.name: _measured(s, run, [w for w in ways if w.run is run]) for run in runs}
    return [*found.values()], [replace(w, run=found[w.run.name]) for w in ways]


def _measured(s: Sizing, run: Run, ways: list[Way]) -> Run:
    legs = [way.measured for way in ways]
    longest = max(legs, key=lambda one: sum(leg.length for leg in one))
    alike = all(_rounded(one) == _rounded(longest) for one in legs)
    turns = (
        0
        if run.kind == "hose"
        else max(len(one) for one in legs) - 1 + run.at_ends - run.corner_tees
    )
    known = [f for f in run.fittings if f.kind == "elbow"]
    elbows = []
    if turns:
        why = "; ".join(dict.fromkeys(f.why for f in known)) or "where the pipe turns"
        elbows = [Fitted("elbow", run.pipe, turns, why)]
    fittings = tuple(f for f in run.fittings if f.kind != "elbow")
    more = turns - sum(f.count for f in known)
    found = replace(
        run, legs=longest, pipes=() if alike else tuple(legs), fittings=(*elbows, *fittings),
        losses=run.losses + (more * s.tables.loss("elbow") if run.kind == "gravity" else 0.0),
    )  # fmt: skip
    if run.kind == "gravity":
        return replace(
            found, uses=gravity_head(s, run.flow, run.inside, found.length, found.losses)
        )
    return found


def _rounded(legs) -> tuple:
    return tuple((leg.way, round(leg.length, 6)) for leg in legs)


def differences(s: Sizing, runs: list[Run]) -> tuple[list[Problem], list[Phrase]]:
    """What cannot be as it stands, and where the layout is longer or shorter than the design counts."""
    problems, notes = [], []
    for compare in (_drain, _links, _pressure, _air):
        wrong, words = compare(s, {run.name: run for run in runs})
        problems += wrong
        notes += words
    return problems, notes


def _told(what: str, told: float, need: float, reason: str) -> Phrase:
    """A pipe beside the length that the design counts for it."""
    if need <= told * NEAR:
        words = (f"{what}: the design counts {{told}}; as laid out it is {{need}}, so {{more}} is spare."
                 " Its head was computed with the longer one.")  # fmt: skip
    else:
        words = f"{what}: the design counts {{told}}; as laid out it is {{need}}, {{more}} more. {reason}"
    return phrase(words, told=(told, "tape"), need=(need, "tape"), more=(abs(told - need), "tape"))


def _drain(s: Sizing, runs: dict[str, Run]):
    told, need = float(s.design.pump.drain_length), sum(r.length for r in _along(runs, DRAIN))
    uses, fall = _drain_use(runs)
    if uses <= fall * NEAR:
        enough = "It uses {uses} of the fall of {fall}: enough."
        return [], [_with(_told("Drain to the first vessel", told, need, enough), uses, fall)]
    problem = phrase(
        "The drain as laid out uses {uses} of fall, and there are {fall} from the tank to the first vessel."
        " The design counts {told} of drain, the layout needs {need}: put {need} into the design as the drain"
        " to the settler, so that the sizing takes a wider one.",
        uses=(uses, "head"), fall=(fall, "head"), told=(told, "length"), need=(need, "length"),
    )  # fmt: skip
    return [problem], []


def drain_short(found) -> bool:
    """Whether the drain of a layout uses more fall than there is."""
    uses, fall = _drain_use({run.name: run for run in found.runs})
    return uses > fall * NEAR


def _along(runs: dict[str, Run], names: tuple[str, ...]) -> list[Run]:
    """The runs of a way that a layout has."""
    return [runs[name] for name in names if name in runs]


def _drain_use(runs: dict[str, Run]) -> tuple[float, float]:
    """The fall that the drain uses, and the fall that there is [m]."""
    return sum(r.uses for r in _along(runs, DRAIN)), runs["drain"].fall


def pressure_short(found) -> bool:
    """Whether the way from pump to tank loses more than the sizing counts."""
    lost = way_head(found.sizing, _along({run.name: run for run in found.runs}, WAY))
    pumped = found.sizing.design.pump.kind != "airlift"
    return pumped and lost > single(found.sizing.pump.friction, "the pipe") * NEAR


def _with(words: Phrase, uses: float, fall: float) -> Phrase:
    return Phrase(words.words, (*words.values, ("uses", uses, "head"), ("fall", fall, "head")))


def _links(s: Sizing, runs: dict[str, Run]):
    problems = [
        phrase("The centre drain uses {uses} up to its lip, and its water stands {fall} over it. Give the"
               " standpipes a deeper mouth under the water of the tank.",
               uses=(run.uses, "head"), fall=(run.fall, "head"))
        if run.name == "centre drain" else
        phrase(f"The pipe {run.label} as laid out uses {{uses}} of fall, and there are {{fall}}. Give the pump"
               " more lift, or set the vessels nearer to each other.",
               uses=(run.uses, "head"), fall=(run.fall, "head"))
        for run in runs.values()
        if run.kind == "gravity" and run.name not in ("drain", "drain branch") and run.uses > run.fall * NEAR
    ]  # fmt: skip
    return problems, []


def way_head(s: Sizing, way: list[Run]) -> float:
    """Head lost on the way of the water to one tank, the exit counted [m]."""
    last = way[-1]
    return sum(
        head(s, r.flow, r.inside, r.length,
             losses_of(s, r) + (s.tables.loss("exit") if r is last else 0.0))
        for r in way
    )  # fmt: skip


def _pressure(s: Sizing, runs: dict[str, Run]):
    way = _along(runs, WAY)
    if s.design.pump.kind == "airlift":
        return [], []
    told, need = float(s.design.pump.length), sum(r.length for r in way)
    lost, friction = way_head(s, way), single(s.pump.friction, "the pipe")
    turns, elbows = way_turns(way), float(s.design.pump.elbows)
    values = {"uses": (lost, "head"), "fall": (friction, "head"), "told": (told, "length"),
              "need": (need, "length"), "turns": (float(turns), "count"), "elbows": (elbows, "count")}  # fmt: skip
    if lost > friction * NEAR:
        return [phrase(
            "The way from the pump to a tank loses {uses}, and the sizing counts {fall}. The design counts {told}"
            " of pipe and {elbows} elbows, the layout needs {need} and {turns} turns: put these into the"
            " design, or take the next size of pipe.", **values)], []  # fmt: skip
    note = _told(
        "Pipe from pump to tank",
        told,
        need,
        "It loses {uses} of the {fall} that are counted: enough.",
    )
    turn = phrase("Turns on the way to a tank: the design counts {elbows}, the layout has {turns}. Buy those of"
                  " the layout.", elbows=values["elbows"], turns=values["turns"])  # fmt: skip
    return [], [_with(note, lost, friction), *([turn] if turns != elbows else [])]


def _air(s: Sizing, runs: dict[str, Run]):
    if "air main" not in runs:
        return [], []
    told, need = float(s.design.air.line_length), runs["air riser"].length + runs["air main"].length
    more = (need / told - 1.0) * float(s.air.line_loss) if told > 0 else 0.0
    reason = "That adds {loss} to the pressure of {all}."
    note = _told("Air pipe to the tanks", told, need, reason)
    return [], [Phrase(note.words, (*note.values, ("loss", max(more, 0.0), "pressure"),
                                    ("all", float(s.air.discharge_pressure), "pressure")))]  # fmt: skip
