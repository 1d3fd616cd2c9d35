"""The workbooks in JupyterLab, from a folder that belongs to the person who runs it."""

import hashlib
import json
import shutil
import subprocess
import sys
from pathlib import Path

from ..core.choices import DesignError
from .parser import whole_number

FOLDER = "fish-workbooks"
FIRST = "Index.ipynb"
SHIPPED = (".ipynb", ".md")
"""Endings of what is copied; a notebook that was run where it is installed leaves other files there."""
COPIED = ".rsdesign-copied.json"
"""Which version of each workbook was copied into a folder, by its SHA-256."""
SETTINGS = (
    # It asks nothing of the internet.
    "--LabApp.check_for_updates_class=jupyterlab.NeverCheckForUpdate", "--LabApp.news_url=None",
    # By this a page can open the next notebook.
    "--LabApp.expose_app_in_browser=True",
)  # fmt: skip
"""What JupyterLab is told."""


def add(commands) -> None:
    """Add ``lab``."""
    lab = commands.add_parser(
        "lab", help="copy the workbooks to a folder of yours, open JupyterLab"
    )
    words = f"the folder; it is made where it is not there ({FOLDER})"
    lab.add_argument("folder", metavar="FOLDER", nargs="?", default=FOLDER, help=words)
    lab.add_argument("--port", type=whole_number(1, 65535), default=8888, help="the port (8888)")
    lab.add_argument("--no-browser", action="store_true", help="do not open a browser")
    lab.add_argument("--copy-only", action="store_true", help="copy, and open nothing")
    lab.set_defaults(run=_lab)


def _lab(args) -> str:
    from ..core.folders import workbooks_folder

    folder = Path(args.folder)
    said = copy_workbooks(workbooks_folder(), folder)
    if args.copy_only:
        return said
    print(f"{said}\nJupyterLab opens {folder}. Ctrl-C here ends it.", flush=True)
    command = [
        sys.executable, "-m", "jupyterlab", f"--ServerApp.root_dir={folder.resolve()}",
        f"--ServerApp.port={args.port}", f"--LabApp.default_url=/lab/tree/{FIRST}",
        *SETTINGS, *(["--no-browser"] if args.no_browser else []),
    ]  # fmt: skip
    try:
        code = subprocess.call(command)
    except KeyboardInterrupt:  # JupyterLab heard it too, and has ended
        code = 0
    if code:
        raise DesignError("JupyterLab did not start; its own words stand above.")
    return "JupyterLab is closed. Your work is kept in the folder."


def copy_workbooks(source: Path, folder: Path) -> str:
    """Copy what is not in a folder yet, and give a sentence on what is new.

    A file that is there stays as it is, unless it is still what was copied.  Where the package
    brings a newer version of a file that was changed, that is put beside it under another name.
    Raises ``DesignError`` where the folder cannot be written.
    """
    try:
        folder.mkdir(parents=True, exist_ok=True)
        record = folder / COPIED
        copied = json.loads(record.read_text(encoding="utf-8")) if record.is_file() else {}
        new, newer, beside = [], [], []
        for path in sorted(source.iterdir()):
            target, now = folder / path.name, _mark(path)
            if not path.is_file() or path.suffix not in SHIPPED:
                continue
            if not target.exists():
                shutil.copyfile(path, target)
                new.append(path.name)
            elif _mark(target) == now or copied.get(path.name) == now:
                pass
            elif _mark(target) == copied.get(path.name):
                shutil.copyfile(path, target)
                newer.append(path.name)
            else:
                shutil.copyfile(path, _free(folder, path))
                beside.append(path.name)
            copied[path.name] = now
        record.write_text(json.dumps(copied, indent=1), encoding="utf-8")
    except OSError as wrong:
        raise DesignError(f"{folder} cannot be written: {wrong.strerror}.") from None
    except ValueError:
        raise DesignError(f"{folder / COPIED} cannot be read; delete it and try again.") from None
    said = [
        f"New in {folder}: {', '.join(new)}." if new else f"Nothing new for {folder}.",
        f"Brought up to date: {', '.join(newer)}." if newer else "",
        f"You changed {', '.join(beside)}: yours are kept, the new ones stand beside them."
        if beside
        else "",
    ]
    return " ".join(filter(None, said))


def _mark(path: Path) -> str:
    """The SHA-256 of a file; empty for a folder."""
    return hashlib.sha256(path.read_bytes()).hexdigest() if path.is_file() else ""


def _free(folder: Path, path: Path) -> Path:
    """A name beside a file that is not taken."""
    names = (f"{path.stem}_new{n or ''}{path.suffix}" for n in range(1000))
    return next(folder / name for name in names if not (folder / name).exists())
