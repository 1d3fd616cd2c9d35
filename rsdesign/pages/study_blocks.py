"""Blocks of the pages on heat, water and failures: answers, boxes and tables as plain data."""

from ..core.figures import figures_of
from ..core.kinds import KINDS
from ..core.units import number, show
from ..report import heat_words, makeup_words, outage_words, year_words
from ..studies.heat import study as heat
from ..studies.makeup import study as makeup
from ..studies.outage import study as outage
from .session import Session


def failures(session: Session) -> dict:
    """The five failures, what must stand ready, and what moves the minutes."""
    found = outage.study(session.sizing)
    system, mark = session.system, session.design.prices.currency
    motors = [
        [m.name, number(m.count), show(m.power, KINDS["power"], system),
         show(m.energy, KINDS["energy"], system), f"{mark}{number(m.cost)}"]
        for m in found.motors
    ]  # fmt: skip
    moved = [[words, outage_words.clock(t)] for words, t in outage.sensitivity(session.sizing)]
    return {
        "form": "report",
        "title": "Minutes, and what to do",
        "items": [
            _answer(outage_words.answer(found, system)),
            _words(outage_words.DRIVER),
            _words(outage_words.what_counts(found, system)),
            _words(outage_words.SIGNS),
            _list("Is someone there in time?", [f"{c.word}: {c.words}" for c in outage_words.checks(found)]),
            *(
                {"kind": "box", "open": place == 0, **box}
                for place, box in enumerate(outage_words.boxes(found, system))
            ),
            _table("Other times, by name", ["", ""], outage_words.other_times(found, system)),
            _table("What must stand ready", ["For the peak day", ""], _rows(found.needs, system)),
            _words(f"{found.kind.label.capitalize()}: {found.kind.test} {found.kind.caution}"),
            _table("What moves the minutes until distress", ["If", "Minutes"], moved),
            _table("Motors", ["Motor", "Number", "Power", "A day", "A year"], motors),
        ],
    }  # fmt: skip


def hottest(session: Session) -> dict:
    """The one value for the hottest week, and a button that takes the weather's into the design."""
    sizing, system = session.sizing, session.system
    taken = year_words.taken_text(sizing, system)
    found = [_words(year_words.hottest_line(sizing, system))]
    if taken:
        found.append({"kind": "take", "path": "site.warmest_water", "text": taken,
                      "words": f"Take {taken} into the design"})  # fmt: skip
    return {"form": "report", "title": "The hottest week", "items": found}


def heat_and_water(session: Session) -> dict:
    """Three answers to the year, make-up water, salts, doses and the garden."""
    warm = heat.study(session.sizing)
    found = makeup.study(session.sizing, warm)
    system, level = session.system, KINDS["concentration"]
    salts = [
        [s.name, *(show(getattr(s, n), level, system, 2)
                   for n in ("source", "month", "quarter", "at_rest", "only_topped"))]
        for s in found.salts
    ]  # fmt: skip
    dose = KINDS["chemical dose"]
    doses = [
        [d.name, show(d.net, dose, system, 2), show(d.book, dose, system, 2)] for d in found.doses
    ]
    depths = [
        [show(d.depth, KINDS["length"], system),
         show(d.swing, KINDS["temperature difference"], system, 2).replace(" apart", ""),
         show(d.hottest, KINDS["temperature"], system)]
        for d in warm.depths
    ]  # fmt: skip
    return {
        "form": "report",
        "title": "Through the year",
        "items": [
            _list("Three answers to the winter", list(heat_words.answers(warm, system))),
            _list("Heat: what to look at", list(heat_words.findings(warm, system))),
            _table("Depth and the hot day", ["Water depth", "Swing", "Hottest"], depths),
            _answer(makeup_words.answer(found, system)),
            _list("Water: what to look at", makeup_words.findings(found, system)),
            _table("Water in and out, hottest month", ["", ""], _rows(found.flows, system)),
            _table("What stays behind",
                   ["Substance", "Source", "30 days", "90 days", "In the end", "A year, only topped up"],
                   salts),
            _table("Base on the biggest feed day", ["Base", "Net use", "Book use"], doses),
            _table("Holding the temperature all year", ["", ""], _rows(warm.heating, system)),
        ],
    }  # fmt: skip


def _rows(thing, system: str) -> list[list[str]]:
    found = []
    for f in figures_of("", type(thing)):
        value = getattr(thing, f.name)
        if value is None:
            continue
        found.append([f.label, str(value) if f.kind is None else show(value, f.kind, system)])
    return found


def _answer(text: str) -> dict:
    return {"kind": "answer", "text": text}


def _words(text: str) -> dict:
    return {"kind": "words", "text": text}


def _list(title: str, items: list[str]) -> dict:
    return {"kind": "list", "title": title, "items": items}


def _table(title: str, headings: list[str], rows: list[list[str]]) -> dict:
    return {"kind": "table", "title": title, "headings": headings, "rows": rows}
