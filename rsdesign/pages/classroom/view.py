"""The view of a page for a class: every block comes from its session."""


def compose(session, settled: bool = True, late: bool = True) -> dict:
    """Every block of the page; none is slow."""
    return {"frame": frame(session), **session.blocks(), "reply": session.reply}


def moving(session) -> dict:
    """What follows a move: everything."""
    return compose(session)


def beside(session) -> dict:
    """What stands beside the choices: nothing."""
    return {}


def details(session, settled: bool) -> dict:
    """What explains a page and follows once it is at rest: nothing."""
    return {}


def due_late(session, settled: bool) -> bool:
    """Whether slow blocks follow: never."""
    return False


def frame(session) -> dict:
    """The header, the links to other pages, and the notice."""
    from ..series import CLASS, SERIES  # noqa: PLC0415  (the series knows these pages too)

    page = session.page
    return {
        "page": page.name,
        "title": page.title,
        "question": page.question,
        "words": list(page.words),
        "notice": session.notice,
        "series": [{"name": p.name, "file": p.file, "title": p.title} for p in SERIES],
        "class": [{"name": p.name, "file": p.file, "title": p.title} for p in CLASS],
    }


def print_bank() -> None:
    """Print the size of the exercise bank, for the check cells of the notebooks."""
    from ...teaching.bank import bank, find  # noqa: PLC0415
    from ...teaching.model import TOPICS  # noqa: PLC0415
    from ...teaching.sets import set_plans  # noqa: PLC0415

    for topic, words in TOPICS.items():
        print(f"{words}: {len(find(topic=topic))} exercises")
    print(f"all: {len(bank())}")
    for plan in set_plans().values():
        print(f"{plan.title}: {len(plan.turns)} questions, {plan.minutes:g} minutes")
