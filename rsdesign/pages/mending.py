"""Stub until the real one is merged."""

from ..sizing import margins


def mend_block(session):
    if session.sizing is None:
        return None
    found = margins.checks(session.sizing, session.system, (), session.parts)
    bad = [c for c in found if not c.ok or c.word in ("short", "tight")]
    return {
        "worst": [
            {
                "key": str(i),
                "word": c.word,
                "plaque": "short",
                "title": c.words.split(":")[0],
                "words": c.words[:80],
                "open": None,
            }
            for i, c in enumerate(bad[:3])
        ],
        "count": len(found),
        "failed": len(bad),
    }
