"""What stands beside the choices and follows a move after the figures: ribbons, trade-off, ladder.

One sweep for all sliders of a page, of which the page gets only the stretches in which things stand
alike.
"""

from ..core.choices import DesignError
from ..core.units import show
from ..design.model import FIELDS, value_of
from ..report.drawings import panels
from ..studies.ribbons import Ribbon
from ..studies.ribbons import ribbons as studied
from ..studies.stacked import TOLD, Slider
from ..studies.tradeoffs import PAIRS
from .controls import span_of
from .ladder_block import ladder_block
from .pictures import as_table
from .series import SERIES
from .session import Session
from .states import STATES

WORDS = {"short": "short", "tight": "tight", "sized to fit": "fits", "enough": "enough"}
"""The word of a state under a stretch of a ribbon."""


def aside(session: Session) -> dict:
    """The blocks beside the choices; each is empty where the page has none."""
    if session.sizing is None:
        return {"ribbons": {}, "tradeoff": None, "ladder": None}
    along = traded(session)
    found = _studied(session, along)
    shown = sliders_of(session)
    return {
        "ribbons": {
            ribbon.slider.path: _ribbon(ribbon, session.system)
            for ribbon in found
            if ribbon.slider in shown
        },
        "tradeoff": tradeoff(session, along, found),
        "ladder": ladder_block(session) if session.page.ladder else None,
    }


def sliders_of(session: Session) -> list[Slider]:
    """The sliders of the choices in the page's first screen, with the spans that they have there."""
    found = []
    for control in session.page.short[: session.page.in_view]:
        choice = FIELDS[control.path].choice
        if choice.low is not None and choice.options is None and choice.sweep:
            found.append(Slider(control.path, *span_of(control)))
    return found


def traded(session: Session) -> Slider | None:
    """The slider of the page's trade-off, where the page has one."""
    if session.page.name not in PAIRS:
        return None
    path = PAIRS[session.page.name].choice
    return Slider(path, *span_of(_control(session.page, path)))


def _studied(session: Session, along: Slider | None) -> tuple[Ribbon, ...]:
    """The ribbon of each slider, and of the trade-off's where its row can be sized with the others."""
    sliders = tuple(sliders_of(session))
    together = along is not None and FIELDS[along.path].choice.sweep and sliders
    if together and session.page.hold == TOLD and session.page.name != "heat":
        sliders = (*(s for s in sliders if s != along), along)
    try:
        return studied(session.sizing, sliders, hold=session.page.hold)
    except DesignError:
        return ()


def _control(page, path: str):
    """The control of a choice on a page; where it has none, that of the first page that has."""
    pages = (page, *SERIES)
    return next((c for p in pages for c in p.controls if c.path == path), page.control(path))


def _ribbon(ribbon, system: str) -> dict:
    slider, rule = ribbon.slider, ribbon.rule
    runs = []
    for run in ribbon.runs:
        state = STATES.get(run.state, run.state)
        words = _words(run)
        if runs and runs[-1]["words"] == words and runs[-1]["state"] == state:
            runs[-1]["to"] = round(run.to, 4)
            continue
        runs.append(
            {"from": round(run.from_, 4), "to": round(run.to, 4), "state": state, "words": words}
        )
    judged = any(run["state"] in ("short", "tight", "enough") for run in runs)
    inside = rule is not None and slider.low <= rule <= slider.high
    return {
        "runs": runs,
        "judged": judged,
        "rule_at": round(slider.position_of(rule), 4) if inside else None,
        "rule": f"rule of thumb {show(rule, slider.kind, system, 2)}" if inside else "",
        "says": _says(runs),
    }


def _words(run) -> str:
    if run.part == "fish":
        return {"short": "they stop eating", "enough": "they eat"}.get(run.state, run.state)
    if run.state in ("short", "tight"):
        return f"{run.label.lower()} {run.state}"
    return WORDS.get(run.state, run.state)


def _says(runs: list[dict]) -> str:
    """The stretches in words, for a screen reader."""
    return ", then ".join(run["words"] for run in runs)


def tradeoff(session: Session, slider: Slider | None, found: tuple[Ribbon, ...]) -> dict | None:
    """The trade-off of the page as a drawing, with its sentence and its numbers.

    ``found``: the ribbons of the page, of which one may hold the results along the choice.
    """
    page = session.page
    if slider is None:
        return None
    before = None if session.before is None else value_of(session.before.design, slider.path)
    held = page.hold == TOLD
    sized = (
        (r.values, r.along) for r in found if held and r.slider == slider and r.along is not None
    )
    try:
        drawn = panels.tradeoff_panels(
            session.sizing, page.name, slider, session.system, before, next(sized, None)
        )
    except DesignError as wrong:
        return {"svg": "", "sentence": str(wrong), "table": as_table(((), ()))}
    return {"svg": drawn.svg, "sentence": drawn.sentence, "table": as_table(drawn.table)}
