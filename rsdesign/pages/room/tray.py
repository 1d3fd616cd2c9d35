"""The tray of a room: work that learners hand in, until the instructor takes it; in memory alone.

Files stay as they came, seal and all: only marking, with the key of the class, opens them.
"""

import json

from ...choices import DesignError

MOST = 400
"""Files at once; the last of each learner and set counts."""
NEEDED = ("set", "learner", "seal", "work")
LONGEST_NAME = 60


class Tray:
    """What was handed in, the last file of each learner and set."""

    def __init__(self):
        self._files: dict[tuple[str, str], str] = {}

    def __len__(self) -> int:
        return len(self._files)

    def take(self, table: dict) -> str:
        """Keep a file; a sentence for the learner.  Raises ``DesignError`` for what is none."""
        if any(name not in table for name in NEEDED):
            raise DesignError("That is no work to hand in; press the button on your page again.")
        named = (table["learner"], table["set"])
        if not all(isinstance(n, str) and 0 < len(n) <= LONGEST_NAME for n in named):
            raise DesignError("The work names no learner or no set; reload the page.")
        if named not in self._files and len(self._files) >= MOST:
            raise DesignError("The room's tray is full; save your work as a file instead.")
        again = named in self._files
        self._files[named] = json.dumps(table, ensure_ascii=False)
        return "Handed in again: the last one counts." if again else (
            "Handed in. You may go on and hand in again: the last one counts.")  # fmt: skip

    def clear(self) -> int:
        """Throw everything away; how many files."""
        count = len(self._files)
        self._files.clear()
        return count

    def all(self) -> list[dict]:
        """Every file with a name, in the order in which they first came."""
        return [
            {"name": f"room {place}.json", "text": text}
            for place, text in enumerate(self._files.values(), 1)
        ]
