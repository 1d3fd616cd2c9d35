"""Paper: problem sheets, the key apart from them, code cards to cut, variants side by side.

Plain HTML with a print style; it prints without a network and reads in grey.  The sheets hold no
answer; the key holds all of them and stays with the instructor.
"""

from html import escape

from .bank import exercise
from .exercises import ExerciseSet, exercise_set
from .hints import hints, shown_answer
from .paper_examples import example_html, has_example
from .sets import SetPlan, set_plan
from .solutions import lines
from .variants import Problem, learner_key, problem

STYLE = """
@page { margin: 12mm 13mm }
* { box-sizing: border-box }
body { font: 12pt/1.4 Georgia, "Times New Roman", serif; color: #000; background: #fff;
  max-width: 46rem; margin: 1rem auto; padding: 0 1rem }
h1 { font-size: 1.35rem; margin: 0 0 .2rem } h2 { font-size: 1.1rem; margin: 1.2rem 0 .3rem }
h3 { font-size: 1rem; margin: 1rem 0 .2rem }
.learner { break-after: page } .learner:last-child { break-after: auto }
.sheet { columns: 2; column-gap: 9mm; column-rule: 1px solid #999 }
h1, h2, h3 { break-after: avoid }
.keep, .problem { break-inside: avoid }
.sheet { font-size: 10.5pt; line-height: 1.3 } .sheet h2 { margin-top: .2rem } .sheet p { margin: .25rem 0 }
.problem { border-top: 1px solid #000; padding-top: .2rem; margin-top: .5rem }
.problem h3 { margin: .1rem 0 }
.small { font-size: .85em } .code { font-family: "Courier New", monospace; font-weight: bold }
.answer { border-bottom: 1px solid #000; display: inline-block; min-width: 7rem; height: 1.2rem }
.work { border: 1px solid #000; padding: 0 .4rem; margin: .3rem 0; color: #555 }
.work div, .reason div { border-bottom: 1px dotted #999; height: 6mm; padding-top: .1rem }
.work div:last-child, .reason div:last-child { border-bottom: 0 }
.reason { border: 1px solid #000; padding: 0 .4rem; margin-top: .3rem; color: #555 }
.example { border-left: 3px solid #000; padding-left: .5rem; margin: .4rem 0; font-size: 10pt }
.example .sum { margin-left: .6rem; break-inside: avoid }
.notes { break-before: page } .notes div { border-bottom: 1px dotted #999; height: 9mm }
.caution { border: 2px solid #000; padding: .3rem .6rem; margin: .4rem 0 }
.key { font-size: 9.5pt; line-height: 1.25 } .key td { padding: .1rem .35rem }
table { border-collapse: collapse; margin: .4rem 0 } td, th { border: 1px solid #000;
  padding: .15rem .6rem; text-align: left; vertical-align: top }
ol.letters { list-style: upper-alpha; margin: .3rem 0 }
ul.lines { list-style: none; padding-left: 1rem; margin: .3rem 0 }
.cards { display: grid; grid-template-columns: repeat(3, 1fr) }
.card { border: 1px dashed #000; padding: .7rem; text-align: center; break-inside: avoid }
.card .code { font-size: 1.5rem; letter-spacing: .08em }
.three { display: grid; grid-template-columns: repeat(3, 1fr); gap: 1rem }
@media print { body { max-width: none; margin: 0; padding: 0 } }
"""


WORK_LINES = 5
"""Lines of the box for the sum: an instructor reads there how a number came about."""


def _page(title: str, body: str) -> str:
    return (
        '<!doctype html>\n<html lang="en"><head><meta charset="utf-8">'
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        f"<title>{escape(title)}</title><style>{STYLE}</style></head>\n<body>{body}</body></html>\n"
    )


def sheets(name: str, codes, class_key, examples: bool = False, spare=None) -> str:
    """Problem sheets of every learner as one HTML page, a sheet each; no answers in it.

    Parameters:
        name: the set, such as ``"solids"``.
        codes: the learners' codes.
        class_key: text or bytes that the instructor keeps.
        examples: True prints the worked examples with other numbers before the problems.
        spare: says of a learner's ``ExerciseSet`` if a page for notes comes after it, so that the
            next learner's sheet begins on a front side.
    Returns: the text of the page.
    Raises: ``ExerciseError`` for a set, a code or a key that cannot be.

    >>> sheets("solids", ["A1"], "a class").startswith("<!")
    True
    """
    plan = set_plan(name)
    found = [exercise_set(name, code, class_key) for code in codes]
    body = "".join(sheet(f, examples, bool(spare and spare(f))) for f in found)
    return _page(plan.title, body)


