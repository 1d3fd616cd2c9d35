"""The version of the package, as ``pyproject.toml`` says it and as it was installed."""

import importlib.metadata
import tomllib
from pathlib import Path


def _version() -> str:
    """From what is installed; in a source tree that is not, from the project file beside it."""
    try:
        return importlib.metadata.version("rsdesign")
    except importlib.metadata.PackageNotFoundError:
        project = Path(__file__).resolve().parents[2] / "pyproject.toml"
        return tomllib.loads(project.read_text(encoding="utf-8"))["project"]["version"]


__version__ = _version()
