"""Lists: what to cut, what opens and shuts, what to drill; each row has its mark on a drawing."""

from ....building.graph import Run
from ....building.rules import rule
from ....building.space import Way
from .frame import Job, blank, many, table, table_rows, wrapped
from .marks import HEAD, LINE, TEXT
from .paper import Page
from .words import level_words, size_words


def list_sheets(job: Job) -> list[Page]:
    """The lists of a layout, on as many sheets as they need."""
    lists = [cut_list(job), openers(job), holes(job)]
    pages: list[Page] = []
    page, y = _fresh(job, pages)
    for caption, words, head, rows, widths in lists:
        rest, note = list(rows), words
        while rest:
            width = page.room[2] - page.room[0]
            lines = [line for part in note.split("\n") for line in wrapped(part, width)]
            start = HEAD * 1.5 + len(lines) * TEXT * LINE + 1.0
            heights = table_rows(head, rest, width, widths)
            room = page.room[3] - y - start
            many = _fitting_rows(heights, room)
            if not many and y > page.room[1] + 1.0:
                page, y = _fresh(job, pages)
                continue
            many = max(many, 1)
            y = _write(page, y, caption, lines)
            y += (
                table(
                    page, (page.room[0], y, page.room[2], page.room[3]), head, rest[:many], widths
                )
                + 3.5
            )
            rest, note = rest[many:], ""
    for page in pages:
        page.sentence = (
            "What to cut, what opens and shuts, and what to drill, by the marks on the drawings."
        )
    return pages


def _fresh(job: Job, pages: list[Page]) -> tuple[Page, float]:
    page = blank(job, "Lists: pipe to cut, valves and unions, holes")
    pages.append(page)
    return page, page.room[1]


def _fitting_rows(heights: list[float], room: float) -> int:
    """How many rows under the head fit a room; none where fewer than two would."""
    used, many = heights[0], 0
    for tall in heights[1:]:
        used += tall
        if used > room:
            break
        many += 1
    return many if many > 1 or many == len(heights) - 1 else 0


def _write(page: Page, y: float, caption: str, lines: list[str]) -> float:
    page.write(page.room[0], y + HEAD, caption, HEAD, bold=True)
    y += HEAD * 1.5
    for words in lines:
        page.write(page.room[0], y + TEXT, words)
        y += TEXT * LINE
    return y + 1.0


def cut_list(job: Job):
    """Every run: its pieces as drawn, their cuts, and the length that the sizing counts."""
    rows = []
    for run in job.layout.runs:
        way = longest(job, run)
        rows.append((
            job.numbers.of(run), run.label, run.pipe, str(run.count), pieces(job, way), size_words(run.length, job.system),
            cut_words(job, run), fittings(job, run),
        ))  # fmt: skip
    head = ("Mark", "Pipe", "Size", "How many", "The longest, middle to middle", "Its length", "Cut for all of them",
            "Fittings in one")  # fmt: skip
    note = "\n".join((
        "Set the vessels first, then measure again before you cut. Lengths run from middle to middle of the turns, as drawn;"
        " the cuts have their fittings taken off. Water pipes lie level and run full: the water falls, not the pipe.",
        *(words.said(job.system) for words in job.layout.notes),
    ))  # fmt: skip
    return "Pipe to cut", note, head, rows, (0.8, 2.7, 1.1, 0.9, 3.9, 1.4, 3.7, 4.2)


def longest(job: Job, run: Run) -> Way:
    """The longest way of a run."""
    return max((w for w in job.ways if w.run.name == run.name), key=lambda w: w.length)


def pieces(job: Job, way: Way) -> str:
    """The pieces of a way, from corner to corner."""
    return ", ".join(f"{leg.way} {size_words(leg.length, job.system)}" for leg in way.measured)


def cut_words(job: Job, run: Run) -> str:
    """The pieces that the cut list of the layout gives for all pipes of a run."""
    if run.kind == "hose":
        return f"hose, {size_words(run.in_all, job.system)} in all"
    return ", ".join(
        f"{p.count} × {size_words(p.length, job.system)}"
        for p in job.cuts.pieces
        if p.run == run.name
    )


def fittings(job: Job, run: Run) -> str:
    """The fittings in one pipe of a run, those with a mark by it."""
    marks = {(f.kind, f.size): m for m, f in job.numbers.fitted(run)}
    counts: dict[tuple[str, str], int] = {}
    for f in run.fittings:
        counts[f.kind, f.sizes(run.pipe)] = counts.get((f.kind, f.sizes(run.pipe)), 0) + f.count
    found = []
    for (kind, size), count in counts.items():
        words = kind if size == run.pipe else f"{kind} {size}"
        mark = f" ({marks[kind, size]})" if (kind, size) in marks else ""
        found.append((f"{count} × {words}" if count > 1 else words) + mark)
    return ", ".join(found) or "none"


def openers(job: Job):
    """What is needed to set, to shut and to clean each pipe."""
    rows = [
        (
            mark,
            f.kind,
            f.size,
            f"{job.numbers.of(run)}, {run.label}",
            str(f.count * run.count),
            f.why,
        )
        for mark, run, f in job.numbers.fittings
    ]
    return "Valves, unions and clean-outs", "", ("Mark", "What", "Size", "In", "How many", "Why"), rows, \
        (0.7, 1.8, 1.1, 4.0, 1.2, 5.0)  # fmt: skip


def holes(job: Job):
    """Every hole to drill with its height."""
    rows = []
    for mark, v, h in job.numbers.holes:
        over = h.height - v.floor
        rows.append((
            mark, many(v), h.purpose, h.side, size_words(h.diameter, job.system),
            h.size, level_words(h.height, job.system), size_words(over, job.system) if abs(over) > 1e-6 else "in it",
            str(h.count * v.count), h.fitting,
        ))  # fmt: skip
    head = ("Mark", "Vessel", "For", "Where", "Drill", "Pipe", "Middle over the datum", "Over the vessel's floor", "How many",
            "Fitting")  # fmt: skip
    note = f"Drill before a vessel is filled. A drain lies {size_words(rule('trench'), job.system)} under the finished floor."
    return "Holes to drill", note, head, rows, (0.8, 2.2, 2.7, 2.3, 1.3, 1.1, 1.8, 1.8, 1.0, 1.7)
