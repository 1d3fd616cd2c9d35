"""A study of the new water as text for a terminal and as JSON; nothing is computed here."""

from ..studies.makeup import study as makeup
from . import makeup_words
from .tables import figure_lines, figure_table, heading, json_text, row_of, title


def water_text(study: makeup.WaterStudy, system: str) -> str:
    """New water, salts, doses and the garden, as tables for a terminal.

    Parameters:
        study: what ``rsdesign.makeup`` gives.
        system: "us" or "metric", the units in which figures are shown.
    Returns: the text.

    Example: ``water_text(study, "us")``.
    """
    lines = [title(study.sizing.design), "", makeup_words.answer(study, system), ""]
    lines += [f"- {words}" for words in makeup_words.findings(study, system)]
    lines += [*heading("Water in and out"), *figure_lines(study.flows, system)]
    lines += [*heading("What stays behind"), *figure_table(study.salts, system)]
    lines += [*heading("Base on the biggest feed day"), *figure_table(study.doses, system)]
    lines += [*heading("New water"), *figure_lines(study.source, system)]
    lines += [*heading("Old water"), *figure_lines(study.discharge, system)]
    return "\n".join([*lines, "", "A teaching estimate. Local rules on wells and drains decide."])


def water_json(study: makeup.WaterStudy, system: str) -> str:
    """The study of new water as JSON text.

    Parameters:
        study: what ``rsdesign.makeup`` gives.
        system: "us" or "metric", the units in which figures are shown.
    Returns: the text.

    Example: ``water_json(study, "us")``.
    """
    found = {
        "answer": makeup_words.answer(study, system),
        "findings": makeup_words.findings(study, system),
        "flows": row_of(study.flows, system),
        "salts": [row_of(s, system) for s in study.salts],
        "doses": [row_of(s, system) for s in study.doses],
        "source": row_of(study.source, system),
        "discharge": row_of(study.discharge, system),
        "hottest": row_of(study.hottest, system),
    }
    return json_text(found)