NOTES = "<div class='notes'><h2>Room for notes</h2>" + "<div></div>" * 24 + "</div>"


def sheet(found: ExerciseSet, examples: bool = False, notes: bool = False) -> str:
    """One learner's sheet as HTML, with worked examples or a page for notes where they are wanted."""
    head = (
        f"<h1>{escape(found.title)}</h1><p>Your code: <span class='code'>{escape(found.learner)}</span>"
        f" <span class='small'>set {escape(found.name)}, version {found.plan.edition}</span></p>"
    )
    rules = " ".join(found.rules.words)
    parts = [f"<section class='learner'>{head}<p class='small'>{escape(rules)}</p>"]
    parts.append("<div class='sheet'>")
    for title, problems in parts_of(found):
        first, *others = (
            (example_html(p) if examples and has_example(found, p) else "")
            + _problem(p, found.rules.reason and not p.turn)
            for p in problems
        )
        # a heading stays with the first problem below it
        parts.append(f"<div class='keep'><h2>{escape(title)}</h2>{first}</div>")
        parts += others
    return "".join(parts) + f"</div>{NOTES if notes else ''}</section>"


def parts_of(found: ExerciseSet) -> list[tuple[str, list[Problem]]]:
    """The problems of a set under their headings, in the order of the day."""
    by_name = {p.name: p for p in found.problems}
    parts = [("Before we start", [by_name[f"{n}/before"] for n in found.plan.before])]
    parts += [(s.title, [by_name[n] for n in s.exercises]) for s in found.sessions]
    parts += [("At the end", [by_name[f"{n}/after"] for n in found.plan.after])]
    return [part for part in parts if part[1]]


def _problem(found: Problem, reason=False) -> str:
    e = found.exercise
    needs = "" if e.paper else " Needs the pages or a table."
    out = [
        f"<div class='problem'><h3>{escape(e.title)}</h3>"
        f"<p class='small'>About {e.minutes:g} minutes.{needs} No. {found.mark}</p>",
        _question(found),
        _lines("work", "Room for your sum", WORK_LINES - (found.turn != "" or not e.numbers)),
    ]
    for ask in e.asks:
        text = f"{escape(found.ask_text(ask) or 'Answer:')} "
        out.append(f"<p>{text}<span class='answer'></span></p>")
    if reason:
        out.append(_lines("reason", "Why?", 2))
    return "".join(out) + "</div>"


def _lines(kind: str, words: str, count: int) -> str:
    """A box of lines to write on, the first with small words in it."""
    first = f"<div>{words}</div>"
    return f"<div class='{kind} small'>{first}{'<div></div>' * (count - 1)}</div>"


def _question(found: Problem) -> str:
    """The question with its caution, lines, options or log."""
    e = found.exercise
    out = [f"<p>{escape(found.text)}</p>"]
    if e.caution:
        out.append(f"<p class='caution'><b>Take care.</b> {escape(e.caution)}</p>")
    if found.lines:
        out.append("<ul class='lines'>" + "".join(f"<li>{escape(x)}</li>" for x in found.lines))
        out.append("</ul>")
    if e.columns:
        head = "".join(f"<th>{escape(c)}</th>" for c in ("", *e.columns))
        rows = "".join(
            f"<tr><th>{letter}</th>"
            + "".join(f"<td>{escape(cell.strip())}</td>" for cell in words.split("|"))
            + "</tr>"
            for letter, words in found.options
        )
        out.append(f"<table><tr>{head}</tr>{rows}</table>")
    elif found.options:
        items = "".join(f"<li>{escape(words)}</li>" for _, words in found.options)
        out.append(f"<ol class='letters'>{items}</ol>")
    if e.published:
        out.append(f"<p class='small'>After: {escape(e.published.source)}.</p>")
    return "".join(out)


