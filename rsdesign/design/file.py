"""A design as TOML that people can read and edit, every number with the unit they would type.

Files are read with the standard library and rewritten with tomlkit, which keeps comments, order
and every value that did not change.  Everything wrong with a file is said in one sentence.
"""

import os
import secrets
import tomllib
import typing
from difflib import get_close_matches
from pathlib import Path

from ..core.choices import DesignError, Field, present, span
from ..core.folders import data_folder
from ..core.kinds import Kind, Unit, UnitError
from ..core.text_file import LARGEST, FileWords, text_of
from ..core.units import clipped, from_plain, parse
from .model import FIELDS, Design, check, value_of, with_plain, with_values

A_DESIGN = FileWords(
    folder="name a design file inside it",
    large=f"more than the {LARGEST:,} a design file may have; is it the right file?",
    missing="'rsdesign new {name}' writes one to start from",
    coding="a design file is TOML in UTF-8",
)

NOT_KNOWN = ("not known", "unknown", "i do not know", "?")


def load(path, goal: bool = True, *, otherwise=None) -> Design:
    """The design in a TOML file.

    Parameters:
        path: the file; a name without an ending, such as ``"family"``, opens the demo design of that
            name where there is no such file.
        goal: False lets the file leave open how much fish is wanted.
        otherwise: what is opened where there is no file at ``path``, such as ``"family"``.
    Returns: the ``Design``.
    Raises: ``DesignError``, one sentence with the field, the value, the allowed range and what to do.

    >>> load("family").name
    "Ocotillo Flat, a family's tank"
    """
    if otherwise is not None and not Path(path).exists():
        path = otherwise
    shipped = data_folder() / "designs" / f"{Path(path).name}.toml"
    if Path(path).parts == (shipped.stem,) and shipped.is_file() and not Path(path).exists():
        path = shipped
    return read_design(text_of(path, A_DESIGN), Path(path).name, goal)


def read_design(text: str, name: str = "the design", goal: bool = True) -> Design:
    r"""The design in TOML text.

    Parameters:
        text: the text of a design file.
        name: what an error calls it.
        goal: False lets a design that says what is owned leave open how much fish is wanted.
    Returns: the ``Design``.
    Raises: ``DesignError``, one sentence with the field, the value, the allowed range and what to do.

    >>> read_design('[goal]\nfish = 180\n[tank]\ndepth = "1 m"').tank.depth
    1.0
    """
    try:
        table = tomllib.loads(text)
    except (tomllib.TOMLDecodeError, RecursionError) as wrong:
        raise DesignError(_not_toml(text, name, str(wrong))) from None
    values: dict[str, object] = {}
    unknown: list[str] = []
    for key, value in table.items():
        if key in FIELDS:
            _take(values, unknown, key, value)
            continue
        sections = {f.section for f in FIELDS.values() if f.section}
        if key not in sections:
            raise DesignError(_no_such(key, sorted(sections | {"name", "note"}), "part"))
        if not isinstance(value, dict):
            raise DesignError(f"{key} is a part of a design: write it as a heading, [{key}].")
        for inner, cell in value.items():
            path = f"{key}.{inner}"
            if path not in FIELDS:
                known = [f.name for f in FIELDS.values() if f.section == key]
                raise DesignError(_no_such(inner, known, "choice", key))
            _take(values, unknown, path, cell)
    design = with_plain(Design(unknown=tuple(unknown)), values)
    asked = goal or design.goal.fish is not None or design.goal.harvest is not None
    check(design if asked else with_values(design, {"goal.fish": 1.0}))
    return design


def _take(values: dict, unknown: list, path: str, cell) -> None:
    entry = FIELDS[path]
    about = entry.choice
    if (
        isinstance(cell, str)
        and cell.strip().lower() in NOT_KNOWN
        and (about.low is not None or about.options is not None)
    ):
        unknown.append(path)
        return
    values[path] = read_value(entry, cell)


def read_value(entry: Field, cell):
    """One value of a file as the plain number of its kind.  Raises ``DesignError``."""
    if entry.choice.low is None:
        return present(entry.path, cell)
    if isinstance(cell, str):
        try:
            return parse(cell, entry.measure)
        except UnitError as wrong:
            raise DesignError(
                f"{entry.path} ({entry.choice.label}): {str(wrong).rstrip('.')}; allowed is {span(entry)}."
            ) from None
    if isinstance(cell, (int, float)) and not isinstance(cell, bool):
        if entry.measure.plain.label:
            raise DesignError(
                f"{entry.path} ({entry.choice.label}) is {clipped(cell)} without a unit: write it with"
                f' one in quotes, such as "{_sample(entry)}"; allowed is {span(entry)}.'
            )
        try:
            return float(cell)
        except OverflowError:
            pass
    raise DesignError(
        f"{entry.path} ({entry.choice.label}) is {clipped(cell)}, which is not a number;"
        f" allowed is {span(entry)}."
    )


def _sample(entry: Field) -> str:
    value: typing.Any = entry.choice.default
    value = entry.choice.low if value is None else value
    return write_value(entry.measure, value, entry.measure.shown("us"))


def _no_such(key: str, known: list[str], what: str, inside: str = "") -> str:
    where = f" in [{inside}]" if inside else ""
    near = get_close_matches(key, known, n=1)
    hint = f" Did you mean {near[0]}?" if near else f" There are: {', '.join(known)}."
    return f"{clipped(key)}{where} is not a {what} of a design.{hint}"


