"""Fill a folder from which the workbooks install without internet, on this and other systems.

    python docs/deployment/usb_stick.py STICK
    python docs/deployment/usb_stick.py STICK --python 3.13 --for windows macos-arm linux

Run it once, with internet, from a copy of the project. It builds the project's wheel, downloads the
wheels of everything that it needs for each system, reads in each wheel what that wheel needs *on
that system*, and goes on until nothing is missing. (Plain ``pip download --platform`` reads the
conditions for the machine it runs on, and leaves out what only Windows or macOS needs.)
"""

import argparse
import email
import shutil
import subprocess
import sys
import zipfile
from pathlib import Path

from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

ROOT = Path(__file__).resolve().parents[2]
SYSTEMS = {
    "windows": (["win_amd64"], {"sys_platform": "win32", "os_name": "nt",
                "platform_system": "Windows", "platform_machine": "AMD64"}),
    "macos-arm": (["macosx_14_0_arm64"], {"sys_platform": "darwin", "os_name": "posix",
                  "platform_system": "Darwin", "platform_machine": "arm64"}),
    "macos-intel": (["macosx_14_0_x86_64"], {"sys_platform": "darwin", "os_name": "posix",
                    "platform_system": "Darwin", "platform_machine": "x86_64"}),
    "linux": (["manylinux_2_28_x86_64", "manylinux_2_17_x86_64", "manylinux2014_x86_64"],
              {"sys_platform": "linux", "os_name": "posix", "platform_system": "Linux",
               "platform_machine": "x86_64"}),
}  # fmt: skip
"""For each system the tags of its wheels, and what the conditions of a wheel are read with."""
WORDS = """Fish system workbook: install without internet
===============================================

This stick holds everything for Python {python}. Wheels of another Python do not fit.
{systems}
1. Is Python {python} there? Type   py --version   (Windows) or   python3 --version.
   If not, run the installer of python.org that was put on this stick
   (Windows: tick "Add python.exe to PATH"; no administrator is needed).

2. Open a terminal IN THIS FOLDER and type:

   Windows   py -{python} -m venv %USERPROFILE%\\rsdesign
             %USERPROFILE%\\rsdesign\\Scripts\\pip install --no-index --find-links windows rsdesign
             %USERPROFILE%\\rsdesign\\Scripts\\rsdesign serve

   macOS     python3 -m venv ~/rsdesign
             ~/rsdesign/bin/pip install --no-index --find-links macos-arm rsdesign
             ~/rsdesign/bin/rsdesign serve
             (an older Mac with an Intel processor: macos-intel)

   Linux     python3 -m venv ~/rsdesign
             ~/rsdesign/bin/pip install --no-index --find-links linux rsdesign
             ~/rsdesign/bin/rsdesign serve

3. The browser opens on the first page. Ctrl-C in the terminal ends it.
"""


def pip(*words: str) -> None:
    """Run pip; its own words tell what went wrong."""
    subprocess.run([sys.executable, "-m", "pip", "--disable-pip-version-check", *words], check=True)


def needs(wheel: Path) -> tuple[str, list[Requirement]]:
    """The name of a wheel's project, and what it asks for."""
    with zipfile.ZipFile(wheel) as packed:
        inside = next(n for n in packed.namelist() if n.endswith(".dist-info/METADATA"))
        about = email.message_from_bytes(packed.read(inside))
    return canonicalize_name(about["Name"]), [
        Requirement(r) for r in about.get_all("Requires-Dist", [])
    ]


def missing(folder: Path, place: dict[str, str]) -> list[str]:
    """What the wheels of a folder ask for on a system and do not find there.

    Extras that one wheel asks of another are followed.
    """
    known = dict(needs(wheel) for wheel in sorted(folder.glob("*.whl")))
    asked: dict[tuple[str, str], None] = {("rsdesign", ""): None}
    lacking: dict[str, None] = {}
    todo = list(asked)
    while todo:
        name, extra = todo.pop()
        for wanted in known.get(name, []):
            if wanted.marker and not wanted.marker.evaluate({**place, "extra": extra}):
                continue
            other = canonicalize_name(wanted.name)
            if other not in known:
                lacking[f"{wanted.name}{wanted.specifier}"] = None
            for more in ("", *wanted.extras):
                if (other, more) not in asked:
                    asked[(other, more)] = None
                    todo.append((other, more))
    return list(lacking)


def fill(folder: Path, own: Path, system: str, python: str) -> int:
    """Every wheel that the project needs on a system; how many there are.

    Raises ``SystemExit`` with a sentence when something cannot be had as a wheel.
    """
    tags, place = SYSTEMS[system]
    place = {**place, "python_version": python, "python_full_version": f"{python}.0",
             "implementation_name": "cpython", "platform_python_implementation": "CPython"}  # fmt: skip
    folder.mkdir(parents=True, exist_ok=True)
    shutil.copy(own, folder)
    wanted = [str(own)]
    chosen = [word for tag in tags for word in ("--platform", tag)]
    while wanted:
        pip("download", "--quiet", "--only-binary=:all:", "--python-version", python,
            "--implementation", "cp", *chosen, "--dest", str(folder), *wanted)  # fmt: skip
        before, wanted = wanted, missing(folder, place)
        if wanted == before:
            raise SystemExit(f"{system}: no wheel was found of {', '.join(wanted)}.")
    return len(list(folder.glob("*.whl")))


def main() -> None:
    """Fill the folder."""
    asked = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    asked.add_argument("stick", type=Path, help="a folder, such as that of a USB stick")
    asked.add_argument("--python", default=".".join(map(str, sys.version_info[:2])),
                       help="version of Python on the machines to come (as here)")  # fmt: skip
    asked.add_argument("--for", dest="systems", nargs="+", choices=SYSTEMS, default=list(SYSTEMS))
    args = asked.parse_args()
    args.stick.mkdir(parents=True, exist_ok=True)
    pip("wheel", "--quiet", "--no-deps", "--wheel-dir", str(args.stick), str(ROOT))
    own = max(args.stick.glob("rsdesign-*.whl"), key=lambda path: path.stat().st_mtime)
    lines = []
    for system in args.systems:
        count = fill(args.stick / system, own, system, args.python)
        size = sum(path.stat().st_size for path in (args.stick / system).glob("*.whl")) / 1e6
        lines.append(f"   {system}: {count} wheels, {size:.0f} MB")
        print(lines[-1].strip(), flush=True)
    own.unlink()
    words = WORDS.format(python=args.python, systems="\n" + "\n".join(lines) + "\n")
    (args.stick / "READ-ME.txt").write_text(words, encoding="utf-8", newline="\r\n")


if __name__ == "__main__":
    main()
