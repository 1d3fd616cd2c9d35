"""The page on what to buy: the front that its study found as a chart, its figures, the parts and the quotes."""

from ..core.kinds import KINDS
from ..core.unit_table import DAY
from ..core.units import number, show
from ..report.choose import in_ten
from ..report.cost import money
from ..report.drawings.front_chart import Dot, front_chart
from ..studies.choose.frames import YEAR, part_words, plain_goals
from ..studies.choose.member import PARTS, Member
from ..studies.choose.money import goals
from ..studies.choose.offers import PRICE, offers
from ..studies.choose.study import Choice
from ..studies.heat.yearly import weathered
from .buying import FAILED, QUOTES, RUNNING, STOPPED, WAITING, picked, picks, sample, study_key
from .pictures import as_table

AGAINST = {"minutes": "minutes to act", "water": "water a day", "labour": "own work a day"}
"""What may stand against the cost of a year."""
UNITS = {"minutes": "minutes", "water": "daily flow", "labour": "minutes"}


def moves(session) -> dict:
    """The blocks that follow each move: what was found last stays, and says that it is of the design before."""
    if session.job is not None and session.job.key != study_key(session):
        session.job.stop()
    found = session.chosen
    return {"headline": headline(session, found), "picture": picture(session, found), "moment": None,
            "course": None, "study": progress(session)}  # fmt: skip


def answered(session) -> dict:
    """The blocks that change while the study runs, and when it is done."""
    from .own_blocks import MAKERS  # noqa: PLC0415

    return moves(session) | {"own": [MAKERS[name](session) for name in session.page.blocks]}


def progress(session) -> dict:
    """How far the study is, in words."""
    job = session.job
    if job is None or job.key != study_key(session):
        return {
            "state": WAITING,
            "share": 0.0,
            "words": "Every way to put it together is looked at soon.",
        }
    looking = (
        f"Looking at: {job.words[:1].lower()}{job.words[1:]}"
        if job.words
        else "Looking at every way"
    )
    words = {
        RUNNING: looking,
        STOPPED: "You stopped it. What you see is from before.",
        FAILED: job.wrong,
    }
    share = round(job.share, 2) if job.state == RUNNING else 0.0
    return {"state": job.state, "share": share, "words": words.get(job.state) or counted(job.found)}


def counted(found: Choice) -> str:
    """How many ways were looked at, in the fewest words."""
    return f"{rounded(found.combined)} ways looked at, {rounded(found.stood)} stand."


def rounded(count: int) -> str:
    """A large number to two figures, in words.

    >>> rounded(51_300_000_000), rounded(389_120), rounded(12)
    ('51 billion', '390,000', '12')
    """
    for size, words in ((10**9, "billion"), (10**6, "million")):
        if count >= size:
            return f"{number(count / size, 2)} {words}"
    return number(float(count), 2) if count >= 1000 else str(count)


def headline(session, found: Choice | None) -> list[dict]:
    """The figures of the first screen: the design as it is, the cheapest, the sure one."""
    mark = session.design.prices.currency
    now = present_goals(session)
    rows = [_head("Yours, a year", money(now["cost"], mark), "", _minutes(now["minutes"]))]
    for label, one in (
        ("Cheapest a year", found and found.cheapest),
        ("Sure, a year", found and found.sure),
    ):
        if found is None:
            rows.append(_head(label, "…", "", "being worked out"))
        elif one is None:
            rows.append(
                _head(
                    label,
                    "none",
                    "",
                    "nothing stands" if found.cheapest is None else "none was found",
                )
            )
        else:
            note = f"{_minutes(one.goals['minutes'])}, {in_ten(one.chance).removesuffix(' draws')}"
            rows.append(_head(label, money(one.goals["cost"], mark), "", note))
    first = found.cheapest if found else None
    rows.append(
        _head(
            "To buy it",
            money(first.goals["investment"], mark) if first else "…",
            "",
            "the cheapest",
        )
    )
    return rows


def _head(label: str, value: str, unit: str, note: str) -> dict:
    return {"path": label, "label": label, "value": value, "unit": unit, "note": note, "change": ""}


def _minutes(seconds) -> str:
    return f"{float(seconds) / 60:.0f} min"


def present_goals(session) -> dict[str, float]:
    """What the design costs and gives as it is, in its own year."""
    year = weathered(session.sizing)
    found = goals(session.sizing, year.heating_energy, year.evaporation, year.allowed)
    return {name: float(value) for name, value in found.items()}


def plain_now(present: dict[str, float]) -> dict[str, float]:
    """The goals of the present design in the plain units of the frame's columns."""
    a_day = {"water": present["water"] / (YEAR * DAY), "labour": present["labour"] / YEAR}
    return present | a_day


def against_of(session) -> str:
    """What stands against the cost of a year."""
    asked = str(session.answers.get("choose.against", "minutes"))
    return asked if asked in AGAINST else "minutes"


