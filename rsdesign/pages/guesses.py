"""A number that a reader guesses before the page shows it, and the comparison with the true one."""

from ..core.kinds import KINDS
from ..core.units import number, parse, show
from ..sizing.system import Sizing, figure_at, value_at
from ..studies.heat.brief import hot_day
from ..studies.heat.yearly import full_year
from .session import Session


def guess(session: Session) -> dict | None:
    """The question, the reader's guess, and the true figure once there is a guess."""
    ask = session.page.guess
    if ask is None or session.sizing is None:
        return None
    typed = session.guesses.get(session.page.name, "")
    kind, value = _true_value(session.sizing, ask.figure, bool(typed))
    unit, currency = kind.shown(session.system), session.design.prices.currency
    money = kind.family.startswith("money")
    found = {
        "ask": ask.ask,
        "unit": f"{currency} {unit.label}".strip() if money else unit.label,
        "typed": typed,
        "figure": ask.figure,
        "answer": "",
        "words": "",
    }
    if not typed:
        return found
    answered = show(value, kind, session.system)
    found["answer"] = f"{currency}{answered}" if money else answered
    try:
        guessed = parse(typed, kind, unit)
    except ValueError:
        return found | {"words": "Write your guess as a number.", "answer": ""}
    found["words"] = _compared(guessed, value)
    return found


def _true_value(sizing: Sizing, path: str, guessed: bool):
    """The kind and value that a guess is compared with; a slow one only once there is a guess."""
    kinds = {"cost.each": "price of mass", "heat.evaporation": "daily flow"}
    if path in kinds and not guessed:
        return KINDS[kinds[path]], 0.0
    if path == "cost.each":
        return KINDS["price of mass"], float(full_year(sizing).budget.cost_of_each)
    if path == "heat.evaporation":
        return KINDS["daily flow"], hot_day(sizing)["as designed"].evaporation
    return figure_at(path).kind, float(value_at(sizing, path))


def _compared(guessed: float, value: float) -> str:
    if not (guessed > 0 and value > 0):
        return "Your guess and ours stand side by side; which would you trust, and why?"
    times = guessed / value
    if 0.8 <= times <= 1.25:
        return "Close: your guess is within a quarter."
    if times > 1:
        return f"Your guess is {number(times, 2)} times as much. What did it leave out?"
    return f"Your guess is {number(100 * times, 2)} % of it. What is missing?"
