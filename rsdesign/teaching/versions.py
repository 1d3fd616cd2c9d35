"""Several versions of one learner's work at a set, put together, so that no version replaces another.

The rule: every attempt of every version is in the whole once, in order; the version that was begun
first comes first.  Limits on attempts count over the whole, so beginning anew gives no new ones.
"""

from collections import Counter
from dataclasses import replace

from .submissions import MOST_ATTEMPTS, Submission, Work


def together(versions, in_order: bool = False) -> Submission:
    """One submission that holds all of the versions.

    ``in_order``: they come in the order in which they were made; else the one begun first is
    first, and versions that do not say when they were begun come last, the oldest first.
    """
    versions = list(versions)
    if not in_order:
        versions.sort(key=lambda s: (s.began or float("inf"), s.saved))
    work: dict[str, Work] = {}
    for version in versions:
        for name, more in version.work.items():
            work[name] = _joined(work.get(name, Work()), more)
    began = min((s.began for s in versions if s.began), default=0)
    saved = max(s.saved for s in versions)
    return replace(versions[0], work=work, saved=saved, began=began)


def _joined(first: Work, more: Work) -> Work:
    """The attempts of one exercise, those that are in both once; the latest reason that is one."""
    left = Counter(map(_frozen, first.attempts))
    attempts = list(first.attempts)
    for typed in more.attempts:
        if left[_frozen(typed)]:
            left[_frozen(typed)] -= 1
        else:
            attempts.append(typed)
    paper = more.paper and (first.paper or not first.attempts)
    return Work(tuple(attempts[:MOST_ATTEMPTS]), max(first.minutes, more.minutes),
                more.reason or first.reason, max(first.hints, more.hints), paper)  # fmt: skip


def holds(whole: Submission, part: Submission) -> bool:
    """Whether a version holds every attempt and every reason of another."""
    return not lacks(whole, part) and all(
        work.reason in ("", whole.work.get(name, Work()).reason) for name, work in part.work.items()
    )


def lacks(new: Submission, old: Submission) -> bool:
    """Whether an attempt of the old version is not in the new one, or a reason is gone."""
    for name, work in old.work.items():
        now = new.work.get(name, Work())
        if Counter(map(_frozen, work.attempts)) - Counter(map(_frozen, now.attempts)):
            return True
        if work.reason and not now.reason:
            return True
    return False


def missing(whole: Submission, part: Submission) -> list[tuple[str, dict]]:
    """Pairs of exercise and attempt that a part holds and the whole does not."""
    found = []
    for name, work in part.work.items():
        left = Counter(map(_frozen, whole.work.get(name, Work()).attempts))
        for typed in work.attempts:
            if left[_frozen(typed)]:
                left[_frozen(typed)] -= 1
            else:
                found.append((name, typed))
    return found


def amount(version: Submission) -> int:
    """How many attempts a version holds."""
    return sum(len(work.attempts) for work in version.work.values())


def _frozen(typed: dict) -> tuple:
    return tuple(sorted(typed.items()))
