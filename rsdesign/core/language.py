"""The language in which people are spoken to: catalogues of texts, and the language of the visitor at hand.

A text is written in English where it is used, as a whole sentence with named places, and translated
at the moment of showing: ``_("{fish} fish in {tanks} tanks", fish=..., tanks=...)``.  One process serves
visitors of several languages, so the language is kept in a context variable, never in a global.

The catalogues are gettext's, one file for each area of the project in ``data/language/LANGUAGE``;
``tests/make_catalogues.py`` extracts the texts, and compiles what was translated.
"""

import contextlib
import contextvars
import functools
import gettext as standard
import os

from .folders import data_folder

SOURCE = "en"
"""The language in which the texts are written."""
LANGUAGES = {SOURCE: "English", "es": "Español (1,234.5)", "es-CO": "Español (1.234,5)"}
"""Every language there is, by its code, in its own name; the second Spanish has a decimal comma."""
COMMA_REGIONS = frozenset(["AR", "BO", "CL", "CO", "CR", "EC", "ES", "PY", "UY", "VE"])
"""Regions in which Spanish is written with a decimal comma (Unicode CLDR 45, numbers of es-*)."""
PSEUDO = "qps"
"""A made-up language for tests: every text in brackets and longer by four tenths."""

_spoken: contextvars.ContextVar[str] = contextvars.ContextVar("language")


class LanguageError(ValueError):
    """A language that there is not, in one sentence for a person."""


def language() -> str:
    """The code of the language now spoken: that of the visitor at hand, else of the environment.

    >>> with speaking("es"):
    ...     language()
    'es'
    """
    return _spoken.get(None) or _of_environment()


@functools.cache
def _of_environment() -> str:
    """The language that ``RSDESIGN_LANGUAGE`` names, as ``rsdesign lab --lang`` sets it; else the source's."""
    return known(os.environ.get("RSDESIGN_LANGUAGE", ""), SOURCE)


def known(asked: str, otherwise: str) -> str:
    """The code of an asked language; another where there is none of it.

    >>> known("es-MX", "en"), known("es_AR", "en"), known("fr", "en"), known("", "en")
    ('es', 'es-CO', 'en', 'en')
    """
    first, _none, region = asked.replace("_", "-").partition("-")
    code = first.lower()
    if code == "es" and region.upper() in COMMA_REGIONS:
        return "es-CO"
    return code if code in LANGUAGES or code == PSEUDO else otherwise


def decimal_comma() -> bool:
    """Whether numbers are written with a decimal comma in the language now spoken.

    >>> decimal_comma()
    False
    """
    return language() == "es-CO"


def checked(asked: str) -> str:
    """The code of an asked language.

    Raises: ``LanguageError`` for a language that there is not.

    >>> checked("es-MX")
    'es'
    """
    code = known(asked, "")
    if not code:
        there = ", ".join(f"{code} ({name})" for code, name in LANGUAGES.items())
        raise LanguageError(f"There is no language '{asked[:40]}'; choose one of: {there}.")
    return code


@contextlib.contextmanager
def speaking(code: str):
    """Texts within the block are in this language; ``code`` is one that ``checked`` gives."""
    token = _spoken.set(code)
    try:
        yield
    finally:
        _spoken.reset(token)


def speak(code: str) -> None:
    """Texts are in this language from now on, in this thread or task; for commands and notebooks.

    Raises: ``LanguageError`` for a language that there is not.
    """
    _spoken.set(checked(code))


def _(text: str, /, **places) -> str:
    """A text in the language now spoken, with its places filled.

    Parameters:
        text: the English text, a literal where it is used, or one marked with ``N_`` or read from a table.
        places: what stands for each ``{name}``; without any, braces are left as they are.
    Returns: the text, the English one where the catalogue has none.

    >>> _("{fish} fish", fish=3)
    '3 fish'
    """
    code = language()
    found = text
    if code == PSEUDO:
        found = _made_up(text)
    elif code != SOURCE and text:
        found = catalogue(code).gettext(text)
    return found.format(**places) if places else found


def counted(one: str, many: str, number, /, **places) -> str:
    """A text that differs between one thing and several; ``{n}`` is the number as it was given.

    Parameters:
        one: the English text for one thing.
        many: the English text for any other number.
        number: how many [-], 0 or more.
        places: what stands for each further ``{name}``.
    Returns: the text.

    >>> counted("{n} tank", "{n} tanks", 1), counted("{n} tank", "{n} tanks", 2)
    ('1 tank', '2 tanks')
    """
    code = language()
    found = one if number == 1 else many
    if code == PSEUDO:
        found = _made_up(found)
    elif code != SOURCE:
        found = catalogue(code).ngettext(one, many, 1 if number == 1 else 2)
    return found.format(**{"n": number} | places)


def N_(text: str) -> str:  # noqa: N802  (gettext's own name for it)
    """Marks a text that is translated later, where it is shown.

    >>> N_("Tank volume")
    'Tank volume'
    """
    return text


def listed(parts, word: str = "and") -> str:
    """Several things as people say them.

    Parameters:
        parts: texts, any number of them.
        word: what stands before the last: "and" or "or".
    Returns: the text.

    >>> listed(["air"]), listed(["air", "pump"]), listed(["air", "pump", "tank"], "or")
    ('air', 'air and pump', 'air, pump or tank')
    """
    *before, last = list(parts) or [""]
    if not before:
        return last
    whole = _("{before} or {last}") if word == "or" else _("{before} and {last}")
    return whole.format(before=", ".join(before), last=last)


@functools.cache
def catalogue(code: str) -> standard.NullTranslations:
    """The translations of a language, of all areas together; a text that none of them has stays English."""
    found = standard.NullTranslations()
    for path in sorted((data_folder() / "language" / code.partition("-")[0]).glob("*.mo")):
        with open(path, "rb") as file:
            area = standard.GNUTranslations(file)
        area.add_fallback(found)
        found = area
    return found


def _made_up(text: str) -> str:
    """A text in the made-up language of the tests: in brackets, and longer by four tenths."""
    if not any(map(str.isalpha, text)):
        return text
    return f"⟦{text}{'~' * (len(text) * 2 // 5)}⟧"
