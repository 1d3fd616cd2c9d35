"""Exercises: the whole bank walked with a thousand codes, and the time to mark a class."""

import json
import tempfile
import time
from pathlib import Path

from rsdesign.core.units import from_plain
from rsdesign.teaching import classbook, sheets, submissions
from rsdesign.teaching.bank import bank
from rsdesign.teaching.cases import answers, close, misconception_value
from rsdesign.teaching.checking import check
from rsdesign.teaching.exercises import exercise_set, page
from rsdesign.teaching.fading import stage_case, stages
from rsdesign.teaching.hints import hints
from rsdesign.teaching.marking import mark_folder
from rsdesign.teaching.sets import set_plan
from rsdesign.teaching.solutions import texts, told
from rsdesign.teaching.variants import learner_key, problem
from rsdesign.teaching.wording import reveals

CODES, LEARNERS, SETS = 1000, 30, ("ninety-minutes", "three-hours", "five-sessions")


def main() -> None:
    """Print the table; every fault found is an error."""
    rows = []
    start = time.perf_counter()
    count, misconceptions, variants = walk()
    took = time.perf_counter() - start
    rows.append((f"{CODES:,} codes × {len(bank())} exercises: answer in its band, key accepted",
                 f"{count:,} problems, {variants:,} different, no fault", "no fault"))  # fmt: skip
    rows.append(
        (
            "each misconception of each of them: own words, never marked right",
            f"{misconceptions:,} misconceptions",
            "all",
        )
    )
    rows.append(
        ("time for both, and for the hints of each different problem", f"{took:.0f} s", "stated")
    )
    for name in SETS:
        rows.append(marked(name))
    rows.append(printed())
    print("| what | measured | bar |\n| --- | --- | --- |")
    for row in rows:
        print("| " + " | ".join(row) + " |")


def typed(ask, value: float) -> str:
    """A plain number in the unit of the key."""
    unit = ask.kind.unit(ask.unit)
    return f"{from_plain(value, unit):.12g} {unit.label}".strip()


def right(found) -> dict:
    """The right answers as typed."""
    return {
        a.name: typed(a, found.answer(a)) if a.form == "number" else found.answer(a)
        for a in found.exercise.asks
    }


def wrong(found) -> dict:
    """Numbers that fit no listed slip, so that every kind of slip is looked for."""
    return {
        a.name: typed(a, 1.37 * found.answer(a)) if a.form == "number" else "A"
        for a in found.exercise.asks
    }


def walk() -> tuple[int, int, int]:
    """Every code at every exercise; each different problem is looked into once."""
    seen, misconceptions = set(), 0
    for n in range(CODES):
        key = learner_key("an invented class key", f"L{n}")
        for e in bank().values():
            found = problem(e, f"L{n}", key)
            for ask in e.numbers:
                assert ask.low <= found.answer(ask) <= ask.high, (e.id, ask.name)
            what = (e.id, found.case.index, found.order)
            if what in seen:
                continue
            seen.add(what)
            misconceptions += look_into(found)
            if len(seen) % 10 == 0:
                look_at_stages(found)
    return CODES * len(bank()), misconceptions, len(seen)


def look_into(found) -> int:
    """Key, slips, hints and page of one problem; how many slips were tried."""
    good = right(found)
    assert check(found, good).right, found.name
    numbers = answers(found.case)
    for level in hints(found):
        assert not told(level, found.case, numbers), (found.name, level)
    seen = page(found)
    text = json.dumps([seen[k] for k in ("title", "objective", "text", "lines", "options", "asks")],
                      ensure_ascii=False)  # fmt: skip
    assert not reveals(text, numbers), found.name
    for misconception in found.exercise.misconceptions:
        ask = found.exercise.ask(misconception.ask)
        wrong = misconception_value(found.case, misconception)
        is_number = ask.form == "number"
        assert not is_number or not close(ask, wrong, found.answer(ask))
        answer = typed(ask, wrong) if is_number else found.lettered(ask, wrong)
        one = next(c for c in check(found, {**good, ask.name: answer}).checked if c.ask == ask.name)
        assert not one.right, (found.name, misconception.name)
        assert one.words == misconception.words, (found.name, misconception.name, one)
    return len(found.exercise.misconceptions)


def look_at_stages(found) -> None:
    """Worked examples of one problem: other numbers at each stage, which tell no answer."""
    hidden = answers(found.case)
    for stage in range(len(stages(found.exercise)) - 1):
        other = stage_case(found, stage)
        assert other is not None, (found.name, found.learner, stage)
        shown = [other.fill(found.exercise.question), *texts(other)]
        assert not any(told(text, other, hidden) for text in shown), (found.name, found.learner)


def marked(name: str) -> tuple[str, str, str]:
    """A class that hands in two attempts at everything, from a folder."""
    book, plan = classbook.new_class(LEARNERS), set_plan(name)
    with tempfile.TemporaryDirectory() as folder:
        for code in book.codes:
            found = exercise_set(name, code, book.key)
            work = submissions.blank(found)
            for p in found.problems:
                work = work.with_attempt(p.name, wrong(p))
                work = work.with_attempt(p.name, right(p), 3)
            text = submissions.write(work, found)
            Path(folder, f"{code}.json").write_text(text, encoding="utf-8")
        clear()
        start, busy = time.perf_counter(), time.process_time()
        done = mark_folder(folder, book.key, book.codes)
        took, busy = time.perf_counter() - start, time.process_time() - busy
    assert len(done.marks) == LEARNERS
    assert all(abs(m.points - m.out_of) < 1e-9 for m in done.marks)
    count = len(plan.turns)
    bar = "1 s" if count <= 14 else "3 s" if name != "five-sessions" else "stated"
    return (
        f"{LEARNERS} learners, {name}, {count} exercises, two attempts each",
        f"{took:.2f} s ({busy:.2f} s of processor time)",
        bar,
    )


def clear() -> None:
    """Forget what was computed, so that marking starts as it does in a new program."""
    from rsdesign.teaching import cases, steps

    cases.case.cache_clear()
    cases.fault.cache_clear()
    steps._sizings.clear()


def printed() -> tuple[str, str, str]:
    """Sheets and key of a class of twenty."""
    book = classbook.new_class(20)
    clear()
    start = time.perf_counter()
    html = sheets.sheets("three-hours", book.codes, book.key)
    html += sheets.key("three-hours", book.codes, book.key)
    took = time.perf_counter() - start
    return (
        "sheets and key of 20 learners, three-hours",
        f"{took:.2f} s, {len(html) // 1000} kB",
        "stated",
    )


if __name__ == "__main__":
    main()
