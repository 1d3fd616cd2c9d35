"""The blocks of the instructor's page: class, bank, variants, grid, and the table of a class."""

from collections import Counter

from ...teaching.bank import exercise, find
from ...teaching.classbook import class_text
from ...teaching.classtable import class_table, common_mistakes, first_five_minutes
from ...teaching.exercises import class_mark
from ...teaching.hints import HINTS, hint, hints, shown_answer
from ...teaching.marking import RUBRIC
from ...teaching.model import FORMS, TOPICS
from ...teaching.papergrid import cells
from ...teaching.paperlength import pages_words
from ...teaching.sets import set_plan, set_plans
from ...teaching.statistics import gain, gain_words, items, reliability_words
from ...teaching.variants import learner_key, problem
from .class_session import shown_problem, shown_work

VARIANTS = ("A", "B", "C")
"""Codes of the variants shown without a class."""

SHOWN_MISTAKES = 12


def blocks(session) -> dict:
    """Every block of the instructor's page."""
    trial = session.trial
    return {
        "class": _class(session),
        "bank": bank_block(session),
        "preview": preview(session) if session.shown else None,
        "problem": shown_problem(trial) if trial else None,
        "work": _trial(session) if trial else None,
        "sets": _sets(session),
        "grid": _grid(session),
        "files": [{"name": name, "late": name in session.late} for name, _ in session.items],
        "result": result(session),
        "keep": _keep(session),
    }


def _keep(session) -> dict | None:
    """What the instructor's browser keeps; the only block with the key of the class."""
    if session.book is None:
        return None
    return {"class": class_text(session.book), "set": session.set, "grid": session.grid,
            "rubric": session.rubric}  # fmt: skip


def _class(session) -> dict | None:
    book = session.book
    if book is None:
        return None
    return {"count": len(book.codes), "codes": list(book.codes), "mark": class_mark(book.key)}


def bank_block(session) -> dict:
    """The exercises that pass the filter."""
    found = find(**session.wanted)
    return {
        "topics": [{"name": name, "title": title} for name, title in TOPICS.items()],
        "forms": list(FORMS),
        "wanted": session.wanted,
        "rows": [
            {"name": e.id, "title": e.title, "topic": TOPICS[e.topic], "form": e.form,
             "level": e.level, "minutes": e.minutes, "paper": e.paper, "objective": e.objective}
            for e in found
        ],
        "words": f"{len(found)} exercises" if found else "No exercise is like that; ask for less.",
    }  # fmt: skip


def preview(session) -> dict:
    """Three variants of an exercise side by side, each with its key and its hints."""
    found = exercise(session.shown)
    book = session.book
    codes = book.codes[:3] if book else VARIANTS
    key = book.key if book else "preview"
    columns = []
    for code in codes:
        one = problem(found, code, learner_key(key, code))
        columns.append({
            "code": code,
            "problem": shown_problem(one),
            "answers": [[ask.name.replace("_", " "), shown_answer(one, ask)] for ask in found.asks],
            "hints": list(hints(one)),
        })  # fmt: skip
    slips = [{"name": s.name, "words": s.words} for s in found.misconceptions]
    slips += [{"name": f"line {p.line}", "words": p.words} for p in found.planted]
    return {"name": found.id, "title": found.title, "objective": found.objective,
            "columns": columns, "slips": slips}  # fmt: skip


def _trial(session) -> dict:
    shown = shown_work(session.trial, session.tried, session.known)
    return {**shown, "wants_reason": False, "points": ""}


def _sets(session) -> dict:
    plan, book = set_plan(session.set), session.book
    return {
        "chosen": plan.name,
        "sets": [{"name": p.name, "title": p.title} for p in set_plans().values()],
        "topics": [{"name": t, "title": set_plan(t).title} for t in TOPICS],
        "rules": list(plan.rules.words),
        "sessions": [
            {"title": s.title, "minutes": s.minutes,
             "exercises": [exercise(name).title for name in s.exercises]}
            for s in plan.sessions
        ],
        "before": [exercise(name).title for name in plan.before],
        "paper": pages_words(plan.name, book.codes, book.key) if book else "",
    }  # fmt: skip


def _grid(session) -> dict | None:
    if session.book is None:
        return None
    plan = set_plan(session.set)
    columns = []
    for name, ask in cells(plan):
        bare, _, turn = name.partition("/")
        about = exercise(bare)
        title = f"{about.title} ({turn})" if turn else about.title
        part = f", {ask.replace('_', ' ')}" if len(about.asks) > 1 else ""
        columns.append({"key": f"{name}:{ask}", "title": title + part})
    return {"codes": list(session.book.codes), "columns": columns, "typed": session.grid,
            "set": plan.title}  # fmt: skip


# --- marks ------------------------------------------------------------------------------------


