"""Texts for translators: extracts them, merges what is translated, compiles it.

``python tests/make_catalogues.py`` brings ``data/language/LANGUAGE/AREA.po`` up to date with the texts of the
project and writes the ``.mo`` beside each; named, an area gets its first catalogue.  ``--missing`` lists what has no
translation yet.  Babel does it;
what stands here is only where this project keeps its texts: marked calls and makers in Python, columns of
tables, keys of TOML files, marked calls in JavaScript, and the text cells of notebooks.
"""

import argparse
import ast
import csv
import datetime
import io
import json
import re
import sys
import tomllib
from collections.abc import Iterator
from pathlib import Path

from babel.messages import Catalog
from babel.messages.extract import extract_javascript
from babel.messages.mofile import write_mo
from babel.messages.pofile import read_po, write_po

ROOT = Path(__file__).parents[1]
FOLDER = ROOT / "data" / "language"
LANGUAGES = ("es",)

CALLS = {"_": 1, "N_": 1, "counted": 2}
"""Functions whose first arguments are texts."""
PLACES = re.compile(r"\{[^{}]*\}")
UNDATED = datetime.datetime(2026, 1, 1, tzinfo=datetime.UTC)
"""The date in every catalogue, so that the same texts make the same file; git knows when they changed."""


def texts_in_python(path: Path, makers: dict) -> Iterator:
    """Every marked text of a module: a string, or a pair for counted things."""
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if not isinstance(node, ast.Call):
            continue
        name = getattr(node.func, "id", getattr(node.func, "attr", ""))
        if name in CALLS:
            yield from _marked(node, CALLS[name], path)
        elif name in makers:
            yield from _made(node, makers[name])


def _marked(node: ast.Call, count: int, path: Path):
    found = [arg.value for arg in node.args[:count] if isinstance(arg, ast.Constant)]
    if any(isinstance(arg, ast.JoinedStr) for arg in node.args[:count]):
        raise SystemExit(
            f"{path}:{node.lineno}: an f-string cannot be translated; name its places."
        )
    if len(found) == count:
        yield found[0] if count == 1 else tuple(found)


def _made(node: ast.Call, wanted: list):
    """Texts in the arguments of a maker that are wanted: a position or a keyword, nested lists included."""
    given = [*enumerate(node.args), *((key.arg, key.value) for key in node.keywords)]
    for key, value in given:
        if key in wanted:
            for part in ast.walk(value):
                if isinstance(part, ast.Constant) and is_text(part.value):
                    yield part.value


def is_text(value) -> bool:
    """Whether a constant is a text rather than a path, a code or a number.

    >>> is_text("Ammonia, tank"), is_text("filter.ammonia"), is_text("rate"), is_text("3 ft")
    (True, False, False, True)
    """
    return isinstance(value, str) and re.fullmatch(r"[a-z0-9_.]*|[\W\d_]*", value) is None


def texts_in_table(path: Path, columns: list[str]) -> Iterator[str]:
    """The cells of these columns."""
    lines = path.read_text(encoding="utf-8").splitlines()
    for row in csv.DictReader(line for line in lines if line and not line.startswith("#")):
        yield from (row[name].strip() for name in columns if row[name].strip())


def texts_in_toml(path: Path, keys: list[str]) -> Iterator[str]:
    """The strings under these keys, at any depth."""

    def walk(value, wanted: bool) -> Iterator[str]:
        if isinstance(value, str) and wanted:
            yield value
        elif isinstance(value, list):
            for part in value:
                yield from walk(part, wanted)
        elif isinstance(value, dict):
            for key, part in value.items():
                yield from walk(part, wanted or key in keys)

    yield from walk(tomllib.loads(path.read_text(encoding="utf-8")), False)


def texts_in_javascript(path: Path) -> Iterator:
    """Every marked text of a front-end module."""
    found = extract_javascript(io.BytesIO(path.read_bytes()), ("_", "counted"), (), {})
    for _line, _name, messages, _comments in found:
        parts = messages if isinstance(messages, (tuple, list)) else (messages,)
        if _name == "counted" and len(parts) >= 2 and all(parts[:2]):
            yield tuple(parts[:2])
        elif parts[0]:
            yield parts[0]


