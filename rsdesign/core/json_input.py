"""JSON that strangers wrote, read so that it can be written again."""

import json


def read(text: str):
    """The data in it.  Raises ``ValueError`` or ``RecursionError`` where it is none.

    Half a character, which JSON can spell and nothing can send or show, is none either.

    >>> read('{"a": "\\\\u00e9"}')
    {'a': 'é'}
    >>> read('"\\\\ud800"')
    Traceback (most recent call last):
    UnicodeEncodeError: 'utf-8' codec can't encode character '\\ud800' in position 1: surrogates not allowed
    """
    data = json.loads(text)
    if "\\u" in text:  # the one way to spell it
        json.dumps(data, ensure_ascii=False).encode()
    return data


def number(value):
    """A whole number as a float, as choices are; what is too large for one is infinite, as 1e400 is.

    >>> number(3), number(10**400), number(True), number("3")
    (3.0, inf, True, '3')
    """
    if not isinstance(value, int) or isinstance(value, bool):
        return value
    try:
        return float(value)
    except OverflowError:
        return float("inf") if value > 0 else float("-inf")