def _not_toml(text: str, name: str, reason: str) -> str:
    """A sentence for text that is not TOML, naming the field on the line where it stopped."""
    words = reason.split(" (at ", 1)
    where = f" at {words[1].rstrip(')')}" if len(words) == 2 else ""
    field = _field_on_line(text, where)
    known = f" {field.path} ({field.choice.label}) may be {span(field)}." if field else ""
    return (
        f"{name} cannot be read{where}: {words[0][0].lower()}{words[0][1:80]}."
        f' Put a value with its unit in quotes and use a point for decimals: depth = "2.7 ft".{known}'
    )


def _field_on_line(text: str, where: str) -> Field | None:
    digits = "".join(c if c.isdigit() else " " for c in where).split()
    lines = text.splitlines()
    if not digits or not 0 < int(digits[0]) <= len(lines):
        return None
    part = ""
    for line in lines[: int(digits[0])]:
        if line.strip().startswith("["):
            part = line.strip().strip("[]").strip()
    key = lines[int(digits[0]) - 1].split("=", 1)[0].strip()
    found = FIELDS.get(f"{part}.{key}" if part else key)
    return found if found and found.kind else None


# --- writing -------------------------------------------------------------------------------


def write_value(kind: Kind, value: float, unit: Unit) -> str:
    """A plain number as text that reads back as the same number, in a unit where it can be."""
    shown = from_plain(value, unit)
    for digits in (6, 9, 12, 15, 17):
        text = f"{shown:.{digits}g} {unit.label}".strip()
        if parse(text, kind) == value:
            return text
    return f"{value!r} {kind.plain.label}".strip()


def write_cell(entry: Field, value, system: str, typed=None):
    """A value as it stands in a file: a number with its unit, a bare number, or a word."""
    if entry.choice.low is None:
        return value
    if isinstance(typed, str):
        try:
            if parse(typed, entry.measure) == value:
                return typed
            unit = entry.measure.unit(typed.strip().lstrip("+-0123456789.eE ").strip())
        except UnitError:
            unit = entry.measure.shown(system)
    else:
        unit = entry.measure.shown(system)
    if not unit.label and not isinstance(typed, str):
        return float(value)
    return write_value(entry.measure, float(value), unit)


def save(design: Design, path, system: str = "us") -> None:
    """Write a design to a file.

    An existing design file keeps its comments, its order, the units typed in it and every value
    that did not change; a new one holds what differs from the defaults.  The file is written
    beside and then renamed, so that a full disk leaves the old one whole.

    Parameters:
        design: the ``Design`` to write.
        path: the file, ending in ``.toml``.
        system: "us" or "metric", the units in which new values are written.
    Returns: nothing.
    Raises: ``DesignError`` where the design is wrong or the file cannot be written.

    Example: ``save(design, "my_tank.toml", "metric")``.
    """
    path = Path(path)
    check(design)
    try:
        old = path.read_text(encoding="utf-8") if path.exists() else ""
        write_whole(path, update_text(old, design, system))
    except (OSError, UnicodeDecodeError) as wrong:
        reason = getattr(wrong, "strerror", None) or "it is not a text file"
        raise DesignError(f"{path} cannot be written: {reason}.") from None


def write_new(path: Path, text: str) -> None:
    """Write a new file; one that is there already is kept.  Raises ``DesignError``."""
    if path.exists():
        raise DesignError(f"{clipped(path, 200)} is there already; name another file.")
    try:
        write_whole(path, text)
    except (OSError, ValueError) as wrong:
        reason = getattr(wrong, "strerror", None) or str(wrong)
        raise DesignError(f"{clipped(path, 200)} cannot be written: {reason}.") from None


def write_whole(path: Path, content: str | bytes) -> None:
    """Write text or bytes to a file beside the path, then rename, so that no half file is left."""
    beside = path.with_name(f".{path.name}.{secrets.token_hex(6)}")
    try:
        with open(beside, "xb") as file:
            file.write(content.encode() if isinstance(content, str) else content)
        os.replace(beside, path)
    except BaseException:
        beside.unlink(missing_ok=True)
        raise


def update_text(old: str, design: Design, system: str = "us") -> str:
    """TOML text brought up to a design; comments and unchanged values stay as they are."""
    import tomlkit  # noqa: PLC0415  (only for writing)

    document = tomlkit.parse(old)
    for path, entry in FIELDS.items():
        value = value_of(design, path)
        part, _, name = path.rpartition(".")
        table = document.get(part, {}) if part else document
        if name in table:
            _rewrite(table, name, entry, value, system)
        elif not _same(value, entry.choice.default):
            if part and part not in document:
                document[part] = tomlkit.table()
            (document[part] if part else document)[name] = write_cell(entry, value, system)
    return tomlkit.dumps(document)


def _rewrite(table, name: str, entry: Field, value, system: str) -> None:
    typed = table[name].unwrap() if hasattr(table[name], "unwrap") else table[name]
    if value is None:
        if typed not in NOT_KNOWN:
            del table[name]
        return
    if isinstance(typed, str) and typed.strip().lower() in NOT_KNOWN:
        if _same(value, entry.choice.default):
            return
        typed = None
    cell = write_cell(entry, value, system, typed)
    if cell != typed:
        table[name] = cell


def _same(value, other) -> bool:
    return type(value) is type(other) and value == other