def texts_in_notebook(path: Path) -> Iterator[str]:
    """The text cells of a notebook."""
    for cell in json.loads(path.read_text(encoding="utf-8"))["cells"]:
        if cell["cell_type"] == "markdown":
            yield "".join(cell["source"])


def places_of_texts() -> dict:
    """Which columns, keys and makers hold texts: ``data/language/texts.toml``."""
    return tomllib.loads((FOLDER / "texts.toml").read_text(encoding="utf-8"))


def areas() -> dict[str, list]:
    """Every text of the project by the area whose catalogue holds it, in the order of the sources."""
    about = places_of_texts()
    found: dict[str, list] = {}

    def add(area: str, texts) -> None:
        found.setdefault(area, []).extend(texts)

    for path in sorted((ROOT / "rsdesign").rglob("*.py")):
        parts = path.relative_to(ROOT / "rsdesign").parts
        area = "_".join(parts[:2]) if parts[0] in about["split"] and len(parts) > 2 else parts[0]
        add(area.removesuffix(".py").strip("_"), texts_in_python(path, about["makers"]))
    for name, columns in about["tables"].items():
        add(
            f"table_{name}".replace("/", "_"),
            texts_in_table(ROOT / "data" / f"{name}.csv", columns),
        )
    for name, keys in about["toml"].items():
        add(f"table_{name}".replace("/", "_"), texts_in_toml(ROOT / "data" / f"{name}.toml", keys))
    for path in sorted((ROOT / "rsdesign" / "pages" / "front").rglob("*.js")):
        add("front", texts_in_javascript(path))
    for path in sorted((ROOT / "workbooks").glob("*.ipynb")):
        add("notebooks", texts_in_notebook(path))
    return {area: list(dict.fromkeys(texts)) for area, texts in found.items() if texts}


def translated(code: str) -> dict:
    """What is translated already, whichever area it stands in."""
    known = {}
    for path in sorted((FOLDER / code).glob("*.po")):
        with open(path, "rb") as file:
            for message in read_po(file, locale=code):
                said = message.string
                if (
                    message.id
                    and all([said] if isinstance(said, str) else said)
                    and not message.fuzzy
                ):
                    known[message.id] = said
    return known


def catalogue(code: str, texts: list, known: dict) -> Catalog:
    """The catalogue of an area: its texts in their order, and what is known of each."""
    made = Catalog(locale=code, project="rsdesign", charset="utf-8", fuzzy=False, header_comment="",
                   msgid_bugs_address="see README.md", language_team=code, creation_date=UNDATED,
                   revision_date=UNDATED)  # fmt: skip
    made._num_plurals, made._plural_expr = 2, "(n != 1)"  # no form of its own for millions
    for text in texts:
        made.add(
            text, known.get(text), flags=["python-brace-format"] if PLACES.search(str(text)) else []
        )
    return made


def written(made: Catalog) -> tuple[bytes, bytes]:
    """The ``.po`` and the ``.mo`` of a catalogue."""
    plain, compiled = io.BytesIO(), io.BytesIO()
    write_po(plain, made, width=120, ignore_obsolete=True)
    write_mo(compiled, made)
    return plain.getvalue(), compiled.getvalue()


def main(arguments: list[str]) -> int:
    """Brings the catalogues up to date, or lists what has no translation."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--missing", action="store_true")
    parser.add_argument("areas", nargs="*")
    asked = parser.parse_args(arguments)
    missing = 0
    for code in LANGUAGES:
        known = translated(code)
        for area, texts in areas().items():
            if asked.areas and area not in asked.areas:
                continue
            without = [text for text in texts if text not in known]
            missing += len(without)
            print(f"{code} {area}: {len(texts)} texts, {len(without)} without a translation")
            if asked.missing:
                print(*(f"  {text!r}" for text in without), sep="\n")
                continue
            if len(without) == len(texts) and not asked.areas:
                continue  # nobody translates it yet
            (FOLDER / code).mkdir(parents=True, exist_ok=True)
            plain, compiled = written(catalogue(code, texts, known))
            (FOLDER / code / f"{area}.po").write_bytes(plain)
            (FOLDER / code / f"{area}.mo").write_bytes(compiled)
    return 1 if asked.missing and missing else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
