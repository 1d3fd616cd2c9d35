"""Every block of every page after moves, to be compared with those of another state of the code.

Run ``python tests/bench/page_frames.py OUT`` in the root of each, then ``python tests/bench/page_frames.py OLD NEW``: pages
that stand at rest must show the same; what a move shows may wait until then.
"""

import json
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))  # this copy, not one that is installed

from rsdesign.pages.aside import sliders_of
from rsdesign.pages.demos import DEMOS
from rsdesign.pages.jupyter.page_channel import PageChannel
from rsdesign.pages.series import SERIES
from rsdesign.pages.session import Session

MOVES = 5


def messages_of(session: Session):
    """Moves of the sliders in view, each followed by what a page at rest asks for."""
    yield {"do": "aside"}
    paths = [slider.path for slider in sliders_of(session)]
    if "goal.fish" in [control.path for control in session.page.controls]:
        paths = list(dict.fromkeys([*paths, "goal.fish"]))
    for k in range(MOVES if paths else 0):
        at = 0.15 + 0.7 * ((k * 37 + 11) % 61) / 61
        end = {"end": True} if k == MOVES - 1 else {}
        yield {"do": "slide", "path": paths[k % len(paths)], "at": at, **end}
        yield {"do": "aside"}


def frames(page: str, demo: str, full: bool):
    """The page's blocks after each message."""
    sent: list = []
    channel = PageChannel(Session(page), lambda content, buffers: sent.append(content))
    opening = {"do": "open", "page": page, "width": 636, "full": full, "narrow": full}
    channel.receive({"n": 1, "page": "a", "message": opening})
    channel.receive({"n": 2, "page": "a", "message": {"do": "demo", "name": demo}})
    for n, message in enumerate(messages_of(channel.session), 3):
        channel.receive({"n": n, "page": "a", "message": message})
        shown: dict = {}
        for content in sent:
            shown |= content.get("blocks", {})
        yield [page, demo, full, message], shown


def write(path: str) -> None:
    """All frames as lines of JSON."""
    with open(path, "w", encoding="utf-8") as file:
        for page in SERIES:
            for demo in DEMOS:
                for full in (False, True):
                    for about, shown in frames(page.name, demo, full):
                        print(json.dumps([about, shown], sort_keys=True), file=file)


def compare(old: str, new: str) -> int:
    """How many pages at rest differ; what differs is printed."""
    counts = {"at rest": 0, "in a move": 0}
    differ: dict[str, int] = {}
    with open(old, encoding="utf-8") as first, open(new, encoding="utf-8") as second:
        for one, other in zip(first, second, strict=True):
            (about, before), (same, after) = json.loads(one), json.loads(other)
            if about != same:
                raise SystemExit("The two did not play the same moves.")
            message = about[-1]
            when = "in a move" if message["do"] == "slide" and "end" not in message else "at rest"
            counts[when] += 1
            for name in before.keys() | after.keys():
                if before.get(name) != after.get(name):
                    place = f"{when}: {name}" + (", all shown" if about[2] else "")
                    differ[place] = differ.get(place, 0) + 1
    print(", ".join(f"{count} pages {when}" for when, count in counts.items()))
    for place, count in sorted(differ.items()):
        print(f"{count} differ {place}")
    return sum(count for place, count in differ.items() if place.startswith("at rest"))


if __name__ == "__main__":
    if len(sys.argv) == 3:
        sys.exit(1 if compare(sys.argv[1], sys.argv[2]) else 0)
    write(sys.argv[1])
