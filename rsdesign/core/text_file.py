"""The text of a small file that a person names, or one sentence on why there is none."""

from dataclasses import dataclass
from pathlib import Path

from .choices import DesignError
from .typed_numbers import clipped

LARGEST = 256_000
"""Bytes; a design or a table is a few kilobytes, and a larger file is refused before it is read."""


@dataclass(frozen=True, slots=True)
class FileWords:
    """What to do where a file is a folder, too large, not there or not text; ``{name}`` is its name."""

    folder: str
    large: str
    missing: str
    coding: str


def text_of(path, words: FileWords) -> str:
    """The text of a file in UTF-8.  Raises ``DesignError`` with one sentence."""
    path = Path(path)
    try:
        if path.is_dir():
            wrong = f"is a folder; {words.folder}."
        elif path.stat().st_size > LARGEST:
            wrong = f"holds {path.stat().st_size:,} bytes, {words.large}"
        else:
            return path.read_bytes().decode("utf-8-sig")
    except FileNotFoundError:
        wrong = f"is not there; {words.missing.format(name=path.name)}."
    except UnicodeDecodeError:
        wrong = f"is not a text file; {words.coding}."
    except (OSError, ValueError) as error:
        wrong = f"cannot be read: {getattr(error, 'strerror', None) or error}."
    raise DesignError(f"{clipped(path, 200)} {wrong}")
