"""Where the tables and the workbooks of the package are."""

import functools
from pathlib import Path


@functools.cache
def data_folder() -> Path:
    """The folder of the tables: inside the installed package, else beside it."""
    return _beside("data")


@functools.cache
def workbooks_folder() -> Path:
    """The folder of the workbooks: inside the installed package, else beside it."""
    return _beside("workbooks")


def _beside(name: str) -> Path:
    here = Path(__file__).resolve().parents[1]
    for folder in (here / name, here.parent / name):
        if folder.is_dir():
            return folder
    raise FileNotFoundError(f"the {name} folder is missing beside the package; install it again")
