"""Read ``data/exercises/TOPIC.toml`` into the classes of ``bank``, with a sentence for each fault."""

import re
import tomllib
from difflib import get_close_matches
from pathlib import Path

from ..core.kinds import KINDS, Kind, UnitError
from ..core.units import parse
from . import model
from .steps import kind_of

LETTERS = "ABCDEFGH"
JOINS = ("sum", "difference", "product", "quotient")
WORDS = "words"
"""The kind of a draw that has no number."""

_MUST = ("id", "form", "title", "level", "minutes", "objective", "question", "ask", "hint")
_MAY = ("version", "paper", "draw", "step", "slip", "line", "planted", "option", "columns",
        "shuffle", "caution", "expert", "published", "solution")  # fmt: skip


class _Where:
    """Says where in a file something is wrong."""

    def __init__(self, words: str):
        self.words = words

    def wrong(self, text: str):
        raise model.ExerciseError(f"{self.words}: {text}.")

    def keys(self, table, what: str, must=(), may=()) -> None:
        if not isinstance(table, dict):
            self.wrong(f"{what} has to be a table, not {str(table)[:40]!r}")
        for key in must:
            if key not in table:
                self.wrong(f"{what} needs {key}")
        for key in table:
            if key not in must and key not in may:
                near = get_close_matches(key, (*must, *may), n=1)
                hint = f"; did you mean {near[0]!r}" if near else ""
                self.wrong(f"{what} has no {key!r}{hint}")

    def kind(self, name: str) -> Kind:
        if name not in KINDS:
            near = get_close_matches(str(name), KINDS, n=3)
            self.wrong(f"{name!r} is not a kind of quantity; near it are {', '.join(near)}")
        return KINDS[name]

    def number(self, text, kind: Kind | None) -> float:
        if isinstance(text, (int, float)) and not isinstance(text, bool):
            return float(text)
        try:
            return parse(text, kind) if kind is not None else float(text)
        except (UnitError, ValueError, AttributeError) as bad:
            return self.wrong(f"{text!r}: {bad}")


def read_file(path: Path, topic: str) -> tuple[model.Exercise, ...]:
    """Every exercise of one file.  Raises ``ExerciseError`` naming the file and the exercise."""
    try:
        table = tomllib.loads(path.read_text(encoding="utf-8"))
    except FileNotFoundError:
        raise model.ExerciseError(f"{path.name} is not there; install the package again.") from None
    except tomllib.TOMLDecodeError as bad:
        raise model.ExerciseError(f"{path.name} is not TOML: {bad}.") from None
    _Where(path.name).keys(table, "the file", ("exercise",))
    return tuple(read_exercise(raw, topic, path.name) for raw in table["exercise"])


def read_exercise(raw: dict, topic: str, file: str = "the exercise") -> model.Exercise:
    """One exercise from its table.  Raises ``ExerciseError``."""
    at = _Where(f"{file}, exercise {raw.get('id', '?')}")
    at.keys(raw, "an exercise", _MUST, _MAY)
    if raw["form"] not in model.FORMS:
        at.wrong(f"the form {raw['form']!r} is none of {', '.join(model.FORMS)}")
    hint = raw["hint"]
    at.keys(hint, "hint", ("principle", "relation", "worked"))
    draws = tuple(_draw(at, name, d) for name, d in raw.get("draw", {}).items())
    steps = tuple(_step(at, s) for s in raw.get("step", ()))
    known = {**{d.name: d.kind for d in draws}, **{s.name: s.kind for s in steps}}
    asks = tuple(_ask(at, a, steps, draws) for a in raw["ask"])
    numbers = [a.name for a in asks if a.form == "number"]
    last = numbers[-1] if numbers else asks[-1].name
    exercise = model.Exercise(
        id=raw["id"], version=raw.get("version", 1), topic=topic, form=raw["form"],
        title=raw["title"], level=raw["level"], minutes=raw["minutes"],
        paper=raw.get("paper", True), objective=raw["objective"], question=raw["question"],
        draws=draws, steps=steps, asks=asks,
        misconceptions=tuple(_misconception(at, s, last, asks, known) for s in raw.get("slip", ())),
        lines=tuple(raw.get("line", ())),
        planted=tuple(_planted(at, p, len(raw.get("line", ()))) for p in raw.get("planted", ())),
        options=tuple(_option(at, o) for o in raw.get("option", ())),
        columns=tuple(raw.get("columns", ())), shuffle=raw.get("shuffle", False),
        principle=hint["principle"], relation=hint["relation"], worked=hint["worked"],
        solution=tuple(_worked(at, s, known) for s in raw.get("solution", ())), caution=raw.get("caution", ""),
        expert=raw.get("expert", ""), published=_published(at, raw.get("published"), asks, draws),
    )  # fmt: skip
    _whole(at, exercise)
    return exercise


