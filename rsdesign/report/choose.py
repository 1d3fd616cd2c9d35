"""What to buy as text for a terminal and as JSON; nothing is computed here."""

import math

from ..core.cautions import cautions_on, told_at
from ..core.units import number
from ..studies.choose.frames import CHEAPEST, SURE
from ..studies.choose.member import PARTS
from .cost import money
from .tables import heading, json_text, plain, table_lines, title

SHORT = {"minutes": "minutes to act", "water": "water a day", "labour": "own work a day"}
"""What stands against the cost of a year, in words."""
REFUSALS = 6


def choose_text(frame, design) -> str:
    """What to buy as text for a terminal.

    Parameters:
        frame: what ``rsdesign.choose`` gives.
        design: the design it was asked for.
    Returns: the text.

    Example: ``choose_text(choose(d), d)``.
    """
    about, mark = frame.attrs, frame.attrs["units"]["cost"]
    lines = [title(design), "", *answers(frame)]
    if len(frame):
        lines += [*heading("The parts of both"), *table_lines(_parts(frame))]
    for goal, words in SHORT.items():
        rows = frame.iloc[about["fronts"][goal]]
        if len(rows) > 1:
            lines += [*heading(f"More money, better {words}"), *table_lines(_front(frame, rows))]
    if about["ties"]:
        lines += [*heading("The same money, as far as the prices are known")]
        lines += [tie_words(tie, mark) for tie in about["ties"]]
    lines += [*heading("How it was looked for"), *counted(frame)]
    lines += [*heading("Take care"), *told_at("choose")]
    return "\n".join([*lines, "", "A teaching estimate. Your own quotes decide."])


def answers(frame) -> list[str]:
    """The two answers in words: the cheapest that stands, and the cheapest that stands in nine draws of ten."""
    about, mark = frame.attrs, frame.attrs["units"]["cost"]
    now = f"Your design costs {money(about['present']['cost'], mark)} a year as it is"
    short = about["present"]["short"]
    now += (
        f", and falls short in: {', '.join(short)}."
        if short
        else ", and nothing in it falls short."
    )
    if not len(frame):
        most = next(iter(about["refused"]), "")
        return [now, "Nothing on the list makes a design that stands."
                + (f" What refused most: {most}." if most else "")]  # fmt: skip
    first = frame.loc[CHEAPEST]
    said = [now, f"The cheapest that stands costs {money(first['cost'], mark)} a year and {money(first['first_cost'], mark)}"
                 f" to buy. It gives you {first['minutes']:.0f} minutes to act. It stands in {in_ten(first['chance'])}."]  # fmt: skip
    if SURE in frame.index:
        sure = frame.loc[SURE]
        more = sure["cost"] - first["cost"]
        said.append(f"The cheapest found that stands in 9 of 10 draws costs {money(sure['cost'], mark)} a year,"
                    f" {money(more, mark)} more.")  # fmt: skip
    elif first["chance"] >= 0.9:
        said.append("It is also the cheapest that stands in 9 of 10 draws.")
    else:
        said.append(
            "None was found that stands in 9 of 10 draws: ask for larger sizes, or measure first."
        )
    return said


def in_ten(chance: float) -> str:
    """A chance as so many draws of ten.

    >>> in_ten(0.27), in_ten(0.93)
    ('3 of 10 draws', '9 of 10 draws')
    """
    return f"{round(10 * chance)} of 10 draws"


def tie_words(tie: dict, mark: str) -> str:
    """A tie in words: which part, and what else costs the same."""
    return (
        f"{tie['part'].capitalize()}: {tie['of']} or {tie['other']}, {money(abs(tie['more']), mark)} a year"
        f" {'more' if tie['more'] >= 0 else 'less'}; the prices leave {money(tie['doubt'], mark)} in doubt."
    )


def counted(frame) -> list[str]:
    """How many designs were put together, sized and judged, and what stopped the others."""
    about = frame.attrs
    lines = [
        f"{number(float(about['combined']), 3)} designs can be put together; {about['sized']:,} were sized as a whole,"
        f" the others fell with a part; {about['stood']:,} stand.",
        f"{about['judged']} of them were judged by 2,000 draws of what is not sure.",
        f"Prices: {about['prices']}.",
    ]
    refused = list(about["refused"].items())[:REFUSALS]
    if refused:
        lines.append(
            "What refused most: "
            + "; ".join(f"{w.partition(' (')[0]} ({n:,})" for w, n in refused)
            + "."
        )
    if about["unmended"]:
        lines.append("Nothing you buy mends this: " + " ".join(about["unmended"]))
    return lines


def _parts(frame) -> list[tuple[str, ...]]:
    picks = [name for name in (CHEAPEST, SURE) if name in frame.index]
    rows = [("part", *picks)]
    for part in PARTS:
        rows.append((part, *(str(frame.loc[name, part]) for name in picks)))
    return rows


def _front(frame, rows) -> list[tuple[str, ...]]:
    units, mark = frame.attrs["units"], frame.attrs["units"]["cost"]
    found: list[tuple[str, ...]] = [
        ("a year", "first cost", "minutes", f"water, {units['water']}", "own work", "draws", "tank")
    ]
    for _, row in rows.iterrows():
        cost = money(row["cost"], mark) + (" (same)" if row["same_cost"] else "")
        found.append((
            cost, money(row["first_cost"], mark), f"{row['minutes']:.0f}", number(float(row["water"]), 2),
            f"{row['labour']:.0f} min", in_ten(row["chance"]), str(row["tank"]),
        ))  # fmt: skip
    return found


def choose_json(frame) -> str:
    """What to buy as JSON text: every design with its parts, fronts, ties, counts, cautions.

    Parameters:
        frame: what ``rsdesign.choose`` gives.
    Returns: the text.

    Example: ``choose_json(choose(design))``.
    """
    about = {name: value for name, value in frame.attrs.items() if name != "designs"}
    about["cautions"] = cautions_on("choose")
    rows = [
        {"design": name, **{k: _plain(v) for k, v in row.items()}} for name, row in frame.iterrows()
    ]
    return json_text(plain({**about, "rows": rows}))


def _plain(value):
    if isinstance(value, float) and not math.isfinite(value):
        return None
    return bool(value) if type(value).__name__ == "bool" else value
