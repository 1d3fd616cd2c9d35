"""How many files and sockets the server may hold: the usual limits are for programs that hold a few."""

import contextlib

FILES = 16_384
"""Files and sockets; a page takes about fourteen, and often no more than 1,024 (or 256) are allowed."""
LINES = 16_384
"""Sockets towards programs; without a word there are 1,023 for all of them."""


def raise_files(most: int = FILES) -> int:
    """Allow this process as many open files as the system lets it; how many, 0 where that is not told."""
    try:
        import resource  # noqa: PLC0415  (not on every system)
    except ImportError:
        return 0
    now, top = resource.getrlimit(resource.RLIMIT_NOFILE)
    if now == resource.RLIM_INFINITY:
        return most
    wanted = most if top == resource.RLIM_INFINITY else min(most, top)
    if wanted > now:
        with contextlib.suppress(ValueError, OSError):  # macOS allows less than it says
            resource.setrlimit(resource.RLIMIT_NOFILE, (wanted, top))
    return resource.getrlimit(resource.RLIMIT_NOFILE)[0]


def raise_lines(programs) -> None:
    """Let a kernel manager speak to as many programs; before it has spoken to the first."""
    programs.context.max_sockets = LINES