def _whole(at: _Where, e: model.Exercise) -> None:
    """What must hold between the parts of an exercise."""
    forms = {a.form for a in e.asks}
    if (e.form == "find the mistake") != ("line" in forms) or bool(e.planted) != bool(e.lines):
        at.wrong("a worked solution needs lines, planted errors and an ask for the line")
    if {"pick", "order"} & forms and len(e.options) < 3:
        at.wrong("needs at least three options to choose from")
    if e.form in ("rank", "choose", "read a log") and not e.options:
        at.wrong("needs options")
    if e.solution and numbers_without(e):
        at.wrong(f"the solution does not come to {', '.join(numbers_without(e))}")
    if e.combinations > 20_000:
        at.wrong(f"has {e.combinations} combinations; shorten the lists of its draws")


def numbers_without(e: model.Exercise) -> list[str]:
    """The numbers asked for that no line of the solution gives."""
    given = {line.gives for line in e.solution}
    return [ask.name for ask in e.numbers if ask.name not in given]


def _draw(at: _Where, name: str, raw: dict) -> model.Draw:
    at.keys(raw, f"draw.{name}", ("kind", "from"))
    texts = tuple(str(t) for t in raw["from"])
    if len(texts) < 1 or len(set(texts)) != len(texts):
        at.wrong(f"draw.{name} has nothing to draw from, or the same twice")
    if raw["kind"] == WORDS:
        return model.Draw(name, None, texts, tuple(float(i) for i in range(len(texts))))
    kind = at.kind(raw["kind"])
    return model.Draw(name, kind, texts, tuple(at.number(t.replace(",", ""), kind) for t in texts))


def _step(at: _Where, raw: dict) -> model.Step:
    at.keys(raw, "a step", ("name",), ("function", "arguments", "design", "with", "figure", "chain",
                                       "equals", "low", "high", "kind", *JOINS))  # fmt: skip
    kind = at.kind(raw["kind"]) if "kind" in raw else None
    joined = next((way for way in JOINS if way in raw), None)
    if joined is not None:
        if joined in ("difference", "quotient") and len(raw[joined]) != 2:
            at.wrong(f"the {joined} {raw['name']!r} joins two numbers")
        return model.Step(raw["name"], kind=kind, **{joined: tuple(raw[joined])})
    if "function" in raw:
        step = model.Step(raw["name"], function=raw["function"], arguments=raw.get("arguments", {}))
    elif "design" in raw:
        step = model.Step(raw["name"], design=raw["design"], choices=raw.get("with", {}),
                    figure=raw["figure"])  # fmt: skip
    elif "chain" in raw:
        if kind is None:
            at.wrong(f"the search {raw['name']!r} needs its kind, low, high and equals")
        return model.Step(raw["name"], chain=tuple(_step(at, s) for s in raw["chain"]), kind=kind,
                    equals=raw["equals"], low=at.number(raw["low"], kind),
                    high=at.number(raw["high"], kind))  # fmt: skip
    else:
        at.wrong(f"the step {raw['name']!r} needs a function, a design or a chain")
    try:
        found = kind if kind is not None else kind_of(step)
    except model.ExerciseError as bad:
        at.wrong(str(bad).rstrip("."))
    return model.Step(step.name, step.function, step.arguments, step.design, step.choices, step.figure,
                kind=found)  # fmt: skip


def _ask(at: _Where, raw: dict, steps, draws) -> model.Ask:
    at.keys(raw, "ask", ("name",), ("form", "text", "kind", "unit", "units", "tolerance", "floor",
                                    "why", "low", "high", "by", "rule", "limit", "cost",
                                    "budget"))  # fmt: skip
    form = raw.get("form", "number")
    name = raw["name"]
    kind, low, high, floor = None, 0.0, 0.0, 0.0
    if form == "number":
        at.keys(raw, f"ask {name}", ("name", "unit", "tolerance", "why", "low", "high"), raw)
        known = {**{d.name: d.kind for d in draws}, **{s.name: s.kind for s in steps}}
        if name not in known:
            at.wrong(f"asks for {name!r}, which is no step and no draw")
        kind = at.kind(raw["kind"]) if "kind" in raw else known[name]
        if kind is None:
            at.wrong(f"ask {name} needs a kind")
        try:
            for label in (raw["unit"], *raw.get("units", ())):
                kind.unit(label)
        except UnitError as bad:
            at.wrong(str(bad).rstrip("."))
        low, high = at.number(raw["low"], kind), at.number(raw["high"], kind)
        floor = at.number(raw["floor"], kind) if "floor" in raw else 0.0
    elif form in ("pick", "order"):
        rules = model.PICKS if form == "pick" else model.ORDERS
        if raw.get("rule") not in rules or "by" not in raw:
            at.wrong(f"ask {name} needs by, and a rule out of {', '.join(rules)}")
    elif form != "line":
        at.wrong(f"ask {name} is a {form!r}; there are number, pick, order and line")
    return model.Ask(
        name, form, raw.get("text", ""), kind, raw.get("unit", ""), tuple(raw.get("units", ())),
        raw.get("tolerance", 0.0), floor, raw.get("why", ""), low, high, raw.get("by", ""),
        raw.get("rule", ""), raw.get("limit"), raw.get("cost", ""), raw.get("budget"),
    )  # fmt: skip


