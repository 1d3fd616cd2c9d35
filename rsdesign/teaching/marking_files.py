"""What one file of handed-in work holds: saved by the page, short texts one a line, or a paper grid."""

from pathlib import Path, PurePosixPath

from .model import ExerciseError
from .papergrid import read_grid
from .submissions import read


def read_all(source, name: str, class_key, codes, refused: list):
    """Pairs of place and submission in one file; what is refused goes into the list."""
    suffix = PurePosixPath(name).suffix.lower()
    if suffix == ".csv":
        try:
            found, bad = read_grid(source, class_key, codes)
        except ExerciseError as wrong:
            refused.append((name, str(wrong)))
            return
        refused += [(f"{name}, line {line}", sentence) for line, sentence in bad]
        yield from ((name, submission) for submission in found)
        return
    sources = [(name, source)]
    if suffix == ".txt":
        try:
            text = source
            if isinstance(source, Path):
                if source.stat().st_size > 40 * 256_000:
                    raise OSError(0, "it is too large")
                text = source.read_text(encoding="utf-8", errors="replace")
            lines = text.splitlines()
        except OSError as wrong:
            refused.append((name, f"The file cannot be read: {wrong.strerror}."))
            return
        sources = [(f"{name}, line {n}", line) for n, line in enumerate(lines, 1) if line.strip()]
    for where, part in sources:
        try:
            yield where, read(part, class_key, _expected(PurePosixPath(name), codes))
        except ExerciseError as wrong:
            refused.append((where, str(wrong)))


def _expected(path: PurePosixPath, codes) -> str | None:
    """The learner a file is named for, where its name begins with a code of the class."""
    stem = path.stem.upper()
    if path.suffix.lower() != ".json":
        return None
    return next(
        (c for c in codes if stem == c or stem.startswith((f"{c}_", f"{c} ", f"{c}."))), None
    )