def picture(session, found: Choice | None) -> dict | None:
    """The front: what a year costs against what one gets for it."""
    goal, mark, system = against_of(session), session.design.prices.currency, session.system
    kind = KINDS[UNITS[goal]]
    unit = kind.shown(system)

    def shown(plain: float) -> float:
        return float(plain) / unit.factor

    dots, rows = [], []
    for place, one in enumerate(found.fronts[goal] if found else ()):
        goals = plain_goals(one)
        same = found.same_as_cheapest(one)
        dots.append(Dot(shown(goals[goal]), goals["cost"], "same" if same and place else "front"))
        rows.append([money(goals["cost"], mark), show(goals[goal], kind, system, 2), in_ten(one.chance),
                     "the same" if same else "", part_words(one, "tank", system)])  # fmt: skip
    marked: tuple[tuple[str, Member | None], ...] = (
        (("cheapest", found.cheapest), ("9 of 10 draws", found.sure)) if found else ()
    )
    for words, one in marked:
        if one is not None:
            goals = plain_goals(one)
            dots.append(Dot(shown(goals[goal]), goals["cost"], "picked", words))
    now = plain_now(present_goals(session))
    dots.append(Dot(shown(now[goal]), now["cost"], "now", "yours now"))
    rows.append([money(now["cost"], mark), show(now[goal], kind, system, 2), "", "", "yours now"])
    table = (("A year", AGAINST[goal].capitalize(), "Stands in", "Same money", "Tank"), rows)
    drawn = front_chart(
        dots, f"{AGAINST[goal]}, {unit.label}", f"a year, {mark}", session.width, sentence(session, found), table,
        tall=172.0 if session.narrow else 330.0,
    )  # fmt: skip
    return {
        "svg": drawn.svg,
        "plan": "",
        "sentence": drawn.sentence,
        "table": as_table(drawn.table),
    }


def sentence(session, found: Choice | None) -> str:
    """What the front says, in two short sentences."""
    mark = session.design.prices.currency
    if found is None:
        return "The chart comes in a moment."
    if found.cheapest is None:
        most = next(iter(found.refused), "").partition(" (")[0]
        return f"Nothing on the list makes a design that stands. Most fall at this: {most.lower()}."
    first = found.cheapest
    words = f"The cheapest stands in {in_ten(first.chance)}."
    if found.sure is not None and found.sure is not first:
        more = found.sure.goals["cost"] - first.goals["cost"]
        words += f" To stand in nine of ten costs {money(more, mark)} a year more."
    line = found.fronts["minutes"]
    if len(line) > 1:
        last = line[-1]
        words += (f" {money(last.goals['cost'] - first.goals['cost'], mark)} more"
                  f" buys {(last.goals['minutes'] - first.goals['minutes']) / 60:.0f} more minutes.")  # fmt: skip
    return words


def buy(session) -> dict:
    """The parts of the picked design beside those of today, what costs the same, and own quotes."""
    found, mark, system = session.chosen, session.design.prices.currency, session.system
    block: dict = {
        "form": "buy", "title": "The parts to buy", "picks": [], "pick": "", "headings": [], "rows": [], "ties": [],
        "against": [{"value": k, "label": v} for k, v in AGAINST.items()], "goal": against_of(session),
        "notes": [], "quotes": quotes_block(session), "ready": False,
    }  # fmt: skip
    one = picked(session, found) if found else None
    if found is None or one is None:
        return block
    now = parts_now(found, system)
    block |= {
        "ready": True,
        "picks": [
            {"value": value, "label": f"{money(m.goals['cost'], mark)}: {words}"} for value, words, m in picks(found)
        ],
        "pick": next(value for value, _, m in picks(found) if m is one),
        "headings": ["Part", "To buy", "Yours now", "A year"],
        "rows": [[p.capitalize(), part_words(one, p, system), now[p], money(one.years[p], mark)] for p in PARTS],
        "ties": [
            f"{t.part.capitalize()}: {t.other} costs {money(abs(t.more), mark)} a year"
            f" {'more' if t.more >= 0 else 'less'}. The prices leave {money(t.doubt, mark)} open: call it the same."
            for t in found.ties
        ],
        "notes": notes(found),
    }  # fmt: skip
    return block


def parts_now(found: Choice, system: str) -> dict[str, str]:
    """The parts of the design as it is, in words."""
    s, d = found.sizing, found.sizing.design

    def said(value, kind: str) -> str:
        return show(float(value), KINDS[kind], system, 3)

    settler = (
        "none"
        if d.solids.settler == "none"
        else f"{d.solids.settler}, {said(s.solids.area, 'area')}"
    )
    backup = (
        d.safety.backup
        if d.safety.backup == "none"
        else f"{d.safety.backup_kind}, {d.safety.backup}"
    )
    return {
        "tank": f"{said(s.tank.width, 'length')} across, {said(s.tank.depth, 'length')} deep",
        "settler": settler,
        "filter": f"{d.filter.type}, {d.filter.medium}, {said(s.filter.media_volume, 'media volume')}",
        "air": f"{float(s.air.count):.0f} × {s.air.device}",
        "pump": f"{float(s.pump.count):.0f} × {s.pump.model}",
        "pipe": said(s.pump.pipe, "pipe diameter"),
        "backup": backup,
        "lid": d.climate.cover,
    }


def notes(found: Choice) -> list[str]:
    """How it was looked for, and what no part mends."""
    said = [
        f"{found.combined:,} ways to put it together were looked at; {found.stood:,} stand.",
        "Fish and season are those of your design. Only the parts change.",
        "A cost is sure to a fifth of each price. Put in your quotes: each one takes its doubt away.",
    ]
    return [*said, *(f"No part mends this: {w}" for w in found.unmended)]


def quotes_block(session) -> dict:
    """The things on the list, how their price is written, and the quotes that are kept."""
    part = str(session.answers.get("choose.part", "tank"))
    part = part if part in PRICE else "tank"
    names = list(dict.fromkeys(o.name for o in offers().part(part)))
    return {
        "parts": list(PRICE), "part": part, "names": names, "sample": sample(part),
        "kept": session.own.get(QUOTES, []), "wrong": session.own_wrong,
    }  # fmt: skip