def _misconception(at: _Where, raw: dict, last: str, asks, known: dict) -> model.Misconception:
    at.keys(raw, "slip", ("name", "words"), ("ask", "change", "instead", "times", "plus", "by",
                                             "rule", "cost"))  # fmt: skip
    ask = raw.get("ask", last)
    if ask not in {a.name for a in asks}:
        at.wrong(f"the slip {raw['name']!r} belongs to {ask!r}, which is not asked")
    for name in (*raw.get("change", {}), *raw.get("instead", {})):
        if name not in known:
            at.wrong(f"the slip {raw['name']!r} changes {name!r}, which is no step and no draw")
    if not set(raw) & {"change", "instead", "times", "plus", "by", "rule", "cost"}:
        at.wrong(f"the slip {raw['name']!r} does nothing")
    instead = {n: _step(at, {"name": n, **s}) for n, s in raw.get("instead", {}).items()}
    return model.Misconception(
        raw["name"], raw["words"], ask, raw.get("change", {}), instead,
        float(raw.get("times", 1.0)), float(raw.get("plus", 0.0)), raw.get("by", ""),
        raw.get("rule", ""), raw.get("cost", ""),
    )  # fmt: skip


def _planted(at: _Where, raw: dict, lines: int) -> model.Planted:
    at.keys(raw, "planted", ("line", "words"), ("text", "change", "instead"))
    if raw["line"] not in LETTERS[:lines]:
        at.wrong(f"the planted error is in line {raw['line']!r}, which is not there")
    instead = {n: _step(at, {"name": n, **s}) for n, s in raw.get("instead", {}).items()}
    return model.Planted(
        raw["line"], raw.get("text", ""), raw["words"], raw.get("change", {}), instead
    )


def _option(at: _Where, raw: dict) -> model.Option:
    at.keys(raw, "option", ("text",), ("change",))
    return model.Option(raw["text"], raw.get("change", {}))


_RESULT = re.compile(r"[^=]* = \{(\w+)(?::([^}]*))?\}[a-z ]*$")
"""A sum and the one number that it gives."""


def _worked(at: _Where, raw: dict, known: dict) -> model.Worked:
    at.keys(raw, "a line of the solution", ("sum", "why"), ("look",))
    ends = _RESULT.match(re.sub(r"\{(\w+):=\}", r"{\1}", raw["sum"]))
    if ends is None or ends[1] not in known:
        at.wrong(f"the line {raw['sum']!r} has to end in '= {{NAME:UNIT}}', with a known number")
    unit = "" if (ends[2] or "").isdigit() else ends[2] or ""
    try:
        if unit:
            known[ends[1]].unit(unit)
    except UnitError as bad:
        at.wrong(str(bad).rstrip("."))
    return model.Worked(raw["sum"], raw["why"], ends[1], unit, raw.get("look", False))


def _published(at: _Where, raw, asks, draws) -> model.Published | None:
    if raw is None:
        return None
    at.keys(raw, "published", ("draw", "printed", "tolerance", "source", "place"), ("ask", "note"))
    for draw in draws:
        if raw["draw"].get(draw.name) not in draw.texts:
            at.wrong(f"the printed {draw.name} has to be one of those drawn from")
    numbers = [a for a in asks if a.form == "number"]
    ask = next((a for a in numbers if a.name == raw.get("ask", numbers[-1].name)), None)
    if ask is None:
        at.wrong(f"the printed answer belongs to {raw['ask']!r}, which is not asked")
    value = at.number(raw["printed"].replace(",", ""), ask.kind)
    return model.Published(raw["draw"], raw["printed"], ask.name, value, raw["tolerance"],
                     raw["source"], raw["place"], raw.get("note", ""))  # fmt: skip