def key(name: str, codes, class_key) -> str:
    """The key of a class as HTML: for the instructor only.

    Parameters:
        name: the set, such as ``"solids"``.
        codes: the learners' codes.
        class_key: text or bytes that the instructor keeps.
    Returns: the text of the page.
    Raises: ``ExerciseError`` for a set, a code or a key that cannot be.

    >>> key("solids", ["A1"], "a class").startswith("<!")
    True
    """
    plan = set_plan(name)
    parts = [f"<h1>Key: {escape(plan.title)}</h1><p>For the instructor. Keep it apart.</p>"]
    parts.append(_key_words(plan))
    for code in codes:
        found = exercise_set(name, code, class_key)
        rows = "".join(_key_row(p) for p in found.problems)
        parts.append(
            f"<section class='learner key'><h2 class='code'>{escape(found.learner)}</h2><table><tr>"
            f"<th>exercise</th><th>no.</th><th>answer</th><th>the sums</th></tr>{rows}</table></section>"
        )
    return _page(f"Key: {plan.title}", "".join(parts))


def _key_words(plan: SetPlan) -> str:
    """Once for all learners: how near is near enough, and the misconceptions to look for."""
    out = ["<section class='learner'><h2>What to look for</h2>"]
    for e in dict.fromkeys(e for e, _ in plan.turns):
        near = "; ".join(
            f"within {100 * a.tolerance:g} % ({a.why})" for a in e.numbers if a.tolerance >= 1e-6
        )
        misconceptions = "".join(
            f"<li><b>{escape(s.name)}</b>: {escape(s.words)}</li>" for s in e.misconceptions
        ) + "".join(f"<li><b>line {p.line}</b>: {escape(p.words)}</li>" for p in e.planted)
        out.append(
            f"<h3>{escape(e.title)} <span class='small'>({escape(e.id)})</span></h3>"
            f"<p class='small'>{escape(near)}</p><ul class='small'>{misconceptions}</ul>"
        )
    return "".join(out) + "</section>"


def _key_row(found: Problem) -> str:
    cells = "<br>".join(
        escape(f"{ask.name.replace('_', ' ')}: {shown_answer(found, ask)}")
        for ask in found.exercise.asks
    )
    sums = "<br>".join(escape(line.sum) for line in lines(found.case))
    return (
        f"<tr><td>{escape(found.name)}</td><td>{found.mark}</td><td>{cells}</td>"
        f"<td class='small'>{sums}</td></tr>"
    )


def cards(codes, title: str = "Exercises") -> str:
    """Code cards to print and cut, as HTML.

    Parameters:
        codes: the learners' codes.
        title: what stands on each card.
    Returns: the text of the page.

    >>> "K7QP-4" in cards(["K7QP-4"])
    True
    """
    body = "".join(
        f"<div class='card'><div class='small'>{escape(title)}</div>"
        f"<div class='code'>{escape(code)}</div>"
        "<div class='small'>Your code. Same code, same numbers. No name is stored.</div></div>"
        for code in codes
    )
    return _page(f"Code cards: {title}", f"<div class='cards'>{body}</div>")


def preview(name: str, class_key="preview", learners=("A", "B", "C")) -> str:
    """Variants of one exercise side by side, each with its key and hints: for the instructor.

    Parameters:
        name: the exercise, such as ``"solids-area"``.
        class_key: text or bytes; the same one gives the same numbers.
        learners: the codes that are shown.
    Returns: the text of the page.
    Raises: ``ExerciseError`` for a name that is not there.

    >>> preview("solids-area").startswith("<!")
    True
    """
    e = exercise(name)
    columns = []
    for learner in learners:
        found = problem(e, learner, learner_key(class_key, learner))
        answers = "".join(
            f"<li>{escape(a.name)}: {escape(shown_answer(found, a))}</li>" for a in e.asks
        )
        levels = "".join(f"<li>{escape(h)}</li>" for h in hints(found))
        columns.append(
            f"<div><h2 class='code'>{escape(learner)}</h2>{_question(found)}"
            f"<p><b>Answer</b></p><ul>{answers}</ul><p><b>Hints</b></p><ol>{levels}</ol></div>"
        )
    head = f"<h1>{escape(e.title)}</h1><p>{escape(e.objective)}</p>"
    return _page(e.title, f"{head}<div class='three'>{''.join(columns)}</div>")