def result(session) -> dict | None:
    """The marks: the table of the class, a chart, the common mistakes, the next lesson."""
    found = session.marks
    if found is None:
        return None
    header, rows = class_table(found)
    slips = common_mistakes(found.marks)
    return {
        "words": f"{_learners(len(found.marks))} marked, {len(found.refused)} not.",
        "table": {
            "headings": [
                "Code",
                "All",
                "Of what was tried",
                *(_heading(name) for name in header[3:]),
            ],
            "rows": [[row[0], *(_shown(value) for value in row[1:])] for row in rows],
        },
        "late": [marks.learner for marks in found.marks if marks.late],
        "differ": list(found.differ),
        "notes": [
            *(note for note in found.notes if note not in found.differ),
            *(f"{m.learner}: {n}" for m in found.marks for n in m.notes),
        ],
        "refused": [{"name": name, "words": words} for name, words in found.refused],
        "slips": {
            "headings": ["Exercise", "Slip", "Learners"],
            "rows": [
                [exercise(name).title, slip, str(n)] for name, slip, n in slips[:SHOWN_MISTAKES]
            ],
        },
        "chart": chart(found),
        "statistics": {
            "words": f"{reliability_words(found.marks)}",
            "gain": gain_words(gain(found.marks)),
            "table": item_table(found.marks),
        },
        "corrected": list(session.changed),
        "first": first(found),
        "reasons": reasons(session),
        "rubric": RUBRIC,
    }


def item_table(marks) -> dict:
    """Facility and discrimination of each exercise, with how many it rests on."""
    return {
        "headings": ["Exercise", "Tried", "Right", "Facility", "Discrimination", "Common slips"],
        "rows": [
            [exercise(item.exercise).title, str(item.tried), str(item.right),
             _shown(item.facility), "–" if item.discrimination is None else f"{item.discrimination:.2f}",
             "; ".join(f"{name} ({n})" for name, n in item.slips)]
            for item in items(marks)
        ],
    }  # fmt: skip


def _learners(count: int) -> str:
    return "1 learner" if count == 1 else f"{count} learners"


def _heading(name: str) -> str:
    bare, _, turn = name.partition("/")
    return f"{exercise(bare).title} ({turn})" if turn else exercise(bare).title


def _shown(value) -> str:
    if value is None:
        return "–"
    if isinstance(value, bool):
        return "right" if value else "not yet"
    return f"{100 * value:.0f} %"


GROUPS = (
    ("right", "Right", "var(--rs-line-filter)"),
    ("tried", "Tried, not right", "var(--rs-line-solids)"),
    ("nothing", "Nothing handed in", "var(--rs-line)"),
)
"""Parts of a bar with their labels and colors."""


def chart(found) -> dict:
    """A bar chart: how many learners got each exercise right, tried it, or left it out."""
    count: dict[str, Counter] = {}
    for marks in found.marks:
        for row in marks.rows:
            group = "right" if row.right else "tried" if row.attempts else "nothing"
            count.setdefault(_heading(row.exercise), Counter())[group] += 1
    names = list(count)
    data = [
        {"type": "bar", "orientation": "h", "name": words, "y": names,
         "x": [count[name][group] for name in names], "marker": {"color": color},
         "hovertemplate": "%{y}: %{x} learners<extra>" + words + "</extra>"}
        for group, words, color in GROUPS
    ]  # fmt: skip
    ink = {"color": "var(--rs-ink)", "size": 14}
    layout = {
        "barmode": "stack", "height": 120 + 34 * len(names), "font": ink,
        "paper_bgcolor": "var(--rs-paper)", "plot_bgcolor": "var(--rs-paper)",
        "margin": {"l": 10, "r": 10, "t": 10, "b": 40},
        "legend": {"orientation": "h", "y": 1.0, "yanchor": "bottom"},
        "yaxis": {"automargin": True, "autorange": "reversed", "tickfont": {"size": 12}},
        "xaxis": {"title": {"text": "learners"}, "dtick": max(1, len(found.marks) // 6),
                  "gridcolor": "var(--rs-inset)"},
    }  # fmt: skip
    if not names:
        sentence = "Nobody's work could be marked."
    else:
        hardest = min(names, key=lambda name: (count[name]["right"], -count[name]["tried"]))
        sentence = (
            f"Fewest were right at {hardest}: {count[hardest]['right']} of"
            f" {sum(count[hardest].values())} learners."
        )
    rows = [[name, *(str(count[name][group]) for group, _, _ in GROUPS)] for name in names]
    table = {"headings": ["Exercise", *(words for _, words, _ in GROUPS)], "rows": rows}
    return {"name": "class", "figure": {"data": data, "layout": layout}, "sentence": sentence,
            "table": table}  # fmt: skip


def first(found) -> list[dict]:
    """The two commonest mistakes, each with advice and a worked example with other numbers."""
    lines = []
    pairs = zip(first_five_minutes(found.marks), common_mistakes(found.marks), strict=False)
    for words, (name, _, _) in pairs:
        board = problem(exercise(name), "BOARD", learner_key("an example for the board", "BOARD"))
        lines.append({"words": words, "example": hint(board, HINTS)})
    return lines


def reasons(session) -> list[dict]:
    """Every written reason, with the points given."""
    return [
        {"code": row.code, "exercise": row.exercise, "title": _heading(row.exercise),
         "reason": row.reason, "points": session.rubric.get(row.code, {}).get(row.exercise)}
        for marks in session.marks.marks for row in marks.rows if row.reason
    ]  # fmt: skip
